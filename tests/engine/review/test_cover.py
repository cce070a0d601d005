"""A record covers the plan it was made for, until plan, case or dose calculation change; going back restores it."""

from __future__ import annotations

import pytest

from engine.case import edits
from engine.case.requests import dose_requests
from engine.case.second_images import with_second_image, without_second_image
from engine.dose import request as dose_request
from engine.review import record as records
from engine.review.cover import COVERS, DOSE_CHANGED, OTHER_DRAFT, PLAN_CHANGED, covering, stands
from engine.review.record import Statement, seal
from tests.support.cases import planned_case
from tests.support.second import ramp


def signed(case, earlier=()):
    draft = case.drafts[0]
    return seal(
        Statement(
            case=case.fingerprint, draft=draft.fingerprint, draft_key=draft.key, draft_name=draft.name,
            requests=tuple(r.fingerprint for r in dose_requests(case, draft)), doses=(), numbers=(), findings=(),
            pictures=(), seen=(), decision="APPROVED", reviewer="A", role="physician", comment="",
            signed_at="2026-01-01T00:00:00+00:00", program="0", physics_version=dose_request.PHYSICS_VERSION,
        ),
        "correct horse",
        earlier,
    )  # fmt: skip


@pytest.fixture(autouse=True)
def fast(monkeypatch):
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)


def test_a_change_of_plan_or_case_lifts_the_cover_and_going_back_restores_it():
    case = planned_case()
    record = signed(case)
    assert stands(record, case) == COVERS
    heavier = edits.with_draft(case, case.drafts[0].but(weights=(2.0, 1.0)))
    assert stands(record, heavier) == PLAN_CHANGED
    assert stands(record, edits.without_volume(case, "cord")) == PLAN_CHANGED
    assert stands(record, edits.with_draft(heavier, case.drafts[0])) == COVERS
    assert stands(record, case.but(drafts=())) == PLAN_CHANGED


def test_an_image_laid_over_later_leaves_the_cover_and_one_that_was_signed_belongs_to_it():
    case = planned_case()
    record = signed(case)
    over = with_second_image(case, ramp())
    more = with_second_image(over, ramp().but(key="second", series_uid="1.2.3.99"))
    assert stands(record, over) == COVERS
    assert stands(record, more) == COVERS
    assert covering((record,), more, more.drafts[0]) is record
    assert stands(record, edits.without_volume(more, "cord")) == PLAN_CHANGED  # what was painted on it counts
    with_image = signed(over)
    assert stands(with_image, over) == COVERS
    assert stands(with_image, more) == COVERS
    assert stands(with_image, without_second_image(over, "ramp")) == PLAN_CHANGED
    assert stands(with_image, without_second_image(more, "ramp")) == PLAN_CHANGED


def test_other_tables_of_the_physics_lift_the_cover(monkeypatch):
    case = planned_case()
    record = signed(case)
    from engine.dose import kernels

    monkeypatch.setattr(kernels, "tables_fingerprint", lambda: "0" * 64)
    assert stands(record, case) == DOSE_CHANGED
    assert covering((record,), case, case.drafts[0]) is None


def test_the_newest_record_that_covers_is_named():
    case = planned_case()
    first = signed(case)
    second = signed(case, (first,))
    later = edits.with_draft(case, case.drafts[0].but(weights=(2.0, 1.0)))
    third = signed(later, (first, second))
    assert covering((first, second, third), case, case.drafts[0]) is second
    assert covering((first, second, third), later, later.drafts[0]) is third
    assert covering((), case, case.drafts[0]) is None


def test_a_record_of_one_draft_says_nothing_of_another():
    case = planned_case()
    case = edits.with_draft(case, case.drafts[0].but(key="second", name="Second"))
    record = signed(case)
    assert stands(record, case, case.draft("second")) == OTHER_DRAFT
    assert stands(record, case, case.drafts[0]) == COVERS
    assert covering((record,), case, case.draft("second")) is None
