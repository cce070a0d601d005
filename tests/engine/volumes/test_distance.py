"""Distances from a line to a fraction of a pixel."""

import numpy as np
import pytest

from engine.volumes.distance import distance_mm, is_dot, share_below, share_crossed, share_kinked, signed_distance_mm
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


def test_a_line_between_a_gentle_and_a_steep_side_is_read_from_the_steep_one():
    """What rises by 0.2 a pixel up to a line at 4.3 and by 50 behind it, and the other way round."""
    c = np.arange(10.0)
    rise = np.where(c < 4.3, 0.2 * (c - 4.3), 50 * (c - 4.3)).astype(np.float32)
    for values, share in ((rise, 4.8), (-rise[::-1], 10 - 4.8), (-rise, 10 - 4.8)):
        found = share_kinked(np.tile(values, (4, 1)).copy(), 0.0)[1].sum() / 255
        assert found == pytest.approx(share, abs=0.02)
    flat = np.tile(np.array([-60.0, -1.0, -0.9, -0.8], np.float32), (4, 1)).copy()
    assert (share_kinked(flat, 0.0) == 255).all()  # a steep rise that leads away from the line is no edge


@pytest.mark.parametrize("little", [-1e-6, 0.0, 1e-6])
def test_a_centre_on_the_line_is_half_covered_on_whatever_side_rounding_puts_it(little):
    """The line runs down column 2, the steep side is right of it; above row 2 everything is far outside."""
    values = np.tile(np.array([-0.4, -0.2, 0.0, 50.0, 100.0], np.float32), (7, 1)).copy()
    values[:2] += np.array([[100.0], [50.0]], np.float32)
    values[2, 2], values[3, 2] = 1e-6, little
    assert abs(int(share_kinked(values, 0.0, 50.0, 50.0, 0.1)[3, 2]) - 127) <= 1


def test_a_rise_beyond_what_the_map_can_do_is_a_tear():
    """Far inside beside far outside: how far off the line is in neither is told by their difference."""
    torn = np.tile(np.array([-30.0, -30.0, 300.0, 300.0], np.float32), (4, 1)).copy()
    for share in (share_below, share_kinked):
        assert (share(torn, 0.0, 10.0, 10.0) == (255, 255, 0, 0)).all()
        assert (share(torn.T.copy(), 0.0, 10.0, 10.0).T == (255, 255, 0, 0)).all()
    ramp = np.tile(np.arange(10, dtype=np.float32), (4, 1)).copy()
    for share in (share_below, share_kinked):
        assert np.array_equal(share(ramp, 4.7, 1.0, 1.0), share(ramp, 4.7))


def test_a_dot_counts_as_the_disc_of_its_area_about_its_middle():
    alpha = np.zeros((20, 24), np.uint8)
    stamp(alpha, 9.3, 11.6, (1.1, 1.1))
    assert is_dot(alpha)
    r, c = np.mgrid[:20, :24]
    assert np.abs(distance_mm(alpha, (1.0, 1.0)) - (np.hypot(r - 9.3, c - 11.6) - 1.1)).max() < 0.03
    stamp(alpha, 15.0, 18.0, (1.0, 1.0))
    assert not is_dot(alpha)  # two pieces
    assert not is_dot(np.zeros((4, 4), np.uint8))
    assert np.array_equal(distance_mm(alpha, (1.0, 2.0)), signed_distance_mm(alpha, (1.0, 2.0)))
