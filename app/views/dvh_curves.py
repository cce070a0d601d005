"""What the DVH plot draws, as numbers: curves, round axis steps, goal marks and the point nearest to the pointer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor, log10
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import UserError
from engine.evaluation.metrics import Metric, parse

POINTS = 200


@dataclass
class Curve:
    """One volume's curve: dose in Gy against percent (or cm3), falling; differential: against percent (or cm3) per Gy."""

    key: str
    gy: NDArray[np.float64]
    amount: NDArray[np.float64]


@dataclass(frozen=True)
class Mark:
    """A goal on the plot: the dose and amount it speaks of, and which way it wants the curve ("left", "right", ...)."""

    key: str
    gy: float
    amount: float
    way: str
    state: str
    goal: Any
    achieved: float | None


def curves(now: Any, in_cm3: bool, differential: bool = False) -> list[Curve]:
    """Return the curves of a plan in percent or cm3."""
    out = []
    for key, dvh in now.dvhs.items():
        gy, percent = _density(dvh) if differential else dvh.curve(POINTS)
        out.append(Curve(key, gy, percent * (dvh.volume_cm3 / 100.0) if in_cm3 else percent))
    return out


def _density(dvh: Any) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    gy, percent = dvh.differential(POINTS // 2)
    return np.concatenate(([0.0], gy, [dvh.max_gy])), np.concatenate(([0.0], percent, [0.0]))


def marks(now: Any, in_cm3: bool, differential: bool = False) -> list[Mark]:
    """Return the goals that can be shown: as a point of the cumulative plot, at their dose (amount 0) of the other."""
    out = []
    for goal, achieved, state in now.goals:
        dvh = now.dvhs.get(goal.volume_key)
        place = _place(goal, dvh, now.prescribed_gy) if dvh is not None else None
        if place is not None and dvh is not None and (differential or place[1] is not None):
            gy, percent, along_dose = place[0], 0.0 if differential else place[1] or 0.0, place[2]
            smaller = goal.comparator == "<="
            way = ("left" if smaller else "right") if along_dose else ("down" if smaller else "up")
            amount = percent * (dvh.volume_cm3 / 100.0) if in_cm3 else percent
            out.append(Mark(goal.volume_key, gy, amount, way, state, goal, achieved))
    return out


def _place(goal: Any, dvh: Any, prescribed_gy: float | None) -> tuple[float, float | None, bool] | None:
    """Return (Gy, percent of the volume, whether the goal bounds the dose) of a goal, or None if it has no dose.

    A mean is a dose that belongs to no percentage of the volume.
    """
    metric = _understood(goal.metric)
    if metric is None:
        return None
    if metric.needs_prescription and not prescribed_gy:
        return None
    per_percent = (prescribed_gy or 0.0) / 100.0
    if metric.kind in ("V", "CV"):
        gy = metric.amount if metric.asked == "Gy" else metric.amount * per_percent
        percent = goal.limit if metric.unit == "%" else 100.0 * goal.limit / dvh.volume_cm3
        return (gy, percent, False) if metric.kind == "V" else (gy, 100.0 - percent, False)
    gy = goal.limit * (per_percent if metric.unit == "%" else 0.01 if metric.unit == "cGy" else 1.0)
    if metric.kind in ("D", "DC"):
        share = metric.amount if metric.asked == "%" else 100.0 * metric.amount / dvh.volume_cm3
        return gy, share if metric.kind == "D" else 100.0 - share, True
    return gy, {"Max": 0.0, "Min": 100.0, "Median": 50.0, "Mean": None}[metric.kind], True


@lru_cache(maxsize=256)
def _understood(text: str) -> Metric | None:
    try:
        return parse(text)
    except UserError:
        return None


def round_top(value: float) -> tuple[float, float]:
    """Return a round number not below `value` and a round step that divides it into four to nine parts."""
    if not value > 0:
        return 1.0, 0.25
    power = 10.0 ** floor(log10(value / 5.0))
    step = next(s * power for s in (1, 2, 5, 10) if value / (s * power) <= 8)
    return ceil(2 * value / step - 1e-9) * step / 2, step


def amount_at(curve: Curve, gy: float) -> float:
    """Return the percent or cm3 that receives a dose or more."""
    return float(np.interp(gy, curve.gy, curve.amount))


def nearest(
    found: list[Curve], gy: float, amount: float, gy_per_px: float, amount_per_px: float
) -> tuple[Curve, float] | None:
    """Return the curve nearest to a place and how many pixels away it passes."""
    best: tuple[Curve, float] | None = None
    for curve in found:
        away = np.hypot((curve.gy - gy) / gy_per_px, (curve.amount - amount) / amount_per_px).min()
        level = abs(amount_at(curve, gy) - amount) / amount_per_px
        distance = float(min(away, level))
        if best is None or distance < best[1]:
            best = (curve, distance)
    return best
