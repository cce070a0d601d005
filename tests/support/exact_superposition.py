"""Exact superposition of the shipped point kernels in a box of water: the judge of the engine's cones.

Nothing of the engine's transport is used. TERMA is written down for every tabulated energy, each voxel spreads it with
its own energies' kernels (no mean kernel, no cones, no exponentials), turned with the ray, by Fourier transform. Only
the point kernels, the spectrum and the water coefficients are shared with the engine. A convex box of one density needs
no ray tracing: every way from a source point to a dose point lies in water.

Approximations, all below 0.1 % of the maximum: the kernel's turn is linear between directions `_TILT` apart, the mix of
energies by depth is kept to `_RANK` terms, kernel beyond `_NEAR_MM` is taken at voxel centres.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import scipy.fft
from numba import njit
from numpy.typing import NDArray

from engine.beams.fluence import fluence_map
from engine.beams.machine import Machine
from engine.dose.kernels import load_points
from engine.dose.source import spectrum
from engine.space.grid import Grid
from tests.support.dose import square

Floats = NDArray[np.float64]

_TILT = 0.05
_RANK = 4
_NEAR_MM = 60.0


def exact_dose(machine: Machine, side_mm: float, grid: Grid, ssd_mm: float = 1000.0, divergent: bool = True) -> Floats:
    """Return dose per unit energy fluence on the axis at the surface (cm2/g), (planes, rows, columns).

    Parameters
    ----------
    machine : only its spectrum, SAD and aperture edges count (no horn, head scatter, contamination or softening)
    side_mm : square field at the surface
    grid : a box of water on cubic or plain voxels whose anterior face is y = 0, symmetric in x and z; the beam comes
        from -y and the isocentre lies at the surface
    divergent : False makes all rays parallel and the fluence the same at every depth
    """
    x, y, z = (np.asarray(a) for a in (grid.x_mm, grid.y_mm, grid.z_mm))
    far = (ssd_mm + y)[None, :, None]
    if not divergent:
        far = np.full_like(far, ssd_mm)
    p, q = np.broadcast_arrays(x[None, None, :] / far, z[:, None, None] / far)
    blur = float(np.sqrt(np.mean(np.square(grid.spacing_mm)) / 12))
    field = fluence_map(square(side_mm), machine, blur)
    fluence = _bilinear(field.fluence, field.first_mm, field.step_mm, p * ssd_mm, q * ssd_mm)
    depth = 0.1 * np.broadcast_to(y[None, :, None], grid.shape)
    if divergent:
        secant = np.sqrt(1 + p * p + q * q)
        fluence, depth = fluence * secant * (ssd_mm / far) ** 2, depth * secant
    modes, of_depth, step = _modes(machine)
    place = np.minimum(depth / step, of_depth.shape[1] - 2)
    low = place.astype(np.intp)
    share = place - low
    reach = max(1, int(np.ceil(np.abs(p[fluence > 0.01]).max() / _TILT - 0.01))) if divergent else 0
    total = np.zeros(grid.shape)
    shape = [scipy.fft.next_fast_len(2 * n - 1, real=True) for n in grid.shape]
    terma = [fluence * (m[low] * (1 - share) + m[low + 1] * share) for m in of_depth]
    for a in range(reach + 1):
        for b in range(reach + 1):
            lean = _hat(p, a, reach) * _hat(q, b, reach) if divergent else 1.0
            alike = a < b and grid.spacing_mm[0] == grid.spacing_mm[2] and grid.shape[0] == grid.shape[2]
            lower = (b, a) if alike else (a, b)
            kernels = _kernel(machine, grid.spacing_mm, grid.shape, (lower[0] * _TILT, lower[1] * _TILT), modes.tobytes())
            if alike:
                kernels = [kernel.transpose(2, 1, 0) for kernel in kernels]
            spread = 0.0
            for source, kernel in zip(terma, kernels):
                spread = spread + scipy.fft.rfftn((source * lean).astype(np.float32), shape, workers=2) * scipy.fft.rfftn(
                    kernel, shape, workers=2
                )
            whole = scipy.fft.irfftn(spread, shape, workers=2)
            part = whole[
                tuple(slice(n - 1, 2 * n - 1) if 2 * n - 1 <= m else slice(n - 1, None) for n, m in zip(grid.shape, shape))
            ]
            # The field is its own mirror image, so the other quadrants of directions are mirror images too.
            for mirror_x in (False, True)[: 1 + (a > 0)]:
                for mirror_z in (False, True)[: 1 + (b > 0)]:
                    total += part[:: -1 if mirror_z else 1, :, :: -1 if mirror_x else 1]
    return total


def _hat(tangent: Floats, node: int, last: int) -> Floats:
    """Return the share of one direction: linear between neighbours, the outermost holds beyond."""
    at = np.clip(tangent / _TILT, -last, last)
    return np.clip(1 - np.abs(at - node), 0, None)


def _bilinear(image, first, step, u, v) -> Floats:  # type: ignore[no-untyped-def]
    u = np.clip((u - first[0]) / step, 0, image.shape[1] - 1.001)
    v = np.clip((v - first[1]) / step, 0, image.shape[0] - 1.001)
    i, j = u.astype(np.intp), v.astype(np.intp)
    f, g = u - i, v - j
    image = image.astype(np.float64)
    return (image[j, i] * (1 - f) + image[j, i + 1] * f) * (1 - g) + (
        image[j + 1, i] * (1 - f) + image[j + 1, i + 1] * f
    ) * g


@lru_cache(maxsize=8)
def _modes(machine: Machine) -> tuple[Floats, Floats, float]:
    """Return energies' weights of each mode, the modes against depth, and the depth step (g/cm2)."""
    beam, table = spectrum(machine), load_points().energy_mev
    step = 0.1
    depth = step * np.arange(700)
    released = beam.energy_fluence * beam.mu_cm2_g * np.exp(-np.outer(depth, beam.mu_cm2_g))
    place = np.interp(np.log(beam.energy_mev), np.log(table), np.arange(table.size))
    low = np.minimum(place.astype(np.intp), table.size - 2)
    to_table = np.zeros((beam.energy_mev.size, table.size))
    np.add.at(to_table, (np.arange(low.size), low), 1 - (place - low))
    np.add.at(to_table, (np.arange(low.size), low + 1), place - low)
    u, s, vt = np.linalg.svd(released @ to_table, full_matrices=False)
    return vt[:_RANK], (u[:, :_RANK] * s[:_RANK]).T.copy(), step


@lru_cache(maxsize=8)
def _kernel(machine, spacing_mm, shape, lean, modes_bytes) -> list[NDArray[np.float32]]:  # type: ignore[no-untyped-def]
    """Return the voxel-to-voxel kernel of each mode, offsets -(n - 1)..n - 1 along each axis."""
    points = load_points()
    modes = np.frombuffer(modes_bytes).reshape(_RANK, -1)
    share = np.tensordot(modes, points.share.sum(axis=1), axes=1)
    # Columns: beam X, beam Y and the way of the ray, in (x, y, z) of the grid; the ray leans to +x and +z.
    way = np.array([lean[0], 1.0, lean[1]])
    way = way / np.linalg.norm(way)
    side = np.cross(way, [0.0, 0.0, 1.0])
    side = side / np.linalg.norm(side)
    turn = np.stack([side, np.cross(way, side), way], axis=1)
    out = np.zeros((_RANK, *(2 * n - 1 for n in shape)))
    spacing = np.array(spacing_mm[::-1])
    args = share, np.deg2rad(points.angle_edges_deg), 10.0 * points.radius_edges_cm, turn[::-1].copy(), spacing, out
    _near(*args, _NEAR_MM)
    _far(*args, _NEAR_MM)
    return [o.astype(np.float32) for o in out]


@njit(cache=True)
def _near(share, angles, radii, turn, spacing, out, near):  # type: ignore[no-untyped-def]
    """Scatter small pieces of every bin; a piece is shared among eight voxels as voxel-to-voxel overlap demands."""
    middle = (np.array(out.shape[1:]) - 1) // 2
    fine = 0.34 * spacing.min()
    for r in range(radii.size - 1):
        if radii[r] >= near:
            break
        radial = max(2, int(np.ceil((radii[r + 1] - radii[r]) / fine)))
        for a in range(angles.size - 1):
            polar = max(2, int(np.ceil(radii[r + 1] * (angles[a + 1] - angles[a]) / fine)))
            c0, c1 = np.cos(angles[a]), np.cos(angles[a + 1])
            for n in range(radial):
                rr = radii[r] + (radii[r + 1] - radii[r]) * (n + 0.5) / radial
                if rr >= near:
                    continue
                for m in range(polar):
                    cosine = c0 + (c1 - c0) * (m + 0.5) / polar
                    sine = np.sqrt(1 - cosine * cosine)
                    around = 8 * max(1, int(np.ceil(2 * np.pi * rr * sine / fine / 8)))
                    amount = 1.0 / (radial * polar * around)
                    for w in range(around):
                        phi = 2 * np.pi * (w + 0.5) / around
                        e0, e1, e2 = sine * np.cos(phi), sine * np.sin(phi), cosine
                        k = rr * (turn[0, 0] * e0 + turn[0, 1] * e1 + turn[0, 2] * e2) / spacing[0] + middle[0]
                        j = rr * (turn[1, 0] * e0 + turn[1, 1] * e1 + turn[1, 2] * e2) / spacing[1] + middle[1]
                        i = rr * (turn[2, 0] * e0 + turn[2, 1] * e1 + turn[2, 2] * e2) / spacing[2] + middle[2]
                        k0, j0, i0 = int(np.floor(k)), int(np.floor(j)), int(np.floor(i))
                        for dk in range(2):
                            for dj in range(2):
                                for di in range(2):
                                    kk, jj, ii = k0 + dk, j0 + dj, i0 + di
                                    if 0 <= kk < out.shape[1] and 0 <= jj < out.shape[2] and 0 <= ii < out.shape[3]:
                                        part = (1 - abs(k - kk)) * (1 - abs(j - jj)) * (1 - abs(i - ii)) * amount
                                        for c in range(out.shape[0]):
                                            out[c, kk, jj, ii] += part * share[c, a, r]


@njit(cache=True)
def _far(share, angles, radii, turn, spacing, out, near):  # type: ignore[no-untyped-def]
    """Add what lies beyond `near`: density at sub-points of each voxel, linear between the bins' middles."""
    middle = (np.array(out.shape[1:]) - 1) // 2
    volume = spacing[0] * spacing[1] * spacing[2]
    ratio = np.log(radii[3] / radii[2])
    middles = 0.5 * (angles[1:] + angles[:-1])
    solid = 2 * np.pi * (np.cos(angles[:-1]) - np.cos(angles[1:]))
    density = np.empty_like(share)
    for c in range(share.shape[0]):
        for a in range(share.shape[1]):
            for r in range(share.shape[2]):
                density[c, a, r] = share[c, a, r] / (solid[a] * (radii[r + 1] - radii[r]))
    half = 0.5 * np.sqrt(np.sum(spacing * spacing))
    for k in range(out.shape[1]):
        for j in range(out.shape[2]):
            for i in range(out.shape[3]):
                z, y, x = (k - middle[0]) * spacing[0], (j - middle[1]) * spacing[1], (i - middle[2]) * spacing[2]
                centre = np.sqrt(x * x + y * y + z * z)
                if centre < near - 2 * half:
                    continue
                sub = 4 if centre < near + 2 * half else 1
                for s in range(sub * sub * sub):
                    u = x + (((s % sub) + 0.5) / sub - 0.5) * 2 * spacing[2] * (sub > 1)
                    v = y + (((s // sub % sub) + 0.5) / sub - 0.5) * 2 * spacing[1] * (sub > 1)
                    w = z + ((s // (sub * sub) + 0.5) / sub - 0.5) * 2 * spacing[0] * (sub > 1)
                    # Triangle weights: a source anywhere in its voxel, a target anywhere in its own.
                    weight = 1.0
                    if sub > 1:
                        weight = (
                            (1 - abs(u - x) / spacing[2]) * (1 - abs(v - y) / spacing[1]) * (1 - abs(w - z) / spacing[0])
                        )
                        weight *= 8.0 / (sub * sub * sub)
                    rr = np.sqrt(u * u + v * v + w * w)
                    if rr < near or rr >= radii[-1]:
                        continue
                    cosine = (u * turn[2, 2] + v * turn[1, 2] + w * turn[0, 2]) / rr
                    angle = np.arccos(min(max(cosine, -1.0), 1.0))
                    a = min(max(np.searchsorted(middles, angle) - 1, 0), middles.size - 2)
                    f = min(max((angle - middles[a]) / (middles[a + 1] - middles[a]), 0.0), 1.0)
                    at = 1 + np.log(rr / radii[1]) / ratio - 0.5
                    b = min(max(int(at), 0), radii.size - 3)
                    g = min(max(at - b, 0.0), 1.0)
                    scale = weight * volume / (rr * rr)
                    for c in range(out.shape[0]):
                        low = density[c, a, b] * (1 - g) + density[c, a, b + 1] * g
                        high = density[c, a + 1, b] * (1 - g) + density[c, a + 1, b + 1] * g
                        out[c, k, j, i] += scale * (low + (high - low) * f)
