"""Rounds of convex problems on one set of doses, until the weights stand still.

In each the points that count for a goal are chosen at the present weights, the best weights for them are found, and the
plan is normalised as it really will be. Where it is normalised, what the normalisation makes equal to the prescription is
held as a demand of its own, linear in the weights near the present ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from engine.base.errors import InputError, UserError
from engine.base.progress import Report, part, quiet
from engine.base.words import say, say_count
from engine.evaluation.goals import Goal
from engine.evaluation.live import LiveBasis, PlanNow
from engine.optimise.held import Normalised, held_row
from engine.optimise.objective import Demand, Field, Floats, Held, Round, demand_of
from engine.optimise.solve import least

ROUNDS = 20
# Weights that move by less than this share of the largest stand still.
STILL = 1e-3
# An objective that falls by less than this share stays.
LESS = 1e-5
HALVINGS = 6
# What a normalised plan may lie beyond a bound: it is scaled after the bounds were kept.
BEYOND = 1e-3


class Wish(Normalised, Protocol):
    """What of a request matters here."""

    @property
    def goals(self) -> tuple[Goal, ...]: ...


@dataclass(frozen=True)
class Ended:
    """How it ended: the best monitor units over all fractions (None: those of the start), the objective there, how often
    points were chosen anew, how often the objective was asked, and why it stopped."""

    x: Floats | None
    value: float
    rounds: int
    evaluations: int
    stopped: str


class Rounds:
    """One set of doses being weighed; weights are monitor units over all fractions, one per dose.

    Parameters
    ----------
    basis : of these doses
    wish : goals, normalisation, prescription
    start : weights to start from, one per dose
    least_mu, most_mu : bounds of each dose's monitor units in one fraction; 0 for `most_mu` is no bound

    Raises
    ------
    InputError
        If the plan cannot be normalised, or weights can be pushed towards none of the goals.
    """

    def __init__(
        self, basis: LiveBasis, wish: Wish, start: Sequence[float], least_mu: float = 0.0, most_mu: float = 0.0
    ) -> None:
        self.wish, self.basis = wish, basis
        named = wish.prescription.volume_key if wish.prescription else ""
        # Only what the normalisation is about: the scale is asked in every round.
        self._scaling = replace(
            basis,
            samples={k: v for k, v in basis.samples.items() if k == named},
            per_beam={k: v for k, v in basis.per_beam.items() if k == named},
        )
        self.fractions = wish.prescription.fractions if wish.prescription else 1
        self.normalised = wish.normalisation != "None"
        self._given = any(start)
        plan = self.plan(start if self._given else (1.0,) * len(start))
        if plan.scale is None:
            raise InputError(plan.reason, "weights", "Change the prescription or the normalisation.")
        self.start = np.array(plan.factors)
        self.demands, self.reasons = self._demands(plan)
        if not self.demands:
            reason = next(iter(self.reasons.values()))
            raise InputError(say("weights can be pushed towards none of these goals: {reason}", reason=reason), "weights")
        keys = {d.key for d in self.demands}
        self.field = Field(
            {k: np.stack(basis.per_beam[k], axis=1) for k in keys},
            {k: basis.samples[k].share.astype(np.float64) for k in keys},
        )
        n = len(start)
        self.low = np.full(n, least_mu * self.fractions)
        self.high = np.full(n, most_mu * self.fractions if most_mu else np.inf)

    def plan(self, weights: Sequence[float]) -> PlanNow:
        """Return the plan as it would stand with these weights, normalised."""
        r = self.wish
        return self.basis.evaluate(weights, r.normalisation, r.prescription, r.isocentre_mm or None, r.goals)

    def is_met(self, plan: PlanNow) -> bool:
        """Return whether a plan meets every goal that weights can be pushed towards, and keeps to the bounds."""
        met = all(state == "met" for goal, _, state in plan.goals if goal not in self.reasons)
        return met and self._within(np.array(plan.factors))

    def objective(self, x: Floats) -> float:
        """Return what remains to be wished at monitor units x, the points that count being chosen there."""
        return Round(self.field, self.demands, x)(x)[0]

    def run(self, report: Report = quiet) -> Ended:
        """Return the best monitor units found.

        Raises
        ------
        InputError
            If the bounds leave no room for the prescription.
        """
        kept = bool(np.all(self.start >= self.low) and np.all(self.start <= self.high)) and self._given
        x, miss, asked = np.clip(self.start, self.low, self.high), 0.0, 0
        x = x if kept else self._as_it_stands(x, or_so=x)
        of = Round(self.field, self.demands, x)
        value = of(x)[0]
        best, best_value = None, value if kept else np.inf
        stopped = say_count("after {count} round", "after {count} rounds", ROUNDS)
        for n in range(1, ROUNDS + 1):
            held = Held(held_row(self.basis, self.wish, x), miss) if self.normalised else None
            told = part(report, (n - 1) / ROUNDS, n / ROUNDS)
            found = least(of, x, self.low, self.high, held, told)
            asked += found.evaluations
            miss += held.off_by(found.x) if held is not None else 0.0
            step, of, new = self._step(x, found.x, value if self._within(x) else np.inf, told)
            x, value = x + step, new
            if value < best_value * (1 - LESS) and self._within(x):
                best, best_value = x, value
            if float(np.abs(step).max()) < STILL * float(x.max()):
                stopped = say_count(
                    "the weights stand still after {count} round", "the weights stand still after {count} rounds", n
                )
                break
        if best is None and not kept:
            raise InputError(
                "these bounds of the monitor units leave no room for the prescription", "weights", "Widen the bounds."
            )
        if best is None:
            stopped = say("no weights were found that serve these goals better than those there are")
        return Ended(best, float(best_value), n, asked, stopped)

    def _step(self, x: Floats, to: Floats, value: float, report: Report) -> tuple[Floats, Round, float]:
        """Return the step from x towards `to` that is taken, the next round and the objective there.

        The normalisation is linear only nearby: a whole step may end where it holds something else, and rounds would swing
        to and fro. So the step is halved until the plan as it stands is better; no step if none is.
        """
        part_of = 1.0
        for _ in range(HALVINGS):
            report(1.0)
            new = self._as_it_stands(x + part_of * (to - x), or_so=x)
            of = Round(self.field, self.demands, new)
            found = of(new)[0]
            if found < value * (1 - LESS):
                return new - x, of, found
            part_of /= 2
        return np.zeros(len(x)), Round(self.field, self.demands, x), value

    def _demands(self, plan: PlanNow) -> tuple[list[Demand], dict[Goal, str]]:
        demands, reasons = [], {}
        for goal in self.wish.goals:
            try:
                demands.append(demand_of(goal, plan.dvhs.get(goal.volume_key), plan.prescribed_gy))
            except UserError as error:
                reasons[goal] = error.what
        return demands, reasons

    def _as_it_stands(self, x: Floats, or_so: Floats) -> Floats:
        """Return the monitor units after normalisation; `or_so` if they give no dose to normalise."""
        if not self.normalised:
            return x
        r = self.wish
        plan = self._scaling.evaluate(tuple(x / self.fractions), r.normalisation, r.prescription, r.isocentre_mm or None)
        return np.array(plan.factors) if plan.scale is not None else or_so

    def _within(self, x: Floats) -> bool:
        return bool(np.all(x >= self.low * (1 - BEYOND)) and np.all(x <= self.high * (1 + BEYOND)))
