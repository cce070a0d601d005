"""Energy that becomes scatter, on the coarse grid of the patient, and what leaks far from the field.

The primary energy near the field is followed in the beam's own fan (``fan``). All else has no fine detail: scattered
photons travel far, and what passes jaws and leaves further out is weak. It is released and carried on voxels of 5 mm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.beams.fluence import FluenceMap
from engine.dose.sight import Sight
from engine.dose.source import Release
from engine.dose.threads import share_out
from engine.space.grid import Grid

Volume = NDArray[np.float32]
Floats = NDArray[np.float64]

_DEPTH_STEP_MM = 5.0
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
def _trace(rho, source, along, first, step, rows, depth):  # type: ignore[no-untyped-def]
    """Fill rows of `depth` (q, p, t): integral of trilinear density from the source, by midpoints."""
    nk, nj, ni = rho.shape
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
                    b = (rho.shape[axis] - 0.5 - source[axis]) / way[axis]
                    enter, leave = max(enter, min(a, b)), min(leave, max(a, b))
                elif source[axis] < -0.5 or source[axis] > rho.shape[axis] - 0.5:
                    leave = -1e30
            total = 0.0
            depth[row, column, 0] = 0.0
            for n in range(1, depth.shape[2]):
                low = max(first[2] + step[2] * (n - 1), enter)
                high = min(first[2] + step[2] * n, leave)
                if high > low:
                    t = 0.5 * (low + high)
                    z, y, x = source[0] + t * way[0], source[1] + t * way[1], source[2] + t * way[2]
                    z, y, x = min(max(z, 0.0), nk - 1.0), min(max(y, 0.0), nj - 1.0), min(max(x, 0.0), ni - 1.0)
                    k, j, i = int(z), int(y), int(x)
                    k2, j2, i2 = min(k + 1, nk - 1), min(j + 1, nj - 1), min(i + 1, ni - 1)
                    fz, fy, fx = z - k, y - j, x - i
                    a = rho[k, j, i] * (1 - fx) + rho[k, j, i2] * fx
                    b = rho[k, j2, i] * (1 - fx) + rho[k, j2, i2] * fx
                    c = rho[k2, j, i] * (1 - fx) + rho[k2, j, i2] * fx
                    d = rho[k2, j2, i] * (1 - fx) + rho[k2, j2, i2] * fx
                    a, c = a + (b - a) * fy, c + (d - c) * fy
                    total += scale * (high - low) * (a + (c - a) * fz)
                depth[row, column, n] = total


def trace(rho: Volume, grid: Grid, wanted: Grid, sight: Sight, report: Report = quiet) -> Depths:
    """Return the depths that cover `wanted`, traced through densities (g/cm3) on `grid`, air outside.

    Rays are as fine as the wanted grid across (at the isocentre plane, 1.5 to 8 mm) and 5 mm along.
    """
    corners, whole = sight.corners(wanted), sight.corners(grid)
    across = float(np.clip(min(wanted.spacing_mm), 1.5, 8.0)) / sight.sad_mm
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
    share_out(counts[1], pieces, lambda lo, hi: _trace(rho, *geometry, (lo, hi), depth), report, say("Rays"))
    return Depths(tuple(first), step, depth)


@njit(cache=True, nogil=True, error_model="numpy")
def _release(  # type: ignore[no-untyped-def]
    rho,
    forms,
    ways,
    first,
    step,
    scatter,
    primary,
    steps,
    field,
    hard,
    soft,
    corner,
    pixel,
    sad,
    window,
    curve,
    planes,
    out,
):
    """Fill planes of the energy released as scatter, of primary outside the window, and of contaminant dose there."""
    s_out, p_out, e_out = out
    _, nj, ni = rho.shape
    nq, np_, nt = ways.shape
    ny, nx = field.shape
    last_d, last_a = scatter.shape[0] - 1, scatter.shape[1] - 1
    with_soft, with_hard = e_out.size > 0, hard.size > 0
    curve_step, soft_source, last_c = curve[0], curve[1], curve.size - 3
    for k in range(planes[0], planes[1]):
        for j in range(nj):
            b0 = forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j
            b1 = forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j
            b2 = forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j
            for i in range(ni):
                t = b2 + forms[2, 3] * i
                over = 1.0 / t
                p, q = (b0 + forms[0, 3] * i) * over, (b1 + forms[1, 3] * i) * over
                u, v, w = (p - first[0]) / step[0], (q - first[1]) / step[1], (t - first[2]) / step[2]
                u, v, w = min(max(u, 0.0), np_ - 1.001), min(max(v, 0.0), nq - 1.001), min(max(w, 0.0), nt - 1.001)
                iu, iv, iw = int(u), int(v), int(w)
                fu, fv, fw = u - iu, v - iv, w - iw
                d00 = ways[iv, iu, iw] * (1 - fw) + ways[iv, iu, iw + 1] * fw
                d01 = ways[iv, iu + 1, iw] * (1 - fw) + ways[iv, iu + 1, iw + 1] * fw
                d10 = ways[iv + 1, iu, iw] * (1 - fw) + ways[iv + 1, iu, iw + 1] * fw
                d11 = ways[iv + 1, iu + 1, iw] * (1 - fw) + ways[iv + 1, iu + 1, iw + 1] * fw
                d00, d10 = d00 + (d01 - d00) * fu, d10 + (d11 - d10) * fu
                depth = d00 + (d10 - d00) * fv
                x, y = p * sad, q * sad
                u, v = (x - corner[0]) / pixel, (y - corner[1]) / pixel
                u, v = min(max(u, 0.0), nx - 1.001), min(max(v, 0.0), ny - 1.001)
                iu, iv = int(u), int(v)
                fu, fv = u - iu, v - iv
                g0 = field[iv, iu] * (1 - fu) + field[iv, iu + 1] * fu
                g1 = field[iv + 1, iu] * (1 - fu) + field[iv + 1, iu + 1] * fu
                near = sad * over
                near = near * near
                fluence = (g0 + (g1 - g0) * fv) * near * np.sqrt(1 + p * p + q * q)
                # Release by depth and tangent; a wedge counts as so much water more.
                passed = depth
                if with_hard:
                    g0 = hard[iv, iu] * (1 - fu) + hard[iv, iu + 1] * fu
                    g1 = hard[iv + 1, iu] * (1 - fu) + hard[iv + 1, iu + 1] * fu
                    passed += g0 + (g1 - g0) * fv
                # Share of the primary that the fan leaves here.
                a = (window[5] - max(window[0] - x, x - window[1])) / (window[5] - window[4])
                b = (window[5] - max(window[2] - y, y - window[3])) / (window[5] - window[4])
                a, b = min(max(a, 0.0), 1.0), min(max(b, 0.0), 1.0)
                left = 1.0 - a * a * (3 - 2 * a) * b * b * (3 - 2 * b)
                w = min(passed / steps[0], last_d - 0.001)
                iw = int(w)
                fw = w - iw
                r = scatter[iw, 0] * (1 - fw) + scatter[iw + 1, 0] * fw
                h = primary[iw, 0] * (1 - fw) + primary[iw + 1, 0] * fw
                if last_a > 0:
                    w = min(np.sqrt(p * p + q * q) / steps[1], last_a - 0.001)
                    ia = int(w)
                    fa = w - ia
                    r0 = scatter[iw, ia] * (1 - fw) + scatter[iw + 1, ia] * fw
                    r1 = scatter[iw, ia + 1] * (1 - fw) + scatter[iw + 1, ia + 1] * fw
                    h0 = primary[iw, ia] * (1 - fw) + primary[iw + 1, ia] * fw
                    h1 = primary[iw, ia + 1] * (1 - fw) + primary[iw + 1, ia + 1] * fw
                    r, h = r0 + (r1 - r0) * fa, h0 + (h1 - h0) * fa
                s_out[k, j, i] = fluence * r * rho[k, j, i]
                p_out[k, j, i] = fluence * h * left
                if with_soft:
                    w = depth / curve_step
                    value = 0.0
                    if w < last_c and left > 0.0:
                        iw = int(w)
                        close = (sad - soft_source) / max(t - soft_source, 1.0)
                        fall = curve[2 + iw] + (curve[3 + iw] - curve[2 + iw]) * (w - iw)
                        value = left * soft[int(v + 0.5), int(u + 0.5)] * close * close * fall
                    e_out[k, j, i] = value


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
    blur = float(np.sqrt(np.mean(np.square(grid.spacing_mm)) / 12)) / field.step_mm
    fluence = gaussian_filter(field.fluence, blur, mode="nearest", truncate=3.0)
    args = (
        *(np.array(depths.first), np.array(depths.step)),
        *(table.terma_cm2_g * (1 - table.primary), table.terma_cm2_g * table.primary),
        np.array([table.depth_step_g_cm2, table.tangent_step]),
        *(fluence, field.hardening_g_cm2, field.contamination, np.array(field.first_mm), field.step_mm),
        *(sight.sad_mm, window, contaminant if contaminant.size else np.zeros(4)),
    )
    forms = sight.forms(grid)
    share_out(
        grid.shape[0],
        int(rho.size / _PIECE_VOXELS),
        lambda lo, hi: _release(rho, forms, depths.depth_g_cm2, *args, (lo, hi), out),
        report,
        say("Released energy"),
    )
    return Released(*out)
