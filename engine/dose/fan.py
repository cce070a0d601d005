"""The primary energy of one beam, on a grid that opens with the beam.

Cells are cubes that grow with the distance from the source: cell (n, j, i) lies at t = SAD exp(eta (n + ...)) along the
axis and at the tangents p, q of its ray, with steps eta = dp = dq = step / SAD. Three things follow. Rays are lines of
the grid, so field edges do not cross it at an angle and kernels need not be tilted. All cells have one shape, so a
direction across the cells is one and the same angle against the ray everywhere, and transport along lattice lines works
as in a grid of equal cubes once the density is scaled by t / SAD. And nothing depends on the gantry angle, nor on where
the dose is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.beams.beam import Aperture
from engine.beams.fluence import FluenceMap
from engine.dose.medium import Medium
from engine.dose.rows import energy_row, soft_row
from engine.dose.sight import Sight
from engine.dose.source import Release, contaminant_parts, release_rows
from engine.dose.threads import share_out
from engine.space.grid import Grid
from engine.space.lines import add_line, send_for_line

Floats = NDArray[np.float64]
Volume = NDArray[np.float32]

# Primary energy is followed this far from the field; what leaks through jaws and leaves further out stays on the spot.
_FULL_MM, _RIM_MM, _REACH_MM = 20.0, 36.0, 48.0
# Electrons of 10 MV photons run less than this in the body.
_BESIDE_MM = 60.0
_CELLS = 0.75e6
_FINEST_MM = 1.25
_PIECE_CELLS = 1.0e6
_SAMPLE_MM = 1.25
# Densities that the nearer caches do not hold.
_FAR_APART_VOXELS = 4_000_000


@dataclass(frozen=True)
class Fan:
    """A grid of cells about the rays of one beam, in device axes.

    Parameters
    ----------
    step_mm : edge of the cells at the isocentre distance
    first : tangents (p, q) of the middle of cell [0, 0] and t (mm) of the middle of plane 0
    shape : (planes along the beam, rows along Y, columns along X)
    """

    step_mm: float
    first: tuple[float, float, float]
    shape: tuple[int, int, int]


@dataclass(frozen=True)
class Window:
    """The share of primary energy that is followed in the fan: 1 near the field, 0 further out, smooth in between.

    Parameters
    ----------
    x_mm, y_mm : the field's extent at the isocentre plane, device axes
    """

    x_mm: tuple[float, float]
    y_mm: tuple[float, float]

    def numbers(self) -> Floats:
        """Return x1, x2, y1, y2, and the distances where the share begins and ends to fall, for kernels."""
        return np.array([*self.x_mm, *self.y_mm, _FULL_MM, _RIM_MM])

    def share(self, x_mm: Floats, y_mm: Floats) -> Floats:
        """Return the share (ny, nx) at positions of the isocentre plane."""
        x, y = (
            np.clip((_RIM_MM - np.maximum(lo - at, at - hi)) / (_RIM_MM - _FULL_MM), 0, 1)
            for at, (lo, hi) in ((x_mm, self.x_mm), (y_mm, self.y_mm))
        )
        return np.asarray(np.outer(y * y * (3 - 2 * y), x * x * (3 - 2 * x)))


# The window of a field that is closed: nothing is followed.
NOWHERE = np.array([1e9, 1e9, 1e9, 1e9, _FULL_MM, _RIM_MM])


def window_of(apertures: Sequence[Aperture]) -> Window | None:
    """Return the window about what jaws and leaves of all apertures leave open; None if nothing is."""
    found = [w for w in map(_window, apertures) if w is not None]
    if not found:
        return None
    x, y = [w.x_mm for w in found], [w.y_mm for w in found]
    return Window(
        (min(a for a, _ in x), max(b for _, b in x)),
        (min(a for a, _ in y), max(b for _, b in y)),
    )


def _window(aperture: Aperture) -> Window | None:
    (x1, x2), (y1, y2) = aperture.x_mm, aperture.y_mm
    if aperture.leaves_mm:
        edges = aperture.leaf_edges_mm
        gaps = [
            (max(low, y1), min(high, y2), max(a, x1), min(b, x2))
            for low, high, (a, b) in zip(edges, edges[1:], aperture.leaves_mm, strict=False)
        ]
        gaps = [g for g in gaps if g[1] > g[0] and g[3] > g[2]]
        if not gaps:
            return None
        y1, y2 = min(g[0] for g in gaps), max(g[1] for g in gaps)
        x1, x2 = min(g[2] for g in gaps), max(g[3] for g in gaps)
    return Window((x1, x2), (y1, y2)) if x2 > x1 and y2 > y1 else None


@njit(cache=True, nogil=True, error_model="numpy")
def _extent(rho, forms, limits, near, far):  # type: ignore[no-untyped-def]
    """Return lowest and highest (p, q, t) of coarse voxels that hold matter and lie within limits.

    All of them, and those whose t lies between near and far.
    """
    low, high = np.full((2, 3), 1e30), np.full((2, 3), -1e30)
    for k in range(rho.shape[0]):
        for j in range(rho.shape[1]):
            for i in range(rho.shape[2]):
                if rho[k, j, i] < 0.02:
                    continue
                t = forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j + forms[2, 3] * i
                p = (forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j + forms[0, 3] * i) / t
                q = (forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j + forms[1, 3] * i) / t
                if p < limits[0] or p > limits[1] or q < limits[2] or q > limits[3]:
                    continue
                for n in range(2 if near <= t <= far else 1):
                    low[n, 0], low[n, 1], low[n, 2] = min(low[n, 0], p), min(low[n, 1], q), min(low[n, 2], t)
                    high[n, 0], high[n, 1], high[n, 2] = max(high[n, 0], p), max(high[n, 1], q), max(high[n, 2], t)
    return low, high


def fan_of(window: Window, sight: Sight, coarse_g_cm3: Volume, coarse: Grid, wanted: Grid) -> Fan | None:
    """Return the fan over all matter the beam passes that matters for `wanted`; None if there is none.

    Parameters
    ----------
    coarse_g_cm3, coarse : densities of the patient; the fan keeps to where they are not air
    wanted : where the dose is asked for. Its spacing bounds that of the cells; where it lies along the beam crops them.
        Across the beam they are all there, for energy goes far sideways in the thin layer a surface has in its cells: so a
        part of a dose grid gets the dose of the whole
    """
    sad = sight.sad_mm
    reach = [window.x_mm[0] - _REACH_MM, window.x_mm[1] + _REACH_MM, window.y_mm[0] - _REACH_MM, window.y_mm[1] + _REACH_MM]
    limits = np.array(reach) / sad
    margin = 0.75 * max(coarse.spacing_mm)
    # Voxels count by their middles, so those just outside the limits must count too.
    wide = limits + 2 * margin / sad * np.array([-1, 1, -1, 1])
    away = sight.corners(wanted)[:, 2]
    low, high = _extent(coarse_g_cm3, sight.forms(coarse), wide, away.min() - _BESIDE_MM, away.max() + _BESIDE_MM)
    if low[1, 2] > high[1, 2]:
        return None
    size = (high[0] - low[0]) * np.array([sad, sad, 1.0]) + 2 * margin
    finest = float(np.clip(min(wanted.spacing_mm), 1.0, 4.0))
    step = min(finest, max(float(np.cbrt(np.prod(size) / _CELLS)), _FINEST_MM))
    eta = step / sad
    first, count = [], []
    for a in (0, 1):
        # Cell borders lie on the axis, so that a field symmetric about it stays symmetric.
        begin = np.floor(max(low[1, a] - margin / sad, limits[2 * a]) / eta)
        end = np.ceil(min(high[1, a] + margin / sad, limits[2 * a + 1]) / eta)
        first.append(float((begin + 0.5) * eta))
        count.append(max(2, int(end - begin)))
    begin = np.floor(np.log((low[1, 2] - margin) / sad) / eta)
    end = np.ceil(np.log((high[1, 2] + margin) / sad) / eta)
    along = sad * float(np.exp((begin + 0.5) * eta))
    return Fan(step, (first[0], first[1], along), (max(2, int(end - begin)), count[1], count[0]))


@njit(cache=True, nogil=True, error_model="numpy")
def _start(source, along, first, r, q):  # type: ignore[no-untyped-def]
    """Return where the row at tangent q lies at the distance r, as fractional index of its first column."""
    z = source[0] + r * (along[2, 0] + q * along[1, 0] + first[0] * along[0, 0])
    y = source[1] + r * (along[2, 1] + q * along[1, 1] + first[0] * along[0, 1])
    x = source[2] + r * (along[2, 2] + q * along[1, 2] + first[0] * along[0, 2])
    return np.float32(z), np.float32(y), np.float32(x)


@njit(cache=True, nogil=True, error_model="numpy")
def _pass(values, shape, unit, source, along, sad, eta, first, ahead, samples, secant, rows, rho, depth):  # type: ignore[no-untyped-def]
    """Fill rows of scaled density and of the depth of the middle of each cell; see ``passed``."""
    planes, _, columns = rho.shape
    f = np.float32
    sampled, before = np.empty(columns, f), np.empty(columns, f)
    half, far_apart = f(0.5), values.size > _FAR_APART_VOXELS
    # Row by row, for what the rays of a row read on one plane they mostly read again on the next.
    for row in range(rows[0], rows[1]):
        q = first[1] + eta * row
        before[:] = 0.0
        longer = secant[row]
        for n in range(-ahead, planes):
            t = first[2] * np.exp(n * eta)
            length, scale = f(0.1 * t * eta), f(t / sad)
            sampled[:] = 0.0
            # Before the fan begins there is air, or next to nothing.
            many = samples if n >= 0 else 1
            for m in range(many):
                r = t * np.exp(eta * ((m + 0.5) / many - 0.5))
                way = f(r * eta * along[0, 0]), f(r * eta * along[0, 1]), f(r * eta * along[0, 2])
                # Air all around: what lies outside reads the rim.
                add_line(values, shape, _start(source, along, first, r, q), way, f(unit / many), sampled)
                if far_apart and m == 0 and n % 2 == 0 and row + 1 < rows[1]:
                    send_for_line(values, shape, _start(source, along, first, r, q + eta), way, columns)
            if n < 0:
                for c in range(columns):
                    before[c] += sampled[c] * length * longer[c]
                continue
            here_rho, here_depth = rho[n, row], depth[n, row]
            for c in range(columns):
                more = sampled[c] * length * longer[c]
                here_depth[c] = before[c] + half * more
                here_rho[c] = sampled[c] * scale
                before[c] += more


@njit(cache=True, nogil=True, error_model="numpy")
def _fill(  # type: ignore[no-untyped-def]
    rho, depth, near, opened, lean, hard, soft, table, width, step, curve, soft_step, rows, energy, contaminant
):
    """Fill rows of released primary energy and of contaminant dose; see ``fill``."""
    planes, _, columns = rho.shape
    f, strength = np.float32, np.empty(columns, np.float32)
    for n in range(planes):
        for row in range(rows[0], rows[1]):
            maps = hard[row], lean[row], opened[row]
            energy_row(table, width, f(1.0 / step), rho[n, row], depth[n, row], *maps, energy[n, row])
            if contaminant.size:
                for c in range(columns):
                    strength[c] = soft[row, c] * near[n]
                soft_row(curve, f(1.0 / soft_step), depth[n, row], strength, contaminant[n, row])


@dataclass(frozen=True)
class Filled:
    """What a fan holds, each (planes, rows, columns).

    Parameters
    ----------
    rho : density times t / SAD: what a lattice of equal cubes must have for the same energy to be lost per cell
    energy : primary energy released per cell, per unit energy fluence, in units of a cell's volume at the isocentre
    soft : contaminant dose relative to its surface value in a wide field; empty without
    """

    rho: Volume
    energy: Volume
    soft: Volume


@lru_cache(maxsize=2)
def passed(fan: Fan, sight: Sight, medium: Medium) -> tuple[Volume, Volume]:
    """Return scaled density and depth (g/cm2) in a fan's cells, by rays from where they enter the densities' box.

    Nothing of it depends on what the field lets through: it is remembered for a hand that moves a leaf or a wedge.
    Nobody writes to it.
    """
    water, grid = medium.water, medium.grid
    eta = fan.step_mm / sight.sad_mm
    planes, rows, columns = fan.shape
    _, _, secant = _tangents(fan, sight)
    entry = sight.corners(grid)[:, 2].min()
    ahead = max(0, int(np.ceil(np.log(fan.first[2] / entry) / eta)) + 1)
    source, along = sight.in_grid(grid)
    # Cells wider than the densities' voxels hold the mean of several places along the ray.
    samples = max(1, round(fan.step_mm / max(_SAMPLE_MM, min(grid.spacing_mm))))
    out = np.empty(fan.shape, np.float32), np.empty(fan.shape, np.float32)
    steps = water.reshape(-1), water.shape, medium.step_g_cm3
    view = *steps, source, along, sight.sad_mm, eta, np.array(fan.first), ahead, samples
    pass_rows: Any = _pass
    pieces = int(planes * rows * columns / _PIECE_CELLS)
    share_out(rows, pieces, lambda lo, hi: pass_rows(*view, secant.astype(np.float32), (lo, hi), *out))
    return out


def fill(
    fan: Fan,
    sight: Sight,
    medium: Medium,
    table: Release,
    field: FluenceMap,
    window: Window,
    contaminant: Floats,
    report: Report = quiet,
) -> Filled:
    """Return density and released energy in a fan.

    Parameters
    ----------
    contaminant : curve of contaminant dose by depth (``source.contaminant_curve``); empty leaves it out
    """
    rho, depth = passed(fan, sight, medium)
    sad, eta = sight.sad_mm, fan.step_mm / sight.sad_mm
    planes, rows, columns = fan.shape
    p, q, secant = _tangents(fan, sight)
    x, y = p * sad, q * sad
    share = window.share(x, y)
    # Planar fluence on the isocentre plane becomes fluence along the ray.
    opened = _read(field, field.fluence, x, y) * secant * share
    hard = _read(field, field.hardening_g_cm2, x, y) if field.hardening_g_cm2.size else np.zeros((rows, columns))
    soft = _read(field, field.contamination, x, y) * share if contaminant.size else np.empty((0, 0))
    energy = release_rows(table.terma_cm2_g * table.primary)
    # Places in the table's tangents, below its last.
    lean = np.minimum(np.hypot(p[None, :], q[:, None]) / table.tangent_step, energy.shape[1] - 1.01)
    curve, soft_step, soft_source = contaminant_parts(contaminant)
    away = fan.first[2] * np.exp(eta * np.arange(planes))
    near = np.square((sad - soft_source) / np.maximum(away - soft_source, 1.0))
    maps = [np.ascontiguousarray(a, dtype=np.float32) for a in (near, opened, lean, hard, soft)]
    tables = energy.reshape(-1), energy.shape[1], table.depth_step_g_cm2, curve, soft_step
    out = np.empty(fan.shape, np.float32), np.empty(fan.shape if contaminant.size else (0, 0, 0), np.float32)
    fill_rows: Any = _fill
    pieces = int(planes * rows * columns / _PIECE_CELLS)
    share_out(
        *(rows, pieces, lambda lo, hi: fill_rows(rho, depth, *maps, *tables, (lo, hi), *out)),
        *(report, say("Released energy")),
    )
    return Filled(rho, *out)


def _tangents(fan: Fan, sight: Sight) -> tuple[Floats, Floats, Floats]:
    """Return the tangents p (columns) and q (rows), and how much longer a ray is there than on the axis."""
    eta = fan.step_mm / sight.sad_mm
    p, q = (fan.first[a] + eta * np.arange(n, dtype=np.float64) for a, n in ((0, fan.shape[2]), (1, fan.shape[1])))
    return p, q, np.sqrt(1 + p[None, :] ** 2 + q[:, None] ** 2)


def _read(field: FluenceMap, values: Volume, x_mm: Floats, y_mm: Floats) -> Floats:
    """Return (ny, nx) values of a map on the isocentre plane, bilinear, its edge values beyond."""
    whole = values.astype(np.float64)
    for axis, at in ((0, y_mm), (1, x_mm)):
        place = np.clip((at - field.first_mm[1 - axis]) / field.step_mm, 0, whole.shape[axis] - 1)
        low = np.minimum(place.astype(np.intp), whole.shape[axis] - 2)
        share = np.expand_dims(place - low, 1 - axis)
        whole = np.take(whole, low, axis) * (1 - share) + np.take(whole, low + 1, axis) * share
    return whole
