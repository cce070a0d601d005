"""Axes of the DVH plot: numbers that never touch one another, however many digits they have."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.core.tokens import colour

LEFT_PX, TITLE_PX, GAP_PX = 48.0, 20.0, 5.0  # least room at the left, of it for the title; between two numbers
STEPS = (1, 2, 5, 10, 20, 50)
Scale = tuple[float, float]  # where an axis ends and its step, in what its numbers say


def number(value: float) -> str:
    """Return a number of an axis in plain digits: no exponent, no needless zero."""
    text = f"{value:.6f}" if abs(value) < 1000 else f"{value:.1f}"
    return text.rstrip("0").rstrip(".")


def numbers(scale: Scale) -> list[float]:
    """Return where an axis has its lines."""
    top, step = scale
    return [i * step for i in range(int(top / step + 1e-6) + 1)]


def left_px(scale: Scale, metrics: QFontMetricsF) -> float:
    """Return the room the numbers and the title of the upright axis need."""
    return max(LEFT_PX, TITLE_PX + 5 + max(metrics.horizontalAdvance(number(v)) for v in numbers(scale)))


def written(values: Sequence[float], at_px: Sequence[float], most_px: float, metrics: QFontMetricsF) -> dict[int, QRectF]:
    """Return which numbers of the lower axis are written and where, none touching another or leaving the plot.

    Parameters
    ----------
    at_px : where the lines stand
    most_px : the right edge of the plot
    """
    widths = [metrics.horizontalAdvance(number(v)) + 2 for v in values]
    for every in STEPS:
        out: dict[int, QRectF] = {}
        for i in range(0, len(values), every):
            left = min(at_px[i] - widths[i] / 2, most_px - widths[i])
            out[i] = QRectF(left, 0, widths[i], 16)
        boxes = list(out.values())
        if all(b.left() - a.right() >= GAP_PX for a, b in pairwise(boxes)):
            break
    return out


def draw_axes(painter: QPainter, area: QRectF, most_px: float, dose: Scale, amount: Scale, words: tuple[str, str]) -> None:
    """Draw lines, numbers and titles (dose, amount) around an area, in the painter's font."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    line, quiet, middle = QPen(colour("line"), 1), QPen(colour("quiet"), 1), Qt.AlignmentFlag.AlignCenter
    metrics, values = QFontMetricsF(painter.font()), numbers(dose)
    at = [area.left() + v / dose[0] * area.width() for v in values]
    painter.setPen(line)
    for x in at:
        painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
    painter.setPen(quiet)
    for i, box in written(values, at, most_px, metrics).items():
        painter.drawText(box.translated(0, area.bottom() + 2), middle, number(values[i]))
    side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
    for value in numbers(amount):
        y = area.bottom() - value / amount[0] * area.height()
        painter.setPen(line)
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
        painter.setPen(quiet)
        painter.drawText(QRectF(0, y - 9, area.left() - 5, 18), side, number(value))
    painter.drawText(QRectF(area.left(), area.bottom() + 16, area.width(), 16), middle, words[0])
    painter.save()
    painter.translate(11, area.center().y())
    painter.rotate(-90)
    painter.drawText(QRectF(-area.height() / 2, -8, area.height(), 16), middle, words[1])
    painter.restore()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
