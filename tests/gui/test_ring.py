"""The ring beyond turning and weighing: keys, snapping, field width, arcs."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.views.ring_arcs import INNER, turned
from app.views.ring_shape import snapped
from tests.gui.test_aim import LEFT, PLAIN, SHIFT, aim, ring, send_move, stub  # noqa: F401

pytestmark = pytest.mark.gui


def beam(ring, key="a"):  # noqa: F811
    return ring.workspace.draft.beam(key)


def test_angles_are_drawn_to_quarters_and_opposed_beams():
    assert snapped(88.0, False) == 90
    assert snapped(359.0, False) == 0
    assert snapped(33.4, False) == 33
    assert snapped(211.0, False, (33.0,)) == 213
    assert snapped(88.04, True, (33.0,)) == 88.0


def test_keys_turn_and_weigh_the_beam_that_was_clicked(ring):  # noqa: F811
    cursor = ring.workspace.cursor_mm
    QTest.mouseClick(ring.view, LEFT, PLAIN, ring.end("a"))
    for key, modifier in (
        (Qt.Key.Key_Right, PLAIN),
        (Qt.Key.Key_Right, SHIFT),
        (Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier),
        (Qt.Key.Key_Left, PLAIN),
    ):
        QTest.keyClick(ring.view, key, modifier)
    assert beam(ring).gantry_deg == 15
    assert ring.workspace.undo_stack.count() == 1
    QTest.keyClick(ring.view, Qt.Key.Key_Plus)
    assert ring.workspace.draft.weights[0] == pytest.approx(1.05)
    QTest.keyClick(ring.view, Qt.Key.Key_PageDown)
    assert beam(ring).couch_deg == 355
    assert ring.workspace.cursor_mm == cursor
    QTest.keyClick(ring.view, Qt.Key.Key_Escape)
    QTest.keyClick(ring.view, Qt.Key.Key_Right)
    assert beam(ring).gantry_deg == 15
    assert ring.workspace.cursor_mm != cursor


def test_a_corner_of_the_spoke_changes_the_width_of_the_field(ring):  # noqa: F811
    QTest.mouseClick(ring.view, LEFT, PLAIN, ring.end("a"))
    _, high = sorted(ring.layer._corners(ring.view, "a"), key=lambda p: p.x())
    by = QPointF(-10.0 * ring.view.scale, 0)
    steps = ring.workspace.undo_stack.count()
    ring.drag(high.toPoint(), (high + by / 2).toPoint(), (high + by).toPoint())
    assert beam(ring).aperture.x_mm == (pytest.approx(-22, abs=1.1), pytest.approx(22, abs=1.1))
    assert beam(ring).gantry_deg == 0
    assert ring.workspace.draft.weights == (1.0, 1.0)
    assert ring.workspace.undo_stack.count() == steps + 1


def test_the_end_of_an_arc_is_dragged(qtbot, aim, ring):  # noqa: F811
    aim.desk.shapes.make_arc(300.0, 60.0, "CW", 20.0, None)
    qtbot.waitUntil(lambda: beam(ring).is_arc, timeout=10000)
    share = (1.0 + INNER) / 2
    ring.drag(ring.at(60, share), ring.at(80, share), ring.at(101, share))
    qtbot.waitUntil(lambda: beam(ring).points[-1].gantry_deg != 60, timeout=10000)
    assert beam(ring).points[0].gantry_deg == 300
    assert beam(ring).points[-1].gantry_deg == pytest.approx(101, abs=1)
    aim.desk.beams.set_gantry("a", 310)
    assert beam(ring).points[0].gantry_deg == 310
    assert beam(ring).points[-1].gantry_deg == pytest.approx(111, abs=1)


def test_escape_leaves_an_arc_as_it_was(qtbot, aim, ring):  # noqa: F811
    aim.desk.shapes.make_arc(300.0, 60.0, "CC", 20.0, None)
    qtbot.waitUntil(lambda: beam(ring).is_arc, timeout=10000)
    before = beam(ring)
    share = (1.0 + INNER) / 2
    QTest.mousePress(ring.view, LEFT, PLAIN, ring.at(60, share))
    send_move(ring.view, ring.at(100, share), PLAIN)
    QTest.keyClick(ring.view, Qt.Key.Key_Escape)
    assert beam(ring) is before
    assert not aim.context.jobs.busy("arc")


def test_how_far_an_arc_turns():
    assert turned(350.0, 20.0, "CW") == 30
    assert turned(20.0, 350.0, "CC") == -30
    assert turned(10.0, 10.0, "CW") == 360


def test_angles_without_room_are_known_for_the_ring(aim, ring):  # noqa: F811
    assert ring.layer.near(ring.workspace.case, beam(ring)) == ()
    aim.desk.beams.change("a", "Turn couch", couch_deg=90)
    assert 90 in ring.layer.near(ring.workspace.case, beam(ring))
    ring.view.repaint()


def test_the_isocentre_goes_to_the_next_click(aim, ring):  # noqa: F811
    aim.desk.beams.place_next()
    at = ring.view.project((10.0, -6.0, 0.0)).toPoint()
    QTest.mouseClick(ring.view, LEFT, PLAIN, at)
    for one in ring.workspace.draft.beams:
        assert one.isocentre_mm == pytest.approx((10, -6, ring.workspace.cursor_mm[2]), abs=1.0)
    before = ring.workspace.draft
    QTest.mouseClick(ring.view, LEFT, PLAIN, at)
    assert ring.workspace.draft is before


def test_jaws_stop_where_the_machine_stops_and_it_is_said(aim, ring):  # noqa: F811
    aim.desk.beams.set_field("a", "x", 900.0)
    machine = ring.workspace.case.machine("point-6")
    assert beam(ring).aperture.x_mm == machine.jaw_x_mm
    assert "stop there" in aim.context.messages.kept[-1].text


def test_what_lies_farther_from_the_source_is_drawn_first(aim, ring):  # noqa: F811
    pictures, case = aim.desk.pictures, ring.workspace.case
    # The cord lies behind the target: farthest from gantry 0, nearest to gantry 180.
    names = [v.name for v in pictures.far_to_near(case, beam(ring))]
    assert names.index("SpinalCord") < names.index("PTV")
    names = [v.name for v in pictures.far_to_near(case, beam(ring, "p"))]
    assert names.index("PTV") < names.index("SpinalCord")
