"""An open window for benches of the hand: the program's own, off the screen, with a target under the cross-hair."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from engine.case.case import Case


@contextmanager
def outlining(case: Case) -> Iterator[tuple[QApplication, Any]]:
    """Open a case in Outline at 1280 x 800, its first target active; garbage is collected as the program does."""
    from app.core.collector import Collector
    from app.core.settings import Settings
    from app.window import Window

    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    with tempfile.TemporaryDirectory() as folder:
        window = Window(Settings(QSettings(f"{folder}/s.ini", QSettings.Format.IniFormat)))
        window.resize(1280, 800)
        window.show()
        _ = case.fingerprint  # an image from a file has been hashed when it was put there
        workspace = window.context.workspace
        workspace.open(case)
        window.go("outline")
        target = next(v for v in case.volumes if v.is_target)
        workspace.activate(volume=target.key)
        middle = target.coverage.centroid_mm()
        assert middle is not None
        workspace.set_cursor(middle)
        app.processEvents()
        collector = Collector(app)
        collector.start()
        yield app, window
        collector.stop()
        window.close()


def timed(app: QApplication, act: Callable[[int], object], count: int, warm: int = 5) -> list[float]:
    """Return milliseconds of `count` runs of an act with the painting it causes, after `warm` more."""
    out = []
    for i in range(count + warm):
        begin = time.perf_counter()
        act(i)
        app.processEvents()
        out.append((time.perf_counter() - begin) * 1e3)
    return out[warm:]
