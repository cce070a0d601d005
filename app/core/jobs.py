"""One compute thread; the latest request of a kind wins.

The engine's parallel kernels must never be entered from two threads, so there is exactly one worker. Requests of a
kind are submitted as a list; submitting again cancels what of that kind still waits or runs, unless it is the same. To
follow a hand, what runs is let end and only what waits is replaced: the worker never rests, and every answer is seen.

What nobody waits for gives way: it pauses at its reports while the hand works, for interpreter and cores are shared.
"""

from __future__ import annotations

import logging
import sys
import threading
import time
from collections import deque
from collections.abc import Callable, Sequence
from itertools import count
from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core.language import translated
from engine import compute
from engine.base.errors import Cancelled, UserError
from engine.base.values import Value

log = logging.getLogger("halfshade.jobs")

Then = Callable[[list[Any]], Value | None]

# The interpreter goes to and fro between screen and computation; a wait of the usual 5 ms each time would slow both.
SWITCH_S = 0.001
HAND_S = 0.25  # so long after it was last seen the hand is taken to be at work
TOLD_S = 0.05  # progress is told no more often: each telling wakes the screen


class JobRunner(QObject):
    """Runs requests on its thread and tells the screen thread by queued signals.

    Signals
    -------
    result(kind, request, value) : one request of a list is answered
    progress(kind, fraction, words) : of the whole list, 0..1
    finished(kind, state) : "done", "cancelled" or "failed"; always emitted, once per submitted list that started or waited
    failed(kind, error) : UserError (words with advice) or any other exception (a bug, already logged)
    """

    result = Signal(str, object, object)
    progress = Signal(str, float, str)
    finished = Signal(str, str)
    failed = Signal(str, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._wait = threading.Condition()
        self._queue: deque[_Batch] = deque()
        self._running: _Batch | None = None
        self._stop = False
        self._broken: set[str] = set()
        self._hand_until = 0.0
        # By type of request, how long the last request took; what waits for the screen is not in it.
        self.took_ms: dict[str, float] = {}
        sys.setswitchinterval(SWITCH_S)
        self._thread = threading.Thread(target=self._work, name="halfshade-compute", daemon=True)
        self._thread.start()

    def submit(
        self,
        kind: str,
        requests: Sequence[Value],
        then: Then | None = None,
        let_end: bool = False,
        gives_way: bool = False,
    ) -> bool:
        """Run `requests` in turn; replaces what of `kind` waits or runs unless the fingerprints are the same.

        Parameters
        ----------
        then : makes one more request of the answers, on the worker, or None
        let_end : what runs is let end; what waits is replaced where it stands, and told of once
        gives_way : pause while the hand is at work, unless something else waits

        Returns
        -------
        whether a new list was taken, which will be told of by ``finished``; not if it took the place of one that waits
        """
        batch = _Batch(kind, tuple(requests), then, gives_way)
        with self._wait:
            current = next((b for b in self._queue if b.kind == kind), None)
            if current is None and self._running is not None and self._running.kind == kind:
                current = self._running
            if current is not None and current.same(batch) and not current.cancelled:
                return False
            # Fingerprints of large requests take long: they are asked for only where something may be found.
            broken = bool(self._broken) and any(r.fingerprint in self._broken for r in batch.requests)
            taken = bool(batch.requests) and not broken
            if taken and let_end and current is not None and current is not self._running:
                self._queue[self._queue.index(current)] = batch
                return False
            self._drop(kind, running=not let_end)
            if not taken:
                return False
            self._queue.append(batch)
            self._wait.notify()
            return True

    def cancel(self, kind: str | None = None) -> None:
        """Stop what of `kind` (None: everything) waits or runs."""
        with self._wait:
            self._drop(kind)
            self._wait.notify()

    def hand_works(self, *_: object) -> None:
        """The hand was seen at work: what gives way pauses for a moment."""
        self._hand_until = time.monotonic() + HAND_S

    def busy(self, kind: str | None = None) -> bool:
        """Whether something of `kind` (None: anything) waits or runs."""
        with self._wait:
            active = [*self._queue, *([self._running] if self._running else [])]
            return any(kind in (None, b.kind) and not b.cancelled for b in active)

    def close(self, seconds: float = 2.0) -> None:
        """Cancel all and wait at most `seconds` for the thread to end."""
        with self._wait:
            self._stop = True
            self._drop(None)
            self._wait.notify()
        self._thread.join(seconds)

    def _drop(self, kind: str | None, running: bool = True) -> None:
        for batch in [b for b in self._queue if kind in (None, b.kind)]:
            self._queue.remove(batch)
            self.finished.emit(batch.kind, "cancelled")
        if running and self._running is not None and kind in (None, self._running.kind):
            self._running.cancelled = True

    def _work(self) -> None:
        while True:
            with self._wait:
                self._running = None
                while not self._queue and not self._stop:
                    self._wait.wait()
                if self._stop:
                    return
                batch = self._running = self._queue.popleft()
            self._run(batch)

    def _run(self, batch: _Batch) -> None:
        waiting, answers = deque(batch.requests), []
        total = len(batch.requests)
        state, error = "done", None
        for i in count():
            if not waiting and batch.then is not None:
                more, batch.then = batch.then(answers), None
                waiting.extend([more] if more is not None else [])
            if not waiting:
                break
            request = waiting.popleft()

            def report(fraction: float, words: str = "", done: int = i) -> None:
                if batch.gives_way:
                    self._give_way(batch)
                if batch.cancelled:
                    raise Cancelled
                if (now := time.monotonic()) - batch.told >= TOLD_S or fraction >= 1.0:
                    batch.told = now
                    self._tell("progress", batch.kind, min((done + fraction) / total, 1.0), translated(words))

            began = time.monotonic()
            try:
                value = compute.run(request, report)
                self.took_ms[type(request).__name__] = 1000 * (time.monotonic() - began)
            except Cancelled:
                state = "cancelled"
                break
            except UserError as caught:
                state, error = "failed", caught
                break
            except Exception as caught:
                log.exception("request %s of kind %s failed", request.fingerprint, batch.kind)
                self._broken.add(request.fingerprint)
                state, error = "failed", caught
                break
            if batch.cancelled:
                state = "cancelled"
                break
            answers.append(value)
            self._tell("result", batch.kind, request, value)
        with self._wait:
            self._running = None
        if error is not None:
            self._tell("failed", batch.kind, error)
        self._tell("finished", batch.kind, state)

    def _tell(self, signal: str, *values: Any) -> None:
        """Emit a signal; nobody is there to be told when a closed window did not wait for a long step to end."""
        try:
            getattr(self, signal).emit(*values)
        except RuntimeError:
            if not self._stop:
                raise

    def _give_way(self, batch: _Batch) -> None:
        with self._wait:
            while not (batch.cancelled or self._queue or self._stop):
                left = self._hand_until - time.monotonic()
                if left <= 0:
                    return
                self._wait.wait(left)


class _Batch:
    def __init__(self, kind: str, requests: tuple[Any, ...], then: Then | None, gives_way: bool) -> None:
        self.kind, self.requests, self.then, self.gives_way = kind, requests, then, gives_way
        self.cancelled, self.told = False, 0.0

    def same(self, other: _Batch) -> bool:
        """Whether both ask for the same."""
        return self.requests == other.requests
