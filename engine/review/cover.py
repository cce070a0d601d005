"""Whether a sealed record still covers the present plan: case, draft and the way its dose is calculated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.case.case import Case, Draft
from engine.case.requests import dose_requests
from engine.review.record import Record, still_covers

COVERS, PLAN_CHANGED, DOSE_CHANGED, OTHER_DRAFT = "covers", "plan changed", "dose changed", "other draft"


def stands(record: Record, case: Case, draft: Draft | None = None) -> str:
    """Return how a record stands: COVERS, PLAN_CHANGED, DOSE_CHANGED or OTHER_DRAFT.

    DOSE_CHANGED: the plan is the signed one but would get its dose by other means now (another version of the physics or
    of its tables); the numbers that were signed are then not the numbers this program would show.

    Parameters
    ----------
    draft : the plan that is asked about; None: the draft the record names, as it is now
    """
    key = record.statement.draft_key
    if draft is not None and draft.key != key:
        return OTHER_DRAFT
    present = case.draft(key)
    if present is None or not any(still_covers(record, c.fingerprint, present.fingerprint) for c in _as_it_was(case)):
        return PLAN_CHANGED
    now = tuple(r.fingerprint for r in dose_requests(case, present))
    return COVERS if now == record.statement.requests else DOSE_CHANGED


def _as_it_was(case: Case) -> Iterator[Case]:
    """Yield the case, and the case before each second image was laid over it, the last first.

    To lay an image over the planning CT is to look, not to decide: all that was signed is still there. One that was there
    when the record was signed is part of what was signed, and so is every volume, wherever it was painted.
    """
    yield case
    for count in range(len(case.second_images) - 1, -1, -1):
        yield case.but(second_images=case.second_images[:count])


def covering(records: Sequence[Record], case: Case, draft: Draft) -> Record | None:
    """Return the newest record that covers a draft of the present case, or None."""
    return next((r for r in reversed(records) if stands(r, case, draft) == COVERS), None)
