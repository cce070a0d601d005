"""What a corner does to the pixels around it, against areas of polygons."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.volumes.corner_shares import WINDOW, _change, foggy, keep, lack_of, settle, window_of
from engine.volumes.paint import polygon

HEXAGON = np.array([(4.0, 8.0), (7.0, 12.5), (12.0, 12.5), (15.0, 8.0), (12.0, 3.5), (7.0, 3.5)])
NOTHING = np.zeros((20, 18), bool)


def shares(loop):
    return polygon(NOTHING.shape, loop).astype(float) / 255


def frames(loop, alpha):
    """Return what pixels lack, with a frame, all met."""
    lacks = np.zeros((alpha.shape[0] + 2, alpha.shape[1] + 2), np.float32)
    lacks[1:-1, 1:-1] = alpha / 255.0 - shares(loop)
    return lacks, np.ones(lacks.shape, np.uint8)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 5), st.integers(0, 3), st.floats(2.5, 16.5), st.floats(2.5, 13.5))
def test_what_a_point_changes_is_the_difference_of_the_areas(first, count, y, x):
    """The loop turns the way outlines do, so what it gains in area its pixels lack less; pixels of 1/255 are known."""
    at = np.array([1.0, 1.0])
    window = np.empty((18, 16))
    _change(window, HEXAGON, first, count, 0, 6, at, y, x)
    gone = [(first + 1 + k) % 6 for k in range(count)]
    order = [(first + 1 + k) % 6 for k in range(6)]
    moved = np.array([(y, x)] + [HEXAGON[i] for i in order if i not in gone])
    wanted = np.zeros(NOTHING.shape)
    for loop, sign in ((moved, -1.0), (HEXAGON, 1.0)):
        wanted += sign * signed(loop)
    assert window == pytest.approx(wanted[1:19, 1:17], abs=1e-9)


def signed(loop):
    """Return the area inside of each pixel by clipping to it, negative where the loop turns the other way."""
    out = np.zeros(NOTHING.shape)
    for r, c in np.ndindex(out.shape):
        part = list(loop)
        for axis, low in ((0, r - 0.5), (1, c - 0.5)):
            for sign, edge in ((1.0, low), (-1.0, -low - 1.0)):
                cut = []
                for a, b in zip(part, [*part[1:], *part[:1]]):
                    da, db = sign * a[axis] - edge, sign * b[axis] - edge
                    if da >= 0:
                        cut.append(a)
                    if (da >= 0) != (db >= 0):
                        cut.append(a + (b - a) * (da / (da - db)))
                part = cut
                if not part:
                    break
            if not part:
                break
        if part:
            p = np.array(part)
            q = np.roll(p, -1, axis=0)
            out[r, c] = -0.5 * float((p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]).sum())
    return out


def test_a_blunted_corner_finds_back_to_where_it_was():
    blunt = HEXAGON.copy()
    blunt[0] += (1.6, -0.4)
    alpha = polygon(NOTHING.shape, HEXAGON)
    lacks, met = frames(blunt, alpha)
    place = blunt[0].copy()
    at, lack, heard = window_of(blunt, -1, 1, 0, 6, alpha, NOTHING, lacks, met, place)
    left = settle(blunt, -1, 1, 0, 6, at, lack, heard, place, False)
    assert left < 0.1
    assert place == pytest.approx(HEXAGON[0], abs=0.05)
    keep(blunt, -1, 1, 0, 6, at, alpha, lacks, met, place, lack.shape)
    assert np.abs(lacks).max() < 0.02


def test_no_needle_grows_where_no_sides_tell_of_one():
    """The same corner, its tip far out between two close ends, is taken from sides and not from a free point."""
    line = np.array([(8.0, 8.3), (9.0, 9.0), (10.0, 12.0), (14.0, 8.0), (10.0, 4.0), (9.0, 7.0), (8.0, 7.7)])
    needle = np.array([(4.0, 8.0), *line])
    alpha = polygon(NOTHING.shape, needle)
    lacks, met = frames(line, alpha)
    for free, wanted in ((False, True), (True, False)):
        place = np.array([5.0, 8.0])
        at, lack, heard = window_of(line, 6, 0, 0, 7, alpha, NOTHING, lacks, met, place)
        assert (settle(line, 6, 0, 0, 7, at, lack, heard, place, free) < 0.75) == wanted


def test_a_window_is_refused_where_it_would_be_large_and_pixels_off_the_slice_lack_nothing():
    alpha = polygon(NOTHING.shape, HEXAGON)
    lacks, met = frames(HEXAGON, alpha)
    _, lack, _ = window_of(HEXAGON, 0, 3, 0, 6, alpha, NOTHING, lacks, met, HEXAGON[0] + WINDOW)
    assert lack.size == 0
    assert lack_of(lacks, met, alpha, -1, 3) == lack_of(lacks, met, alpha, 3, 18) == 0.0


def test_pixels_that_no_line_meets_lack_all_of_their_share_or_what_is_missing_to_one():
    alpha = np.array([[51, 204, 255, 0]], np.uint8)
    lacks, met = np.zeros((3, 6), np.float32), np.zeros((3, 6), np.uint8)
    found = [lack_of(lacks, met, alpha, 0, c) for c in range(4)]
    assert found == pytest.approx([0.2, -0.2, 0.0, 0.0])


def test_a_tip_is_not_taken_for_a_blurred_edge():
    tip = np.array([[0, 0, 0], [0, 60, 0], [70, 200, 70]], np.uint8)
    edge = np.array([[50, 60, 50], [120, 130, 120], [200, 190, 200]], np.uint8)
    blurred = np.ones((3, 3), bool)
    assert not foggy(tip, blurred, 1, 1)
    assert foggy(edge, blurred, 1, 1)
    assert not foggy(edge, ~blurred, 1, 1)
