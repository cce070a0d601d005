"""Python's cyclic garbage is collected on the screen thread only.

Python may start a collection whenever a thread makes an object, and then frees what it finds on that thread. A Qt object
(a timer, a model, a widget) that is freed on the compute thread dies together with its connections while the screen
thread may be using it, which ends the program. So automatic collection is switched off, and a timer of the screen
thread does its work, by the same counts.
"""

from __future__ import annotations

import gc
import threading

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication

EVERY_MS = 200


class Collector(QObject):
    """Collects between events, from ``start`` to ``stop``; make it on the screen thread."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._thread = threading.get_ident()
        self._timer = QTimer(self, interval=EVERY_MS)
        self._timer.timeout.connect(self.collect)
        self._was_enabled = False

    def start(self) -> None:
        """Take collection over; what lives now is taken to live on, so that later collections need not look at it."""
        self._was_enabled = gc.isenabled()
        gc.disable()
        gc.collect()
        gc.freeze()
        self._timer.start()

    def stop(self) -> None:
        """Give collection back to Python."""
        self._timer.stop()
        gc.unfreeze()
        if self._was_enabled:
            gc.enable()

    def collect(self) -> None:
        """Collect the oldest generation whose count is over Python's threshold; the costly last one waits for the hand."""
        assert threading.get_ident() == self._thread
        over = [count > limit > 0 for count, limit in zip(gc.get_count(), gc.get_threshold(), strict=True)]
        if not over[0]:
            return
        generation = 2 if over[2] and not _hand_is_busy() else 1 if over[1] else 0
        gc.collect(generation)


def _hand_is_busy() -> bool:
    app = QApplication.instance()
    return isinstance(app, QApplication) and app.mouseButtons() != Qt.MouseButton.NoButton
