"""Mirror of engine/review/checks_plan.py; the findings themselves are tripped one by one in test_checks.py."""

import pytest

from engine.beams.beam import Aperture
from engine.case import edits
from engine.case.requests import Standing
from engine.review.checks_plan import apertures
from engine.review.finding import Facts
from tests.support.cases import planned_case


def hidden(aperture):
    case = planned_case()
    draft = edits.with_beam(case.drafts[0], case.drafts[0].beams[0].but(aperture=aperture))
    return [f for f in apertures(Facts(case, draft, Standing("none"), None)) if f.code == "target-outside-aperture"]


def test_a_leaf_that_hides_the_target_is_found_as_a_jaw_is():
    edges = tuple(float(y) for y in range(-40, 41, 10))
    wide = ((-32.0, 32.0),) * 8
    assert not hidden(Aperture((-32, 32), (-32, 32), edges, wide))
    one_shut = tuple((0.0, 0.0) if i == 4 else p for i, p in enumerate(wide))
    assert hidden(Aperture((-32, 32), (-32, 32), edges, one_shut))
    assert hidden(Aperture((-32, 32), (-8, 32)))


@pytest.mark.parametrize("half", [22, 32])
def test_a_field_a_little_wider_than_the_ball_shows_all_of_it(half):
    # A ball of radius 20 about the isocentre is magnified by less than 1 % at its edge.
    assert not hidden(Aperture((-half, half), (-half, half)))
