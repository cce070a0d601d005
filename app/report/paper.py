"""Colours, fonts and small drawing helps that pictures and pages share."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QBuffer, QIODevice, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen

from app.core.name_lines import Width, fitted

INK = QColor(28, 32, 36)
QUIET = QColor(95, 102, 110)
RULE = QColor(205, 210, 215)
PAPER = QColor(255, 255, 255)
DARK = QColor(14, 16, 18)
LIGHT = QColor(232, 236, 240)
STATE_COLOURS = {
    "met": QColor(0, 110, 85),
    "within tolerance": QColor(150, 95, 0),
    "missed": QColor(176, 32, 52),
    "not judged": QUIET,
}
# Sizes of type and heights of rows, largest first: of a legend, of the ledger.
Rows = tuple[tuple[float, float], ...]
KEY: Rows = tuple((px, 1.5 * px) for px in (12.0, 11.0, 10.0, 9.0, 8.0, 7.0))
LEDGER: Rows = ((13.0, 26.0), (12.0, 23.0), (11.0, 20.0), (10.0, 17.0), (9.0, 15.0), (8.0, 13.0), (7.0, 11.0))
STATE_SHAPES = {"met": "●", "within tolerance": "◐", "missed": "▲", "not judged": "–"}


def font(px: float, bold: bool = False) -> QFont:
    """Return the system's font at a pixel size."""
    out = QFont()
    out.setPixelSize(max(6, round(px)))
    out.setBold(bold)
    return out


def canvas(width: int, height: int, fill: QColor) -> QImage:
    """Return an empty picture."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(fill)
    return image


def painter_on(image: QImage) -> QPainter:
    """Return a painter with smooth edges."""
    painter = QPainter(image)
    painter.setRenderHints(
        QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing | QPainter.RenderHint.SmoothPixmapTransform
    )
    return painter


def text_with_halo(painter: QPainter, at: QPointF, text: str, colour: QColor, halo: QColor) -> None:
    """Write centred text that stays legible on anything."""
    box = QFontMetricsF(painter.font()).boundingRect(text).adjusted(-3, -1, 3, 1)
    box.moveCenter(at)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(halo)
    painter.drawRoundedRect(box, 3, 3)
    painter.setPen(colour)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), text)


def scale_bar(painter: QPainter, px_per_mm: float, box: QRectF) -> None:
    """Draw 50 mm at the lower left of a box, legible on bone and couch."""
    start = QPointF(box.left() + 12, box.bottom() - 12)
    end = start + QPointF(50.0 * px_per_mm, 0)
    for ink, thick in ((DARK, 4.0), (LIGHT, 2.0)):
        painter.setPen(QPen(ink, thick))
        painter.drawLine(start, end)
    painter.setFont(font(11))
    half = QFontMetricsF(painter.font()).horizontalAdvance("50 mm") / 2
    text_with_halo(painter, start + QPointF(half, -12), "50 mm", LIGHT, QColor(14, 16, 18, 190))


def heading(painter: QPainter, width: int, title: str, place: str, colour: QColor, quiet: QColor) -> float:
    """Write title and place at the top left; returns the height used."""
    size = next((s for s in range(17, 10, -1) if QFontMetricsF(font(s, True)).horizontalAdvance(title) <= width - 28), 10)
    painter.setFont(font(size, bold=True))
    painter.setPen(colour)
    metrics = QFontMetricsF(painter.font())
    painter.drawText(QPointF(14, 26), metrics.elidedText(title, Qt.TextElideMode.ElideRight, width - 28))
    painter.setFont(font(12))
    painter.setPen(quiet)
    painter.drawText(QPointF(14, 45), place)
    return 54.0


def legend_px(painter: QPainter, names: Iterable[str], lead_px: float, least_px: float, most_px: float) -> float:
    """Return how wide a legend is that writes names in full in the painter's font, within bounds."""
    longest = max((QFontMetricsF(painter.font()).horizontalAdvance(name) for name in names), default=0.0)
    return min(max(least_px, longest + lead_px), most_px)


class Legend:
    """Names below each other, each written whole: on several lines where it is long, smaller where there are many.

    Parameters
    ----------
    room_px : width for a name
    high_px : height for all of them
    rows : sizes of type, the first that finds room is taken, and the height of a row of one line
    """

    def __init__(self, names: Iterable[str], room_px: float, high_px: float, rows: Rows = KEY) -> None:
        self._rows = dict(rows)
        self.px, self._lines = fitted(tuple(names), room_px, self._height, _width_at, high_px, tuple(self._rows))
        self.row_px = self._rows[self.px]

    @property
    def base_px(self) -> float:
        """Where the letters of a row's first line stand, below the row's beginning."""
        return (self.row_px + 0.72 * self.px) / 2

    def write(self, painter: QPainter, at: QPointF, index: int) -> float:
        """Write a name in a row that begins at `at`; returns the height of that row."""
        painter.setFont(font(self.px))
        for n, line in enumerate(self._lines[index]):
            painter.drawText(at + QPointF(0, self.base_px + n * (self.px + 2)), line)
        return self._height(self.px, [self._lines[index]])

    def _height(self, px: float, lines: list[list[str]]) -> float:
        return sum(self._rows[px] + (len(own) - 1) * (px + 2) for own in lines)


def _width_at(px: float) -> Width:
    return QFontMetricsF(font(px)).horizontalAdvance


def write_name(painter: QPainter, at: QPointF, name: str, room_px: float) -> None:
    """Write words; those that have no room lose their middle, because they differ at their ends."""
    metrics = QFontMetricsF(painter.font())
    painter.drawText(at, metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, room_px))


def png(image: QImage) -> bytes:
    """Return a picture as PNG."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())


def clip_to(painter: QPainter, box: QRectF) -> None:
    """Keep drawing inside a box."""
    painter.setClipRect(box)
