"""Operations in the form: groups, numbers, second volumes, what is missing, keys."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.panels.operation_list import groups
from engine.base.values import own_array
from engine.case import edits
from engine.volumes import extent, move
from engine.volumes.coverage import Coverage

pytestmark = pytest.mark.gui


@pytest.fixture
def form(window):
    window.go("outline")
    station = window.station
    station.tabs.setCurrentWidget(station.form)
    window.context.workspace.activate(volume="ptv")
    return station.form


def ready(form, qtbot):
    qtbot.waitUntil(form.apply.isEnabled, timeout=20000)


def said(form, qtbot, words):
    qtbot.waitUntil(lambda: words in form.outcome.text(), timeout=20000)
    assert not form.apply.isEnabled()


def set_numbers(form, *numbers):
    for box, value in zip(form._boxes, numbers, strict=True):
        box.setValue(value)


def test_every_operation_stands_in_one_group_and_is_chosen_from_the_menu(form):
    names = [o.name for _, members in groups() for o in members]
    assert len(names) == len(set(names)) == len(form.operations)
    menus = [a.menu() for a in form.which.menu().actions()]
    assert [m.title() for m in menus] == [heading for heading, _ in groups()]
    for menu, (_, members) in zip(menus, groups()):
        for action, operation in zip(menu.actions(), members, strict=True):
            action.trigger()
            assert form.operation == operation
            assert form.which.text() == operation.words
            assert len(form.numbers) == len(operation.numbers)


def test_a_margin_grows_and_shrinks_at_once_and_is_one_step(window, form, qtbot):
    w = window.context.workspace
    before = w.volume.coverage
    form.choose("margin")
    form.fresh.setChecked(False)
    set_numbers(form, 6, -4, 0, 0, -3, 3)
    ready(form, qtbot)
    form.apply.click()
    assert w.volume.coverage == extent.change(before, (6, -4, 0, 0, -3, 3))
    assert w.undo_stack.count() == 1
    w.undo_stack.undo()
    assert w.volume.coverage is before


def test_what_the_image_cuts_off_is_told(form, qtbot):
    form.choose("margin")
    set_numbers(form, 5, 100, 5, 5, 5, 100)
    ready(form, qtbot)
    assert "Cut at the image's edge: right, superior." in form.outcome.text()


def test_return_applies_and_escape_leaves_everything(window, form, qtbot):
    w = window.context.workspace
    before = w.volume.coverage
    form.choose("move")
    set_numbers(form, 8, 0, 0, 0, 0, 10)
    ready(form, qtbot)
    QTest.keyClick(form._boxes[0], Qt.Key.Key_Escape)
    assert form.operation is None
    assert window.stage.preview.coverage is None
    assert w.undo_stack.count() == 0
    form.choose("move")
    set_numbers(form, 8, 0, 0, 0, 0, 10)
    ready(form, qtbot)
    QTest.keyClick(form._boxes[0], Qt.Key.Key_Return)
    assert w.volume.coverage == move.moved(before, (8, 0, 0, 0, 0, 10))


def test_the_keyboard_goes_on_to_the_numbers(window, form, qtbot):
    window.activateWindow()
    form._take("margin")
    qtbot.waitUntil(lambda: window.focusWidget() is form._boxes[0] and form._boxes[-1].isVisible())
    for box in form._boxes[1:]:
        QTest.keyClick(window.focusWidget(), Qt.Key.Key_Tab)
        assert window.focusWidget() is box
    form._take("union")
    qtbot.waitUntil(lambda: window.focusWidget() is form.other)


def test_a_slice_is_copied_onto_the_next_and_the_stage_goes_there(window, form, qtbot):
    w = window.context.workspace
    top = w.volume.coverage.planes[-1]
    for _ in range(2):
        window.stage.walk("z", top - w.case.image.grid.plane_at(w.cursor_mm[2]))
        form.choose("copy up")
        ready(form, qtbot)
        form.apply.click()
        top += 1
        assert w.case.image.grid.plane_at(w.cursor_mm[2]) == top
        assert np.array_equal(w.volume.coverage.slice(top), w.volume.coverage.slice(top - 1))
    window.stage.walk("z", w.case.image.grid.shape[0])
    form.choose("copy up")
    said(form, qtbot, "The scan ends here")


def test_a_ring_is_limited_only_if_wished_and_then_follows_both(window, form, qtbot):
    form.choose("ring")
    assert form.other.currentData() is None
    form.other.setCurrentIndex(form.other.findData("body"))
    form.other.activated.emit(0)
    ready(form, qtbot)
    form.apply.click()
    made = window.context.workspace.volume
    assert made.recipe.what == "ring inside"
    assert made.recipe.parents == ("ptv", "body")


def test_a_gap_to_the_skin_needs_the_body(window, form, qtbot):
    w = window.context.workspace
    w.edit("big", edits.with_volume(w.case, w.volume.with_coverage(w.case.body.coverage)))
    form.choose("skin")
    ready(form, qtbot)
    form.apply.click()
    assert w.volume.coverage == extent.change(w.case.body.coverage, (-5.0,) * 6)
    w.activate(volume="body")
    form.choose("skin")
    said(form, qtbot, "the body itself")
    w.activate(volume="ptv")
    w.edit("no body", edits.without_volume(w.case, "body"))
    for name in ("skin", "lungs", "bone"):
        form.choose(name)
        said(form, qtbot, "no body outline yet")


def test_what_is_found_fills_empty_namesakes_and_makes_the_rest_in_one_step(window, form, qtbot):
    w = window.context.workspace
    hu = w.case.image.hu.copy()
    grid = w.case.image.grid
    row, column = (round(v) for v in grid.index((0.0, 0.0, 0.0))[1:])
    hu[2:-2, row - 6 : row + 6, column + 3 : column + 12] = 700
    w.edit("bone", w.case.but(image=w.case.image.but(hu=own_array(hu))))
    station = window.station
    key = station.list.make(Coverage(grid), "Bones", "OAR")
    count, steps = len(w.case.volumes), w.undo_stack.count()
    form.choose("bone")
    assert form.fresh.isHidden()
    ready(form, qtbot)
    assert "Bones: " in form.outcome.text()
    form.apply.click()
    assert len(w.case.volumes) == count
    assert not w.case.volume(key).coverage.is_empty
    form.choose("bone")
    ready(form, qtbot)
    form.apply.click()
    assert w.case.volumes[-1].name == "Bones_2"
    assert w.undo_stack.count() == steps + 2


def test_a_range_is_found_without_a_volume(window, form, qtbot):
    w = window.context.workspace
    for key in [v.key for v in w.case.volumes if v.key != "body"]:
        w.edit("x", edits.without_volume(w.case, key))
    form.choose("ct range")
    set_numbers(form, -500, 3000)
    ready(form, qtbot)
    form.apply.click()
    assert w.volume.name == "Range"
    assert w.volume.coverage.volume_cm3 == pytest.approx(w.case.body.coverage.volume_cm3, rel=0.02)


def test_nothing_left_one_slice_and_nothing_changed_are_told(window, form, qtbot):
    w = window.context.workspace
    form.choose("margin")
    set_numbers(form, *(-80,) * 6)
    said(form, qtbot, "Nothing would be left")
    form.choose("move")
    said(form, qtbot, "This changes nothing")
    w.edit(
        "one", edits.with_volume(w.case, w.volume.with_coverage(Coverage(w.case.image.grid, w.volume.coverage.tiles[:1])))
    )
    form.choose("interpolate")
    said(form, qtbot, "painted on one slice")
