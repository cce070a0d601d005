"""Every check: one plan that trips it, and the sound plan that does not."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.values import own_array
from engine.beams.beam import Aperture
from engine.case import edits
from engine.case.case import Answer, Patient
from engine.case.requests import Standing, standing
from engine.evaluation.goals import Goal
from engine.review.ask import ReviewDraft, review
from engine.review.checks import CHECKS, check, open_findings
from engine.space.point import NamedPoint
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, flat_dose, flat_results, planned_case, tube


def found(case, results=None, quality="fine"):
    """Findings of the last draft with flat doses (or the given results)."""
    results = flat_results(case, quality) if results is None else results
    stands = standing(case, case.drafts[-1], results)
    return review(ReviewDraft(case, case.drafts[-1].key, stands.state, stands.doses)).findings


def codes(findings):
    return {f.code for f in findings}


def at_point(case, place_mm):
    """Return a case whose draft is normalised at a point."""
    prescription = case.drafts[0].prescription.but(point=NamedPoint("P", place_mm))
    return with_draft(case, normalisation="Point", prescription=prescription)


def with_draft(case, **changes):
    return edits.with_draft(case, case.drafts[0].but(**changes))


SOUND = planned_case()


def test_the_sound_plan_has_only_the_note_that_it_is_synthetic():
    findings = found(SOUND)
    assert {(f.code, f.severity) for f in findings if f.severity != "note"} == set()
    assert "synthetic" in codes(findings)
    assert len(CHECKS) >= 12


def without_slice(case):
    volume = case.volume("ptv")
    return edits.with_volume(case, volume.with_coverage(volume.coverage.with_slice(9, np.zeros(GRID.shape[1:], np.uint8))))


def turned(case, **changes):
    draft = case.drafts[0]
    return edits.with_draft(case, edits.with_beam(draft, draft.beams[0].but(**changes)))


TRIPS = {
    "unprescribed": lambda c: with_draft(c, prescription=None),
    "prescribed-to-nothing": lambda c: edits.with_volume(c, c.volume("ptv").with_coverage(Coverage(GRID))),
    "prescribed-to-organ": lambda c: with_draft(c, prescription=c.drafts[0].prescription.but(volume_key="cord")),
    "unusual-fraction": lambda c: with_draft(c, prescription=c.drafts[0].prescription.but(fractions=3)),
    "not-normalised": lambda c: with_draft(c, normalisation="None"),
    "normalised-outside": lambda c: at_point(c, (0, 35, 0)),
    "no-beams": lambda c: with_draft(c, beams=(), weights=()),
    "zero-weight": lambda c: with_draft(c, weights=(1, 0)),
    "unusual-mu": lambda c: with_draft(c, weights=(1, 0.001)),
    "beam-names": lambda c: turned(c, name="PA"),
    "isocentre-outside": lambda c: turned(c, isocentre_mm=(58, 0, 0)),
    "several-isocentres": lambda c: turned(c, isocentre_mm=(5, 0, 0)),
    "target-outside-aperture": lambda c: turned(c, aperture=Aperture((-5, 32), (-32, 32))),
    "field-too-wide": lambda c: turned(c, aperture=Aperture((-900, 32), (-32, 32))),
    "no-wedge": lambda c: turned(c, wedge="W30"),
    "bolus-missing": lambda c: turned(c, bolus=("gone",)),
    "bolus-unused": lambda c: edits.with_volume(c, Volume("b", "Bolus", "BOLUS", (9, 9, 9), ball(GRID, (0, -55, 0), 9))),
    "machine-changed": lambda c: c.but(machines=(c.machines[0].but(description="older"),)),
    "no-body": lambda c: edits.without_volume(c, "body"),
    "two-bodies": lambda c: edits.with_volume(c, c.volume("cord").but(key="b2", name="Body2", role="EXTERNAL")),
    "image-too-small": lambda c: edits.with_volume(c, c.volume("body").with_coverage(tube(GRID, (0, 0), 66))),
    "volume-empty": lambda c: edits.with_volume(c, c.volume("cord").with_coverage(Coverage(GRID))),
    "volume-gap": without_slice,
    "volume-name": lambda c: edits.with_volume(c, c.volume("cord").but(name="the spinal cord of this patient")),
    "volume-outside-body": lambda c: edits.with_volume(c, c.volume("cord").with_coverage(tube(GRID, (0, 54), 6))),
    "target-organ-overlap": lambda c: edits.with_volume(c, c.volume("cord").with_coverage(tube(GRID, (0, 15), 6))),
    "target-nesting": lambda c: edits.with_volume(
        c, Volume("ctv", "CTV", "CTV", (9, 9, 9), ball(GRID, (12, 0, 0), 15))
    ),
    "grid-too-coarse": lambda c: with_draft(c, dose_spacing_mm=4),
    "no-goals": lambda c: with_draft(c, goals=()),
    "goal-missed": lambda c: with_draft(c, goals=(Goal("cord", "Max[Gy]", "<=", 45),)),
    "goal-tolerance": lambda c: with_draft(c, goals=(Goal("cord", "Max[Gy]", "<=", 58, 5),)),
    "goal-not-judged": lambda c: with_draft(c, goals=(Goal("ctv", "Max[Gy]", "<=", 58, 5),)),
    "density-override": lambda c: edits.with_volume(c, c.volume("cord").but(density_g_cm3=1.0)),
    "curve-too-short": lambda c: c.but(image=c.image.but(hu=own_array(np.full(GRID.shape, 3050, dtype="<i2")))),
    "no-identity": lambda c: c.but(patient=Patient()),
}  # fmt: skip


@pytest.mark.parametrize("code", TRIPS)
def test_a_plan_with_the_fault_is_found_and_the_sound_one_is_not(code):
    assert code in codes(found(TRIPS[code](SOUND)))
    assert code not in codes(found(SOUND))


def test_a_plan_normalised_inside_its_target_is_sound_and_one_outside_the_grid_has_no_monitor_units():
    assert not {"normalised-outside", "no-monitor-units"} & codes(found(at_point(SOUND, (5, 0, 0))))
    beyond = found(at_point(SOUND, (500, 0, 0)))
    assert {"normalised-outside", "no-monitor-units"} <= codes(beyond)
    assert any("outside the dose grid" in f.evidence for f in beyond)


def test_missing_quick_and_old_dose_stop_the_plan():
    assert "dose-none" in codes(found(SOUND, {}))
    assert "dose-quick" in codes(found(SOUND, flat_results(SOUND, "quick")))
    old = flat_results(SOUND)
    assert "dose-out-of-date" in codes(found(turned(SOUND, gantry_deg=10), old))


def test_no_dose_in_the_target_says_why_there_are_no_monitor_units():
    zero = {k: d.but(gy=own_array(np.zeros_like(d.gy))) for k, d in flat_results(SOUND).items()}
    stops = [f for f in found(SOUND, zero) if f.code == "no-monitor-units"]
    assert stops
    assert "no dose" in stops[0].evidence


def test_the_hottest_place_outside_the_target_is_named():
    results = flat_results(SOUND)
    key, dose = next(iter(results.items()))
    gy = dose.gy.copy()
    spot = tuple(dose.grid.index((0.0, 40.0, 0.0)).round().astype(int))
    gy[spot] *= 3
    results[key] = dose.but(gy=own_array(gy))
    findings = {f.code: f for f in found(SOUND, results)}
    assert findings["hot-outside-target"].point_mm == pytest.approx((0, 40, 0), abs=2)
    assert "hot-spot" in findings


def test_a_target_beyond_the_dose_grid_stops_the_plan():
    # The grid follows the body: a target that leaves the body leaves the grid.
    case = edits.with_volume(SOUND, SOUND.volume("body").with_coverage(ball(GRID, (0, 0, 0), 15)))
    assert "grid-cuts-volume" in codes(found(case))


def test_findings_are_ordered_by_gravity_and_named_by_code_and_place():
    findings = found(TRIPS["no-identity"](TRIPS["goal-missed"](SOUND)))
    order = ["stop", "warn", "note"]
    assert [order.index(f.severity) for f in findings] == sorted(order.index(f.severity) for f in findings)
    assert len({f.key for f in findings}) == len(findings)


def test_a_warning_is_open_until_answered_a_stop_until_mended():
    case = TRIPS["goal-missed"](SOUND)
    findings = found(case)
    waiting = open_findings(case, findings)
    assert {f.code for f in waiting} == {"goal-missed"}
    answered = case.but(answers=tuple(Answer(f.key, "accepted by the team", "R", "2026") for f in waiting))
    assert open_findings(answered, findings) == ()
    stopped = found(SOUND, {})
    assert open_findings(SOUND.but(answers=tuple(Answer(f.key, "x", "R", "") for f in stopped)), stopped)


def test_checks_run_without_any_draft_content():
    draft = edits.new_draft(SOUND)
    assert "no-beams" in codes(check(edits.with_draft(SOUND, draft), draft, Standing("none"), None))
    assert flat_dose(GRID, 1.0).gy.shape == GRID.shape
