"""Asks for doses as plans change: quick ones at once, fine ones when the hand rests.

Where the fine dose of what has changed comes fast enough to follow the hand, it is asked for at once and there is no
quick one: that is judged by how long fine beams took here.
"""

from __future__ import annotations

import time

from PySide6.QtCore import QObject, QTimer, Signal

from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.base.values import Fingerprint, Value
from engine.case.case import Case, Draft
from engine.case.requests import dose_requests
from engine.dose.dose import Dose

QUICK, FINE = "dose-quick", "dose-fine"
KEPT_BYTES = {"quick": 200_000_000, "fine": 1_000_000_000}  # of doses that nobody looks at, for undo
SETTLE_MS = 300
NOT_TAKEN_MS = 500
# A change that is answered within this feels as following the hand.
FOLLOW_MS = 200.0


class DoseJobs(QObject):
    """Submits what is missing for a draft and files what comes back.

    While a dose to follow with runs, newer wishes wait and the last of them is asked when it ends: under a steady drag
    every such dose is finished rather than cancelled, so something is always seen to follow.

    Signals
    -------
    changed() : busy, halted or failure changed
    answered(case, draft, quality) : all doses to follow a plan with, asked earlier, have come
    """

    changed = Signal()
    answered = Signal(object, object, str)

    def __init__(self, workspace: Workspace, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace, self._jobs = workspace, jobs
        self._wish: tuple[Case, Draft] | None = None
        self._asked: tuple[Case, Draft, str] | None = None
        self._waiting = False
        self._open: set[str] = set()
        self._wanted: tuple[Fingerprint, ...] = ()
        self.halted = False
        self.failure = ""
        self.fraction, self.words = 0.0, ""
        self._fine_ms: float | None = None
        self._last = 0.0
        self._settle = QTimer(self, singleShot=True, interval=SETTLE_MS)
        self._settle.timeout.connect(self._ask_fine)
        jobs.result.connect(self._file)
        jobs.progress.connect(self._on_progress)
        jobs.finished.connect(self._on_finished)
        jobs.failed.connect(self._on_failed)

    @property
    def running(self) -> str:
        """ "quick", "fine" or "" : what is being computed."""
        return next((k.removeprefix("dose-") for k in (QUICK, FINE) if k in self._open and self._jobs.busy(k)), "")

    def want(self, case: Case, draft: Draft) -> None:
        """Follow this plan; does nothing while halted, unless the plan asks for other doses than when it was halted."""
        quality = self._quality(case, draft)
        requests = dose_requests(case, draft, quality)
        wanted = tuple(r.fingerprint for r in requests)
        moved = wanted != self._wanted
        self._wanted, self._wish = wanted, (case, draft)
        if moved:
            self.halted, self.failure = False, ""
            self._jobs.cancel(FINE)
            self._settle.start()
        if self.halted:
            return
        missing = [r for r in requests if r.fingerprint not in self._workspace.results]
        if not missing:
            if not self._settle.isActive() and FINE not in self._open:
                self._settle.start()
        elif QUICK in self._open:
            # A batch that is being cancelled is open but not busy; what is wished now must be asked once it has ended.
            self._waiting = self._waiting or moved or not self._jobs.busy(QUICK)
        else:
            self._asked = (case, draft, quality)
            self._submit(QUICK, missing)

    def _quality(self, case: Case, draft: Draft) -> str:
        """Return the quality to follow a plan with: fine if what is missing of it will come in time."""
        if self._fine_ms is None:
            return "quick"
        missing = sum(r.fingerprint not in self._workspace.results for r in dose_requests(case, draft, "fine"))
        return "fine" if missing * self._fine_ms <= FOLLOW_MS else "quick"

    def rest(self) -> None:
        """Ask for nothing more (what runs may end): the plan needs no dose now."""
        self._settle.stop()
        self._waiting = False

    def cancel(self) -> None:
        """Stop computing until the plan changes or ``resume``."""
        self.rest()
        self.halted = True
        self._jobs.cancel(QUICK)
        self._jobs.cancel(FINE)
        self.changed.emit()

    def resume(self) -> None:
        """Compute again after a cancel or a failure."""
        self.halted, self.failure = False, ""
        if self._wish is not None:
            self.want(*self._wish)
        self.changed.emit()

    def _submit(self, kind: str, missing: list[Value]) -> None:
        # Whether a batch is still open is known here by its "finished", which comes after all its results; the runner
        # may be idle already while results wait in the event queue.
        self.fraction, self.words = 0.0, ""
        self._open.add(kind)
        self._last = time.monotonic()
        self._jobs.submit(kind, missing)
        if not self._jobs.busy(kind):
            QTimer.singleShot(NOT_TAKEN_MS, lambda: self._not_taken(kind))
        self.changed.emit()

    def _not_taken(self, kind: str) -> None:
        """The runner took nothing: it has seen this request fail by a fault of the program."""
        if kind in self._open and not self._jobs.busy(kind):
            self._open.discard(kind)
            self._on_failed(kind, None)

    def _ask_fine(self) -> None:
        if self.halted or self._wish is None:
            return
        if self._open:
            self._settle.start()
            return
        try:
            requests = dose_requests(*self._wish, "fine")
        except UserError as error:
            self._on_failed(FINE, error)
            return
        missing = [r for r in requests if r.fingerprint not in self._workspace.results]
        if missing:
            self._submit(FINE, missing)

    def _file(self, kind: str, request: Value, value: object) -> None:
        if kind not in (QUICK, FINE):
            return
        now = time.monotonic()
        if isinstance(value, Dose) and value.quality == "fine":
            # The least of the last few: what else the machine does only adds, and what is learned is forgotten slowly.
            took = 1000 * (now - self._last)
            self._fine_ms = took if self._fine_ms is None else min(took, 1.2 * self._fine_ms)
        self._last = now
        if request.fingerprint not in self._workspace.results:
            self._workspace.file_result(value)

    def _let_go(self) -> None:
        """Drop the oldest doses beyond the budget that no draft of the case asks for; they can be computed again."""
        case, results = self._workspace.case, self._workspace.results
        held = {q: [(f, d) for f, d in results.items() if isinstance(d, Dose) and d.quality == q] for q in KEPT_BYTES}
        over = {q: sum(d.gy.nbytes for _, d in held[q]) - KEPT_BYTES[q] for q in held}
        if case is None or all(n <= 0 for n in over.values()):
            return
        needed = {r.fingerprint for d in case.drafts for q in held for r in dose_requests(case, d, q)}
        for quality, doses in held.items():
            for fingerprint, dose in doses:
                if over[quality] > 0 and fingerprint not in needed:
                    del results[fingerprint]
                    over[quality] -= dose.gy.nbytes
        self._workspace.results_changed.emit()

    def _on_progress(self, kind: str, fraction: float, words: str) -> None:
        if kind in (QUICK, FINE):
            self.fraction, self.words = fraction, words
            self.changed.emit()

    def _on_finished(self, kind: str, state: str) -> None:
        self._open.discard(kind)
        if kind == QUICK:
            if state == "done" and self._asked is not None:
                self.answered.emit(*self._asked)
            self._asked = None
            if self._waiting and self._wish is not None and state != "failed":
                self._waiting = False
                self.want(*self._wish)
        if kind == FINE or not self._open:
            self._let_go()
        if kind in (QUICK, FINE):
            self.changed.emit()

    def _on_failed(self, kind: str, error: object) -> None:
        if kind in (QUICK, FINE):
            self.halted = True
            self.failure = (
                translated(error) if isinstance(error, UserError) else self.tr("the dose computation made a mistake")
            )
            self.changed.emit()
