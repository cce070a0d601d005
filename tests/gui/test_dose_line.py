"""Dose along a line drawn by hand or keys, and marked extremes."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.views.plane import lift
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui
LEFT, NONE, ALT = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.AltModifier


@pytest.fixture
def weigh(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    station = bare_window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    return station


@pytest.fixture
def line(weigh):
    action = next(a for a in weigh.actions() if a.shortcut().toString() == "Ctrl+L")
    action.trigger()
    return weigh.stage.line


def test_it_begins_level_through_the_cross_hair(weigh, line):
    x, y, z = weigh.context.workspace.cursor_mm
    assert line.ends == [(x - 50, y, pytest.approx(z, abs=3)), (x + 50, y, pytest.approx(z, abs=3))]
    assert line.plot.isVisible()
    mm, gy = line.profile()
    assert mm[-1] == pytest.approx(100)
    assert gy[150] == pytest.approx(sum(weigh.desk.follower.now.point((x, y, line.ends[0][2]))), rel=1e-4)
    assert line.plot.words().endswith("100 mm")


def test_a_hand_draws_another_and_pulls_an_end(weigh, line):
    view = weigh.context.stage.view_of("z")
    z = view.position_mm
    a, b, c = (view.project(p).toPoint() for p in ((-20.0, -10.0, z), (25.0, 10.0, z), (5.0, 15.0, z)))
    QTest.mousePress(view, LEFT, NONE, a)
    QTest.mouseMove(view, b)
    QTest.mouseRelease(view, LEFT, NONE, b)
    assert np.allclose(line.ends, [view.point_mm(a.toPointF()), view.point_mm(b.toPointF())])
    QTest.mousePress(view, LEFT, NONE, b)
    QTest.mouseMove(view, c)
    QTest.mouseRelease(view, LEFT, NONE, c)
    assert np.allclose(line.ends, [view.point_mm(a.toPointF()), view.point_mm(c.toPointF())])


def test_keys_move_either_end(weigh, line):
    view = weigh.context.stage.view_of("z")
    before = list(line.ends)
    QTest.keyClick(view, Qt.Key.Key_Up, ALT)
    QTest.keyClick(view, Qt.Key.Key_Right, ALT | Qt.KeyboardModifier.ShiftModifier)
    assert line.ends[1][1] == pytest.approx(before[1][1] - 1), "up on the screen is towards the front"
    assert line.ends[0][0] == pytest.approx(before[0][0] + 1)


def test_it_goes_with_the_station_and_its_switch(weigh, line, bare_window):
    bare_window.go("outline")
    assert not line.plot.isVisible()
    bare_window.go("weigh")
    assert line.plot.isVisible()
    line.set_shown(False)
    assert not line.plot.isVisible()


def test_a_profile_follows_a_weight(weigh, line):
    before = line.profile()[1]
    weigh.desk.beams.set_weight("p", 3.0)
    assert not np.allclose(line.profile()[1], before)


def test_extremes_are_those_of_the_plane_and_the_target(weigh):
    weigh.levels.extremes.click()
    assert weigh.stage.extremes.wanted
    now = weigh.desk.follower.now
    for axis in "zxy":
        view = weigh.context.stage.view_of(axis)
        high, most, least = weigh.stage.extremes.extremes(view)
        assert least.lowest
        assert least.gy <= most.gy <= high.gy + 1e-6
        assert high.gy <= now.hottest()[1] * 1.0001
        for found in (high, most, least):
            point = lift(axis, found.at_mm.x(), found.at_mm.y(), view.position_mm)
            assert sum(now.point(point)) == pytest.approx(found.gy, rel=2e-3)
        centre = lift(axis, most.at_mm.x(), most.at_mm.y(), view.position_mm)
        assert np.linalg.norm(centre) <= 23, "in the target, a ball of 20 mm"
