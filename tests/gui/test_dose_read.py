"""While stored or fine doses are read in the volumes, what is shown and said is true of them; no ghost without a change."""

from __future__ import annotations

import pytest

from app.panels.dose_state import DoseState
from engine.case import edits
from tests.gui.test_plan_follow import current, desk, settled  # noqa: F401  (fixtures)
from tests.support.cases import flat_results, planned_case

pytestmark = pytest.mark.gui


def test_the_quick_dose_stays_while_the_fine_one_is_read(qtbot, desk):  # noqa: F811
    said = []
    desk.follower.now_changed.connect(lambda now, state: said.append((state, desk.follower.reason)))
    desk.follower.set_active(True)
    settled(qtbot, desk)
    assert said == [("quick", ""), ("current", "")]


def reread(qtbot, desk, state_line):  # noqa: F811
    """Settle, and return what was said in the meantime."""
    said = []
    desk.follower.now_changed.connect(lambda *_: said.append(state_line.words.text()))
    settled(qtbot, desk)
    return said


def test_stored_doses_are_said_to_be_read_while_they_are(qtbot, desk):  # noqa: F811
    case = planned_case()
    line = DoseState(desk.follower)
    qtbot.addWidget(line)
    desk.workspace.open(case, flat_results(case))
    follower = desk.follower
    assert (follower.state, follower.reading, follower.reason) == ("none", True, "")
    assert "being read" in line.words.text()
    assert line.compute.isHidden()
    assert "Fine dose" in reread(qtbot, desk, line)[-1]
    assert not follower.reading
    assert not follower.is_old


def test_reading_that_was_stopped_is_taken_up_again(qtbot, desk):  # noqa: F811
    case = planned_case()
    desk.workspace.open(case, flat_results(case))
    assert desk.follower.reading
    desk.follower.cancel()
    desk.follower.compute()
    settled(qtbot, desk)
    assert desk.follower.state == "current"


def test_another_volume_makes_the_dose_read_again_and_not_old(qtbot, current, stub):  # noqa: F811
    asked = len(stub.asked)
    line = DoseState(current.follower)
    qtbot.addWidget(line)
    workspace, before = current.workspace, current.workspace.case
    for n in range(1, 6):  # more than are kept
        workspace.edit("Add", edits.with_volume(workspace.case, before.volume("cord").but(key=f"cord{n}", name=f"C{n}")))
        assert (current.follower.state, current.follower.reason) == ("out of date", "volumes changed")
        assert current.follower.reading
        assert "being read" in line.words.text()
        settled(qtbot, current)
    for _ in range(5):
        workspace.undo_stack.undo()
    assert current.follower.reading
    assert "being read" in line.words.text()
    assert "Fine dose" in reread(qtbot, current, line)[-1]
    assert len(stub.asked) == asked


def test_a_plan_that_has_come_back_to_what_it_was_needs_no_ghost(qtbot, current, stub):  # noqa: F811
    line = DoseState(current.follower)
    qtbot.addWidget(line)
    stub.gate.clear()
    current.beams.set_gantry("a", 40)
    current.workspace.undo_stack.undo()  # before the dose of the turned beam was there
    assert current.follower.state == "current"
    assert current.follower.ghost is None
    assert line.accept.isHidden()
    assert "Thin lines" not in line.words.text()
    stub.gate.set()
    for weight in (1.2, 1.0, 1.4):  # a hand that passes the place it started at
        current.beams.set_weight("a", weight, "weight")
        assert (current.follower.ghost is None) == (weight == 1.0)
    current.workspace.end_merge()
