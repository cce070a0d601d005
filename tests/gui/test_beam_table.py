"""The table of beams draws the cells anew that say something else, and no others: a hand moves beams in every frame."""

import pytest
from PySide6.QtTest import QTest

from app.core.jobs import JobRunner
from app.core.plan_desk import PlanDesk
from app.core.workspace import Workspace
from app.models.beam_table import COLUMNS, BeamTable
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def desk(qtbot):
    workspace, jobs = Workspace(), JobRunner()
    workspace.open(planned_case())
    yield PlanDesk.of(workspace, jobs)
    jobs.close()
    for thing in (jobs, workspace):
        thing.deleteLater()
    QTest.qWait(0)


@pytest.fixture
def told(desk):
    """A table of all columns, and what it tells to be drawn anew: (row, columns)."""
    table, cells = BeamTable(desk.follower, desk.beams), []
    table.dataChanged.connect(
        lambda a, b, *_: cells.append((a.row(), [COLUMNS[c] for c in range(a.column(), b.column() + 1)]))
    )
    desk.beams.set_gantry("a", 10.0)  # monitor units are told of once
    cells.clear()
    return cells


def test_a_turned_gantry_draws_its_cell_alone(desk, told):
    desk.beams.set_gantry("a", 41.0)
    assert told == [(0, ["gantry"])]


def test_a_turn_that_the_cell_does_not_show_draws_nothing(desk, told):
    desk.beams.set_gantry("a", 41.0)
    told.clear()
    desk.beams.set_gantry("a", 41.01)
    assert told == []


def test_jaws_names_and_weights_draw_what_shows_them(desk, told):
    desk.beams.set_field("a", "x", 62.0)
    desk.beams.set_weight("a", 3.0)
    desk.beams.change("a", "rename", name="Front")
    assert told == [(0, ["x"]), (0, ["weight"]), (0, ["name"])]


def test_a_leaf_moves_no_number_of_the_table(desk, told):
    beam, edges = desk.workspace.draft.beams[0], (-32.0, 0.0, 32.0)
    leaves = ((-32.0, 32.0), (-32.0, 32.0))
    desk.beams.replace(beam.but(aperture=beam.aperture.but(leaf_edges_mm=edges, leaves_mm=leaves)), "leaves")
    desk.beams.replace(
        beam.but(aperture=beam.aperture.but(leaf_edges_mm=edges, leaves_mm=((-32.0, 20.0), leaves[1]))), "leaf"
    )
    assert desk.workspace.draft.beams[0].aperture.leaves_mm[0] == (-32.0, 20.0)
    assert told == []
