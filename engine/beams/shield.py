"""Leaves moved over an organ's shadow, as far as the target allows."""

from __future__ import annotations

import numpy as np

from engine.base.errors import EmptyVolume, InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.conform import parked
from engine.beams.machine import Machine
from engine.beams.silhouette import shadow_points
from engine.volumes.coverage import Coverage


def shield(
    beam: Beam,
    organ: Coverage,
    target: Coverage | None,
    machine: Machine,
    margin_mm: float,
    keep_mm: float = 0.0,
    patient_position: str = "HFS",
) -> Aperture:
    """Return the beam's aperture with leaves over an organ's shadow widened by a margin.

    The rule: no leaf that moves covers the target's shadow widened by `keep_mm`. Within that, in each leaf's strip, the
    leaf at -X moves to the organ's far side if the organ reaches beyond the target towards -X, that at +X likewise.
    Where a strip holds no target, the leaf moves that leaves the wider opening; a pair that would open nothing is closed
    under the nearer X jaw. Leaves only close. Jaws stay.

    Parameters
    ----------
    margin_mm, keep_mm : 0 to 50, at the isocentre plane

    Raises
    ------
    EmptyVolume
        If the organ is not painted.
    InputError
        If the machine has no leaves or a margin is out of range.
    """
    from engine.beams.shadow_kernels import strip_extents

    where = say("beam {beam}", beam=beam.name)
    if len(machine.leaf_edges_mm) < 2:
        raise InputError(say("{machine} has no leaves to move over an organ", machine=machine.name), where, "Use the jaws.")
    for margin in (margin_mm, keep_mm):
        if not 0.0 <= margin <= 50.0:
            raise InputError(say("a margin of {margin_mm} mm is not between 0 and 50 mm", margin_mm=margin), where)
    shadow = shadow_points(organ, beam, machine.sad_mm, patient_position)
    if not len(shadow):
        raise EmptyVolume("there is no organ to cover", where, "Paint it first.")
    edges = np.array(machine.leaf_edges_mm, dtype=np.float64)
    organ_lo, organ_hi = strip_extents(shadow, edges, *(float(margin_mm),) * 4)
    kept = np.empty((0, 2)) if target is None else shadow_points(target, beam, machine.sad_mm, patient_position)
    target_lo, target_hi = strip_extents(kept, edges, *(float(keep_mm),) * 4)
    x1, x2 = beam.aperture.x_mm
    y1, y2 = beam.aperture.y_mm
    standing = (
        beam.aperture.leaves_mm if beam.aperture.leaf_edges_mm == machine.leaf_edges_mm else ((x1, x2),) * len(organ_lo)
    )
    leaves = []
    for n, (a, b) in enumerate(standing):
        low, high = float(organ_lo[n]), float(organ_hi[n])
        if edges[n + 1] <= y1 or edges[n] >= y2 or high <= max(a, x1) or low >= min(b, x2):
            leaves.append((a, b))
            continue
        if target_hi[n] > target_lo[n]:
            moved = (
                max(a, min(high, float(target_lo[n]))) if low < target_lo[n] else a,
                min(b, max(low, float(target_hi[n]))) if high > target_hi[n] else b,
            )
        else:
            moved = (max(a, high), b) if min(b, x2) - high >= low - max(a, x1) else (a, min(b, low))
        leaves.append(_within(moved, (x1, x2), machine))
    return beam.aperture.but(leaf_edges_mm=machine.leaf_edges_mm, leaves_mm=tuple(leaves))


def _within(pair: tuple[float, float], x_mm: tuple[float, float], machine: Machine) -> tuple[float, float]:
    """Return a pair rounded away from what it leaves open, within the travel of the leaves, or parked."""
    a = min(float(np.floor(10 * pair[0] + 1e-6)) / 10, machine.leaf_travel_mm)
    b = max(float(np.ceil(10 * pair[1] - 1e-6)) / 10, -machine.leaf_travel_mm)
    if min(b, x_mm[1]) - max(a, x_mm[0]) <= 0.05:
        return parked(x_mm, machine)
    short = machine.min_leaf_gap_mm - (b - a)
    return (a - short / 2, b + short / 2) if short > 0 else (a, b)
