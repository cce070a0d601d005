"""Region growing between CT limits, on one slice or through the stack, with three guards against leaks.

Growth stops at a distance from the seed and at a volume; and what hangs on the seed only through necks narrower than a
width is left out (an opening by a box of that width, kept to the piece the seed is in; single voxels that noise left out
are filled first). What held it back is said.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, part, quiet
from engine.base.values import Fingerprint, Value, read_only
from engine.base.words import listed, say
from engine.image.ct import CtImage
from engine.volumes.coverage import Coverage
from engine.volumes.guard import held_coverage

CHUNK = 400_000
Seed = tuple[int, int, int]


@dataclass(frozen=True)
class Limits:
    """What ends growth.

    Parameters
    ----------
    low_hu, high_hu : CT numbers that join, both included
    neck_mm : necks narrower than this part regions; 0 lets all pass
    reach_mm : farthest from the seed
    most_cm3 : largest volume
    """

    low_hu: float
    high_hu: float
    neck_mm: float = 0.0
    reach_mm: float = 1e4
    most_cm3: float = 1e6


@dataclass(frozen=True)
class Growth:
    """What grew: `mask` (uint8 0 or 1, planes, rows, columns) with its corner, and what held it back, in words."""

    mask: NDArray[np.uint8]
    corner: Seed
    notes: str


@dataclass(frozen=True, eq=False)
class GrowRegion(Value):
    """Ask for what is connected to a place and alike, added to a volume or taken from it.

    Parameters
    ----------
    image : the CT
    seed : (plane, row, column)
    numbers : lowest and highest HU, neck mm, reach mm, largest cm3 (see Limits)
    coverage : the volume as it is
    subtract : take away instead of adding
    guard, inside : a volume whose inside (or outside) alone may change, or None
    """

    image: CtImage
    seed: Seed
    numbers: tuple[float, float, float, float, float]
    coverage: Coverage
    subtract: bool = False
    guard: Coverage | None = None
    inside: bool = True


@dataclass(frozen=True, eq=False)
class GrownRegion(Value):
    """The volume after growth and what held growth back; `inputs` is the fingerprint of the request."""

    coverage: Coverage
    notes: str
    grown_cm3: float
    inputs: Fingerprint


def grow_region(request: GrowRegion, report: Report = quiet) -> GrownRegion:
    """Grow through the stack; raises ``Cancelled`` from the report."""
    grid = request.image.grid
    sx, sy, sz = grid.spacing_mm
    growth = grow(request.image.hu, request.seed, Limits(*request.numbers), (sz, sy, sx), report)
    k0, r0, c0 = growth.corner
    _, height, width = growth.mask.shape
    after = []
    for i, part_of in enumerate(growth.mask):
        if not part_of.any():
            continue
        data = request.coverage.slice(k0 + i)
        window = data[r0 : r0 + height, c0 : c0 + width]
        window[part_of > 0] = 0 if request.subtract else 255
        after.append((k0 + i, data))
    coverage = request.coverage.with_slices(after)
    if request.guard is not None:
        coverage = held_coverage(request.coverage, coverage, request.guard, request.inside)
    grown_cm3 = float(growth.mask.sum(dtype=np.int64)) * grid.voxel_cm3
    return GrownRegion(coverage, growth.notes, grown_cm3, request.fingerprint)


def grow(
    hu: NDArray[np.int16], seed: Seed, limits: Limits, spacing_mm: tuple[float, float, float], report: Report = quiet
) -> Growth:
    """Return what is connected to a seed (over faces) with CT numbers in the limits.

    Parameters
    ----------
    hu : (planes, rows, columns); one plane grows on a slice
    seed : (plane, row, column); outside the image or the limits nothing grows
    spacing_mm : (plane, row, column)
    """
    nothing = Growth(np.zeros((0, 0, 0), np.uint8), (0, 0, 0), "")
    if not all(0 <= i < n for i, n in zip(seed, hu.shape)) or not limits.low_hu <= hu[seed] <= limits.high_hu:
        return nothing
    voxel_cm3 = float(np.prod(spacing_mm)) / 1000.0
    reach = (limits.reach_mm**2, *spacing_mm)
    most = max(1, min(hu.size, int(limits.most_cm3 / voxel_cm3)))
    seen = np.zeros(hu.shape, np.uint8)
    box, state = _flooded(hu, seen, seed, (limits.low_hu, limits.high_hu), reach, most, part(report, 0.0, 0.6))
    notes = []
    if state[2]:
        notes.append(say("stopped at {most:.0f} cm³ and would have gone on", most=limits.most_cm3))
    if state[3]:
        notes.append(say("stopped {reach:.0f} mm from the place pressed and would have gone on", reach=limits.reach_mm))
    reached = tuple(slice(int(a), int(b)) for a, b in box)
    mask = seen[reached]
    corner = (int(box[0][0]), int(box[1][0]), int(box[2][0]))
    own = (seed[0] - corner[0], seed[1] - corner[1], seed[2] - corner[2])
    if limits.neck_mm > 0:
        opened = _without_necks(mask, own, limits.neck_mm, spacing_mm, _at_rim(box, hu.shape), part(report, 0.6, 1.0))
        if opened is None:
            notes.append(say("the place pressed is narrower than {neck:g} mm, so necks held nothing", neck=limits.neck_mm))
        else:
            left = int((mask > opened).sum(dtype=np.int64)) * voxel_cm3
            if left >= 0.05:
                neck = limits.neck_mm
                notes.append(say("{left:.1f} cm³ behind necks narrower than {neck:g} mm left out", left=left, neck=neck))
            mask = opened
    report(1.0)
    return Growth(mask, corner, listed(notes, "; ") if notes else "")


def _flooded(
    values: NDArray[np.generic],
    seen: NDArray[np.uint8],
    seed: Seed,
    between: tuple[float, float],
    reach: tuple[float, float, float, float],
    most: int,
    report: Report,
) -> tuple[list[tuple[int, int]], NDArray[np.int64]]:
    """Flood in pieces, so that it can be stopped, and return the box reached and the state of the flood."""
    values = read_only(values)
    queue = np.empty(most + 8, np.int32)
    flat = (seed[0] * values.shape[1] + seed[1]) * values.shape[2] + seed[2]
    queue[0] = flat
    seen.reshape(-1)[flat] = 1
    state = np.array([0, 1, 0, 0], np.int64)  # head, tail, full, too far
    box = np.array([*seed, *seed], np.int64)
    while state[0] < state[1] and not state[2]:
        _flood(values, seen, queue, state, box, seed, between, reach, most)
        report(1.0 - 1.0 / (1.0 + float(state[0]) / 2e6), "growing")
    return [(int(box[i]), int(box[i + 3]) + 1) for i in range(3)], state


@njit(cache=True, nogil=True)
def _flood(values, seen, queue, state, box, seed, between, reach, most):  # type: ignore[no-untyped-def]
    planes, rows, columns = values.shape
    head, tail = state[0], state[1]
    stop = min(head + CHUNK, np.int64(1) << 40)
    step = ((-1, 0, 0), (1, 0, 0), (0, -1, 0), (0, 1, 0), (0, 0, -1), (0, 0, 1))
    while head < tail and head < stop:
        flat = np.int64(queue[head])
        head += 1
        k, rest = flat // (rows * columns), flat % (rows * columns)
        r, c = rest // columns, rest % columns
        for i in range(6):
            a, b, d = k + step[i][0], r + step[i][1], c + step[i][2]
            if a < 0 or b < 0 or d < 0 or a >= planes or b >= rows or d >= columns or seen[a, b, d]:
                continue
            if values[a, b, d] < between[0] or values[a, b, d] > between[1]:
                continue
            far = ((a - seed[0]) * reach[1]) ** 2 + ((b - seed[1]) * reach[2]) ** 2 + ((d - seed[2]) * reach[3]) ** 2
            if far > reach[0]:
                state[3] = 1
                continue
            if tail >= most:
                state[2] = 1
                state[0], state[1] = head, tail
                return
            seen[a, b, d] = 1
            queue[tail] = (a * rows + b) * columns + d
            tail += 1
            box[0], box[1], box[2] = min(box[0], a), min(box[1], b), min(box[2], d)
            box[3], box[4], box[5] = max(box[3], a), max(box[4], b), max(box[5], d)
    state[0], state[1] = head, tail


def _at_rim(box: list[tuple[int, int]], shape: tuple[int, ...]) -> list[tuple[bool, bool]]:
    return [(a == 0, b == n) for (a, b), n in zip(box, shape)]


def _mostly(mask: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return where more than six tenths of a voxel's neighbourhood (3 along each axis) lies in the mask."""
    count, of = mask, 1
    for axis, n in enumerate(mask.shape):
        if n > 1:
            low, high = np.roll(count, 1, axis), np.roll(count, -1, axis)
            low[tuple(slice(1) if i == axis else slice(None) for i in range(3))] = 0
            high[tuple(slice(-1, None) if i == axis else slice(None) for i in range(3))] = 0
            count, of = count + low + high, of * 3
    return (count > 6 * of // 10).astype(np.uint8)


def _without_necks(
    mask: NDArray[np.uint8],
    seed: Seed,
    neck_mm: float,
    spacing_mm: tuple[float, float, float],
    rim: list[tuple[bool, bool]],
    report: Report,
) -> NDArray[np.uint8] | None:
    """Return the part of a mask joined to the seed by more than a neck, or None where the seed itself lies in one.

    Beyond the image's rim (where `rim` says so, low and high end of each axis) the mask is taken to go on.
    """
    from scipy import ndimage

    # The width is that of a whole odd number of voxels nearest to it.
    half = [int(max(0.0, neck_mm / s - 1.0) / 2.0 + 0.5) if n > 1 else 0 for s, n in zip(spacing_mm, mask.shape)]
    if not any(half):
        return mask
    pads = [(0 if low else h + 1, 0 if high else h + 1) for h, (low, high) in zip(half, rim)]
    # Noise leaves single voxels out; a box would not fit between them.
    wide = np.pad(mask | _mostly(mask), pads)
    core = wide
    for axis, h in enumerate(half):
        if h:
            core = ndimage.minimum_filter1d(core, 2 * h + 1, axis=axis, mode="nearest")
            report((axis + 1) / 8, "looking for necks")
    at = tuple(s + p[0] for s, p in zip(seed, pads))
    window = tuple(slice(max(a - 2 * h, 0), a + 2 * h + 1) for a, h in zip(at, half))
    inside = np.argwhere(core[window])
    if not len(inside):
        return None
    centre = np.array([a - w.start for a, w in zip(at, window)])
    nearest = inside[int((((inside - centre) * spacing_mm) ** 2).sum(axis=1).argmin())]
    start = tuple(int(n) + w.start for n, w in zip(nearest, window))
    kept = np.zeros(core.shape, np.uint8)
    _flooded(core, kept, (start[0], start[1], start[2]), (1.0, 1.0), (1e12, 1.0, 1.0, 1.0), core.size, quiet)
    for axis, h in enumerate(half):
        if h:
            kept = ndimage.maximum_filter1d(kept, 2 * h + 1, axis=axis, mode="nearest")
            report((axis + 4) / 8, "looking for necks")
    # A box does not fit into round corners: one step further, within the mask, takes them back.
    cross = ndimage.generate_binary_structure(3, 3)
    cross[[0, 2]] &= half[0] > 0
    grown = ndimage.binary_dilation(kept > 0, cross)
    kept = (grown & (wide > 0)).astype(np.uint8)
    back = tuple(slice(p[0], p[0] + n) for p, n in zip(pads, mask.shape))
    return np.ascontiguousarray(kept[back])


def warm_up() -> None:
    """Load or compile the kernel once for CT numbers and for a mask."""
    grow(np.zeros((1, 4, 4), np.int16), (0, 1, 1), Limits(-1, 1, 3.0), (1.0, 1.0, 1.0))
