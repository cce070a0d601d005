"""Mirror of engine/review/finding.py; the findings themselves are tripped one by one in test_checks.py."""

import pytest

from engine.base.errors import UserError
from engine.case.requests import Standing
from engine.review.finding import Facts, Finding
from tests.support.cases import planned_case


def test_a_finding_is_named_by_code_and_place_not_by_its_words():
    a = Finding("goal-missed", "warn", "rule", "45.1 Gy", "cord:Max")
    b = Finding("goal-missed", "warn", "rule", "45.2 Gy", "cord:Max")
    assert a.key == b.key == "goal-missed/cord:Max"
    assert a != b
    with pytest.raises(UserError, match="severity"):
        Finding("x", "grave", "r", "e")


def test_facts_know_target_and_painted_volumes():
    case = planned_case()
    facts = Facts(case, case.drafts[0], Standing("none"), None)
    assert facts.target.key == "ptv"
    assert [v.key for v in facts.painted()] == ["body", "ptv", "cord"]
    assert Facts(case, case.drafts[0].but(prescription=None), Standing("none"), None).target is None
