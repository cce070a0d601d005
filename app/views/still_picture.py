"""Something that often stands still while other things move over or under it, drawn from a picture."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QWidget


class StillPicture:
    """Draws at once what has changed, and from a picture what is drawn a second time."""

    def __init__(self) -> None:
        self._kept: tuple[Any, QPixmap | None] = (None, None)

    def draw(self, painter: QPainter, widget: QWidget, what: Any, paint: Callable[[QPainter], None]) -> None:
        """Draw over a whole widget.

        Parameters
        ----------
        what : all that the drawing depends on, but for the size of the widget and of its pixels
        paint : draws it, with smooth edges unless it says otherwise
        """
        ratio = widget.devicePixelRatioF()
        key = (what, widget.size(), ratio)
        if self._kept[0] != key:
            self._kept = (key, None)
            paint(painter)
            return
        made = self._kept[1]
        if made is None:
            made = QPixmap(max(1, int(widget.width() * ratio)), max(1, int(widget.height() * ratio)))
            made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            inner = QPainter(made)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint(inner)
            inner.end()
            self._kept = (key, made)
        painter.drawPixmap(0, 0, made)
