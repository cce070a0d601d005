"""Least values that are known in closed form, and the conditions of Karush, Kuhn and Tucker everywhere else."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import Cancelled
from engine.optimise.objective import Demand, Field, Held, Round
from engine.optimise.solve import least, unrest

FREE = np.full(2, np.inf)
NONE = np.zeros(2)


def two_voxels(near: float = 1.0, far: float = 0.25) -> Field:
    """Return two beams that give `near` to the voxel they enter by and `far` to the other."""
    return Field({"v": np.array([[near, far], [far, near]], np.float32)}, {"v": np.array([0.5, 0.5])})


def test_two_beams_two_voxels_exactly() -> None:
    """At least 10 to both voxels and at most 10 to both: the weights solve two equations."""
    demands = [Demand("v", 10, -1, 1.0, False, 1.0), Demand("v", 10, 1, 1.0, False, 1.0)]
    found = least(Round(two_voxels(), demands, NONE), np.array([3.0, 0.5]), NONE, FREE)
    assert found.x == pytest.approx([8, 8], rel=1e-5)
    assert found.value == pytest.approx(0, abs=1e-9)


def test_two_demands_against_each_other_meet_where_their_slopes_cancel() -> None:
    """One beam, 1 and 1 Gy per unit: at least 20 with weight a, at most 10 with weight b.

    a 2 (1 - x / 20) / 20 = b 2 (x / 10 - 1) / 10, so x = (a / 20 + b / 10) / (a / 400 + b / 100).
    """
    field = Field({"t": np.ones((1, 1), np.float32), "o": np.ones((1, 1), np.float32)}, {"t": np.ones(1), "o": np.ones(1)})
    for a, b in ((1.0, 1.0), (1.0, 0.1), (0.01, 1.0)):
        demands = [Demand("t", 20, -1, 1.0, False, a), Demand("o", 10, 1, 1.0, True, b)]
        of = Round(field, demands, np.zeros(1))
        found = least(of, np.array([1.0]), np.zeros(1), np.full(1, np.inf))
        assert found.x[0] == pytest.approx((a / 20 + b / 10) / (a / 400 + b / 100), rel=1e-5)


def test_what_is_held_is_held_and_bounds_are_kept() -> None:
    demands = [Demand("v", 10, 1, 1.0, False, 1.0)]
    held = Held(np.array([0.1, 0.0]))  # the first weight is to be 10
    of = Round(two_voxels(), demands, NONE)
    assert held.row @ least(of, NONE + 1, NONE, FREE, held).x == pytest.approx(1, abs=1e-3)
    bound = least(of, NONE + 1, NONE, np.array([6.0, 5.0]), held)
    assert bound.x[0] == 6
    assert least(of, NONE + 1, np.array([0.0, 4.0]), FREE, held).x[1] >= 4


@given(seed=st.integers(0, 10**6), bounded=st.booleans())
@settings(max_examples=40, deadline=None)
def test_no_allowed_step_lowers_the_end(seed, bounded) -> None:
    rng = np.random.default_rng(seed)
    n, points = 5, 200
    field = Field(
        {k: (rng.random((points, n)) * rng.choice([0.3, 10])).astype(np.float32) for k in "ab"},
        {k: np.full(points, 1 / points) for k in "ab"},
    )
    demands = [
        Demand("a", 30, -1, 0.95, False, 1.0), Demand("a", 33, 1, 0.98, False, 0.1), Demand("b", 5, 1, 0.7, False, 1.0),
        Demand("b", 4, 1, 1.0, True, 0.01),
    ]  # fmt: skip
    low = np.full(n, 0.3 if bounded else 0.0)
    high = np.full(n, 2.0 if bounded else np.inf)
    of, held = Round(field, demands, rng.random(n)), Held(rng.random(n) / 10)
    start = rng.random(n) * 3
    found = least(of, start, low, high, held)
    assert np.all((found.x >= low) & (found.x <= high))
    assert found.value <= of(np.clip(start, low, high), held)[0]
    scale = 1 / np.sqrt(of.stiffness(held))
    assert unrest(lambda x: of(x, held), found.x, low, high, scale) < 2e-5


def test_it_can_be_cancelled() -> None:
    def stop(fraction: float, words: str = "") -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        least(Round(two_voxels(), [Demand("v", 10, -1, 1.0, False, 1.0)], NONE), NONE, NONE, FREE, report=stop)
