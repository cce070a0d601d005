"""Distances from a line to a fraction of a pixel."""

import numpy as np
import pytest

from engine.volumes.distance import gauge_map, lower, share_below, share_crossed, signed_distance_mm
from engine.volumes.paint import polygon, stamp


def test_signed_distance_of_an_ellipse_shaped_grid_is_true_mm():
    dr, dc, radius = 1.5, 0.8, 14.0
    alpha = np.zeros((60, 90), np.uint8)
    stamp(alpha, 30.2, 44.6, (radius / dr, radius / dc))
    r, c = np.mgrid[:60, :90]
    true = np.hypot((r - 30.2) * dr, (c - 44.6) * dc) - radius
    error = np.abs(signed_distance_mm(alpha, (dr, dc)) - true)
    assert error.max() < 0.25
    assert error.mean() < 0.06


def test_straight_edges_are_exact():
    alpha = polygon((30, 30), [(-5, -5), (-5, 12.3), (40, 12.3), (40, -5)])
    d = signed_distance_mm(alpha, (1.0, 2.0))
    # The half-level line of a sharp edge lies up to 0.09 pixels off it, between two pixels' centres.
    assert np.allclose(d[10], (np.arange(30) - 12.3) * 2.0, atol=0.18)
    exact = polygon((30, 30), [(-5, -5), (-5, 12.5), (40, 12.5), (40, -5)])
    assert np.allclose(signed_distance_mm(exact, (1.0, 2.0))[10], (np.arange(30) - 12.5) * 2.0, atol=1e-4)


def test_an_empty_and_a_full_slice():
    assert (signed_distance_mm(np.zeros((5, 5), np.uint8), (1, 1)) > 1e5).all()
    assert (signed_distance_mm(np.full((5, 5), 255, np.uint8), (1, 1)) < -1e5).all()


def test_the_gauge_is_one_at_its_reach_in_each_direction():
    alpha = polygon((60, 60), [(25.2, 25.4), (25.2, 35.4), (35.2, 35.4), (35.2, 25.4)])
    reach = (4.0, 6.0, 8.0, 3.0)
    grown = share_below(np.sqrt(gauge_map(alpha, reach)), 1.0)
    column, row = grown[:, 30] / 255, grown[30] / 255
    assert column[:30].sum() == pytest.approx(29.5 - 25.2 + 4, abs=0.1)
    assert column[30:].sum() == pytest.approx(35.2 - 29.5 + 6, abs=0.1)
    assert row[:30].sum() == pytest.approx(29.5 - 25.4 + 8, abs=0.1)
    assert row[30:].sum() == pytest.approx(35.4 - 29.5 + 3, abs=0.1)


def test_a_reach_of_zero_forbids_a_direction():
    alpha = polygon((40, 40), [(15, 15), (15, 25), (25, 25), (25, 15)])
    gauge = gauge_map(alpha, (0.0, 5.0, 0.0, 0.0))
    assert (gauge[:14] > 1).all()
    assert gauge[29, 20] < 1
    assert (gauge[20, 27:] > 1).all()


def test_shares_of_a_plane_map():
    r, c = np.mgrid[:20, :20]
    tilted = (0.3 * r + 0.4 * c).astype(np.float32)
    row_at, column_at = 7 / 0.3, 7 / 0.4
    far = 99
    half = [
        (row_at + far * 4 / 3, -far), (row_at, 0), (0, column_at), (-far, column_at + far * 0.75), (-far, -far),
    ]  # fmt: skip
    assert np.abs(share_below(tilted, 7.0).astype(int) - polygon((20, 20), half)).max() <= 1


def test_a_steep_slope_away_from_the_line_gives_no_share():
    steps = np.array([[1000.0, -240.0, 160.0, 160.0, 1200.0]] * 3, np.float32)
    assert share_crossed(steps, 0.0)[1].tolist() == [0, 177, 25, 0, 0]  # crossed at 0.194 before and 0.6 behind -240
    ramp = np.broadcast_to(np.arange(10, dtype=np.float32), (4, 10)).copy()
    assert share_crossed(ramp, 4.7).sum(axis=1) / 255 == pytest.approx(5.2, abs=0.01)
    assert share_crossed(ramp.T.copy(), 4.7).sum(axis=0) / 255 == pytest.approx(5.2, abs=0.01)


def test_a_map_is_lowered_where_the_other_is_less():
    low = np.array([[1.0, 5.0], [3.0, 0.0]], np.float32)
    lower(low, np.array([[2.0, 2.0], [2.0, 2.0]], np.float32), np.float32(0.5))
    assert low.tolist() == [[1.0, 2.5], [2.5, 0.0]]
