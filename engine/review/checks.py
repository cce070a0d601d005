"""The automatic checks: one table of named functions, each from facts to findings."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from engine.case.case import Case, Draft
from engine.case.requests import Standing
from engine.evaluation.live import PlanNow
from engine.review import checks_beams, checks_dose, checks_grid, checks_handover, checks_plan, checks_volumes
from engine.review.finding import SEVERITIES, Facts, Finding
from engine.volumes.evidence import DEFAULT_LIMITS

CHECKS: tuple[Callable[[Facts], Iterator[Finding]], ...] = (
    checks_dose.identity,
    checks_volumes.body_outline,
    checks_volumes.quality_of_volumes,
    checks_volumes.volumes_in_pairs,
    checks_volumes.inside_each_other,
    checks_volumes.targets_and_organs,
    checks_handover.derived_volumes,
    checks_handover.release,
    checks_plan.prescription,
    checks_plan.normalisation,
    checks_plan.beams,
    checks_plan.isocentre,
    checks_plan.apertures,
    checks_beams.deliverable,
    checks_beams.boluses,
    checks_beams.room_to_turn,
    checks_plan.machine_files,
    checks_dose.standing_of_dose,
    checks_dose.grid_covers,
    checks_grid.dose_grid_holds_beams,
    checks_dose.goals,
    checks_dose.hottest_place,
    checks_dose.densities,
)


def check(
    case: Case, draft: Draft, standing: Standing, now: PlanNow | None, skin_mm: float = DEFAULT_LIMITS.skin_mm
) -> tuple[Finding, ...]:
    """Run every check; the gravest findings come first, in the order of the table within a severity.

    Parameters
    ----------
    standing : how the stored doses stand against the draft
    now : the plan evaluated at its weights, or None without dose
    skin_mm : nearer to the skin than this, a target is told
    """
    facts = Facts(case, draft, standing, now, skin_mm)
    found = [finding for function in CHECKS for finding in function(facts)]
    return tuple(sorted(found, key=lambda f: SEVERITIES.index(f.severity)))


def open_findings(case: Case, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the findings that still stand in the way: every "stop", and every "warn" without an answer."""
    answered = {a.finding for a in case.answers if a.reason.strip()}
    return tuple(f for f in findings if f.severity == "stop" or (f.severity == "warn" and f.key not in answered))
