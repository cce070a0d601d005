"""Wedges and boluses of a beam in an RT Plan, both ways (PS3.3 C.8.8.14: Wedge Sequence, Referenced Bolus Sequence)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.dicom.common import ds_text, float_of, short, text_of
from engine.volumes.volume import Volume

_TYPES = {"physical": ("STANDARD",), "virtual": ("DYNAMIC",)}
_DO = say("Only beams with one wedge that stays in place are computed.")


def add_wedge(item: Dataset, points: list[Dataset], beam: Beam, machine: Machine) -> None:
    """Fill in the wedge of a beam; the factor stays empty, because it is part of the monitor units already.

    Raises
    ------
    InputError
        If the machine has no such wedge.
    """
    item.NumberOfWedges = 1 if beam.wedge else 0
    if not beam.wedge:
        return
    wedge = machine.wedge(beam.wedge)
    if wedge is None:
        raise InputError(
            say("{machine} has no wedge {wedge}", machine=machine.name, wedge=beam.wedge),
            say("beam {beam}", beam=beam.name),
            "Choose a wedge the machine has, or none.",
        )
    entry = Dataset()
    entry.WedgeNumber = 1
    entry.WedgeType = _TYPES[wedge.kind][0]
    entry.WedgeID = short(wedge.name, 16)
    entry.WedgeAngle = round(wedge.angle_deg)
    entry.WedgeFactor = ""
    entry.WedgeOrientation = ds_text(beam.wedge_orientation_deg)
    item.WedgeSequence = [entry]
    for point in points:
        place = Dataset()
        place.WedgePosition = "IN"
        place.ReferencedWedgeNumber = 1
        point.WedgePositionSequence = [place]


def add_bolus(item: Dataset, beam: Beam, numbers: Mapping[str, int]) -> None:
    """Fill in the boluses of a beam.

    Parameters
    ----------
    numbers : ROI Number of each volume of the structure set, by key

    Raises
    ------
    InputError
        If the structure set lacks a bolus the beam names.
    """
    item.NumberOfBoli = len(beam.bolus)
    entries = []
    for key in beam.bolus:
        if key not in numbers:
            raise InputError(
                "it names a bolus that is no longer in the case",
                say("beam {beam}", beam=beam.name),
                "Take it off the beam.",
            )
        entry = Dataset()
        entry.ReferencedROINumber = numbers[key]
        entries.append(entry)
    if entries:
        item.ReferencedBolusSequence = entries


@dataclass(frozen=True)
class WedgeWanted:
    """The wedge a plan names: its identifier, kind ("physical" or "virtual"), angle (0 where unknown), orientation."""

    name: str = ""
    kind: str = ""
    angle_deg: float = 0.0
    orientation_deg: float = 0.0


def wedge_of(item: Dataset, points: list[Dataset], where: str) -> WedgeWanted:
    """Return the wedge of a beam; one without name if it carries none.

    Raises
    ------
    InputError
        If there are several, it moves, or it is not described.
    """
    count = int(float_of(item, "NumberOfWedges") or 0)
    if count == 0:
        return WedgeWanted()
    entries = list(item.get("WedgeSequence") or ())
    if count != 1 or len(entries) != 1:
        raise InputError(
            say("it carries {count} wedges, and {found} are described", count=count, found=len(entries)), where, _DO
        )
    positions = [text_of(p, "WedgePosition").upper() for point in points for p in point.get("WedgePositionSequence") or ()]
    if positions and set(positions) == {"OUT"}:
        return WedgeWanted()
    if set(positions) - {"IN"}:
        raise InputError("its wedge moves in or out while it delivers", where, _DO)
    entry = entries[0]
    kind = text_of(entry, "WedgeType").upper()
    if kind not in ("", *(t for names in _TYPES.values() for t in names)):
        raise InputError(say("its wedge is {kind}, which is not computed", kind=kind.lower()), where, _DO)
    name = text_of(entry, "WedgeID")
    orientation = float_of(entry, "WedgeOrientation")
    if not name or orientation is None:
        missing = say("name") if not name else say("orientation")
        raise InputError(say("the {missing} of its wedge is missing", missing=missing), where, "Export the plan again.")
    virtual = kind in _TYPES["virtual"]
    return WedgeWanted(
        name, "virtual" if virtual else "physical", float_of(entry, "WedgeAngle") or 0.0, round(orientation, 3) % 360
    )


def with_wedge_of(beam: Beam, wanted: tuple[str, float], machine: Machine) -> tuple[Beam, str]:
    """Return a beam that names a wedge of its machine, and a note where another name had to stand in.

    A machine without a wedge of the plan's name may have one of the same kind and angle; where it has none, the beam
    keeps the plan's name and is refused when it is computed.

    Parameters
    ----------
    wanted : kind and angle of the plan's wedge, as ``PlanFile.wedges``
    """
    if not beam.wedge or machine.wedge(beam.wedge):
        return beam, ""
    kind, angle = wanted
    alike = [w for w in machine.wedges if w.kind == kind and abs(w.angle_deg - angle) < 0.5]
    if len(alike) != 1:
        return beam, ""
    note = say(
        "Beam {beam} asks for wedge {wanted}; {machine} has {wedge} of the same kind and angle, which stands in.",
        beam=beam.name,
        wanted=beam.wedge,
        machine=machine.name,
        wedge=alike[0].name,
    )
    return beam.but(wedge=alike[0].name), note


def bolus_of(item: Dataset, where: str) -> tuple[int, ...]:
    """Return the ROI Numbers of a beam's boluses.

    Raises
    ------
    InputError
        If it says that it has some and does not name them.
    """
    numbers = [float_of(i, "ReferencedROINumber") for i in item.get("ReferencedBolusSequence") or ()]
    count = int(float_of(item, "NumberOfBoli") or 0)
    if count != len(numbers) or None in numbers:
        raise InputError(
            say("it carries {count} boluses, and {found} are named", count=count, found=len(numbers)),
            where,
            "Export the plan with references to its boluses.",
        )
    return tuple(int(n) for n in numbers if n is not None)


def with_boluses(
    beams: tuple[Beam, ...], rois: tuple[tuple[int, ...], ...], volumes: tuple[Volume, ...], numbers: tuple[int, ...]
) -> tuple[Beam, ...]:
    """Return beams that name their boluses by the keys of the volumes of a structure set.

    Parameters
    ----------
    rois : ROI Numbers of each beam's boluses, as ``PlanFile.bolus_rois``
    volumes, numbers : what was read from the structure set

    Raises
    ------
    InputError
        If a bolus is not in the structure set, or is there as something else.
    """
    known = dict(zip(numbers, volumes, strict=True))
    out = []
    for beam, wanted in zip(beams, rois or ((),) * len(beams), strict=True):
        for number in wanted:
            where = say("beam {beam}", beam=beam.name)
            if number not in known:
                raise InputError(
                    say("its bolus, ROI {number}, is not in the structure set", number=number),
                    where,
                    "Give the structure set of the plan.",
                )
            if known[number].role != "BOLUS":
                raise InputError(
                    say("its bolus is {volume}, whose role is {role}", volume=known[number].name, role=known[number].role),
                    where,
                    "Correct the structure set.",
                )
        out.append(beam.but(bolus=tuple(known[n].key for n in wanted)) if wanted else beam)
    return tuple(out)
