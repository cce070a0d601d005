"""Weights balanced by the machine: asked for, shown on trial beside the hand's, accepted as one step or declined."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.plan_follow import PlanFollower
from app.core.workspace import Workspace
from engine import compute
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case.case import Case, Draft
from engine.evaluation.goals import Goal

BALANCE = "balance-weights"
# What of a draft a proposal depends on; names, levels and the like may change under it.
_OF_DRAFT = ("key", "beams", "weights", "goals", "prescription", "normalisation", "dose_spacing_mm", "report_to")
_OF_CASE = ("volumes", "image", "curve", "machines")


@dataclass(frozen=True)
class Wish:
    """What the person asks for: the goals that count and bounds of each beam's MU (0 for `most_mu` is no bound)."""

    goals: tuple[Goal, ...]
    least_mu: float = 0.0
    most_mu: float = 0.0


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
        self._asked = ""
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

    def run(self, wish: Wish) -> None:
        """Ask for weights; what is proposed at present goes."""
        case, draft = self._workspace.case, self._workspace.draft
        self.decline()
        if case is None or draft is None or self.missing():
            self._end("failed", self.missing())
            return
        try:
            request = compute.request(
                "BalanceRequest",
                doses=self._workspace.standing.doses,
                volumes=case.volumes,
                goals=wish.goals,
                weights=draft.weights,
                normalisation=draft.normalisation,
                prescription=draft.prescription,
                isocentre_mm=draft.beams[0].isocentre_mm,
                least_mu=wish.least_mu,
                most_mu=wish.most_mu,
            )
        except UserError as error:
            self._end("failed", translated(error))
            return
        self._asked, self._for, self.hand = request.fingerprint, _depends(case, draft), draft
        self._end("running", "")
        if not self._jobs.submit(BALANCE, [request]):
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
        self.result = self.offered = self.hand = None
        self._end("idle", self.tr("The proposed weights are the draft's now; undo takes them back."))
        self._workspace.edit_draft(self.tr("Balance weights"), draft.but(beams=offered.beams, weights=offered.weights))
        return True

    def decline(self) -> None:
        """Let the proposal, or what is left of it, go; nothing of it stays."""
        if self.state == "running":
            self._jobs.cancel(BALANCE)
        self._follower.show_trial(None)
        self.result = self.offered = self.hand = None
        self._end("idle", "")

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
        self._end("lapsed", self.tr("The proposal has lapsed: {0} changed since.").format(self._what_changed(now)))

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
            self.fraction = fraction
            self.changed.emit()

    def _on_result(self, kind: str, request: Value, value: Any) -> None:
        if kind != BALANCE or self.state != "running" or request.fingerprint != self._asked or self.hand is None:
            return
        self.result, self.offered = value, self.hand.but(weights=value.weights)
        self._end("proposed", "")
        self._show()

    def _on_failed(self, kind: str, error: object) -> None:
        if kind == BALANCE and self.state == "running":
            self._end("failed", translated(error) if isinstance(error, UserError) else self._fault())

    def _on_finished(self, kind: str, state: str) -> None:
        if kind == BALANCE and state == "cancelled" and self.state == "running" and not self._jobs.busy(BALANCE):
            self._end("idle", self.tr("Stopped; the weights are yours."))

    def _fault(self) -> str:
        return self.tr("Balancing the weights failed by a fault of the program; it is in the log.")

    def _end(self, state: str, words: str) -> None:
        self.state, self.words, self.fraction = state, words, 0.0
        self.changed.emit()


def _depends(case: Case, draft: Draft) -> tuple[Any, ...]:
    return (*(getattr(draft, name) for name in _OF_DRAFT), *(getattr(case, name) for name in _OF_CASE))


def _same(one: tuple[Any, ...], other: tuple[Any, ...]) -> bool:
    return len(one) == len(other) and all(a is b or a == b for a, b in zip(one, other, strict=True))
