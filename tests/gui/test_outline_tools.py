"""Painting with the tools as a hand would, on the small case."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

pytestmark = pytest.mark.gui
SHIFT = Qt.KeyboardModifier.ShiftModifier


def ptv(window):
    return window.context.workspace.case.volume("ptv")


def area_cm2(window, plane=9):
    return dict(ptv(window).coverage.areas_mm2).get(plane, 0.0) / 100


def share_at(window, x, y, plane=9):
    _, r, c = window.stage.grid.index((x, y, 0.0))
    return ptv(window).coverage.slice(plane)[round(r), round(c)] / 255


def test_a_stroke_is_one_edit_and_undo_and_redo_return_it(window, hand):
    before = ptv(window)
    window.context.settings.set("brush/radius_mm", 6.0)
    hand.key("b")
    hand.drag((-40, 0), (-35, -10), (-30, -20))
    assert window.context.workspace.undo_stack.count() == 1
    assert share_at(window, -35, -10) == 1
    painted = ptv(window)
    assert painted.coverage != before.coverage
    QTest.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert ptv(window) is before
    QTest.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | SHIFT)
    assert ptv(window) is painted


def test_the_brush_paints_the_disc_it_shows(window, hand):
    window.context.settings.set("brush/radius_mm", 9.0)
    before = area_cm2(window)
    hand.key("b")
    hand.drag((-40, 0), (-40, 0))
    assert area_cm2(window) - before == pytest.approx(np.pi * 0.9**2, rel=0.02)


def test_eraser_and_shift_brush_take_away(window, hand):
    window.context.settings.set("brush/radius_mm", 5.0)
    hand.key("e")
    hand.drag((0, 0), (1, 0))
    assert share_at(window, 0, 0) == 0
    hand.key("e")
    assert window.stage.tool.name == "brush"
    hand.drag((12, 0), (13, 0), keys=SHIFT)
    assert share_at(window, 12, 0) == 0
    assert share_at(window, 0, 12) == 1


def test_escape_discards_a_stroke(window, hand):
    before = window.context.workspace.case
    hand.key("b")
    hand.press(-40, 0)
    hand.move(-30, 0)
    hand.key(Qt.Key.Key_Escape)
    hand.release(-30, 0)
    assert window.context.workspace.case is before
    assert window.context.workspace.undo_stack.count() == 0
    assert not window.stage.painting


def test_the_radius_follows_the_keys_and_is_remembered(window, hand):
    window.context.settings.set("brush/radius_mm", 6.0)
    hand.key("b")
    hand.key("]")
    hand.key("]")
    hand.key("[")
    assert window.context.settings.get("brush/radius_mm") == 7.0
    assert window.shelf.get("outline").column.radius.value() == 7.0


def test_freehand_adds_what_it_encloses(window, hand):
    before = area_cm2(window)
    hand.key("h")
    hand.drag((-45, -10), (-30, -10), (-30, 10), (-45, 10))
    assert area_cm2(window) - before == pytest.approx(1.5 * 2.0, rel=0.05)


def test_a_polygon_closes_with_enter_and_can_lose_its_last_corner(window, hand):
    before = area_cm2(window)
    hand.key("g")
    for corner in ((-45, -10), (-30, -10), (-30, 10), (-45, 10), (0, 40)):
        hand.click(*corner)
    hand.key(Qt.Key.Key_Backspace)
    hand.key(Qt.Key.Key_Return)
    assert area_cm2(window) - before == pytest.approx(1.5 * 2.0, rel=0.05)
    assert window.context.workspace.undo_stack.count() == 1


def test_a_polygon_is_given_up_with_escape(window, hand):
    before = window.context.workspace.case
    hand.key("g")
    for corner in ((-45, -10), (-30, -10), (-30, 10)):
        hand.click(*corner)
    hand.key(Qt.Key.Key_Escape)
    hand.key(Qt.Key.Key_Return)
    assert window.context.workspace.case is before


@pytest.mark.parametrize("tool", ["g", "t"])
def test_corners_that_enclose_nothing_yet_stay_and_are_told(window, hand, tool):
    case = window.context.workspace.case
    hand.key(tool)
    hand.click(-45, -10)
    hand.key(Qt.Key.Key_Return)
    assert "Too few corners" in window.context.messages.kept[-1].text
    assert window.context.workspace.case is case
    hand.click(-30, -10)
    hand.click(-30, 10)
    hand.key(Qt.Key.Key_Return)
    assert window.context.workspace.case is not case


def test_the_range_brush_keeps_to_its_range(window, hand):
    window.context.settings.set("brush/radius_mm", 8.0)
    window.context.settings.set("range/low_hu", -100.0)
    window.context.settings.set("range/high_hu", 100.0)
    hand.key("r")
    hand.drag((-54, 0), (-54, 1))
    assert share_at(window, -51, 0) == 1
    assert share_at(window, -59, 0) == 0


def test_region_grow_fills_what_is_alike_and_connected(window, hand):
    window.context.settings.set("grow/tolerance_hu", 50.0)
    hand.key("w")
    hand.drag((0, -45), (0, -45))
    body = window.context.workspace.case.volume("body")
    assert area_cm2(window) == pytest.approx(dict(body.coverage.areas_mm2)[9] / 100, rel=0.02)


def test_edge_trace_keeps_to_the_skin(window, hand):
    hand.key("t")
    for corner in ((0, -54), (54, 0), (0, 54), (-54, 0)):
        hand.click(*corner)
    hand.key(Qt.Key.Key_Return)
    # Corners on the skin joined by straight lines would hold 2 r^2; the traced line follows the circle of pi r^2.
    assert area_cm2(window) > 0.93 * np.pi * 5.5**2


def test_an_empty_hand_moves_the_cross_hair_and_a_tool_paints_in_the_companions_too(window, hand):
    side = window.stage.view_of("x")
    place = side.project((0.0, 40.0, 0.0)).toPoint()
    QTest.mouseClick(side, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, place)
    assert window.context.workspace.undo_stack.count() == 0
    assert window.context.workspace.cursor_mm[1] == pytest.approx(40, abs=1)
    hand.key("b")
    QTest.mouseClick(side, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, place)
    assert window.context.workspace.undo_stack.count() == 1


def test_without_a_volume_a_tool_offers_to_make_one(bare_window):
    from tests.support.cases import small_case

    case = small_case()
    bare_window.context.workspace.open(case.but(volumes=(), drafts=()))
    bare_window.go("outline")
    bare_window.shelf.get("outline").take("brush")
    assert bare_window.strip.button.isVisible()
    bare_window.strip.button.click()
    assert len(bare_window.context.workspace.case.volumes) == 1


def test_a_case_that_is_read_only_is_not_painted(window, hand):
    window.context.workspace.read_only = True
    before = window.context.workspace.case
    hand.key("b")
    hand.drag((-40, 0), (-30, 0))
    assert window.context.workspace.case is before


def moved(view, position, keys):
    """Move with a button down and keys held, as the window system would say it."""
    at = QPointF(position)
    left = Qt.MouseButton.LeftButton
    event = QMouseEvent(QEvent.Type.MouseMove, at, view.mapToGlobal(at), Qt.MouseButton.NoButton, left, keys)
    QApplication.sendEvent(view, event)


def test_a_shape_being_drawn_shows_whether_it_will_be_added_or_taken_away(window, hand):
    hand.key("h")
    shown = []
    for keys in (Qt.KeyboardModifier.NoModifier, SHIFT):
        hand.press(-20, -20, keys)
        for place in ((20, -20), (20, 20), (-20, 20)):
            moved(hand.view, hand.at(*place), keys)
        shown.append(hand.view.grab().toImage())
        hand.key(Qt.Key.Key_Escape)
        hand.release(-20, 20)
    assert shown[0] != shown[1]
    assert window.context.workspace.undo_stack.count() == 0
