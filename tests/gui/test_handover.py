"""Releasing volumes, and what happens when one of them changes afterwards."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.models.volume_table import MARK
from engine.case import edits
from engine.volumes.volume import COLOURS
from tests.gui.test_volumes import outline
from tests.support.cases import GRID, ball

pytestmark = pytest.mark.gui


@pytest.fixture
def handed(window, qtbot):
    """The window with its volumes released by hand in the bar."""
    bar = outline(window).release
    bar.button.click()
    qtbot.waitUntil(bar.who.isVisible)
    QTest.keyClicks(bar.who, "Dr. Example")
    QTest.keyClick(bar.who, Qt.Key.Key_Return)
    return window


def move(window):
    w = window.context.workspace
    w.edit("Paint", edits.with_volume(w.case, w.case.volume("ptv").with_coverage(ball(GRID, (3, 0, 0), 20))))


def asked(window):
    return [m for m in window.context.messages.standing if m.topic == "case/release"]


def test_a_release_needs_a_name(window):
    bar = outline(window).release
    assert bar.words.text() == "In work, not released"
    bar.button.click()
    bar.give.click()
    assert "physician's name" in window.strip.text.text()
    assert window.context.workspace.case.releases == ()
    bar.button.click()
    assert bar.form.isHidden()


def test_it_is_told_in_bar_and_rail_and_can_be_taken_back_and_undone(handed):
    bar, w = outline(handed).release, handed.context.workspace
    assert bar.words.text().startswith("Released by Dr. Example, ")
    assert w.case.releases[-1].digest in bar.words.toolTip()
    assert "released" in outline(handed).state_line()
    bar.button.click()
    assert bar.words.text() == "In work, not released"
    w.undo_stack.undo()
    assert bar.words.text().startswith("Released by Dr. Example, ")


def test_a_change_asks_once_lapses_visibly_and_its_undo_brings_the_release_back(handed):
    w, bar = handed.context.workspace, outline(handed).release
    model = outline(handed).list.model
    move(handed)
    (message,) = asked(handed)
    assert "Dr. Example" in message.text
    assert "PTV" in message.text
    assert bar.words.text() == "Release by Dr. Example lapsed: PTV"
    assert outline(handed).state_line() == "Release lapsed"
    assert "!" in model.data(model.index(1, MARK))
    assert "since it was released" in model.data(model.index(1, MARK), Qt.ItemDataRole.ToolTipRole)
    message.action()
    assert asked(handed) == []
    assert bar.words.text().startswith("Released by")
    assert model.data(model.index(1, MARK)) == ""
    move(handed)
    assert asked(handed) == []  # once per release
    assert outline(handed).state_line() == "Release lapsed"
    w.undo_stack.undo()


def test_the_way_back_leads_to_before_the_change_whatever_was_done_since(handed):
    w = handed.context.workspace
    before = w.case
    move(handed)
    w.edit("Colour", edits.with_volume(w.case, w.case.volume("cord").but(colour=COLOURS[7])))
    later = w.case
    asked(handed)[0].action()
    assert w.case == before
    assert outline(handed).handover.state == "released"
    w.undo_stack.setIndex(w.undo_stack.count())
    assert w.case == later


def test_colour_does_not_lapse_it_and_a_new_release_is_a_new_one(handed):
    w, bar = handed.context.workspace, outline(handed).release
    w.edit("Colour", edits.with_volume(w.case, w.case.volume("ptv").but(colour=COLOURS[7])))
    assert outline(handed).handover.state == "released"
    move(handed)
    bar.button.click()
    assert bar.who.text() == "Dr. Example"
    bar.give.click()
    assert outline(handed).handover.state == "released"
    assert len(w.case.releases) == 2
    move_back = edits.with_volume(w.case, w.case.volume("ptv").with_coverage(ball(GRID, (0, 0, 0), 18)))
    w.edit("Paint", move_back)
    assert len(asked(handed)) == 1
