"""Shaping beams when there is nothing to shape, or while something else happens."""

from __future__ import annotations

import pytest

from engine.beams.conform import Margins
from tests.gui.test_aim import aim, empty, said, stub  # noqa: F401
from tests.support.cases import small_case

pytestmark = pytest.mark.gui


def test_without_a_beam_every_page_is_quiet(empty):  # noqa: F811
    for page in (empty.shape, empty.arc, empty.setup):
        assert not page.isEnabled()
    shapes = empty.desk.shapes
    assert not shapes.add_opening()
    assert not shapes.remove_opening()
    assert not shapes.shield("cord", 3.0, 0.0)
    assert not shapes.make_still()
    shapes.find_collimator(Margins(5.0, 5.0, 5.0, 5.0))
    shapes.make_arc(0.0, 90.0, "CW", 4.0, None)
    shapes.move_arc(0.0, 90.0)
    assert not empty.context.jobs.busy("arc")
    empty.view.repaint()
    empty.room.repaint()


def test_without_a_target_it_is_said_where_to_paint_one(bare_window, stub):  # noqa: F811
    case = small_case()
    bare_window.context.workspace.open(case.but(volumes=tuple(v for v in case.volumes if v.key != "ptv"), drafts=()))
    bare_window.go("aim")
    station = bare_window.station
    station.desk.beams.add(0.0)
    station.desk.shapes.find_collimator(Margins(5.0, 5.0, 5.0, 5.0))
    assert "Outline" in said(station)
    station.desk.shapes.make_arc(0.0, 90.0, "CW", 4.0, Margins(5.0, 5.0, 5.0, 5.0))
    assert "Outline" in said(station)
    assert station.desk.shapes.add_tangents() == []
    assert "Outline" in said(station)


def test_an_arc_of_a_beam_that_changed_meanwhile_is_not_made(qtbot, aim, answer):  # noqa: F811
    from engine.beams.conformal_arc import make_arc

    def late(request, report):
        return make_arc(request)

    answer("ArcRequest", late)
    aim.desk.shapes.make_arc(0.0, 90.0, "CW", 30.0, None)
    aim.desk.beams.set_field("a", "x", 31.0)
    qtbot.waitUntil(lambda: "meanwhile" in said(aim), timeout=5000)
    assert not aim.context.workspace.beam.is_arc


def test_an_arc_that_cannot_be_is_refused_in_words(qtbot, aim):  # noqa: F811
    aim.desk.shapes.make_arc(0.0, 90.0, "sideways", 30.0, None)
    qtbot.waitUntil(lambda: "sideways" in said(aim), timeout=5000)
    before = aim.context.workspace.case
    aim.desk.beams.fit(["a"], Margins(-45.0, -45.0, -45.0, -45.0))
    assert "nothing of the target" in said(aim)
    assert aim.context.workspace.case is before


def test_machines_without_leaves_say_so(aim):  # noqa: F811
    from engine.case import edits

    workspace = aim.context.workspace
    bare = workspace.case.machine("point-6").but(leaf_edges_mm=())
    workspace.edit("Machine", edits.with_machine(workspace.case, bare))
    assert not workspace.case.machine("point-6").leaf_edges_mm
    assert not aim.desk.shapes.shield("cord", 3.0, 0.0)
    assert "no leaves" in said(aim)


def test_undo_goes_back_over_openings_and_arcs(qtbot, aim):  # noqa: F811
    workspace = aim.context.workspace
    before = workspace.case
    aim.desk.shapes.add_opening()
    aim.desk.shapes.set_share(0, 0.9)
    aim.desk.shapes.make_arc(0.0, 90.0, "CW", 30.0, None)
    qtbot.waitUntil(lambda: workspace.beam.is_arc, timeout=5000)
    aim.desk.beams.show_part("a", 3)
    while workspace.undo_stack.canUndo():
        workspace.undo_stack.undo()
        aim.view.repaint()
    assert workspace.case is before
    assert aim.desk.beams.part_of(workspace.beam) == 0
