"""Mistakes with beams are told at once where they are made, and no longer than they stand."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def aim(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("aim")
    bare_window.station.desk.beams.fit(["a", "p"], 5.0)
    bare_window.station.stage.watch.look()
    bare_window.strip.clear()
    return bare_window


def test_a_beam_that_misses_the_patient_is_told_until_it_is_mended(aim, qtbot):
    beams, strip = aim.station.desk.beams, aim.strip
    beams.set_isocentre((-300.0, 0.0, 0.0), "p")
    qtbot.waitUntil(lambda: "PA lies outside" in strip.text.text())
    assert strip.level.text() == "Note"
    aim.context.messages.info("Something else.")
    strip._fade.timeout.emit()
    assert "PA lies outside" in strip.text.text()
    QTest.mouseClick(strip.button, Qt.MouseButton.LeftButton)
    assert aim.context.workspace.beam.key == "p"
    aim.context.workspace.undo_stack.undo()
    qtbot.waitUntil(lambda: strip.text.text() == "")


def test_a_field_that_does_not_show_the_target_and_a_weight_of_nothing_are_told(aim, qtbot):
    beams, strip = aim.station.desk.beams, aim.strip
    beams.set_jaws("a", "x", (-2.0, 2.0))
    qtbot.waitUntil(lambda: "outside the aperture of AP" in strip.text.text())
    beams.fit(["a"], 5.0)
    qtbot.waitUntil(lambda: strip.text.text() == "")
    beams.set_weight("p", 0.0)
    qtbot.waitUntil(lambda: "PA has weight 0" in strip.text.text())
    beams.set_weight("p", 1.0)
    qtbot.waitUntil(lambda: strip.text.text() == "")


def test_what_was_dismissed_does_not_come_back_and_other_stations_are_left_in_peace(aim, qtbot):
    beams, strip = aim.station.desk.beams, aim.strip
    beams.set_weight("p", 0.0)
    qtbot.waitUntil(lambda: "PA has weight 0" in strip.text.text())
    QTest.mouseClick(strip.dismiss, Qt.MouseButton.LeftButton)
    beams.set_gantry("a", 15.0)
    aim.station.stage.watch.look()
    assert strip.text.text() == ""
    aim.go("outline")
    aim.go("aim")
    qtbot.waitUntil(lambda: "PA has weight 0" in strip.text.text())
    aim.go("outline")
    assert strip.text.text() == ""
