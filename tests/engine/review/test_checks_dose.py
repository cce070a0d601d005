"""Mirror of engine/review/checks_dose.py; the findings themselves are tripped one by one in test_checks.py."""

from engine.case import edits
from engine.case.requests import Standing, standing
from engine.review.ask import ReviewDraft, review
from engine.review.checks_dose import goals, standing_of_dose
from engine.review.finding import Facts
from tests.support.cases import flat_results, planned_case


def test_a_draft_without_beams_is_not_blamed_for_missing_dose():
    case = planned_case()
    bare = case.drafts[0].but(beams=(), weights=())
    assert not list(standing_of_dose(Facts(case, bare, Standing("none"), None)))
    assert list(standing_of_dose(Facts(case, case.drafts[0], Standing("none"), None)))


def test_goals_are_not_judged_on_an_old_dose():
    case = planned_case()
    assert not list(goals(Facts(case, case.drafts[0], Standing("out of date"), None)))


def test_a_plan_without_monitor_units_is_told_of_once_and_not_by_every_goal():
    case = planned_case()
    bare = edits.with_draft(case, case.drafts[0].but(prescription=None))
    stands = standing(bare, bare.drafts[0], flat_results(bare))
    codes = [f.code for f in review(ReviewDraft(bare, "draft", stands.state, stands.doses)).findings]
    assert codes.count("no-monitor-units") == 1
    assert not [c for c in codes if c.startswith("goal-")]
