"""What goals ask of beam weights, as one smooth convex function of them.

A goal becomes a *demand*: a share of its volume must keep to one side of a dose limit L. D95% >= L asks that the hottest
95 % of the volume get L or more; V20Gy <= 30 % asks that the coldest 70 % stay below 20 Gy; Max <= L asks it of the whole
volume. The *points* that count are the sample points of that share at present: the better a point is already, the sooner
it counts, so that the goal is met if and only if none of them is on the wrong side. With d the dose, linear in the beams,

    demand = mean over its points of max(0, side (d - L) / L)^2

is convex in the weights as long as the points stay the same. Choosing them anew lowers it or leaves it, because the
present choice is the least of all choices: a sequence of convex problems, each no worse than the one before. A demand on
the mean dose has one "point", the mean, and needs no choice. Limits divide, so that 7 Gy to a lens weigh as 50 Gy to a
cord do.

The points are those of the DVH. Those of the body lie far apart: its highest dose is pushed there, and told of its voxels.

The idea of pushing only the tail that keeps a dose-volume point from being met is that of Bortfeld, Schlegel and
Rhein 1993 and of Spirou and Chui 1998 [memory].
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError, UserError
from engine.evaluation.dvh import Dvh
from engine.evaluation.goals import Goal
from engine.evaluation.metrics import Metric, parse

Floats = NDArray[np.float64]

# A must counts ten times as much as what comes second, that ten times as much as a wish.
OF_PRIORITY = {1: 1.0, 2: 0.1, 3: 0.01}
# Demands are aimed at this share inside their limits: being smooth, they give way a little where others pull, and a goal
# that can be met should not end a hair beyond.
RESERVE = 0.005


@dataclass(frozen=True)
class Demand:
    """A goal as weights see it.

    Parameters
    ----------
    key : of the volume
    limit_gy : above zero, with the reserve
    side : +1 if the dose must not lie above the limit, -1 if not below
    share : of the volume that must keep to it, above 0 up to 1: its coldest part for side +1, its hottest for -1
    mean : whether the mean dose of the volume keeps to it instead of points
    weight : how much it counts
    """

    key: str
    limit_gy: float
    side: float
    share: float
    mean: bool
    weight: float


def demand_of(goal: Goal, dvh: Dvh | None, prescribed_gy: float | None) -> Demand:
    """Return what a goal demands.

    Parameters
    ----------
    dvh : of its volume at any weights (for volume and coverage), None if no part of it lies inside the dose grid

    Raises
    ------
    UserError
        With the reason why weights cannot be pushed towards this goal.
    """
    if dvh is None:
        raise InputError("its volume is empty or lies outside the dose grid")
    try:
        metric = parse(goal.metric)
    except UserError:
        raise InputError("it is no dose-volume metric") from None
    metric.value(dvh, prescribed_gy)  # raises what keeps the goal from being judged
    limit_gy, share, upper = _asked(metric, goal, dvh, (prescribed_gy or 0.0) / 100.0)
    if not limit_gy > 0:
        raise InputError("only no dose at all would meet it")
    if not share > 0:
        raise InputError("any dose meets it")
    side = 1.0 if upper else -1.0
    aim_gy = limit_gy * (1.0 - side * RESERVE)
    return Demand(goal.volume_key, aim_gy, side, share, metric.kind == "Mean", OF_PRIORITY[goal.priority])


def _asked(metric: Metric, goal: Goal, dvh: Dvh, per_percent_gy: float) -> tuple[float, float, bool]:
    """Return (dose limit in Gy, share that must keep to it, whether the limit is an upper one)."""
    upper = goal.comparator == "<="
    if metric.kind in ("V", "CV"):
        gy = metric.amount * (1.0 if metric.asked == "Gy" else per_percent_gy)
        part = goal.limit / (100.0 if metric.unit == "%" else dvh.volume_cm3)
        part = min(1.0, max(0.0, part))
        # V counts what lies above the dose and CV what lies below it.
        above = part if metric.kind == "V" else 1.0 - part
        upper = upper == (metric.kind == "V")
        return gy, 1.0 - above if upper else above, upper
    gy = goal.limit * {"Gy": 1.0, "cGy": 0.01}.get(metric.unit, per_percent_gy)
    if metric.kind == "Mean":
        return gy, 1.0, upper
    if metric.kind in ("D", "DC"):
        part = metric.amount / (100.0 if metric.asked == "%" else dvh.volume_cm3)
        above = part if metric.kind == "D" else 1.0 - part
    else:
        above = {"Max": 0.0, "Median": 0.5, "Min": 1.0}[metric.kind]
    return gy, 1.0 - above if upper else above, upper


class Field:
    """Doses the demands are about.

    Parameters
    ----------
    rows : by volume key, float32 (points, beams), Gy per unit of the weight
    shares : by volume key, float64 (points,), sums to 1
    """

    def __init__(self, rows: Mapping[str, NDArray[np.float32]], shares: Mapping[str, Floats]) -> None:
        self.rows = {k: np.ascontiguousarray(r, dtype=np.float32) for k, r in rows.items()}
        self.shares = dict(shares)
        self.means = {k: shares[k] @ r for k, r in self.rows.items()}
        self.beams = len(next(iter(self.means.values())))

    def doses(self, key: str, x: Floats) -> Floats:
        """Return the dose at a volume's points, (points,)."""
        return self.rows[key] @ x


@dataclass(frozen=True)
class Held:
    """What the normalisation makes equal to the prescription, near the present weights: ``row @ x = 1``.

    Parameters
    ----------
    row : float64 (beams,)
    miss : what is added to ``row @ x - 1`` before it is squared: shifted from round to round by what was still missed, so
        that nothing is missed in the end although the demand is held only softly (method of multipliers, Powell 1969
        [memory])
    weight : how much it counts
    """

    row: Floats
    miss: float = 0.0
    weight: float = 10.0

    def off_by(self, x: Floats) -> float:
        """Return how far weights are from holding it, 0 when they do."""
        return float(self.row @ x) - 1.0


@dataclass(frozen=True)
class _Points:
    """The demands on the points of one volume; `counts` float32 (demands, points), the others (demands,)."""

    key: str
    counts: NDArray[np.float32]
    side: Floats
    limit: Floats
    weight: Floats


class Round:
    """The convex function of one round: the points that count are chosen at `at` and stay."""

    def __init__(self, field: Field, demands: Sequence[Demand], at: Floats) -> None:
        self.field = field
        self._means = [d for d in demands if d.mean]
        self._points: list[_Points] = []
        for key in dict.fromkeys(d.key for d in demands if not d.mean):
            mine = [d for d in demands if d.key == key and not d.mean]
            gy, shares = field.doses(key, at), field.shares[key]
            order = np.argsort(gy, kind="stable")
            counts = np.stack([chosen(order, shares, d) for d in mine]).astype(np.float32)
            side, limit, weight = (np.array(v) for v in zip(*((d.side, d.limit_gy, d.weight) for d in mine), strict=True))
            self._points.append(_Points(key, counts, side, limit, weight))

    def __call__(self, x: Floats, held: Held | None = None) -> tuple[float, Floats]:
        """Return the value at weights x (beams,) and its gradient (beams,), with what is held if it is given."""
        from engine.optimise.kernels import demands_of_points

        value, gradient = 0.0, np.zeros(len(x))
        for p in self._points:
            value += demands_of_points(self.field.rows[p.key], x, p.counts, p.side, p.limit, p.weight, gradient)
        for d in self._means:
            row = self.field.means[d.key]
            over = max(0.0, d.side * (float(row @ x) / d.limit_gy - 1.0))
            value += d.weight * over**2
            gradient += (2.0 * d.weight * d.side / d.limit_gy * over) * row
        if held is not None:
            off = held.off_by(x) + held.miss
            value += held.weight * off**2
            gradient += 2.0 * held.weight * off * held.row
        return value, gradient

    def stiffness(self, held: Held | None = None) -> Floats:
        """Return an upper bound of the second derivative by each weight (beams,), for scaling; never zero."""
        from engine.optimise.kernels import squares

        out = np.zeros(self.field.beams)
        for p in self._points:
            for counts, limit, weight in zip(p.counts, p.limit, p.weight, strict=True):
                square = np.zeros(self.field.beams)
                squares(self.field.rows[p.key], counts, square)
                out += 2.0 * weight / limit**2 * square
        for d in self._means:
            out += 2.0 * d.weight * (self.field.means[d.key] / d.limit_gy) ** 2
        if held is not None:
            out += 2.0 * held.weight * held.row**2
        return np.where(out > 0, out, 1.0)


def chosen(order: NDArray[np.intp], shares: Floats, demand: Demand) -> Floats:
    """Return how much each point counts, (points,), sum 1: those that keep to the demand soonest, up to its share.

    Parameters
    ----------
    order : the points from the coldest to the hottest
    """
    if demand.share >= 1.0:
        return shares
    order = order if demand.side > 0 else order[::-1]
    ends = np.cumsum(shares[order])
    taken = np.clip(demand.share * ends[-1] - (ends - shares[order]), 0.0, shares[order])
    out = np.zeros(len(order))
    out[order] = taken / taken.sum()
    return out
