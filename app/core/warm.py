"""Loads the slow parts after the window stands, so that the first stroke does not wait for them."""

from __future__ import annotations

import logging
import sys
import threading
from collections.abc import Iterable
from importlib import import_module
from typing import Any

from PySide6.QtCore import QObject, QProcess, Signal

from engine.base.kernel_store import is_kept

log = logging.getLogger("halfshade.warm")

_pending = threading.Event()


def pending() -> bool:
    """Whether kernels are being loaded beside the screen: what needs them is shown a moment later instead of waiting."""
    return _pending.is_set()


# What is wanted soon after the start, loaded when everything else stands.
LATER = ("app.core.keeper", "engine.volumes.shape", "scipy.ndimage", "skimage.graph", "pydicom")

# In a process of its own: compiling would hold the interpreter and with it the screen. What it compiles is kept on disk,
# so that this process only loads it.
CODE = "from app.core import warm; warm.load_kernels(); warm.load_beam_kernels()"


def load_kernels() -> None:
    """Load or compile the kernels of painting and outlining by using each once."""
    from engine.volumes import ball, outline, paint, region

    paint.warm_up()
    ball.warm_up()
    region.warm_up()
    outline.outlines(paint.polygon((8, 8), ((1.0, 1.0), (1.0, 5.0), (5.0, 3.0))))


def load_beam_kernels() -> None:
    """Load or compile the kernels of the beam's-eye view and the room."""
    from engine.beams import conform
    from engine.image import quick_view
    from engine.volumes import shell

    conform.warm_up()
    quick_view.warm_up()
    shell.warm_up()


def compiled() -> bool:
    """Whether compiled kernels lie on disk already."""
    return is_kept("raster")


class Warmer(QObject):
    """Compiles kernels in a process if they are not on disk, then loads them and further modules on a thread.

    Signals
    -------
    kernels() : outlines can be drawn
    done() : everything is loaded
    """

    kernels = Signal()
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
        _pending.set()
        if compiled():
            self._load()
        else:
            self._process.start()

    def stop(self) -> None:
        """End the process if it still runs (the window closes)."""
        _pending.clear()
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
            load_kernels()
            _pending.clear()
            self._tell(self.kernels)
            load_beam_kernels()
            for module in (*self._modules, *LATER):
                import_module(module)
        except Exception:
            log.exception("loading ahead failed")
        _pending.clear()
        self._tell(self.done)

    @staticmethod
    def _tell(signal: Any) -> None:
        try:
            signal.emit()
        except RuntimeError:
            log.debug("the window closed while loading ahead")
