"""Fill, line and what is shown, in the window; sets of volumes; names by words."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.core.looks import Look, choose_look, look_of
from app.models.volume_table import MARK, NAME
from app.views.layers import VolumeLayer
from engine.case import edits
from tests.gui.test_volumes import outline

pytestmark = pytest.mark.gui


def picture(window, axis="z"):
    return window.stage.view_of(axis).grab().toImage()


def action(menu, *words):
    for word in words:
        found = next(a for a in menu.actions() if a.text().split("\t")[0] == word)
        menu = found.menu() or menu
    return found


def test_fill_and_line_of_one_volume_are_chosen_seen_on_all_planes_and_remembered_by_name(window, settings):
    before = {axis: picture(window, axis) for axis in "xyz"}
    case, steps = window.context.workspace.case, window.context.workspace.undo_stack.count()
    menu = outline(window).list.look.menu()
    menu.aboutToShow.emit()
    action(menu, "Fill", "60 %").trigger()
    action(menu, "Line", "4 pixels").trigger()
    assert look_of(settings, "ptv") == Look(60, 4.0)
    assert all(picture(window, axis) != before[axis] for axis in "xyz")
    assert window.context.workspace.case is case
    assert window.context.workspace.undo_stack.count() == steps
    window.context.workspace.activate(volume="cord")
    menu.aboutToShow.emit()
    assert action(menu, "Fill", "As usual").isChecked()
    window.context.workspace.activate(volume="ptv")
    menu.aboutToShow.emit()
    assert action(menu, "Fill", "60 %").isChecked()
    action(menu, "Fill", "As usual").trigger()
    action(menu, "Line", "As usual").trigger()
    assert settings.get("stage/looks") == []


def test_damaged_settings_are_passed_over(settings):
    settings.set("stage/looks", ["x|y|ptv", "500||cord", "20|2|heart"])
    assert look_of(settings, "PTV") == look_of(settings, "cord") == Look()
    assert look_of(settings, "Heart") == Look(20, 2.0)
    choose_look(settings, "Heart", Look(None, 3.0))
    assert settings.get("stage/looks") == ["|3.0|heart"]


def test_only_this_all_and_none_by_keys_and_menu(window):
    w = window.context.workspace
    QTest.keyClick(window, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert w.hidden == {"body", "cord"}
    menu = outline(window).list.look.menu()
    menu.aboutToShow.emit()
    assert menu.alone.isChecked()
    menu.alone.trigger()
    assert w.hidden == frozenset()
    action(menu, "Hide all volumes").trigger()
    assert w.hidden == {"body", "ptv", "cord"}
    action(menu, "Show all volumes").trigger()
    assert w.hidden == frozenset()


def test_a_set_adds_its_missing_volumes_in_one_step(window):
    w = window.context.workspace
    panel = outline(window).list
    panel.sets.aboutToShow.emit()
    before = w.case
    thorax = next(a for a in panel.sets.actions() if a.text().startswith("Thorax"))
    thorax.trigger()
    names = [v.name for v in w.case.volumes]
    assert names[:3] == ["Body", "PTV", "SpinalCord"]
    assert {"Heart", "Lung_L", "Esophagus"} <= set(names)
    assert w.volume.name == names[3]
    assert "volumes added" in window.strip.text.text()
    full = w.case
    panel.sets.aboutToShow.emit()
    action(panel.sets, "Remove the volumes that are empty").trigger()
    assert w.case.volumes == before.volumes
    w.undo_stack.undo()
    assert w.case == full
    w.undo_stack.undo()
    assert w.case == before
    w.undo_stack.redo()
    panel.sets.aboutToShow.emit()
    thorax = next(a for a in panel.sets.actions() if a.text().startswith("Thorax"))
    thorax.trigger()
    assert "there already" in window.strip.text.text()


def test_ones_own_set_is_saved_offered_and_loaded(window, tmp_path):
    sets = outline(window).list.sets
    assert sets.folder.parent == tmp_path
    sets.save(sets.folder / "mine")
    sets.aboutToShow.emit()
    assert any(a.text() == "mine (3 volumes)" for a in sets.actions())
    (sets.folder / "bad.toml").write_text("nonsense")
    sets.aboutToShow.emit()
    assert any(a.text() == "bad.toml cannot be read" and not a.isEnabled() for a in sets.actions())
    sets.load(sets.folder / "bad.toml")
    assert "no TOML" in window.strip.text.text()
    window.context.workspace.edit("none", window.context.workspace.case.but(volumes=(), drafts=()))
    sets.load(sets.folder / "mine.toml")
    assert [(v.name, v.role) for v in window.context.workspace.case.volumes][1:] == [("PTV", "PTV"), ("SpinalCord", "OAR")]


def test_names_are_offered_by_words_and_side(window, qtbot):
    panel = outline(window).list
    panel.new.click()
    editor = panel.table.findChild(QLineEdit)
    editor.selectAll()
    QTest.keyClicks(editor, "left lung")
    popup = editor.completer().popup()
    qtbot.waitUntil(popup.isVisible)
    assert popup.model().index(0, 0).data() == "Lung_L"
    QTest.keyClick(popup, Qt.Key.Key_Down)
    QTest.keyClick(popup, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.context.workspace.volume.name == "Lung_L")
    assert window.context.workspace.volume.role == "OAR"
    qtbot.waitUntil(lambda: panel.table.findChild(QLineEdit) is None)


def test_an_empty_list_teaches_the_sets(window):
    w = window.context.workspace
    w.edit("none", w.case.but(volumes=(), drafts=()))
    panel = outline(window).list
    assert panel.hint.isVisible()
    assert "Sets" in panel.hint.text()
    assert panel.set_button.isEnabled()
    assert panel.model.data(panel.model.index(0, NAME)) is None
    assert panel.model.columnCount() == MARK + 1


def test_an_empty_volume_is_no_fault_in_the_list_while_it_is_in_work(window, qtbot):
    station, w = outline(window), window.context.workspace
    station.list.new.click()
    key, model = w.volume.key, station.list.model
    model.setData(model.index(model.row_of(key), NAME), "no TG-263 name")
    row = model.index(model.row_of(key), MARK)
    qtbot.waitUntil(lambda: model.data(row) == "!", timeout=20000)
    assert "empty" not in model.data(row, Qt.ItemDataRole.ToolTipRole).lower()
    assert "hold" not in model.data(row, Qt.ItemDataRole.ToolTipRole).lower()


def test_targets_lie_over_organs_of_the_same_border(window):
    w = window.context.workspace
    target = w.case.volume("ptv")
    w.edit("around", edits.with_volume(w.case, target.but(key="around", name="Around", role="OAR")))
    w.activate(volume="cord")
    layer = next(layer for layer in window.stage.layers if isinstance(layer, VolumeLayer))
    assert [v.key for v in layer._volumes()] == ["body", "around", "ptv"]
