"""Goals of the demonstrations say where they come from, and are demands one can judge."""

from __future__ import annotations

import re

import pytest

from engine.phantoms.goals import NOTE, head_plan, pelvis_plan, thorax_plan
from engine.phantoms.phantom import PlanHint

PLANS = (thorax_plan(), head_plan(), pelvis_plan())


@pytest.mark.parametrize("plan", PLANS)
def test_every_goal_tells_its_source_and_how_it_is_known(plan: PlanHint) -> None:
    for goal in plan.goals:
        assert re.search(r"\[(read|memory|common practice|own)", goal.source), goal
        assert goal.tolerance >= 0


@pytest.mark.parametrize("plan", PLANS)
def test_metrics_are_in_the_grammar_of_tg263(plan: PlanHint) -> None:
    for goal in plan.goals:
        assert re.fullmatch(r"(Max|Mean|Min|[DV][\d.]+(%|cc|Gy))\[(Gy|%|cc)\]", goal.metric), goal.metric


@pytest.mark.parametrize("plan", PLANS)
def test_the_target_is_asked_for_coverage_and_hot_spots(plan: PlanHint) -> None:
    asked = {g.metric for g in plan.goals if g.volume == plan.target}
    assert {"D95%[%]", "D98%[%]", "D2%[%]"} <= asked
    assert 1.7 < plan.prescription_gy / plan.fractions < 2.3, "conventional fractions, as the limits assume"


def test_known_limits() -> None:
    """QUANTEC summary (Marks et al. 2010), read in a secondary tabulation."""
    cord = next(g for g in PLANS[0].goals if g.volume == "SpinalCord" and g.metric == "Max[Gy]")
    lung = next(g for g in PLANS[0].goals if g.metric == "V20Gy[%]")
    stem = next(g for g in PLANS[1].goals if g.volume == "Brainstem" and g.metric == "Max[Gy]")
    rectum = next(g for g in PLANS[2].goals if g.volume == "Rectum" and g.metric == "V70Gy[%]")
    assert (cord.limit, lung.limit, stem.limit, rectum.limit) == (50.0, 30.0, 54.0, 20.0)


def test_note_says_synthetic_and_no_medical_device() -> None:
    assert "Synthetic" in NOTE
    assert "not a medical device" in NOTE
