"""Mirror of engine/review/ask.py; the findings themselves are tripped one by one in test_checks.py."""

from engine import compute
from engine.case.requests import standing
from engine.review.ask import ReviewDraft
from tests.support.cases import flat_results, planned_case


def test_the_answer_carries_the_fingerprint_of_the_question():
    case = planned_case()
    stands = standing(case, case.drafts[0], flat_results(case))
    request = ReviewDraft(case, "draft", stands.state, stands.doses)
    seen = []
    answer = compute.run(request, lambda f, w="": seen.append(f))
    assert answer.inputs == request.fingerprint
    assert answer.now.scale > 0
    assert seen == sorted(seen)
