"""The shadow of a volume on the isocentre plane: a stack of slabs seen from the source.

Each slice is a prism between the half-slice faces, its sides over the half-level outline, as everywhere. A ray that meets
a prism crosses one of its sides or, within the outline, its middle plane; the shadow is therefore the union of the
projected sides and middle sections, however hollow or parted the volume is.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.words import say
from engine.beams.beam import Beam
from engine.space.frames import beam_from_patient, project
from engine.volumes.coverage import Coverage
from engine.volumes.outline import outlines

Floats = NDArray[np.float64]

PITCH_MM = 0.25
_MOST_PIXELS = 600
# While something turns: points and pixels this far apart are enough for the eye.
_QUICK_MM = 4.0
_QUICK_PITCH_MM = 1.0
_QUICK_PIXELS = 128
_SOFT_SLABS = 1.0  # width of the smoothing against the height of a slab: with less, steps of one slab still show
_SOFT_TRIES = 3
_SOFT_AREA = 0.05
_SOFT_HOLE = 4.0  # squares of a step: a hole no larger may close, or it would keep all the outline from being smooth


@dataclass(frozen=True, eq=False)
class Sides:
    """Outline points of all slices: patient `points_mm` (n, 3), index of the `following` point of each point's loop,
    and where each slice starts (one more than slices)."""

    points_mm: Floats
    following: NDArray[np.int64]
    starts: NDArray[np.int64]
    slab_mm: float


@lru_cache(maxsize=64)
def sides(coverage: Coverage) -> Sides:
    """Return the outlines of a volume, remembered for the volumes seen last."""
    grid = coverage.grid
    parts: list[Floats] = []
    follow: list[NDArray[np.int64]] = []
    starts, n = [0], 0
    for tile in coverage.tiles:
        # A tenth of a pixel is less than what a shadow is accurate to.
        for loop in outlines(tile.alpha, tile.row, tile.column, plain=True):
            index = np.column_stack((np.full(len(loop), float(tile.plane)), loop))
            parts.append(grid.point(index))
            follow.append(n + np.roll(np.arange(len(loop)), -1))
            n += len(loop)
        starts.append(n)
    points = np.concatenate(parts) if parts else np.empty((0, 3))
    following = np.concatenate(follow) if follow else np.empty(0, dtype=np.int64)
    return Sides(points, following, np.array(starts, dtype=np.int64), grid.spacing_mm[2])


@lru_cache(maxsize=64)
def _thinned(coverage: Coverage) -> Sides:
    """Return the outlines with points about _QUICK_MM apart; loops keep six points or all they have."""
    whole = sides(coverage)
    every = max(1, round(_QUICK_MM / max(coverage.grid.spacing_mm[:2])))
    # A loop ends where the following point is not the next one.
    ends = np.flatnonzero(whole.following != np.arange(1, len(whole.following) + 1))
    parts, follow, lengths, n, first = [], [], [], 0, 0
    for end in ends.tolist():
        loop = whole.points_mm[first : end + 1]
        loop = loop[:: min(every, max(1, len(loop) // 6))]
        parts.append(loop)
        follow.append(n + np.roll(np.arange(len(loop)), -1))
        lengths.append((first, n))
        n, first = n + len(loop), end + 1
    if not parts:
        return whole
    # Where a slice started in the whole list, it starts with the same loop here.
    old, new = (np.array(v + [t]) for v, t in zip(map(list, zip(*lengths, strict=True)), (first, n), strict=True))
    starts = new[np.searchsorted(old, whole.starts)]
    return Sides(np.concatenate(parts), np.concatenate(follow), starts, whole.slab_mm)


def shadow_points(coverage: Coverage, beam: Beam, sad_mm: float, patient_position: str) -> Floats:
    """Return projected points (n, 2) on every edge and side of the slabs, dense enough to read extents from.

    Along an outline they lie at most half a pixel apart, along the height of a slab at most 1 mm.
    """
    s = sides(coverage)
    if not len(s.points_mm):
        return np.empty((0, 2))
    ring = np.concatenate((s.points_mm, (s.points_mm + s.points_mm[s.following]) / 2))
    steps = 1 + max(1, int(np.ceil(s.slab_mm)))
    heights = np.linspace(-s.slab_mm / 2, s.slab_mm / 2, steps)
    stack = np.repeat(ring[None], steps, axis=0)
    stack[..., 2] += heights[:, None]
    return _projected(stack.reshape(-1, 3), beam, sad_mm, patient_position)


def project_volume(
    coverage: Coverage, beam: Beam, sad_mm: float, patient_position: str, smooth: bool = False, quick: bool = False
) -> list[Floats]:
    """Return the closed outlines (n, 2) of a volume's shadow, x and y in mm at the isocentre plane, device axes.

    The collimator angle is included: x and y are those of jaws and leaves. Holes have the other sense of rotation.
    Accurate to about 0.2 mm (shadows above 150 mm: to a six-hundredth of their size).

    Parameters
    ----------
    smooth : for the eye: the steps of the slabs are drawn as the even edge they stand for. What is measured or conformed
        to keeps the slabs, so a smooth outline may lie inside a slab's corner by up to half a slab.

    Raises
    ------
    GeometryError
        If the volume reaches to the source.
    """
    from engine.beams.shadow_kernels import fill_sections, fill_sides, see_slabs

    s = _thinned(coverage) if quick else sides(coverage)
    if not len(s.points_mm):
        return []
    to_beam = beam_from_patient(patient_position, beam.gantry_deg, beam.collimator_deg, beam.couch_deg)
    low, middle, high = seen = tuple(np.empty((len(s.points_mm), 2)) for _ in range(3))
    isocentre = np.asarray(beam.isocentre_mm, dtype=np.float64)
    nearest, *ends = see_slabs(s.points_mm, isocentre, to_beam, float(sad_mm), s.slab_mm / 2, *seen)
    _refuse_at_source(nearest, beam, sad_mm)
    first, size = np.array(ends[:2]), np.array(ends[2:]) - ends[:2]
    least, most = (_QUICK_PITCH_MM, _QUICK_PIXELS) if quick else (PITCH_MM, _MOST_PIXELS)
    pitch = max(least, float(size.max()) / most)
    counts = 2 * (np.ceil(size / (2 * pitch)).astype(int) + 2)
    first = first - 2 * pitch
    mask = np.zeros((counts[1], counts[0]), dtype=np.uint8)
    # Pixel centres at whole numbers.
    for places in seen:
        places -= first + 0.5 * pitch
        places /= pitch
    fill_sides(low, high, s.following, mask)
    fill_sections(middle, s.following, s.starts, mask)
    quarters = mask.reshape(counts[1] // 2, 2, counts[0] // 2, 2).sum(axis=(1, 3), dtype=np.uint16)
    alpha = ((quarters * 255 + 2) // 4).astype(np.uint8)
    if smooth:
        alpha, rim = _softened(alpha, _SOFT_SLABS * s.slab_mm / (2 * pitch))
        first = first - 2 * pitch * rim
    return [first + (loop[:, ::-1] + 0.5) * 2 * pitch for loop in outlines(alpha, plain=True)]


def _softened(alpha: NDArray[np.uint8], sigma: float) -> tuple[NDArray[np.uint8], int]:
    """Return a mask without steps of about `sigma` pixels, and how many pixels wide the rim is that it gained.

    The kernel 2 G(sigma) - G(sqrt(2) sigma) has no second moment, so a curved edge does not creep inwards as it would
    under a plain Gaussian. What is too small for it (parts would vanish, merge or shrink) is smoothed less or not at all.
    """
    from scipy.ndimage import gaussian_filter

    # A nook between steps may close to a tiny hole: what is smaller than a step is no part.
    least = sigma * sigma
    parts, size = _parts(alpha, least), float(alpha.sum(dtype=np.float64))
    for _ in range(_SOFT_TRIES):
        rim = int(np.ceil(3 * sigma))
        wide = np.pad(alpha, rim).astype(np.float32)
        soft = 2 * gaussian_filter(wide, sigma, truncate=3.0) - gaussian_filter(wide, sigma * 2**0.5, truncate=3.0)
        out = np.clip(np.rint(soft), 0, 255).astype(np.uint8)
        covered = 255.0 * np.count_nonzero(out > 127)
        if _parts(out, least) == parts and abs(covered - size) <= _SOFT_AREA * size:
            return out, rim
        sigma /= 2
    return alpha, 0


def _parts(alpha: NDArray[np.uint8], least: float) -> tuple[int, int]:
    """Return how many outlines enclose more than `least` square pixels, and how many of holes more than some of them."""
    loops = outlines(alpha, plain=True)
    ahead = [np.roll(loop, -1, axis=0) for loop in loops]
    areas = [float((a[:, 1] * b[:, 0] - a[:, 0] * b[:, 1]).sum()) / 2 for a, b in zip(loops, ahead, strict=True)]
    return sum(area > least for area in areas), sum(-area > _SOFT_HOLE * least for area in areas)


def _projected(points_mm: Floats, beam: Beam, sad_mm: float, patient_position: str) -> Floats:
    to_beam = beam_from_patient(patient_position, beam.gantry_deg, beam.collimator_deg, beam.couch_deg)
    _refuse_at_source(float(((points_mm - beam.isocentre_mm) @ to_beam[2]).max()), beam, sad_mm)
    return project(points_mm, beam.isocentre_mm, to_beam, sad_mm)


def _refuse_at_source(nearest_mm: float, beam: Beam, sad_mm: float) -> None:
    if nearest_mm > 0.9 * sad_mm:
        raise GeometryError(
            "the volume reaches to the radiation source", say("beam {beam}", beam=beam.name), "Check the isocentre."
        )
