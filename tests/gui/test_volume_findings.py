"""Findings in Outline: they follow every edit, only what was touched is looked at again, and each leads to its place."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest

from app.core.tokens import colour
from app.models.evidence_table import VOLUME, WORDS
from app.stations.volume_checks import KIND
from engine.case import edits
from engine.volumes import evidence as ev
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball

pytestmark = pytest.mark.gui


@pytest.fixture
def station(window, qtbot):
    station = window.shelf.get("outline")
    station.tabs.setCurrentWidget(station.findings)
    qtbot.waitUntil(lambda: looked_at(window), timeout=20000)
    return station


def looked_at(window):
    checks, case = window.shelf.get("outline").checks, window.context.workspace.case
    return all(checks._key(case, v) in checks._seen for v in case.volumes)


def change(window, qtbot, volume):
    w = window.context.workspace
    w.edit("change", edits.with_volume(w.case, volume))
    qtbot.waitUntil(lambda: looked_at(window), timeout=20000)


def codes(station):
    return [(e.code, e.volume_key) for _, _, e in station.findings.model.rows]


def without_slice(volume, plane):
    return volume.with_coverage(volume.coverage.with_slice(plane, np.zeros(GRID.shape[1:], np.uint8)))


def test_the_table_keeps_the_rules_of_models(station, qtmodeltester):
    qtmodeltester.check(station.findings.model)


def test_a_finding_comes_with_the_edit_and_goes_with_undo(window, qtbot, station):
    w = window.context.workspace
    assert (ev.GAP, "ptv") not in codes(station)
    n = len(codes(station))
    change(window, qtbot, without_slice(w.case.volume("ptv"), 9))
    assert codes(station)[0] == (ev.GAP, "ptv")  # gravest first
    assert station.tabs.tabText(station.tabs.indexOf(station.findings)) == f"Findings ({n + 1})"
    w.undo_stack.undo()
    assert (ev.GAP, "ptv") not in codes(station)  # known already: nothing to wait for


def test_only_the_touched_volume_is_looked_at_again(window, qtbot, station):
    asked = []
    window.context.jobs.result.connect(lambda kind, request, _: asked.append(request) if kind == KIND else None)
    change(window, qtbot, without_slice(window.context.workspace.case.volume("ptv"), 9))
    qtbot.waitUntil(lambda: bool(asked), timeout=20000)
    assert [[v.key for v in r.volumes] for r in asked] == [["ptv"]]
    assert [v.key for v in asked[0].among] == ["body", "ptv", "cord"]


@pytest.mark.parametrize("by", ["click", "enter", "button"])
def test_a_finding_leads_to_its_place(window, qtbot, station, by):
    w, table = window.context.workspace, station.findings.table
    change(window, qtbot, without_slice(w.case.volume("ptv"), 9))
    w.set_cursor((30.0, 30.0, float(GRID.z_mm[2])))
    w.activate(volume="cord")
    w.show_volume("ptv", False)
    index = table.model().index(0, WORDS)
    if by == "click":
        QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=table.visualRect(index).center())
    else:
        table.setFocus()
        table.setCurrentIndex(index)
        assert w.cursor_mm[0] == pytest.approx(30.0)  # choosing alone does not move
        assert "PTV: 1 slice between painted ones" in station.findings.evidence.text()
        assert "no missing slice" in station.findings.rule.text()
        if by == "enter":
            QTest.keyClick(table, Qt.Key.Key_Return)
        else:
            QTest.mouseClick(station.findings.go, Qt.MouseButton.LeftButton)
    assert w.cursor_mm[2] == pytest.approx(float(GRID.z_mm[9]))
    assert w.volume.key == "ptv"
    assert "ptv" not in w.hidden


def test_a_pair_that_excludes_each_other_is_listed_until_one_moves(window, qtbot, station):
    heart = Volume("heart", "Duodenum", "OAR", (9, 9, 9), ball(GRID, (0, 45, 0), 9))
    change(window, qtbot, heart)
    assert (ev.OVERLAP, "cord") in codes(station)
    change(window, qtbot, heart.but(coverage=ball(GRID, (-35, 0, 0), 9)))
    assert (ev.OVERLAP, "cord") not in codes(station)


def test_the_distance_to_the_skin_is_the_hands(window, qtbot, station):
    assert (ev.NEAR_SKIN, "ptv") not in codes(station)
    station.findings.skin.setValue(49.0)
    qtbot.waitUntil(lambda: (ev.NEAR_SKIN, "ptv") in codes(station), timeout=20000)
    assert "49 mm" in station.findings.model.rows[0][2].words
    station.findings.skin.setValue(5.0)
    assert (ev.NEAR_SKIN, "ptv") not in codes(station)


def test_an_empty_volume_and_a_strange_name_are_listed_but_not_marked(window, qtbot, station):
    change(window, qtbot, Volume("e", "Qwzx", "OAR", (9, 9, 9), Coverage(GRID)))
    assert {(ev.EMPTY, "e"), (ev.UNLISTED, "e")} <= set(codes(station))
    assert "e" not in station.checks._marks(station.checks._known())


def test_without_findings_the_list_says_so(window, qtbot, station):
    w = window.context.workspace
    for key in ("cord", "ptv"):
        w.edit("delete", edits.without_volume(w.case, key))
    assert [c for c in codes(station) if c[1] != "body"] == []
    assert station.findings.model.rowCount() == 0
    assert "after every edit" in station.findings.evidence.text()
    assert not station.findings.go.isEnabled()
    assert station.findings.model.headerData(VOLUME, Qt.Orientation.Horizontal) == "Volume"


def test_a_key_walks_the_findings(window, qtbot, station):
    w = window.context.workspace
    change(window, qtbot, without_slice(w.case.volume("ptv"), 9))
    station.tabs.setCurrentWidget(station.column)
    w.set_cursor((30.0, 30.0, float(GRID.z_mm[2])))
    action = next(a for a in station.actions() if a.shortcut().toString() == "Ctrl+J")
    action.trigger()
    assert station.tabs.currentWidget() is station.findings
    assert w.cursor_mm[2] == pytest.approx(float(GRID.z_mm[9]))
    rows = len(station.findings.model.rows)
    for _ in range(rows):
        action.trigger()
    assert station.findings.table.currentIndex().row() == 0  # around once


def test_the_strip_marks_the_slices_of_a_finding_and_tells_it(window, qtbot, station):
    w, strip = window.context.workspace, window.stage.strip
    change(window, qtbot, without_slice(w.case.volume("ptv"), 9))
    ((left, width),) = [(left, width) for v, left, width in strip._lanes() if v.key == "ptv"]
    row = strip._row(9) + (strip._row(8) - strip._row(9)) / 4  # away from the line of the slice shown
    at = QPointF(left + width / 2, row)
    assert "1 slice between painted ones holds nothing" in strip.words_at(at)
    assert "holds nothing" not in strip.words_at(QPointF(at.x(), strip._row(12) + 1))
    marked = QPoint(int(left) + 1, int(row))
    assert strip.grab().toImage().pixelColor(marked) == colour("stage_text")
    w.undo_stack.undo()
    assert "holds nothing" not in strip.words_at(at)
    assert strip.grab().toImage().pixelColor(marked) != colour("stage_text")


def test_the_chosen_row_stays_chosen_when_others_come_and_go(window, qtbot, station):
    w, table = window.context.workspace, station.findings.table
    change(window, qtbot, without_slice(w.case.volume("ptv"), 9))
    row = codes(station).index((ev.GAP, "ptv"))
    table.selectRow(row)
    change(window, qtbot, without_slice(w.case.volume("cord"), 9))  # the table is made anew
    assert (ev.GAP, "cord") in codes(station)
    assert codes(station)[table.currentIndex().row()] == (ev.GAP, "ptv")
    assert "PTV: 1 slice between painted ones" in station.findings.evidence.text()


def test_choosing_a_row_does_not_move_the_rows_in_a_high_window(window, qtbot, station):
    window.resize(1600, 1200)
    change(window, qtbot, without_slice(window.context.workspace.case.volume("ptv"), 9))
    table = station.findings.table
    qtbot.waitUntil(lambda: station.findings.rule.minimumHeight() > 0, timeout=5000)
    before = table.mapToGlobal(QPoint(0, 0))
    table.selectRow(0)
    qtbot.waitUntil(lambda: bool(station.findings.rule.text()), timeout=5000)
    assert table.mapToGlobal(QPoint(0, 0)) == before
