"""A sum of drafts: shown in place of the draft, in Gy and as EQD2, named everywhere, gone when a member changes."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.models.sum_tables import GOALS
from engine.case import edits
from engine.evaluation.radiobiology import eqd2
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def two(qtbot, bare_window, stub):
    """Weigh with a first course of 60 Gy in 30 and an active boost of 16 Gy in 4, both with their dose."""
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    station = bare_window.station
    current = lambda: station.desk.follower.state == "current"  # noqa: E731
    qtbot.waitUntil(current, timeout=60000)
    station.desk.draft.rename_draft("First")
    station.desk.draft.duplicate_draft()
    station.desk.draft.rename_draft("Boost")
    station.desk.draft.prescribe(16, 4, "ptv")
    station.desk.beams.set_weight("p", 3.0)
    qtbot.waitUntil(current, timeout=60000)
    return station


def add(qtbot, station, *names: str) -> None:
    """Open the menu and tick drafts by name."""
    for name in names:
        menu = station.drafts.sum_with.menu()
        menu.aboutToShow.emit()
        next(a for a in menu.actions() if a.text() == name).trigger()
    qtbot.waitUntil(lambda: station.summing.plan.now is not None, timeout=60000)


def said(station) -> str:
    kept = station.context.messages.kept
    return kept[-1].text if kept else ""


def goal_cells(station, row: int) -> dict[str, str]:
    model = station.summing.ledger.goals
    return {c: model.index(row, i).data() for i, c in enumerate(GOALS)}


def volume_row(station, name: str) -> list[str]:
    model = station.summing.ledger.volumes
    rows = [[model.index(r, c).data() for c in range(model.columnCount())] for r in range(model.rowCount())]
    return next(r for r in rows if r[0] == name)


def test_a_sum_stands_in_place_of_the_draft_and_says_so_everywhere(qtbot, two):
    stage, case = two.context.stage, two.context.workspace.case
    steps = two.context.workspace.undo_stack.count()
    add(qtbot, two, "First")
    words, summing = "sum of Boost and First", two.summing
    assert two.stage.sum_words in stage.layers
    assert two.stage.ring not in stage.layers, "its beams are nobody's"
    assert two.stage.sum_words.shown_in(stage.view_of("x"))
    assert summing.plan.title() == words
    assert summing.dvh_box.plot.headline() == words
    assert summing.ledger.heading.text() == summing.panel.heading.text() == "Sum of Boost and First"
    assert two.bottom() is summing.below
    assert two.weights.isHidden()
    assert two.prescription.isHidden()
    assert summing.panel.isVisible()
    assert two.state_line() == "a sum is shown"
    assert "First: 60 Gy in 30 × 2.00 Gy to PTV" in summing.panel.courses.text()
    assert "Boost: 16 Gy in 4 × 4.00 Gy to PTV" in summing.panel.courses.text()
    assert two.context.workspace.case is case, "nothing is kept with the case"
    assert two.context.workspace.undo_stack.count() == steps


def test_the_words_are_painted_on_every_plane(qtbot, two):
    add(qtbot, two, "First")
    for axis in "zxy":
        view = two.context.stage.view_of(axis)
        with_words = view.grab().toImage()
        two.context.stage.remove_layer(two.stage.sum_words)
        without = view.grab().toImage()
        two.context.stage.add_layer(two.stage.sum_words)
        assert with_words != without


def test_the_physical_sum_keeps_the_courses_apart(qtbot, two):
    boost = two.desk.follower.now
    two.context.workspace.activate(draft=two.context.workspace.case.drafts[0].key)
    qtbot.waitUntil(lambda: two.desk.follower.state == "current", timeout=60000)
    first, point = two.desk.follower.now, (0.0, 10.0, 0.0)
    add(qtbot, two, "Boost")
    a, b = sum(first.point(point)), sum(boost.point(point))
    assert (
        two.stage.dose.readout(point) == f"sum {a + b:.2f} Gy = {a:.2f} ({a / 30:.2f}) + {b:.2f} ({b / 4:.2f}) a fraction"
    )
    assert two.stage.dose.reference_gy == 76
    means = [now.dvhs["cord"].mean_gy for now in (first, boost)]
    row = volume_row(two, "SpinalCord")
    assert row[2:5] == [
        f"{means[0]:.1f} ({means[0] / 30:.2f})",
        f"{means[1]:.1f} ({means[1] / 4:.2f})",
        f"{sum(means):.1f}",
    ]
    cells = goal_cells(two, 1)
    assert (cells["volume"], cells["metric"], cells["origin"]) == ("SpinalCord", "Max[Gy]", "First, Boost")
    assert cells["achieved"] == f"{two.summing.plan.now.dvhs['cord'].max_gy:.1f} Gy"
    assert "physical dose" in two.summing.ledger.quantity.text()
    assert "physical dose" in two.levels.heading.text()
    assert two.summing.dvh_box.plot._quantity() == "physical dose in Gy"


def test_eqd2_is_labelled_with_its_alpha_beta_everywhere(qtbot, two):
    add(qtbot, two, "First")
    plan, point = two.summing.plan, (0.0, 10.0, 0.0)
    boost, first = plan.found.physical.point(point)
    QTest.mouseClick(two.summing.panel.eqd2, Qt.MouseButton.LeftButton)
    total = eqd2(boost, 4, 3) + eqd2(first, 30, 3)
    assert two.stage.dose.readout(point).startswith(f"sum {total:.2f} Gy EQD2 (α/β 3 Gy) of {boost:.2f} ({boost / 4:.2f})")
    assert two.stage.sum_words.quantity(True) == ("EQD2 in Gy, α/β 3 Gy, common practice", "100 % = 82.4 Gy")
    assert two.levels.heading.text() == "Isodose lines: sum, EQD2, α/β 3 Gy"
    cells = goal_cells(two, 1)
    assert cells["achieved"].endswith(" Gy EQD2")
    assert cells["alpha_beta"] == "3 Gy"
    plot = two.summing.dvh_box.plot
    plot.resize(420, 260)
    dvh = plan.now.dvhs["ptv"]
    words = plot.words_at(plot._at(dvh.d_gy(40.0), 40.0))
    assert f"{dvh.d_gy(40.0):.1f} Gy EQD2 or more" in words
    assert words.endswith("EQD2: α/β 10 Gy, common practice")
    assert plot._quantity() == "EQD2 in Gy"
    assert "α/β: common practice" in two.summing.ledger.quantity.text()
    two.stage.line.set_shown(True)
    assert two.stage.line.plot._of_sum == "EQD2 in Gy, α/β 3 Gy, common practice"


def test_alpha_beta_is_chosen_by_volume_and_of_the_picture(qtbot, two):
    add(qtbot, two, "First")
    plan, model = two.summing.plan, two.summing.ledger.volumes
    QTest.mouseClick(two.summing.panel.eqd2, Qt.MouseButton.LeftButton)
    row = next(r for r in range(model.rowCount()) if model.index(r, 0).data() == "SpinalCord")
    before = plan.now.dvhs["cord"].mean_gy
    assert volume_row(two, "SpinalCord")[1::5] == ["3", "common practice"]
    assert model.setData(model.index(row, 1), "2 Gy", Qt.ItemDataRole.EditRole)
    assert plan.alpha_beta("cord") == (3.0, "common practice"), (
        "what is shown was read with this until the new sum is there"
    )
    qtbot.waitUntil(lambda: plan.alpha_beta("cord") == (2.0, "chosen here"), timeout=60000)
    assert plan.now.dvhs["cord"].mean_gy != pytest.approx(before, abs=1e-3)
    assert volume_row(two, "SpinalCord")[1::5] == ["2", "chosen here"]
    assert "1 chosen here" in two.summing.ledger.quantity.text()
    two.summing.panel.picture.setValue(10.0)
    qtbot.waitUntil(lambda: plan.alpha_beta("body")[0] == 10.0, timeout=60000)
    assert two.stage.dose.reference_gy == pytest.approx(60 + eqd2(16, 4, 10))
    for wrong in ("few", "0"):
        assert not model.setData(model.index(row, 1), wrong, Qt.ItemDataRole.EditRole)
        assert "α/β" in said(two) or "alpha/beta" in said(two)
    assert model.setData(model.index(row, 1), "", Qt.ItemDataRole.EditRole)
    qtbot.waitUntil(lambda: plan.alpha_beta("cord") == (3.0, "common practice"), timeout=60000)


def test_a_sum_leaves_when_a_member_changes(qtbot, two):
    add(qtbot, two, "First")
    two.desk.beams.set_weight("p", 2.5)
    assert not two.summing.shown
    assert said(two) == "The sum of Boost and First is gone: Boost was changed."
    assert two.stage.ring in two.context.stage.layers
    assert two.stage.sum_words not in two.context.stage.layers
    assert two.bottom() is two.below
    assert two.weights.isVisible()
    assert two.stage.dose.now is two.desk.follower.now
    assert two.levels.heading.text() == "Isodose lines"


def test_it_leaves_for_other_reasons_too_and_says_which(qtbot, two):
    workspace = two.context.workspace
    add(qtbot, two, "First")
    case = workspace.case
    workspace.edit("x", edits.with_draft(case, case.drafts[0].but(prescription=None)))
    assert "First: the draft has no prescription" in said(two)
    workspace.undo_stack.undo()
    add(qtbot, two, "First")
    cord = case.volume("cord")
    workspace.edit("x", edits.with_volume(case, cord.with_coverage(case.volume("ptv").coverage)))
    assert "a volume was changed" in said(two)
    workspace.undo_stack.undo()
    qtbot.waitUntil(lambda: two.desk.follower.state == "current", timeout=60000)
    add(qtbot, two, "First")
    two.desk.draft.remove_draft()
    assert said(two) == "The sum of Boost and First is gone: Boost was removed."


def test_a_new_name_stays_in_the_sum(qtbot, two):
    add(qtbot, two, "First")
    two.desk.draft.rename_draft("Second")
    assert two.summing.plan.title() == "sum of Second and First"
    assert two.summing.dvh_box.plot.headline() == "sum of Second and First"


def test_drafts_without_a_current_dose_are_refused_in_words(qtbot, two):
    boost = two.context.workspace.draft.key
    two.desk.draft.new_draft()
    empty = two.context.workspace.draft.name
    two.context.workspace.activate(draft=boost)
    menu = two.drafts.sum_with.menu()
    menu.aboutToShow.emit()
    next(a for a in menu.actions() if a.text() == empty).trigger()
    assert not two.summing.shown
    assert said(two).startswith(f"{empty}: the draft has no beams")
    assert two.bottom() is two.below


def test_three_drafts_and_back(qtbot, two):
    boost = two.context.workspace.draft.key
    two.desk.draft.duplicate_draft()
    two.desk.draft.rename_draft("Third")
    two.context.workspace.activate(draft=boost)
    qtbot.waitUntil(lambda: two.desk.follower.state == "current", timeout=60000)
    add(qtbot, two, "First", "Third")
    assert two.summing.plan.title() == "sum of Boost, First and Third"
    assert two.summing.ledger.volumes.columnCount() == 8
    add(qtbot, two, "Third")  # its tick is taken away
    assert two.summing.plan.title() == "sum of Boost and First"
    QTest.mouseClick(two.summing.panel.leave, Qt.MouseButton.LeftButton)
    assert not two.summing.shown
    assert two.bottom() is two.below


def test_nothing_is_laid_beside_a_sum(qtbot, two):
    two.drafts.beside.setCurrentIndex(1)
    two.drafts.beside.activated.emit(1)
    qtbot.waitUntil(lambda: two.beside.other.now is not None, timeout=60000)
    add(qtbot, two, "First")
    assert two.beside.other.key == ""
    assert not two.drafts.beside.isEnabled()
    two.summing.plan.end()
    assert two.drafts.beside.isEnabled()


def test_other_stations_show_the_draft_and_the_sum_is_still_here_afterwards(qtbot, two):
    add(qtbot, two, "First")
    two.context.go("aim")
    assert two.stage.ring in two.context.stage.layers
    assert two.stage.dose.sum is None
    two.context.go("weigh")
    assert two.stage.dose.sum is two.summing.plan
    assert two.stage.sum_words in two.context.stage.layers


def test_another_active_draft_ends_the_sum(qtbot, two):
    two.desk.draft.new_draft()
    third = two.context.workspace.draft.key
    two.context.workspace.activate(draft=two.context.workspace.case.drafts[1].key)
    add(qtbot, two, "First")
    two.context.workspace.activate(draft=two.context.workspace.case.drafts[0].key)
    assert two.summing.shown, "a member is active"
    two.context.workspace.activate(draft=third)
    assert said(two) == "The sum of Boost and First is gone: another draft is active."


def test_the_tables_are_sound_models(qtbot, two, qtmodeltester):
    add(qtbot, two, "First")
    qtmodeltester.check(two.summing.ledger.goals, force_py=True)
    qtmodeltester.check(two.summing.ledger.volumes, force_py=True)


def test_with_long_names_the_foot_line_and_the_ledger_end_in_no_cut_word_on_a_small_screen(qtbot, two):
    two.desk.draft.rename_draft("Draft of the left upper lobe, four fields, wedged, boost")
    add(qtbot, two, "First")
    stage, ledger = two.context.stage, two.summing.ledger
    QTest.mouseClick(two.summing.panel.eqd2, Qt.MouseButton.LeftButton)
    for eqd2_shown in (True, False):
        two.summing.panel.eqd2.setChecked(eqd2_shown)
        two.summing.panel.physical.setChecked(not eqd2_shown)
        stage.tell_again()
        line = stage.line
        assert line.text().endswith("a fraction")
        assert "\u2026" not in line.text()
        assert line.words.fontMetrics().horizontalAdvance(line.text()) <= line.width()
    heading = ledger.heading
    assert heading.fontMetrics().horizontalAdvance(heading.text()) <= heading.width()
    assert heading.text().startswith("Sum of ")
    assert heading.text().endswith("and First")
    assert "boost and First" in heading.toolTip()
