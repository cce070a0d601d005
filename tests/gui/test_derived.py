"""Derived volumes in the window: made again beside the screen, within the step that made them old."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.models.volume_table import MARK
from engine.case import edits
from engine.case.derived import derive, out_of_date
from engine.volumes.recipe import Recipe
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, small_case

pytestmark = pytest.mark.gui


@pytest.fixture
def followed(window, qtbot):
    """GTV -> CTV -> PTV by margins of 4 mm, just opened and yet to be made."""
    case = small_case()
    gtv = Volume("gtv", "GTV", "GTV", (1, 2, 3), ball(GRID, (0, 0, 0), 10))
    case = edits.with_volume(edits.with_volume(case, gtv), gtv.but(key="ctv", name="CTV", role="CTV"))
    case = derive(case, "ctv", Recipe("margin", ("gtv",), (4.0,) * 6))
    case = derive(case, "ptv", Recipe("margin", ("ctv",), (4.0,) * 6))
    window.context.workspace.open(case)
    settle(window, qtbot)
    return window.context.workspace


def settle(window, qtbot):
    w = window.context.workspace
    qtbot.waitUntil(lambda: out_of_date(w.case) == (), timeout=20000)


def paint(w, key, radius):
    w.edit("Paint", edits.with_volume(w.case, w.case.volume(key).with_coverage(ball(GRID, (0, 0, 0), radius))))


def test_an_edit_of_the_parent_is_followed_and_one_undo_takes_all_of_it_back(window, followed, qtbot):
    w = followed
    steps, before = w.undo_stack.count(), w.case
    paint(w, "gtv", 14)
    settle(window, qtbot)
    after = w.case
    assert w.undo_stack.count() == steps + 1
    assert after.volume("ptv").coverage.volume_cm3 > before.volume("ptv").coverage.volume_cm3
    w.undo_stack.undo()
    assert w.case == before
    assert out_of_date(w.case) == ()
    w.undo_stack.redo()
    assert w.case == after
    assert w.undo_stack.count() == steps + 1


def test_edits_while_it_is_made_are_kept(window, followed, qtbot):
    w = followed
    paint(w, "gtv", 14)
    paint(w, "cord", 7)
    paint(w, "gtv", 13)
    settle(window, qtbot)
    assert w.case.volume("cord").coverage == ball(GRID, (0, 0, 0), 7)
    w.undo_stack.undo()
    settle(window, qtbot)
    assert w.case.volume("gtv").coverage == ball(GRID, (0, 0, 0), 14)
    w.undo_stack.redo()
    settle(window, qtbot)
    assert w.case.volume("gtv").coverage == ball(GRID, (0, 0, 0), 13)


def test_painting_on_it_keeps_the_stroke_and_offers_to_derive_it_again(window, followed, qtbot):
    w = followed
    made = w.case.volume("ptv").coverage
    paint(w, "ptv", 25)
    assert w.case.volume("ptv").recipe is None
    assert "Now it is a plain volume" in window.strip.text.text()
    assert "CTV with +4 mm" in window.strip.text.text()
    (message,) = [m for m in window.context.messages.standing if m.topic == "case/plain/ptv"]
    message.action()
    settle(window, qtbot)
    assert w.case.volume("ptv").coverage == made
    assert not [m for m in window.context.messages.standing if m.topic == "case/plain/ptv"]
    w.undo_stack.undo()
    assert w.case.volume("ptv").coverage == ball(GRID, (0, 0, 0), 25)


def test_deleting_the_parent_is_told(window, followed):
    w = followed
    shape = w.case.volume("ptv").coverage
    w.edit("Delete CTV", edits.without_volume(w.case, "ctv"))
    assert "It keeps its shape as a plain volume" in window.strip.text.text()
    assert w.case.volume("ptv").coverage is shape


def test_what_cannot_be_made_says_so_and_is_asked_once(window, followed, qtbot):
    w = followed
    ptv = w.case.volume("ptv")
    # A file of another program version may hold what this one refuses: a distance out of all bounds.
    w.edit("x", edits.with_volume(w.case, ptv.but(recipe=ptv.recipe.but(numbers=(999, 0, 0, 0, 0, 0), made_from=()))))
    derived = window.context.derived
    qtbot.waitUntil(lambda: "not six numbers between" in derived.state_of(w.case.volume("ptv")), timeout=20000)
    assert "not six numbers between" in window.strip.text.text()
    derived.set_numbers("ptv", (6.0,))
    settle(window, qtbot)
    assert derived.state_of(w.case.volume("ptv")) == ""
    assert w.case.volume("ptv").recipe.numbers == (6.0,) * 6


def test_the_row_under_the_list_tells_the_recipe_and_changes_its_numbers(window, followed, qtbot):
    row, w = window.shelf.get("outline").recipe, followed
    w.activate(volume="gtv")
    assert row.isHidden()
    w.activate(volume="ptv")
    assert not row.isHidden()
    assert row.words.text() == "Derived: CTV with +4 mm."
    assert row.numbers.text() == "4"
    before = w.case
    row.numbers.selectAll()
    QTest.keyClicks(row.numbers, "6 6 6 6 10 10")
    QTest.keyClick(row.numbers, Qt.Key.Key_Return)
    assert "Out of date: it is being made again" in row.words.text()
    settle(window, qtbot)
    assert row.words.text().endswith("inferior 10, superior 10 mm.")
    assert w.case.volume("ptv").coverage.volume_cm3 > before.volume("ptv").coverage.volume_cm3
    for typed, said in (("six", "“six”: these are no numbers"), ("1 2", "6 numbers, not 2")):
        row.numbers.selectAll()
        QTest.keyClicks(row.numbers, typed)
        QTest.keyClick(row.numbers, Qt.Key.Key_Return)
        assert said in window.strip.text.text()
    w.undo_stack.undo()
    assert w.case == before
    row.to_plain.click()
    assert row.isHidden()
    assert w.case.volume("ptv").recipe is None
    w.undo_stack.undo()
    assert not row.isHidden()


def test_a_margin_kept_derived_follows_and_is_marked_in_the_list(window, qtbot):
    station, w = window.shelf.get("outline"), window.context.workspace
    w.activate(volume="cord")
    station._start("margin")
    qtbot.waitUntil(station.form.apply.isEnabled, timeout=20000)
    assert station.form.follow.isVisibleTo(station.form)
    assert station.form.follow.isChecked()
    station.form.apply.click()
    prv = w.volume
    assert prv.role == "PRV"
    assert out_of_date(w.case) == ()
    model = station.list.model
    place = model.index(model.row_of(prv.key), MARK)
    assert model.data(place).startswith("\u21b3")
    assert "Derived: SpinalCord with +5 mm" in model.data(place, Qt.ItemDataRole.ToolTipRole)
    paint(w, "cord", 9)
    assert "yet to be made again" in model.data(place, Qt.ItemDataRole.ToolTipRole)
    settle(window, qtbot)
    assert "yet to be made again" not in model.data(place, Qt.ItemDataRole.ToolTipRole)
    assert w.volume.coverage != prv.coverage
    w.undo_stack.undo()
    w.undo_stack.undo()
    assert w.case.volume(prv.key) is None


def test_a_ring_is_derived_and_tells_gap_and_width(window, qtbot):
    station, w = window.shelf.get("outline"), window.context.workspace
    station._start("ring")
    qtbot.waitUntil(station.form.apply.isEnabled, timeout=20000)
    station.form.apply.click()
    assert w.volume.name == "zRing_PTV"
    assert w.volume.role == "OTHER"
    assert station.recipe.words.text() == "Derived: ring of 10 mm, 3 mm around PTV."
    assert station.recipe.numbers.text() == "3 10"
    assert "Gap and width" in station.recipe.numbers.toolTip()


def test_with_a_tool_in_the_hand_a_derived_volume_is_told_before_the_stroke(window, followed, qtbot):
    w, station = followed, window.shelf.get("outline")
    window.go("outline")
    layer = station._derived_layer
    w.activate(volume="ptv")
    station.take("look")
    assert layer.words() == ""
    station.take("brush")
    assert "PTV is derived" in layer.words()
    for key in ("ptv", "gtv", "ptv"):
        w.activate(volume=key)
        assert bool(layer.words()) == (key == "ptv")
        window.stage.main.grab()
        assert layer._shown == layer.words()  # and painted: the kept picture was dropped
    paint(w, "ptv", 25)
    assert layer.words() == ""  # plain now
    w.undo_stack.undo()
    assert "PTV is derived" in layer.words()
    window.go("intake")
    assert layer.words() == ""
