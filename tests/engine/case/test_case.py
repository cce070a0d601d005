"""Values of the case: what cannot be true cannot be built."""

import pytest

from engine.base.errors import GeometryError, InputError
from engine.beams.beam import Aperture, Beam
from engine.case import edits
from engine.case.case import Draft, Prescription
from engine.evaluation.goals import Goal
from engine.space.grid import Grid
from engine.space.point import NamedPoint
from engine.volumes.coverage import Coverage
from tests.support.cases import small_case


def beam(key="b", machine="m"):
    return Beam(key, "Beam 1", machine, (0, 0, 0), 0, 0, 0, Aperture((-50, 50), (-50, 50)))


@pytest.mark.parametrize(("dose", "fractions"), [(0, 1), (-1, 1), (201, 30), (60, 0), (60, 101)])
def test_prescriptions_out_of_reason_are_refused(dose, fractions):
    with pytest.raises(InputError, match="is not a prescription"):
        Prescription(dose, fractions, "ptv")


def test_drafts_need_one_weight_a_beam_and_known_words():
    with pytest.raises(InputError, match="weight"):
        Draft("d", "D", beams=(beam(),))
    with pytest.raises(InputError, match="weight"):
        Draft("d", "D", beams=(beam(),), weights=(-1,))
    with pytest.raises(InputError, match="normalisation"):
        Draft("d", "D", normalisation="somehow")
    with pytest.raises(InputError, match="share one key"):
        Draft("d", "D", beams=(beam(), beam()), weights=(1, 1))
    with pytest.raises(InputError, match="dose grid"):
        Draft("d", "D", dose_spacing_mm=0.5)


def test_volumes_on_another_grid_and_beams_of_unknown_machines_are_refused():
    case = small_case()
    moved = case.volumes[0].but(coverage=Coverage(Grid((0, 0, 0), (1, 1, 1), (1, 1, 1))))
    with pytest.raises(GeometryError, match="another grid"):
        case.but(volumes=(moved,))
    with pytest.raises(InputError, match="does not hold machine"):
        case.but(drafts=(Draft("d", "D", beams=(beam(),), weights=(1,)),))


def test_things_are_found_by_key_name_and_role():
    case = small_case()
    assert case.volume("ptv").name == "PTV"
    assert case.named("spinalcord").key == "cord"
    assert case.body.key == "body"
    assert case.volume("nobody") is None
    assert case.draft("draft").prescription.dose_gy == 60


def test_a_goal_waits_for_its_volume_and_is_joined_to_it_whoever_brings_it():
    case = small_case()
    waiting = Goal("", "Mean[Gy]", "<=", 26.0, waits_for="heart")
    case = edits.with_draft(case, case.drafts[0].but(goals=(*case.drafts[0].goals, waiting)))
    assert case.drafts[0].goals[-1] is waiting
    assert edits.without_volume(case, "cord").drafts[0].goals[-1] is waiting
    heart = case.volumes[2].but(key="h", name="Heart")
    for after in (edits.with_volume(case, heart), case.but(volumes=(*case.volumes, heart))):
        assert after.drafts[0].goals == (*case.drafts[0].goals[:2], Goal("h", "Mean[Gy]", "<=", 26.0))
        assert after.drafts[0].goals[0] is case.drafts[0].goals[0]
    renamed = edits.with_volume(case, case.volumes[2].but(name="HEART"))
    assert renamed.drafts[0].goals[-1].volume_key == "cord"


def test_a_goal_that_waits_for_nothing_keeps_the_fingerprint_of_older_programs():
    goal = Goal("ptv", "D95%[%]", ">=", 95, 1)
    assert goal.content()[0] == 1
    assert "waits_for" not in goal.content()[1]
    assert goal.but(waits_for="X").content()[0] == 2


def test_a_prescription_with_a_point_is_another_one_and_without_keeps_the_fingerprint_of_older_programs():
    plain = Prescription(60, 30, "ptv")
    assert plain.content()[0] == 1
    assert "point" not in plain.content()[1]
    pointed = plain.but(point=NamedPoint("A", (1, 2, 3)))
    assert pointed.content()[0] == 2
    assert pointed != plain
    case = small_case()
    assert "points" not in case.content()[1]
    assert case.but(points=(NamedPoint("A", (1, 2, 3)),)).content()[0] == 2
