"""The second image on the stage: keys, curtain, blend, window, removal; and the way there through Intake."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app.views import plane
from engine.base.values import own_array
from engine.case.second_images import with_second_image
from engine.dicom.second_image import SecondImageRead
from engine.image.second_image import SecondImage
from tests.gui.test_intake import found, series
from tests.gui.test_number_box import write
from tests.support.second import ramp

pytestmark = pytest.mark.gui
KEYS = Qt.Key


@pytest.fixture
def over(window):
    """The window with a white second image laid over the small case."""
    w = window.context.workspace
    grid = w.case.image.grid
    shape = tuple(n + 4 for n in grid.shape)
    values = own_array(np.full(shape, 500, dtype="<i2"))
    (ox, oy, oz), (sx, sy, sz) = grid.origin_mm, grid.spacing_mm
    affine = (sx, 0, 0, ox - 2 * sx, 0, sy, 0, oy - 2 * sy, 0, 0, sz, oz - 2 * sz)
    image = SecondImage("white", "White", "MR", values, affine, origin="test")
    w.edit("Lay over White", with_second_image(w.case, image))
    window.second.set_window(0.0, 500.0)
    window.second.set_blend(1.0)
    return window


def shade(view, share):
    """Return the grey of a pixel at a share of the width of the image, between its corner and the volumes."""
    lo, hi = view.stage.grid.bounds_mm
    place = [a + (share if i == plane.PLANES[view.axis][0] else 0.15) * (b - a) for i, (a, b) in enumerate(zip(lo, hi))]
    return view.grab().toImage().pixelColor(view.project(tuple(place)).toPoint()).lightness()


def test_a_case_without_one_shows_no_row_and_leaves_the_keys_alone(window, hand):
    assert not window.second.bar.isVisible()
    hand.key(KEYS.Key_X)
    assert not window.second.shown


def test_x_flicks_between_the_planning_ct_and_the_second_image(over, hand):
    assert over.second.bar.isVisible()
    assert shade(hand.view, 0.3) > 240
    hand.key(KEYS.Key_X)
    assert shade(hand.view, 0.3) < 200
    assert not over.second.bar.on.isChecked()
    hand.key(KEYS.Key_X)
    assert shade(hand.view, 0.3) > 240


def test_the_curtain_follows_the_mouse_and_leaves_the_cross_hair_alone(over, hand):
    hand.key(KEYS.Key_C)
    view, cursor = hand.view, over.context.workspace.cursor_mm
    assert shade(view, 0.3) < 200 < shade(view, 0.7)
    y = view.height() // 3
    start, end = QPoint(view.width() // 2, y), QPoint(view.width() // 5, y)
    QTest.mousePress(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    QTest.mouseMove(view, end)
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, end)
    assert over.second.at == pytest.approx(0.2, abs=0.01)
    assert shade(view, 0.3) > 240
    assert over.context.workspace.cursor_mm == cursor


def test_escape_puts_the_curtain_back(over, hand):
    hand.key(KEYS.Key_C)
    view = hand.view
    before, y = over.second.at, view.height() // 3
    QTest.mousePress(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(int(before * view.width()), y))
    QTest.mouseMove(view, QPoint(20, y))
    hand.key(KEYS.Key_Escape)
    assert over.second.at == before


def test_shift_and_arrows_move_the_curtain_and_plain_arrows_still_walk(over, hand):
    hand.key(KEYS.Key_C)
    at, index = over.second.at, hand.view.index
    hand.key(KEYS.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert over.second.at < at
    assert hand.view.index == index
    hand.key(KEYS.Key_Up)
    assert hand.view.index == index + 1


def test_blend_by_keys_and_slider_changes_what_is_seen(over, hand):
    full = shade(hand.view, 0.3)
    for _ in range(5):
        hand.key(KEYS.Key_K)
    half = shade(hand.view, 0.3)
    over.second.bar.blend.setValue(0)
    none = shade(hand.view, 0.3)
    assert full > half > none
    assert over.second.blend == 0.0


def test_ctrl_and_the_right_button_move_its_own_window(over, hand):
    levels, window = over.stage.levels, over.second.window
    view, ctrl = hand.view, Qt.KeyboardModifier.ControlModifier
    QTest.mousePress(view, Qt.MouseButton.RightButton, ctrl, QPoint(100, 100))
    QTest.mouseMove(view, QPoint(100, 160))
    QTest.mouseRelease(view, Qt.MouseButton.RightButton, ctrl, QPoint(100, 160))
    assert over.second.window[0] > window[0]
    assert over.stage.levels == levels


def test_its_window_is_typed_and_what_cannot_be_used_is_told(over):
    second, box = over.second, over.second.bar.low
    write(box, "900")
    assert second.window[0] == 900
    write(box, "9x")
    assert second.window[0] == 900
    assert over.context.messages.kept[-1].text.startswith("Darkest value: “9x” cannot be used, so 900 stays.")
    write(box, "-20.4")
    assert second.window[0] == -20
    assert box.text() == "−20"


def test_an_end_of_the_window_that_is_passed_by_the_other_moves_beyond_it_and_that_is_said(over):
    second, bar, told = over.second, over.second.bar, over.context.messages.kept
    write(bar.low, "900")
    assert second.window == (900, 901)
    assert (bar.low.text(), bar.high.text()) == ("900", "901")
    assert told[-1].text == "Brightest value: moved to 901, because it must lie above the darkest."
    write(bar.high, "-5")  # the one that is typed stays as it is typed
    assert second.window == (-6, -5)
    assert (bar.low.text(), bar.high.text()) == ("−6", "−5")
    assert told[-1].text == "Darkest value: moved to −6, because it must lie below the brightest."
    count = len(told)
    write(bar.high, "400")
    assert second.window == (-6, 400)
    assert len(told) == count


def test_its_value_stands_in_the_quiet_line(over, hand):
    hand.move(0.0, 0.0)
    assert "MR 500" in over.stage.line.text()


def test_all_three_planes_show_it(over):
    for view in over.stage.views:
        assert shade(view, 0.3) > 240


def test_removal_is_undone_by_one_step(over, qtbot):
    qtbot.mouseClick(over.second.bar.remove, Qt.MouseButton.LeftButton)
    assert over.context.workspace.case.second_images == ()
    assert not over.second.bar.isVisible()
    over.context.workspace.undo_stack.undo()
    assert [i.key for i in over.context.workspace.case.second_images] == ["white"]
    assert over.second.bar.isVisible()


def test_intake_lays_a_series_over_the_open_case(window, qtbot, answer, tmp_path):
    row = series(modality="MR", description="T1", problem="it is not a CT series", uid="1.2.3.7")
    answer("FindSeries", lambda request, report: found(request.folder, row))
    asked = []

    def read(request, report):
        asked.append(request)
        return SecondImageRead(ramp(), ("something to know",))

    answer("ReadSecondImage", read)
    window.open_path(tmp_path)
    panel = window.shelf.get("intake").series
    qtbot.waitUntil(lambda: panel.model.rowCount() == 1)
    assert not panel.open.isEnabled()
    assert "can be laid over the planning CT" in panel.why.text()
    qtbot.mouseClick(panel.over, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.second.image is not None)
    assert asked[0].series_uid == "1.2.3.7"
    assert window.station.name == "outline"
    assert window.second.shown
    assert "Something to know." in " ".join(m.text for m in window.context.messages.standing)


def test_without_an_open_case_the_series_says_what_is_missing(bare_window, qtbot, answer, tmp_path):
    row = series(modality="MR", problem="it is not a CT series")
    answer("FindSeries", lambda request, report: SimpleNamespace(**vars(found(request.folder, row))))
    bare_window.open_path(tmp_path)
    panel = bare_window.shelf.get("intake").series
    qtbot.waitUntil(lambda: panel.model.rowCount() == 1)
    assert not panel.over.isVisible()
    assert "once that is open" in panel.why.text()


def test_the_row_names_the_image_whole_where_it_finds_room_and_ends_in_dots_where_not(over):
    bar = over.second.bar
    bar._fit(1600)
    whole = bar.which.currentText()
    assert over.second.image.name in whole
    bar._names = [whole + " of a very long series description"]
    bar._fit(700)
    assert bar.which.currentText().endswith("\u2026")
    bar._fit(1600)
    assert bar.share.text() == f"{bar.blend.value()} %"


def test_the_boxes_of_the_window_have_a_word_before_them_where_a_small_screen_has_room(over):
    bar = over.second.bar
    for station in ("intake", "weigh"):
        over.go(station)
        QTest.qWait(0)
        assert bar.low.isVisible()
        assert bar._window.isVisible()
        assert bar._window.geometry().right() < bar.low.x()
        assert bar.blend.width() >= bar.blend.minimumWidth()
        assert bar.remove.geometry().right() <= bar.width()
    assert bar._window.buddy() is bar.low
    bar.unit.setText("SUV")
    for wide in range(690, 1200):
        bar._fit(wide)
        assert bar.layout().minimumSize().width() <= wide, wide
        assert bar._window.isVisibleTo(bar) or wide < 738, wide  # as wide as it is in a window of 1280 px
