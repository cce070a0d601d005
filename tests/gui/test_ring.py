"""The ring beyond turning and weighing: keys, snapping, field width, arcs."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.views.ring_arcs import INNER, turned
from app.views.ring_shape import snapped
from engine.space.point import NamedPoint
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
    qtbot.waitUntil(lambda: beam(ring).is_arc, timeout=60000)
    share = (1.0 + INNER) / 2
    ring.drag(ring.at(60, share), ring.at(80, share), ring.at(101, share))
    qtbot.waitUntil(lambda: beam(ring).points[-1].gantry_deg != 60, timeout=60000)
    assert beam(ring).points[0].gantry_deg == 300
    assert beam(ring).points[-1].gantry_deg == pytest.approx(101, abs=1)
    aim.desk.beams.set_gantry("a", 310)
    assert beam(ring).points[0].gantry_deg == 310
    assert beam(ring).points[-1].gantry_deg == pytest.approx(111, abs=1)


def test_escape_leaves_an_arc_as_it_was(qtbot, aim, ring):  # noqa: F811
    aim.desk.shapes.make_arc(300.0, 60.0, "CC", 20.0, None)
    qtbot.waitUntil(lambda: beam(ring).is_arc, timeout=60000)
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


@pytest.mark.parametrize(("axis", "shown"), [("z", True), ("x", True), ("y", True), ("z", False), ("x", False)])
def test_the_isocentre_goes_to_the_next_click_on_any_plane(aim, ring, axis, shown):  # noqa: F811
    view, wanted = aim.context.stage.view_of(axis), (10.0, -6.0, 12.0)
    aim.context.settings.set("stage/ring", shown)
    aim.context.stage.centre_on(wanted)
    middle = view.point_mm(view.rect().center().toPointF())  # what is clicked lies on the plane that is shown
    aim.desk.beams.place_next()
    QTest.mouseClick(view, LEFT, PLAIN, view.rect().center())
    for one in ring.workspace.draft.beams:
        assert one.isocentre_mm == pytest.approx(middle, abs=1.0)
        assert one.isocentre_mm["xyz".index(axis)] == pytest.approx(view.position_mm, abs=0.01)
    before = ring.workspace.draft
    QTest.mouseClick(view, LEFT, PLAIN, view.rect().center() / 2)
    assert ring.workspace.draft is before
    messages = aim.context.messages
    assert not [m for m in messages.standing if m.topic == "isocentre/click"]
    assert "The isocentre of all beams is at x" in messages.kept[-1].text


def test_a_click_for_the_isocentre_goes_past_what_lies_over_the_planes(aim, ring):  # noqa: F811
    view, layer = aim.context.stage.view_of("z"), aim.stage.places
    aim.stage.line.set_shown(True)  # its handles take clicks of their own
    aim.desk.beams.place_next()
    assert view._layers_from_top()[0] is layer
    for handle in (view.rect().center(), view.rect().center() / 2):
        aim.desk.beams.place_next()
        QTest.mouseClick(view, LEFT, PLAIN, handle)
        assert not aim.desk.beams.placing
    assert view._layers_from_top()[0] is not layer


def test_escape_ends_the_waiting_for_a_click_wherever_the_keyboard_is_and_says_so(aim, ring, qtbot):  # noqa: F811
    messages, before, strip = aim.context.messages, ring.workspace.draft, aim.context.stage.window().strip
    menu = aim.beams.isocentre.menu()
    next(a for a in menu.actions() if "next click" in a.text()).trigger()
    assert "next click" in strip.text.text()
    aim.beams.table.setFocus()
    QTest.keyClick(aim.beams.table, Qt.Key.Key_Escape)
    assert not aim.desk.beams.placing
    assert strip.text.text() == "The isocentre stays where it was."
    for button in (strip.button, strip.dismiss):  # Leave it, Dismiss
        aim.desk.beams.place_next()
        QTest.mouseClick(button, LEFT)
        assert not aim.desk.beams.placing
    assert messages.standing == []
    assert ring.workspace.draft is before


def test_without_beams_no_click_is_awaited(aim, ring):  # noqa: F811
    ring.workspace.edit_draft("none", ring.workspace.draft.but(beams=(), weights=()))
    aim.desk.beams.place_next()
    assert not aim.desk.beams.placing
    assert "Add a beam first" in aim.context.messages.kept[-1].text


def test_escape_and_leaving_the_station_leave_the_isocentre(aim, ring):  # noqa: F811
    before, view = ring.workspace.draft, aim.context.stage.view_of("y")
    aim.desk.beams.place_next()
    QTest.keyClick(view, Qt.Key.Key_Escape)
    QTest.mouseClick(view, LEFT, PLAIN, view.rect().center())
    aim.desk.beams.place_next()
    aim.context.go("outline")
    assert not aim.desk.beams.placing
    assert ring.workspace.draft is before


def test_places_are_marked_on_the_planes_they_lie_on(aim, ring):  # noqa: F811
    workspace, layer = ring.workspace, aim.stage.places
    point = NamedPoint("BB", (6.0, 3.0, -5.0), "MARKER")
    workspace.edit("points", workspace.case.but(points=(point,)))
    workspace.edit_draft("marker", workspace.draft.but(marker_mm=(30.0, 30.0, 30.0)))
    assert layer.places() == [((6.0, 3.0, -5.0), "BB"), ((30.0, 30.0, 30.0), "Set-up point")]

    def inks(at):
        aim.context.stage.centre_on(at)
        grabbed = []
        for axis in "zxy":
            view = aim.context.stage.view_of(axis)
            image, here = view.grab().toImage(), view.project(point.place_mm).toPoint()
            ratio = image.devicePixelRatio()
            colours = {image.pixel(int((here.x() + x) * ratio), int((here.y() + 5) * ratio)) for x in (-2, -1, 0, 1, 2)}
            grabbed.append(colours)
        return grabbed

    aim.context.settings.set("stage/crosshair", False)
    on, bare = inks(point.place_mm), inks((26.0, 33.0, 25.0))
    workspace.edit("none", workspace.case.but(points=()))
    assert all(a != b for a, b in zip(on, inks(point.place_mm), strict=True))
    assert bare == inks((26.0, 33.0, 25.0))
    aim.desk.draft.normalise_at("Mine", point.place_mm)
    assert layer.places()[0] == ((6.0, 3.0, -5.0), "Mine")


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
