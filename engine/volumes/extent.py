"""How far a volume reaches: margins of both signs, rings, and what the image's edge cuts off."""

from __future__ import annotations

import numpy as np

from engine.base.errors import GeometryError
from engine.base.progress import Report, part, quiet
from engine.base.words import listed, say
from engine.volumes.coverage import Coverage
from engine.volumes.margins import MAX_MARGIN_MM, Margins, grow, shrink, subtract

SIDES = ("left", "right", "anterior", "posterior", "inferior", "superior")


def change(coverage: Coverage, margins_mm: Margins, report: Report = quiet) -> Coverage:
    """Return the volume with each side moved out by its margin, or in where that is negative.

    The volume is first grown by the positive margins, then what came of it is shrunk by the negative ones, so that a part
    thinner than it is to shrink survives where it grows on the other side: +5 mm left and -5 mm right move a box by 5 mm.
    Each side of a box ends exactly where its margin says.

    Raises
    ------
    GeometryError
        If a margin is not a number or beyond 200 mm.
    """
    out = tuple(max(m, 0.0) for m in margins_mm)
    into = tuple(max(-m, 0.0) for m in margins_mm)
    if not all(abs(m) <= MAX_MARGIN_MM for m in margins_mm):  # also where it is no number
        return grow(coverage, margins_mm, report)  # says so
    if not any(into):
        return grow(coverage, out, report)  # type: ignore[arg-type]
    if not any(out):
        return shrink(coverage, into, report)  # type: ignore[arg-type]
    wide = grow(coverage, out, part(report, 0.0, 0.5))  # type: ignore[arg-type]
    return shrink(wide, into, part(report, 0.5, 1.0))  # type: ignore[arg-type]


def ring(coverage: Coverage, gap_mm: float, width_mm: float, report: Report = quiet) -> Coverage:
    """Return the shell between `gap_mm` and `gap_mm` + `width_mm` from the volume's edge.

    A negative gap begins inside the volume.

    Raises
    ------
    GeometryError
        If the width is not above 0, or either distance is no number or beyond 200 mm.
    """
    if not width_mm > 0:
        raise GeometryError(say("a ring of {width_mm:g} mm has no width", width_mm=width_mm), "ring", "Make it wider.")
    inner = change(coverage, (gap_mm,) * 6, part(report, 0.0, 0.5))
    return subtract(change(coverage, (gap_mm + width_mm,) * 6, part(report, 0.5, 1.0)), inner)


def cut_sides(coverage: Coverage, margins_mm: Margins) -> tuple[str, ...]:
    """Return the sides on which the image ends before the volume grown by these margins does."""
    return beyond(coverage, *_box_grown(coverage, margins_mm)) if not coverage.is_empty else ()


def beyond(coverage: Coverage, low_mm: np.ndarray, high_mm: np.ndarray) -> tuple[str, ...]:
    """Return the sides of the image that a box of patient points passes by more than a hundredth of a mm."""
    grid = coverage.grid
    first = np.asarray(grid.point((-0.5, -0.5, -0.5)))
    last = np.asarray(grid.point(tuple(n - 0.5 for n in grid.shape)))  # type: ignore[arg-type]
    x, y, z = range(3)
    passed = {
        "left": high_mm[x] > last[x] + 0.01,
        "right": low_mm[x] < first[x] - 0.01,
        "anterior": low_mm[y] < first[y] - 0.01,
        "posterior": high_mm[y] > last[y] + 0.01,
        "inferior": low_mm[z] < first[z] - 0.01,
        "superior": high_mm[z] > last[z] + 0.01,
    }
    return tuple(side for side in SIDES if passed[side])


def cut_words(sides: tuple[str, ...]) -> str:
    """Return a sentence that tells on which sides the image's edge cuts; "" for none."""
    if not sides:
        return ""
    words = {
        "left": say("left"), "right": say("right"), "anterior": say("anterior"),
        "posterior": say("posterior"), "inferior": say("inferior"), "superior": say("superior"),
    }  # fmt: skip
    return say("Cut at the image's edge: {sides}.", sides=listed([words[s] for s in sides], ", "))


def _box_grown(coverage: Coverage, margins_mm: Margins) -> tuple[np.ndarray, np.ndarray]:
    box = coverage.bounds_mm()
    assert box is not None
    left, right, ant, post, inf, sup = (max(0.0, m) for m in margins_mm)
    return np.asarray(box[0]) - (right, ant, inf), np.asarray(box[1]) + (left, post, sup)
