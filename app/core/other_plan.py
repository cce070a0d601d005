"""A second draft to look at beside the active one: evaluated from the doses it has, never computed for itself."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core.dose_jobs import basis_key
from app.core.jobs import JobRunner
from app.core.plan_follow import PlanFollower
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case.case import Draft
from engine.case.requests import standing

KIND = "live-other"


class OtherPlan(QObject):
    """Evaluates one chosen draft; looks to dose layers like the follower of that draft.

    Signals
    -------
    changed() : another draft, another dose, or none
    """

    changed = Signal()

    def __init__(self, follower: PlanFollower, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._follower, self._jobs = follower, jobs
        self.workspace: Workspace = follower.workspace
        self.key = ""
        self.now: Any = None
        self.state, self.reason = "none", ""
        self.shown_draft: Draft | None = None
        self._basis: tuple[Any, Any] = (None, None)
        self._asked: tuple[Any, Any] = (None, "")
        self._judged: tuple[Any, ...] = ()
        self.workspace.case_changed.connect(self._update)
        self.workspace.results_changed.connect(self._update)
        follower.now_changed.connect(self._try_again)
        jobs.result.connect(self._take)

    @property
    def is_old(self) -> bool:
        """Never: a draft without a dose of its own shows none."""
        return False

    @property
    def draft(self) -> Draft | None:
        """The chosen draft, or None."""
        return self.workspace.case.draft(self.key) if self.workspace.case is not None and self.key else None

    def choose(self, key: str) -> None:
        """Look at another draft; "" looks at none."""
        if key != self.key:
            self.key = key
            self._update()

    def words(self) -> str:
        """Return what is to be said about the draft in one line."""
        if self.draft is None:
            return self.tr("No draft is chosen to lay beside this one.")
        if self.now is None and self.state != "none":
            return self.tr("{0} is being read…").format(self.draft.name)
        if self.now is None:
            return self.tr("{0} has no dose yet: make it the active draft once.").format(self.draft.name)
        quick = self.tr(", quick dose") if self.state == "quick" else ""
        return self.draft.name + quick

    def _update(self, *_: object) -> None:
        case, draft, results = self.workspace.case, self.draft, self.workspace.results
        depends = draft, *((case.volumes, case.image, case.curve, case.machines) if case else ()), id(results), len(results)
        before, self._judged = self._judged, depends
        shown = self.shown_draft, self.now, self.state
        # While a weight of the active draft moves, this one stands still: nothing of it is to be made or drawn again.
        if self.now is not None and len(before) == len(depends) and all(a is b or a == b for a, b in zip(depends, before)):
            return
        self.now, self.state, self.shown_draft = None, "none", draft
        if case is not None and draft is not None and draft.beams:
            try:
                found = standing(case, draft, self.workspace.results)
            except UserError:
                found = None
            if found is not None and found.doses:
                self.state = found.state
                self._evaluate(found.doses, draft)
        if any(a is not b for a, b in zip(shown, (self.shown_draft, self.now, self.state))):
            self.changed.emit()

    def _try_again(self, *_: object) -> None:
        """The follower may have prepared what is waited for here."""
        if self.key and self.now is None:
            self._update()

    def _evaluate(self, doses: Any, draft: Draft) -> None:
        case = self.workspace.case
        if case is None:
            return
        key = basis_key((d.inputs for d in doses), case)
        shared = self._follower.basis_of(key)
        if shared is not None:
            self._basis = (key, shared)
        if self._basis[0] == key:
            isocentre = draft.beams[0].isocentre_mm
            self.now = self._basis[1].evaluate(
                draft.weights, draft.normalisation, draft.prescription, isocentre, draft.goals
            )
        elif self._asked[0] != key:
            from engine.evaluation.live import LiveRequest

            request = LiveRequest(doses, case.volumes)
            self._asked = (key, request.fingerprint)
            self._jobs.submit(KIND, [request])

    def _take(self, kind: str, request: Value, value: Any) -> None:
        if kind == KIND and request.fingerprint == self._asked[1]:
            self._basis, self._asked = (self._asked[0], value), (None, "")
            self._update()
