"""Doses follow the draft: quick, then fine, never an old one shown as current; weights without any computation."""

from __future__ import annotations

import threading
from itertools import pairwise

import pytest
from PySide6.QtTest import QTest

from app.core import dose_jobs
from app.core.jobs import JobRunner
from app.core.plan_desk import PlanDesk
from app.core.workspace import Workspace
from engine.base.errors import GeometryError
from engine.case import edits
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def desk(qtbot, stub, monkeypatch):
    monkeypatch.setattr(dose_jobs, "FOLLOW_MS", 0.0)
    monkeypatch.setattr(dose_jobs, "GAIN", 0.0)
    workspace = Workspace()
    jobs = JobRunner()
    made = PlanDesk.of(workspace, jobs)
    workspace.open(planned_case())
    yield made
    stub.gate.set()
    jobs.close()
    for thing in (jobs, workspace):
        thing.deleteLater()
    QTest.qWait(0)


@pytest.fixture
def current(qtbot, desk):
    desk.follower.set_active(True)
    qtbot.waitUntil(lambda: desk.follower.state == "current", timeout=60000)
    return desk


def settled(qtbot, desk):
    qtbot.waitUntil(lambda: desk.follower.state == "current" and not desk.follower.asks.running, timeout=60000)


def idle(desk):
    """Whether no dose is asked for, now or when the rest is over."""
    asks = desk.follower.asks
    return not asks.running and not asks._settle.isActive()


def test_nothing_is_computed_until_a_station_wants_dose(qtbot, desk, stub):
    assert idle(desk)
    assert desk.follower.state == "none"
    assert stub.asked == []


def test_quick_dose_comes_first_and_the_fine_one_settles(qtbot, desk, stub):
    states = []
    desk.follower.now_changed.connect(lambda now, state: states.append(state))
    desk.follower.set_active(True)
    settled(qtbot, desk)
    assert stub.qualities == ["quick", "quick", "fine", "fine"]
    assert states.index("quick") < states.index("current")


def test_a_weight_moves_mu_and_dvh_in_the_same_call_without_computing(current, stub):
    asked, before = len(stub.asked), current.follower.now
    current.beams.set_weight("a", 2.0)
    now = current.follower.now
    assert now is not before
    assert current.follower.state == "current"
    assert now.mu[0] == pytest.approx(2 * now.mu[1])
    assert now.dvhs["cord"].mean_gy < before.dvhs["cord"].mean_gy  # the cord lies behind; more comes from the front
    assert len(stub.asked) == asked


def test_normalisation_changes_mu_without_computing(current, stub):
    asked, before = len(stub.asked), current.follower.now.mu
    current.draft.normalise("Isocentre")
    now = current.follower.now
    assert sum(now.point((0, 0, 0))) == pytest.approx(60, rel=1e-3)
    assert now.mu != before
    current.draft.normalise("None")
    assert current.follower.now.mu == pytest.approx((100, 100))
    assert len(stub.asked) == asked


def test_geometry_change_marks_the_dose_old_and_says_what_changed(qtbot, current, stub):
    stub.gate.clear()
    before = current.follower.now
    current.beams.set_gantry("a", 40)
    f = current.follower
    assert (f.state, f.is_old, f.now) == ("out of date", True, before)
    assert f.reason == "AP gantry changed"
    stub.gate.set()
    qtbot.waitUntil(lambda: f.state == "quick", timeout=60000)
    settled(qtbot, current)
    assert f.now is not before
    assert f.reason == ""


def test_only_the_beam_that_changed_is_computed(qtbot, current, stub):
    stub.asked.clear()
    current.beams.set_gantry("a", 40)
    settled(qtbot, current)
    assert [(r.quality, r.beam.gantry_deg) for r in stub.asked] == [("quick", 40), ("fine", 40)]


def test_a_quick_dose_that_hardly_comes_sooner_is_not_asked_for(qtbot, current, stub, monkeypatch):
    monkeypatch.setattr(dose_jobs, "GAIN", 1e9)
    stub.asked.clear()
    current.beams.set_gantry("a", 40)
    settled(qtbot, current)
    assert [(r.quality, r.beam.gantry_deg) for r in stub.asked] == [("fine", 40)]


def test_a_fine_dose_that_is_fast_enough_follows_the_hand(qtbot, current, stub, monkeypatch):
    monkeypatch.setattr(dose_jobs, "FOLLOW_MS", 60000.0)
    states = []
    current.follower.now_changed.connect(lambda now, state: states.append(state))
    stub.asked.clear()
    current.beams.set_gantry("a", 40)
    settled(qtbot, current)
    assert [(r.quality, r.beam.gantry_deg) for r in stub.asked] == [("fine", 40)]
    assert "quick" not in states
    stub.asked.clear()
    stub.gate.clear()
    current.beams.set_gantry("a", 41, "gantry")
    qtbot.waitUntil(lambda: len(stub.asked) == 1)
    for angle in range(42, 60):
        current.beams.set_gantry("a", angle, "gantry")
    current.workspace.end_merge()
    stub.gate.set()
    settled(qtbot, current)
    assert [(r.quality, r.beam.gantry_deg) for r in stub.asked] == [("fine", 41), ("fine", 59)]


class Turnstile:
    """A gate that lets one through for each ``release``."""

    def __init__(self):
        self._tokens = threading.Semaphore(0)
        self.release = self._tokens.release

    def wait(self, seconds):
        return self._tokens.acquire(timeout=seconds)

    def set(self):
        for _ in range(1000):
            self._tokens.release()


def test_doses_of_a_drag_the_hand_has_left_behind_do_not_fill_the_memory(qtbot, current, stub, monkeypatch):
    monkeypatch.setattr(dose_jobs, "FOLLOW_MS", 60000.0)
    before = len(current.workspace.results)
    start = current.workspace.draft
    stub.asked.clear()
    stub.gate = Turnstile()
    shown = []
    current.follower.now_changed.connect(lambda now, state: shown.append(current.follower.shown_draft.beams[0].gantry_deg))
    current.beams.set_gantry("a", 1, "gantry")
    for n in range(1, 12):
        qtbot.waitUntil(lambda n=n: len(stub.asked) == n)
        # While one is computed the hand goes on: that one is left behind before it has come.
        current.beams.set_gantry("a", n + 1, "gantry")
        stub.gate.release()
    current.workspace.end_merge()
    stub.gate.set()
    settled(qtbot, current)
    assert [r.beam.gantry_deg for r in stub.asked] == list(range(1, 13))
    assert set(range(1, 13)) <= set(shown)
    assert len(current.workspace.results) == before + dose_jobs.PASSED_KEPT + 1
    stub.asked.clear()
    current.workspace.undo_stack.undo()
    settled(qtbot, current)
    assert current.workspace.draft.beams == start.beams
    assert stub.asked == []


def test_a_dose_the_hand_comes_back_to_is_kept_however_long_it_drags_on_afterwards(qtbot, current, stub, monkeypatch):
    monkeypatch.setattr(dose_jobs, "FOLLOW_MS", 60000.0)
    stub.asked.clear()
    stub.gate = Turnstile()

    def drag(angles):
        for angle, onward in pairwise(angles):
            current.beams.set_gantry("a", angle, "gantry")
            qtbot.waitUntil(lambda angle=angle: angle in [r.beam.gantry_deg for r in stub.asked])
            current.beams.set_gantry("a", onward, "gantry")
            stub.gate.release()

    drag([10, 11, 12])
    qtbot.waitUntil(lambda: stub.asked[-1].beam.gantry_deg == 12)
    stub.gate.set()
    current.beams.set_gantry("a", 11, "gantry")
    current.workspace.end_merge()
    settled(qtbot, current)
    stub.gate = Turnstile()
    drag(list(range(20, 30)))
    current.workspace.end_merge()
    stub.gate.set()
    settled(qtbot, current)
    stub.asked.clear()
    current.workspace.undo_stack.undo()
    settled(qtbot, current)
    assert current.workspace.draft.beams[0].gantry_deg == 11
    assert [(r.quality, r.beam.gantry_deg) for r in stub.asked] == []


def test_undo_finds_the_old_dose_again_for_nothing(qtbot, current, stub):
    before = current.follower.now.dvhs["ptv"].mean_gy
    current.beams.set_gantry("a", 40)
    settled(qtbot, current)
    stub.asked.clear()
    current.workspace.undo_stack.undo()
    settled(qtbot, current)
    assert current.follower.now.dvhs["ptv"].mean_gy == before
    assert stub.asked == []


def test_the_last_of_a_long_drag_is_never_lost(qtbot, current, stub):
    stub.gate.clear()
    stub.asked.clear()
    current.beams.set_gantry("a", 1, "gantry")
    qtbot.waitUntil(lambda: len(stub.asked) == 1)
    for angle in range(2, 30):
        current.beams.set_gantry("a", angle, "gantry")
    current.workspace.end_merge()
    stub.gate.set()
    settled(qtbot, current)
    quick = [r.beam.gantry_deg for r in stub.asked if r.quality == "quick"]
    # What ran is let end; of what waited behind it only the last is computed.
    assert quick == [1, 29]
    assert current.follower.shown_draft.beams[0].gantry_deg == 29
    assert current.workspace.undo_stack.count() == 1


def test_cancel_keeps_the_old_dose_marked_until_asked_again(qtbot, current, stub):
    stub.gate.clear()
    current.beams.set_gantry("a", 40)
    qtbot.waitUntil(lambda: current.follower.asks.running == "quick")
    current.follower.cancel()
    qtbot.waitUntil(lambda: not current.follower.asks.running)
    stub.gate.set()
    assert idle(current)
    assert current.follower.state == "out of date"
    assert current.follower.asks.halted
    current.follower.compute()
    settled(qtbot, current)


def test_a_change_after_cancel_computes_again(qtbot, current, stub):
    stub.gate.clear()
    current.beams.set_gantry("a", 40)
    current.follower.cancel()
    stub.gate.set()
    current.beams.set_gantry("a", 41)
    settled(qtbot, current)
    assert current.follower.shown_draft.beams[0].gantry_deg == 41


def test_a_refused_dose_is_said_and_not_tried_again(qtbot, current, stub):
    stub.asked.clear()
    stub.error = GeometryError("the beam misses the patient", "beam AP", "Turn it.")
    current.beams.set_gantry("a", 40)
    qtbot.waitUntil(lambda: bool(current.follower.asks.failure))
    assert "misses the patient" in current.follower.asks.failure
    qtbot.waitUntil(lambda: idle(current))
    assert len(stub.asked) == 1
    assert current.follower.is_old


def test_the_plan_before_the_change_stays_as_ghost_until_accepted(current):
    before = current.follower.now
    for weight in (1.2, 1.4, 1.6):
        current.beams.set_weight("a", weight, "weight")
    assert current.follower.ghost is before
    current.workspace.end_merge()
    middle = current.follower.now
    current.beams.set_weight("p", 0.5)
    assert current.follower.ghost is middle
    current.follower.accept()
    assert current.follower.ghost is None


def test_goals_and_levels_leave_no_ghost(current):
    current.draft.set_levels((100, 50))
    current.draft.put_goal(None, "cord", metric="Mean[Gy]", comparator="<=", limit=30.0)
    assert current.follower.ghost is None
    assert len(current.follower.now.goals) == 3


def test_all_weights_zero_say_so_instead_of_a_dose(current):
    current.beams.set_weight("a", 0)
    current.beams.set_weight("p", 0)
    assert "weight zero" in current.follower.problem
    assert current.follower.now.scale is None


def test_renaming_a_volume_leaves_the_dose_current(current, stub):
    workspace, asked = current.workspace, len(stub.asked)
    workspace.edit("Rename", edits.with_volume(workspace.case, workspace.case.volume("cord").but(name="Cord")))
    assert current.follower.state == "current"
    assert len(stub.asked) == asked


def test_another_draft_has_its_own_dose_and_the_first_is_found_again(qtbot, current, stub):
    first = current.workspace.draft.key
    current.draft.new_draft()
    assert (current.follower.state, current.follower.now) == ("none", None)
    stub.asked.clear()
    current.workspace.activate(draft=first)
    settled(qtbot, current)
    assert stub.asked == []


def test_one_desk_for_one_workspace(desk):
    assert PlanDesk.of(desk.workspace, JobRunner) is desk


def test_doses_nobody_asks_for_are_let_go_beyond_the_budget(qtbot, current, stub, monkeypatch):
    from app.core import dose_jobs
    from engine.case.requests import dose_requests

    for angle in (10, 20, 30):
        current.beams.set_gantry("a", angle)
        settled(qtbot, current)
    monkeypatch.setattr(dose_jobs, "KEPT_BYTES", {"quick": 0, "fine": 0})
    current.beams.set_gantry("a", 40)
    settled(qtbot, current)
    workspace = current.workspace
    needed = {r.fingerprint for q in ("quick", "fine") for r in dose_requests(workspace.case, workspace.draft, q)}
    qtbot.waitUntil(lambda: set(workspace.results) == needed, timeout=5000)
    assert current.follower.state == "current"


def test_a_result_that_is_nothing_to_the_plan_draws_and_evaluates_nothing_anew(current):
    told, now = [], current.follower.now
    current.follower.now_changed.connect(lambda *state: told.append(state))
    dose = now.basis.request.doses[0]
    current.workspace.file_result(dose.but(inputs="of another plan"))
    assert current.follower.now is now
    assert told == []
    current.beams.set_weight("a", 2.0)
    assert current.follower.now is not now
    assert len(told) == 1
