"""Jaws and leaves around a target's shadow plus a margin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import EmptyVolume, GeometryError, InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.machine import Machine
from engine.beams.silhouette import project_volume, shadow_points
from engine.volumes.coverage import Coverage

__all__ = ["Margins", "conform", "conform_to_shadow", "project_volume", "warm_up"]

# Leaf pairs that let nothing through wait this far under an X jaw, where their closed ends leak least.
_UNDER_JAW_MM = 5.0
_STEP_MM = 0.1


class Margins(NamedTuple):
    """What is left free beyond a shadow towards each jaw, mm at the isocentre plane, device axes."""

    x1: float
    x2: float
    y1: float
    y2: float


def conform(
    beam: Beam,
    coverages: Coverage | Sequence[Coverage],
    machine: Machine,
    margin_mm: float | Margins,
    patient_position: str = "HFS",
) -> Aperture:
    """Return the aperture that lets through the shadow of one or more volumes with a margin.

    The margin is measured at the isocentre plane, as a disc about every point of the shadow, or as an oval with a reach
    of its own towards each jaw. Each leaf ends at the outermost point of the widened shadow within the leaf's strip, so
    no leaf cuts into the margin. Jaws stand at the extremes. Positions are rounded outwards to 0.1 mm and cut off at the
    machine's limits. Pairs without shadow are closed under the nearer X jaw.

    Raises
    ------
    EmptyVolume
        If nothing is painted.
    GeometryError
        If the shadow lies wholly outside the field the machine can open, or the volume reaches to the source.
    InputError
        If a margin is not between −50 and 100 mm.
    """
    parts = (coverages,) if isinstance(coverages, Coverage) else tuple(coverages)
    points = [shadow_points(c, beam, machine.sad_mm, patient_position) for c in parts]
    return conform_to_shadow(np.concatenate(points) if points else np.empty((0, 2)), machine, margin_mm, beam.name)


def conform_to_shadow(
    shadow: NDArray[np.float64], machine: Machine, margin_mm: float | Margins, name: str = ""
) -> Aperture:
    """Return the aperture around points (n, 2) of a shadow, as ``conform``; `name` is that of the beam."""
    from engine.beams.shadow_kernels import strip_extents

    where = say("beam {beam}", beam=name)
    margins = margin_mm if isinstance(margin_mm, Margins) else Margins(*(margin_mm,) * 4)
    for margin in margins:
        if not -50.0 <= margin <= 100.0:
            raise InputError(say("a margin of {margin_mm} mm is not between −50 and 100 mm", margin_mm=margin), where)
    if not len(shadow):
        raise EmptyVolume("there is nothing to open the beam for", where, "Paint the target first.")
    x, y = _jaws(shadow, machine, margins, name)
    edges = np.array(machine.leaf_edges_mm, dtype=np.float64)
    if len(edges) < 2:
        return Aperture(x, y)
    ends = np.stack(strip_extents(shadow, edges, *(float(max(m, 0.0)) for m in margins)), axis=1)
    ends += (-min(margins.x1, 0.0), min(margins.x2, 0.0))
    return Aperture(x, y, machine.leaf_edges_mm, _leaves(ends, edges, x, y, machine))


def parked(x_mm: tuple[float, float], machine: Machine) -> tuple[float, float]:
    """Return where a pair that lets nothing through stands: closed under the X jaw nearer to the axis."""
    gap, travel = machine.min_leaf_gap_mm, machine.leaf_travel_mm
    at = x_mm[1] + _UNDER_JAW_MM if abs(x_mm[1]) <= abs(x_mm[0]) else x_mm[0] - _UNDER_JAW_MM - gap
    at = min(max(at, -travel), travel - gap)
    return at, at + gap


def _jaws(
    shadow: NDArray[np.float64], machine: Machine, margins: Margins, name: str
) -> tuple[tuple[float, float], tuple[float, float]]:
    limit = machine.field_limit_mm
    found = []
    for axis, (lowest, highest) in enumerate((machine.jaw_x_mm, machine.jaw_y_mm)):
        low_mm, high_mm = margins[2 * axis : 2 * axis + 2]
        lo = _outwards(float(shadow[:, axis].min()) - low_mm, -1)
        hi = _outwards(float(shadow[:, axis].max()) + high_mm, +1)
        if hi <= lo:
            raise GeometryError(
                say("a margin of {margin_mm} mm leaves nothing of the target", margin_mm=min(low_mm, high_mm)),
                say("beam {name}", name=name),
            )
        lo, hi = max(lo, -limit, lowest), min(hi, limit, highest)
        if hi <= lo:
            raise GeometryError(
                "the target lies outside the largest field",
                say("beam {name}", name=name),
                "Move the isocentre into the target.",
            )
        found.append((lo, hi))
    return found[0], found[1]


def _leaves(
    ends: NDArray[np.float64],
    edges: NDArray[np.float64],
    x: tuple[float, float],
    y: tuple[float, float],
    machine: Machine,
) -> tuple[tuple[float, float], ...]:
    gap, travel, limit = machine.min_leaf_gap_mm, machine.leaf_travel_mm, machine.field_limit_mm
    leaves = []
    for (a, b), y0, y1 in zip(ends.tolist(), edges[:-1].tolist(), edges[1:].tolist(), strict=True):
        if b <= a or y1 <= y[0] or y0 >= y[1]:
            leaves.append(parked(x, machine))
            continue
        a, b = _outwards(a, -1), _outwards(b, +1)
        if b - a < gap:
            a, b = (a + b - gap) / 2, (a + b + gap) / 2
        leaves.append((min(max(a, -limit), travel - gap), max(min(b, limit), -travel + gap)))
    return tuple((a, max(a + gap, b)) for a, b in leaves)


def _outwards(value_mm: float, sign: int) -> float:
    return round(sign * float(np.ceil(sign * value_mm / _STEP_MM - 1e-6)) * _STEP_MM, 1)


def warm_up() -> None:
    """Compile (or load from the cache) the kernels the screen thread will call."""
    from engine.beams.shadow_kernels import strip_extents
    from engine.space.grid import Grid

    grid = Grid((0.0, 0.0, 0.0), (1.0, 1.0, 2.0), (3, 4, 4))
    coverage = Coverage.from_dense(grid, np.full(grid.shape, 255, dtype=np.uint8))
    beam = Beam("", "", "", (0.0, 0.0, 0.0), 30.0, 0.0, 0.0, Aperture((-1.0, 1.0), (-1.0, 1.0)))
    project_volume(coverage, beam, 1000.0, "HFS")
    strip_extents(shadow_points(coverage, beam, 1000.0, "HFS"), np.array((-5.0, 0.0, 5.0)), 3.0, 3.0, 3.0, 3.0)
