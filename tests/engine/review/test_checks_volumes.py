"""Mirror of engine/review/checks_volumes.py; the findings themselves are tripped one by one in test_checks.py."""

from dataclasses import replace

import pytest

from engine.case import edits
from engine.case.requests import Standing
from engine.review.ask import ReviewDraft, review
from engine.review.checks_volumes import _outside_cm3, inside_each_other, quality_of_volumes, volumes_in_pairs
from engine.review.finding import Facts
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, planned_case, tube


def test_what_lies_outside_is_measured_in_cm3():
    whole, shifted = ball(GRID, (0, 0, 0), 20), ball(GRID, (8, 0, 0), 20)
    assert _outside_cm3(whole, whole) == 0
    # two equal spheres: what is not common, V - pi (4r + d)(2r - d)^2 / 12, closed form
    closed = 33.510 - 3.14159 * 88 * 32**2 / 12 / 1000
    assert _outside_cm3(shifted, whole) == pytest.approx(closed, rel=0.05)


def facts(*volumes):
    case = planned_case()
    for v in volumes:
        case = edits.with_volume(case, v)
    return Facts(case, case.drafts[0], Standing("none"), None)


def target(name, x, radius, key=""):
    return Volume(key or name, name, name[:3], (9, 9, 9), ball(GRID, (x, 0, 0), radius))


def nested(*volumes):
    return [(f.volume_key, f.evidence.split(" outside ")[1]) for f in inside_each_other(facts(*volumes))]


def test_a_second_target_is_held_against_its_own_outer_volume():
    # The case has one PTV, a ball about the middle.
    far = target("CTV2", 35, 8)
    assert nested(target("CTV1", 0, 8), far) == []  # it has no PTV: none to be outside of
    assert nested(target("CTV1", 0, 8), far, target("PTV2", 35, 11)) == []
    assert nested(target("CTV1", 0, 8), far, target("PTV2", 31, 9)) == [("CTV2", "PTV2.")]


def test_names_that_go_on_alike_belong_together_wherever_they_lie():
    two = (target("CTV_A", 30, 8), target("PTV_A", -30, 8), target("PTV_B", 30, 11))
    assert nested(*two) == [("CTV_A", "PTV_A.")]


def test_an_only_pair_belongs_together_even_apart():
    assert nested(target("CTV", 45, 6)) == [("CTV", "PTV.")]


def test_pairs_and_sides_are_findings():
    cord = planned_case().volume("cord")
    found = {f.code: f for f in volumes_in_pairs(facts(cord.but(key="c2", name="Heart", coverage=tube(GRID, (0, 43), 6))))}
    assert found["volumes-overlap"].severity == "warn"
    assert found["volumes-overlap"].place == "c2+cord"
    wrong = Volume("k", "Kidney_R", "OAR", (9, 9, 9), ball(GRID, (30, 0, 0), 9))
    sides = [f for f in quality_of_volumes(facts(wrong)) if f.code == "volume-side"]
    assert [(f.severity, f.volume_key) for f in sides] == [("warn", "k")]


def test_the_distance_to_the_skin_is_that_asked_for():
    case = planned_case()  # the target keeps some 35 mm

    def told(mm):
        return [f.severity for f in quality_of_volumes(replace(facts(), skin_mm=mm)) if f.code == "target-near-skin"]

    assert (told(5.0), told(49.0)) == ([], ["warn"])
    asked = review(ReviewDraft(case, case.drafts[0].key, "none", (), 49.0)).findings
    assert "target-near-skin" in {f.code for f in asked}
