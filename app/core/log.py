"""Logging by topic ("halfshade.jobs", "halfshade.store", ...), with the last minutes kept in memory for a report."""

from __future__ import annotations

import logging
import sys
import threading
from collections import deque
from types import TracebackType

FORMAT = "%(asctime)s %(levelname)-7s %(name)s: %(message)s"
KEPT_LINES = 2000


class Memory(logging.Handler):
    """Keeps the last lines; `text()` is what a report of a fault carries."""

    def __init__(self, lines: int = KEPT_LINES) -> None:
        super().__init__(logging.DEBUG)
        self._lines: deque[str] = deque(maxlen=lines)
        self.setFormatter(logging.Formatter(FORMAT))

    def emit(self, record: logging.LogRecord) -> None:
        self._lines.append(self.format(record))

    def text(self) -> str:
        """Return the kept lines."""
        return "\n".join(self._lines)


memory = Memory()


def start(verbose: bool = False) -> None:
    """Attach the handlers to the logger "halfshade" once and log exceptions nobody caught."""
    root = logging.getLogger("halfshade")
    root.setLevel(logging.DEBUG)
    if memory not in root.handlers:
        root.addHandler(memory)
        console = logging.StreamHandler()
        console.setLevel(logging.DEBUG if verbose else logging.WARNING)
        console.setFormatter(logging.Formatter(FORMAT))
        root.addHandler(console)
    sys.excepthook = _uncaught
    threading.excepthook = lambda a: _uncaught(a.exc_type, a.exc_value or a.exc_type(), a.exc_traceback)


def _uncaught(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    if issubclass(kind, KeyboardInterrupt):
        sys.__excepthook__(kind, error, trace)
        return
    logging.getLogger("halfshade").critical("not caught", exc_info=(kind, error, trace))
    for listener in uncaught_listeners:
        listener(error)


uncaught_listeners: list = []
