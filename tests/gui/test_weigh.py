"""Weigh: ledger, DVH, isodose lines, levels, probe and drafts follow the plan."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QColor, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.core.probe import probe
from app.core.tokens import tokens
from app.models.goal_table import COLUMNS
from app.views.dose_ramp import ink, ramp, stroke
from engine.case import edits
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def weigh(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    station = bare_window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    return station


def ledger(station, row, name):
    return station.goals.model.index(row, COLUMNS.index(name)).data()


def pixels(widget) -> np.ndarray:
    image = widget.grab().toImage()
    return np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine() // 4, 4).astype(int)


def said(station) -> str:
    kept = station.context.messages.kept
    return kept[-1].text if kept else ""


# the ledger


def test_the_ledger_shows_state_value_and_distance_in_words(weigh):
    assert ledger(weigh, 0, "volume") == "PTV"
    assert "met" in ledger(weigh, 0, "state")
    assert ledger(weigh, 0, "achieved") == "100.0"
    assert ledger(weigh, 0, "off") == "−5.0"


def test_the_ledger_follows_a_weight_at_once(weigh):
    before = ledger(weigh, 1, "achieved")
    weigh.desk.beams.set_weight("p", 3.0)
    assert ledger(weigh, 1, "achieved") != before


def test_an_old_dose_judges_no_goal(qtbot, weigh, stub):
    stub.gate.clear()
    weigh.desk.beams.set_gantry("a", 20)
    assert ledger(weigh, 0, "achieved") == "–"
    assert "open" in ledger(weigh, 0, "state")
    assert weigh.state_line() == "old dose"
    stub.gate.set()
    qtbot.waitUntil(lambda: weigh.desk.follower.state == "current", timeout=60000)


def test_a_dose_that_is_read_in_another_volume_is_not_called_old(qtbot, weigh):
    workspace = weigh.context.workspace
    copy = workspace.case.volume("cord").but(key="cord2", name="Cord2")
    workspace.edit("Add", edits.with_volume(workspace.case, copy))
    assert weigh.state_line() == "reading dose"
    qtbot.waitUntil(lambda: weigh.desk.follower.state == "current", timeout=60000)
    assert "met" in weigh.state_line()


def test_the_ledger_is_a_sound_model(weigh, qtmodeltester):
    qtmodeltester.check(weigh.goals.model, force_py=True)
    weigh.desk.draft.remove_goals([0])
    assert weigh.goals.model.rowCount() == 1


def test_a_goal_is_added_in_the_form(weigh):
    form = weigh.goals.form
    form.open()
    form.volume.setCurrentIndex(form.volume.findData("cord"))
    form.metric_line.setText("Mean[Gy]")
    form.limit.setValue(30)
    assert form.put()
    assert weigh.context.workspace.draft.goals[-1].metric == "Mean[Gy]"
    assert ledger(weigh, 2, "achieved") != "–"


def test_bad_grammar_is_refused_with_the_grammar(weigh):
    form = weigh.goals.form
    form.open()
    form.metric_line.setText("D95")
    assert not form.put()
    assert len(weigh.context.workspace.draft.goals) == 2
    assert "D95%[Gy]" in form.words.text()


def test_a_bad_metric_typed_into_the_ledger_is_refused_too(weigh):
    model = weigh.goals.model
    assert not model.setData(model.index(0, COLUMNS.index("metric")), "V[%]", Qt.ItemDataRole.EditRole)
    assert weigh.context.workspace.draft.goals[0].metric == "D95%[%]"
    assert said(weigh)


def test_a_demand_is_typed_with_its_sign(weigh):
    model = weigh.goals.model
    assert model.setData(model.index(1, COLUMNS.index("demand")), "≤ 40 Gy", Qt.ItemDataRole.EditRole)
    assert weigh.context.workspace.draft.goals[1].limit == 40
    assert model.setData(model.index(1, COLUMNS.index("demand")), "> 10", Qt.ItemDataRole.EditRole)
    assert weigh.context.workspace.draft.goals[1].comparator == ">="
    assert not model.setData(model.index(1, COLUMNS.index("demand")), "few", Qt.ItemDataRole.EditRole)


def test_suggested_goals_carry_their_source(weigh):
    weigh.desk.draft.remove_goals([0, 1])
    count = weigh.desk.draft.add_goals(weigh.desk.draft.suggested())
    goals = weigh.context.workspace.draft.goals
    assert count == len(goals)
    assert {g.volume_key for g in goals} == {"ptv", "cord"}
    assert all(g.source for g in goals)
    assert weigh.desk.draft.add_goals(weigh.desk.draft.suggested()) == 0


# the histogram


def test_the_histogram_reads_out_a_curve(weigh):
    plot = weigh.dvh
    plot.resize(420, 260)
    plot.grab()
    dvh = weigh.desk.follower.now.dvhs["ptv"]
    words = plot.words_at(plot._at(dvh.median_gy, 50.0))
    assert words.startswith("PTV: ")
    assert f"{dvh.median_gy:.1f} Gy" in words
    assert plot.words_at(plot._at(2.0, 30.0)) == ""


def test_a_weight_moves_the_picture_of_the_histogram(weigh):
    weigh.dvh.resize(420, 260)
    before = pixels(weigh.dvh)
    weigh.desk.beams.set_weight("p", 2.5)
    assert (pixels(weigh.dvh) != before).any()


def test_the_volume_axis_changes_to_cm3(weigh):
    weigh.dvh_box.cm3.setChecked(True)
    body = weigh.context.workspace.case.volume("body").coverage.volume_cm3
    assert weigh.dvh._top_amount >= body
    assert weigh.dvh._top_amount < 2 * body


def test_a_click_on_a_curve_makes_its_volume_active(weigh):
    plot = weigh.dvh
    dvh = weigh.desk.follower.now.dvhs["cord"]
    QTest.mouseClick(
        plot, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, plot._at(dvh.median_gy, 50.0).toPoint()
    )
    assert weigh.context.workspace.volume.key == "cord"


def test_an_old_histogram_is_drawn_paler_and_hatched(qtbot, weigh, stub):
    weigh.dvh.resize(420, 260)
    before = pixels(weigh.dvh)
    stub.gate.clear()
    weigh.desk.beams.set_gantry("a", 20)
    assert weigh.desk.follower.is_old
    after = pixels(weigh.dvh)
    assert (np.abs(after - before).sum(axis=2) > 30).mean() > 0.02
    stub.gate.set()
    qtbot.waitUntil(lambda: weigh.desk.follower.state == "current", timeout=60000)


# on the stage


def layer_difference(weigh, layer) -> float:
    """Share of the axial view that a layer changes."""
    stage = weigh.context.stage
    view = stage.view_of("z")
    with_it = pixels(view)
    stage.remove_layer(layer)
    without = pixels(view)
    stage.add_layer(layer)
    return float((np.abs(with_it - without).sum(axis=2) > 24).mean())


def test_isodose_lines_are_drawn_on_every_plane(weigh):
    shared = weigh.stage.dose
    for axis, position in (("z", 0.0), ("x", 0.0), ("y", 0.0)):
        levels = shared.planes.level_lines(shared.now, axis, position, (95.0, 50.0), 60.0)
        assert all(level.lines for level in levels)
        plane = shared.planes.plane(shared.now, axis, position)
        for level in levels:
            u, v = level.lines[0][len(level.lines[0]) // 2]
            assert plane.at(u, v)[0] == pytest.approx(level.gy, rel=2e-3)
    assert layer_difference(weigh, weigh.stage.lines) > 0.001


def test_the_wash_is_off_until_wanted_and_lets_the_anatomy_through(weigh):
    assert layer_difference(weigh, weigh.stage.wash) == 0
    weigh.levels.wash.setValue(40)
    assert layer_difference(weigh, weigh.stage.wash) > 0.01
    weigh.levels.wash.setValue(1000)
    assert weigh.stage.dose.wash_percent <= 60


def test_levels_are_edited_as_a_line_of_numbers(weigh):
    line, workspace = weigh.levels.levels, weigh.context.workspace
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, "50 95 100")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert workspace.draft.levels_percent == (100, 95, 50)
    line.selectAll()
    QTest.keyClicks(line, "50 x")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert workspace.draft.levels_percent == (100, 95, 50)
    assert "“x” is not a percentage" in said(weigh)


def test_the_line_at_the_foot_says_the_dose(weigh):
    words = weigh.stage.dose.readout((0.0, 0.0, 0.0))
    gy = sum(weigh.desk.follower.now.point((0, 0, 0)))
    assert words.startswith(f"{gy:.2f} Gy")
    weigh.leave()
    assert weigh.stage.dose.readout not in weigh.context.stage.readouts


def test_the_strip_shows_the_lowest_dose_of_each_slice(qtbot, weigh):
    rows = weigh.stage._coverage()
    planes = weigh.context.workspace.case.volume("ptv").coverage.planes
    assert set(rows) <= set(planes)
    assert all(0.5 < v < 1.5 for v in rows.values())


# the ramp


def luminance(colour: QColor) -> float:
    """Relative luminance after WCAG 2.1 (memory)."""
    parts = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour.getRgbF()[:3]]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def test_more_dose_is_always_lighter():
    lights = [luminance(ink(p)) for p in range(5, 111, 5)]
    assert all(a < b for a, b in pairwise(lights))
    assert ramp().shape == (256, 3)


def test_the_lowest_line_still_stands_out_from_the_dark():
    """A contrast of 4.5 to 1 is what WCAG 2.1 asks of text (memory)."""
    dark = luminance(QColor(tokens().stage_ground))
    assert all((luminance(ink(p)) + 0.05) / (dark + 0.05) >= 4.5 for p in (5, 10, 30, 100))


def test_the_prescription_is_the_one_thick_unbroken_line():
    width, dashes = stroke(100)
    assert dashes == []
    assert all(stroke(p)[0] < width for p in (107, 95, 80, 50, 30, 10))
    assert len({(stroke(p)[0], tuple(stroke(p)[1])) for p in (107, 100, 95, 80, 50, 30)}) == 6


# the probe


def test_the_probe_adds_up(weigh):
    found = probe(weigh.desk.follower, (0.0, 0.0, 0.0))
    assert found.gy == pytest.approx(sum(s.gy for s in found.shares))
    assert sum(s.percent for s in found.shares) == pytest.approx(100)
    assert [name for name, _, _ in found.volumes] == ["Body", "PTV"]
    # A water cylinder of 55 mm radius: both beams reach its axis through about 55 mm of water.
    for share in found.shares:
        assert share.depth_mm == pytest.approx(55, abs=4)
        assert share.water_mm == pytest.approx(55, abs=5)


def test_p_keeps_the_probe_and_space_shows_it_while_held(qtbot, weigh):
    shown, view = weigh.stage.probe, weigh.context.stage.view_of("z")
    assert not shown.isVisible()
    for kind, wanted in ((QEvent.Type.KeyPress, True), (QEvent.Type.KeyRelease, False)):
        QApplication.sendEvent(view, QKeyEvent(kind, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " "))
        qtbot.waitUntil(lambda w=wanted: shown.isVisible() == w)
    shown.set_pinned(True)
    qtbot.waitUntil(shown.isVisible)
    assert "PTV" in shown.table.text()
    weigh.context.go("outline")
    qtbot.waitUntil(lambda: not shown.isVisible())


# drafts


def test_drafts_are_begun_copied_renamed_and_removed(qtbot, weigh):
    edits, workspace, panel = weigh.desk.draft, weigh.context.workspace, weigh.drafts
    first = workspace.draft
    edits.duplicate_draft()
    assert workspace.draft.beams == first.beams
    qtbot.waitUntil(lambda: weigh.desk.follower.state == "current", timeout=60000)
    panel.box.lineEdit().setFocus()
    panel.box.lineEdit().selectAll()
    QTest.keyClicks(panel.box.lineEdit(), "Softer")
    QTest.keyClick(panel.box.lineEdit(), Qt.Key.Key_Return)
    assert workspace.draft.name == "Softer"
    assert not edits.rename_draft(first.name)
    assert "exists already" in said(weigh)
    edits.remove_draft()
    assert [d.name for d in workspace.case.drafts] == [first.name]
    edits.new_draft()
    assert workspace.draft.prescription == first.prescription
    assert workspace.draft.beams == ()


def test_the_ring_is_here_too(weigh):
    ring, view = weigh.stage.ring, weigh.context.stage.view_of("z")
    assert ring in weigh.context.stage.layers
    assert view.rect().contains(ring.spoke_end(view, "a").toPoint())
    assert ring.ring(view).on_rim(QPointF(ring.ring(view).at(123, 1.0)), 1.0)


def test_the_pictures_stay_where_they_are_when_the_first_dose_comes(qtbot, bare_window, stub):
    """A second beam is aimed at the ring while the dose of the first arrives."""
    case = planned_case()
    bare_window.context.workspace.open(case.but(drafts=(case.drafts[0].but(beams=(), weights=()),)))
    bare_window.go("aim")
    station, view = bare_window.station, bare_window.stage.view_of("z")
    QTest.qWait(0)
    before = view.mapTo(bare_window, view.rect().topLeft()), view.size()
    station.desk.beams.add(0.0)
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    qtbot.waitUntil(lambda: bool(bare_window.stage.strip._shade))
    assert (view.mapTo(bare_window, view.rect().topLeft()), view.size()) == before
