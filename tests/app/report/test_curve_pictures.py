"""Charts: lines lie where their numbers say, gaps stay open, points are points."""

from __future__ import annotations

import numpy as np
import pytest

from app.report.curve_pictures import BOTTOM, COLOURS, LEFT, Chart, Line, draw_chart

pytestmark = pytest.mark.gui


def blue(image):
    """Return (row, column) of every pixel that is bluer than red, as only the first colour is; paper and axes are grey."""
    assert COLOURS[0].blue() - COLOURS[0].red() > 100
    found = []
    for y in range(image.height()):
        for x in range(image.width()):
            c = image.pixelColor(x, y)
            if c.blue() - c.red() > 45:
                found.append((y, x))
    return np.array(found)


def chart(*lines, y_range=(0.0, 10.0)):
    return Chart("title", "place", "x (mm)", "y (%)", lines, y_range=y_range)


def drawn(qapp, *lines):
    return blue(draw_chart(chart(*lines), 400, 300))


def test_a_level_line_is_level_and_as_long_as_the_axis(qapp):
    at = drawn(qapp, Line("", np.array([0.0, 100.0]), np.array([5.0, 5.0])))
    assert np.ptp(at[:, 0]) <= 2
    assert at[:, 1].min() == pytest.approx(LEFT, abs=2)
    low = drawn(qapp, Line("", np.array([0.0, 100.0]), np.array([0.0, 0.0])))
    high = drawn(qapp, Line("", np.array([0.0, 100.0]), np.array([10.0, 10.0])))
    assert np.median(low[:, 0]) == pytest.approx(300 - BOTTOM, abs=2)
    assert np.median(at[:, 0]) == pytest.approx((np.median(low[:, 0]) + np.median(high[:, 0])) / 2, abs=1.5)


def test_values_that_do_not_exist_leave_a_gap(qapp):
    y = np.full(11, 5.0)
    whole = drawn(qapp, Line("", np.arange(11.0), y))
    y[4:7] = np.nan
    columns = np.unique(drawn(qapp, Line("", np.arange(11.0), y))[:, 1])
    assert np.diff(columns).max() > 0.3 * np.ptp(whole[:, 1])


def test_points_are_circles_and_not_joined(qapp):
    at = drawn(qapp, Line("", np.array([0.0, 50.0, 100.0]), np.array([5.0, 5.0, 5.0]), points=True))
    columns = np.unique(at[:, 1])
    assert np.diff(columns).max() > 60


def test_an_empty_chart_is_drawn(qapp):
    image = draw_chart(Chart("t", "", "", "", ()), 300, 200)
    assert (image.width(), image.height()) == (300, 200)
