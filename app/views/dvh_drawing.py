"""Parts of the DVH plot that are drawn over its curves: goal marks, the mark of an old dose, words in a box."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from app.core.tokens import SMALL_PX, colour, tabular
from app.views.dvh_curves import Mark

MARK_PX = 6.0
LEGEND_PX = 18.0  # above the plot while two drafts are drawn
ROW_PX = 2 * MARK_PX + 2


def mark_places(
    marks: Sequence[Mark], area: QRectF, at: Callable[[float, float], QPointF], differential: bool
) -> list[QPointF]:
    """Return where each mark stands: at its dose and amount, of the differential plot at its dose alone.

    There limits of dose stand in rows from the top, demands on the volume at a dose in rows from the foot; marks that
    would cover one another take the next row.
    """
    if not differential:
        return [at(m.gy, m.amount) for m in marks]
    out: list[QPointF] = []
    for mark in marks:
        bounds_dose = mark.way in ("left", "right")
        place = QPointF(at(mark.gy, 0.0).x(), area.top() + ROW_PX / 2 if bounds_dose else area.bottom() - ROW_PX / 2)
        while any(abs(place.x() - p.x()) < ROW_PX and abs(place.y() - p.y()) < ROW_PX for p in out):
            place.setY(place.y() + (ROW_PX if bounds_dose else -ROW_PX))
        out.append(place)
    return out


def draw_marks(painter: QPainter, shown: Sequence[tuple[Mark, QPointF, QColor]], stems: QRectF | None) -> None:
    """Draw goals; in `stems`, the area of the plot, also each dose: a limit over the whole height, a volume at the foot."""
    for mark, place, ink in shown if stems is not None else ():
        assert stems is not None
        painter.setPen(QPen(QColor(ink.red(), ink.green(), ink.blue(), 150), 1, Qt.PenStyle.DashLine))
        top = stems.top() if mark.way in ("left", "right") else min(place.y(), stems.bottom() - stems.height() / 4)
        painter.drawLine(QPointF(place.x(), top), QPointF(place.x(), stems.bottom()))
    for mark, place, ink in shown:
        draw_mark(painter, place, mark, ink)


def draw_mark(painter: QPainter, at: QPointF, mark: Mark, ink: QColor) -> None:
    """Draw a goal as an arrow head whose flat side is the limit; filled when missed, so that it calls."""
    s = MARK_PX
    tip = {"left": (-s, 0), "right": (s, 0), "up": (0, -s), "down": (0, s)}[mark.way]
    base = (0.0, s * 0.7) if tip[1] == 0 else (s * 0.7, 0.0)
    painter.setPen(QPen(ink, 1.4))
    painter.setBrush(ink if mark.state == "missed" else colour("panel"))
    painter.drawPolygon(QPolygonF([at + QPointF(*tip), at + QPointF(*base), at - QPointF(*base)]))


def draw_over(
    painter: QPainter, area: QRectF, drafts: tuple[str, ...], headline: Callable[[QFontMetricsF, float], str]
) -> None:
    """Write over the plot what is drawn: two drafts, or what the headline says."""
    if len(drafts) == 2:
        draw_legend(painter, area, *drafts)
        return
    painter.setFont(tabular(painter.font(), SMALL_PX, strong=True))
    painter.setPen(colour("text"))
    row = QRectF(area.left(), area.top() - LEGEND_PX - 4, area.width(), LEGEND_PX)
    painter.drawText(row, Qt.AlignmentFlag.AlignCenter, headline(QFontMetricsF(painter.font()), area.width()))


def draw_legend(painter: QPainter, area: QRectF, solid: str, dashed: str) -> None:
    """Write over the plot which draft has the unbroken and which the dashed curves."""
    painter.setFont(tabular(painter.font(), SMALL_PX))
    metrics = QFontMetricsF(painter.font())
    line_px, gap_px = 22.0, 5.0
    room = area.width() - 2 * line_px - 3 * gap_px
    wanted = [metrics.horizontalAdvance(name) + 1 for name in (solid, dashed)]
    at = QPointF(area.left(), area.top() - LEGEND_PX / 2 - 2)
    for i, (name, style) in enumerate(((solid, Qt.PenStyle.SolidLine), (dashed, Qt.PenStyle.DashLine))):
        # The longer name gives way, the shorter one only where both are too long.
        width = min(wanted[i], max(room / 2, room - wanted[1 - i]))
        painter.setPen(QPen(colour("text"), 1.4, style))
        painter.drawLine(at, at + QPointF(line_px, 0))
        at += QPointF(line_px + gap_px, 0)
        painter.drawText(
            at + QPointF(0, metrics.ascent() / 2 - 1), metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, width)
        )
        at += QPointF(width + 2 * gap_px, 0)


def draw_names(painter: QPainter, area: QRectF, names: Sequence[tuple[str, QColor]], width: float) -> None:
    """Write beside the plot whose colour is which, as many as there is room for."""
    painter.setFont(tabular(painter.font(), SMALL_PX))
    metrics = QFontMetricsF(painter.font())
    row, left = metrics.height(), area.right() + 10
    for i, (name, ink) in enumerate(names[: max(0, int((area.height() - 8) / row))]):
        y = area.top() + 2 + (i + 0.5) * row
        painter.setPen(QPen(ink, 2.4))
        painter.drawLine(QPointF(left, y), QPointF(left + 12, y))
        painter.setPen(colour("text"))
        words = metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, width - 32)  # names differ at their end
        painter.drawText(QPointF(left + 18, y + metrics.ascent() / 2 - 1), words)


def draw_old(painter: QPainter, area: QRectF, words: str) -> None:
    """Hatch the plot and write over it what changed since."""
    painter.fillRect(area, QBrush(QColor(colour("warn", 70)), Qt.BrushStyle.BDiagPattern))
    painter.setFont(tabular(painter.font(), SMALL_PX, strong=True))
    metrics = QFontMetricsF(painter.font())
    text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, area.width() - 20)
    box = QRectF(
        area.left() + 6, area.bottom() - metrics.height() - 10, metrics.horizontalAdvance(text) + 12, metrics.height() + 4
    )
    painter.fillRect(box, colour("panel", 230))
    painter.setPen(colour("warn"))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def draw_words(painter: QPainter, area: QRectF, at: QPointF, text: str) -> None:
    """Write lines of text into a box beside a place, inside the area."""
    painter.setFont(tabular(painter.font(), SMALL_PX))
    metrics = QFontMetricsF(painter.font())
    flags = Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
    room = metrics.boundingRect(QRectF(0, 0, area.width() - 14, 1000), int(flags), text)
    box = QRectF(0, 0, room.width() + 14, room.height() + 6)
    box.moveBottomLeft(at + QPointF(10, -10))
    box.moveLeft(max(area.left(), min(box.left(), area.right() - box.width())))
    box.moveTop(max(box.top(), area.top()))
    painter.setPen(QPen(colour("line"), 1))
    painter.setBrush(colour("raised"))
    painter.drawRoundedRect(box, 3, 3)
    painter.setPen(colour("text"))
    painter.drawText(box.adjusted(7, 3, -6, -3), int(flags), text)
