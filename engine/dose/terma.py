"""Energy released per volume by the photons of one beam, ray-traced through the density."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.fluence import FluenceMap
from engine.dose.collapse import Rays
from engine.dose.source import Floats, Release
from engine.dose.threads import share_out
from engine.space.frames import Matrix, beam_from_patient
from engine.space.grid import Grid

Volume = NDArray[np.float32]

NOTHING: Floats = np.empty(0)

_DEPTH_STEP_MM = 2.0
# About 30 ms of one thread each.
_PIECE_SAMPLES, _PIECE_VOXELS = 4.0e6, 1.0e6


@dataclass(frozen=True)
class Fan:
    """Water-equivalent depth on a divergent grid of rays.

    Parameters
    ----------
    first, step : of the tangents p, q and of the distance t along the axis (mm)
    depth_g_cm2 : (q, p, t) float32
    """

    first: tuple[float, float, float]
    step: tuple[float, float, float]
    depth_g_cm2: Volume


def beam_axes(beam: Beam, patient_position: str) -> Matrix:
    """Return the matrix from patient directions to beam axes without the collimator's turn."""
    return beam_from_patient(patient_position, beam.gantry_deg, 0.0, beam.couch_deg)


def rays_of(grid: Grid, beam: Beam, to_beam: Matrix, sad_mm: float) -> Rays:
    """Return the linear forms whose ratios are the tangents of every voxel of a grid."""
    start = to_beam @ (np.asarray(grid.origin_mm) - beam.isocentre_mm)
    steps = (to_beam * np.asarray(grid.spacing_mm))[:, ::-1]
    p, q, z = (np.concatenate([[start[i]], steps[i]]) for i in range(3))
    return Rays(p, q, np.concatenate([[sad_mm - z[0]], -z[1:]]))


def corners_in_beam(grid: Grid, beam: Beam, to_beam: Matrix, sad_mm: float) -> NDArray[np.float64]:
    """Return (8, 3): tangents p, q and distance t of the grid's corners.

    Raises
    ------
    GeometryError
        If the source lies inside the grid or within 50 mm of it.
    """
    lo, hi = np.asarray(grid.bounds_mm)
    pick = np.array([[(n >> a) & 1 for a in range(3)] for n in range(8)])
    b = (np.where(pick, hi, lo) - beam.isocentre_mm) @ to_beam.T
    t = sad_mm - b[:, 2]
    if t.min() < 50.0:
        raise GeometryError(
            "the source would lie in or beside the patient", say("beam {name}", name=beam.name), "Move the isocentre."
        )
    return np.stack([b[:, 0] / t, b[:, 1] / t, t], axis=1)


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


def trace_fan(
    rho: Volume, grid: Grid, wanted: Grid, beam: Beam, to_beam: Matrix, sad_mm: float, report: Report = quiet
) -> Fan:
    """Return the fan of rays that covers `wanted`, traced through densities (g/cm3) on `grid`.

    The fan is as fine as the grid across (at the isocentre plane, 1.5 to 4 mm) and 2 mm along.
    """
    corners = corners_in_beam(wanted, beam, to_beam, sad_mm)
    whole = corners_in_beam(grid, beam, to_beam, sad_mm)
    across = float(np.clip(min(grid.spacing_mm), 1.5, 4.0)) / sad_mm
    step = (across, across, _DEPTH_STEP_MM)
    low, high = corners.min(axis=0), corners.max(axis=0)
    low[2] = min(low[2], whole[:, 2].min())
    # Centred on the axis, so that a field symmetric about it is traced by symmetric rays.
    first = [np.floor(low[0] / across) * across, np.floor(low[1] / across) * across, low[2]]
    counts = [int(np.ceil((h - f) / s)) + 2 for h, f, s in zip(high, first, step, strict=True)]
    depth = np.empty((counts[1], counts[0], counts[2]), dtype=np.float32)
    axes = to_beam / np.asarray(grid.spacing_mm)
    source = ((np.asarray(beam.isocentre_mm) + sad_mm * to_beam[2] - grid.origin_mm) / grid.spacing_mm)[::-1]
    along = np.stack([axes[0], axes[1], -axes[2]])[:, ::-1].copy()
    geometry = source.copy(), along, np.array(first), np.array(step)
    pieces = int(depth.size / _PIECE_SAMPLES)
    share_out(counts[1], pieces, lambda lo, hi: _trace(rho, *geometry, (lo, hi), depth), report, "Rays")
    return Fan(tuple(first), step, depth)


@njit(cache=True, nogil=True, error_model="numpy")
def _release(  # type: ignore[no-untyped-def]
    rho, forms, fan, first, step, table, share, steps, field, hard, soft, corner, pixel, turn, sad, curve, planes, out
):
    """Fill planes of the released primary and scatter energy, and of the contamination, of one beam."""
    p_out, s_out, e_out = out
    _, nj, ni = rho.shape
    nq, np_, nt = fan.shape
    ny, nx = field.shape
    last_d, last_a = table.shape[0] - 1, table.shape[1] - 1
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
                # Depth from the fan.
                u, v, w = (p - first[0]) / step[0], (q - first[1]) / step[1], (t - first[2]) / step[2]
                u, v, w = min(max(u, 0.0), np_ - 1.001), min(max(v, 0.0), nq - 1.001), min(max(w, 0.0), nt - 1.001)
                iu, iv, iw = int(u), int(v), int(w)
                fu, fv, fw = u - iu, v - iv, w - iw
                d00 = fan[iv, iu, iw] * (1 - fw) + fan[iv, iu, iw + 1] * fw
                d01 = fan[iv, iu + 1, iw] * (1 - fw) + fan[iv, iu + 1, iw + 1] * fw
                d10 = fan[iv + 1, iu, iw] * (1 - fw) + fan[iv + 1, iu, iw + 1] * fw
                d11 = fan[iv + 1, iu + 1, iw] * (1 - fw) + fan[iv + 1, iu + 1, iw + 1] * fw
                d00, d10 = d00 + (d01 - d00) * fu, d10 + (d11 - d10) * fu
                depth = d00 + (d10 - d00) * fv
                # Fluence from the map, in device axes.
                x, y = (turn[0] * p + turn[1] * q) * sad, (turn[0] * q - turn[1] * p) * sad
                u, v = (x - corner[0]) / pixel, (y - corner[1]) / pixel
                u, v = min(max(u, 0.0), nx - 1.001), min(max(v, 0.0), ny - 1.001)
                iu, iv = int(u), int(v)
                fu, fv = u - iu, v - iv
                g0 = field[iv, iu] * (1 - fu) + field[iv, iu + 1] * fu
                g1 = field[iv + 1, iu] * (1 - fu) + field[iv + 1, iu + 1] * fu
                secant = np.sqrt(1 + p * p + q * q)
                near = sad * over
                near = near * near
                fluence = (g0 + (g1 - g0) * fv) * near * secant
                # Release by depth and tangent; a wedge counts as so much water more.
                passed = depth
                if with_hard:
                    g0 = hard[iv, iu] * (1 - fu) + hard[iv, iu + 1] * fu
                    g1 = hard[iv + 1, iu] * (1 - fu) + hard[iv + 1, iu + 1] * fu
                    passed += g0 + (g1 - g0) * fv
                u = min(passed / steps[0], last_d - 0.001)
                iu = int(u)
                fu = u - iu
                if last_a > 0:
                    v = min(np.sqrt(p * p + q * q) / steps[1], last_a - 0.001)
                    iv = int(v)
                    fv = v - iv
                    r0 = table[iu, iv] * (1 - fu) + table[iu + 1, iv] * fu
                    r1 = table[iu, iv + 1] * (1 - fu) + table[iu + 1, iv + 1] * fu
                    h0 = share[iu, iv] * (1 - fu) + share[iu + 1, iv] * fu
                    h1 = share[iu, iv + 1] * (1 - fu) + share[iu + 1, iv + 1] * fu
                    r0, h0 = r0 + (r1 - r0) * fv, h0 + (h1 - h0) * fv
                else:
                    r0 = table[iu, 0] * (1 - fu) + table[iu + 1, 0] * fu
                    h0 = share[iu, 0] * (1 - fu) + share[iu + 1, 0] * fu
                released = fluence * r0 * rho[k, j, i]
                p_out[k, j, i] = released * h0
                s_out[k, j, i] = released * (1 - h0)
                if with_soft:
                    u, v = (x - corner[0]) / pixel, (y - corner[1]) / pixel
                    u, v = min(max(u, 0.0), nx - 1.001), min(max(v, 0.0), ny - 1.001)
                    w = depth / curve_step
                    if w < last_c:
                        iw = int(w)
                        close = (sad - soft_source) / max(t - soft_source, 1.0)
                        fall = curve[2 + iw] + (curve[3 + iw] - curve[2 + iw]) * (w - iw)
                        e_out[k, j, i] = soft[int(v + 0.5), int(u + 0.5)] * close * close * fall
                    else:
                        e_out[k, j, i] = 0.0


@dataclass(frozen=True)
class Released:
    """Energy released per volume as primary and as scatter, and contaminant dose; (planes, rows, columns) each.

    Primary and scatter in cm2/g times g/cm3 (per unit energy fluence on the axis at the isocentre); contamination
    relative to its surface value in a wide field, empty without.
    """

    primary: Volume
    scatter: Volume
    contamination: Volume


def released(
    rho: Volume,
    grid: Grid,
    rays: Rays,
    fan: Fan,
    table: Release,
    field: FluenceMap,
    beam: Beam,
    sad_mm: float,
    contaminant: Floats = NOTHING,
    report: Report = quiet,
) -> Released:
    """Return the energy released in every voxel of `grid`.

    Parameters
    ----------
    rho : densities, g/cm3, of water that attenuates alike
    contaminant : curve of contaminant dose by depth (``source.contaminant_curve``); empty leaves it out
    """
    primary, scatter = np.empty(grid.shape, np.float32), np.empty(grid.shape, np.float32)
    soft = np.empty(grid.shape if contaminant.size else (0, 0, 0), np.float32)
    a = np.deg2rad(beam.collimator_deg)
    forms = np.stack([rays.p, rays.q, rays.t])
    args = (
        *(np.array(fan.first), np.array(fan.step)),
        *(table.terma_cm2_g, table.primary, np.array([table.depth_step_g_cm2, table.tangent_step])),
        *(field.fluence, field.hardening_g_cm2, field.contamination, np.array(field.first_mm), field.step_mm),
        *(np.array([np.cos(a), np.sin(a)]), sad_mm),
    )
    curve = contaminant if contaminant.size else np.zeros(4)
    share_out(
        grid.shape[0],
        int(rho.size / _PIECE_VOXELS),
        lambda lo, hi: _release(rho, forms, fan.depth_g_cm2, *args, curve, (lo, hi), (primary, scatter, soft)),
        report,
        say("Released energy"),
    )
    return Released(primary, scatter, soft)
