from __future__ import annotations

import numpy as np

from engine.beams.shadow_kernels import fill_sections, fill_sides, see_slabs
from engine.space.frames import beam_from_patient, project


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


def test_slabs_are_seen_where_their_points_are_projected() -> None:
    points = np.random.default_rng(4).uniform(-150, 150, (200, 3))
    isocentre, sad, half = (10.0, -20.0, 30.0), 1000.0, 2.5
    to_beam = beam_from_patient("HFS", 35.0, 20.0, 340.0)
    low, middle, high = (np.empty((200, 2)) for _ in range(3))
    nearest, *ends = see_slabs(points, np.array(isocentre), to_beam, sad, half, low, middle, high)
    for lift, found in ((-half, low), (0.0, middle), (half, high)):
        assert np.allclose(found, project(points + (0.0, 0.0, lift), isocentre, to_beam, sad), atol=1e-9)
    both = np.concatenate((low, high))
    assert np.allclose(ends, [*both.min(axis=0), *both.max(axis=0)], atol=1e-9)
    towards = [((points + (0.0, 0.0, lift) - isocentre) @ to_beam[2]).max() for lift in (-half, half)]
    assert abs(nearest - max(towards)) < 1e-9
