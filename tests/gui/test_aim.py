"""Aim: the ring under the hand, the beam table, prescription, isocentre and apertures."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest

from engine.base.values import own_array
from tests.support.cases import planned_case, small_case
from tests.support.stub_dose import StubDose

pytestmark = pytest.mark.gui
LEFT = Qt.MouseButton.LeftButton
PLAIN, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def stub(answer):
    from engine.image.projection import RadiographResult

    made = StubDose()
    answer("DoseRequest", made)

    def picture(request, report):
        import numpy as np

        return RadiographResult(own_array(np.eye(64, dtype=np.float32)), (-200, 200, -200, 200), request.fingerprint)

    answer("Radiograph", picture)
    return made


@pytest.fixture
def aim(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("aim")
    return bare_window.station


@pytest.fixture
def empty(qtbot, bare_window, stub):
    bare_window.context.workspace.open(small_case())
    bare_window.go("aim")
    return bare_window.station


@pytest.fixture
def ring(aim):
    return Ring(aim)


class Ring:
    """The hand on the ring of the axial view."""

    def __init__(self, station):
        self.workspace, self.layer = station.context.workspace, station.stage.ring
        self.view = station.context.stage.view_of("z")

    def end(self, key) -> QPoint:
        return self.layer.spoke_end(self.view, key).toPoint()

    def at(self, gantry_deg, share) -> QPoint:
        return self.layer.ring(self.view).at(gantry_deg, share).toPoint()

    def drag(self, start: QPoint, *stops: QPoint, keys=PLAIN) -> None:
        QTest.mousePress(self.view, LEFT, keys, start)
        for stop in stops:
            send_move(self.view, stop, keys)
        QTest.mouseRelease(self.view, LEFT, keys, stops[-1])


def send_move(view, at: QPoint, keys) -> None:
    from PySide6.QtCore import QCoreApplication, QEvent
    from PySide6.QtGui import QMouseEvent

    where = QPointF(at)
    event = QMouseEvent(QEvent.Type.MouseMove, where, view.mapToGlobal(where), Qt.MouseButton.NoButton, LEFT, keys)
    QCoreApplication.sendEvent(view, event)


def said(station) -> str:
    kept = station.context.messages.kept
    return kept[-1].text if kept else ""


def cell(station, row, name):
    model = station.beams.model
    return model.index(row, model.columns.index(name))


def type_into(station, row, name, text) -> bool:
    return station.beams.model.setData(cell(station, row, name), text, Qt.ItemDataRole.EditRole)


# the ring


def test_double_click_on_the_empty_rim_adds_a_beam_there(empty):
    ring = Ring(empty)
    at = ring.at(90, 1.0)
    QTest.mousePress(ring.view, LEFT, PLAIN, at)
    QTest.mouseRelease(ring.view, LEFT, PLAIN, at)
    QTest.mouseDClick(ring.view, LEFT, PLAIN, at)
    (beam,) = ring.workspace.draft.beams
    assert beam.gantry_deg == pytest.approx(90, abs=1)
    assert beam.isocentre_mm == pytest.approx((0, 0, 0), abs=0.5)
    lo, hi = beam.aperture.x_mm
    assert 20 < hi < 45
    assert -45 < lo < -20
    assert ring.workspace.undo_stack.count() == 1


def test_gantry_90_is_at_the_patients_left_on_the_right_of_the_screen(ring):
    # IEC 61217, head first supine: the gantry at 90 degrees looks from the patient's left (worked from the definitions).
    middle = ring.at(0, 0.0)
    assert ring.at(90, 1.0).x() > middle.x() + 50
    assert ring.at(0, 1.0).y() < middle.y() - 50


def test_dragging_the_end_around_turns_the_gantry_in_one_undoable_step(ring):
    start = ring.end("a")
    share = ring.layer.ring(ring.view).share_of(QPointF(start))
    ring.drag(start, *(ring.at(d, share) for d in (10, 20, 30, 40)))
    draft = ring.workspace.draft
    assert draft.beam("a").gantry_deg == pytest.approx(40, abs=1)
    assert draft.beam("a").gantry_deg == round(draft.beam("a").gantry_deg)
    assert draft.weights == (1.0, 1.0)
    assert ring.workspace.undo_stack.count() == 1
    ring.workspace.undo_stack.undo()
    assert ring.workspace.draft.beam("a").gantry_deg == 0


def test_shift_turns_in_tenths(ring):
    start = ring.end("a")
    share = ring.layer.ring(ring.view).share_of(QPointF(start))
    ring.drag(start, ring.at(15, share), ring.at(33.4, share), keys=SHIFT)
    angle = ring.workspace.draft.beam("a").gantry_deg
    assert angle == pytest.approx(33.4, abs=1)
    assert angle == pytest.approx(round(angle, 1))


def test_dragging_in_and_out_changes_the_weight_only(ring):
    start = ring.end("a")
    hub = ring.layer.ring(ring.view).hub(0)
    ring.drag(start, ring.at(0, hub + 0.6 * (1 - hub)), ring.at(0, hub + 0.4 * (1 - hub)))
    draft = ring.workspace.draft
    assert 0.2 < draft.weights[0] < 0.8
    assert draft.weights[1] == 1.0
    assert draft.beam("a").gantry_deg == 0
    assert ring.workspace.undo_stack.count() == 1


def test_the_key_o_takes_the_ring_away_and_gives_the_anatomy_its_room(aim, ring):
    scale = ring.view.scale
    action = next(a for a in aim.actions() if a.shortcut().toString() == "O")
    action.trigger()
    assert not ring.layer.shown_in(ring.view)
    assert ring.view.scale > scale
    action.trigger()
    assert ring.layer.shown_in(ring.view)
    assert ring.view.scale == scale


def test_spokes_and_fitted_body_leave_each_other_room(aim, ring):
    """Whatever the weights, no spoke reaches over the middle of the body."""
    box = aim.context.workspace.case.body.coverage.bounds_mm()
    left, right = (ring.view.project((x, 0.0, 0.0)).x() for x in (box[0][0], box[1][0]))
    shape = ring.layer.ring(ring.view)
    assert shape.centre.x() - shape.a < left
    assert right < shape.centre.x() + shape.a
    for gantry in (90.0, 270.0):
        hub = shape.at(gantry, shape.hub(gantry)).x()
        assert not left + 0.15 * (right - left) < hub < right - 0.15 * (right - left)


def test_escape_puts_the_gantry_back(ring):
    start = ring.end("a")
    QTest.mousePress(ring.view, LEFT, PLAIN, start)
    for d in (10, 25):
        send_move(ring.view, ring.at(d, 0.9), PLAIN)
    QTest.keyClick(ring.view, Qt.Key.Key_Escape)
    assert ring.workspace.draft.beam("a").gantry_deg == 0


def test_a_click_on_a_spoke_selects_the_beam_in_the_table(aim, ring):
    QTest.mouseClick(ring.view, LEFT, PLAIN, ring.end("p"))
    assert ring.workspace.beam.key == "p"
    assert aim.beams.table.currentIndex().row() == 1


def test_double_click_on_a_spoke_goes_to_the_beams_eye_view(aim, ring):
    at = ring.end("p")
    QTest.mousePress(ring.view, LEFT, PLAIN, at)
    QTest.mouseRelease(ring.view, LEFT, PLAIN, at)
    QTest.mouseDClick(ring.view, LEFT, PLAIN, at)
    assert ring.workspace.beam.key == "p"
    assert len(ring.workspace.draft.beams) == 2


# the table


def test_the_table_is_a_sound_model(aim, qtmodeltester):
    qtmodeltester.check(aim.beams.model, force_py=True)
    aim.desk.beams.add(45)
    aim.desk.beams.remove("a")
    assert [aim.beams.model.index(r, 0).data() for r in range(2)] == ["PA", "Beam 3"]


@pytest.mark.parametrize(
    ("column", "text", "field", "value"),
    [
        ("gantry", "370", "gantry_deg", 10),
        ("gantry", "−90", "gantry_deg", 270),
        ("gantry", "359,5°", "gantry_deg", 359.5),
        ("collimator", "360", "collimator_deg", 0),
        ("couch", "15", "couch_deg", 15),
    ],
)
def test_angles_are_typed_with_units_and_wrap(aim, column, text, field, value):
    assert type_into(aim, 0, column, text) or value == 0
    assert getattr(aim.context.workspace.draft.beam("a"), field) == value


@pytest.mark.parametrize(
    ("column", "text"), [("gantry", "north"), ("x", "-5"), ("weight", "-1"), ("weight", "lots"), ("y", "")]
)
def test_a_cell_that_makes_no_sense_is_refused_in_words(aim, column, text):
    before = aim.context.workspace.case
    assert not type_into(aim, 0, column, text)
    assert aim.context.workspace.case is before
    assert "AP" in said(aim)
    assert "Type" in said(aim)


def test_field_widths_keep_their_middle(aim):
    assert type_into(aim, 0, "x", "40 mm")
    assert aim.context.workspace.draft.beam("a").aperture.x_mm == (-20, 20)


def test_a_weight_typed_shows_in_the_mu(qtbot, aim):
    follower = aim.desk.follower
    qtbot.waitUntil(lambda: follower.state == "current", timeout=60000)
    before = float(cell(aim, 0, "mu").data())
    assert type_into(aim, 0, "weight", "3")
    first, second = float(cell(aim, 0, "mu").data()), float(cell(aim, 1, "mu").data())
    assert first > before
    assert first == pytest.approx(3 * second, rel=0.01)


def test_mu_is_a_dash_while_the_dose_is_old(qtbot, aim, stub):
    qtbot.waitUntil(lambda: aim.desk.follower.state == "current", timeout=60000)
    stub.gate.clear()
    aim.desk.beams.set_gantry("a", 33)
    assert cell(aim, 0, "mu").data() == "–"
    stub.gate.set()
    qtbot.waitUntil(lambda: aim.desk.follower.state == "current", timeout=60000)


def test_two_beams_cannot_share_a_name(aim):
    assert not type_into(aim, 0, "name", "PA")
    assert "name of its own" in said(aim)


def test_sets_opposed_copies_and_removal(aim):
    edits, workspace = aim.desk.beams, aim.context.workspace
    edits.add_evenly(5)
    assert [b.gantry_deg for b in workspace.draft.beams[2:]] == [0, 72, 144, 216, 288]
    edits.change("a", "Turn", gantry_deg=30)
    opposed = edits.add_opposed("a")
    assert workspace.draft.beam(opposed).gantry_deg == 210
    copy = edits.duplicate("a")
    assert workspace.draft.beam(copy).but(key="", name="") == workspace.draft.beam("a").but(key="", name="")
    edits.remove("a")
    assert len(workspace.draft.beams) == 8
    assert len(workspace.draft.weights) == 8


def test_another_machine_fits_the_leaves_anew(aim):
    assert aim.desk.beams.set_machine("a", "generic-6")
    beam = aim.context.workspace.draft.beam("a")
    machine = aim.context.workspace.case.machine("generic-6")
    assert beam.aperture.leaf_edges_mm == machine.leaf_edges_mm
    assert len(beam.aperture.leaves_mm) == machine.leaf_pairs


# prescription and isocentre


def test_prescription_is_edited_and_shows_the_dose_of_a_fraction(aim):
    panel, workspace = aim.prescription, aim.context.workspace
    panel.fractions.setValue(20)
    assert workspace.draft.prescription.fractions == 20
    assert "3.00 Gy" in panel.each.text()
    panel.rule.setCurrentIndex(panel.rule.findData("Mean"))
    panel.rule.activated.emit(panel.rule.currentIndex())
    assert workspace.draft.normalisation == "Mean"


def test_without_a_target_the_panel_sends_to_outline(qtbot, bare_window, stub):
    case = small_case()
    bare_window.context.workspace.open(case.but(volumes=tuple(v for v in case.volumes if v.key != "ptv"), drafts=()))
    bare_window.go("aim")
    panel = bare_window.station.prescription
    assert "no target volume" in panel.problem.text()
    panel.paint.click()
    assert bare_window.station.name == "outline"


def test_isocentre_goes_to_the_cursor_for_all_beams_or_one(aim):
    workspace = aim.context.workspace
    workspace.set_cursor((10, 5, 0))
    aim._isocentre_here()
    assert {b.isocentre_mm for b in workspace.draft.beams} == {(10, 5, 0)}
    aim.desk.beams.set_isocentre((0, 0, 5), "p")
    assert [b.isocentre_mm for b in workspace.draft.beams] == [(10, 5, 0), (0, 0, 5)]
    aim.desk.beams.isocentre_at_target()
    for beam in workspace.draft.beams:
        assert beam.isocentre_mm == pytest.approx((0, 0, 0), abs=0.3)


# the beam's-eye view


def drag_in(view, start: QPoint, stop: QPoint) -> None:
    send_hover(view, start)
    QTest.mousePress(view, LEFT, PLAIN, start)
    send_move(view, stop, PLAIN)
    QTest.mouseRelease(view, LEFT, PLAIN, stop)


def send_hover(view, at: QPoint) -> None:
    QTest.mouseMove(view, at)


def test_a_jaw_is_dragged_as_one_step_and_never_past_its_partner(aim):
    view, workspace = aim.view, aim.context.workspace
    view.resize(400, 400)
    drag_in(view, view.place(32, 0).toPoint(), view.place(20, 0).toPoint())
    assert workspace.beam.aperture.x_mm == (-32, pytest.approx(20, abs=0.6))
    assert workspace.undo_stack.count() == 1
    drag_in(view, view.place(workspace.beam.aperture.x_mm[1], 0).toPoint(), view.place(-49, 0).toPoint())
    assert workspace.beam.aperture.x_mm == (-32, -32)


def test_a_leaf_is_dragged_alone(aim):
    workspace, view = aim.context.workspace, aim.view
    aim.desk.beams.set_machine("a", "generic-6")
    aim.desk.beams.fit(["a"], 5.0)
    aperture = workspace.beam.aperture
    pair = next(i for i, e in enumerate(aperture.leaf_edges_mm) if e <= 1.0 < aperture.leaf_edges_mm[i + 1])
    tip = aperture.leaves_mm[pair][0]
    aim.desk.beams.set_leaf("a", pair, 0, tip + 6.0)
    view.resize(500, 500)
    grip = view.grip_at(view.place(tip + 6.0, 1.0))
    assert (grip.kind, grip.pair, grip.side) == ("leaf", pair, 0)
    moved = workspace.beam.aperture.leaves_mm
    assert moved[pair][0] == pytest.approx(tip + 6.0, abs=0.06)
    assert [m for i, m in enumerate(moved) if i != pair] == [m for i, m in enumerate(aperture.leaves_mm) if i != pair]


def test_fit_to_target_follows_the_margin(aim):
    workspace = aim.context.workspace
    widths = []
    for margin in (5.0, 10.0):
        aim.margin.setValue(margin)
        aim._fit(False)
        lo, hi = workspace.beam.aperture.x_mm
        widths.append(hi - lo)
    assert widths[1] - widths[0] == pytest.approx(10.0, abs=1.5)
    assert widths[0] == pytest.approx(50.0, abs=4.0)  # a ball of 20 mm radius and 5 mm all around


def test_the_radiograph_is_asked_once_for_a_beam(qtbot, aim, answer):
    pictures, workspace = aim.desk.pictures, aim.context.workspace
    qtbot.waitUntil(lambda: pictures.is_current(workspace.case, workspace.beam), timeout=5000)
    aim.desk.beams.set_field("a", "x", 30)
    assert pictures.is_current(workspace.case, workspace.beam)
    aim.desk.beams.set_gantry("a", 77)
    assert not pictures.is_current(workspace.case, workspace.beam)
    qtbot.waitUntil(lambda: pictures.is_current(workspace.case, workspace.beam), timeout=5000)


def test_the_rail_says_how_many_beams(aim):
    assert aim.state_line() == "2 beams, 60 Gy / 30"
    for key in ("a", "p"):
        aim.desk.beams.remove(key)
    assert aim.state_line() == "no beams"
