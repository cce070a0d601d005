from __future__ import annotations

import numpy as np

from engine.beams.shadow_kernels import fill_sections, fill_sides


def test_section_with_a_hole_is_filled_by_the_even_odd_rule() -> None:
    outer, inner = (
        np.array([[1.5, 1.5], [8.5, 1.5], [8.5, 8.5], [1.5, 8.5]]),
        np.array([[3.5, 3.5], [3.5, 6.5], [6.5, 6.5], [6.5, 3.5]]),
    )
    points = np.concatenate((outer, inner))
    following = np.array([1, 2, 3, 0, 5, 6, 7, 4])
    mask = np.zeros((10, 10), np.uint8)
    fill_sections(points, following, np.array([0, 8]), mask)
    wanted = np.zeros((10, 10), np.uint8)
    wanted[2:9, 2:9] = 1
    wanted[4:7, 4:7] = 0
    assert (mask == wanted).all()


def test_sides_of_a_prism_seen_across() -> None:
    low = np.array([[2.0, 1.0], [7.0, 1.0]])
    high = np.array([[2.0, 6.0], [7.0, 6.0]])
    mask = np.zeros((9, 9), np.uint8)
    fill_sides(low, high, np.array([1, 0]), mask)
    assert mask.sum() == 36
    assert mask[1:7, 2:8].all()
    fill_sides(low - 100, high - 100, np.array([1, 0]), mask)
    assert mask.sum() == 36
