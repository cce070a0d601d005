"""What a dose depends on, and what it does not."""

import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.case.case import Draft
from engine.case.requests import dose_grid, dose_requests, patient_density, standing
from engine.evaluation.goals import Goal
from engine.volumes.volume import Volume
from tests.engine.case.test_case import beam
from tests.support.cases import GRID, ball, flat_dose, small_case


@pytest.fixture
def case():
    case = edits.with_machine(small_case(), load_machine("point-6"))
    draft = case.drafts[0].but(beams=(beam("a", "point-6"), beam("b", "point-6").but(gantry_deg=90)), weights=(1, 1))
    return edits.with_draft(case, draft)


def prints(case):
    return [r.fingerprint for r in dose_requests(case, case.drafts[0])]


def test_names_weights_goals_and_colours_leave_the_dose_current(case):
    before = prints(case)
    draft = case.drafts[0].but(name="Other", weights=(3, 0), goals=(Goal("ptv", "Max[Gy]", "<=", 1),), normalisation="Mean")
    same = edits.with_draft(case, draft.but(beams=(draft.beams[0].but(name="AP", key="z"), draft.beams[1])))
    same = edits.with_volume(same, same.volumes[1].but(name="PTV_60", colour=(1, 2, 3)))
    assert prints(same) == before


def test_geometry_density_and_grid_make_it_another_dose(case):
    before = prints(case)
    draft = case.drafts[0]
    turned = edits.with_draft(case, draft.but(beams=(draft.beams[0], draft.beams[1].but(gantry_deg=91))))
    assert prints(turned)[0] == before[0]
    assert prints(turned)[1] != before[1]
    for changed in (
        case.but(curve=case.curve.but(g_cm3=(*case.curve.g_cm3[:-1], 2.8))),
        edits.with_draft(case, draft.but(dose_spacing_mm=3)),
        edits.with_draft(case, draft.but(report_to="water")),
        edits.with_volume(case, case.volumes[1].but(density_g_cm3=1.2)),
        edits.with_volume(case, case.volumes[0].with_coverage(ball(GRID, (0, 0, 0), 50))),
    ):
        assert not set(prints(changed)) & set(before)


def test_standing_is_a_comparison(case):
    draft = case.drafts[0]
    assert standing(case, draft, {}).state == "none"
    fine = {r.fingerprint: flat_dose(r.grid, 0.01, r.fingerprint) for r in dose_requests(case, draft)}
    quick = {r.fingerprint: flat_dose(r.grid, 0.01, r.fingerprint) for r in dose_requests(case, draft, "quick")}
    assert standing(case, draft, quick).state == "quick"
    assert standing(case, draft, {**quick, **fine}).state == "current"
    assert len(standing(case, draft, fine).doses) == 2
    turned = draft.but(beams=(draft.beams[0].but(gantry_deg=10), draft.beams[1]))
    assert standing(edits.with_draft(case, turned), turned, fine).state == "out of date"
    assert standing(case, draft, fine).state == "current"
    assert standing(case, Draft("e", "E"), fine).state == "none"


def test_outside_the_body_is_air_and_overrides_win(case):
    couch = Volume("c", "Couch", "SUPPORT", (0, 0, 0), ball(GRID, (0, 60, 0), 4), density_g_cm3=0.5)
    case = edits.with_volume(case, couch)
    density = patient_density(case).resolve()
    k, r, c = GRID.index((0.0, 60.0, 0.0)).round().astype(int)
    assert density.g_cm3[k, r, c] == pytest.approx(0.5)
    assert density.g_cm3[9, 0, 0] == pytest.approx(0.00121)
    assert density.g_cm3[9, 21, 21] == pytest.approx(case.curve.density(np.array([0], np.int16))[0])
    assert patient_density(case).resolve() is density


def test_the_dose_grid_holds_the_body_and_keeps_its_phase(case):
    grid = dose_grid(case, 2.5)
    lo, hi = case.body.coverage.bounds_mm()
    glo, ghi = grid.bounds_mm
    assert all(a <= b + 1e-6 for a, b in zip(glo, lo))
    assert all(a >= b - 2.5 for a, b in zip(ghi, hi))
    smaller = edits.with_volume(case, case.body.with_coverage(ball(GRID, (3, 0, 0), 40)))
    shift = (np.array(dose_grid(smaller, 2.5).origin_mm) - grid.origin_mm) / 2.5
    assert np.allclose(shift, shift.round())


def sheet(key="bolus", **changes):
    from engine.volumes.coverage import Coverage

    dense = np.zeros(GRID.shape, dtype=np.uint8)
    dense[:, 2:8, 12:30] = 255
    return Volume(key, "Bolus", "BOLUS", (0, 0, 0), Coverage.from_dense(GRID, dense)).but(**changes)


def test_a_bolus_counts_only_for_the_beams_that_name_it(case):
    case = edits.with_volume(case, sheet())
    plain = patient_density(case).resolve().g_cm3
    laid = patient_density(case, ("bolus",)).resolve().g_cm3
    body = patient_density(case).inside[0].dense() / 255.0
    free = (sheet().coverage.dense() > 0) & (body == 0)
    assert free.sum() > 100
    assert laid[free] == pytest.approx(1.0)
    assert plain[free] == pytest.approx(0.00121)
    # Inside the body the patient stays what the CT says; a shared voxel holds the bolus beside its part of the body.
    assert np.array_equal(laid[body == 1], plain[body == 1])
    edge = (sheet().coverage.dense() > 0) & (body > 0) & (body < 1)
    assert laid[edge] == pytest.approx(plain[edge] + (1 - body[edge]) * (1.0 - 0.00121), abs=1e-5)
    before, named = prints(case), edits.with_bolus(case, case.drafts[0].key, "a", "bolus")
    after = prints(named)
    assert after[0] != before[0]
    assert after[1] == before[1]
    assert dose_requests(named, named.drafts[0])[0].beam.bolus == ()
    assert prints(edits.with_bolus(named, case.drafts[0].key, "a", "bolus", on=False)) == before


def test_a_bolus_has_the_density_its_volume_says(case):
    case = edits.with_volume(case, sheet(density_g_cm3=1.1))
    k, r, c = 9, 2, 21
    assert patient_density(case, ("bolus",)).resolve().g_cm3[k, r, c] == pytest.approx(1.1)
    assert patient_density(case).resolve().g_cm3[k, r, c] == pytest.approx(0.00121)


def test_only_a_painted_bolus_can_be_laid_on(case):
    from engine.base.errors import InputError
    from engine.volumes.coverage import Coverage

    key = case.drafts[0].key
    for wrong in (
        case,
        edits.with_volume(case, sheet(role="OAR")),
        edits.with_volume(case, sheet(coverage=Coverage(GRID))),
    ):
        with pytest.raises(InputError, match="BOLUS"):
            edits.with_bolus(wrong, key, "a", "bolus")
        # Taking one off always works, so that a draft can be mended.
        edits.with_bolus(wrong, key, "a", "bolus", on=False)


def test_a_wedge_makes_another_dose(case):
    before = prints(case)
    draft = case.drafts[0]
    wedged = edits.with_beam(draft, draft.beams[0].but(wedge="W30", wedge_orientation_deg=90))
    assert prints(edits.with_draft(case, wedged))[0] != before[0]
    unwedged = edits.with_beam(draft, draft.beams[0].but(wedge_orientation_deg=90))
    assert prints(edits.with_draft(case, unwedged)) == before


def dose_at(case, points):
    from engine.dose.calculate import calculate
    from engine.space.sampling import trilinear

    results = [calculate(r) for r in dose_requests(case, case.drafts[0], "quick")]
    return [trilinear(d.gy, d.grid, np.array(points, dtype=float)) for d in results]


def slab(key, role, rows, columns=slice(2, 41), **changes):
    from engine.volumes.coverage import Coverage

    dense = np.zeros(GRID.shape, dtype=np.uint8)
    dense[:, rows, columns] = 255
    name = "Couch" if role == "SUPPORT" else "Bolus"
    return Volume(key, name, role, (0, 0, 0), Coverage.from_dense(GRID, dense), **changes)


def test_a_couch_attenuates_the_beams_that_come_through_it(case):
    # 6 mm of carbon fibre and foam that weigh as much as 9 mm of water, below the back.
    draft = case.drafts[0]
    case = edits.with_draft(case, draft.but(beams=(draft.beams[0], draft.beams[1].but(gantry_deg=150.0))))
    couch = slab("couch", "SUPPORT", slice(40, 42), density_g_cm3=1.5)
    with_couch = dose_at(edits.with_volume(case, couch), [(0, 0, 0)])
    without = dose_at(case, [(0, 0, 0)])
    front, rear = with_couch[0][0] / without[0][0], with_couch[1][0] / without[1][0]
    assert front == pytest.approx(1.0, abs=4e-3)
    # mu of 6 MV in water at this depth about 0.0046 per mm (narrow beam), less with the scatter; 9 mm / cos 30 here.
    assert np.exp(-0.0050 * 10.4) < rear < np.exp(-0.0030 * 10.4)


def test_a_bolus_brings_the_dose_up_to_the_skin(case):
    draft = case.drafts[0]
    beams = (draft.beams[0].but(gantry_deg=0.0), draft.beams[1].but(gantry_deg=180.0))
    case = edits.with_draft(edits.with_volume(case, slab("bolus", "BOLUS", slice(0, 3))), draft.but(beams=beams))
    skin, deep = (0.0, -52.5, 0.0), (0.0, 10.0, 0.0)
    bare = dose_at(case, [skin, deep])
    laid = dose_at(edits.with_bolus(case, draft.key, "a", "bolus"), [skin, deep])
    assert laid[0][0] > 1.25 * bare[0][0]
    assert 0.93 < laid[0][1] / bare[0][1] < 0.99
    # The beam from behind does not name it and is what it was.
    assert np.array_equal(laid[1], bare[1])
