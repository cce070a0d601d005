"""Control points of an RT Plan, read and written (PS3.3 C.8.8.14).

A parameter that changes within a beam is sent at every control point; one that is absent stays what it was. Nothing is
assumed of what happens between two points but that it is even in the monitor units.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.base.words import listed, say
from engine.beams.beam import Aperture, Beam, ControlPoint
from engine.beams.machine import Machine
from engine.dicom.common import ds_text, ds_texts, float_of, floats_of, text_of

NOT_COMPUTED = say("Only open or wedged photon beams are computed: still, of several apertures, or arcs.")

_STAY = {
    say("collimator angle"): "BeamLimitingDeviceAngle",
    say("couch angle"): "PatientSupportAngle",
    say("energy"): "NominalBeamEnergy",
}
_MUST_BE_ZERO = {
    say("table-top eccentric angle"): "TableTopEccentricAngle",
    say("table pitch"): "TableTopPitchAngle",
    say("table roll"): "TableTopRollAngle",
    say("gantry pitch"): "GantryPitchAngle",
}
_SAME = 1e-3


@dataclass
class Delivery:
    """What the control points of a beam say.

    Parameters
    ----------
    points : one for a beam in which nothing moves, else all of them, weights as shares of the final one
    rotation : "", "CW" or "CC"
    nominal_mv : 0 where the file is silent
    """

    isocentre_mm: tuple[float, float, float]
    collimator_deg: float
    couch_deg: float
    points: tuple[ControlPoint, ...]
    rotation: str = ""
    nominal_mv: float = 0.0
    notes: list[str] = field(default_factory=list)


def delivery_of(item: Dataset, where: str) -> Delivery:
    """Read the control points of an item of the Beam Sequence.

    Raises
    ------
    InputError
        If something is missing, turns that must stand still, or cannot be.
    """
    points = list(item.get("ControlPointSequence") or ())
    if len(points) < 2:
        raise InputError(
            say("it has {count} control points, and two are the least", count=len(points)), where, "Export the plan again."
        )
    _check_what_stays(points, where)
    weights = _weights(item, points, where)
    first = points[0]
    isocentre = floats_of(first, "IsocenterPosition", 3)
    wanted = {
        say("isocentre"): isocentre,
        say("gantry angle"): float_of(first, "GantryAngle"),
        say("collimator angle"): float_of(first, "BeamLimitingDeviceAngle"),
        say("couch angle"): float_of(first, "PatientSupportAngle"),
    }
    missing = [words for words, value in wanted.items() if value is None]
    if missing or isocentre is None:
        raise InputError(say("its {missing} is missing", missing=listed(missing)), where, "Export the plan again.")
    found = Delivery(
        (isocentre[0], isocentre[1], isocentre[2]),
        float_of(first, "BeamLimitingDeviceAngle") or 0.0,
        float_of(first, "PatientSupportAngle") or 0.0,
        (),
        nominal_mv=float_of(first, "NominalBeamEnergy") or 0.0,
    )
    angles, found.rotation = _angles(points, weights, where)
    apertures = _apertures(item, points, where, found.notes)
    if not found.rotation and all(a == apertures[0] for a in apertures):
        found.points = (ControlPoint(0.0, angles[0], apertures[0]),)
    else:
        found.points = tuple(ControlPoint(*p) for p in zip(weights, angles, apertures, strict=True))
    return found


def _check_what_stays(points: list[Dataset], where: str) -> None:
    """Refuse what must not move; BeamType is not asked, because a plan of one still segment may call itself DYNAMIC."""
    for words, keyword in _MUST_BE_ZERO.items():
        for point in points:
            angle = float_of(point, keyword) or 0.0
            if abs((angle + 180) % 360 - 180) > _SAME:
                raise InputError(
                    say("its {words} is {angle:g} degrees, which is not computed", words=words, angle=angle),
                    where,
                    NOT_COMPUTED,
                )
    turning = {
        "BeamLimitingDeviceRotationDirection": say("collimator"),
        "PatientSupportRotationDirection": say("couch"),
    }
    for keyword, part in turning.items():
        if any(text_of(p, keyword).upper() in ("CW", "CC") for p in points):
            raise InputError(say("its {part} turns while it delivers", part=part), where, NOT_COMPUTED)
    isocentre = floats_of(points[0], "IsocenterPosition", 3)
    for point in points[1:]:
        for words, keyword in _STAY.items():
            a, b = float_of(points[0], keyword), float_of(point, keyword)
            if a is not None and b is not None and abs(a - b) > _SAME:
                change = say("its {words} changes from {a:g} to {b:g}", words=words, a=a, b=b)
                raise InputError(change, where, NOT_COMPUTED)
        here = floats_of(point, "IsocenterPosition", 3)
        if isocentre and here and max(abs(a - b) for a, b in zip(isocentre, here)) > _SAME:
            raise InputError("its isocentre moves while it delivers", where, NOT_COMPUTED)


def _weights(item: Dataset, points: list[Dataset], where: str) -> tuple[float, ...]:
    """Return cumulative weights as shares of the final one."""
    final = float_of(item, "FinalCumulativeMetersetWeight")
    raw = [float_of(p, "CumulativeMetersetWeight") for p in points]
    first, last = raw[0], raw[-1]
    if (first is not None and abs(first) > _SAME) or (
        final is not None and last is not None and abs(last - final) > 1e-3 * max(abs(final), 1e-9)
    ):
        raise InputError(
            say("its meterset weights run from {first} to {last}, final {final}", first=first, last=last, final=final),
            where,
            "Export the plan again.",
        )
    if len(points) == 2:
        return 0.0, 1.0
    gap = next((n for n, w in enumerate(raw, 1) if w is None), 0)
    if gap or not last or last <= 0:
        what = say("of control point {n} is missing", n=gap) if gap else say("at the end is {last}", last=last)
        raise InputError(say("its meterset weight {what}", what=what), where, "Export the plan again.")
    return (0.0, *(min(max((w or 0.0) / last, 0.0), 1.0) for w in raw[1:-1]), 1.0)


def _angles(points: list[Dataset], weights: Sequence[float], where: str) -> tuple[list[float], str]:
    """Return the gantry angle at every control point and which way it turns ("" if it stands)."""
    angles: list[float] = []
    directions: list[str] = []
    for point in points:
        angle, direction = float_of(point, "GantryAngle"), text_of(point, "GantryRotationDirection").upper()
        angles.append(angles[-1] if angle is None else angle)
        directions.append((directions[-1] if directions else "NONE") if direction == "" else direction)
    ways = set()
    for n, (a, b) in enumerate(pairwise(angles)):
        moved = abs((b - a + 180) % 360 - 180) > _SAME
        if directions[n] in ("CW", "CC") and (moved or weights[n + 1] > weights[n]):
            if float_of(points[n + 1], "GantryAngle") is None:
                raise InputError("its gantry turns, but the file does not say how far", where, "Export the plan again.")
            ways.add(directions[n])
        elif moved:
            raise InputError(
                say("its gantry angle changes from {a:g} to {b:g} without saying which way it turns", a=a, b=b),
                where,
                "Export the plan again.",
            )
    if len(ways) > 1:
        raise InputError("its gantry turns one way and then the other", where, NOT_COMPUTED)
    return angles, ways.pop() if ways else ""


def _positions(point: Dataset) -> dict[str, tuple[float, ...]]:
    found = {}
    for item in point.get("BeamLimitingDevicePositionSequence") or ():
        values = floats_of(item, "LeafJawPositions")
        if values is not None:
            found[text_of(item, "RTBeamLimitingDeviceType").upper()] = values
    return found


def _apertures(item: Dataset, points: list[Dataset], where: str, notes: list[str]) -> list[Aperture]:
    """Return the aperture at every control point; the same object while nothing changes."""
    edges: tuple[float, ...] = ()
    for device in item.get("BeamLimitingDeviceSequence") or ():
        if text_of(device, "RTBeamLimitingDeviceType").upper() == "MLCX":
            edges = floats_of(device, "LeafPositionBoundaries") or ()
    stand: dict[str, tuple[float, ...]] = {}
    found: list[Aperture] = []
    for point in points:
        new = _positions(point)
        moved = any(
            name not in stand or len(stand[name]) != len(v) or max(abs(a - b) for a, b in zip(stand[name], v)) > _SAME
            for name, v in new.items()
        )
        stand = stand | new
        found.append(found[-1] if found and not moved else _aperture(stand, edges, where, notes))
    return found


def _aperture(positions: dict[str, tuple[float, ...]], edges: tuple[float, ...], where: str, notes: list[str]) -> Aperture:
    odd = set(positions) - {"X", "Y", "ASYMX", "ASYMY", "MLCX"}
    if odd:
        raise InputError(
            say("its aperture is shaped by {odd}, which is not computed", odd=", ".join(sorted(odd))), where, NOT_COMPUTED
        )
    leaves: tuple[tuple[float, float], ...] = ()
    if "MLCX" in positions:
        values = positions["MLCX"]
        n = len(values) // 2
        if len(values) % 2 or len(edges) != n + 1 or any(b <= a for a, b in pairwise(edges)):
            raise InputError(
                say("{leaves} leaf positions do not fit {edges} leaf boundaries", leaves=len(values), edges=len(edges)),
                where,
                "Export it again.",
            )
        leaves = tuple(zip(values[:n], values[n:]))
    jaws: list[tuple[float, float]] = []
    for axis in "XY":
        pair = positions.get(f"ASYM{axis}") or positions.get(axis)
        if pair is None and leaves:
            reach = (min(a for a, _ in leaves), max(b for _, b in leaves)) if axis == "X" else (edges[0], edges[-1])
            note = say(
                "a beam has no {axis} jaws; the leaves' reach of {low:g} to {high:g} mm stands in",
                axis=axis,
                low=reach[0],
                high=reach[1],
            )
            if note not in notes:
                notes.append(note)
            pair = reach
        if pair is None or len(pair) != 2:
            raise InputError(say("its {axis} jaw positions are missing", axis=axis), where, "Export the plan again.")
        jaws.append((pair[0], pair[1]))
    return Aperture(jaws[0], jaws[1], edges if leaves else (), leaves)


def add_control_points(item: Dataset, beam: Beam, machine: Machine, ssd_mm: float | None) -> list[Dataset]:
    """Fill in beam type and control points of an item of the Beam Sequence and return the points.

    A beam in which nothing changes while monitor units are given is STATIC, also with several apertures; else DYNAMIC.
    """
    points = beam.points or (
        ControlPoint(0, beam.gantry_deg, beam.aperture),
        ControlPoint(1, beam.gantry_deg, beam.aperture),
    )
    moves = beam.is_arc or any(
        a.aperture != b.aperture and b.cumulative_weight > a.cumulative_weight for a, b in pairwise(points)
    )
    shaped = len({p.aperture for p in points}) > 1
    item.BeamType = "DYNAMIC" if moves else "STATIC"
    item.FinalCumulativeMetersetWeight = "1"
    item.NumberOfControlPoints = len(points)
    found = [_first_point(beam, machine, ssd_mm)]
    for n, point in enumerate(points[1:], 1):
        data = Dataset()
        data.ControlPointIndex = n
        weight = ds_text(point.cumulative_weight)
        data.CumulativeMetersetWeight = weight
        data.ReferencedDoseReferenceSequence = [_share(weight)]
        if beam.is_arc:
            data.GantryAngle = ds_text(point.gantry_deg)
            data.GantryRotationDirection = beam.rotation if n < len(points) - 1 else "NONE"
        if shaped:
            data.BeamLimitingDevicePositionSequence = _device_positions(point.aperture)
        found.append(data)
    item.ControlPointSequence = found
    return found


def _first_point(beam: Beam, machine: Machine, ssd_mm: float | None) -> Dataset:
    point = Dataset()
    point.ControlPointIndex = 0
    point.NominalBeamEnergy = ds_text(machine.nominal_mv)
    point.BeamLimitingDevicePositionSequence = _device_positions(beam.aperture)
    point.GantryAngle = ds_text(beam.gantry_deg)
    point.GantryRotationDirection = beam.rotation or "NONE"
    point.BeamLimitingDeviceAngle = ds_text(beam.collimator_deg)
    point.BeamLimitingDeviceRotationDirection = "NONE"
    point.PatientSupportAngle = ds_text(beam.couch_deg)
    point.PatientSupportRotationDirection = "NONE"
    point.TableTopEccentricAngle = "0"
    point.TableTopEccentricRotationDirection = "NONE"
    point.TableTopVerticalPosition = ""
    point.TableTopLongitudinalPosition = ""
    point.TableTopLateralPosition = ""
    point.IsocenterPosition = ds_texts(round(v, 6) for v in beam.isocentre_mm)
    if ssd_mm is not None:
        point.SourceToSurfaceDistance = ds_text(round(ssd_mm, 2))
    point.CumulativeMetersetWeight = "0"
    point.ReferencedDoseReferenceSequence = [_share("0")]
    point.TableTopPitchAngle = 0.0
    point.TableTopPitchRotationDirection = "NONE"
    point.TableTopRollAngle = 0.0
    point.TableTopRollRotationDirection = "NONE"
    return point


def _share(coefficient: str) -> Dataset:
    item = Dataset()
    item.CumulativeDoseReferenceCoefficient = coefficient
    item.ReferencedDoseReferenceNumber = 1
    return item


def _device_positions(aperture: Aperture) -> list[Dataset]:
    positions = [_position("ASYMX", aperture.x_mm), _position("ASYMY", aperture.y_mm)]
    if aperture.leaves_mm:
        banks = [a for a, _ in aperture.leaves_mm] + [b for _, b in aperture.leaves_mm]
        positions.append(_position("MLCX", banks))
    return positions


def _position(kind: str, values: Sequence[float]) -> Dataset:
    item = Dataset()
    item.RTBeamLimitingDeviceType = kind
    item.LeafJawPositions = ds_texts(round(v, 6) for v in values)
    return item
