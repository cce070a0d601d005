"""Evidence about volumes: what a careful reader would stop at. Judging it is left to the checks of the review.

Default thresholds are common practice and parameters of ``Limits``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, part, quiet
from engine.base.words import say, say_count
from engine.volumes import labels
from engine.volumes.coverage import Coverage
from engine.volumes.crossing import of_lines
from engine.volumes.evidence import (
    DEFAULT_LIMITS,
    EMPTY,
    GAP,
    HOLE,
    ISLAND,
    JUMP,
    NEAR_SKIN,
    OUTSIDE,
    OVERLAP,
    SAME_NAME,
    SAME_PLACE,
    SCAN_END,
    SINGLE,
    Evidence,
    Limits,
    Point,
)
from engine.volumes.expected import of_name, of_side, of_size
from engine.volumes.margins import intersection, shrink, subtract
from engine.volumes.outline import missing_planes
from engine.volumes.pieces import Pieces, pieces_of
from engine.volumes.volume import TARGET_ROLES, Volume


def quality(
    volume: Volume, body: Volume | None = None, limits: Limits = DEFAULT_LIMITS, report: Report = quiet
) -> tuple[Evidence, ...]:
    """Return what is to be seen in one volume, and against the body if there is one."""
    seen: list[Evidence] = []
    seen += of_name(volume)
    coverage = volume.coverage
    if not any((t.alpha > 127).any() for t in coverage.tiles):
        return (*seen, Evidence(EMPTY, volume.key, (), None, 0.0, "nothing is painted"))
    seen += _stacking(volume)
    words = say("Looking at {volume}", volume=volume.name)
    report(0.0, words)
    seen += of_lines(volume, limits)
    ends = _scan_end(volume)
    seen += ends + of_size(volume, bool(ends))
    found, (r0, _, c0, _) = pieces_of(coverage, report=lambda f, _="": report(0.3 * f, words))
    seen += _islands(volume, found, r0, c0, limits)
    if volume.role != "EXTERNAL":
        seen += _holes(volume, limits, part(report, 0.3, 0.6))
    seen += _jumps(volume, limits)
    report(0.6, words)
    if body is not None and body.key != volume.key and not body.coverage.is_empty:
        seen += of_side(volume, body, limits)
        seen += _against_body(volume, body, limits, part(report, 0.6, 1.0))
    report(1.0, words)
    return tuple(seen)


def overlaps(
    volumes: Sequence[Volume],
    limits: Limits = DEFAULT_LIMITS,
    wanted: Callable[[Volume, Volume], bool] | None = None,
    report: Report = quiet,
    touched: Sequence[Volume] | None = None,
) -> tuple[Evidence, ...]:
    """Return pairs that share space, share almost all of it (painted twice), or share a name.

    Parameters
    ----------
    wanted : which pairs count; by default those whose roles ``exclude`` each other, unless one organ is part of another
    touched : the volumes of which one must be in a pair; None for every pair
    """
    pairs = [
        (a, b)
        for i, a in enumerate(volumes)
        for b in volumes[i + 1 :]
        if touched is None or any(a is t or b is t for t in touched)
    ]
    seen: list[Evidence] = []
    for a, b in pairs:
        if a.name.strip().lower() == b.name.strip().lower():
            words = say("the name {name!r} is used twice (TG-263: unique, whatever the letter case)", name=b.name)
            seen.append(Evidence(SAME_NAME, b.key, (), None, 2.0, words, a.key))
    for n, (a, b) in enumerate(pairs):
        report((n + 1) / len(pairs), "overlaps")
        if not _boxes_meet(a.coverage, b.coverage):
            continue
        both = intersection(a.coverage, b.coverage)
        cm3, parts = both.volume_cm3, (a.coverage.volume_cm3, b.coverage.volume_cm3)
        if sum(parts) > 0 and 2 * cm3 / sum(parts) >= limits.same_share:
            words = say("it is the same place as {name}: {share:.1f} % alike", name=a.name, share=200 * cm3 / sum(parts))
            seen.append(Evidence(SAME_PLACE, b.key, both.planes, both.centroid_mm(), cm3, words, a.key))
        elif cm3 >= limits.overlap_cm3 and (wanted(a, b) if wanted else _against_each_other(a, b, cm3, limits)):
            words = say("it shares {cm3:.2f} cm³ with {name}", cm3=cm3, name=b.name)
            seen.append(Evidence(OVERLAP, a.key, both.planes, both.centroid_mm(), cm3, words, b.key))
    return tuple(seen)


def exclude(role: str, other: str) -> bool:
    """Whether volumes of two roles share no space: organs with organs (unless one is part of the other), couch and bolus
    with what lies in the body, the couch with the body, a region to be spared with a target.

    A target may hold, touch and enter targets and organs; what a planning risk volume or a helper shares is meant.
    """
    for a, b in ((role, other), (other, role)):
        if (a, b) == ("OAR", "OAR") or (a in ("SUPPORT", "BOLUS") and (b == "OAR" or b in TARGET_ROLES)):
            return True
        if (a, b) == ("SUPPORT", "EXTERNAL") or (a == "AVOIDANCE" and b in TARGET_ROLES):
            return True
    return False


def _against_each_other(a: Volume, b: Volume, cm3: float, limits: Limits) -> bool:
    if not exclude(a.role, b.role):
        return False
    part = cm3 / max(min(a.coverage.volume_cm3, b.coverage.volume_cm3), 1e-9)
    return part > limits.border_share and (a.role != b.role or part < limits.part_share)


def _scan_end(volume: Volume) -> list[Evidence]:
    """Tell which end of the scan a volume touches; the body and the couch always do."""
    coverage = volume.coverage
    last = coverage.grid.shape[0] - 1
    if volume.role in ("EXTERNAL", "SUPPORT", "OTHER"):
        return []
    ends = [t for t in coverage.tiles if t.plane in (0, last) and (t.alpha > 127).any()]
    if not ends:
        return []
    words = say_count(
        "it touches an end of the scan and may go on beyond",
        "it touches both ends of the scan and may go on beyond",
        len(ends),
    )
    at = Coverage(coverage.grid, tuple(ends[:1])).centroid_mm()
    return [Evidence(SCAN_END, volume.key, tuple(t.plane for t in ends), at, float(len(ends)), words)]


def _boxes_meet(a: Coverage, b: Coverage) -> bool:
    p, q = a.bounds_mm(), b.bounds_mm()
    if p is None or q is None:
        return False
    return all(p[0][i] < q[1][i] and q[0][i] < p[1][i] for i in range(3))


def _stacking(volume: Volume) -> list[Evidence]:
    coverage, key = volume.coverage, volume.key
    if len(coverage.planes) == 1:
        words = say("only one slice is painted")
        return [Evidence(SINGLE, key, coverage.planes, coverage.centroid_mm(), 1.0, words)]
    missing = missing_planes(coverage)
    if not missing:
        return []
    centre = coverage.centroid_mm()
    assert centre is not None
    z = float(coverage.grid.z_mm[missing[0]])
    words = say_count(
        "{count} slice between painted ones holds nothing",
        "{count} slices between painted ones hold nothing",
        len(missing),
    )
    return [Evidence(GAP, key, missing, (centre[0], centre[1], z), float(len(missing)), words)]


def _islands(volume: Volume, found: Pieces, r0: int, c0: int, limits: Limits) -> list[Evidence]:
    grid = volume.coverage.grid
    cm3 = found.weight * grid.voxel_cm3
    out = []
    for piece in range(1, found.count + 1):
        if cm3[piece] >= min(limits.island_cm3, limits.island_share * cm3.sum()) or cm3[piece] == cm3.max():
            continue
        keep = np.arange(found.count + 1) == piece
        at: list[NDArray[np.intp]] = []
        planes, seen = [], False
        for i, plane in enumerate(found.planes):
            where = np.argwhere(found.mask(i, keep))
            if len(where):
                seen = seen or bool((volume.coverage.slice(plane)[tuple((where + (r0, c0)).T)] > 127).any())
                planes.append(plane)
                at.append(np.column_stack((np.full(len(where), plane), where + (r0, c0))))
        if not seen:  # under one half everywhere: it has no outline, nobody could find it on the screen
            continue
        point = _point(volume.coverage, np.concatenate(at).mean(axis=0))
        words = say("a separate piece of {cm3:.3f} cm³", cm3=cm3[piece])
        out.append(Evidence(ISLAND, volume.key, tuple(planes), point, float(cm3[piece]), words))
    return out


def _holes(volume: Volume, limits: Limits, report: Report) -> list[Evidence]:
    grid = volume.coverage.grid
    pixel_cm2 = grid.spacing_mm[0] * grid.spacing_mm[1] / 100.0
    planes, largest, point = [], 0.0, None
    words = say("Looking at {volume}", volume=volume.name)
    for n, t in enumerate(volume.coverage.tiles):
        report(n / len(volume.coverage.tiles), words)
        closed, count = labels.holes(t.alpha > 127)
        size = labels.sizes(closed, count)[1:] * pixel_cm2
        if count and size.max() >= limits.hole_cm2:
            planes.append(t.plane)
            if size.max() > largest:
                largest = float(size.max())
                row, column = np.argwhere(closed == 1 + int(size.argmax())).mean(axis=0)
                point = _point(volume.coverage, (t.plane, row + t.row, column + t.column))
    if not planes:
        return []
    words = say_count(
        "holes in {count} slice, the largest {largest:.2f} cm²",
        "holes in {count} slices, the largest {largest:.2f} cm²",
        len(planes),
        largest=largest,
    )
    return [Evidence(HOLE, volume.key, tuple(planes), point, largest, words)]


def _jumps(volume: Volume, limits: Limits) -> list[Evidence]:
    """Tell slices far from the mean of their two neighbours where these agree: a step both ways, not a taper."""
    areas = dict(volume.coverage.areas_mm2)
    out = []
    for k in volume.coverage.planes:
        if k - 1 not in areas or k + 1 not in areas:
            continue
        here, below, above = areas[k] / 100, areas[k - 1] / 100, areas[k + 1] / 100
        low, high = min(below, above), max(below, above)
        if low <= 0 or high / low > limits.jump:
            continue
        larger = here > limits.jump * high and here - high > limits.jump_cm2
        smaller = here * limits.jump < low and low - here > limits.jump_cm2
        if larger or smaller:
            tile = volume.coverage.tile(k)
            assert tile is not None
            centre = Coverage(volume.coverage.grid, (tile,)).centroid_mm()
            words = say(
                "the area is {here:.1f} cm² between slices of {below:.1f} and {above:.1f} cm²",
                here=here,
                below=below,
                above=above,
            )
            out.append(Evidence(JUMP, volume.key, (k,), centre, here, words))
    return out


def _against_body(volume: Volume, body: Volume, limits: Limits, report: Report) -> list[Evidence]:
    if volume.coverage.grid != body.coverage.grid:
        raise GeometryError("it lies on another grid than the body", volume.name)
    out = []
    if volume.role not in ("SUPPORT", "BOLUS"):
        beyond = subtract(volume.coverage, body.coverage)
        if beyond.volume_cm3 >= limits.outside_cm3:
            words = say("{volume_cm3:.2f} cm³ lie outside the body", volume_cm3=beyond.volume_cm3)
            out.append(Evidence(OUTSIDE, volume.key, beyond.planes, beyond.centroid_mm(), beyond.volume_cm3, words))
    if volume.is_target and limits.skin_mm > 0:
        # In-plane only: the scan's first and last slice are no skin.
        flat = (limits.skin_mm,) * 4 + (0.0, 0.0)
        inner = shrink(body.coverage, flat, report, near=volume.coverage)
        close = subtract(intersection(volume.coverage, body.coverage), inner)
        if close.volume_cm3 >= limits.skin_cm3:
            words = say(
                "{volume_cm3:.2f} cm³ lie less than {skin_mm:g} mm under the skin",
                volume_cm3=close.volume_cm3,
                skin_mm=limits.skin_mm,
            )
            out.append(Evidence(NEAR_SKIN, volume.key, close.planes, close.centroid_mm(), close.volume_cm3, words))
    return out


def _point(coverage: Coverage, index: NDArray[np.float64] | tuple[float, float, float]) -> Point:
    x, y, z = coverage.grid.point(index)
    return float(x), float(y), float(z)
