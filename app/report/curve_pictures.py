"""Beam data as pictures: lines and measured points on labelled axes, on white paper."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPainterPath, QPen

from app.report.paper import INK, PAPER, QUIET, RULE, canvas, clip_to, font, heading, painter_on
from app.views.outline_paths import polygon

# Dark enough for paper, and told apart without red against green (after Okabe and Ito).
_RGB = ((0, 90, 160), (200, 75, 0), (0, 120, 90), (160, 60, 120), (120, 95, 0), (40, 40, 40), (70, 150, 200))
COLOURS = tuple(QColor(*c) for c in _RGB)
LEFT, RIGHT, BOTTOM = 64.0, 16.0, 52.0


@dataclass(frozen=True)
class Line:
    """One curve: a line, or points with `points`. `colour` is its place in COLOURS; an empty label has no legend."""

    label: str
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    colour: int = 0
    points: bool = False
    dashed: bool = False


@dataclass(frozen=True)
class Chart:
    """A picture's words and lines; `bands` are shaded y ranges."""

    title: str
    place: str
    x_label: str
    y_label: str
    lines: tuple[Line, ...]
    bands: tuple[tuple[float, float], ...] = ()
    y_range: tuple[float, float] | None = field(default=None)


def draw_chart(chart: Chart, width: int = 1100, height: int = 760) -> QImage:
    """Return the picture of a chart."""
    image = canvas(width, height, PAPER)
    painter = painter_on(image)
    top = heading(painter, width, chart.title, chart.place, INK, QUIET)
    named = [line for line in chart.lines if line.label]
    painter.setFont(font(12))
    metrics = QFontMetricsF(painter.font())
    legend = 50.0 + max((metrics.horizontalAdvance(line.label) for line in named), default=0.0)
    box = QRectF(LEFT, top + 8, width - LEFT - RIGHT - legend, height - top - 8 - BOTTOM)
    x_range, y_range = _spans(chart)
    _axes(painter, box, x_range, y_range, chart)

    def placed(x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
        across = box.left() + box.width() * (x - x_range[0]) / (x_range[1] - x_range[0])
        up = box.bottom() - box.height() * (y - y_range[0]) / (y_range[1] - y_range[0])
        return np.stack([across, up], axis=1)

    painter.save()
    clip_to(painter, box.adjusted(-1, -1, 1, 1))
    for low, high in chart.bands:
        a, b = placed(np.array([x_range[0], x_range[1]]), np.array([high, low]))
        painter.fillRect(QRectF(QPointF(*a), QPointF(*b)), QColor(0, 120, 90, 26))
    for line in chart.lines:
        keep = np.isfinite(line.x) & np.isfinite(line.y)
        # A gap in the values is a gap in the line.
        for run in np.split(np.arange(keep.size), np.flatnonzero(np.diff(keep.astype(int))) + 1):
            if run.size and keep[run[0]]:
                _draw(painter, line, placed(line.x[run], line.y[run]))
    painter.restore()
    y = box.top() + 8
    for line in named:
        at = np.array([[box.right() + 14, y], [box.right() + 34, y]])
        _draw(painter, line, at[:1] + [10, 0] if line.points else at)
        painter.setPen(INK)
        painter.setFont(font(12))
        painter.drawText(QPointF(box.right() + 42, y + 4), line.label)
        y += 19
    painter.end()
    return image


def _draw(painter: QPainter, line: Line, at: NDArray[np.float64]) -> None:
    colour = COLOURS[line.colour % len(COLOURS)]
    if line.points:
        painter.setPen(QPen(colour, 1.1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for x, y in at:
            painter.drawEllipse(QPointF(x, y), 2.4, 2.4)
        return
    path = QPainterPath()
    path.addPolygon(polygon(at))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, 1.6, Qt.PenStyle.DashLine if line.dashed else Qt.PenStyle.SolidLine))
    painter.drawPath(path)


def _axes(painter: QPainter, box: QRectF, xs: tuple[float, float], ys: tuple[float, float], chart: Chart) -> None:
    painter.setFont(font(11))
    for value in _marks(*xs):
        x = box.left() + box.width() * (value - xs[0]) / (xs[1] - xs[0])
        painter.setPen(QPen(RULE, 1))
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
        painter.setPen(QUIET)
        painter.drawText(QRectF(x - 40, box.bottom() + 5, 80, 16), int(Qt.AlignmentFlag.AlignCenter), f"{value:g}")
    for value in _marks(*ys):
        y = box.bottom() - box.height() * (value - ys[0]) / (ys[1] - ys[0])
        painter.setPen(QPen(RULE, 1))
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
        painter.setPen(QUIET)
        align = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        painter.drawText(QRectF(22, y - 8, box.left() - 29, 16), align, f"{value:g}")
    painter.setPen(INK)
    painter.setFont(font(12))
    centre = int(Qt.AlignmentFlag.AlignCenter)
    painter.drawText(QRectF(box.left(), box.bottom() + 25, box.width(), 18), centre, chart.x_label)
    painter.save()
    painter.translate(14, box.center().y())
    painter.rotate(-90)
    painter.drawText(QRectF(-box.height() / 2, -9, box.height(), 18), centre, chart.y_label)
    painter.restore()


def _spans(chart: Chart) -> tuple[tuple[float, float], tuple[float, float]]:
    x = np.concatenate([np.asarray(line.x, dtype=np.float64) for line in chart.lines] or [np.array([0.0, 1.0])])
    y = np.concatenate([np.asarray(line.y, dtype=np.float64) for line in chart.lines] or [np.array([0.0, 1.0])])
    x, y = x[np.isfinite(x)], y[np.isfinite(y)]
    xs = (float(x.min()), float(x.max())) if x.size else (0.0, 1.0)
    ys = chart.y_range or ((float(y.min()), float(y.max())) if y.size else (0.0, 1.0))
    wide = 0.04 * (ys[1] - ys[0]) if chart.y_range is None else 0.0
    low = 0.0 if chart.y_range is None and ys[0] >= 0 and ys[0] < 0.5 * ys[1] else ys[0] - wide
    return (xs[0], max(xs[1], xs[0] + 1e-9)), (low, max(ys[1] + wide, low + 1e-9))


def _marks(low: float, high: float) -> list[float]:
    rough = (high - low) / 8
    base = 10.0 ** np.floor(np.log10(rough))
    step = float(base * next(m for m in (1, 2, 5, 10) if m * base >= rough * (1 - 1e-9)))
    first = int(np.ceil(low / step - 1e-9))
    last = int(np.floor(high / step + 1e-9))
    return [round(n * step, 10) for n in range(first, last + 1)]
