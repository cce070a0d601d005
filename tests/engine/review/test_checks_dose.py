"""Mirror of engine/review/checks_dose.py; the findings themselves are tripped one by one in test_checks.py."""

from engine.case.requests import Standing
from engine.review.checks_dose import goals, standing_of_dose
from engine.review.finding import Facts
from tests.support.cases import planned_case


def test_a_draft_without_beams_is_not_blamed_for_missing_dose():
    case = planned_case()
    bare = case.drafts[0].but(beams=(), weights=())
    assert not list(standing_of_dose(Facts(case, bare, Standing("none"), None)))
    assert list(standing_of_dose(Facts(case, case.drafts[0], Standing("none"), None)))


def test_goals_are_not_judged_on_an_old_dose():
    case = planned_case()
    assert not list(goals(Facts(case, case.drafts[0], Standing("out of date"), None)))
