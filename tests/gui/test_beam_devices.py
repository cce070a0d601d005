"""Wedge and bolus of the active beam under the hand."""

import pytest

from app.core.what_changed import what_changed
from engine.beams.machine_file import load_machine
from engine.beams.wedge import toe_direction
from engine.case import edits
from engine.space.frames import beam_from_patient
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, planned_case
from tests.support.stub_dose import StubDose

pytestmark = pytest.mark.gui


@pytest.fixture
def aim(qtbot, bare_window, answer):
    from engine.base.errors import UserError

    answer("DoseRequest", StubDose())

    def no_picture(request, report):
        raise UserError("no picture in this test")

    answer("Radiograph", no_picture)
    case = edits.with_machine(planned_case(), load_machine("generic-6"))
    draft = case.drafts[0]
    draft = edits.with_beam(draft, draft.beams[0].but(machine="generic-6"))
    sheet = Volume("sheet", "Bolus 5 mm", "BOLUS", (1, 2, 3), ball(GRID, (0, -55, 0), 10))
    bare_window.context.workspace.open(edits.with_volume(edits.with_draft(case, draft), sheet))
    bare_window.go("aim")
    bare_window.context.workspace.activate(beam="a")
    return bare_window.station


def choose(box, data):
    box.setCurrentIndex(box.findData(data))
    box.activated.emit(box.currentIndex())


def beam(aim, key="a"):
    return aim.context.workspace.draft.beam(key)


def test_the_wedges_of_the_machine_are_offered(aim):
    box = aim.devices.wedge
    offered = [box.itemData(i) for i in range(box.count())]
    assert offered == ["", *(w.name for w in load_machine("generic-6").wedges)]
    assert not aim.devices.toe.isVisibleTo(aim.devices)


def test_a_wedge_is_chosen_turned_undone_and_taken_out(aim):
    choose(aim.devices.wedge, "W30")
    assert (beam(aim).wedge, beam(aim).wedge_orientation_deg) == ("W30", 0.0)
    assert aim.devices.toe.isVisibleTo(aim.devices)
    choose(aim.devices.toe, 270.0)
    assert beam(aim).wedge_orientation_deg == 270.0
    aim.context.workspace.undo_stack.undo()
    assert beam(aim).wedge_orientation_deg == 0.0
    assert aim.devices.toe.currentData() == 0.0
    choose(aim.devices.wedge, "")
    assert beam(aim).wedge == ""


def test_a_wedge_that_cannot_stand_so_turns_to_where_it_can(aim):
    choose(aim.devices.wedge, "W30")
    choose(aim.devices.toe, 90.0)
    choose(aim.devices.wedge, "V30")
    assert (beam(aim).wedge, beam(aim).wedge_orientation_deg) == ("V30", 0.0)


def test_a_machine_without_the_wedge_takes_it_out_and_says_so(aim, qtbot):
    choose(aim.devices.wedge, "W30")
    with qtbot.waitSignal(aim.context.workspace.message, check_params_cb=lambda level, words: "W30" in words):
        aim.desk.beams.set_machine("a", "point-6")
    assert (beam(aim).machine, beam(aim).wedge) == ("point-6", "")
    assert not aim.devices.wedge.isVisibleTo(aim.devices)


def test_a_bolus_is_laid_on_for_one_beam_and_taken_off(aim):
    assert aim.devices.bolus.isVisibleTo(aim.devices)
    (action,) = aim.devices.bolus.menu().actions()
    action.trigger()
    assert (beam(aim).bolus, beam(aim, "p").bolus) == (("sheet",), ())
    assert "Bolus 5 mm" in aim.devices.bolus.text()
    (action,) = aim.devices.bolus.menu().actions()
    assert action.isChecked()
    action.trigger()
    assert beam(aim).bolus == ()


def test_a_bolus_that_is_gone_can_be_taken_off(aim):
    aim.desk.beams.set_bolus("a", "sheet", True)
    case = edits.without_volume(aim.context.workspace.case, "sheet")
    aim.context.workspace.edit("Remove", case)
    (action,) = aim.devices.bolus.menu().actions()
    assert action.isChecked()
    action.trigger()
    assert beam(aim).bolus == ()


def test_an_opposed_beam_has_its_toe_on_the_same_side_of_the_patient(aim):
    choose(aim.devices.wedge, "W30")
    choose(aim.devices.toe, 270.0)
    other = beam(aim, aim.desk.beams.add_opposed("a"))
    assert (other.gantry_deg, other.wedge, other.wedge_orientation_deg) == (180.0, "W30", 90.0)
    position = aim.context.workspace.case.image.patient_position
    sides = []
    for one in (beam(aim), other):
        m = beam_from_patient(position, one.gantry_deg, one.collimator_deg, one.couch_deg)
        sides.append(m[:2].T @ toe_direction(one.wedge_orientation_deg))
    assert sides[0] == pytest.approx(sides[1], abs=1e-9)


def test_what_made_the_dose_old_names_wedge_and_bolus(aim):
    before_case, before = aim.context.workspace.case, aim.context.workspace.draft
    choose(aim.devices.wedge, "W30")
    aim.desk.beams.set_bolus("a", "sheet", True)
    words = what_changed(before_case, before, aim.context.workspace.case, aim.context.workspace.draft)
    assert len(words) == 1
    assert "wedge" in words[0]
    assert "bolus" in words[0]
