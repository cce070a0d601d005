"""Reads measured curves from CSV and refuses what cannot be right; see ``curves`` for the format."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.values import Value, frozen_array
from engine.base.words import say
from engine.commission.curves import COLUMNS, KINDS, Curve
from engine.commission.shapes import flatness_symmetry, half_widths

Floats = NDArray[np.float64]

_KEYS = {
    *("kind", "field_mm", "ssd_mm", "depth_mm", "axis", "energy_mv", "edges", "detector", "detector_mm"),
    *("source", "date", "note"),
}
_CHOICES = {"kind": KINDS, "axis": ("x", "y"), "edges": ("jaws", "leaves")}
# What no tank or field exceeds, by key: (lowest, highest) in mm, and where a smaller number is one in cm.
_CREDIBLE = {"ssd_mm": (400.0, 3000.0), "depth_mm": (0.0, 500.0), "detector_mm": (0.0, 30.0), "energy_mv": (1.0, 50.0)}
_FIELD_MM = (5.0, 500.0)
_LEAST_POINTS = {"depth-dose": 8, "profile": 10, "output": 2}
_OFF_CENTRE_MM, _WIDTH_DIFFERENCE = 4.0, 0.15
_EDGE_MM, _UNEVEN_PERCENT = 1.5, 2.0


@dataclass(frozen=True, eq=False)
class Measured(Value):
    """The curves of a folder, and what was done to them or is worth knowing."""

    curves: tuple[Curve, ...]
    notes: tuple[str, ...] = ()


def read_folder(folder: str | Path) -> Measured:
    """Read every ``*.csv`` of a folder.

    Raises
    ------
    InputError
        If there is none, one cannot be used (named, with the reason), or beams of different energies are mixed.
    """
    path = Path(folder)
    if not path.is_dir():
        raise InputError("there is no such folder", str(path), "Name the folder that holds the measured curves.")
    files = sorted(p for p in path.glob("*.csv") if not p.name.startswith("."))
    if not files:
        raise InputError("it holds no measured curves (*.csv)", str(path), "Put one CSV file per curve there.")
    read = [read_curve(p) for p in files]
    energies = sorted({c.energy_mv for c, _ in read if c.energy_mv})
    if len(energies) > 1:
        raise InputError(
            say("curves of {energies} MV are mixed", energies=" and ".join(f"{e:g}" for e in energies)),
            str(path),
            "Keep one beam in one folder.",
        )
    return Measured(tuple(c for c, _ in read), tuple(n for _, notes in read for n in notes))


def read_curve(path: str | Path) -> tuple[Curve, tuple[str, ...]]:
    """Read one curve, and say what was done to it.

    Raises
    ------
    InputError
        If anything is missing, wrong, or in the wrong unit; says which line.
    """
    where = str(path)
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(say("it cannot be read as text ({error})", error=str(error)), where) from None
    head, lines = _parted(text, where)
    _check_head(head, where)
    kind = head["kind"]
    position, value = _points(lines, where)
    if position[0] > position[-1]:
        position, value = position[::-1], value[::-1]
    curve = Curve(
        kind,
        frozen_array(position.copy()),
        frozen_array(value.copy()),
        (0.0, 0.0) if kind == "output" else _field(head["field_mm"], where),
        _number(head, "ssd_mm", where),
        0.0 if kind == "depth-dose" else _number(head, "depth_mm", where),
        head["axis"] if kind == "profile" else "",
        _number(head, "energy_mv", where) if "energy_mv" in head else 0.0,
        head.get("edges", "jaws"),
        head.get("detector", ""),
        _number(head, "detector_mm", where) if "detector_mm" in head else 0.0,
        Path(path).name,
    )
    return {"depth-dose": _depth_dose, "profile": _profile, "output": _output}[kind](curve, where)


def _parted(text: str, where: str) -> tuple[dict[str, str], list[tuple[int, str]]]:
    head: dict[str, str] = {}
    body: list[tuple[int, str]] = []
    for n, line in enumerate(text.splitlines(), 1):
        line = line.strip()
        if not line:
            continue
        if not line.startswith("#"):
            body.append((n, line))
            continue
        match = re.match(r"#\s*([A-Za-z_]+)\s*[:=]\s*(.*)$", line)
        if match and match[1].lower() in _KEYS:
            head[match[1].lower()] = match[2].strip()
        elif match:
            raise InputError(
                say("line {n}: unknown key {key!r}", n=n, key=match[1]),
                where,
                say("Known: {keys}.", keys=", ".join(sorted(_KEYS))),
            )
    if not body:
        raise InputError("it holds no points", where, say("Write {columns!r} and the points below.", columns=COLUMNS))
    n, first = body[0]
    if [c.strip().lower() for c in re.split(r"[,;\t]", first)] != COLUMNS.split(","):
        raise InputError(
            say("line {n} is {first!r} where the column names are due", n=n, first=first[:40]),
            where,
            say("Write {columns!r} before the points.", columns=COLUMNS),
        )
    return head, body[1:]


def _check_head(head: dict[str, str], where: str) -> None:
    needed = ["kind"]
    kind = head.get("kind", "")
    needed += [] if kind == "output" else ["field_mm"]
    needed += ["ssd_mm"]
    needed += ["depth_mm"] if kind in ("profile", "output") else []
    needed += ["axis"] if kind == "profile" else []
    for key in needed:
        if not head.get(key):
            raise InputError(say("the header lacks {key!r}", key=key), where, say("Add a line '# {key}: ...'.", key=key))
    for key, known in _CHOICES.items():
        if key in head:
            head[key] = head[key].lower()
            if head[key] not in known:
                raise InputError(
                    say("{key} cannot be {value!r}", key=key, value=head[key]),
                    where,
                    say("Use {known}.", known=" or ".join(known)),
                )


def _number(head: dict[str, str], key: str, where: str) -> float:
    low, high = _CREDIBLE[key]
    try:
        value = float(head[key])
    except ValueError:
        raise InputError(say("{key} is {value!r}, no number", key=key, value=head[key]), where, "Write a number.") from None
    if not low <= value <= high:
        unit = "" if not key.endswith("_mm") else say(" Is it in cm?") if value < low else ""
        raise InputError(
            say("{key} is {value:g}, outside {low:g} to {high:g}", key=key, value=value, low=low, high=high),
            where,
            say("Lengths are in mm.{unit}", unit=unit) if key.endswith("_mm") else "Correct the header.",
        )
    return value


def _field(text: str, where: str) -> tuple[float, float]:
    try:
        sides = [float(t) for t in re.split(r"\s*[x×*]\s*", text.lower().replace("mm", "").strip())]
    except ValueError:
        sides = []
    if len(sides) not in (1, 2):
        raise InputError(say("field_mm is {text!r}", text=text), where, "Write '100' or '100 x 50'.")
    x, y = sides[0], sides[-1]
    if not all(_FIELD_MM[0] <= s <= _FIELD_MM[1] for s in (x, y)):
        raise InputError(
            say("a field of {x:g} × {y:g} mm is not credible", x=x, y=y), where, "Sides are in mm; are these in cm?"
        )
    return x, y


def _points(lines: list[tuple[int, str]], where: str) -> tuple[Floats, Floats]:
    points: list[tuple[int, float, float]] = []
    for n, line in lines:
        cells = [c.strip() for c in re.split(r"[,;\t]", line)]
        try:
            pair = [float(c) for c in cells]
        except ValueError:
            pair = []
        if len(pair) != 2:
            raise InputError(say("line {n}: {line!r} is not a position and a value", n=n, line=line[:40]), where,
                             "Write two numbers with a decimal point, separated by a comma.")  # fmt: skip
        if not np.isfinite(pair).all():
            raise InputError(say("line {n}: {line!r} is no finite number", n=n, line=line[:40]), where, "Leave it out.")
        if pair[1] < 0:
            raise InputError(
                say("line {n}: the value {value:g} is negative", n=n, value=pair[1]), where, "Correct for the background."
            )
        points.append((n, pair[0], pair[1]))
    if len(points) < 2:
        raise InputError(say("it holds {count} point, which is no curve", count=len(points)), where, "Measure more points.")
    table = np.array(points)
    steps = np.diff(table[:, 1])
    same = np.flatnonzero(steps == 0)
    if same.size or np.unique(table[:, 1]).size != len(table):
        seen: dict[float, int] = {}
        for n, position, _ in points:
            if position in seen:
                raise InputError(
                    say("position {position:g} mm comes twice, in lines {first} and {n}",
                        position=position, first=seen[position], n=n),
                    where,
                    "Keep one of them.",
                )  # fmt: skip
            seen[position] = n
    forward = np.median(np.sign(steps)) >= 0
    wrong = np.flatnonzero(steps < 0 if forward else steps > 0)
    if wrong.size:
        raise InputError(
            say("line {n}: the positions turn back at {position:g} mm",
                n=int(table[wrong[0] + 1, 0]), position=table[wrong[0] + 1, 1]),
            where,
            "Sort the points by position.",
        )  # fmt: skip
    if not table[:, 2].max() > 0:
        raise InputError("every value is zero", where, "Check the file.")
    return table[:, 1], table[:, 2]


def _enough(curve: Curve, where: str) -> None:
    least = _LEAST_POINTS[curve.kind]
    if curve.position_mm.size < least:
        raise InputError(
            say("it holds {count} points; a {kind} needs {least}",
                count=curve.position_mm.size, kind=curve.kind, least=least),
            where,
            "Measure more points.",
        )  # fmt: skip


def _depth_dose(curve: Curve, where: str) -> tuple[Curve, tuple[str, ...]]:
    notes: list[str] = []
    keep = curve.position_mm >= 0
    if not keep.all():
        notes.append(say("{name}: {count} points above the water were left out", name=curve.name, count=int((~keep).sum())))
        curve = curve.but(
            position_mm=frozen_array(curve.position_mm[keep].copy()), value=frozen_array(curve.value[keep].copy())
        )
    _enough(curve, where)
    depth, value = curve.position_mm, curve.value
    # No megavoltage photon beam loses 15 % of its maximum within 12 mm, nor has less than 60 mm to half of it.
    top = int(np.argmax(value))
    if depth[-1] <= 50 and value[-1] < 0.7 * value[top]:
        raise InputError(
            say("the dose falls to {percent:.0f} % within {depth:g} mm, which no photon beam does",
                percent=100 * value[-1] / value[top], depth=depth[-1]),
            where,
            "Positions are in mm; are these in cm?",
        )  # fmt: skip
    if depth[-1] > 600:
        raise InputError(say("a depth of {depth:g} mm is in no tank", depth=depth[-1]), where, "Positions are in mm.")
    if depth[-1] < 50 and curve.position_mm.size:
        notes.append(
            say("{name}: it ends at {depth:g} mm, too shallow to tell the spectrum", name=curve.name, depth=depth[-1])
        )
    return curve, tuple(notes)


def _profile(curve: Curve, where: str) -> tuple[Curve, tuple[str, ...]]:
    _enough(curve, where)
    notes: list[str] = []
    nominal = curve.edge_mm(1000.0)
    if not curve.position_mm[0] <= 0 <= curve.position_mm[-1]:
        raise InputError("it does not cross the axis", where, "Positions count from the axis.")
    if not np.interp(0.0, curve.position_mm, curve.value) > 0:
        raise InputError("there is no dose on the axis", where, "Positions count from the axis.")
    left, right = half_widths(curve.position_mm, curve.value)
    found = [abs(e) for e in (left, right) if np.isfinite(e)]
    reach = float(np.abs(curve.position_mm).max())
    if (found and np.mean(found) < 0.2 * nominal) or (not found and reach < 0.2 * nominal):
        raise InputError(
            say("a half width of {found:.1f} does not fit a field edge at {nominal:.0f} mm",
                found=float(np.mean(found)) if found else reach, nominal=nominal),
            where,
            "Positions are in mm; are these in cm?",
        )  # fmt: skip
    # Half of the dose near the edge, not on the axis: a beam without flattening filter may be below half there.
    shoulder = np.interp([-0.8 * nominal, 0.8 * nominal], curve.position_mm, curve.value).mean()
    middle = float(np.interp(0.0, curve.position_mm, curve.value))
    left, right = half_widths(curve.position_mm, curve.value, float(np.clip(0.5 * shoulder / middle, 0.2, 0.5)))
    if np.isfinite(left) and np.isfinite(right):
        centre, half = (left + right) / 2, (right - left) / 2
        if abs(half / nominal - 1) > _WIDTH_DIFFERENCE:
            raise InputError(
                say("it is {found:.1f} mm wide, but the field is {nominal:.1f} mm there",
                    found=2 * half, nominal=2 * nominal),
                where,
                "Check field, depth and axis, and that lengths are in mm.",
            )  # fmt: skip
        if abs(centre) > _OFF_CENTRE_MM:
            raise InputError(say("its middle lies {centre:+.1f} mm off the axis", centre=centre), where, "Centre the scan.")
        if abs(centre) > 0.05:
            curve = curve.but(position_mm=frozen_array(curve.position_mm - centre))
            notes.append(say("{name}: moved by {shift:+.2f} mm to its middle", name=curve.name, shift=-centre))
        if abs(half - nominal) > _EDGE_MM:
            notes.append(
                say("{name}: edges lie {more:+.1f} mm from where the field was set; the model puts jaws where they are set",
                    name=curve.name, more=half - nominal)
            )  # fmt: skip
        _, uneven = flatness_symmetry(np.asarray(curve.position_mm), np.asarray(curve.value))
        if uneven > _UNEVEN_PERCENT:
            notes.append(
                say(
                    "{name}: its halves differ by up to {percent:.1f} %; the model is even", name=curve.name, percent=uneven
                )
            )
    return curve, tuple(notes)


def _output(curve: Curve, where: str) -> tuple[Curve, tuple[str, ...]]:
    _enough(curve, where)
    side = curve.position_mm
    if side[0] < _FIELD_MM[0] or (side[-1] <= 40 and side[0] <= 10):
        raise InputError(
            say("field sides of {low:g} to {high:g} mm are not credible", low=side[0], high=side[-1]),
            where,
            "Sides are in mm; are these in cm?",
        )
    if side[-1] > _FIELD_MM[1]:
        raise InputError(say("a field of {high:g} mm is not credible", high=side[-1]), where, "Sides are in mm.")
    return curve, ()
