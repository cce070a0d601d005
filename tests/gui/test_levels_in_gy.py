"""Isodose levels typed and shown in Gy; the draft keeps percentages. Normalisations in the panel."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from engine.case.case import NORMALISATIONS
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def weigh(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    station = bare_window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    return station


def type_levels(weigh, text):
    line = weigh.levels.levels
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)


def test_levels_in_gy_are_kept_as_percentages(weigh):
    weigh.levels.unit.setCurrentIndex(1)
    type_levels(weigh, "60 57 Gy 20")
    assert weigh.context.workspace.draft.levels_percent == (100, 95, 33.33)
    assert weigh.levels.levels.text() == "60  57  20"
    assert weigh.stage.dose.gy_per_percent == pytest.approx(weigh.stage.dose.reference_gy / 100)  # labels on the planes
    weigh.levels.unit.setCurrentIndex(0)
    assert weigh.levels.levels.text() == "100  95  33.3"
    assert weigh.stage.dose.gy_per_percent == 0


def test_what_is_no_dose_is_refused(weigh):
    before = weigh.context.workspace.draft.levels_percent
    weigh.levels.unit.setCurrentIndex(1)
    type_levels(weigh, "60 many")
    assert weigh.context.workspace.draft.levels_percent == before
    assert "“many” is not a dose" in weigh.context.messages.kept[-1].text


def test_without_a_prescription_there_is_no_gy(weigh):
    weigh.levels.unit.setCurrentIndex(1)
    weigh.desk.draft._change("Remove the prescription", prescription=None)
    assert not weigh.levels.unit.isEnabled()
    assert not weigh.levels.in_gy


def test_every_normalisation_can_be_chosen_by_its_words(weigh):
    rule = weigh.prescription.rule
    assert [rule.itemData(i) for i in range(rule.count())] == list(NORMALISATIONS)
    rule.setCurrentIndex(rule.findData("Max"))
    rule.activated.emit(rule.currentIndex())
    now = weigh.desk.follower.now
    assert now.dvhs["ptv"].max_gy == pytest.approx(60, rel=1e-4)
