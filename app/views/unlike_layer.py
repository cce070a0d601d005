"""Where two volumes differ: what only one of them holds, hatched one way or the other, with a legend."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from app.core.tokens import SMALL_PX, colour, tabular
from app.views.layer import Layer
from app.views.outline_paths import OutlinePaths
from engine.volumes.volume import Volume

# Orange and blue as in the difference of two doses; the way of the hatching says it to an eye without colours.
FIRST, SECOND = (230, 159, 0), (86, 180, 233)
HATCHES = (Qt.BrushStyle.BDiagPattern, Qt.BrushStyle.FDiagPattern)


class UnlikeLayer(Layer):
    """Drawn on every plane while two volumes are shown, into the kept picture: hatching takes its time."""

    z = 35

    def __init__(self, paths: OutlinePaths) -> None:
        self._paths = paths
        self.pair: tuple[Volume, Volume] | None = None
        self.names = ("", "")

    def show(self, first: Volume | None, second: Volume | None, names: tuple[str, str] = ("", "")) -> None:
        """Show where two volumes differ, or nothing.

        Parameters
        ----------
        names : what the legend calls them
        """
        pair = (first, second) if first is not None and second is not None else None
        same = pair is not None and self.pair is not None and all(a.coverage is b.coverage for a, b in zip(pair, self.pair))
        if not (same or (pair is None and self.pair is None)) or names != self.names:
            self.pair, self.names = pair, names
            self.refresh()

    def paint(self, painter: QPainter, view: Any) -> None:
        if self.pair is None:
            return
        one, two = (view.transform.map(self._paths.path(v.coverage, view.axis, view.index)) for v in self.pair)
        painter.save()
        for here, there, rgb, hatch in ((one, two, FIRST, HATCHES[0]), (two, one, SECOND, HATCHES[1])):
            if here.isEmpty():
                continue
            painter.save()
            painter.setClipPath(_beyond(there, view), Qt.ClipOperation.IntersectClip)
            painter.fillPath(here, QColor(*rgb, 70))
            painter.fillPath(here, QBrush(QColor(*rgb), hatch))
            painter.restore()
        for path, rgb, style in ((one, FIRST, Qt.PenStyle.SolidLine), (two, SECOND, Qt.PenStyle.DashLine)):
            for ink, width in ((QColor(0, 0, 0, 150), 3.2), (QColor(*rgb), 1.6)):
                painter.setPen(QPen(ink, width, style if width < 3 else Qt.PenStyle.SolidLine))
                painter.drawPath(path)
        painter.restore()
        if view.large:
            self._key(painter, view)

    def _key(self, painter: QPainter, view: Any) -> None:
        painter.setFont(tabular(view.font(), SMALL_PX))
        metrics = QFontMetricsF(painter.font())
        words = QCoreApplication.translate("UnlikeLayer", "only in {0}")
        room = view.width() - 50.0
        y = view.height() - 60.0
        for name, rgb, hatch in zip(self.names, (FIRST, SECOND), HATCHES):
            text = metrics.elidedText(words.format(name), Qt.TextElideMode.ElideMiddle, room)
            painter.fillRect(QRectF(6, y - 13, metrics.horizontalAdvance(text) + 32, 17), colour("stage_ground", 190))
            swatch = QRectF(10, y - 10, 14, 11)
            painter.fillRect(swatch, QColor(*rgb, 70))
            painter.fillRect(swatch, QBrush(QColor(*rgb), hatch))
            painter.setPen(QPen(QColor(*rgb), 1))
            painter.drawRect(swatch)
            painter.setPen(colour("stage_text"))
            painter.drawText(int(swatch.right()) + 7, int(y), text)
            y += 18


def _beyond(path: QPainterPath, view: Any) -> QPainterPath:
    """Return all of a view but the inside of a path."""
    out = QPainterPath()
    out.addRect(QRectF(view.rect()).adjusted(-1, -1, 1, 1).united(path.boundingRect().adjusted(-1, -1, 1, 1)))
    out.addPath(path)
    out.setFillRule(Qt.FillRule.OddEvenFill)
    return out
