"""Wedges tried with the weights: chosen, shown, accepted in the same step, declined without a trace."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt

from engine.base.progress import quiet
from engine.base.values import own_array
from engine.beams.machine_file import load_machine
from engine.beams.wedge import toe_direction
from engine.case import edits
from engine.evaluation.goals import Goal
from engine.space.frames import beam_from_patient
from tests.gui.test_balance import cell, click, proposed
from tests.support.cases import planned_case
from tests.support.stub_dose import beam_dose

pytestmark = pytest.mark.gui


def tilted(request, report=quiet):
    """Return the stub's dose, thinner towards the heel of the wedge."""
    made, beam = beam_dose(request), request.beam
    report(1.0)
    wedge = request.machine.wedge(beam.wedge)
    if wedge is None:
        return made
    z, y, x = np.meshgrid(made.grid.z_mm, made.grid.y_mm, made.grid.x_mm, indexing="ij")
    b = (np.stack([x, y, z], axis=-1) - beam.isocentre_mm) @ beam_from_patient("HFS", beam.gantry_deg, 0, 0).T
    toe = toe_direction(beam.wedge_orientation_deg)
    share = np.exp(0.0004 * wedge.angle_deg * (toe[0] * b[..., 0] + toe[1] * b[..., 1]))
    return made.but(gy=own_array((0.7 * share * made.gy).astype(np.float32)))


@pytest.fixture
def corner(qtbot, bare_window, answer):
    """Two beams at right angles on a machine with wedges: the dose is too high where both enter."""
    asked = []
    answer("DoseRequest", lambda request, report=quiet: asked.append(request) or tilted(request, report))
    case = edits.with_machine(planned_case(), load_machine("generic-6"))
    draft = case.drafts[0]
    beams = tuple(b.but(machine="generic-6", gantry_deg=g) for b, g in zip(draft.beams, (0, 270)))
    goals = (Goal("ptv", "D95%[%]", ">=", 95), Goal("ptv", "D2%[%]", "<=", 102))
    bare_window.context.workspace.open(edits.with_draft(case, draft.but(beams=beams, goals=goals)))
    bare_window.go("weigh")
    station = bare_window.station
    station.asked = asked
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    return station


def test_wedges_are_offered_only_where_a_machine_has_some(corner):
    click(corner.balance_button)
    assert corner.balance.wedges.isVisible()
    workspace = corner.context.workspace
    draft = workspace.draft
    case = edits.with_machine(workspace.case, load_machine("point-6"))
    plain = draft.but(beams=tuple(b.but(machine="point-6") for b in draft.beams))
    workspace.edit("Machine", edits.with_draft(case, plain))
    assert not corner.balance.wedges.isVisible()


def test_wedges_are_tried_shown_and_accepted_in_the_same_step(qtbot, corner):
    workspace, follower, panel = corner.context.workspace, corner.desk.follower, corner.balance
    before, kept, asked = workspace.draft, set(workspace.results), len(corner.asked)
    click(corner.balance_button)
    panel.wedges.setChecked(True)
    proposed(qtbot, corner)
    tried = corner.asked[asked:]
    assert sum(r.quality == "quick" for r in tried) == 2 * 17 - 2  # the open ones were known
    assert 1 <= sum(r.quality == "fine" for r in tried) <= 2
    offered = corner.desk.balance.offered
    assert all(b.wedge for b in offered.beams)
    assert "wedges: 2" in panel.said.text()
    assert "◺" in cell(panel.beams, 0, "name") or "+" in cell(panel.beams, 0, "name")
    assert "toe to" in panel.beams.index(0, 0).data(Qt.ItemDataRole.ToolTipRole)
    qtbot.waitUntil(lambda: follower.state == "current" and follower.shown_draft == offered, timeout=60000)
    assert [v for _, v, _ in follower.now.goals] == pytest.approx(
        [o.after for o in corner.desk.balance.result.outcomes], rel=1e-4
    )
    steps = workspace.undo_stack.count()
    click(panel.accept)
    assert workspace.undo_stack.count() == steps + 1
    assert workspace.undo_stack.undoText() == "Balance weights and wedges"
    assert workspace.draft.beams == offered.beams
    qtbot.waitUntil(lambda: follower.state == "current", timeout=60000)
    workspace.undo_stack.undo()
    assert workspace.draft == before
    assert kept <= set(workspace.results)


def test_declined_wedges_leave_no_trace_and_are_known_the_next_time(qtbot, corner):
    workspace, panel = corner.context.workspace, corner.balance
    case, kept = workspace.case, set(workspace.results)
    click(corner.balance_button)
    panel.wedges.setChecked(True)
    proposed(qtbot, corner)
    click(panel.keep)
    assert workspace.case is case
    assert set(workspace.results) == kept
    asked = len(corner.asked)
    proposed(qtbot, corner)
    assert len(corner.asked) == asked
    click(corner.balance_button)  # closes the place
    assert corner.goals.isVisible()
    assert set(workspace.results) == kept
