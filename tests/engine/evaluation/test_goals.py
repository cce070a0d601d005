from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.evaluation.goals import Goal, judge, margin


@pytest.mark.parametrize(
    ("comparator", "value", "state", "room"),
    [
        ("<=", 44.0, "met", 1.0),
        ("<=", 45.0, "met", 0.0),
        ("<=", 45.0000001, "met", 0.0),
        ("<=", 46.9, "within tolerance", -1.9),
        ("<=", 47.0, "within tolerance", -2.0),
        ("<=", 47.1, "missed", -2.1),
        (">=", 46.0, "met", 1.0),
        (">=", 43.5, "within tolerance", -1.5),
        (">=", 42.9, "missed", -2.1),
    ],
)
def test_judgement_and_margin(comparator: str, value: float, state: str, room: float) -> None:
    goal = Goal("v", "Max[Gy]", comparator, 45.0, 2.0)
    assert judge(goal, value) == state
    assert margin(goal, value) == pytest.approx(room, abs=1e-6)


def test_nonsense_is_refused() -> None:
    for change in ({"comparator": "<"}, {"tolerance": -1.0}, {"priority": 4}):
        with pytest.raises(InputError):
            Goal("v", "Max[Gy]", **({"comparator": "<=", "limit": 1.0} | change))
