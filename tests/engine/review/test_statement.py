"""What can be signed, and what goes on the record."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import SealError
from engine.base.values import frozen_array
from engine.beams.arcs import with_arc
from engine.beams.machine_file import load_machine
from engine.beams.segments import Segment, with_segments
from engine.case import edits
from engine.case.release import released
from engine.case.requests import Standing, standing
from engine.evaluation.goals import Goal
from engine.review.ask import ReviewDraft, review
from engine.review.record import Picture
from engine.review.statement import _couch_moves, _parts, make_statement
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, flat_results, planned_case


def gathered(case, quality="fine"):
    stands = standing(case, case.drafts[-1], flat_results(case, quality))
    return stands, review(ReviewDraft(case, "draft", stands.state, stands.doses))


def pictures(items):
    return tuple(Picture(i.title, i.place, frozen_array(np.arange(3, dtype=np.uint8))) for i in items)


def state(case, stands, seen_all=True, decision="APPROVED", **changes):
    _, found = gathered(case)
    shown = pictures(found.items)
    seen = [p.title for p in shown] if seen_all else []
    now = changes.get("now", found.now)
    return make_statement(
        case, case.drafts[-1], stands, now, found.findings, shown, seen, decision, "R", "physician", "", "2026"
    )


def test_the_statement_names_everything_by_fingerprint_and_the_numbers_seen():
    case = planned_case()
    stands, found = gathered(case)
    statement = state(case, stands)
    assert statement.case == case.fingerprint
    assert statement.doses == tuple(d.fingerprint for d in stands.doses)
    assert len(statement.pictures) == len(found.items)
    numbers = dict(statement.numbers)
    assert numbers["Prescription"] == "60 Gy in 30 fractions to PTV"
    assert numbers["Beam AP"].endswith("100.0 MU a fraction")  # two beams of 0.01 Gy/MU make 2 Gy
    assert ", jaws X " in numbers["Beam AP"]
    assert " mm, isocentre at x 0.0, y 0.0, z 0.0 mm, weight" in numbers["Beam AP"]
    assert "D98 60.00" in numbers["PTV"]
    assert numbers["Goal PTV D95%[%] >= 95"] == "100.00: met"


def test_wedge_and_bolus_of_a_beam_are_on_the_record():
    case = edits.with_machine(planned_case(), load_machine("generic-6"))
    case = edits.with_volume(case, Volume("sheet", "Bolus 5 mm", "BOLUS", (1, 2, 3), ball(GRID, (0, -55, 0), 10)))
    draft = case.drafts[0]
    equipped = draft.beams[0].but(machine="generic-6", wedge="W30", wedge_orientation_deg=270.0, bolus=("sheet",))
    case = edits.with_draft(case, edits.with_beam(draft, equipped))
    stands, _ = gathered(case)
    numbers = dict(state(case, stands, decision="REJECTED").numbers)
    assert ", wedge W30 toe to X2, bolus Bolus 5 mm, weight" in numbers["Beam AP"]
    assert "wedge" not in numbers["Beam PA"]


def test_no_current_fine_dose_no_signature():
    case = planned_case()
    quick, _ = gathered(case, "quick")
    with pytest.raises(SealError, match="no current fine dose"):
        state(case, quick)
    with pytest.raises(SealError, match="no current fine dose"):
        state(case, Standing("out of date"))


def test_approval_needs_findings_closed_and_pictures_opened_rejection_does_not():
    case = planned_case()
    stands, _ = gathered(case)
    with pytest.raises(SealError, match="not looked at"):
        state(case, stands, seen_all=False)
    assert state(case, stands, seen_all=False, decision="REJECTED").decision == "REJECTED"
    missed = edits.with_draft(case, case.drafts[0].but(goals=(Goal("cord", "Max[Gy]", "<=", 45),)))
    stands, _ = gathered(missed)
    with pytest.raises(SealError, match="stand open"):
        state(missed, stands)


def test_a_release_and_whether_it_holds_stand_on_the_record():
    case = released(planned_case(), "Dr. Example", "2026-03-04T10:00:00+00:00")
    numbers = dict(state(case, gathered(case)[0]).numbers)
    assert numbers["Volumes released"].startswith("by Dr. Example, 2026-03-04T10:00 UTC, digest ")
    assert numbers["Volumes released"].endswith(": holds")
    moved = edits.with_volume(case, case.volume("cord").with_coverage(ball(GRID, (0, 35, 0), 6)))
    lapsed = dict(state(moved, gathered(moved)[0], decision="REJECTED").numbers)["Volumes released"]
    assert lapsed.endswith("lapsed, changed since: SpinalCord")


def test_couch_moves_from_the_set_up_point_are_on_the_record():
    """Worked by hand, head first supine: isocentre 10 mm left, 20 mm back and 30 mm to the head of the point."""
    case = planned_case()
    assert not any(name.startswith("Couch") for name, _ in _couch_moves(case, case.drafts[0]))
    draft = case.drafts[0].but(marker_mm=(-10.0, -20.0, -30.0))
    ((names, words),) = _couch_moves(case, draft)
    assert names == ""
    assert words.startswith("vertical +20.0, longitudinal -30.0, lateral -10.0 mm")
    assert "x -10.0, y -20.0, z -30.0" in words
    two = draft.but(beams=(draft.beams[0], draft.beams[1].but(isocentre_mm=(0.0, 0.0, 5.0))))
    assert [name for name, _ in _couch_moves(case, two)] == [" of AP", " of PA"]


def test_openings_and_arcs_are_on_the_record():
    beam = planned_case().drafts[0].beams[0]
    small = beam.aperture.but(x_mm=(-10, 10))
    steps = with_segments(beam, [Segment(3, beam.aperture), Segment(1, small)])
    assert "2 apertures with 75 / 25 % of the MU" in _parts(steps)
    arc = with_arc(beam, (0.0, 40.0), (beam.aperture, small), "CW")
    assert _parts(arc) == ", arc clockwise to gantry 40° with 2 control points"
    assert _parts(beam) == ""
