"""Triangles are drawn nearest first, and what faces away is left out."""

from __future__ import annotations

import numpy as np

from engine.volumes.shell_kernels import draw, lay_over

SQUARE = np.array([[1, 1, 0], [6, 1, 0], [6, 6, 0], [1, 6, 0]], dtype=np.float32)
TWO = np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int32)


def blank() -> tuple[np.ndarray, np.ndarray]:
    return np.full((8, 8), np.inf, dtype=np.float32), np.zeros((8, 8, 3), dtype=np.uint8)


def test_the_nearer_square_hides_the_farther_whatever_the_order() -> None:
    lit = np.ones(2, dtype=np.float32)
    red, blue = np.array((200.0, 0, 0)), np.array((0, 0, 100.0))
    for order in ((0.0, 5.0), (5.0, 0.0)):
        depth, image = blank()
        for z, colour in zip(order, (red, blue) if order[0] == 0 else (blue, red), strict=True):
            draw(SQUARE + np.array((0, 0, z), dtype=np.float32), TWO, lit, colour, depth, image)
        assert (image[1:7, 1:7] == (200, 0, 0)).all()
        assert not image[0].any()
        assert depth[3, 3] == 0


def test_light_scales_and_what_faces_away_is_left_out() -> None:
    depth, image = blank()
    draw(SQUARE, TWO, np.array((0.5, -1.0), dtype=np.float32), np.array((200.0, 100.0, 50.0)), depth, image)
    assert tuple(image[2, 5]) == (100, 50, 25)
    assert tuple(image[5, 2]) == (0, 0, 0)


def test_what_lies_outside_the_picture_is_no_trouble() -> None:
    depth, image = blank()
    draw(SQUARE * 100 - 250, TWO, np.ones(2, dtype=np.float32), np.array((9.0, 9, 9)), depth, image)
    assert (image == 9).all()


def test_a_veil_is_seen_through_only_where_it_is_nearer() -> None:
    depth, image = blank()
    depth[:, :4], image[:] = 1.0, 100
    over, veil = np.full((8, 8), 2.0, dtype=np.float32), np.full((8, 8, 3), 200, dtype=np.uint8)
    lay_over(over, veil, depth, image, 0.25)
    assert image[0, 0, 0] == 100
    assert image[0, 7, 0] == 125
