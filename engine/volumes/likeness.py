"""How alike two volumes are: shares of space, distances of surfaces, the line that would be drawn anew.

Definitions, A the first and B the second volume:

Dice            2 |A and B| / (|A| + |B|); what both cover of a pixel is the smaller of the two shares
Jaccard         |A and B| / |A or B| = Dice / (2 - Dice)
mean distance   mean over A's surface of the distance to B's, and the other way round; the mean of the two
95 % distance   95th percentile over A's surface of the distance to B's, and the other way round; the larger of the two
largest         the largest distance either way (Hausdorff)
surface Dice    share of both surfaces together that lies within the tolerance of the other one
added path      length of B's outlines, slice by slice, further than the tolerance from A's outline on the same slice:
                what has to be drawn anew where A is corrected to B

Surfaces are half-level surfaces in mm with the true spacing (``surface``), weighted by area, never voxel centres.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError, InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Fingerprint, Value
from engine.base.words import say
from engine.space.grid import Point
from engine.volumes.coverage import Coverage
from engine.volumes.margins import intersection
from engine.volumes.outline import tile_outlines
from engine.volumes.surface import Surface, distances_mm, surface_of

Floats = NDArray[np.float64]

DEFAULT_TOLERANCE_MM = 1.0
_STEP_MM = 0.5  # outlines are read at least as densely


@dataclass(frozen=True, eq=False)
class CompareVolumes(Value):
    """Ask how alike two volumes on one grid are; `tolerance_mm` is that of surface Dice and added path."""

    first: Coverage
    second: Coverage
    tolerance_mm: float = DEFAULT_TOLERANCE_MM

    def __post_init__(self) -> None:
        super().__post_init__()
        if not 0.0 <= self.tolerance_mm <= 50.0:
            raise InputError(say("a tolerance of {mm:g} mm is not between 0 and 50 mm", mm=self.tolerance_mm), "comparison")
        if self.first.grid != self.second.grid:
            raise GeometryError("the two volumes lie on different grids", "comparison", "Read both onto one image.")


@dataclass(frozen=True, eq=False)
class Likeness(Value):
    """What was found; `inputs` is the fingerprint of its request.

    Parameters
    ----------
    first_cm3, second_cm3, common_cm3 : volumes by the slab rule
    dice, jaccard : 0..1; both 1 where both volumes are empty
    mean_mm, p95_mm, largest_mm, surface_dice : None where one volume is empty
    added_path_mm, path_mm : line of the second to be drawn anew, and its whole length
    shift_mm : centre of the second less that of the first, (x, y, z); None where one is empty
    worst_mm : the place of `largest_mm`
    worst_plane : the slice on which most area belongs to only one of them; None if none does
    """

    inputs: Fingerprint
    first_cm3: float
    second_cm3: float
    common_cm3: float
    dice: float
    jaccard: float
    mean_mm: float | None
    p95_mm: float | None
    largest_mm: float | None
    surface_dice: float | None
    added_path_mm: float
    path_mm: float
    shift_mm: tuple[float, float, float] | None
    worst_mm: tuple[float, float, float] | None
    worst_plane: int | None


def compare_volumes(request: CompareVolumes, report: Report = quiet) -> Likeness:
    """Compare two volumes; see the definitions above."""
    a, b = request.first, request.second
    report(0.0, "Comparing volumes")
    common = intersection(a, b).volume_cm3
    both = a.volume_cm3 + b.volume_cm3
    dice = 2 * common / both if both > 0 else 1.0
    report(0.1, "Looking for the surfaces")
    one, two = surface_of(a), surface_of(b)
    mean = p95 = largest = share = None
    worst: Point | None = None
    if len(one.corners_mm) and len(two.corners_mm):
        mean, p95, largest, share, worst = _surfaces(one, two, request.tolerance_mm, report)
    report(0.9, "Following the outlines")
    added, path = added_path(a, b, request.tolerance_mm)
    at, to = a.centroid_mm(), b.centroid_mm()
    shift = tuple(q - p for p, q in zip(at, to, strict=True)) if at and to else None
    return Likeness(
        request.fingerprint,
        a.volume_cm3,
        b.volume_cm3,
        common,
        dice,
        dice / (2 - dice),
        mean,
        p95,
        largest,
        share,
        added,
        path,
        shift,  # type: ignore[arg-type]
        worst,
        _worst_plane(a, b),
    )


def _surfaces(one: Surface, two: Surface, tolerance_mm: float, report: Report) -> tuple[float, float, float, float, Point]:
    means, tails, within, area = [], [], 0.0, 0.0
    largest, worst = -1.0, (0.0, 0.0, 0.0)
    for n, (here, there) in enumerate(((one, two), (two, one))):
        report(0.2 + 0.35 * n, "Measuring from surface to surface")
        weights = here.areas_mm2
        far = distances_mm(here.middles_mm, there, part(report, 0.2 + 0.35 * n, 0.55 + 0.35 * n), here.order)
        means.append(float(np.average(far, weights=weights)))
        tails.append(_percentile(far, weights, 0.95))
        within += float(weights[far <= tolerance_mm].sum())
        area += float(weights.sum())
        if float(far.max()) > largest:
            largest = float(far.max())
            x, y, z = here.middles_mm[int(far.argmax())].tolist()
            worst = (x, y, z)
    return sum(means) / 2, max(tails), largest, within / area, worst


def _percentile(values: Floats, weights: Floats, share: float) -> float:
    order = np.argsort(values)
    grown = np.cumsum(weights[order])
    return float(values[order][min(int(np.searchsorted(grown, share * grown[-1])), len(values) - 1)])


def added_path(first: Coverage, second: Coverage, tolerance_mm: float) -> tuple[float, float]:
    """Return the length (mm) of the second's outlines further than the tolerance from the first's, and all of it."""
    size = np.asarray(first.grid.spacing_mm[1::-1])
    added = whole = 0.0
    for tile in second.tiles:
        middles, legs = _pieces([loop * size for loop in tile_outlines(tile)])
        lengths = np.hypot(legs[:, 0], legs[:, 1])
        whole += float(lengths.sum())
        there = first.tile(tile.plane)
        at, along = _pieces([loop * size for loop in tile_outlines(there)] if there is not None else [])
        far = _apart(middles, at, along, tolerance_mm)
        added += float(lengths[far > tolerance_mm + 1e-6].sum())
    return added, whole


def _pieces(loops: list[Floats]) -> tuple[Floats, Floats]:
    """Return middles and ways (both (n, 2)) of short pieces of closed lines."""
    middles, legs = [np.empty((0, 2))], [np.empty((0, 2))]
    for loop in loops:
        leg = np.roll(loop, -1, axis=0) - loop
        parts = np.maximum(1, np.ceil(np.hypot(leg[:, 0], leg[:, 1]) / _STEP_MM).astype(np.int64))
        which = np.repeat(np.arange(len(loop)), parts)
        nth = np.arange(len(which)) - np.repeat(np.cumsum(parts) - parts, parts)
        middles.append(loop[which] + leg[which] * ((nth + 0.5) / parts[which])[:, None])
        legs.append((leg / parts[:, None])[which])
    return np.concatenate(middles), np.concatenate(legs)


def _apart(points: Floats, middles: Floats, legs: Floats, most: float) -> Floats:
    """Return how far points (n, 2) lie from pieces of a line; what is further than `most` may be put further still."""
    from scipy.spatial import cKDTree

    if len(points) == 0 or len(middles) == 0:
        return np.full(len(points), np.inf)
    count = min(3, len(middles))
    _, near = cKDTree(middles, balanced_tree=False).query(points, count, distance_upper_bound=most + 0.51 * _STEP_MM)
    near = near.reshape(len(points), count)
    (y, x), (dy, dx) = np.vstack((middles, (1e12, 1e12))).T, np.vstack((legs, (1.0, 0.0))).T  # the last one is no piece
    up, aside, down, across = points[:, :1] - y[near], points[:, 1:] - x[near], dy[near], dx[near]
    t = np.clip((up * down + aside * across) / np.maximum(down * down + across * across, 1e-30), -0.5, 0.5)
    up -= t * down
    aside -= t * across
    out: Floats = np.sqrt((up * up + aside * aside).min(axis=1))
    return out


def _worst_plane(a: Coverage, b: Coverage) -> int | None:
    """Return the slice on which the two differ over the largest area, or None where they are the same."""
    differ: dict[int, int] = {}
    for plane in sorted({*a.planes, *b.planes}):
        unlike = a.slice(plane).astype(np.int16) - b.slice(plane)
        differ[plane] = int(np.abs(unlike).sum())
    worst = max(differ, key=lambda k: differ[k], default=None)
    return worst if worst is not None and differ[worst] > 0 else None
