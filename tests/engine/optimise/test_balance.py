"""Balanced weights: laws of the answer, what is refused, and a demonstration patient."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import Cancelled, InputError
from engine.base.values import own_array
from engine.case.case import Patient, Prescription
from engine.case.demonstration import planned
from engine.case.requests import dose_requests
from engine.dose.dose import Dose
from engine.evaluation.goals import Goal
from engine.evaluation.live import LiveRequest, prepare
from engine.optimise.balance import Balance, BalanceRequest, balance
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of
from tests.support.stub_dose import beam_dose

IMAGE = grid_of((60, 60, 60), (2.0, 2.0, 2.0))
PTV = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + y * y + z * z <= 225), "ptv", "PTV")
CORD = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + (y - 22) ** 2 <= 16), "cord")
LUNG = as_volume(coverage_of(IMAGE, lambda x, y, z: (x + 22) ** 2 + y * y <= 36), "lung")
EMPTY = as_volume(Coverage(IMAGE), "empty")
VOLUMES = (PTV, CORD, LUNG, EMPTY)
# From the front, from the back (through the cord), from the left (through the lung), from the right.
DOSES = (
    dose_of(lambda x, y, z: 0.01 * np.exp(-0.01 * (y + 30)) / (1 + np.exp((np.abs(x) - 18) / 2)), 64, 2, "a"),
    dose_of(lambda x, y, z: 0.01 * np.exp(0.01 * (y - 30)) / (1 + np.exp((np.abs(x) - 18) / 2)), 64, 2, "b"),
    dose_of(lambda x, y, z: 0.01 * np.exp(-0.01 * (x + 30)) / (1 + np.exp((np.abs(y) - 18) / 2)), 64, 2, "c"),
    dose_of(lambda x, y, z: 0.01 * np.exp(0.01 * (x - 30)) / (1 + np.exp((np.abs(y) - 18) / 2)), 64, 2, "d"),
)
WISH = Prescription(60, 30, "ptv")
COLD = Goal("ptv", "D95%[%]", ">=", 98)
HOT = Goal("ptv", "D2%[%]", "<=", 112, 0.0, 2)
CORD_MAX = Goal("cord", "Max[Gy]", "<=", 44)
LUNG_MEAN = Goal("lung", "Mean[Gy]", "<=", 37.5, 0.0, 2)


def ask(*goals: Goal, weights=(1.0, 1.0, 1.0, 1.0), rule="D95%", doses=DOSES, **more) -> BalanceRequest:
    return BalanceRequest(doses, VOLUMES, goals, weights, rule, WISH, (0.0, 0.0, 0.0), **more)


def value(found: Balance, goal: Goal) -> float:
    return next(o.after for o in found.outcomes if o.goal == goal)


def test_a_beam_through_what_is_to_be_spared_gives_way() -> None:
    found = balance(ask(COLD, HOT, CORD_MAX, LUNG_MEAN))
    assert found.after < found.before
    assert found.weights[1] < 1 < found.weights[0]
    assert all(o.state_after == "met" for o in found.outcomes)
    assert found.outcomes[2].state_before == "missed"
    assert sum(found.weights) == pytest.approx(4, rel=1e-3)
    assert found.rounds > 0
    assert found.evaluations > found.rounds
    assert found.inputs == ask(COLD, HOT, CORD_MAX, LUNG_MEAN).fingerprint


@pytest.mark.parametrize("rule", ["D95%", "D2%", "Mean", "Max", "Isocentre", "None"])
def test_goals_are_told_of_the_plan_as_it_will_stand(rule: str) -> None:
    goals = (COLD, HOT, CORD_MAX, LUNG_MEAN)
    found = balance(ask(*goals, rule=rule))
    basis = prepare(LiveRequest(DOSES, VOLUMES))
    for weights, mu, side in (
        ((1.0,) * 4, found.mu_before, "before"),
        (found.weights, found.mu_after, "after"),
    ):
        plan = basis.evaluate(weights, rule, WISH, (0.0, 0.0, 0.0), goals)
        assert mu == pytest.approx(plan.mu)
        assert [getattr(o, side) for o in found.outcomes] == [v for _, v, _ in plan.goals]
        assert [getattr(o, f"state_{side}") for o in found.outcomes] == [s for *_, s in plan.goals]
    assert found.after <= found.before


def test_without_normalisation_weights_are_monitor_units() -> None:
    found = balance(ask(COLD, Goal("ptv", "Mean[%]", "<=", 102), rule="None"))
    assert found.mu_after == pytest.approx([100 * w for w in found.weights])
    assert 98 <= value(found, COLD) < 100
    twice = balance(ask(COLD, Goal("ptv", "Mean[%]", "<=", 102), rule="None",
                        doses=tuple(Dose(own_array(2 * d.gy), d.grid) for d in DOSES)))  # fmt: skip
    assert value(twice, COLD) == pytest.approx(value(found, COLD), abs=0.5)
    assert sum(twice.weights) == pytest.approx(sum(found.weights) / 2, rel=0.02)


@given(factor=st.floats(0.01, 100))
@settings(max_examples=5, deadline=None)
def test_only_ratios_of_the_hands_weights_matter_where_the_plan_is_normalised(factor) -> None:
    goals, hand = (COLD, CORD_MAX, LUNG_MEAN), (1.0, 0.5, 2.0, 1.0)
    found = balance(ask(*goals, weights=hand))
    other = balance(ask(*goals, weights=tuple(factor * w for w in hand)))
    assert other.before == pytest.approx(found.before, rel=1e-4)
    assert other.after == pytest.approx(found.after, rel=1e-2, abs=1e-9)
    assert sum(other.weights) == pytest.approx(factor * sum(found.weights), rel=2e-3)


def test_the_same_in_other_units_of_dose_is_the_same() -> None:
    goals = (COLD, CORD_MAX, LUNG_MEAN)
    strong = tuple(Dose(own_array(d.gy * np.float32(8)), d.grid) for d in DOSES)
    found, other = balance(ask(*goals)), balance(ask(*goals, doses=strong))
    assert other.weights == pytest.approx(found.weights, abs=0.02)
    assert other.after == pytest.approx(found.after, rel=1e-2, abs=1e-9)
    assert other.mu_after == pytest.approx([m / 8 for m in found.mu_after], abs=0.2)


def test_more_priority_never_serves_a_goal_less() -> None:
    """Against the target's dose only one of cord and lung can be spared."""
    reached = []
    for priority in (3, 2, 1):
        goal = Goal("cord", "Max[Gy]", "<=", 10, 0.0, priority)
        reached.append(value(balance(ask(COLD, goal, Goal("lung", "Max[Gy]", "<=", 10, 0.0, 2))), goal))
    assert reached[0] >= reached[1] - 0.01
    assert reached[1] >= reached[2] - 0.01
    assert reached[0] > reached[2] + 1


def test_goals_that_cannot_all_be_met_get_the_least_worst() -> None:
    goals = tuple(Goal(key, "Max[Gy]", "<=", 5) for key in ("cord", "lung"))
    found = balance(ask(COLD, *goals))
    assert found.after < found.before
    assert all(np.isfinite(w) and w >= 0 for w in found.weights)
    assert all(o.state_after == "missed" and o.after < o.before for o in found.outcomes[1:])
    assert value(found, COLD) == pytest.approx(100, abs=0.1)


def test_weights_that_serve_best_already_stay() -> None:
    first = balance(ask(COLD, CORD_MAX, LUNG_MEAN))
    again = balance(ask(COLD, CORD_MAX, LUNG_MEAN, weights=first.weights))
    assert again.after <= again.before
    assert again.after == pytest.approx(first.after, rel=0.02, abs=1e-8)
    met = balance(ask(COLD))
    assert met.weights == (1.0, 1.0, 1.0, 1.0)
    assert "met already" in met.stopped
    best = balance(ask(Goal("cord", "Max[Gy]", "<=", 40), doses=DOSES[:1], weights=(1.0,)))
    assert best.weights == (1.0,)
    assert "no weights were found" in best.stopped


def test_bounds_are_kept() -> None:
    free = balance(ask(COLD, CORD_MAX))
    bound = balance(ask(COLD, CORD_MAX, least_mu=60, most_mu=75))
    assert min(free.mu_after) < 60
    assert max(free.mu_after) > 75
    assert all(59.9 <= m <= 75.1 for m in bound.mu_after)
    assert value(bound, CORD_MAX) > value(free, CORD_MAX)
    with pytest.raises(InputError, match="no room"):
        balance(ask(COLD, CORD_MAX, most_mu=1))
    with pytest.raises(InputError, match="bounds"):
        ask(COLD, least_mu=5, most_mu=4)


def test_what_is_not_pushed_is_told() -> None:
    odd = (Goal("ptv", "CI", ">=", 0.9), Goal("ptv", "gEUD[Gy]", ">=", 50), Goal("empty", "Max[Gy]", "<=", 10))
    found = balance(ask(CORD_MAX, *odd))
    assert [bool(o.not_pushed) for o in found.outcomes] == [False, True, True, True]
    assert "no dose-volume metric" in found.outcomes[1].not_pushed
    assert "empty" in found.outcomes[3].not_pushed
    with pytest.raises(InputError, match="none of these goals"):
        balance(ask(*odd))


def test_beams_without_weight_are_weighed_too() -> None:
    found = balance(ask(COLD, CORD_MAX, weights=(0.0, 1.0, 0.0, 0.0)))
    assert found.outcomes[1].state_after == "met"
    assert sum(found.weights) == pytest.approx(1, rel=1e-3)
    nothing = balance(ask(COLD, CORD_MAX, weights=(0.0,) * 4))
    assert nothing.mu_before == (0, 0, 0, 0)
    assert nothing.outcomes[1].state_after == "met"


def test_refusals_say_what_is_missing() -> None:
    with pytest.raises(InputError, match="no goal"):
        ask()
    with pytest.raises(InputError, match="does not exist"):
        ask(Goal("gone", "Max[Gy]", "<=", 10))
    with pytest.raises(InputError, match="no dose"):
        ask(COLD, doses=tuple(Dose(own_array(0 * d.gy), d.grid) for d in DOSES))
    with pytest.raises(InputError, match="weight and a dose"):
        ask(COLD, weights=(1.0,))
    with pytest.raises(InputError, match="no prescription"):
        balance(ask(COLD).but(prescription=None))
    aside = (dose_of(lambda x, y, z: np.where(x > 25, 0.01, 0.0) + 0 * y, 64, 2),)
    with pytest.raises(InputError, match="no dose to the prescribed volume"):
        balance(ask(CORD_MAX, doses=aside, weights=(1.0,)))


@pytest.mark.parametrize("at", [0.05, 0.5])
def test_it_can_be_cancelled_anywhere(at: float) -> None:
    def stop(fraction: float, words: str = "") -> None:
        if fraction >= at:
            raise Cancelled

    with pytest.raises(Cancelled):
        balance(ask(COLD, CORD_MAX, LUNG_MEAN), stop)


def test_progress_goes_forward() -> None:
    told: list[float] = []
    balance(ask(COLD, CORD_MAX, LUNG_MEAN), lambda fraction, words="": told.append(fraction))
    assert all(0 <= f <= 1 for f in told)
    assert told[-1] == 1
    assert told == sorted(told)


def test_the_same_question_has_the_same_answer() -> None:
    assert balance(ask(COLD, CORD_MAX, LUNG_MEAN)) == balance(ask(COLD, CORD_MAX, LUNG_MEAN))


# Beams from the front and from the left, open and with a wedge whose thick end lies on either side.
FRONT, LEFT = 0, 1
TILT = 0.02


def wedged(beam: int, way: int) -> Dose:
    def field(x, y, z):
        depth, across = (y, x) if beam == FRONT else (x, y)
        return 0.01 * np.exp(-0.012 * (depth + 30)) * np.exp(-way * TILT * across) + 0 * z

    return dose_of(field, 64, 2, f"{beam}/{way}")


CHOICE = (wedged(FRONT, 0), wedged(FRONT, 1), wedged(FRONT, -1), wedged(LEFT, 0), wedged(LEFT, 1), wedged(LEFT, -1))
EVEN = Goal("ptv", "D2%[%]", "<=", 104)


def choose(*goals: Goal, rule: str = "D95%", weights=(1.0, 1.0), **more) -> Balance:
    return balance(ask(*goals, doses=CHOICE, weights=weights, rule=rule, of_beam=(0, 0, 0, 1, 1, 1), **more))


@pytest.mark.parametrize("rule", ["D95%", "None"])
def test_two_beams_at_right_angles_get_wedges_heel_to_heel(rule: str) -> None:
    """Each falls with depth; the thick ends lie where the other beam enters, which evens the dose out."""
    found = choose(COLD, EVEN, rule=rule)
    assert found.chosen == (2, 5)
    alone = balance(ask(COLD, EVEN, doses=(CHOICE[0], CHOICE[3]), weights=(1.0, 1.0), rule=rule))
    assert alone.chosen == (0, 1)
    assert found.before == pytest.approx(alone.before)
    assert found.after < 0.5 * alone.after
    assert len(found.weights) == len(found.mu_after) == 2
    assert found.weights[0] == pytest.approx(found.weights[1], rel=0.05)
    plan = prepare(LiveRequest((CHOICE[2], CHOICE[5]), VOLUMES)).evaluate(found.weights, rule, WISH, None, (COLD, EVEN))
    assert [o.after for o in found.outcomes] == pytest.approx([v for _, v, _ in plan.goals], rel=1e-5)
    assert found.mu_after == pytest.approx(plan.mu)


def test_a_choice_never_serves_worse_than_none() -> None:
    goals = (COLD, EVEN, CORD_MAX, LUNG_MEAN)
    alone = balance(ask(*goals, doses=(CHOICE[0], CHOICE[3]), weights=(1.0, 1.0)))
    assert choose(*goals).after <= alone.after
    dark = Dose(own_array(0 * CHOICE[0].gy), CHOICE[0].grid)
    found = balance(ask(*goals, doses=(CHOICE[0], dark, CHOICE[3], dark), weights=(1.0, 1.0), of_beam=(0, 0, 1, 1)))
    assert found.chosen == (0, 2)
    assert found.weights == alone.weights


def test_bounds_hold_with_a_choice() -> None:
    free, bound = choose(COLD, EVEN), choose(COLD, EVEN, most_mu=1000, least_mu=5)
    assert bound.chosen == free.chosen
    assert all(5 <= m <= 1000 for m in bound.mu_after)


def test_every_dose_is_of_a_beam() -> None:
    for of_beam in ((0, 0, 0, 1, 1), (0, 0, 0, 2, 2, 2), (0, 0, 0, 0, 0, 0)):
        with pytest.raises(InputError, match="weight and a dose"):
            ask(COLD, doses=CHOICE, weights=(1.0, 1.0), of_beam=of_beam)


def in_order(found: Balance, side: str) -> list[int]:
    """Return how many goals are missed, by priority: as lists these compare what must be before what should."""
    return [sum(getattr(o, f"state_{side}") == "missed" for o in found.outcomes if o.goal.priority == p) for p in (1, 2, 3)]


@pytest.mark.slow
def test_a_demonstration_patient_is_served_better_in_order_of_priority(demonstrations) -> None:
    """The pelvis with its own goals, on the grid of quick doses; doses fade evenly with depth."""
    phantom = demonstrations.made("pelvis")
    case = planned(phantom, Patient(synthetic=True), phantom.image)
    draft = case.drafts[0]
    doses = tuple(beam_dose(r) for r in dose_requests(case, draft, "quick"))
    found = balance(
        BalanceRequest(doses, case.volumes, draft.goals, draft.weights, draft.normalisation, draft.prescription)
    )
    assert found.after < 0.9 * found.before
    assert in_order(found, "after") <= in_order(found, "before")
    assert all(o.after < o.before for o in found.outcomes if o.goal.priority == 1 and o.state_before == "missed")
