"""Loads the slow parts after the window stands, so that the first stroke does not wait for them."""

from __future__ import annotations

import logging
import sys
import threading
from collections.abc import Iterable
from importlib import import_module

from PySide6.QtCore import QObject, QProcess, Signal

log = logging.getLogger("halfshade.warm")

# In a process of its own: compiling would hold the interpreter and with it the screen. What it compiles is kept on disk,
# so that this process only loads it.
CODE = (
    "import numpy as np\n"
    "from engine.volumes import outline, paint\n"
    "paint.warm_up()\n"
    "outline.outlines(np.full((4, 4), 255, np.uint8), 0, 0)\n"
)


class Warmer(QObject):
    """Compiles kernels in a process, then imports modules on a thread.

    Signals
    -------
    done() : everything is loaded
    """

    done = Signal()

    def __init__(self, modules: Iterable[str], parent: QObject) -> None:
        super().__init__(parent)
        self._modules = tuple(modules)
        self._process = QProcess(self)
        self._process.setProgram(sys.executable)
        self._process.setArguments(["-c", CODE])
        self._process.setStandardOutputFile(QProcess.nullDevice())
        self._process.setStandardErrorFile(QProcess.nullDevice())
        self._process.finished.connect(lambda *_: self._load())
        self._process.errorOccurred.connect(lambda *_: self._load())
        self._loading = False

    def begin(self) -> None:
        """Start; returns at once."""
        self._process.start()

    def stop(self) -> None:
        """End the process if it still runs (the window closes)."""
        self._process.blockSignals(True)
        if self._process.state() != QProcess.ProcessState.NotRunning:
            self._process.kill()
            self._process.waitForFinished(500)

    def _load(self) -> None:
        if not self._loading:
            self._loading = True
            threading.Thread(target=self._import, name="halfshade-warm", daemon=True).start()

    def _import(self) -> None:
        try:
            for module in (*self._modules, "engine.volumes.raster", "scipy.ndimage", "skimage.graph", "pydicom"):
                import_module(module)
        except Exception:
            log.exception("loading ahead failed")
        try:
            self.done.emit()
        except RuntimeError:
            log.debug("the window closed while loading ahead")
