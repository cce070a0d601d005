"""Pictures without a window."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def drawing() -> Iterator[None]:
    """Hold the application object that fonts need, without a screen."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtGui import QGuiApplication

    app = QGuiApplication.instance() or QGuiApplication(["halfshade"])
    yield
    del app
