"""The machine's dose along measured curves: the same tanks serve every curve that can share them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.progress import Report, part, quiet
from engine.base.words import say
from engine.beams.machine import Machine
from engine.commission.curves import Curve
from engine.commission.tank import Setup, aperture_of, axis_dose, axis_grid, scan_grid, tank_dose

Floats = NDArray[np.float64]
_FINE_MM = 0.5


@dataclass(frozen=True)
class Line:
    """The model along a curve, closely spaced (for output: at the curve's own sides), in Gy per MU."""

    position_mm: Floats
    dose: Floats


def model_lines(machine: Machine, curves: Sequence[Curve], report: Report = quiet) -> list[Line]:
    """Return the model along every curve."""
    groups: dict[tuple[object, ...], list[int]] = {}
    for n, c in enumerate(curves):
        groups.setdefault((c.kind, c.field_mm, c.ssd_mm, c.edges, c.axis, c.detector_mm if c.axis else 0.0), []).append(n)
    lines: list[Line | None] = [None] * len(curves)
    for g, members in enumerate(groups.values()):
        share = part(report, g / len(groups), (g + 1) / len(groups))
        made = _GROUPS[curves[members[0]].kind](machine, [curves[n] for n in members], share)
        for n, line in zip(members, made, strict=True):
            lines[n] = line
    return [line for line in lines if line is not None]


def _depth_doses(machine: Machine, curves: list[Curve], report: Report) -> list[Line]:
    deepest = max(float(c.position_mm[-1]) for c in curves)
    axis = axis_dose(machine, curves[0].setup, deepest, None, report)
    out = []
    for c in curves:
        depth = np.arange(0.0, max(float(c.position_mm[-1]), 60.0) + 10.0, _FINE_MM)
        out.append(Line(depth, axis.at(depth)))
    return out


def _profile_lines(machine: Machine, curves: list[Curve], report: Report) -> list[Line]:
    first = curves[0]
    grid = scan_grid(first.setup, first.axis, max(c.depth_mm for c in curves), machine.sad_mm)
    dose = tank_dose(machine, first.setup, aperture_of(machine, first.setup), grid, first.detector_mm, report)
    across = grid.x_mm if first.axis == "x" else grid.z_mm
    out = []
    for c in curves:
        half = min(float(np.abs(c.position_mm).max()) + 8.0, float(across[-1]))
        position = np.arange(-np.floor(half / _FINE_MM), np.floor(half / _FINE_MM) + 1) * _FINE_MM
        out.append(Line(position, np.maximum(dose.profile(c.axis, c.depth_mm, position), 0.0)))
    return out


def _outputs(machine: Machine, curves: list[Curve], report: Report) -> list[Line]:
    sides = sorted({float(s) for c in curves for s in c.position_mm})
    deepest = max(c.depth_mm for c in curves)
    doses: dict[float, Floats] = {}
    depths = np.array([c.depth_mm for c in curves])
    for n, side in enumerate(sides):
        setup = Setup((side, side), curves[0].ssd_mm, curves[0].edges)
        share = part(report, n / len(sides), (n + 1) / len(sides))
        share(0.0, say("output of {side:g} mm", side=side))
        grid = axis_grid(setup, deepest, machine.sad_mm)
        doses[side] = tank_dose(machine, setup, aperture_of(machine, setup), grid, 0.0, share).depth_dose(depths)
    return [
        Line(np.asarray(c.position_mm), np.array([doses[float(s)][n] for s in c.position_mm])) for n, c in enumerate(curves)
    ]


_GROUPS = {"depth-dose": _depth_doses, "profile": _profile_lines, "output": _outputs}
