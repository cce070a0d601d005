"""Sample points of a volume on a dose grid: where they are and how much of the volume each stands for.

Each painted pixel is a prism of one slab (half-slice ends, no caps), as everywhere. Small volumes get up to 3 x 3 x 5
points a pixel; in a partly covered pixel they are weighted towards the side where the volume lies (a straight edge across
the pixel that cuts off the painted share). Large volumes get one point for a block of pixels, standing for all that is
painted there, in one of its pixels (the more is painted, the likelier).

Every point lies anywhere in its cell, not in the middle: middles would narrow the spread of the dose by the size of a cell
and bias D98% and D2%, and a lattice would put the same dose on many points. Where, follows a sequence that fills space
evenly and is the same every time (additive recurrence in four dimensions, after Roberts 2018 [memory]).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
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
    from engine.evaluation.sampling_kernels import blocks, refined

    if coverage.is_empty:
        raise EmptyVolume("the volume is empty")
    image = coverage.grid
    pixels = sum(int(np.count_nonzero(t.alpha)) for t in coverage.tiles)
    fine, block, along = density_of_points(pixels, image.spacing_mm, cap)
    points: list[NDArray[np.float64]] = []
    weights: list[NDArray[np.float32]] = []
    count = 0
    for tile in coverage.tiles:
        p, w = refined(tile.alpha, fine, along, count) if block == 1 else blocks(tile.alpha, block, along, count)
        count += len(w)
        p += (tile.plane, tile.row, tile.column)
        points.append(p)
        weights.append(w)
    return _on_grid(coverage, grid, points, weights)


def _on_grid(
    coverage: Coverage, grid: Grid, points: list[NDArray[np.float64]], weights: list[NDArray[np.float32]]
) -> Samples:
    last = np.array(grid.shape, dtype=np.float64) - 1
    kept_points, kept_weights, offsets, whole = [], [], [0], 0.0
    for p, w in zip(points, weights, strict=True):
        at = grid.index(coverage.grid.point(p))
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


def doses_at(gy: FrozenArray, where: Samples) -> NDArray[np.float32]:
    """Return the trilinear dose at a volume's points, float32 (n,)."""
    from engine.evaluation.sampling_kernels import gather

    out = np.empty(where.count, dtype=np.float32)
    gather(gy, where.index, out)
    return out
