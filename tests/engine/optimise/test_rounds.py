"""Rounds on one set of doses: they end, they never get worse, and each is held where the plan is normalised."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import InputError
from engine.case.case import Prescription
from engine.evaluation.goals import Goal
from engine.evaluation.live import LiveRequest, prepare
from engine.optimise.held import held_row
from engine.optimise.objective import Held, Round
from engine.optimise.rounds import ROUNDS, Rounds
from engine.optimise.solve import unrest
from tests.engine.optimise.test_balance import COLD, CORD_MAX, DOSES, HOT, LUNG_MEAN, VOLUMES

BASIS = prepare(LiveRequest(DOSES, VOLUMES))
PRESCRIBED = Prescription(60, 30, "ptv")


@dataclass(frozen=True)
class Asked:
    goals: tuple[Goal, ...] = (COLD, HOT, CORD_MAX, LUNG_MEAN)
    normalisation: str = "D95%"
    prescription: Prescription | None = PRESCRIBED
    isocentre_mm: tuple[float, ...] = (0.0, 0.0, 0.0)


@given(
    weights=st.tuples(*[st.floats(0, 5)] * 4).filter(lambda w: sum(w) > 0.1),
    rule=st.sampled_from(("D95%", "D50%", "Mean", "Max", "Isocentre", "None")),
)
@settings(max_examples=12, deadline=None)
def test_they_end_normalised_and_never_worse(weights, rule) -> None:
    work = Rounds(BASIS, Asked(normalisation=rule), weights)
    ended = work.run()
    assert ended.rounds <= ROUNDS
    if ended.x is None:
        assert ended.value == work.objective(work.start)
        return
    assert ended.value < work.objective(work.start)
    assert ended.value == pytest.approx(work.objective(ended.x))
    assert np.all(ended.x >= 0)
    again = np.array(work.plan(tuple(ended.x / (30 if rule != "None" else 3000))).factors)
    assert again == pytest.approx(ended.x, rel=1e-6)


def test_where_they_end_no_allowed_step_lowers_it() -> None:
    """With the mean held, which is linear, the last round's conditions hold for the plan as it stands."""
    asked = Asked((CORD_MAX, LUNG_MEAN), "Mean")
    work = Rounds(BASIS, asked, (1.0, 1.0, 1.0, 1.0))
    x = work.run().x
    assert x is not None
    of, row = Round(work.field, work.demands, x), held_row(BASIS, asked, x)
    gradient = of(x)[1]
    inside = x > 1e-6 * x.max()
    # The multiplier of what is held, from the beams that are free to move.
    price = float(gradient[inside] @ row[inside] / (row[inside] @ row[inside]))
    scale = 1 / np.sqrt(of.stiffness(Held(row)))
    assert unrest(lambda at: (0.0, of(at)[1] - price * row), x, work.low, work.high, scale) < 2e-3


def test_what_cannot_be_normalised_or_bounded_is_refused() -> None:
    with pytest.raises(InputError, match="no prescription"):
        Rounds(BASIS, Asked(prescription=None), (1.0,) * 4)
    with pytest.raises(InputError, match="none of these goals"):
        Rounds(BASIS, Asked((Goal("empty", "Max[Gy]", "<=", 1),)), (1.0,) * 4)
    with pytest.raises(InputError, match="no room"):
        Rounds(BASIS, Asked(), (1.0,) * 4, 0.0, 1.0).run()


def test_goals_left_out_have_reasons() -> None:
    odd = Goal("ptv", "CI", ">=", 1)
    work = Rounds(BASIS, Asked((COLD, odd)), (1.0,) * 4)
    assert list(work.reasons) == [odd]
    assert len(work.demands) == 1
    assert work.is_met(work.plan((1.0,) * 4))
