"""Evidence about volumes: what a careful reader would stop at. Judging it is left to the checks of the review.

Default thresholds are common practice and parameters of ``Limits``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, part, quiet
from engine.base.words import say, say_count
from engine.volumes.coverage import Coverage
from engine.volumes.margins import intersection, shrink, subtract
from engine.volumes.outline import missing_planes
from engine.volumes.pieces import Pieces, pieces_of
from engine.volumes.volume import Volume, tg263_form

Point = tuple[float, float, float]

EMPTY = "volume-empty"
GAP = "volume-gap"
SINGLE = "volume-single-slice"
ISLAND = "volume-island"
HOLE = "volume-hole"
OUTSIDE = "volume-outside-body"
NEAR_SKIN = "target-near-skin"
OVERLAP = "volumes-overlap"
NAME = "volume-name"
SAME_NAME = "volume-name-twice"
JUMP = "volume-area-jump"
SAME_PLACE = "volume-twice"


@dataclass(frozen=True)
class Limits:
    """Thresholds (all common practice, none from a publication).

    Parameters
    ----------
    island_cm3 : a separate piece smaller than this, and smaller than island_share of the whole, is an island
    hole_cm2 : holes in a slice at least this large are told
    outside_cm3 : volume outside the body worth telling
    skin_mm : distance from the skin at which a target loses dose to build-up and fall-off
    overlap_cm3 : common volume worth telling
    jump : area ratio of neighbouring slices away from both ends
    jump_cm2 : smallest change of area that counts as a jump
    same_share : Dice coefficient from which two volumes are one place painted twice
    """

    island_cm3: float = 0.5
    island_share: float = 0.05
    hole_cm2: float = 0.1
    outside_cm3: float = 0.1
    skin_mm: float = 5.0
    skin_cm3: float = 0.1
    overlap_cm3: float = 0.05
    jump: float = 2.0
    jump_cm2: float = 2.0
    same_share: float = 0.995


DEFAULT_LIMITS = Limits()


@dataclass(frozen=True)
class Evidence:
    """One thing seen.

    Parameters
    ----------
    code : one of the constants of this module
    volume_key : the volume it concerns
    planes : slices it concerns, ascending
    point_mm : a place to look at, or None
    number : how much, in the unit the words name; 0 where there is none
    words : one sentence without the volume's name
    other_key : the second volume of a pair, or ""
    """

    code: str
    volume_key: str
    planes: tuple[int, ...]
    point_mm: Point | None
    number: float
    words: str
    other_key: str = ""


def quality(
    volume: Volume, body: Volume | None = None, limits: Limits = DEFAULT_LIMITS, report: Report = quiet
) -> tuple[Evidence, ...]:
    """Return what is to be seen in one volume, and against the body if there is one."""
    seen: list[Evidence] = []
    if not tg263_form(volume.name):
        words = say("the name is not in TG-263 form: at most 16 letters, digits and _ - + ! ~ ^ .")
        seen.append(Evidence(NAME, volume.key, (), None, float(len(volume.name)), words))
    coverage = volume.coverage
    if not any((t.alpha > 127).any() for t in coverage.tiles):
        return (*seen, Evidence(EMPTY, volume.key, (), None, 0.0, "nothing is painted"))
    seen += _stacking(volume)
    report(0.2, volume.name)
    found, (r0, _, c0, _) = pieces_of(coverage)
    seen += _islands(volume, found, r0, c0, limits)
    report(0.4, volume.name)
    if volume.role != "EXTERNAL":
        seen += _holes(volume, limits)
    seen += _jumps(volume, limits)
    report(0.6, volume.name)
    if body is not None and body.key != volume.key and not body.coverage.is_empty:
        seen += _against_body(volume, body, limits, part(report, 0.6, 1.0))
    report(1.0, volume.name)
    return tuple(seen)


def overlaps(
    volumes: Sequence[Volume],
    limits: Limits = DEFAULT_LIMITS,
    wanted: Callable[[Volume, Volume], bool] | None = None,
    report: Report = quiet,
) -> tuple[Evidence, ...]:
    """Return pairs that share space, share almost all of it (painted twice), or share a name.

    Parameters
    ----------
    wanted : which pairs count; by default all but the body with anything, and a target with another target (a PTV holds
        its CTV) or with a PRV (which is wider than its organ on purpose)
    """
    seen: list[Evidence] = []
    names: dict[str, Volume] = {}
    for v in volumes:
        first = names.setdefault(v.name.strip().lower(), v)
        if first is not v:
            words = say("the name {name!r} is used twice (TG-263: unique, whatever the letter case)", name=v.name)
            seen.append(Evidence(SAME_NAME, v.key, (), None, 2.0, words, first.key))
    pairs = [(a, b) for i, a in enumerate(volumes) for b in volumes[i + 1 :]]
    for n, (a, b) in enumerate(pairs):
        report((n + 1) / len(pairs), "overlaps")
        if not _boxes_meet(a.coverage, b.coverage):
            continue
        both = intersection(a.coverage, b.coverage)
        cm3, whole = both.volume_cm3, a.coverage.volume_cm3 + b.coverage.volume_cm3
        if whole > 0 and 2 * cm3 / whole >= limits.same_share:
            words = say("it is the same place as {name}: {share:.1f} % alike", name=a.name, share=100 * cm3 / whole * 2)
            seen.append(Evidence(SAME_PLACE, b.key, both.planes, both.centroid_mm(), cm3, words, a.key))
        elif cm3 >= limits.overlap_cm3 and (wanted or _worth_telling)(a, b):
            words = say("it shares {cm3:.2f} cm³ with {name}", cm3=cm3, name=b.name)
            seen.append(Evidence(OVERLAP, a.key, both.planes, both.centroid_mm(), cm3, words, b.key))
    return tuple(seen)


def _worth_telling(a: Volume, b: Volume) -> bool:
    roles = {a.role, b.role}
    if roles & {"EXTERNAL", "PRV", "OTHER", "AVOIDANCE"}:
        return False
    return not (a.is_target and b.is_target)


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


def _holes(volume: Volume, limits: Limits) -> list[Evidence]:
    from scipy import ndimage

    grid = volume.coverage.grid
    pixel_cm2 = grid.spacing_mm[0] * grid.spacing_mm[1] / 100.0
    planes, largest, point = [], 0.0, None
    for t in volume.coverage.tiles:
        inside = t.alpha > 127
        holes, count = ndimage.label(ndimage.binary_fill_holes(inside) & ~inside)
        size = np.bincount(holes.ravel(), minlength=count + 1)[1:] * pixel_cm2
        if count and size.max() >= limits.hole_cm2:
            planes.append(t.plane)
            if size.max() > largest:
                largest = float(size.max())
                row, column = np.argwhere(holes == 1 + int(size.argmax())).mean(axis=0)
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
