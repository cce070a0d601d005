"""Beam weights that serve the goals best, and what becomes of every goal with them.

Rounds of convex problems (``rounds``) on smooth demands (``objective``). Where a beam has a choice of doses, as of wedges,
the beams are balanced as they are first, then with the choice that is most like the best mixture. The best plan seen, the
hand's among them, is the answer; so nothing is proposed that serves the goals worse than what there is.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Fingerprint, Value, own_array
from engine.base.words import say
from engine.dose.dose import Dose
from engine.evaluation.goals import Goal
from engine.evaluation.live import MU_PER_WEIGHT, LiveBasis, LiveRequest, PlanNow, Prescribed, prepare
from engine.optimise.nearest import nearest
from engine.optimise.objective import Floats
from engine.optimise.rounds import LESS, Ended, Rounds
from engine.space.grid import Point
from engine.volumes.volume import Volume


@dataclass(frozen=True, eq=False)
class BalanceRequest(Value):
    """Ask for the weights that serve goals best.

    Parameters
    ----------
    doses : of each beam in Gy per MU, all on one grid; of a beam that has a choice (of wedges) one for each, the first as
        it is now
    volumes : of the case
    goals : those that count
    weights : one per beam, as they are now
    normalisation, prescription, isocentre_mm : of the draft, see ``engine.evaluation.live``
    least_mu, most_mu : bounds of each beam's monitor units in one fraction; 0 for `most_mu` is no bound
    of_beam : which beam each dose is of, 0, 1, ...; () if each is of its own
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
    of_beam: tuple[int, ...] = ()

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
        groups = self.of_beam or tuple(range(len(self.doses)))
        if len(groups) != len(self.doses) or sorted(set(groups)) != list(range(len(self.weights))):
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
    chosen : of each beam, which of the doses asked with it is used
    weights : one per beam; where the plan is normalised their sum is that of the hand's
    mu_before, mu_after : monitor units of each beam in one fraction
    before, after : the objective of both plans as they stand, normalised
    outcomes : one per goal, in their order
    rounds, evaluations : how often points were chosen anew; how often the objective was asked
    stopped : why it stopped, one sentence
    inputs : fingerprint of the request
    """

    chosen: tuple[int, ...]
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
    groups = np.array(request.of_beam or range(len(request.doses)))
    chosen = tuple(int(np.flatnonzero(groups == b)[0]) for b in range(len(request.weights)))
    bounds = request.least_mu, request.most_mu
    own = work = Rounds(_narrowed(basis, chosen), request, request.weights, *bounds)
    hand = own.plan(request.weights)
    if own.is_met(hand):
        ended = Ended(None, 0.0, 0, 0, say("these goals are met already"))
    else:
        several = len(groups) > len(chosen)
        ended = own.run(part(report, 0.2, 0.5 if several else 1.0))
        if several:
            found, blend = _choice(basis, groups, chosen, own, ended, request, part(report, 0.5, 0.8))
            other = Rounds(_narrowed(basis, found), request, blend, *bounds)
            with suppress(InputError):  # the bounds may leave room only for the beams as they are
                trying = other.run(part(report, 0.8, 1.0))
                if trying.value < ended.value * (1 - LESS):
                    x = other.start if trying.x is None else trying.x
                    work, chosen, ended = other, found, replace(trying, x=x)
    weights = request.weights if ended.x is None else _rounded(ended.x, request, hand)
    after = work.plan(weights)
    report(1.0)
    return Balance(
        chosen, weights, hand.mu, after.mu, own.objective(np.array(hand.factors)), work.objective(np.array(after.factors)),
        _outcomes(own.reasons, hand, after), ended.rounds, ended.evaluations, ended.stopped, request.fingerprint,
    )  # fmt: skip


def _choice(
    basis: LiveBasis,
    groups: NDArray[np.intp],
    own: tuple[int, ...],
    known: Rounds,
    ended: Ended,
    request: BalanceRequest,
    report: Report,
) -> tuple[tuple[int, ...], tuple[float, ...]]:
    """Return which dose of each beam comes nearest to the best mixture of all of them, and weights to start from.

    Mixing is convex, choosing is not: all doses are weighed side by side as if a beam could be given through each of them
    in turn, then each beam gets the single one that is most like its mixture.
    """
    unit = known.fractions * (1.0 if known.normalised else MU_PER_WEIGHT)
    start = np.zeros(len(groups))
    start[list(own)] = (known.start if ended.x is None else ended.x) / unit
    every = Rounds(basis, request, tuple(start), 0.0, request.most_mu)
    mixed = every.run(report)
    x = every.start if mixed.x is None else mixed.x
    chosen, weights = [], []
    for beam, present in enumerate(own):
        mine = np.flatnonzero(groups == beam)
        best, factor = nearest(every.field, mine, x[mine])
        chosen.append(int(mine[best]) if factor > 0 else present)
        weights.append(factor)
    return tuple(chosen), tuple(w / unit for w in weights)


def _narrowed(basis: LiveBasis, columns: tuple[int, ...]) -> LiveBasis:
    """Return the basis of some of its doses."""
    pick = list(columns)
    return LiveBasis(
        basis.request, basis.grid, tuple(basis.gy[i] for i in pick), basis.quality, basis.samples,
        {k: tuple(rows[i] for i in pick) for k, rows in basis.per_beam.items()}, basis.body_key, basis.mask,
        own_array(basis.tops[pick]),
    )  # fmt: skip


def _outcomes(reasons: Mapping[Goal, str], hand: PlanNow, after: PlanNow) -> tuple[Outcome, ...]:
    return tuple(
        Outcome(goal, before, value, str(state), str(now), reasons.get(goal, ""))
        for (goal, before, state), (_, value, now) in zip(hand.goals, after.goals, strict=True)
    )


def _rounded(x: Floats, request: BalanceRequest, hand: PlanNow) -> tuple[float, ...]:
    """Return weights of four digits: what a person can read and type makes the plan that was promised."""
    fractions = hand.fractions
    if request.normalisation == "None":
        weights = x / (fractions * MU_PER_WEIGHT)
    else:
        total = sum(request.weights)
        weights = x / x.sum() * (total if total > 0 else len(x))
    return tuple(float(f"{w:.4g}") for w in weights)
