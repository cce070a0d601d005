"""What the active draft gives now: dose, DVHs and goals, following every edit."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core import warm
from app.core.dose_jobs import Asked, DoseJobs, basis_key
from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.what_changed import in_one_line, what_changed
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case.case import Case, Draft
from engine.case.requests import Standing, dose_requests, standing
from engine.dose.dose import Dose

LIVE = "live"
BASES_KEPT = 4


@dataclass(frozen=True)
class Shown:
    """One evaluated plan and what it was evaluated for."""

    now: Any
    case: Case
    draft: Draft
    quality: str


class PlanFollower(QObject):
    """Follows the workspace's active draft.

    Weights, normalisation, prescription and goals are evaluated in the same call in which the case changes. Geometry,
    density and machines ask for new doses; until those come, the last plan stays in ``now`` with ``state`` "out of
    date" and ``reason`` saying what changed, and whoever draws it must draw it as old.

    Signals
    -------
    now_changed(now, state) : PlanNow or None; "none", "quick", "current", "out of date"
    ghost_changed(now) : the plan before the last change (PlanNow or None)
    busy_changed() : computing, progress, cancelled or failed
    """

    now_changed = Signal(object, str)
    ghost_changed = Signal(object)
    busy_changed = Signal()

    def __init__(self, workspace: Workspace, jobs: JobRunner) -> None:
        super().__init__(workspace)
        self.workspace = workspace
        self._jobs = jobs
        self.asks = DoseJobs(workspace, jobs, self)
        self._active = False
        self._shown: Shown | None = None
        self._before: Shown | None = None
        self._command: Any = None
        self._ghost: Any = None
        self._trial: Draft | None = None
        self._untried: tuple[Shown | None, Any] = (None, None)
        self._bases: OrderedDict[tuple[Any, ...], Any] = OrderedDict()
        self._preparing: dict[int, tuple[tuple[Any, ...], Case, Draft, str]] = {}
        self._judged: tuple[tuple[Any, ...], Standing] | None = None
        self.state, self.reason, self.problem = "none", "", ""
        # The doses are there, and nothing is waited for but what they are in the volumes.
        self.reading = False
        self._told: tuple[Shown | None, str, str, str, bool] = (None, "", "", "", False)
        workspace.case_changed.connect(self._on_case)
        workspace.active_changed.connect(self._update)
        workspace.results_changed.connect(self._update)
        workspace.undo_stack.indexChanged.connect(self._on_step)
        self.asks.changed.connect(self.busy_changed)
        self.asks.prepared.connect(self._on_prepared)
        jobs.result.connect(self._on_result)
        jobs.failed.connect(self._on_failed)

    @staticmethod
    def of(workspace: Workspace, jobs: JobRunner) -> PlanFollower:
        """Return the workspace's follower; there is one, whoever asks first makes it."""
        found = workspace.findChild(PlanFollower)
        return found if found is not None else PlanFollower(workspace, jobs)

    @property
    def now(self) -> Any:
        """The plan as last evaluated (PlanNow) or None; `state` says whether it is current."""
        return self._shown.now if self._shown else None

    @property
    def shown_draft(self) -> Draft | None:
        """The draft `now` was evaluated for: its beams are in the order of ``now.mu``."""
        return self._shown.draft if self._shown else None

    @property
    def is_old(self) -> bool:
        """Whether `now` must be drawn as out of date."""
        return self._shown is not None and self.state == "out of date"

    @property
    def ghost(self) -> Any:
        """The plan before the last change, or None; None too while what is shown has come back to it."""
        if self._ghost is not None and self._trial is None and _same_plan(self._ghost, self.now):
            return None
        return self._ghost

    @property
    def trial(self) -> Draft | None:
        """What is shown on trial in place of the active draft, or None."""
        return self._trial

    def show_trial(self, draft: Draft | None) -> None:
        """Show another form of the active draft that is no part of the case, the active draft as its ghost; None ends it.

        It ends by itself when the case changes or another draft is active; then everything is as it was before.
        """
        if draft is None:
            if self._trial is not None:
                self._end_trial()
                self._update()
            return
        if self._trial is None:
            self._untried = (self._shown, self._ghost)
        self._trial = draft
        self._update()
        self._set_ghost(self._untried[0].now if self._untried[0] else None)

    def _end_trial(self) -> None:
        if self._trial is not None:
            self._trial = None
            self._shown, ghost = self._untried
            self._untried = (None, None)
            self._set_ghost(ghost)

    def set_active(self, active: bool) -> None:
        """Say whether doses are to be computed (a station that shows them is open); following goes on regardless."""
        if active != self._active:
            self._active = active
            self._update()

    def basis_of(self, key: tuple[Any, ...]) -> Any:
        """Return prepared samples (see ``basis_key``), or None."""
        return self._bases.get(key)

    def accept(self) -> None:
        """Let the ghost go: the change is accepted."""
        self._set_ghost(None)

    def cancel(self) -> None:
        """Stop computing; the last dose stays, marked old."""
        self.asks.cancel()
        self._jobs.cancel(LIVE)
        self._preparing.clear()  # else it would be waited for still

    def compute(self) -> None:
        """Compute what is missing, after a cancel or failure too."""
        self._active = True
        self.asks.resume()
        self._update()

    # -- following -----------------------------------------------------------------------------------------------

    def _on_case(self, before: Case | None, after: Case | None) -> None:
        self._end_trial()
        if before is None or after is None or before.image is not after.image:
            self._bases.clear()
            self._shown = self._before = None
            self._set_ghost(None)
        self._before = self._shown if self.state in ("quick", "current") else self._before
        self._update()

    def _on_step(self, index: int) -> None:
        stack = self.workspace.undo_stack
        command = stack.command(index - 1) if index > 0 else None
        if command is self._command and command is not None:
            return
        self._command = command
        before, draft = self._before, self.workspace.draft
        if before is not None and draft is not None and before.draft.key == draft.key and _weighs_on(before.draft, draft):
            self._set_ghost(before.now)

    def _update(self) -> None:
        case, draft = self.workspace.case, self.workspace.draft
        if case is None or draft is None or not draft.beams:
            self.asks.rest()
            self._shown, self.problem = None, ""
            self._tell("none", "")
            return
        if self._trial is not None and self._trial.key != draft.key:
            self._end_trial()
        draft = self._trial or draft
        if self._shown is not None and self._shown.draft.key != draft.key:
            self._shown = self._before = None
            self._set_ghost(None)
        try:
            stand = self._standing(case, draft)
        except UserError as error:
            self.problem = translated(error)
            self._tell("out of date" if self._shown else "none", self.problem)
            return
        if stand.state != "current" and self._active:
            self.asks.want(case, draft)
        elif stand.state == "current":
            self.asks.rest(d.inputs for d in stand.doses)
        if stand.doses and self._show(stand.doses, case, draft, stand.state):
            return
        if stand.state == "current" and self._show_quick(case, draft):
            return
        # Quick doses under the hand are read where they are computed, at once: no word of that.
        key = basis_key((d.inputs for d in stand.doses), case)
        self._show_old(case, draft, bool(stand.doses) and not self.asks.is_coming(key))

    def _standing(self, case: Case, draft: Draft) -> Standing:
        key = (
            draft.beams, case.volumes, case.image, case.curve, case.machines, draft.dose_spacing_mm, draft.report_to,
            self.workspace.results_turn, id(self.workspace.results),
        )  # fmt: skip
        if self._judged is None or any(a is not b and a != b for a, b in zip(self._judged[0], key, strict=True)):
            self._judged = (key, standing(case, draft, self.workspace.results))
        return self._judged[1]

    def _show(self, doses: tuple[Dose, ...], case: Case, draft: Draft, quality: str, trailing: bool = False) -> bool:
        """Evaluate with prepared samples, or have them prepared; returns whether it is shown."""
        key = basis_key((d.inputs for d in doses), case)
        basis = self._bases.get(key)
        if basis is None:
            self._prepare(key, doses, case, draft, quality)
            return False
        if warm.pending(warm.PLANS):
            return False
        self._bases.move_to_end(key)
        shown = self._shown
        same = shown is not None and shown.draft is draft and shown.now.basis is basis
        now = shown.now if shown is not None and same else self._evaluate(basis, draft)
        if shown is None or not same or shown.case is not case or shown.quality != quality:
            self._shown = Shown(now, case, draft, quality)
        self.problem = translated(now.reason)
        if not trailing:
            self._tell(quality, "")
        return True

    def _show_quick(self, case: Case, draft: Draft) -> bool:
        """While the fine doses are read, stay with the quick ones of the same plan: they are no older than they were."""
        found = [self.workspace.results.get(r.fingerprint) for r in dose_requests(case, draft, "quick")]
        doses = tuple(d for d in found if isinstance(d, Dose))
        ready = len(doses) == len(found) and basis_key((d.inputs for d in doses), case) in self._bases
        return ready and self._show(doses, case, draft, "quick")

    def _evaluate(self, basis: Any, draft: Draft) -> Any:
        return basis.evaluate(
            draft.weights, draft.normalisation, draft.prescription, draft.beams[0].isocentre_mm, draft.goals
        )

    def _prepare(self, key: tuple[Any, ...], doses: tuple[Dose, ...], case: Case, draft: Draft, quality: str) -> None:
        if self.asks.is_coming(key) or any(k == key for k, *_ in self._preparing.values()):
            return
        from engine.evaluation.live import LiveRequest

        request = LiveRequest(doses, case.volumes)
        # Known by itself, not by its fingerprint, for which whole doses would be hashed here.
        self._preparing = {id(request): (key, case, draft, quality)}
        self._jobs.submit(LIVE, [request])

    def _on_result(self, kind: str, request: Value, value: Any) -> None:
        waiting = self._preparing.pop(id(request), None) if kind == LIVE else None
        if waiting is None:
            return
        self._keep(*waiting, value)

    def _on_prepared(self, asked: Asked, value: Any) -> None:
        self._keep(asked.key, asked.case, asked.draft, "current" if asked.quality == "fine" else "quick", value)

    def _keep(self, key: tuple[Any, ...], case: Case, draft: Draft, quality: str, basis: Any) -> None:
        """Keep prepared samples; let a plan that was overtaken be seen, marked old, so that a long drag is followed."""
        self._bases[key] = basis
        while len(self._bases) > BASES_KEPT:
            self._bases.popitem(last=False)
        present = self.workspace.draft
        if present is not None and present.key == draft.key and self.workspace.case is not case:
            self._trail(case, draft, quality)
        self._update()

    def _on_failed(self, kind: str, error: object) -> None:
        if kind == LIVE:
            self._preparing.clear()
            self.reading = False
            self.problem = translated(error)
            self.busy_changed.emit()

    def _trail(self, case: Case, draft: Draft, quality: str) -> None:
        if self._standing(self.workspace.case, self.workspace.draft).doses:
            return
        found = [self.workspace.results.get(r.fingerprint) for r in dose_requests(case, draft, quality_of(quality))]
        if found and all(isinstance(d, Dose) for d in found) and self._show(tuple(found), case, draft, quality, True):
            self._show_old(self.workspace.case, self.workspace.draft)

    def _show_old(self, case: Case, draft: Draft, reading: bool = False) -> None:
        if self._shown is None:
            self._tell("none", "", reading)
            return
        words = what_changed(self._shown.case, self._shown.draft, case, draft)
        if not words and basis_key((), self._shown.case) != basis_key((), case):
            words = [self.tr("volumes changed")]
        self._tell("out of date", in_one_line(words) or self.tr("the new one is not there yet"), reading)

    def _tell(self, state: str, reason: str, reading: bool = False) -> None:
        told = (self._shown, state, reason, self.problem, reading)
        # While a hand drags on, the same old dose is old for the same reason, and a result that is nothing to this plan
        # leaves it as it is: nobody need draw it again.
        again = told[0] is self._told[0] and told[1:] == self._told[1:]
        self.state, self.reason, self.reading, self._told = state, reason, reading, told
        if not again:
            self.now_changed.emit(self.now, state)

    def _set_ghost(self, now: Any) -> None:
        if now is not self._ghost:
            self._ghost = now
            self.ghost_changed.emit(now)


def quality_of(state: str) -> str:
    """Return the dose quality of a standing."""
    return "fine" if state == "current" else "quick"


def _weighs_on(before: Draft, draft: Draft) -> bool:
    """Whether the step changed the dose, not just goals, names or levels."""
    return any(
        getattr(before, name) != getattr(draft, name)
        for name in ("beams", "weights", "normalisation", "prescription", "dose_spacing_mm", "report_to")
    )


def _same_plan(one: Any, other: Any) -> bool:
    """Whether two evaluated plans have the same doses, monitor units and volumes."""
    if other is None or (one.factors, one.mu, one.prescribed_gy) != (other.factors, other.mu, other.prescribed_gy):
        return False
    a, b = one.basis.request, other.basis.request
    return a is b or ([d.inputs for d in a.doses] == [d.inputs for d in b.doses] and a.volumes == b.volumes)
