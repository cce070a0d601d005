"""The plan of a demonstration patient: every suggestion kept, the same each time."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.case.case import Case, Patient
from engine.case.demonstration import planned
from engine.case.derived import in_words, out_of_date, request_of
from engine.phantoms.phantom import GoalHint, Phantom, PlanHint
from engine.volumes.shape import shape_volume
from tests.support.cases import small_case


def phantom(target: str = "PTV") -> Phantom:
    case = small_case()
    goals = (
        GoalHint("SpinalCord", "Max[Gy]", "<=", 45.0, 0.0, 1, "common practice"),
        GoalHint("Absent", "Mean[Gy]", "<=", 20.0, 0.0, 2, "common practice"),
    )
    hint = PlanHint(target, 60.0, 30, (0.0, 120.0), (0.0, 10.0), (0.0, 0.0), (2.0, 1.0), "generic-6", goals)
    return Phantom("thorax", "Demo^Test", "D1", "O", "synthetic", case.image, case.volumes, hint)


def plan() -> Case:
    made = phantom()
    return planned(made, Patient(made.patient_name, made.patient_id, "", made.sex, synthetic=True), made.image)


def test_every_suggestion_is_in_the_plan():
    case = plan()
    draft = case.drafts[0]
    assert case.patient.synthetic
    assert [b.gantry_deg for b in draft.beams] == [0, 120]
    assert draft.weights == (2.0, 1.0)
    assert draft.prescription.volume_key == "ptv"
    assert [g.volume_key for g in draft.goals] == ["cord"]
    assert case.machine("generic-6")


def test_beams_meet_in_the_target_and_open_around_it():
    draft = plan().drafts[0]
    for beam in draft.beams:
        assert np.allclose(beam.isocentre_mm, (0, 0, 0), atol=1.0)
        x1, x2 = beam.aperture.x_mm
        assert x1 < -20
        assert x2 > 20


def test_made_twice_it_is_the_same_value():
    assert plan() == plan()


def test_a_target_that_is_not_there_is_said():
    with pytest.raises(InputError, match="Gone"):
        planned(phantom("Gone"), Patient(), small_case().image)


def test_the_cord_has_its_planning_risk_volume_derived_from_it():
    case = plan()
    prv = case.named("SpinalCord_PRV05")
    assert (prv.role, in_words(case, prv)) == ("PRV", "SpinalCord with +5 mm")
    assert out_of_date(case) == ()
    request = request_of(case, prv)
    assert shape_volume(request).coverage == prv.coverage
    assert [v.name for v in case.volumes[:-1]] == [v.name for v in phantom().volumes]
