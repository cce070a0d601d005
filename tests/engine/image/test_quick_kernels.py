"""The compiled sum of a box along rays, worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from engine.image.quick_kernels import sum_rays


def summed(box: np.ndarray, start: tuple[float, float, float], through: tuple[float, float, float]) -> float:
    out = np.empty((1, 1), dtype=np.float32)
    none = np.zeros(3)
    sum_rays(box, np.array(start), np.array(through), none, none, np.array((2.0, 3.0, 5.0)), (0, 1), out)
    return float(out[0, 0])


def test_straight_and_slanted_through_even_matter() -> None:
    box = np.zeros((6, 40, 40), dtype=np.uint8)
    box[1:5] = 100
    assert summed(box, (-10.0, 20.0, 20.0), (10.0, 20.0, 20.0)) == pytest.approx(100 * 4 * 2.0)
    # Half a cell of 3 mm for each plane of 2 mm.
    assert summed(box, (-10.0, 14.0, 20.0), (10.0, 24.0, 20.0)) == pytest.approx(100 * 4 * np.hypot(2.0, 1.5), rel=1e-4)


def test_what_lies_behind_the_start_does_not_count() -> None:
    box = np.full((6, 8, 8), 50, dtype=np.uint8)
    assert summed(box, (2.5, 4.0, 4.0), (9.0, 4.0, 4.0)) == pytest.approx(50 * 3 * 2.0)
    assert summed(box, (2.5, 4.0, 4.0), (-9.0, 4.0, 4.0)) == pytest.approx(50 * 3 * 2.0)


def test_rays_beside_the_box_or_along_its_planes_are_empty() -> None:
    box = np.full((6, 8, 8), 50, dtype=np.uint8)
    assert summed(box, (-5.0, 40.0, 4.0), (5.0, 40.0, 4.0)) == 0
    assert summed(box, (2.0, -9.0, 4.0), (2.0, 9.0, 4.0)) == 0


def test_rows_are_filled_as_asked_and_alike() -> None:
    box = np.zeros((9, 12, 14), np.uint8)
    box[1:-1, 1:-1, 1:-1] = np.random.default_rng(2).integers(0, 255, (7, 10, 12))
    lines = (
        box,
        np.array((-40.0, 6.0, 6.5)),
        np.array((4.0, 1.0, 1.0)),
        np.array((0.0, 0.0, 0.9)),
        np.array((0.0, 0.8, 0.0)),
    )
    whole, parts = (np.full((12, 12), -1.0, np.float32) for _ in range(2))
    sum_rays(*lines, np.ones(3), (0, 12), whole)
    sum_rays(*lines, np.ones(3), (5, 12), parts)
    assert (parts[:5] == -1).all()
    sum_rays(*lines, np.ones(3), (0, 5), parts)
    assert np.array_equal(parts, whole)
    assert whole.max() > 0
