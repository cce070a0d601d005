"""Corners and tips in the lines: how much of their pixels they bring back, where they lie, and what they leave alone."""

import math

import numpy as np
import pytest

from engine.volumes.outline import outlines
from engine.volumes.paint import polygon, polygons
from tests.engine.volumes.test_fitting import lost, painted


@pytest.mark.parametrize("size", [2.5, 5, 8, 15, 30])
def test_corners_come_back_in_the_shares_and_mostly_in_place(size):
    """0.28 with the half-level line alone, 0.16 without corners of their own."""
    rng = np.random.default_rng(int(10 * size))
    square = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float) * size
    pixels, off = [], []
    for _ in range(24):
        turn = rng.uniform(0, 6)
        c, s = math.cos(turn), math.sin(turn)
        true = square @ np.array([[c, s], [-s, c]]) + 1.5 * size + 5 + rng.uniform(0, 1, 2)
        alpha = painted(true)
        pixel, area = lost(alpha)
        assert area < (0.015 if size < 5 else 0.006)
        pixels.append(pixel)
        points = np.concatenate(outlines(alpha))
        off += [np.hypot(*(points - corner).T).min() for corner in true]
    # One that is not found, its tip hardly reaching into its pixel, or between sides of five pixels, loses as before.
    assert np.median(pixels) < 0.04
    assert np.percentile(pixels, 90) < (0.11 if size < 5 else 0.05)
    assert max(pixels) < (0.167 if size < 5 else 0.09)
    # See the bound above: not each corner can be told.
    assert np.percentile(off, 25) < (0.1 if size >= 5 else 0.25)


def test_sharp_tips_come_back_where_their_sides_are_straight():
    rng = np.random.default_rng(3)
    pixels, short = [], []
    for _ in range(24):
        turn = rng.uniform(0, 6)
        c, s = math.cos(turn), math.sin(turn)
        true = np.array([(0, 0), (16, 4.3), (16, -4.3)]) @ np.array([[c, s], [-s, c]]) + 25 + rng.uniform(0, 1, 2)
        alpha = painted(true)
        pixels.append(lost(alpha)[0])
        points = np.concatenate(outlines(alpha))
        short.append(np.hypot(*(points - true[0]).T).min())
    assert np.median(pixels) < 0.03
    # The tip of 30 degrees is narrower than a pixel from 1.9 pixels on; the line alone ends up to 2 before it.
    assert np.median(short) < 0.3


def test_a_corner_never_reaches_into_another_line():
    """A square whose corner points at a bar half a pixel away, and two squares corner to corner."""
    square = np.array([(-8, 0), (0, -8), (8, 0), (0, 8)], float)
    for gap in (0.3, 0.6, 1.2):
        for shift in np.linspace(0, 1, 7):
            at = (20.3, 14 + shift)
            bar = np.array([(10, at[1] + 8 + gap), (30, at[1] + 8 + gap), (30, 34), (10, 34)])
            shape = (44, 44)
            alpha = np.minimum(polygon(shape, square + at).astype(int) + polygon(shape, bar), 255).astype(np.uint8)
            again = polygons(shape, outlines(alpha)).astype(int)
            assert np.abs(again - alpha).max() < 0.3 * 255
            assert abs(again.sum() / alpha.sum(dtype=int) - 1) < 0.004


def test_rings_and_their_holes_get_their_corners_alike():
    outer = np.array([(-12, -9), (12, -9), (12, 9), (-12, 9)], float) + (20.3, 20.7)
    inner = np.array([(-6, -4), (6, -4), (6, 4), (-6, 4)], float) + (20.4, 20.6)
    alpha = painted(outer) - polygon(painted(outer).shape, inner)
    lines = outlines(alpha)
    assert len(lines) == 2
    pixel, area = lost(alpha)
    assert pixel < 0.08
    assert area < 0.001


def test_a_slice_with_nothing_sharp_is_left_alone():
    r, c = np.mgrid[:40, :40]
    soft = np.clip(127 + 12 * (12 - np.abs(r - 20.3) - np.abs(c - 19.8)), 0, 255).astype(np.uint8)
    assert [len(line) for line in outlines(soft)] == [len(line) for line in outlines(soft, plain=True)]


def test_a_slice_full_of_noise_is_given_up_and_still_closed():
    """More places than any slice has corners: looking at all of them would take minutes."""
    rng = np.random.default_rng(2)
    noise = np.where(rng.random((160, 160)) < 0.3, 255, rng.choice((0, 0, 90, 160, 255), (160, 160))).astype(np.uint8)
    lines = outlines(noise)
    assert all(len(line) >= 3 for line in lines)
    again = polygons(noise.shape, lines)
    assert abs(again.sum(dtype=float) / noise.sum(dtype=float) - 1) < 0.05


def test_stairs_stay_beside_an_edge_that_is_painted():
    r, c = np.mgrid[:60, :60]
    alpha = np.where(np.hypot(r - 20.3, c - 20.1) < 13, 255, 0).astype(np.uint8)
    both = np.maximum(alpha, polygon(alpha.shape, np.array([(40.3, 40.2), (40.3, 55.4), (55.1, 55.4), (55.1, 40.2)])))
    alone = outlines(alpha)
    assert len(alone) == 1
    assert any(np.array_equal(line, alone[0]) for line in outlines(both))
