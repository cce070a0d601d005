"""One question for balanced weights on its way: the doses it needs, and the request that is made of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from engine import compute
from engine.base.values import Fingerprint, Value
from engine.beams.beam import Beam
from engine.beams.wedge_choices import wedge_choices
from engine.case.case import Case, Draft
from engine.case.requests import dose_requests
from engine.evaluation.goals import Goal

Then = Callable[[list[Any]], Value | None]
SEARCHING = 0.75  # share of the work that looking for wedges takes


@dataclass(frozen=True)
class Wish:
    """What the person asks for.

    Parameters
    ----------
    goals : those that count
    least_mu, most_mu : bounds of each beam's MU in one fraction; 0 for `most_mu` is no bound
    wedges : whether wedges may change too
    """

    goals: tuple[Goal, ...]
    least_mu: float = 0.0
    most_mu: float = 0.0
    wedges: bool = False


class BalanceAsk:
    """Asks in one step, or in two where wedges may change.

    Among all wedges of all beams the choice is made on quick doses; then those chosen and the beams as they are get fine
    doses, and the answer is made of them.

    Raises
    ------
    UserError
        If the question makes no sense.
    """

    def __init__(self, case: Case, draft: Draft, wish: Wish, known: Mapping[Fingerprint, Value]) -> None:
        self.case, self.draft, self._wish = case, draft, wish
        self.fingerprint = ""
        own = dose_requests(case, draft, "fine")
        self._request([known[r.fingerprint] for r in own], ())  # raises here, not on the worker
        self._choices: list[tuple[Beam, ...]] = [(b,) for b in draft.beams]
        if wish.wedges:
            self._choices = [wedge_choices(b, case.machine(b.machine)) for b in draft.beams]
        self.searches = any(len(c) > 1 for c in self._choices)
        self._start = 0.0

    def fraction(self, of_step: float) -> float:
        """Return how much of the whole is done when so much of the present step is."""
        return of_step * SEARCHING if self.searches else self._start + of_step * (1.0 - self._start)

    def step(self, known: Mapping[Fingerprint, Value]) -> tuple[list[Value], Then | None]:
        """Return what to compute now and what is made of the answers; doses that are known are not asked for."""
        beams = [b for choice in self._choices for b in choice]
        of_beam = tuple(i for i, choice in enumerate(self._choices) for _ in choice)
        loose = tuple(b.but(key=f"{b.key}/{n}") for n, b in enumerate(beams))
        spread = self.draft.but(beams=loose, weights=(1.0,) * len(loose))
        requests = dose_requests(self.case, spread, "quick" if self.searches else "fine")
        missing = list({r.fingerprint: r for r in requests if r.fingerprint not in known}.values())
        held = {r.fingerprint: known[r.fingerprint] for r in requests if r.fingerprint in known}

        def then(answers: list[Any]) -> Value:
            doses = held | {r.fingerprint: dose for r, dose in zip(missing, answers, strict=True)}
            made = self._request([doses[r.fingerprint] for r in requests], of_beam)
            self.fingerprint = made.fingerprint
            return made

        return (list(missing), then) if missing else ([then([])], None)

    def narrow(self, chosen: tuple[int, ...]) -> None:
        """Go on with the beams as they are and those chosen, on fine doses."""
        found = self.beams(chosen)
        self._choices = [(own,) if b == own else (own, b) for own, b in zip(self.draft.beams, found, strict=True)]
        self.searches, self._start = False, SEARCHING

    def beams(self, chosen: tuple[int, ...]) -> tuple[Beam, ...]:
        """Return the beams an answer speaks of."""
        every = [b for choice in self._choices for b in choice]
        return tuple(every[i] for i in chosen)

    def _request(self, doses: list[Any], of_beam: tuple[int, ...]) -> Value:
        draft, wish = self.draft, self._wish
        return compute.request(
            "BalanceRequest",
            doses=tuple(doses),
            volumes=self.case.volumes,
            goals=wish.goals,
            weights=draft.weights,
            normalisation=draft.normalisation,
            prescription=draft.prescription,
            isocentre_mm=draft.beams[0].isocentre_mm,
            least_mu=wish.least_mu,
            most_mu=wish.most_mu,
            of_beam=of_beam,
        )
