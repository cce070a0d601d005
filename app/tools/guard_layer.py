"""Badges of the painting hand: the guard that is on, with the line it holds, and a derived volume to be painted on."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.core.guard import Guard
from app.core.tokens import colour, tabular
from app.views.layer import Layer
from app.views.outline_paths import OutlinePaths


class GuardLayer(Layer):
    """A badge at the foot of each view and a broken line along the guarding volume."""

    z = 50

    def __init__(self, guard: Guard) -> None:
        self._guard = guard
        self._paths = OutlinePaths()

    def paint(self, painter: QPainter, view: Any) -> None:
        words = self._guard.words()
        if not words or view.stage.tool is None:
            return
        volume = self._guard.standing
        if volume is not None:
            path = self._paths.path(volume.coverage, view.axis, view.index)
            painter.save()
            painter.setTransform(view.transform, True)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            for ink, width in ((QColor(0, 0, 0, 170), 4.4), (QColor(*volume.colour), 2.6)):
                pen = QPen(ink, width, Qt.PenStyle.CustomDashLine)
                pen.setDashPattern([5, 3] if width < 4 else [3, 1.7])
                pen.setCosmetic(True)
                painter.setPen(pen)
                painter.drawPath(path)
            painter.restore()
        badge(painter, view, words, QColor(*volume.colour) if volume is not None else colour("stage_quiet"))


class DerivedLayer(Layer):
    """A badge while a tool is in the hand and the volume it would paint on follows others: known before the stroke."""

    z = 51

    def __init__(self, guard: Guard) -> None:
        self._guard = guard
        self._shown = ""

    def words(self) -> str:
        """Say what a stroke would do to the active volume besides painting, or ""."""
        volume = self.stage.workspace.volume if self.stage is not None and self.stage.tool is not None else None
        if volume is None or volume.recipe is None or self.stage.workspace.read_only:
            return ""
        return QCoreApplication.translate("Guard", "{} is derived: a stroke makes it plain").format(volume.name)

    def paint(self, painter: QPainter, view: Any) -> None:
        self._shown = self.words()
        if self._shown:
            words = self._shown if view.large else self._short()
            badge(painter, view, words, colour("warn"), 1 if self._guard.words() else 0)

    def _short(self) -> str:
        """What a small plane has room for; the large one says what follows from it."""
        return QCoreApplication.translate("Guard", "{} is derived").format(self.stage.workspace.volume.name)

    def look_again(self) -> None:
        """Paint again if there is something else to say."""
        if self.stage is not None and self.words() != self._shown:
            self.refresh()

    def case_changed(self, before: Any, after: Any) -> None:
        self.look_again()


def badge(painter: QPainter, view: Any, words: str, ink: QColor, above: int = 0) -> None:
    """Write words at the foot of a view, so many badges above the lowest."""
    painter.setFont(tabular(view.font(), 13 if view.large else 12, strong=view.large))
    metrics = painter.fontMetrics()
    text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, view.width() - 28)
    wide, high = metrics.horizontalAdvance(text) + 16, metrics.height() + 6
    place = QRect((view.width() - wide) // 2, view.height() - high - 30 - above * (high + 4), wide, high)
    painter.setPen(QPen(ink, 1.5))
    painter.setBrush(colour("stage_ground", 220))
    painter.drawRoundedRect(place, 3, 3)
    painter.setPen(colour("stage_text"))
    painter.drawText(place, Qt.AlignmentFlag.AlignCenter, text)
