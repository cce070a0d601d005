"""Undo and redo under the keys: text where text was typed, else the case; and the list of steps."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from engine.case import edits
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def weigh(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    qtbot.waitUntil(lambda: bare_window.station.desk.follower.state == "current", timeout=60000)
    bare_window.activateWindow()
    return bare_window


def rename(window, name):
    w = window.context.workspace
    w.edit(f"Rename to {name}", edits.with_volume(w.case, w.case.volume("ptv").but(name=name)))


def name(window):
    return window.context.workspace.case.volume("ptv").name


def undo(widget):
    QTest.keyClick(widget, Qt.Key.Key_Z, CTRL)


def redo(widget):
    QTest.keyClick(widget, Qt.Key.Key_Z, CTRL | SHIFT)


def test_in_a_field_of_the_goal_form_typed_text_goes_first_then_the_case(weigh):
    rename(weigh, "PTV_1")
    form = weigh.station.goals.form
    form.open()
    QTest.keyClicks(form.metric_line, "D95")
    undo(form.metric_line)
    assert form.metric_line.text() == ""
    assert name(weigh) == "PTV_1"
    undo(form.metric_line)
    assert name(weigh) == "PTV"
    redo(form.metric_line)
    assert form.metric_line.text() == "D95"  # text was undone last, so far as this field knows
    redo(form.metric_line)
    assert name(weigh) == "PTV_1"


def test_a_number_that_was_taken_over_is_undone_as_a_step_of_the_case(weigh, qtbot):
    panel, workspace = weigh.station.prescription, weigh.context.workspace
    dose, before = panel.dose, workspace.draft.prescription.dose_gy
    dose.setFocus()
    dose.selectAll()
    QTest.keyClicks(dose, "50")
    undo(dose)
    assert dose.value() == before
    assert workspace.draft.prescription.dose_gy == before
    dose.selectAll()
    QTest.keyClicks(dose, "50")
    QTest.keyClick(dose, Qt.Key.Key_Return)
    assert workspace.draft.prescription.dose_gy == 50
    QTest.qWait(0)
    undo(dose)
    assert workspace.draft.prescription.dose_gy == before
    assert dose.value() == before


def test_a_field_nobody_typed_in_leaves_the_keys_to_the_case(weigh):
    rename(weigh, "PTV_1")
    levels = weigh.station.levels.levels
    levels.setFocus()
    undo(levels)
    assert name(weigh) == "PTV"


def test_an_open_cell_keeps_the_keys_for_its_text(weigh):
    rename(weigh, "PTV_1")
    table = weigh.station.weights.table
    index = table.model().index(0, table.model().columns.index("weight"))
    table.setCurrentIndex(index)
    table.edit(index)
    editor = table.findChild(QLineEdit)
    editor.setFocus()
    undo(editor)
    assert name(weigh) == "PTV_1"
    QTest.keyClick(editor, Qt.Key.Key_Escape)


def test_the_list_of_steps_goes_back_and_forth(weigh):
    for n in ("A", "B", "C"):
        rename(weigh, n)
    menu = next(a.menu() for a in weigh.menuBar().actions()[1].menu().actions() if a.menu())
    menu.aboutToShow.emit()
    assert [a.text() for a in menu.actions()] == ["Rename to C", "Rename to B", "Rename to A", "As it was opened"]
    assert [a.isChecked() for a in menu.actions()] == [True, False, False, False]
    menu.actions()[2].trigger()
    assert name(weigh) == "A"
    menu.aboutToShow.emit()
    menu.actions()[0].trigger()
    assert name(weigh) == "C"
    menu.aboutToShow.emit()
    menu.actions()[-1].trigger()
    assert name(weigh) == "PTV"
    assert weigh.menuBar().actions()[1].menu().actions()[1].text().endswith("Rename to A")


def test_a_long_list_of_steps_stays_short_and_reaches_on(weigh):
    for i in range(45):
        rename(weigh, f"N{i}")
    menu = next(a.menu() for a in weigh.menuBar().actions()[1].menu().actions() if a.menu())
    menu.aboutToShow.emit()
    assert len(menu.actions()) == 21
    assert menu.actions()[-1].text() == "25 steps further back"
    menu.actions()[-1].trigger()
    assert name(weigh) == "N24"
