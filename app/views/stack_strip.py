"""The stack strip: the patient from head to foot, one row a slice, each volume a column as wide as its area there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPixmap, QWheelEvent
from PySide6.QtWidgets import QToolTip, QWidget

from app.core.painting import painting
from app.core.tokens import colour
from app.core.workspace import Workspace
from app.views.plane import plane_count, plane_position
from engine.volumes.volume import Volume

LANE_PX, ACTIVE_LANE_PX, SHADE_PX, SEEN_PX, EDGE_PX, MARK_PX = 7.0, 16.0, 12.0, 8.0, 6.0, 2.0
MOST_PX = 170.0
LEAST_BAR = 0.15  # of a lane; of a narrow one a pixel, since less than that is not painted at all
# Room is made for so many more lanes at once, or the pictures beside would move whenever a volume comes or goes.
LANES_AT_ONCE = 4

Bars = tuple[list[QRectF], list[QRectF]]  # of the slices, and of the marks


class StackStrip(QWidget):
    """Shows every slice of every volume at a glance; a click or drag goes to a slice.

    ``set_coverage(rows)`` shades the rows of the target by its lowest dose (D98) there; ``set_seen(planes)`` marks rows
    that have been looked at; ``set_marks(marks)`` marks the slices of a volume on which something is found.
    """

    def __init__(self, workspace: Workspace, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._workspace = workspace
        self._shade: dict[int, float] = {}
        self._seen: frozenset[int] | None = None
        self._marks: dict[str, list[tuple[tuple[int, ...], str]]] = {}
        self._picture: QPixmap | None = None
        self._place: tuple[Any, ...] = ()
        self._key: tuple[Any, ...] = ()
        self._columns: dict[tuple[str, float], tuple[Any, Any, Any, Bars]] = {}
        self._drawn: dict[str, tuple[Bars, tuple[int, int, int]]] = {}
        self._where: dict[str, tuple[float, float]] = {}
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Stack strip"))
        self.setAccessibleDescription(self.tr("All slices from head to foot; arrow keys walk them"))
        workspace.case_changed.connect(self._look_again)
        workspace.active_changed.connect(self._look_again)
        workspace.shown_changed.connect(self._look_again)
        workspace.cursor_changed.connect(lambda _: self.update())
        self._look_again()

    def set_coverage(self, rows: Mapping[int, float] | None) -> None:
        """Shade rows by the share of the prescription that 98 percent of the target gets there.

        Parameters
        ----------
        rows : plane -> D98 of the slice over the prescribed dose (1.0 = exactly the prescription); None or {}: no column
        """
        self._shade = dict(rows or {})
        self._drop()

    def set_seen(self, planes: Iterable[int] | None) -> None:
        """Mark the planes that have been looked at; None: no marks at all."""
        self._seen = None if planes is None else frozenset(planes)
        self._drop()

    def set_marks(self, marks: Mapping[str, Iterable[tuple[tuple[int, ...], str]]]) -> None:
        """Mark what is found: key of a volume -> (planes, sentence); the sentences are told with the area."""
        new = {key: list(found) for key, found in marks.items()}
        if new != self._marks:
            self._marks = new
            self._drop()

    # geometry

    def _volumes(self) -> list[Volume]:
        case = self._workspace.case
        return [v for v in case.volumes if v.key not in self._workspace.hidden] if case else []

    def _lanes(self) -> list[tuple[Volume, float, float]]:
        """Return (volume, left, width) of each column."""
        active = self._workspace.volume
        left, lane, _ = self._room()
        out = []
        for v in self._volumes():
            width = ACTIVE_LANE_PX if v is active else lane
            out.append((v, left, width))
            left += width + 1
        return out

    def _room(self) -> tuple[float, float, float]:
        """Return where the first lane begins, how wide one is, and where the room for all of them ends."""
        places = LANES_AT_ONCE * -(-len(self._volumes()) // LANES_AT_ONCE)
        left = EDGE_PX + (SEEN_PX if self._seen is not None else 0)
        room = MOST_PX - left - SHADE_PX - ACTIVE_LANE_PX
        lane = min(LANE_PX, max(2.0, room / max(1, places) - 1))
        return left, lane, left + places * (lane + 1) + ACTIVE_LANE_PX - lane

    def sizeHint(self) -> QSize:
        right = self._room()[2] if self._volumes() else EDGE_PX + 24
        # The lane of the dose is there before the dose is, or the pictures would move under the hand when it comes.
        shade = SHADE_PX + 4 if self._workspace.case is not None else 0
        return QSize(int(max(44.0, right + EDGE_PX + shade)), 200)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.sizeHint().width(), 60)

    def _count(self) -> int:
        case = self._workspace.case
        return plane_count("z", case.image.grid) if case else 0

    def _row(self, plane: float) -> float:
        """Return the upper edge of a plane's row; the highest plane (head) is on top."""
        return EDGE_PX + (self._count() - 1 - plane) * (self.height() - 2 * EDGE_PX) / max(1, self._count())

    def plane_under(self, y: float) -> int:
        """Return the plane at a height of the strip."""
        n = self._count()
        k = int((y - EDGE_PX) / max(1.0, self.height() - 2 * EDGE_PX) * n)
        return min(max(n - 1 - k, 0), n - 1)

    # painting

    def _look_again(self, *_: Any) -> None:
        case = self._workspace.case
        active = self._workspace.volume
        # The values themselves are kept in the key: an id alone could be used again after the old value is gone.
        key = (case.image if case else None, active.key if active else "",
               [(v.key, v.coverage, v.colour) for v in self._volumes()])  # fmt: skip
        same = self._key and key[:2] == self._key[:2] and len(key[2]) == len(self._key[2])
        if same and all(a[1] is b[1] and a[0] == b[0] and a[2] == b[2] for a, b in zip(key[2], self._key[2])):
            return
        self._key = key
        self._drop()

    def _drop(self) -> None:
        wide = self.sizeHint().width()
        if wide != self.width():
            self.updateGeometry()
            self.setFixedWidth(wide)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.fillRect(self.rect(), colour("stage_shade"))
            if self._workspace.case is None:
                return
            painter.drawPixmap(0, 0, self._paint_columns())
            self._paint_position(painter)
            if self.hasFocus():
                painter.setPen(colour("stage_accent"))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _paint_columns(self) -> QPixmap:
        """Return the picture of all columns; of one that is kept, only the columns that changed are painted again."""
        ratio, lanes = self.devicePixelRatioF(), self._lanes()
        inks = colour("stage_text").rgba(), colour("stage_accent").rgba()
        where = {v.key: (x, w) for v, x, w in lanes}
        place = (self.size(), ratio, self._count(), inks, self._seen, self._shade)
        stays = all(where.get(key) == at for key, at in self._where.items())
        row = max(1.0, (self.height() - 2 * EDGE_PX) / max(1, self._count()))
        gap = 1.0 if row >= 9 else 0.0
        if self._picture is None or self._place != place or not stays:
            self._place, self._drawn = place, {}
            self._picture = QPixmap(int(self.width() * ratio), int(self.height() * ratio))
            self._picture.setDevicePixelRatio(ratio)
            self._picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(self._picture)
        painter.setPen(Qt.PenStyle.NoPen)
        if not self._drawn:
            painter.setBrush(colour("stage_accent"))
            for k in self._seen or ():
                painter.drawRect(QRectF(EDGE_PX, self._row(k), 3, row))
            left = self.width() - EDGE_PX - SHADE_PX
            for k, share in self._shade.items():
                painter.fillRect(QRectF(left, self._row(k), SHADE_PX, row), shade(share))
        self._where = where
        for volume, left, width in lanes:
            what = (self._bars(volume, row - gap, max(LEAST_BAR, 1 / width)), volume.colour)
            drawn = self._drawn.get(volume.key)
            if drawn is not None and drawn[0] is what[0] and drawn[1] == what[1]:
                continue
            self._drawn[volume.key] = what
            painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Source)
            painter.fillRect(QRectF(left, EDGE_PX, width, self.height() - 2 * EDGE_PX), QColor(255, 255, 255, 10))
            painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)
            (bars, marks), ink = what
            painter.translate(left, 0)
            painter.save()
            painter.scale(width, 1)
            painter.setBrush(QColor(*ink))
            painter.drawRects(bars)
            painter.restore()
            painter.setBrush(colour("stage_text"))
            painter.drawRects(marks)
            painter.translate(-left, 0)
        painter.end()
        return self._picture

    def _bars(self, volume: Volume, high: float, least: float) -> Bars:
        """Return bars, in a lane from 0 to 1, and marks, from its left, of a volume's slices.

        They are kept: a stroke changes one volume of many, another volume only where they stand.
        """
        place = (high, self.height(), self._count())
        found = self._marks.get(volume.key, [])
        kept = self._columns.get((volume.key, least))
        if kept is None or kept[0] is not volume.coverage or kept[1:3] != (place, found):
            areas = volume.coverage.areas_mm2
            largest = max((a for _, a in areas), default=0.0)
            top, per = self._row(0), self._row(0) - self._row(1)
            bars = []
            for k, area in areas:
                wide = max(least, area / largest)
                bars.append(QRectF((1 - wide) / 2, top - k * per, wide, high))
            planes = sorted({k for planes, _ in found for k in planes})
            marks = [QRectF(0, self._row(k), MARK_PX, max(MARK_PX, high)) for k in planes]
            kept = self._columns[volume.key, least] = (volume.coverage, place, found, (bars, marks))
        return kept[3]

    def _paint_position(self, painter: QPainter) -> None:
        case = self._workspace.case
        assert case is not None
        k = case.image.grid.plane_at(self._workspace.cursor_mm[2])
        row = max(1.0, (self.height() - 2 * EDGE_PX) / max(1, self._count()))
        y = self._row(k) + row / 2
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(colour("stage_text"))
        painter.drawLine(QPointF(0, y), QPointF(self.width(), y))
        painter.setBrush(colour("stage_text"))
        right = float(self.width())
        painter.drawPolygon([QPointF(right, y - 5), QPointF(right, y + 5), QPointF(right - 5, y)])

    # the hand

    def _go(self, plane: int) -> None:
        case = self._workspace.case
        if case is not None:
            x, y, _ = self._workspace.cursor_mm
            self._workspace.set_cursor((x, y, plane_position("z", case.image.grid, plane)))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        self.mouseMoveEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if event.buttons() & Qt.MouseButton.LeftButton and self._count():
            self._go(self.plane_under(event.position().y()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        self._step(1 if event.angleDelta().y() > 0 else -1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = Qt.Key
        steps = {keys.Key_Up: 1, keys.Key_Down: -1, keys.Key_PageUp: 10, keys.Key_PageDown: -10}
        if event.key() in steps:
            self._step(steps[event.key()])
        else:
            super().keyPressEvent(event)

    def _step(self, steps: int) -> None:
        case = self._workspace.case
        if case is not None:
            k = case.image.grid.plane_at(self._workspace.cursor_mm[2]) + steps
            self._go(min(max(k, 0), self._count() - 1))

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and self._count():
            QToolTip.showText(event.globalPos(), self.words_at(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def words_at(self, position: QPointF) -> str:
        """Return what lies at a place of the strip, in words."""
        case = self._workspace.case
        assert case is not None
        k = self.plane_under(position.y())
        z = plane_position("z", case.image.grid, k)
        lines = [self.tr("slice {} of {}, z {:.1f} mm").format(k + 1, self._count(), z)]
        for volume, left, width in self._lanes():
            area = dict(volume.coverage.areas_mm2).get(k, 0.0)
            if left <= position.x() <= left + width:
                lines.append(self.tr("{}: {:.2f} cm\u00b2").format(volume.name, area / 100))
                lines += [words for planes, words in self._marks.get(volume.key, ()) if k in planes]
        if k in self._shade:
            lines.append(
                self.tr("lowest dose in the target (D98): {:.0f} % of the prescription").format(100 * self._shade[k])
            )
        return "\n".join(lines)


def shade(share: float) -> QColor:
    """Return the shade of a row: bright where the prescription is reached, darker the more is missing."""
    lack = min(max((1.0 - share) / 0.2, 0.0), 1.0)
    return QColor.fromHsvF(0.13, 0.25 + 0.45 * lack, 0.95 - 0.6 * lack)
