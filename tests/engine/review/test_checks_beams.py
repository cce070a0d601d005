"""Mirror of engine/review/checks_beams.py: each fault is found with its place, and what is sound is not complained of."""

from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.case.requests import Standing
from engine.review.checks_beams import boluses, deliverable, room_to_turn
from engine.review.finding import Facts
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, planned_case


def facts(case):
    return Facts(case, case.drafts[0], Standing("none"), None)


def with_beam(case, **changes):
    draft = case.drafts[0]
    return edits.with_draft(case, edits.with_beam(draft, draft.beams[0].but(**changes)))


def with_sheet(case, **changes):
    sheet = Volume("sheet", "Bolus", "BOLUS", (1, 2, 3), ball(GRID, (0, -55, 0), 10))
    return edits.with_volume(case, sheet.but(**changes))


def test_a_sound_plan_gives_no_finding():
    case = edits.with_bolus(with_sheet(planned_case()), "draft", "a", "sheet")
    assert list(deliverable(facts(case))) == []
    assert list(boluses(facts(case))) == []


def test_every_misfit_is_a_finding_at_its_beam():
    case = with_beam(planned_case(), aperture=Aperture((-900, 32), (-32, 32)), wedge="W30")
    found = {f.code: f for f in deliverable(facts(case))}
    assert set(found) == {"field-too-wide", "no-wedge"}
    assert all(f.severity == "stop" and f.beam_key == "a" and f.evidence.startswith("AP: ") for f in found.values())


def test_other_leaves_than_the_machines_may_be_answered():
    case = with_beam(planned_case(), aperture=Aperture((-32, 32), (-32, 32), (-40, 0, 40), ((-9, 9), (-9, 9))))
    assert [(f.code, f.severity) for f in deliverable(facts(case))] == [("leaf-layout", "warn")]


def test_a_wedge_the_machine_has_is_no_finding():
    case = edits.with_machine(planned_case(), load_machine("generic-6"))
    assert list(deliverable(facts(with_beam(case, machine="generic-6", wedge="W30")))) == []


def test_a_named_bolus_that_is_gone_empty_or_something_else_stops_the_plan():
    named = edits.with_bolus(with_sheet(planned_case()), "draft", "a", "sheet")
    for broken in (
        edits.without_volume(named, "sheet"),
        with_sheet(named, coverage=Coverage(GRID)),
        with_sheet(named, role="OAR"),
    ):
        found = list(boluses(facts(broken)))
        assert [(f.code, f.severity, f.beam_key) for f in found] == [("bolus-missing", "stop", "a")]


def test_a_bolus_no_beam_names_must_be_answered():
    found = list(boluses(facts(with_sheet(planned_case()))))
    assert [(f.code, f.severity, f.volume_key) for f in found] == [("bolus-unused", "warn", "sheet")]


def test_a_head_that_comes_near_the_couch_is_told_and_can_be_answered():
    case = planned_case()
    assert list(room_to_turn(facts(case))) == []
    (found,) = room_to_turn(facts(with_beam(case, gantry_deg=90, couch_deg=90)))
    assert (found.code, found.severity, found.beam_key) == ("no-room", "warn", "a")
    assert "90" in found.evidence
    assert "couch" in found.evidence
