"""Weights balanced by the machine: asked for, compared, accepted as one step, declined without a trace, lapsed."""

from __future__ import annotations

import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.models.balance_tables import GOAL_COLUMNS
from engine import compute
from engine.base.errors import InputError
from engine.base.progress import quiet
from engine.case import edits
from engine.evaluation.goals import Goal
from engine.optimise.balance import balance
from tests.gui.test_number_box import write
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton
# The beam from the back enters through the cord.
CORD = Goal("cord", "Max[Gy]", "<=", 60)
FLAT = Goal("ptv", "D2%[%]", "<=", 112, 0.0, 2)


def case_to_balance(*goals: Goal):
    case = planned_case()
    draft = case.drafts[0]
    return edits.with_draft(case, draft.but(goals=goals or (draft.goals[0], CORD, FLAT)))


@pytest.fixture
def weigh(qtbot, bare_window, stub):
    bare_window.context.workspace.open(case_to_balance())
    bare_window.go("weigh")
    station = bare_window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    return station


@pytest.fixture
def gate(answer):
    """Hold the optimiser back until it is set; tells what was asked."""
    held = threading.Event()
    held.asked = []

    def slow(request, report=quiet):
        held.asked.append(request)
        while not held.wait(0.005):
            report(0.4, "waiting")
        return balance(request, report)

    answer("BalanceRequest", slow)
    return held


def click(button) -> None:
    assert button.isVisible()
    assert button.isEnabled()
    QTest.mouseClick(button, LEFT)


def proposed(qtbot, weigh) -> None:
    if weigh.balance.isHidden():
        # Not offered while a dose is computed.
        qtbot.waitUntil(weigh.balance_button.isVisible, timeout=60000)
        click(weigh.balance_button)
    click(weigh.balance.run)
    qtbot.waitUntil(lambda: weigh.desk.balance.state == "proposed", timeout=60000)


def cell(model, row, name) -> str:
    return model.index(row, model.columns.index(name)).data()


def test_the_place_opens_instead_of_the_ledger_and_closes(weigh):
    click(weigh.balance_button)
    assert weigh.balance.isVisible()
    assert not weigh.goals.isVisible()
    assert weigh.dvh.isVisible()
    assert "Tick the goals" in weigh.balance.said.text()
    click(weigh.balance.close_button)
    assert weigh.goals.isVisible()
    assert not weigh.balance.isVisible()


def test_hand_and_proposal_stand_side_by_side_before_anything_changes(qtbot, weigh):
    workspace, panel, follower = weigh.context.workspace, weigh.balance, weigh.desk.follower
    case, mine, steps = workspace.case, follower.now, workspace.undo_stack.count()
    proposed(qtbot, weigh)
    assert workspace.case is case
    assert workspace.undo_stack.count() == steps
    assert [cell(panel.beams, i, "hand") for i in (0, 1)] == ["1", "1"]
    front, back = (float(cell(panel.beams, i, "offered")) for i in (0, 1))
    assert front > 1 > back
    assert cell(panel.goals, 1, "demand") == "Max ≤ 60 Gy"
    assert cell(panel.goals, 1, "hand").endswith("▲")
    assert cell(panel.goals, 1, "offered").endswith("●")
    assert "3 of 3 met, yours 2" in panel.said.text()
    # The proposal is drawn, the hand's plan as the thin lines.
    assert follower.ghost is mine
    assert follower.now.mu == pytest.approx(weigh.desk.balance.result.mu_after)
    assert weigh.weights.model.index(0, 2).data() == f"{weigh.desk.balance.offered.weights[0]:.3f}".rstrip("0")
    assert weigh.weights.model.index(0, 2).data(Qt.ItemDataRole.EditRole) == "1"
    # On the ring spokes end where the hand has them, diamonds where the proposal would.
    view, layer = weigh.context.stage.view_of("z"), weigh.stage.ring
    ring = layer.ring(view)
    (_, out), (_, short) = layer.offered_shares(ring)
    before = view.grab().toImage()
    assert out > short
    panel.seen.setChecked(False)
    assert layer.offered_shares(ring) == []
    assert before != view.grab().toImage()
    assert follower.now.mu == mine.mu
    assert follower.ghost is None
    panel.seen.setChecked(True)
    assert follower.now.mu != mine.mu


def test_accepting_is_one_step_and_undo_takes_it_back(qtbot, weigh):
    workspace, follower = weigh.context.workspace, weigh.desk.follower
    before, mine, steps = workspace.draft, follower.now, workspace.undo_stack.count()
    proposed(qtbot, weigh)
    wanted = weigh.desk.balance.offered.weights
    click(weigh.balance.accept)
    assert workspace.draft.weights == wanted
    assert workspace.undo_stack.count() == steps + 1
    assert workspace.undo_stack.undoText() == "Balance weights"
    assert follower.trial is None
    assert follower.ghost.mu == mine.mu
    assert follower.shown_draft == workspace.draft
    assert "undo takes them back" in weigh.balance.said.text()
    workspace.undo_stack.undo()
    assert workspace.draft == before
    assert follower.now.mu == pytest.approx(mine.mu)


def test_the_keys_open_it_and_accept_what_is_proposed(qtbot, weigh):
    by_name = {a.shortcut().toString(): a for a in weigh.actions()}
    by_name["Ctrl+B"].trigger()
    assert weigh.balance.isVisible()
    assert weigh.balance_button.isChecked()
    proposed(qtbot, weigh)
    by_name["Ctrl+Return"].trigger()
    assert weigh.context.workspace.draft.weights != (1.0, 1.0)
    assert weigh.desk.follower.ghost is not None
    by_name["Ctrl+Return"].trigger()  # and then lets the thin lines go, as ever
    assert weigh.desk.follower.ghost is None


def test_declining_leaves_no_trace(qtbot, weigh):
    workspace, follower = weigh.context.workspace, weigh.desk.follower
    weigh.desk.beams.set_weight("a", 1.5)
    case, ghost, now, steps = workspace.case, follower.ghost, follower.now, workspace.undo_stack.count()
    held = set(workspace.results)
    assert ghost is not None
    proposed(qtbot, weigh)
    click(weigh.balance.keep)
    assert workspace.case is case
    assert workspace.undo_stack.count() == steps
    assert set(workspace.results) == held
    assert follower.trial is None
    assert follower.ghost is ghost
    assert follower.now.mu == pytest.approx(now.mu)
    assert weigh.desk.balance.result is None
    assert cell(weigh.balance.beams, 0, "offered") == "–"


def test_a_read_only_case_keeps_its_weights_and_the_proposal(qtbot, weigh):
    proposed(qtbot, weigh)
    weigh.context.workspace.read_only = True
    click(weigh.balance.accept)
    assert weigh.context.workspace.draft.weights == (1.0, 1.0)
    assert weigh.desk.balance.state == "proposed"
    assert weigh.desk.follower.trial is not None
    assert "read-only" in weigh.context.messages.kept[-1].text


def test_nothing_better_is_told_and_cannot_be_accepted(qtbot, weigh):
    proposed(qtbot, weigh)
    click(weigh.balance.accept)
    accepted = weigh.context.workspace.draft
    proposed(qtbot, weigh)
    assert "Nothing better" in weigh.balance.said.text()
    assert not weigh.balance.accept.isEnabled()
    assert not weigh.desk.balance.accept()
    assert weigh.context.workspace.draft is accepted


def test_what_is_worked_at_shows_progress_and_is_cancelled(qtbot, weigh, gate):
    click(weigh.balance_button)
    click(weigh.balance.run)
    panel = weigh.balance
    qtbot.waitUntil(lambda: panel.bar.value() > 0)
    assert panel.bar.isVisible()
    assert not panel.run.isVisible()
    click(panel.cancel)
    qtbot.waitUntil(lambda: not weigh.context.jobs.busy())
    assert weigh.desk.balance.state == "idle"
    assert "weights are yours" in panel.said.text()
    gate.set()
    proposed(qtbot, weigh)
    assert weigh.desk.balance.result is not None


@pytest.mark.parametrize(
    ("change", "word"),
    [
        (lambda w: w.desk.beams.set_gantry("a", 20), "beams"),
        (lambda w: w.desk.beams.set_weight("a", 3.0), "weights"),
        (lambda w: w.desk.draft.remove_goals([0]), "goals"),
        (lambda w: w.desk.draft.normalise("Mean"), "normalisation"),
        (lambda w: w.desk.draft.prescribe(50, 25, "ptv"), "prescription"),
        (lambda w: w.desk.draft.compute_on(4.0), "dose grid"),
        (lambda w: w.desk.draft.duplicate_draft(), "draft"),
    ],
)
@pytest.mark.parametrize("while_running", [False, True])
def test_a_proposal_lapses_visibly_with_what_it_was_made_for(qtbot, weigh, gate, change, word, while_running):
    if while_running:
        click(weigh.balance_button)
        click(weigh.balance.run)
        qtbot.waitUntil(lambda: len(gate.asked) == 1)
    else:
        gate.set()
        proposed(qtbot, weigh)
    change(weigh)
    b = weigh.desk.balance
    assert b.state == "lapsed"
    assert weigh.desk.follower.trial is None
    assert "Lapsed" in weigh.balance.said.text()
    assert word in weigh.balance.said.text()
    assert not weigh.balance.accept.isVisible()
    assert not b.accept()
    gate.set()
    qtbot.waitUntil(lambda: not weigh.context.jobs.busy(), timeout=60000)
    assert b.state == "lapsed"


def test_what_does_not_matter_lets_it_stand(qtbot, weigh):
    proposed(qtbot, weigh)
    weigh.desk.draft.rename_draft("Other name")
    weigh.desk.draft.set_levels((100.0, 50.0))
    assert weigh.desk.balance.state == "proposed"
    assert weigh.desk.follower.trial is not None
    click(weigh.balance.accept)
    draft = weigh.context.workspace.draft
    assert draft.name == "Other name"
    assert draft.weights != (1.0, 1.0)


def test_another_station_shows_the_draft_as_it_is(qtbot, weigh):
    mine = weigh.desk.follower.now
    proposed(qtbot, weigh)
    weigh.context.go("aim")
    assert weigh.desk.follower.trial is None
    assert weigh.desk.follower.now.mu == mine.mu
    weigh.context.go("weigh")
    assert weigh.desk.follower.trial is not None


def test_only_ticked_goals_count_and_bounds_are_asked_for(qtbot, weigh, gate):
    click(weigh.balance_button)
    panel = weigh.balance
    tick = panel.goal_table.visualRect(panel.goals.index(2, GOAL_COLUMNS.index("counts")))
    QTest.mouseClick(panel.goal_table.viewport(), LEFT, Qt.KeyboardModifier.NoModifier, tick.center())
    assert len(panel.goals.counting()) == 2
    panel.least.setValue(10)
    panel.most.setValue(400)
    click(panel.run)
    gate.set()
    qtbot.waitUntil(lambda: weigh.desk.balance.state == "proposed", timeout=20000)
    asked = gate.asked[0]
    assert [g.metric for g in asked.goals] == ["D95%[%]", "Max[Gy]"]
    assert (asked.least_mu, asked.most_mu) == (10, 400)
    assert cell(panel.goals, 2, "offered") == "–"


def test_without_any_ticked_goal_it_says_what_is_missing(weigh):
    click(weigh.balance_button)
    panel = weigh.balance
    for row in range(3):
        panel.goals.setData(panel.goals.index(row, 0), Qt.CheckState.Unchecked.value, Qt.ItemDataRole.CheckStateRole)
    click(panel.run)
    assert weigh.desk.balance.state == "failed"
    assert "no goal to serve" in panel.said.text()


@pytest.mark.parametrize("mended", ["most", "any", "least"])
def test_what_is_said_about_bounds_leaves_once_they_are_right(weigh, mended):
    click(weigh.balance_button)
    panel = weigh.balance
    panel.least.setValue(50)
    panel.most.setValue(20)
    click(panel.run)
    assert "lie above the most" in panel.said.text()
    panel.most.setValue(30)  # not yet
    assert "lie above the most" in panel.said.text()
    write(*{"most": (panel.most, "60"), "any": (panel.most, "0"), "least": (panel.least, "10")}[mended])
    assert weigh.desk.balance.state == "idle"
    assert "lie above" not in panel.said.text()


def test_a_refusal_is_told_in_the_place_itself(qtbot, weigh, answer):
    def refuse(request, report=quiet):
        raise InputError("these bounds leave no room", "weights", "Widen them.")

    answer("BalanceRequest", refuse)
    click(weigh.balance_button)
    click(weigh.balance.run)
    qtbot.waitUntil(lambda: weigh.desk.balance.state == "failed")
    assert "no room" in weigh.balance.said.text()
    assert weigh.tells("balance-weights")
    weigh.balance.least.setValue(5)  # it was not about these bounds
    assert "no room" in weigh.balance.said.text()
    click(weigh.balance.run)  # and can be tried again
    qtbot.waitUntil(lambda: weigh.desk.balance.state == "failed")


def test_goals_that_are_not_pushed_are_told(qtbot, weigh):
    workspace = weigh.context.workspace
    case = edits.with_volume(workspace.case, workspace.case.volume("cord").but(key="none", name="Nothing"))
    hollow = case.volume("none")
    case = edits.with_volume(case, hollow.with_coverage(hollow.coverage.but(tiles=())))
    draft = case.drafts[0]
    workspace.open(edits.with_draft(case, draft.but(goals=(*draft.goals, Goal("none", "Max[Gy]", "<=", 10)))))
    weigh.desk.follower.compute()
    qtbot.waitUntil(lambda: weigh.desk.follower.state == "current", timeout=60000)
    proposed(qtbot, weigh)
    assert "1 not pushed" in weigh.balance.said.text()
    tip = weigh.balance.goals.index(3, 1).data(Qt.ItemDataRole.ToolTipRole)
    assert "empty" in tip


def test_it_waits_for_the_fine_dose(qtbot, weigh, stub):
    click(weigh.balance_button)
    stub.gate.clear()
    weigh.desk.beams.set_gantry("a", 20)
    assert not weigh.balance.run.isEnabled()
    assert "fine dose" in weigh.balance.said.text()
    stub.gate.set()
    qtbot.waitUntil(lambda: weigh.desk.follower.state == "current", timeout=60000)
    assert weigh.balance.run.isEnabled()


def test_escape_stops_and_then_closes(qtbot, weigh, gate):
    click(weigh.balance_button)
    click(weigh.balance.run)
    qtbot.waitUntil(lambda: len(gate.asked) == 1)
    QTest.keyClick(weigh.balance.cancel, Qt.Key.Key_Escape)
    assert weigh.desk.balance.state == "idle"
    QTest.keyClick(weigh.balance.run, Qt.Key.Key_Escape)
    assert weigh.goals.isVisible()
    gate.set()


@pytest.mark.parametrize("which", ["beams", "goals"])
def test_the_tables_are_sound_models(qtbot, weigh, qtmodeltester, which):
    qtmodeltester.check(getattr(weigh.balance, which), force_py=True)
    proposed(qtbot, weigh)


def test_the_request_is_one_of_the_table(weigh):
    assert "BalanceRequest" in compute.TABLE
