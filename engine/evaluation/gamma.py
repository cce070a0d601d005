"""Gamma comparison of two doses (Low et al., Med. Phys. 25 (1998) 656; three-dimensional)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from engine.base.errors import GeometryError, InputError
from engine.base.progress import Report, quiet
from engine.base.values import FrozenArray, Value, own_array
from engine.base.words import say
from engine.dose.dose import Dose
from engine.space.grid import Point

CEILING = 2.0
_STEPS_PER_DISTANCE = 4
_REFINEMENTS = 4
_HALVINGS = 5
_CHUNK = 8192


@dataclass(frozen=True, eq=False)
class GammaResult(Value):
    """Gamma at every reference voxel and what it comes to.

    Parameters
    ----------
    gamma : float32 of the reference grid; nan where not judged (below the threshold or outside the evaluated grid), at
        most CEILING
    pass_percent : share of the judged voxels with gamma of 1 or less
    gamma_mean : mean of the judged voxels
    judged : their number
    max_difference_gy : largest difference evaluated minus reference at a judged voxel, by amount, with its sign
    mean_difference_gy : mean difference there
    max_difference_at_mm : where it is, (x, y, z)
    outside : voxels above the threshold that lie outside the evaluated grid and are not judged
    near_edge : judged voxels so close to the evaluated grid's faces that part of the distance criterion lies outside, where
        nothing is known; their gamma can only come out too high
    """

    gamma: FrozenArray
    pass_percent: float
    gamma_mean: float
    judged: int
    max_difference_gy: float
    mean_difference_gy: float
    max_difference_at_mm: Point
    outside: int
    near_edge: int


def compare(
    reference: Dose,
    evaluated: Dose,
    dose_percent: float = 2.0,
    distance_mm: float = 2.0,
    threshold_percent: float = 10.0,
    local: bool = False,
    report: Report = quiet,
) -> GammaResult:
    """Return gamma of `evaluated` at each voxel of `reference` above the threshold.

    The dose criterion is a percentage of the reference maximum, or of the voxel's own dose if `local`; the threshold is a
    percentage of the reference maximum. The reference is taken as it is; the evaluated dose is trilinear between its voxels
    and holds to their outer faces, never beyond. The nearest point in dose and space is first sought along the gradient,
    then on a lattice of a quarter of the distance criterion, and refined along the gradient and the axes, so that the
    lattice does not show (exact where the dose is linear, else to 1/250 of the distance).

    Raises
    ------
    InputError
        If a criterion is not positive.
    GeometryError
        If there is no reference dose, or no judged voxel.
    """
    fine = 0 < dose_percent < np.inf and 0 < distance_mm < np.inf and 0 <= threshold_percent < 100
    if not fine:
        raise InputError(
            say(
                "gamma with {dose_percent:g} %, {distance_mm:g} mm, threshold {threshold_percent:g} % is not possible",
                dose_percent=dose_percent,
                distance_mm=distance_mm,
                threshold_percent=threshold_percent,
            ),
            do="Give a dose and a distance above 0 and a threshold from 0 to below 100 %.",
        )
    top = float(reference.gy.max())
    if not top > 0:
        raise GeometryError("the reference dose is zero everywhere", "gamma")
    places = np.argwhere((reference.gy > 0) & (reference.gy >= np.float32(top * threshold_percent / 100)))
    dose = reference.gy[tuple(places.T)].astype(np.float64)
    at = evaluated.grid.index(reference.grid.point(places.astype(np.float64)))
    last = np.array(evaluated.grid.shape) - 1.0
    inside = np.all((at >= -0.5) & (at <= last + 0.5), axis=1)
    if not inside.any():
        raise GeometryError("no voxel above the threshold lies inside the evaluated grid", "gamma")
    places, dose, at = places[inside], dose[inside], at[inside]
    allowed = (dose if local else np.full_like(dose, top)) * dose_percent / 100
    spacing = np.array(evaluated.grid.spacing_mm)[::-1].copy()
    offsets = _offsets(distance_mm)
    found, here = np.empty(len(at)), np.empty(len(at))
    for start in range(0, len(at), _CHUNK):
        report(start / len(at), "comparing doses")
        part = slice(start, start + _CHUNK)
        _search(evaluated.gy, at[part], dose[part], allowed[part], offsets, spacing, distance_mm, found[part], here[part])
    report(1.0)
    gamma = np.full(reference.grid.shape, np.nan, dtype=np.float32)
    gamma[tuple(places.T)] = found
    difference = here - dose
    worst = int(np.argmax(np.abs(difference)))
    reach = distance_mm / spacing
    near = np.any((at < -0.5 + reach) | (at > last + 0.5 - reach), axis=1)
    return GammaResult(
        own_array(gamma),
        100.0 * float(np.mean(found <= 1.0 + 1e-6)),
        float(found.mean()),
        len(found),
        float(difference[worst]),
        float(difference.mean()),
        tuple(float(v) for v in reference.grid.point(places[worst].astype(np.float64))),  # type: ignore[arg-type]
        int((~inside).sum()),
        int(near.sum()),
    )


def _offsets(distance_mm: float) -> NDArray[np.float64]:
    """Return lattice offsets (z, y, x) in mm within CEILING times the distance, nearest first."""
    n = int(np.ceil(CEILING * _STEPS_PER_DISTANCE))
    axis = np.arange(-n, n + 1) * (distance_mm / _STEPS_PER_DISTANCE)
    z, y, x = np.meshgrid(axis, axis, axis, indexing="ij")
    points = np.stack((z, y, x), axis=-1).reshape(-1, 3)
    length = np.linalg.norm(points, axis=1)
    keep = length <= CEILING * distance_mm + 1e-9
    return np.ascontiguousarray(points[keep][np.argsort(length[keep], kind="stable")])


@njit(cache=True, nogil=True)
def _at(gy, z, y, x, slope):  # type: ignore[no-untyped-def]
    # Trilinear dose and its slope per index; outside the voxel centres the border value holds.
    planes, rows, columns = gy.shape
    z, y, x = min(max(z, 0.0), planes - 1.0), min(max(y, 0.0), rows - 1.0), min(max(x, 0.0), columns - 1.0)
    k, r, c = min(int(z), max(planes - 2, 0)), min(int(y), max(rows - 2, 0)), min(int(x), max(columns - 2, 0))
    k1, r1, c1 = min(k + 1, planes - 1), min(r + 1, rows - 1), min(c + 1, columns - 1)
    fz, fy, fx = z - k, y - r, x - c
    a00 = gy[k, r, c] * (1 - fx) + gy[k, r, c1] * fx
    a01 = gy[k, r1, c] * (1 - fx) + gy[k, r1, c1] * fx
    a10 = gy[k1, r, c] * (1 - fx) + gy[k1, r, c1] * fx
    a11 = gy[k1, r1, c] * (1 - fx) + gy[k1, r1, c1] * fx
    slope[0] = (a10 * (1 - fy) + a11 * fy) - (a00 * (1 - fy) + a01 * fy)
    slope[1] = (a01 - a00) * (1 - fz) + (a11 - a10) * fz
    slope[2] = ((gy[k, r, c1] - gy[k, r, c]) * (1 - fy) + (gy[k, r1, c1] - gy[k, r1, c]) * fy) * (1 - fz) + (
        (gy[k1, r, c1] - gy[k1, r, c]) * (1 - fy) + (gy[k1, r1, c1] - gy[k1, r1, c]) * fy
    ) * fz
    return (a00 * (1 - fy) + a01 * fy) * (1 - fz) + (a10 * (1 - fy) + a11 * fy) * fz


@njit(cache=True, nogil=True)
def _score(gy, at, o, dose, allowed, spacing, distance, slope):  # type: ignore[no-untyped-def]
    z, y, x = at[0] + o[0] / spacing[0], at[1] + o[1] / spacing[1], at[2] + o[2] / spacing[2]
    # Beyond the outer faces there is no evaluated dose that could agree with anything.
    if min(z, y, x) < -0.5 or z > gy.shape[0] - 0.5 or y > gy.shape[1] - 0.5 or x > gy.shape[2] - 0.5:
        return np.inf, 0.0
    found = _at(gy, z, y, x, slope)
    away = (o[0] * o[0] + o[1] * o[1] + o[2] * o[2]) / (distance * distance)
    return away + ((found - dose) / allowed) ** 2, found


@njit(cache=True, nogil=True)
def _along_gradient(gy, at, o, best, dose, allowed, spacing, distance, slope):  # type: ignore[no-untyped-def]
    """Improve the offset `o` in place by Gauss-Newton steps and return its score."""
    for _ in range(_REFINEMENTS):
        score, found = _score(gy, at, o, dose, allowed, spacing, distance, slope)
        g = slope / spacing
        # Gauss-Newton with residuals o / distance and (D - dose) / allowed: the step lies along the gradient.
        weight = (distance / allowed) ** 2
        reach = dose - found + g[0] * o[0] + g[1] * o[1] + g[2] * o[2]
        factor = reach * weight / (1 + weight * (g[0] * g[0] + g[1] * g[1] + g[2] * g[2]))
        straight = factor * g
        score, _ = _score(gy, at, straight, dose, allowed, spacing, distance, slope)
        if score >= best:
            break
        best = score
        o[:] = straight
    return best


@njit(cache=True, nogil=True, parallel=True)
def _search(gy, at, dose, allowed, offsets, spacing, distance, out, here):  # type: ignore[no-untyped-def]
    for i in prange(at.shape[0]):
        slope, o, trial = np.empty(3), np.zeros(3), np.empty(3)
        best, found = _score(gy, at[i], o, dose[i], allowed[i], spacing, distance, slope)
        here[i] = found
        # A good point early makes the ball in which a better one can lie small.
        best = _along_gradient(gy, at[i], o, best, dose[i], allowed[i], spacing, distance, slope)
        best = min(best, CEILING * CEILING)
        better = False
        for j in range(1, offsets.shape[0]):
            p = offsets[j]
            if (p[0] * p[0] + p[1] * p[1] + p[2] * p[2]) / (distance * distance) > best:
                break
            score, _ = _score(gy, at[i], p, dose[i], allowed[i], spacing, distance, slope)
            if score < best:
                best = score
                o[:] = p
                better = True
        if better:
            best = _along_gradient(gy, at[i], o, best, dose[i], allowed[i], spacing, distance, slope)
        # Where the dose bends (a step's foot) the gradient does not lead there; feel along the axes in ever smaller steps.
        step = 0.5 * distance / _STEPS_PER_DISTANCE
        for _ in range(_HALVINGS):
            moved = True
            while moved and best > 1e-12:
                moved = False
                for axis in range(3):
                    for sign in (-1.0, 1.0):
                        trial[:] = o
                        trial[axis] += sign * step
                        score, _ = _score(gy, at[i], trial, dose[i], allowed[i], spacing, distance, slope)
                        if score < best - 1e-9:
                            best = score
                            o[:] = trial
                            moved = True
            step *= 0.5
        out[i] = np.sqrt(min(best, CEILING * CEILING))
