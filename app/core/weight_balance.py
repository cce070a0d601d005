"""Weights balanced by the machine: asked for, shown on trial beside the hand's, accepted as one step or declined."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core.balance_ask import BalanceAsk, Wish
from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.plan_follow import PlanFollower
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.base.values import Fingerprint, Value
from engine.case.case import Case, Draft
from engine.case.requests import needed_doses
from engine.dose.dose import Dose

__all__ = ["BALANCE", "WeightBalance", "Wish"]

BALANCE = "balance-weights"
# What of a draft a proposal depends on; names, levels and the like may change under it.
_OF_DRAFT = ("key", "beams", "weights", "goals", "prescription", "normalisation", "dose_spacing_mm", "report_to")
_OF_CASE = ("volumes", "image", "curve", "machines")


class WeightBalance(QObject):
    """Makes one proposal for the active draft.

    Attributes
    ----------
    state : "idle", "running", "proposed", "lapsed" (what it was made for has changed) or "failed"
    words : why it lapsed, failed or was stopped
    fraction : of the work, 0..1, while running
    result : the proposal (engine.optimise Balance) while proposed or lapsed, else None
    hand, offered : the draft as the hand has it, and with the proposed weights

    Signals
    -------
    changed() : any of these
    """

    changed = Signal()

    def __init__(
        self, workspace: Workspace, follower: PlanFollower, jobs: JobRunner, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._workspace, self._follower, self._jobs = workspace, follower, jobs
        self.state, self.words, self.fraction = "idle", "", 0.0
        self.result: Any = None
        self.hand: Draft | None = None
        self.offered: Draft | None = None
        self._ask: BalanceAsk | None = None
        self._doses: dict[Fingerprint, Value] = {}
        self._filed: set[Fingerprint] = set()
        self._for: tuple[Any, ...] = ()
        self._in_front, self._seen = False, True
        workspace.case_changed.connect(self._watch)
        workspace.active_changed.connect(self._watch)
        jobs.progress.connect(self._on_progress)
        jobs.result.connect(self._on_result)
        jobs.failed.connect(self._on_failed)
        jobs.finished.connect(self._on_finished)

    def missing(self) -> str:
        """Return in words what is missing before weights can be balanced, "" if nothing is."""
        draft = self._workspace.draft
        if draft is None or not draft.beams:
            return self.tr("There are no beams yet.")
        if not draft.goals:
            return self.tr("There are no goals yet; weights are balanced against goals.")
        if self._workspace.standing.state != "current":
            return self.tr("It waits for the fine dose.")
        return ""

    def has_wedges(self) -> bool:
        """Return whether a beam of the active draft could stand with a wedge."""
        case, draft = self._workspace.case, self._workspace.draft
        return case is not None and draft is not None and any(case.machine(b.machine).wedges for b in draft.beams)

    def run(self, wish: Wish) -> None:
        """Ask for weights; what is proposed at present goes."""
        case, draft = self._workspace.case, self._workspace.draft
        self.decline()
        if case is None or draft is None or self.missing():
            self._end("failed", self.missing())
            return
        try:
            self._ask = BalanceAsk(case, draft, wish, self._workspace.results)
        except UserError as error:
            self._end("failed", translated(error))
            return
        self._for, self.hand = _depends(case, draft), draft
        self._end("running", "")
        self._step(self._ask)

    def _step(self, ask: BalanceAsk) -> None:
        if not self._jobs.submit(BALANCE, *ask.step(self._workspace.results | self._doses)):
            self._end("failed", self._fault())

    def cancel(self) -> None:
        """Stop working; nothing is proposed."""
        if self.state == "running":
            self._jobs.cancel(BALANCE)
            self._end("idle", self.tr("Stopped; the weights are yours."))

    def accept(self) -> bool:
        """Make the proposal the draft's weights, as one step that can be undone; returns whether it was done."""
        offered, draft = self.offered, self._workspace.draft
        if self.state != "proposed" or offered is None or draft is None or offered == self.hand:
            return False
        if self._workspace.read_only:  # says why it refuses, and the proposal stays
            self._workspace.edit_draft("", draft.but(beams=offered.beams, weights=offered.weights))
            return True
        self._follower.show_trial(None)
        wedges = offered.beams != draft.beams
        self.result = self.offered = self.hand = None
        self._end("idle", self.tr("Accepted; undo takes them back."))
        words = self.tr("Balance weights and wedges") if wedges else self.tr("Balance weights")
        self._workspace.edit_draft(words, draft.but(beams=offered.beams, weights=offered.weights))
        self._let_go()
        return True

    def decline(self) -> None:
        """Let the proposal, or what is left of it, go; nothing of it stays."""
        if self.state == "running":
            self._jobs.cancel(BALANCE)
        self._follower.show_trial(None)
        self.result = self.offered = self.hand = None
        self._let_go()
        self._end("idle", "")

    def _let_go(self) -> None:
        """Take the doses of the proposal that no draft asks for out of the results."""
        case, results = self._workspace.case, self._workspace.results
        for fingerprint in self._filed - needed_doses(case) if case is not None and self._filed else ():
            results.pop(fingerprint, None)
        self._filed = set()

    def forget(self) -> None:
        """Let go of everything, of the doses kept for another try too."""
        self.decline()
        self._doses = {}

    def set_in_front(self, in_front: bool) -> None:
        """Say whether the place is in front where a proposal is shown; elsewhere the draft is shown as it is."""
        self._in_front = in_front
        self._show()

    @property
    def seen(self) -> bool:
        """Whether a proposal is drawn in place of the hand's plan."""
        return self._seen

    def set_seen(self, seen: bool) -> None:
        """Choose whether the proposal is drawn, the hand's plan as its ghost, or the hand's plan."""
        self._seen = seen
        self._show()

    # -- following -----------------------------------------------------------------------------------------------

    def _show(self) -> None:
        wanted = self.state == "proposed" and self._in_front and self._seen
        self._follower.show_trial(self.offered if wanted else None)

    def _watch(self, *_: object) -> None:
        if self.state not in ("running", "proposed"):
            self.changed.emit()
            return
        case, draft = self._workspace.case, self._workspace.draft
        now = _depends(case, draft) if case is not None and draft is not None else ()
        if _same(now, self._for):
            self._show()  # any change of the case ends what is shown on trial
            return
        self._jobs.cancel(BALANCE)
        self._follower.show_trial(None)
        self._let_go()
        self._end("lapsed", self.tr("Lapsed: {0} changed since.").format(self._what_changed(now)))

    def _what_changed(self, now: tuple[Any, ...]) -> str:
        words = {
            "key": self.tr("the draft"), "beams": self.tr("beams"), "weights": self.tr("weights"),
            "goals": self.tr("goals"), "prescription": self.tr("the prescription"),
            "normalisation": self.tr("the normalisation"),
        }  # fmt: skip
        if len(now) != len(self._for):
            return self.tr("the case")
        for name, old, new in zip((*_OF_DRAFT, *_OF_CASE), self._for, now, strict=True):
            if old is not new and old != new:
                return words.get(name, self.tr("the dose grid") if name in _OF_DRAFT else self.tr("volumes or densities"))
        return ""

    def _on_progress(self, kind: str, fraction: float, words: str) -> None:
        if kind == BALANCE and self.state == "running":
            self.fraction = self._ask.fraction(fraction) if self._ask is not None else 0.0
            self.changed.emit()

    def _on_result(self, kind: str, request: Value, value: Any) -> None:
        ask = self._ask
        if kind != BALANCE or self.state != "running" or ask is None:
            return
        if isinstance(value, Dose):
            self._doses[request.fingerprint] = value
        elif request.fingerprint == ask.fingerprint and ask.searches:
            ask.narrow(value.chosen)
            self._step(ask)
        elif request.fingerprint == ask.fingerprint:
            self._propose(ask.draft.but(beams=ask.beams(value.chosen), weights=value.weights), value)

    def _propose(self, offered: Draft, result: Any) -> None:
        self.result, self.offered = result, offered
        for fingerprint, dose in self._doses.items():
            if fingerprint not in self._workspace.results and isinstance(dose, Dose) and dose.quality == "fine":
                self._filed.add(fingerprint)
                self._workspace.file_result(dose)
        self._end("proposed", "")
        self._show()

    def _on_failed(self, kind: str, error: object) -> None:
        if kind == BALANCE and self.state == "running":
            self._end("failed", translated(error) if isinstance(error, UserError) else self._fault())

    def _on_finished(self, kind: str, state: str) -> None:
        if kind != BALANCE or self.state != "running" or self._jobs.busy(BALANCE):
            return
        if state == "cancelled":
            self._end("idle", self.tr("Stopped; the weights are yours."))
        elif state == "done":
            self._end("failed", self._fault())

    def _fault(self) -> str:
        return self.tr("Balancing the weights failed by a fault of the program; it is in the log.")

    def _end(self, state: str, words: str) -> None:
        self.state, self.words, self.fraction = state, words, 0.0
        self.changed.emit()


def _depends(case: Case, draft: Draft) -> tuple[Any, ...]:
    return (*(getattr(draft, name) for name in _OF_DRAFT), *(getattr(case, name) for name in _OF_CASE))


def _same(one: tuple[Any, ...], other: tuple[Any, ...]) -> bool:
    return len(one) == len(other) and all(a is b or a == b for a, b in zip(one, other, strict=True))
