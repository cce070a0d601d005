"""A painter that never outlives its paint event."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget


@contextmanager
def painting(widget: QWidget) -> Iterator[QPainter]:
    """Give a painter on a widget and end it whatever happens.

    An exception keeps local names alive in its traceback; a painter among them that is still active when the event has
    ended takes the process down.
    """
    painter = QPainter(widget)
    try:
        yield painter
    finally:
        painter.end()
