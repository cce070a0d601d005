"""Beam weights that serve the goals best, and what becomes of every goal with them.

Rounds of one convex problem each (``objective``): the points that count for a goal are chosen at the present weights, the
best weights for them are found (``solve``), the plan is normalised as it really will be, and the next round begins there.
Weights are monitor units over all fractions while this goes on. Where the plan is normalised, what the normalisation makes
equal to the prescription is held as a demand of its own: it is linear in the weights near the present ones. The best
plan seen, the hand's among them, is the answer; so nothing is proposed that serves the goals worse than what there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.base.errors import InputError, UserError
from engine.base.progress import Report, part, quiet
from engine.base.values import Fingerprint, Value
from engine.base.words import say, say_count
from engine.dose.dose import Dose
from engine.evaluation.goals import Goal
from engine.evaluation.live import MU_PER_WEIGHT, LiveBasis, LiveRequest, PlanNow, Prescribed, prepare
from engine.optimise.held import held_row
from engine.optimise.objective import Demand, Field, Floats, Held, Round, demand_of
from engine.optimise.solve import least
from engine.space.grid import Point
from engine.volumes.volume import Volume

ROUNDS = 20
# Weights that move by less than this share of the largest stand still.
STILL = 1e-3
# An objective that falls by less than this share stays.
LESS = 1e-5
HALVINGS = 6
# What a normalised plan may lie beyond a bound: it is scaled after the bounds were kept.
BEYOND = 1e-3


@dataclass(frozen=True, eq=False)
class BalanceRequest(Value):
    """Ask for the weights that serve goals best.

    Parameters
    ----------
    doses : of each beam in Gy per MU, all on one grid
    volumes : of the case
    goals : those that count
    weights : one per beam, as they are now
    normalisation, prescription, isocentre_mm : of the draft, see ``engine.evaluation.live``
    least_mu, most_mu : bounds of each beam's monitor units in one fraction; 0 for `most_mu` is no bound
    """

    doses: tuple[Dose, ...]
    volumes: tuple[Volume, ...]
    goals: tuple[Goal, ...]
    weights: tuple[float, ...]
    normalisation: str = "None"
    prescription: Prescribed | None = None
    isocentre_mm: Point | tuple[()] = ()
    least_mu: float = 0.0
    most_mu: float = 0.0

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.goals:
            raise InputError("there is no goal to serve", "weights", "Write a goal, or tick one.")
        known = {v.key for v in self.volumes}
        for goal in self.goals:
            if goal.volume_key not in known:
                raise InputError(
                    "the volume of this goal does not exist", say("goal {metric}", metric=goal.metric), "Remove the goal."
                )
        if len(self.weights) != len(self.doses):
            raise InputError("each beam needs a weight and a dose", "weights")
        if self.least_mu < 0 or self.most_mu < 0 or (self.most_mu and self.most_mu < self.least_mu):
            raise InputError("the least monitor units of a beam lie above the most", "weights", "Correct the bounds.")
        if not any(d.gy.any() for d in self.doses):
            raise InputError("the beams give no dose", "weights", "Aim at least one beam at the target.")


@dataclass(frozen=True, eq=False)
class Outcome(Value):
    """What becomes of a goal.

    Parameters
    ----------
    before, after : its value in the metric's unit at the hand's weights and at the proposed ones; None if not judged
    state_before, state_after : "met", "within tolerance", "missed" or "not judged"
    not_pushed : why weights were not pushed towards it; "" if they were
    """

    goal: Goal
    before: float | None
    after: float | None
    state_before: str
    state_after: str
    not_pushed: str


@dataclass(frozen=True, eq=False)
class Balance(Value):
    """The proposal.

    Parameters
    ----------
    weights : one per beam; where the plan is normalised their sum is that of the hand's
    mu_before, mu_after : monitor units of each beam in one fraction
    before, after : the objective of both plans as they stand, normalised
    outcomes : one per goal, in their order
    rounds, evaluations : how often points were chosen anew; how often the objective was asked
    stopped : why it stopped, one sentence
    inputs : fingerprint of the request
    """

    weights: tuple[float, ...]
    mu_before: tuple[float, ...]
    mu_after: tuple[float, ...]
    before: float
    after: float
    outcomes: tuple[Outcome, ...]
    rounds: int
    evaluations: int
    stopped: str
    inputs: Fingerprint = ""


def balance(request: BalanceRequest, report: Report = quiet) -> Balance:
    """Return the weights that serve the goals best.

    Raises
    ------
    UserError
        If no goal can be served by weights, the plan cannot be normalised, or the bounds leave no room for the
        prescription.
    """
    basis = prepare(LiveRequest(request.doses, request.volumes), part(report, 0.0, 0.2))
    work = _Work(request, basis)
    hand = work.plan(request.weights)
    done = (None, 0, 0, say("these goals are met already"))
    best, rounds, evaluations, stopped = done if work.is_met(hand) else work.run(part(report, 0.2, 1.0))
    weights = request.weights if best is None else _rounded(best, request, hand)
    after = work.plan(weights)
    report(1.0)
    return Balance(
        weights, hand.mu, after.mu, work.objective(np.array(hand.factors)), work.objective(np.array(after.factors)),
        work.outcomes(hand, after), rounds, evaluations, stopped, request.fingerprint,
    )  # fmt: skip


class _Work:
    """One request being answered; weights are monitor units over all fractions."""

    def __init__(self, request: BalanceRequest, basis: LiveBasis) -> None:
        self.request, self.basis = request, basis
        named = request.prescription.volume_key if request.prescription else ""
        # Only what the normalisation is about: the scale is asked in every round.
        self._scaling = replace(
            basis,
            samples={k: v for k, v in basis.samples.items() if k == named},
            per_beam={k: v for k, v in basis.per_beam.items() if k == named},
        )
        self.fractions = request.prescription.fractions if request.prescription else 1
        self.normalised = request.normalisation != "None"
        start = request.weights if any(request.weights) else (1.0,) * len(request.weights)
        plan = self.plan(start)
        if plan.scale is None:
            raise InputError(plan.reason, "weights", "Change the prescription or the normalisation.")
        self.start = np.array(plan.factors)
        self.demands, self.reasons = self._demands(plan)
        if not self.demands:
            raise InputError(
                say(
                    "weights can be pushed towards none of these goals: {reason}", reason=next(iter(self.reasons.values()))
                ),
                "weights",
            )
        keys = {d.key for d in self.demands}
        self.field = Field(
            {k: np.stack(basis.per_beam[k], axis=1) for k in keys},
            {k: basis.samples[k].share.astype(np.float64) for k in keys},
        )
        n = len(request.doses)
        self.low = np.full(n, request.least_mu * self.fractions)
        self.high = np.full(n, request.most_mu * self.fractions if request.most_mu else np.inf)

    def plan(self, weights: Sequence[float]) -> PlanNow:
        """Return the plan as it would stand with these weights, normalised."""
        r = self.request
        return self.basis.evaluate(weights, r.normalisation, r.prescription, r.isocentre_mm or None, r.goals)

    def is_met(self, plan: PlanNow) -> bool:
        """Return whether a plan meets every goal that weights can be pushed towards, and keeps to the bounds."""
        met = all(state == "met" for goal, _, state in plan.goals if goal not in self.reasons)
        return met and self._within(np.array(plan.factors))

    def objective(self, x: Floats) -> float:
        """Return what remains to be wished at monitor units x, the points that count being chosen there."""
        return Round(self.field, self.demands, x)(x)[0]

    def run(self, report: Report) -> tuple[Floats | None, int, int, str]:
        """Return the best monitor units (None: those of the hand), rounds, evaluations and why it stopped."""
        kept = bool(np.all(self.start >= self.low) and np.all(self.start <= self.high)) and any(self.request.weights)
        x, miss, asked = np.clip(self.start, self.low, self.high), 0.0, 0
        x = x if kept else self._as_it_stands(x, or_so=x)
        of = Round(self.field, self.demands, x)
        value = of(x)[0]
        best, best_value = None, value if kept else np.inf
        stopped = say_count("after {count} round", "after {count} rounds", ROUNDS)
        for n in range(1, ROUNDS + 1):
            held = Held(held_row(self.basis, self.request, x), miss) if self.normalised else None
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
        return best, n, asked, stopped

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

    def outcomes(self, hand: PlanNow, after: PlanNow) -> tuple[Outcome, ...]:
        """Return what becomes of every goal."""
        return tuple(
            Outcome(goal, before, value, str(state), str(now), self.reasons.get(goal, ""))
            for (goal, before, state), (_, value, now) in zip(hand.goals, after.goals, strict=True)
        )

    def _demands(self, plan: PlanNow) -> tuple[list[Demand], dict[Goal, str]]:
        demands, reasons = [], {}
        for goal in self.request.goals:
            try:
                demands.append(demand_of(goal, plan.dvhs.get(goal.volume_key), plan.prescribed_gy))
            except UserError as error:
                reasons[goal] = error.what
        return demands, reasons

    def _as_it_stands(self, x: Floats, or_so: Floats) -> Floats:
        """Return the monitor units after normalisation; `or_so` if they give no dose to normalise."""
        if not self.normalised:
            return x
        r = self.request
        plan = self._scaling.evaluate(tuple(x / self.fractions), r.normalisation, r.prescription, r.isocentre_mm or None)
        return np.array(plan.factors) if plan.scale is not None else or_so

    def _within(self, x: Floats) -> bool:
        return bool(np.all(x >= self.low * (1 - BEYOND)) and np.all(x <= self.high * (1 + BEYOND)))


def _rounded(x: Floats, request: BalanceRequest, hand: PlanNow) -> tuple[float, ...]:
    """Return weights of four digits: what a person can read and type makes the plan that was promised."""
    fractions = hand.fractions
    if request.normalisation == "None":
        weights = x / (fractions * MU_PER_WEIGHT)
    else:
        total = sum(request.weights)
        weights = x / x.sum() * (total if total > 0 else len(x))
    return tuple(float(f"{w:.4g}") for w in weights)
