"""Enter on a button, and where the keyboard is after a change of station."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.views.dose_layers import LETTER_PX, mark_box

pytestmark = pytest.mark.gui


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_enter_presses_the_button_that_has_the_keyboard(qtbot, window, key):
    window.activateWindow()
    new = window.station.list.new
    before = len(window.context.workspace.case.volumes)
    new.setFocus()
    qtbot.waitUntil(new.hasFocus)
    QTest.keyClick(new, key)
    assert len(window.context.workspace.case.volumes) == before + 1


def test_enter_on_the_rail_enters_the_station(qtbot, window):
    window.activateWindow()
    button = next(b for b in window.rail.buttons if b.name == "aim")
    button.setFocus()
    qtbot.waitUntil(button.hasFocus)
    QTest.keyClick(button, Qt.Key.Key_Return)
    assert window.station.name == "aim"


def test_enter_opens_the_series_that_was_found(qtbot, bare_window):
    bare_window.activateWindow()
    panel = bare_window.station.series
    row = {"uid": "1.2", "problem": "", "note": "", "description": "CT", "modality": "CT", "patient_name": "P",
           "study_date": "", "files": 3, "patient_id": "", "over_problem": ""}  # fmt: skip
    panel.show_found(SimpleNamespace(folder="/f", series=(SimpleNamespace(**row),), other_files=0, damaged=()))
    qtbot.waitUntil(panel.open.hasFocus)
    with qtbot.waitSignal(panel.open_wanted) as asked:
        QTest.keyClick(panel.open, Qt.Key.Key_Return)
    assert asked.args[0] == "1.2"


def test_the_keyboard_stays_in_the_station_when_what_had_it_goes_out_of_sight(qtbot, window):
    window.activateWindow()
    new = window.station.list.new
    new.setFocus()
    qtbot.waitUntil(new.hasFocus)
    window.go("aim")
    assert QApplication.focusWidget() is window.stage.main


def test_the_keyboard_stays_in_the_station_when_a_button_hides_itself(qtbot, window):
    window.activateWindow()
    new = window.station.list.new
    new.setFocus()
    qtbot.waitUntil(new.hasFocus)
    before = window.station.right()
    before.hide()
    assert QApplication.focusWidget() is window.stage.main
    before.show()


def test_the_keyboard_goes_into_sign_too(qtbot, window):
    window.activateWindow()
    window.stage.main.setFocus()
    qtbot.waitUntil(window.stage.main.hasFocus)
    window.go("sign")
    assert window.frame.isAncestorOf(QApplication.focusWidget())


@pytest.mark.parametrize(("width", "text"), [(113, 72), (337, 210), (337, 120), (800, 210)])
def test_the_mark_of_an_old_dose_leaves_the_letter_at_the_foot_free(width, text):
    box = mark_box(width, 400, text, 20)
    letter_top = 400 - LETTER_PX
    assert box.right() <= width
    assert box.left() > width / 2 + 10 or box.bottom() <= letter_top
