"""Asks for doses as plans change: quick ones at once, fine ones when the hand rests.

Where the fine dose of what has changed comes fast enough to follow the hand, it is asked for at once and there is no
quick one: that is judged by how long fine beams took here, and quick ones, which may take hardly less.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

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
# Of doses that came when the hand had moved on, so many: they are shown, but no undo leads back to them, and a long drag
# would fill the memory with them.
PASSED_KEPT = 3
SETTLE_MS = 300
NOT_TAKEN_MS = 500
# A change that is answered within this feels as following the hand.
FOLLOW_MS = 400.0
# Transport runs on grids of its own, so that a quick dose may take hardly less than a fine one: then nobody gains by it.
GAIN = 1.4


Key = tuple[Any, ...]


@dataclass(frozen=True)
class Asked:
    """A plan whose doses were asked for, of one quality, and what the samples of it depend on."""

    key: Key
    case: Case
    draft: Draft
    quality: str


def basis_key(doses: Iterable[Fingerprint], case: Case) -> Key:
    """Return what prepared samples depend on: the requests of the beam doses and where the volumes are."""
    return (*doses, *((v.key, v.coverage.fingerprint) for v in case.volumes))


class DoseJobs(QObject):
    """Submits what is missing for a draft and files what comes back.

    While a dose to follow with runs, the last of the newer wishes waits behind it: under a steady drag every such dose is
    finished rather than cancelled, so something is always seen to follow, and the worker never rests. What is read of the
    doses to show them is prepared there as well, right after them.

    Signals
    -------
    changed() : busy, halted or failure changed
    prepared(plan, basis) : the doses to follow a plan with, asked earlier, have come and are ready to be shown
    """

    changed = Signal()
    prepared = Signal(object, object)

    def __init__(self, workspace: Workspace, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace, self._jobs = workspace, jobs
        self._wish: tuple[Case, Draft] | None = None
        self._coming: dict[Key, Asked] = {}
        self._live: dict[int, Asked] = {}
        self._open: Counter[str] = Counter()
        self._wanted: tuple[Fingerprint, ...] = ()
        self._passed: deque[Fingerprint] = deque()
        self.halted = False
        self.failure = ""
        self.fraction, self.words = 0.0, ""
        self._took_ms: dict[str, float] = {}
        self._settle = QTimer(self, singleShot=True, interval=SETTLE_MS)
        self._settle.timeout.connect(self._ask_fine)
        jobs.result.connect(self._file)
        jobs.progress.connect(self._on_progress)
        jobs.finished.connect(self._on_finished)
        jobs.failed.connect(self._on_failed)

    @property
    def running(self) -> str:
        """ "quick", "fine" or "" : what is being computed."""
        return next((k.removeprefix("dose-") for k in (QUICK, FINE) if self._open[k] and self._jobs.busy(k)), "")

    def is_coming(self, key: Key) -> bool:
        """Whether what these samples depend on (``basis_key``) is being computed, and will be told of by ``prepared``."""
        return key in self._coming

    def want(self, case: Case, draft: Draft) -> None:
        """Follow this plan; does nothing while halted, unless the plan asks for other doses than when it was halted."""
        quality, requests = self._wanted_of(case, draft)
        wanted = tuple(r.fingerprint for r in requests)
        moved = wanted != self._wanted
        self._wanted, self._wish = wanted, (case, draft)
        if moved:
            self._come_back(wanted)
            self.halted, self.failure = False, ""
            self._jobs.cancel(FINE)
            self._settle.start()
        if self.halted:
            return
        missing = [r for r in requests if r.fingerprint not in self._workspace.results]
        if not missing:
            if not self._settle.isActive() and not self._open[FINE]:
                self._settle.start()
        elif moved or not self._open[QUICK]:
            self._follow(Asked(basis_key(wanted, case), case, draft, quality), requests, missing)

    def _follow(self, asked: Asked, requests: tuple[Value, ...], missing: list[Value]) -> None:
        """Ask for the doses and what is read of them; what runs of an earlier wish is let end, what waits gives way."""
        known, live = self._workspace.results, self._live

        def read(answers: list[Any]) -> Value | None:
            from engine.evaluation.live import LiveRequest

            fresh = {r.fingerprint: dose for r, dose in zip(missing, answers, strict=True)}
            doses = tuple(fresh.get(r.fingerprint) or known.get(r.fingerprint) for r in requests)
            if not all(isinstance(d, Dose) for d in doses):
                return None
            request = LiveRequest(doses, asked.case.volumes)  # type: ignore[arg-type]
            live[id(request)] = asked
            return request

        self._coming[asked.key] = asked
        self._submit(QUICK, missing, read)

    def _wanted_of(self, case: Case, draft: Draft) -> tuple[str, tuple[Value, ...]]:
        """Return what to follow a plan with: fine doses if they come in time, or quick ones would hardly come sooner."""
        fine_ms, quick_ms = self._took_ms.get("fine"), self._took_ms.get("quick")
        if fine_ms is not None:
            fine = dose_requests(case, draft, "fine")
            missing = sum(r.fingerprint not in self._workspace.results for r in fine)
            alike = quick_ms is not None and fine_ms <= GAIN * quick_ms
            if alike or missing * fine_ms <= FOLLOW_MS:
                return "fine", fine
        return "quick", dose_requests(case, draft, "quick")

    def rest(self, present: Iterable[Fingerprint] = ()) -> None:
        """Ask for nothing more (what runs may end): the plan needs no dose now, because these are there."""
        self._settle.stop()
        self._come_back(present)

    def _come_back(self, fingerprints: Iterable[Fingerprint]) -> None:
        """What the hand comes back to has not passed: it may rest there, and a draft or an undo may lead to it."""
        if self._passed:
            wanted = set(fingerprints)
            self._passed = deque(f for f in self._passed if f not in wanted)

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

    def _submit(self, kind: str, missing: list[Value], then: Any = None) -> None:
        # Whether a batch is still open is known here by its "finished", which comes after all its results; the runner
        # may be idle already while results wait in the event queue.
        if self._jobs.submit(kind, missing, then, let_end=then is not None):
            self._open[kind] += 1
        elif self._jobs.busy(kind):
            return  # asked for already, or in place of what waited: everything stands as it was told
        else:
            QTimer.singleShot(NOT_TAKEN_MS, lambda: self._not_taken(kind))
        self.fraction, self.words = 0.0, ""
        self.changed.emit()

    def _not_taken(self, kind: str) -> None:
        """The runner took nothing: it has seen this request fail by a fault of the program."""
        if not self._open[kind] and not self._jobs.busy(kind):
            self._coming.clear()
            self._on_failed(kind, None)

    def _ask_fine(self) -> None:
        if self.halted or self._wish is None:
            return
        if self._open.total():
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
        if not isinstance(value, Dose):
            asked = self._live.pop(id(request), None)
            if asked is not None:
                self._coming.pop(asked.key, None)
                self.prepared.emit(asked, value)
            return
        # The least of the last few: what else the machine does only adds, and what is learned is forgotten slowly.
        took, before = self._jobs.took_ms[type(request).__name__], self._took_ms.get(value.quality)
        self._took_ms[value.quality] = took if before is None else min(took, 1.2 * before)
        if request.fingerprint not in self._workspace.results:
            self._workspace.file_result(value)
            if kind == QUICK and request.fingerprint not in self._wanted:
                self._pass(request.fingerprint)

    def _pass(self, fingerprint: Fingerprint) -> None:
        self._passed.append(fingerprint)
        while len(self._passed) > PASSED_KEPT:
            self._workspace.drop_results([self._passed.popleft()])

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
                    self._workspace.drop_results([fingerprint])
                    over[quality] -= dose.gy.nbytes
        self._workspace.results_changed.emit()

    def _on_progress(self, kind: str, fraction: float, words: str) -> None:
        if kind in (QUICK, FINE):
            self.fraction, self.words = fraction, words
            self.changed.emit()

    def _on_finished(self, kind: str, state: str) -> None:
        if kind not in (QUICK, FINE):
            return
        self._open[kind] = max(0, self._open[kind] - 1)
        if kind == QUICK and not self._open[QUICK]:
            # Those that were dropped or broken off will not come.
            self._coming.clear()
            self._live.clear()
            if self._wish is not None and state == "cancelled":
                self.want(*self._wish)
        if kind == FINE or not self._open.total():
            self._let_go()
        self.changed.emit()

    def _on_failed(self, kind: str, error: object) -> None:
        if kind in (QUICK, FINE):
            self.halted = True
            self.failure = (
                translated(error) if isinstance(error, UserError) else self.tr("the dose computation made a mistake")
            )
            self.changed.emit()
