"""Ways from a line in units of a margin, and what margins reach from stretches between slices."""

import numpy as np
import pytest

from engine.volumes.distance import share_kinked
from engine.volumes.gauge import BAND_PX, UNKNOWN, gauge_of, gauge_of_map, gauge_of_point, reach_from
from engine.volumes.paint import polygon, stamp


def test_a_disc_has_its_own_distances_within_a_tenth_of_a_pixel():
    alpha = np.zeros((40, 44), np.uint8)
    stamp(alpha, 19.3, 21.6, (11.0, 11.0))
    r, c = np.mgrid[:40, :44]
    true = np.hypot(r - 19.3, c - 21.6) - 11.0
    found = 4.0 * gauge_of(alpha, (4.0,) * 4)
    near = np.abs(true) < 4 + BAND_PX - 0.1
    assert np.abs(found - true)[near].max() < 0.1
    assert (np.abs(found)[~near] > 4 + BAND_PX - 0.3).all()
    again = 4.0 * gauge_of_map(true.astype(np.float32), (4.0,) * 4)
    assert np.abs(again - true)[near].max() < 0.02


def test_the_gauge_is_one_at_its_reach_in_each_direction():
    alpha = polygon((60, 60), [(25.2, 25.4), (25.2, 35.4), (35.2, 35.4), (35.2, 25.4)])
    grown = share_kinked(gauge_of(alpha, (4.0, 6.0, 8.0, 3.0)), 1.0)
    column, row = grown[:, 30] / 255, grown[30] / 255
    assert column[:30].sum() == pytest.approx(29.5 - 25.2 + 4, abs=0.06)
    assert column[30:].sum() == pytest.approx(35.2 - 29.5 + 6, abs=0.06)
    assert row[:30].sum() == pytest.approx(29.5 - 25.4 + 8, abs=0.06)
    assert row[30:].sum() == pytest.approx(35.4 - 29.5 + 3, abs=0.06)


def test_inside_the_gauge_is_that_of_the_way_out():
    """Five pixels inside the left edge and 20 inside the right one, with margins of 10 to the left and 4 to the right."""
    alpha = polygon((60, 60), [(4.5, 14.5), (4.5, 39.5), (54.5, 39.5), (54.5, 14.5)])
    gauge = gauge_of(alpha, (10.0, 10.0, 10.0, 4.0))
    assert gauge[30, 20] == pytest.approx(-0.55, abs=0.01)
    assert gauge[30, 37] == pytest.approx(-2.5 / 4, abs=0.01)


def test_a_reach_of_zero_forbids_a_direction():
    alpha = polygon((40, 40), [(15, 15), (15, 25), (25, 25), (25, 15)])
    gauge = gauge_of(alpha, (0.0, 5.0, 0.0, 0.0))
    assert (gauge[:14] > 1).all()
    assert gauge[29, 20] < 1
    assert (gauge[20, 27:] > 1).all()


def test_nothing_has_no_gauge_and_a_point_has_ellipses():
    assert gauge_of(np.full((5, 5), 100, np.uint8), (1.0,) * 4) is None
    assert gauge_of_map(np.ones((5, 5), np.float32), (1.0,) * 4) is None
    gauge = gauge_of_point((21, 21), (10.0, 10.0), (2.0, 4.0, 5.0, 1.0))
    assert gauge[8, 10] == gauge[14, 10] == gauge[10, 5] == gauge[10, 11] == 1.0
    assert gauge[14, 5] == pytest.approx(np.sqrt(2))


def test_a_stretch_reaches_as_its_cuts_at_every_height():
    """A cone cut at z = 0.3 and 0.9 of the margin: its sections between, tried one by one."""
    one = np.linspace(-1, 2, 61, dtype=np.float32)[None]
    other = (one * 1.0 + 0.7).astype(np.float32)
    for low, high in ((0.3, 0.9), (0.9, 0.3), (-0.2, -1.7), (0.0, 0.6)):
        best = np.full_like(one, 9)
        reach_from(best, (one, UNKNOWN), (other, UNKNOWN), (low, high), 1.0, -9.0)
        t = np.linspace(0, 1, 20001)[:, None]
        z = low + t * (high - low)
        cuts = np.where(np.abs(z) <= 1, one + t * (other - one) - np.sqrt(np.clip(1 - z * z, 0, None)), np.inf)
        assert np.abs(best - cuts.min(axis=0)).max() < 1e-3
    best = np.full_like(one, 9)
    reach_from(best, (one, UNKNOWN), (other, UNKNOWN), (1.0, 1.4), 1.0, -9.0)
    assert (best == 9).all()


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_the_line_comes_by_where_distances_say_so_not_gauges(sign):
    """Inside by a gauge of 0.2 below, outside by one of 50 above, and 3 mm from the line in one, 1 mm in the other."""
    cuts = [(np.full((1, 1), -0.2, np.float32), np.full((1, 1), -3, np.float32))]
    cuts.append((np.full((1, 1), 50, np.float32), np.full((1, 1), 1, np.float32)))
    for low, high, heights in ((*cuts, (0.4, 0.8)), (*cuts[::-1], (-0.8, -0.4))):
        best = np.full((1, 1), 99, np.float32)
        reach_from(best, low, high, heights, sign, -99.0)
        z = np.linspace(0.4, 0.8, 4001)
        gauge = np.interp((z - 0.4) / 0.4, (0.0, 0.75, 1.0), (-0.2, 0.0, 50.0))
        assert best[0, 0] == pytest.approx((sign * gauge - np.sqrt(1 - z * z)).min(), abs=1e-5)
