"""Sample points of a volume on a dose grid: where they are and how much of the volume each stands for.

Each painted pixel is a prism of one slab (half-slice ends, no caps), as everywhere. Small volumes get up to 3 x 3 x 5
points a pixel; in a partly covered pixel they are weighted towards the side where the volume lies (a straight edge across
the pixel that cuts off the painted share). Large volumes get one point for a block of pixels, at the block's centre of
mass, so that no part of the volume is left out and a linear dose keeps its mean.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.errors import EmptyVolume
from engine.base.values import FrozenArray, own_array
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage

CAP = 60_000
_FINEST_IN_PLANE = 3
_FINEST_ALONG = 5


@dataclass(frozen=True, eq=False)
class Samples:
    """Points of one volume inside a dose grid.

    Parameters
    ----------
    index : float32 (n, 3), fractional (plane, row, column) on the dose grid, clipped to its voxel centres
    share : float32 (n,), each point's share of the volume inside the dose grid; sums to 1
    planes : the image planes in order, and
    offsets : where the points of each plane start (one more than planes)
    volume_cm3 : the whole volume, covered by the dose grid or not
    covered : share of the volume inside the dose grid, 0..1
    """

    index: FrozenArray
    share: FrozenArray
    planes: tuple[int, ...]
    offsets: tuple[int, ...]
    volume_cm3: float
    covered: float

    @property
    def count(self) -> int:
        """Number of points."""
        return len(self.share)


@lru_cache(maxsize=48)
def samples(coverage: Coverage, grid: Grid, cap: int = CAP) -> Samples:
    """Return at most about `cap` sample points of a volume on a dose grid.

    Raises
    ------
    EmptyVolume
        If nothing is painted.
    """
    if coverage.is_empty:
        raise EmptyVolume("the volume is empty")
    image = coverage.grid
    pixels = sum(int(np.count_nonzero(t.alpha)) for t in coverage.tiles)
    fine, block, along = density_of_points(pixels, image.spacing_mm, cap)
    points: list[NDArray[np.float32]] = []
    weights: list[NDArray[np.float32]] = []
    for tile in coverage.tiles:
        in_plane = _refined(tile.alpha, fine) if block == 1 else _blocks(tile.alpha, block)
        rc, w = in_plane
        shifts = ((np.arange(along) + 0.5) / along - 0.5).astype(np.float32)
        p = np.empty((along, len(w), 3), dtype=np.float32)
        p[..., 0] = tile.plane + shifts[:, None]
        p[..., 1] = rc[:, 0] + tile.row
        p[..., 2] = rc[:, 1] + tile.column
        points.append(p.reshape(-1, 3))
        weights.append(np.tile(w / along, along))
    return _on_grid(coverage, grid, points, weights)


def _on_grid(
    coverage: Coverage, grid: Grid, points: list[NDArray[np.float32]], weights: list[NDArray[np.float32]]
) -> Samples:
    last = np.array(grid.shape, dtype=np.float64) - 1
    kept_points, kept_weights, offsets, whole = [], [], [0], 0.0
    for p, w in zip(points, weights, strict=True):
        at = grid.index(coverage.grid.point(p.astype(np.float64)))
        inside = np.all((at >= -0.5) & (at <= last + 0.5), axis=1)
        kept_points.append(np.clip(at[inside], 0, last).astype(np.float32))
        kept_weights.append(w[inside].astype(np.float64))
        offsets.append(offsets[-1] + int(inside.sum()))
        whole += float(w.sum(dtype=np.float64))
    share = np.concatenate(kept_weights)
    held = float(share.sum())
    return Samples(
        own_array(np.concatenate(kept_points)),
        own_array((share / held if held > 0 else share).astype(np.float32)),
        coverage.planes,
        tuple(offsets),
        coverage.volume_cm3,
        min(1.0, held / whole) if whole > 0 else 0.0,
    )


def density_of_points(pixels: int, spacing_mm: tuple[float, float, float], cap: int) -> tuple[int, int, int]:
    """Return (points along a pixel's side, pixels along a block's side, points along the slab).

    Of all that stay under `cap`, the choice is the one whose largest cell side is smallest, then the one with more points.
    """
    side, slab = (spacing_mm[0] * spacing_mm[1]) ** 0.5, spacing_mm[2]
    best: tuple[float, float, tuple[int, int, int]] | None = None
    for along in range(1, _FINEST_ALONG + 1):
        for fine in range(1, _FINEST_IN_PLANE + 1):
            number = pixels * fine * fine * along
            if number <= cap:
                found = (max(side / fine, slab / along), -float(number), (fine, 1, along))
                best = found if best is None or found < best else best
        block = max(2, int(np.ceil((pixels * along / cap) ** 0.5)))
        found = (max(side * block, slab / along), -pixels * along / block**2, (1, block, along))
        best = found if best is None or found < best else best
    assert best is not None
    return best[2]


@njit(cache=True, nogil=True)
def _refined(alpha, n):  # type: ignore[no-untyped-def]
    rows, columns = alpha.shape
    count = 0
    for r in range(rows):
        for c in range(columns):
            if alpha[r, c] > 0:
                count += n * n
    rc = np.empty((count, 2), dtype=np.float32)
    w = np.zeros(count, dtype=np.float32)
    part = np.empty(n * n, dtype=np.float64)
    i = 0
    for r in range(rows):
        for c in range(columns):
            a = alpha[r, c]
            if a == 0:
                continue
            gr, gc = 0.0, 0.0
            if a < 255:
                gr += alpha[r + 1, c] if r + 1 < rows else 0.0
                gr -= alpha[r - 1, c] if r > 0 else 0.0
                gc += alpha[r, c + 1] if c + 1 < columns else 0.0
                gc -= alpha[r, c - 1] if c > 0 else 0.0
            _split(a / 255.0, gr, gc, n, part)
            for j in range(n * n):
                rc[i, 0] = r + (j // n + 0.5) / n - 0.5
                rc[i, 1] = c + (j % n + 0.5) / n - 0.5
                w[i] = part[j] / (n * n)
                i += 1
    return rc, w


@njit(cache=True, nogil=True)
def _split(a, gr, gc, n, part):  # type: ignore[no-untyped-def]
    size = abs(gr) + abs(gc)
    if size < 8.0 or n == 1:
        part[:] = a
        return
    nr, nc = gr / size, gc / size
    want = a * n * n
    lo, hi = -1.0, 1.0
    for _ in range(24):
        edge = 0.5 * (lo + hi)
        total = 0.0
        for j in range(n * n):
            along = nr * ((j // n + 0.5) / n - 0.5) + nc * ((j % n + 0.5) / n - 0.5)
            part[j] = min(1.0, max(0.0, (along - edge) * n + 0.5))
            total += part[j]
        if total > want:
            lo = edge
        else:
            hi = edge
    if total > 0:
        for j in range(n * n):
            part[j] *= want / total


@njit(cache=True, nogil=True)
def _blocks(alpha, b):  # type: ignore[no-untyped-def]
    rows, columns = alpha.shape
    most = ((rows + b - 1) // b) * ((columns + b - 1) // b)
    rc = np.empty((most, 2), dtype=np.float32)
    w = np.empty(most, dtype=np.float32)
    i = 0
    for r0 in range(0, rows, b):
        for c0 in range(0, columns, b):
            total, mr, mc = 0.0, 0.0, 0.0
            for r in range(r0, min(rows, r0 + b)):
                for c in range(c0, min(columns, c0 + b)):
                    a = float(alpha[r, c])
                    total += a
                    mr += a * r
                    mc += a * c
            if total > 0:
                rc[i, 0] = mr / total
                rc[i, 1] = mc / total
                w[i] = total / 255.0
                i += 1
    return rc[:i].copy(), w[:i].copy()


@njit(cache=True, nogil=True)
def gather(gy, index, out):  # type: ignore[no-untyped-def]
    """Fill `out` (n,) with trilinear dose of `gy` at `index` (n, 3), which lies within the voxel centres."""
    planes, rows, columns = gy.shape
    for i in range(index.shape[0]):
        z, y, x = index[i, 0], index[i, 1], index[i, 2]
        k, r, c = min(int(z), max(planes - 2, 0)), min(int(y), max(rows - 2, 0)), min(int(x), max(columns - 2, 0))
        k1, r1, c1 = min(k + 1, planes - 1), min(r + 1, rows - 1), min(c + 1, columns - 1)
        fz, fy, fx = z - k, y - r, x - c
        low = (gy[k, r, c] * (1 - fx) + gy[k, r, c1] * fx) * (1 - fy) + (gy[k, r1, c] * (1 - fx) + gy[k, r1, c1] * fx) * fy
        top = (gy[k1, r, c] * (1 - fx) + gy[k1, r, c1] * fx) * (1 - fy) + (
            gy[k1, r1, c] * (1 - fx) + gy[k1, r1, c1] * fx
        ) * fy
        out[i] = low * (1 - fz) + top * fz
