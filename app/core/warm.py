"""Makes the slow parts ready after the window stands, so that no first touch waits for them.

Kernels are compiled once on a machine, beside the program: compiling here would hold the interpreter and with it the
screen. Each line of the rehearsal (``engine.rehearsal``) has a process of its own, of low priority (the lowest once one can
paint), so that whatever the hand asks for meanwhile comes first. What it compiles is kept on disk; this process only loads
it, part by part.
"""

from __future__ import annotations

import logging
import queue
import sys
import threading
from collections.abc import Iterable
from importlib import import_module
from typing import Any

from PySide6.QtCore import QObject, QProcess, Signal

from app.core.messages import Messages

log = logging.getLogger("halfshade.warm")
TOPIC = "kernels"

OUTLINES, PAINTING, PLANS, VIEWS, SHAPES = "outlines", "painting", "plans", "views", "shapes"

# Parts of the rehearsal that are not ready yet; empty unless a Warmer is at work.
_pending: set[str] = set()


def pending(part: str) -> bool:
    """Whether a part is still being made ready beside the screen: what needs it is shown a moment later, not waited for."""
    return part in _pending


# What is wanted soon after the start, loaded when everything else stands.
LATER = ("app.core.keeper", "engine.volumes.shape", "scipy.ndimage", "skimage.graph", "pydicom")

CODE = """
import os, sys
nice = getattr(os, "nice", int)
nice(5)
from engine import rehearsal
for part in sys.argv[1:]:
    rehearsal.rehearse(part)
    print(part, flush=True)
    nice(14)
"""


class Warmer(QObject):
    """Has kernels compiled by processes if they are not on disk, and loads them and further modules on a thread.

    Signals
    -------
    loaded(part) : a part of the rehearsal is ready
    done() : modules are loaded, and kernels as far as they are on disk
    ended() : everything is ready
    """

    loaded = Signal(str)
    done = Signal()
    ended = Signal()
    _cold = Signal(object)

    def __init__(self, modules: Iterable[str], messages: Messages, parent: QObject) -> None:
        super().__init__(parent)
        self._modules, self._messages = tuple(modules), messages
        self._parts: queue.SimpleQueue[str] = queue.SimpleQueue()  # of SCREEN, to be loaded; "" ends the thread
        self._lines: dict[QProcess, list[str]] = {}
        self._failed = False
        self._cold.connect(self._compile)
        self.loaded.connect(self._loaded)

    def begin(self) -> None:
        """Start; returns at once."""
        # All but "doses": nothing on the screen asks whether those are ready.
        _pending.update((OUTLINES, PAINTING, PLANS, VIEWS, SHAPES))
        threading.Thread(target=self._work, name="halfshade-warm", daemon=True).start()

    def stop(self) -> None:
        """End what still runs (the window closes)."""
        _pending.clear()
        self._parts.put("")
        lines, self._lines = self._lines, {}
        for process in lines:
            process.blockSignals(True)
            if process.state() != QProcess.ProcessState.NotRunning:
                process.kill()
                process.waitForFinished(500)

    # on the thread

    def _work(self) -> None:
        try:
            from engine import rehearsal

            cold = not rehearsal.is_done()
            if cold:
                self._tell(self._cold, rehearsal.LINES)
            else:
                for part in rehearsal.SCREEN:
                    self._load(part)
                _pending.clear()
            for module in (*self._modules, *LATER):
                import_module(module)
            self._tell(self.done)
            while cold and (part := self._parts.get()):
                self._load(part)
        except Exception:
            log.exception("loading ahead failed")
            self._tell(self.done)
        _pending.clear()
        self._tell(self.ended)

    def _load(self, part: str) -> None:
        from engine import rehearsal

        if part in rehearsal.SCREEN:
            rehearsal.rehearse(part)
        _pending.discard(part)
        self._tell(self.loaded, part)

    @staticmethod
    def _tell(signal: Any, *values: Any) -> None:
        try:
            signal.emit(*values)
        except RuntimeError:
            log.debug("the window closed while loading ahead")

    # on the screen thread

    def _compile(self, lines: tuple[tuple[str, ...], ...]) -> None:
        words = self.tr("The first start on this machine makes the tools ready for it; they can be used in some seconds.")
        self._messages.warning(words, topic=TOPIC)
        for parts in lines:
            process = QProcess(self)
            self._lines[process] = list(parts)
            process.setStandardErrorFile(QProcess.nullDevice())
            process.readyReadStandardOutput.connect(lambda p=process: self._heard(p))
            process.finished.connect(lambda code, _, p=process: self._finished(p, code == 0))
            process.errorOccurred.connect(lambda _, p=process: self._finished(p, False))
            process.start(sys.executable, ["-c", CODE, *parts])

    def _loaded(self, part: str) -> None:
        if part in (OUTLINES, PAINTING) and not pending(OUTLINES) and not pending(PAINTING):
            self._messages.settle(TOPIC)

    def _heard(self, process: QProcess) -> None:
        while process.canReadLine():
            part = process.readLine().data().decode().strip()
            if part in self._lines.get(process, ()):
                self._lines[process].remove(part)
                self._parts.put(part)

    def _finished(self, process: QProcess, well: bool) -> None:
        if process not in self._lines:
            return
        self._heard(process)
        left = self._lines.pop(process)
        if not well or left:
            log.warning("kernels were not compiled ahead: %s", ", ".join(left))
            self._failed = True
        for part in left:  # compiled here then, where they are asked for first
            self._parts.put(part)
        if not self._lines:
            if not self._failed:
                from engine import rehearsal

                rehearsal.note_done()
            self._parts.put("")
