"""One demand on the dose of a volume."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say


@dataclass(frozen=True, eq=False)
class Goal(Value):
    """A dose-volume demand.

    Parameters
    ----------
    volume_key : the volume it concerns
    metric : TG-263 metric grammar: "D95%[Gy]", "V20Gy[%]", "D0.1cc[Gy]", "Mean[Gy]", "Max[Gy]", ...
    comparator : "<=" or ">="
    limit : in the metric's unit
    tolerance : how far beyond the limit still counts as within the tolerance, same unit, not negative
    priority : 1 (must) to 3 (wish)
    source : where the demand comes from and how that is known
    waits_for : name of a volume that is not there yet; then `volume_key` is empty, and a case that has the volume joins
        them
    """

    LATER: ClassVar[Mapping[str, int]] = {"waits_for": 2}

    volume_key: str
    metric: str
    comparator: str
    limit: float
    tolerance: float = 0.0
    priority: int = 1
    source: str = ""
    waits_for: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.comparator not in ("<=", ">="):
            raise InputError(
                say("a goal compares with ≤ (<=) or ≥ (>=), not {comparator!r}", comparator=self.comparator), self.metric
            )
        if self.tolerance < 0 or self.priority not in (1, 2, 3):
            raise InputError("a goal's tolerance is not negative and its priority is 1, 2 or 3", self.metric)


# Achieved values carry single-precision sums; a demand met to the last digit shown is met.
_SLACK = 1e-5


def margin(goal: Goal, value: float) -> float:
    """Return how far a value is on the good side of the limit (negative: how far beyond), in the metric's unit."""
    return goal.limit - value if goal.comparator == "<=" else value - goal.limit


def judge(goal: Goal, value: float) -> str:
    """Return "met", "within tolerance" or "missed"."""
    room = margin(goal, value) + _SLACK * max(1.0, abs(goal.limit))
    return say("met") if room >= 0 else say("within tolerance") if room + goal.tolerance >= 0 else say("missed")
