"""Painting solids: volumes agree with closed forms and with the numbers painted."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.progress import Report
from engine.phantoms.canvas import AIR_HU, Canvas, soft_min
from engine.space.grid import Grid


def small(report: Report | None = None) -> Canvas:
    grid = Grid((-50.0, -50.0, -48.0), (1.0, 1.0, 3.0), (33, 101, 101))
    return Canvas(grid) if report is None else Canvas(grid, report, 2)


def ball_cm3(radius_mm: float) -> float:
    return 4 / 3 * np.pi * radius_mm**3 / 1000


def test_painted_ball_has_its_volume_and_its_number() -> None:
    canvas = small()
    ball = canvas.ellipsoid((1.3, -2.2, 0.5), (24, 24, 24))
    canvas.paint(ball, 40.0)
    coverage = canvas.coverage(ball)
    assert coverage.volume_cm3 == pytest.approx(ball_cm3(24), rel=0.01)
    assert coverage.centroid_mm() == pytest.approx((1.3, -2.2, 0.5), abs=0.1)
    share = coverage.dense() / 255.0
    assert canvas.hu == pytest.approx(AIR_HU + share * (40 - AIR_HU), abs=3)


def test_union_common_and_difference_add_up() -> None:
    canvas = small()
    a, b = canvas.ellipsoid((-8, 0, 0), (20, 15, 20)), canvas.ellipsoid((9, 3, 0), (17, 20, 15))
    made = {"a": a, "b": b, "both": canvas.union([a, b]), "cut": canvas.common(a, b), "less": canvas.without(a, b)}
    volume = {k: canvas.coverage(r).volume_cm3 for k, r in made.items()}
    assert volume["both"] == pytest.approx(volume["a"] + volume["b"] - volume["cut"], rel=0.01)
    assert volume["less"] == pytest.approx(volume["a"] - volume["cut"], rel=0.01)
    assert canvas.coverage(canvas.union([a, b], 8.0)).volume_cm3 > volume["both"]


@pytest.mark.parametrize("margin", [3.0, 7.0])
def test_grown_ball_is_a_larger_ball(margin: float) -> None:
    canvas = small()
    grown = canvas.grown(canvas.ellipsoid((0, 0, 0), (20, 20, 20)), margin)
    assert canvas.coverage(grown).volume_cm3 == pytest.approx(ball_cm3(20 + margin), rel=0.03)


def test_rounded_box_has_its_volume() -> None:
    canvas = small()
    box = canvas.loft_box((0, 0, 0), (20, 15, 24), 1e-3)
    assert canvas.coverage(box).volume_cm3 == pytest.approx(40 * 30 * 48 / 1000, rel=0.04)


def test_boxes_never_leave_the_canvas() -> None:
    canvas = small()
    ball = canvas.ellipsoid((48, 49, 47), (20, 20, 20))
    canvas.paint(ball, 10.0)
    assert canvas.coverage(ball).planes[-1] == 32
    far = canvas.ellipsoid((500, 0, 0), (5, 5, 5))
    assert canvas.coverage(far).is_empty


def test_soft_minimum_lies_at_or_below_the_minimum_and_only_near_the_seam() -> None:
    a, b = np.meshgrid(np.linspace(-9, 9, 37, dtype=np.float32), np.linspace(-9, 9, 37, dtype=np.float32))
    soft = soft_min(a, b, 4.0)
    assert (soft <= np.minimum(a, b)).all()
    assert (soft >= np.minimum(a, b) - 1.0 - 1e-6).all()
    far = np.abs(a - b) > 4
    assert (soft[far] == np.minimum(a, b)[far]).all()


def test_every_stroke_reports() -> None:
    told: list[float] = []
    canvas = small(lambda fraction, words="": told.append(fraction))
    ball = canvas.ellipsoid((0, 0, 0), (5, 5, 5))
    for _ in range(3):
        canvas.paint(ball, 0.0)
    assert told == pytest.approx([0.45, 0.9, 0.9])
