"""The volume list and the operations."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit

from app.models.volume_table import CM3, MARK, NAME, ROLE, SLICES, VolumeTable
from engine.case import edits

pytestmark = pytest.mark.gui


def outline(window):
    return window.shelf.get("outline")


def do(window, qtbot, name, change=None):
    """Choose an operation, wait for its preview, apply it."""
    station = outline(window)
    station._start(name)
    if change is not None:
        change(station.form)
    qtbot.waitUntil(station.form.apply.isEnabled, timeout=20000)
    assert window.stage.preview.coverage is not None
    station.form.apply.click()
    assert window.stage.preview.coverage is None
    return window.context.workspace.case


def test_the_table_keeps_the_rules_of_models(window, qtmodeltester):
    model = VolumeTable(window.context.workspace)
    qtmodeltester.check(model)
    case = window.context.workspace.case
    window.context.workspace.edit("x", edits.without_volume(case, "cord"))
    window.context.workspace.undo_stack.undo()
    assert [model.data(model.index(i, NAME)) for i in range(3)] == ["Body", "PTV", "SpinalCord"]
    assert model.data(model.index(1, CM3)) == "33.5"
    assert model.data(model.index(1, SLICES)) == "9"


def test_undoing_new_volumes_leaves_the_one_chosen_that_was_before(window):
    workspace, volumes = window.context.workspace, outline(window).list
    workspace.activate(volume="cord")
    for _ in range(2):
        volumes.make(name="More")
    for _ in range(2):
        workspace.undo_stack.undo()
    assert workspace.volume.key == "cord"
    assert volumes.model.volumes[volumes.table.currentIndex().row()].key == "cord"
    assert volumes.delete.isEnabled()


def test_a_name_is_written_in_the_list_and_can_be_undone(window, qtbot):
    table = outline(window).list.table
    table.setCurrentIndex(table.model().index(1, NAME))
    table.setFocus()
    QTest.keyClick(table, Qt.Key.Key_F2)
    editor = table.findChild(QLineEdit)
    editor.selectAll()
    QTest.keyClicks(editor, "PTV_60")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.context.workspace.case.volume("ptv").name == "PTV_60")
    window.context.workspace.undo_stack.undo()
    assert window.context.workspace.case.volume("ptv").name == "PTV"


def test_a_double_click_writes_in_the_row_in_hand_and_roles_stand_whole(window, qtbot):
    table = outline(window).list.table
    window.context.workspace.activate(volume="ptv")
    for column, kind in ((NAME, QLineEdit), (ROLE, QComboBox)):
        at = table.visualRect(table.model().index(1, column)).center()
        QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
        QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
        editor = table.findChild(kind)
        assert editor is not None
        if isinstance(editor, QComboBox):
            view = editor.view()
            qtbot.waitUntil(view.isVisible)  # not before the button is up, which would close it
            assert view.width() >= view.sizeHintForColumn(0) + 2 * view.frameWidth()
            editor.hidePopup()
        table.itemDelegateForColumn(column).closeEditor.emit(editor)


def test_an_impossible_name_is_refused_in_words(window):
    model = outline(window).list.model
    assert not model.setData(model.index(1, NAME), "  ")
    assert "1 to 64 characters" in window.strip.text.text()
    assert not model.setData(model.index(1, NAME), "spinalcord")
    assert "already a volume of this name" in window.strip.text.text()
    assert window.context.workspace.case.volume("ptv").name == "PTV"


def test_roles_and_looking_away(window):
    model = outline(window).list.model
    assert model.setData(model.index(2, ROLE), "PRV")
    assert window.context.workspace.case.volume("cord").role == "PRV"
    model.setData(model.index(2, NAME), Qt.CheckState.Unchecked, Qt.ItemDataRole.CheckStateRole)
    assert window.context.workspace.hidden == {"cord"}
    assert window.context.workspace.undo_stack.count() == 1


def test_new_copy_delete(window):
    panel = outline(window).list
    panel.new.click()
    w = window.context.workspace
    assert w.volume.name == "Volume_1"
    assert w.volume.coverage.is_empty
    assert w.volume.colour not in {v.colour for v in w.case.volumes[:-1]}
    panel.model.setData(panel.model.index(3, NAME), "Lung_L")
    assert w.volume.role == "OAR"
    w.activate(volume="ptv")
    panel.copy.click()
    assert w.volume.name == "PTV_2"
    assert w.volume.coverage == w.case.volume("ptv").coverage
    panel.delete.click()
    assert [v.name for v in w.case.volumes] == ["Body", "PTV", "SpinalCord", "Lung_L"]


def test_missing_slices_are_filled(window, qtbot):
    w = window.context.workspace
    v = w.case.volume("ptv")
    blank = np.zeros(w.case.image.grid.shape[1:], np.uint8)
    w.edit("gap", edits.with_volume(w.case, v.with_coverage(v.coverage.with_slices([(8, blank), (9, blank)]))))
    case = do(window, qtbot, "interpolate")
    assert case.volume("ptv").coverage.planes == v.coverage.planes
    assert case.volume("ptv").coverage.volume_cm3 == pytest.approx(v.coverage.volume_cm3, rel=0.06)


def test_a_margin_makes_a_new_volume_of_the_next_role(window, qtbot):
    w = window.context.workspace
    w.edit("ctv", edits.with_volume(w.case, w.case.volume("ptv").but(name="CTV", role="CTV")))
    case = do(window, qtbot, "margin")
    made = case.volumes[-1]
    assert (made.name, made.role) == ("PTV", "PTV")
    assert made.coverage.volume_cm3 == pytest.approx(4 / 3 * np.pi * 2.5**3, rel=0.1)
    assert "of CTV" in made.note


def test_a_without_b_and_its_preview(window, qtbot):
    case = window.context.workspace.case
    window.context.workspace.activate(volume="body")
    before = case.body.coverage.volume_cm3

    def choose(form):
        form.other.setCurrentIndex(form.other.findData("cord"))
        form.other.activated.emit(form.other.currentIndex())

    after = do(window, qtbot, "subtract", choose)
    expected = before - case.volume("cord").coverage.volume_cm3
    assert after.body.coverage.volume_cm3 == pytest.approx(expected, rel=1e-3)


def test_copy_from_the_slice_above(window, qtbot):
    w = window.context.workspace
    v = w.case.volume("ptv")
    top = v.coverage.planes[-1]
    z = w.case.image.grid.z_mm
    w.set_cursor((0, 0, z[top - 1]))
    case = do(window, qtbot, "copy above")
    assert np.array_equal(case.volume("ptv").coverage.slice(top - 1), v.coverage.slice(top))


def test_what_is_missing_is_said_instead_of_a_preview(window, qtbot):
    station = outline(window)
    station.list.new.click()
    station._start("smooth")
    qtbot.waitUntil(lambda: "empty" in station.form.outcome.text())
    assert not station.form.apply.isEnabled()


def test_leaving_the_form_takes_the_preview_away(window, qtbot):
    station = outline(window)
    station._start("smooth")
    qtbot.waitUntil(station.form.apply.isEnabled, timeout=20000)
    window.go("intake")
    assert window.stage.preview.coverage is None
    assert window.context.workspace.undo_stack.count() == 0


def test_marks_tell_what_is_to_be_seen(window, qtbot):
    w = window.context.workspace
    station = outline(window)
    v = w.case.volume("ptv")
    blank = np.zeros(w.case.image.grid.shape[1:], np.uint8)
    w.edit("gap", edits.with_volume(w.case, v.but(name="my target!?").with_coverage(v.coverage.with_slice(9, blank))))
    model = station.list.model
    qtbot.waitUntil(lambda: model.data(model.index(1, MARK)) == "!", timeout=20000)
    tip = model.data(model.index(1, MARK), Qt.ItemDataRole.ToolTipRole)
    assert "TG-263" in tip
    assert "marked" in station.state_line()


def test_an_own_density_is_set_and_taken_back(window):
    w, panel = window.context.workspace, outline(window).list
    assert not panel.density.isEnabled()
    panel.own_density.click()
    assert w.volume.density_g_cm3 == 1.0
    panel.density.setValue(1.8)
    assert w.volume.density_g_cm3 == 1.8
    w.undo_stack.undo()
    assert w.volume.density_g_cm3 is None
    assert not panel.own_density.isChecked()


def test_an_operation_asked_for_by_keys_is_applied_by_enter_once_its_preview_is_there(window, qtbot):
    window.activateWindow()
    before = window.context.workspace.case
    QTest.keyClick(window, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
    form = window.station.form
    qtbot.waitUntil(lambda: form.apply.isEnabled() and window.focusWidget() is form.apply)
    QTest.keyClick(form.apply, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: window.context.workspace.case is not before)
