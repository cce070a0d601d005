"""The numbers that isodose lines carry: where they sit, and pictures of them, since they are drawn in every frame."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPainterPath, QPixmap

from app.core.tokens import SMALL_PX, colour, tabular
from app.views.dose_planes import LevelLines
from app.views.dose_ramp import ink

KEPT = 64


class DoseLabels:
    """Labels keep to the body, to the view and off each other; one that finds no place is left out."""

    def __init__(self) -> None:
        self._made: dict[tuple[float, float, float], tuple[QPixmap, QRectF]] = {}
        self._font: QFont | None = None

    def draw(
        self,
        painter: QPainter,
        view: Any,
        levels: list[LevelLines],
        body: QPainterPath | None,
        gy_per_percent: float = 0.0,
    ) -> None:
        """Draw one label for each level that has a line on the plane: percent, or Gy where a percent is given in Gy."""
        if self._font is None or self._font != painter.font():
            self._font = QFont(painter.font())
            self._made.clear()
        ratio = view.devicePixelRatioF()
        taken: list[QRectF] = []
        frame = QRectF(view.rect()).adjusted(2, 2, -2, -2)
        for level in levels:
            anchor_mm = level.anchor_mm
            if anchor_mm is None:
                continue
            picture, size = self._label(level.percent, gy_per_percent, ratio)
            box = QRectF(size)
            box.moveCenter(view.transform.map(anchor_mm))
            fits = frame.contains(box) and not any(box.intersects(t) for t in taken)
            if not fits or (body is not None and not body.contains(anchor_mm)):
                at = _other_place(view, level, box, frame, taken, body)
                if at is None:
                    continue
                box.moveCenter(at)
            taken.append(box)
            # On whole pixels: letters between them would be blurred.
            painter.drawPixmap(QPointF(round(box.left() * ratio) / ratio, round(box.top() * ratio) / ratio), picture)

    def _label(self, percent: float, gy_per_percent: float, ratio: float) -> tuple[QPixmap, QRectF]:
        found = self._made.get((percent, gy_per_percent, ratio))
        if found is None:
            assert self._font is not None
            text = f"{round(percent * gy_per_percent, 1):g}" if gy_per_percent else f"{percent:g}"
            font = tabular(self._font, SMALL_PX - 1, strong=True)
            metrics = QFontMetricsF(font)
            box = QRectF(0, 0, metrics.horizontalAdvance(text) + 6, metrics.height())
            made = QPixmap(int(box.width() * ratio) + 1, int(box.height() * ratio) + 1)
            made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            painter = QPainter(made)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(font)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour("stage_ground", 200))
            painter.drawRoundedRect(box, 3, 3)
            painter.setPen(ink(percent).lighter(115))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
            painter.end()
            if len(self._made) >= KEPT:
                self._made.clear()
            found = self._made[percent, gy_per_percent, ratio] = (made, box)
        return found


def _other_place(
    view: Any, level: LevelLines, box: QRectF, frame: QRectF, taken: list[QRectF], body: QPainterPath | None
) -> QPointF | None:
    """Return the first place along a level's longest line where its label stands free."""
    line = max(level.lines, key=len)
    for i in range(0, len(line), max(1, len(line) // 12)):
        mm = QPointF(float(line[i, 0]), float(line[i, 1]))
        at = view.transform.map(mm)
        moved = QRectF(box)
        moved.moveCenter(at)
        free = frame.contains(moved) and not any(moved.intersects(t) for t in taken)
        if free and (body is None or body.contains(mm)):
            return QPointF(at)
    return None
