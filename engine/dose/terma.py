"""Energy that becomes scatter, on the coarse grid of the patient, and what leaks far from the field.

The primary energy near the field is followed in the beam's own fan (``fan``). All else has no fine detail: scattered
photons travel far, and what passes jaws and leaves further out is weak. It is released and carried on voxels of 5 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from engine.base.apart import fetch, put, read_back
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.beams.fluence import FluenceMap
from engine.dose.rows import energy_row, soft_row
from engine.dose.sight import Sight
from engine.dose.source import Release, contaminant_parts, release_rows
from engine.dose.threads import share_out
from engine.space.grid import Grid
from engine.space.lines import add_line, trilinear

Volume = NDArray[np.float32]
Floats = NDArray[np.float64]

_DEPTH_STEP_MM = 5.0
# Of the grid's spacing: what is read between rays differs by 0.01 % of the maximum from rays as dense as the grid.
_RAYS = 1.4
# About 30 ms of one thread each.
_PIECE_SAMPLES, _PIECE_VOXELS = 4.0e6, 1.0e6


@dataclass(frozen=True)
class Depths:
    """Water-equivalent depth along divergent rays.

    Parameters
    ----------
    first, step : of the tangents p, q and of the distance t along the axis (mm)
    depth_g_cm2 : (q, p, t) float32
    """

    first: tuple[float, float, float]
    step: tuple[float, float, float]
    depth_g_cm2: Volume


@njit(cache=True, nogil=True, error_model="numpy")
def _trace(values, shape, source, along, first, step, rows, depth):  # type: ignore[no-untyped-def]
    """Fill rows of `depth` (q, p, t): integral of trilinear density from the source, by midpoints."""
    f = np.float32
    sampled = np.empty(depth.shape[2] - 1, f)
    for row in range(rows[0], rows[1]):
        q = first[1] + step[1] * row
        for column in range(depth.shape[1]):
            p = first[0] + step[0] * column
            way = along[2] + p * along[0] + q * along[1]
            scale = 0.1 * np.sqrt(1 + p * p + q * q)
            # Where the ray enters and leaves the grid, so that its faces count exactly.
            enter, leave = first[2], 1e30
            for axis in range(3):
                if way[axis] != 0.0:
                    a = (-0.5 - source[axis]) / way[axis]
                    b = (shape[axis] - 0.5 - source[axis]) / way[axis]
                    enter, leave = max(enter, min(a, b)), min(leave, max(a, b))
                elif source[axis] < -0.5 or source[axis] > shape[axis] - 0.5:
                    leave = -1e30
            middle = first[2] + 0.5 * step[2]
            z, y, x = source[0] + middle * way[0], source[1] + middle * way[1], source[2] + middle * way[2]
            sampled[:] = 0.0
            onward = f(step[2] * way[0]), f(step[2] * way[1]), f(step[2] * way[2])
            add_line(values, shape, (f(z), f(y), f(x)), onward, f(1.0), sampled)
            total = 0.0
            depth[row, column, 0] = 0.0
            for n in range(1, depth.shape[2]):
                low = max(first[2] + step[2] * (n - 1), enter)
                high = min(first[2] + step[2] * n, leave)
                total += scale * max(high - low, 0.0) * sampled[n - 1]
                depth[row, column, n] = total


def trace(rho: Volume, grid: Grid, wanted: Grid, sight: Sight, report: Report = quiet) -> Depths:
    """Return the depths that cover `wanted`, traced through densities (g/cm3) on `grid`, air outside.

    Rays are nearly as fine as the wanted grid across (at the isocentre plane, 1.5 to 8 mm) and 5 mm along.
    """
    corners, whole = sight.corners(wanted), sight.corners(grid)
    across = float(np.clip(_RAYS * min(wanted.spacing_mm), 1.5, 8.0)) / sight.sad_mm
    step = (across, across, _DEPTH_STEP_MM)
    low, high = corners.min(axis=0), corners.max(axis=0)
    low[2] = min(low[2], whole[:, 2].min())
    # Centred on the axis, so that a field symmetric about it is traced by symmetric rays.
    first = [np.floor(low[0] / across) * across, np.floor(low[1] / across) * across, low[2]]
    counts = [int(np.ceil((h - f) / s)) + 2 for h, f, s in zip(high, first, step, strict=True)]
    depth = np.empty((counts[1], counts[0], counts[2]), dtype=np.float32)
    source, along = sight.in_grid(grid)
    geometry = source, along, np.array(first), np.array(step)
    pieces = int(depth.size / _PIECE_SAMPLES)
    share_out(
        counts[1],
        pieces,
        lambda lo, hi: _trace(rho.reshape(-1), rho.shape, *geometry, (lo, hi), depth),
        report,
        say("Rays"),
    )
    return Depths(tuple(first), step, depth)


@njit(cache=True, nogil=True, error_model="numpy")
def _see(ways, shape, first, step, line, sad, depth, x, y, leaned, spread):  # type: ignore[no-untyped-def]
    """Look from the source at a row of voxels whose x, y and t are linear (3, 2): offset and slope.

    Fills depth, the place on the isocentre plane, the tangent of the angle from the axis, and what distance and slant
    make of fluence there.
    """
    f, whole, zero, one = np.float32, np.int32, np.float32(0.0), np.float32(1.0)
    wide, deep, next_ = whole(shape[1] * shape[2]), whole(shape[2]), whole(1)
    last_v, last_u, last_w = f(shape[0] - 1.001), f(shape[1] - 1.001), f(shape[2] - 1.001)
    p0, q0, t0 = f(first[0]), f(first[1]), f(first[2])
    by_p, by_q, by_t = f(1.0 / step[0]), f(1.0 / step[1]), f(1.0 / step[2])
    b0, b1, b2, d0, d1, d2 = line
    for n in range(np.uint32(depth.size)):
        i = f(np.int32(n))
        t = b2 + d2 * i
        over = one / t
        p, q = (b0 + d0 * i) * over, (b1 + d1 * i) * over
        u = min(max((p - p0) * by_p, zero), last_u)
        v = min(max((q - q0) * by_q, zero), last_v)
        w = min(max((t - t0) * by_t, zero), last_w)
        iu, iv, iw = whole(u), whole(v), whole(w)
        fu, fv, fw = u - f(iu), v - f(iv), w - f(iw)
        at = whole(whole(iv * wide) + whole(whole(iu * deep) + iw))
        put(depth, n, trilinear(ways, at, wide, deep, next_, fv, fu, fw))
        put(x, n, p * sad)
        put(y, n, q * sad)
        away = p * p + q * q
        near = sad * over
        put(leaned, n, np.sqrt(away))
        put(spread, n, near * near * np.sqrt(one + away))


@njit(cache=True, nogil=True, error_model="numpy")
def _add_map(values, shape, corner, pixel, x, y, out):  # type: ignore[no-untyped-def]
    """Add a map of the isocentre plane (flat, ny, nx) at a row of places, bilinear, its edge values beyond."""
    f, zero, wide, one = np.float32, np.float32(0.0), np.uint64(shape[1]), np.uint64(1)
    last_v, last_u = f(shape[0] - 1.001), f(shape[1] - 1.001)
    x0, y0, per = f(corner[0]), f(corner[1]), f(1.0 / pixel)
    for n in range(np.uint32(out.size)):
        u = min(max((fetch(x, n) - x0) * per, zero), last_u)
        v = min(max((fetch(y, n) - y0) * per, zero), last_v)
        iu, iv = np.int32(u), np.int32(v)
        fu, fv = u - f(iu), v - f(iv)
        at = np.uint64(iv) * wide + np.uint64(iu)
        low = fetch(values, at) + (fetch(values, at + one) - fetch(values, at)) * fu
        at += wide
        high = fetch(values, at) + (fetch(values, at + one) - fetch(values, at)) * fu
        put(out, n, read_back(out, n) + low + (high - low) * fv)


@njit(cache=True, nogil=True, error_model="numpy")
def _left(window, x, y, out):  # type: ignore[no-untyped-def]
    """Fill the share of the primary that the fan leaves at a row of places; see ``fan.Window``."""
    f, zero, one = np.float32, np.float32(0.0), np.float32(1.0)
    two, three = f(2.0), f(3.0)
    x1, x2, y1, y2, rim = f(window[0]), f(window[1]), f(window[2]), f(window[3]), f(window[5])
    per = f(1.0 / (window[5] - window[4]))
    for n in range(np.uint32(out.size)):
        a = (rim - max(x1 - fetch(x, n), fetch(x, n) - x2)) * per
        b = (rim - max(y1 - fetch(y, n), fetch(y, n) - y2)) * per
        a, b = min(max(a, zero), one), min(max(b, zero), one)
        put(out, n, one - a * a * (three - two * a) * b * b * (three - two * b))


@njit(cache=True, nogil=True, error_model="numpy")
def _release(  # type: ignore[no-untyped-def]
    rho,
    forms,
    ways,
    first,
    step,
    scatter,
    primary,
    width,
    steps,
    field,
    hard,
    soft,
    shape,
    corner,
    pixel,
    sad,
    window,
    curve,
    soft_step,
    soft_source,
    planes,
    out,
):
    """Fill planes of the energy released as scatter, of primary outside the window, and of contaminant dose there."""
    s_out, p_out, e_out = out
    f, one = np.float32, np.float32(1.0)
    _, nj, ni = rho.shape
    depth, x, y, lean, spread = np.empty(ni, f), np.empty(ni, f), np.empty(ni, f), np.empty(ni, f), np.empty(ni, f)
    fluence, passed, left, thin = np.empty(ni, f), np.empty(ni, f), np.empty(ni, f), np.ones(ni, f)
    flat, per_step, per_tangent, deepest_tangent = ways.reshape(-1), f(1.0 / steps[0]), f(1.0 / steps[1]), f(width - 1.01)
    for k in range(planes[0], planes[1]):
        for j in range(nj):
            b0 = forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j
            b1 = forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j
            b2 = forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j
            line = f(b0), f(b1), f(b2), f(forms[0, 3]), f(forms[1, 3]), f(forms[2, 3])
            _see(flat, ways.shape, first, step, line, f(sad), depth, x, y, lean, spread)
            fluence[:] = 0.0
            _add_map(field, shape, corner, pixel, x, y, fluence)
            _left(window, x, y, left)
            for i in range(ni):
                fluence[i] *= spread[i]
                lean[i] = min(lean[i] * per_tangent, deepest_tangent)
                passed[i] = 0.0
            # A wedge counts as so much water more.
            if hard.size:
                _add_map(hard, shape, corner, pixel, x, y, passed)
            row = rho[k, j]
            energy_row(scatter, width, per_step, row, depth, passed, lean, fluence, s_out[k, j])
            for i in range(ni):
                fluence[i] *= left[i]
            energy_row(primary, width, per_step, thin, depth, passed, lean, fluence, p_out[k, j])
            if e_out.size:
                fluence[:] = 0.0
                _add_map(soft, shape, corner, pixel, x, y, fluence)
                for i in range(ni):
                    close = f(sad - soft_source) / max(line[2] + line[5] * f(i) - f(soft_source), one)
                    fluence[i] *= left[i] * close * close
                soft_row(curve, f(1.0 / soft_step), depth, fluence, e_out[k, j])


@dataclass(frozen=True)
class Released:
    """What leaves the beam on the coarse grid, each (planes, rows, columns).

    Parameters
    ----------
    scatter : energy released per volume that becomes scatter, per unit energy fluence on the axis at the isocentre
    primary : primary energy released per mass that the fan does not follow
    contamination : contaminant dose outside the window, relative to its surface value in a wide field; empty without
    """

    scatter: Volume
    primary: Volume
    contamination: Volume


def released(
    rho: Volume,
    grid: Grid,
    depths: Depths,
    sight: Sight,
    table: Release,
    field: FluenceMap,
    window: Floats,
    contaminant: Floats,
    report: Report = quiet,
) -> Released:
    """Return the energy released in every voxel of `grid` beside the fan's.

    Parameters
    ----------
    rho : densities, g/cm3, of water that attenuates alike
    field : fluence, as sharp as the fan reads it; it is blurred here by the size of the voxels
    window : see ``fan.Window.numbers``
    contaminant : curve of contaminant dose by depth (``source.contaminant_curve``); empty leaves it out
    """
    out = (
        np.empty(grid.shape, np.float32),
        np.empty(grid.shape, np.float32),
        np.empty(grid.shape if contaminant.size else (0, 0, 0), np.float32),
    )
    fluence = _blurred(field, float(np.sqrt(np.mean(np.square(grid.spacing_mm)) / 12)))
    scatter, primary = (release_rows(table.terma_cm2_g * share) for share in (1 - table.primary, table.primary))
    maps = [np.ascontiguousarray(m, np.float32).reshape(-1) for m in (fluence, field.hardening_g_cm2, field.contamination)]
    args = (
        *(np.array(depths.first), np.array(depths.step)),
        *(scatter.reshape(-1), primary.reshape(-1), scatter.shape[1]),
        np.array([table.depth_step_g_cm2, table.tangent_step]),
        *(*maps, fluence.shape, np.array(field.first_mm), field.step_mm),
        *(sight.sad_mm, window, *contaminant_parts(contaminant)),
    )
    forms = sight.forms(grid)
    release_planes: Any = _release
    share_out(
        grid.shape[0],
        int(rho.size / _PIECE_VOXELS),
        lambda lo, hi: release_planes(rho, forms, depths.depth_g_cm2, *args, (lo, hi), out),
        report,
        say("Released energy"),
    )
    return Released(*out)


@lru_cache(maxsize=8)
def _blurred(field: FluenceMap, sigma_mm: float) -> Volume:
    """Return the fluence as voxels see it; remembered, for a gantry may turn about it."""
    return gaussian_filter(field.fluence, sigma_mm / field.step_mm, mode="nearest", truncate=3.0)
