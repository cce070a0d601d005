"""One request for everything a reviewer looks at: findings and the list of pictures."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, Value
from engine.case.case import Case
from engine.case.requests import Standing
from engine.dose.dose import Dose
from engine.evaluation.live import LiveRequest, PlanNow, prepare
from engine.review.checks import check
from engine.review.finding import Finding
from engine.review.sheet import Item, contact_sheet
from engine.volumes.evidence import DEFAULT_LIMITS


@dataclass(frozen=True, eq=False)
class ReviewDraft(Value):
    """Ask for the findings and the contact sheet of a draft.

    Parameters
    ----------
    state : how the doses stand ("none", "quick", "current", "out of date")
    doses : one per beam in Gy per MU when state is quick or current, else ()
    skin_mm : nearer to the skin than this, a target is told
    """

    case: Case
    draft_key: str
    state: str
    doses: tuple[Dose, ...] = ()
    skin_mm: float = DEFAULT_LIMITS.skin_mm


@dataclass(frozen=True, eq=False)
class Review:
    """What there is to read before signing. `now` and `items` are empty without dose."""

    inputs: Fingerprint
    findings: tuple[Finding, ...]
    items: tuple[Item, ...]
    now: PlanNow | None


def review(request: ReviewDraft, report: Report = quiet) -> Review:
    """Evaluate the draft at its weights, check it and list its pictures."""
    draft = request.case.draft(request.draft_key)
    if draft is None:
        return Review(request.fingerprint, (), (), None)
    now = None
    if request.doses:
        report(0.1, "evaluating the plan")
        basis = prepare(LiveRequest(request.doses, request.case.volumes))
        point = draft.beams[0].isocentre_mm if draft.beams else None
        now = basis.evaluate(draft.weights, draft.normalisation, draft.prescription, point, draft.goals)
    report(0.4, "checking the plan")
    findings = check(request.case, draft, Standing(request.state, request.doses), now, request.skin_mm)
    report(0.9, "")
    return Review(request.fingerprint, findings, contact_sheet(request.case, draft, now) if now else (), now)
