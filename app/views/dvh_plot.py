"""Cumulative dose-volume histograms, drawn anew within the frame in which a weight moves."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QWidget

from app.core.painting import painting
from app.core.plan_follow import PlanFollower
from app.core.tokens import SMALL_PX, colour, tabular
from app.views.dvh_curves import Curve, Mark, amount_at, curves, marks, nearest, round_top
from app.views.outline_paths import polygon

LEFT, RIGHT, TOP, BOTTOM = 46, 12, 10, 34
NEAR_PX = 14.0
NAMES, WIDE = 124, 460  # the names stand at the right only where there is room for them
OLD_OPACITY = 0.4


class DvhPlot(QWidget):
    """Shows the follower's DVHs, the ones before the last change as thin ghosts, goals as marks, and reads out values."""

    def __init__(self, follower: PlanFollower, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.follower, self.workspace = follower, follower.workspace
        self.in_cm3 = False
        self._curves: list[Curve] = []
        self._ghosts: list[Curve] = []
        self._ghost_of: Any = None
        self._marks: list[Mark] = []
        self._kept: tuple[Any, QPixmap] = (None, QPixmap())
        self._pointer: QPointF | None = None
        self._top_gy, self._step_gy = 1.0, 0.25
        self._top_amount, self._step_amount = 100.0, 20.0
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(220, 130)
        self.setAccessibleName(self.tr("Dose-volume histogram"))
        follower.now_changed.connect(self._take)
        follower.ghost_changed.connect(self._take)
        self.workspace.case_changed.connect(self._look)
        self.workspace.active_changed.connect(self.update)
        self.workspace.shown_changed.connect(self._again)
        self._take()

    def sizeHint(self) -> QSize:
        return QSize(420, 240)

    def set_in_cm3(self, in_cm3: bool) -> None:
        """Show the volume axis in cm3 instead of percent."""
        self.in_cm3, self._ghost_of = in_cm3, None
        self._take()

    def words_at(self, position: QPointF) -> str:
        """Return the read-out for a place: the nearest volume, dose and amount there; "" when no curve is near."""
        found = self._near(position)
        if found is None:
            return ""
        gy = self._gy(position.x())
        amount = amount_at(found, gy)
        unit = self.tr("cm³") if self.in_cm3 else "%"
        number = f"{amount:.3g}" if self.in_cm3 else f"{amount:.1f}"
        return self.tr("{0}: {1} {2} receives {3} Gy or more").format(self._name(found.key), number, unit, f"{gy:.1f}")

    # -- following -----------------------------------------------------------------------------------------------

    def _take(self, *_: object) -> None:
        now, ghost, hidden = self.follower.now, self.follower.ghost, self.workspace.hidden
        case = self.workspace.case
        hidden = hidden | {v.key for v in case.volumes if v.role in ("SUPPORT", "BOLUS")} if case else hidden
        self._curves = [c for c in curves(now, self.in_cm3) if c.key not in hidden] if now is not None else []
        if self._ghost_of is not ghost or not ghost:
            self._ghost_of, self._ghosts = ghost, curves(ghost, self.in_cm3) if ghost is not None else []
        self._marks = [m for m in marks(now, self.in_cm3) if m.key not in hidden] if now is not None else []
        self._ghosts = [c for c in self._ghosts if c.key not in hidden]
        shown = [*self._curves, *self._ghosts]
        self._top_gy, self._step_gy = round_top(1.02 * max((c.gy[-1] for c in shown), default=1.0))
        most = max((c.amount[0] for c in shown), default=100.0)
        self._top_amount, self._step_amount = round_top(most) if self.in_cm3 else (100.0, 20.0)
        self.update()

    def _again(self) -> None:
        self._ghost_of = None
        self._take()

    def _look(self, before: Any, after: Any) -> None:
        if before is None or after is None or before.volumes is not after.volumes:
            self._take()

    # -- drawing -------------------------------------------------------------------------------------------------

    def _right(self) -> int:
        return NAMES if self.width() >= WIDE else RIGHT

    def _area(self) -> QRectF:
        return QRectF(LEFT, TOP, max(10, self.width() - LEFT - self._right()), max(10, self.height() - TOP - BOTTOM))

    def _gy(self, x: float) -> float:
        a = self._area()
        return (x - a.left()) / a.width() * self._top_gy

    def _amount(self, y: float) -> float:
        a = self._area()
        return (a.bottom() - y) / a.height() * self._top_amount * 1.0

    def _at(self, gy: float, amount: float) -> QPointF:
        a = self._area()
        return QPointF(a.left() + gy / self._top_gy * a.width(), a.bottom() - amount / self._top_amount * a.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.follower.now is None:
                painter.fillRect(self.rect(), colour("panel"))
                self._teach(painter)
                return
            painter.drawPixmap(0, 0, self._ground())
            old = self.follower.is_old
            painter.save()
            painter.setClipRect(self._area().adjusted(-1, -3, 3, 1))
            active = self.workspace.volume
            near = self._near(self._pointer) if self._pointer is not None else None
            for curve in self._curves:
                strong = (active is not None and curve.key == active.key) or (near is not None and curve.key == near.key)
                # One pixel is the width Qt draws fastest; eleven wider lines cost as much as all isodose lines together.
                self._line(painter, curve, 2.6 if strong else 1.0, OLD_OPACITY if old else 1.0)
            painter.restore()
            for mark in self._marks:
                self._mark(painter, mark)
            if old:
                self._mark_old(painter)
            if self._pointer is not None and near is not None:
                self._read_out(painter, near)

    def _ground(self) -> QPixmap:
        """Return axes, names and ghosts as a picture: they stand still while a weight moves."""
        ratio, now = self.devicePixelRatioF(), self.follower.now
        names = tuple((c.key, self._name(c.key)) for c in self._curves)
        key = (
            self.size(), ratio, self._top_gy, self._top_amount, self.in_cm3, id(self._ghost_of), names, now.prescribed_gy,
            colour("panel").rgb(),
        )  # fmt: skip
        if self._kept[0] != key:
            made = QPixmap(int(self.width() * ratio), int(self.height() * ratio))
            made.setDevicePixelRatio(ratio)
            made.fill(colour("panel"))
            painter = QPainter(made)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._axes(painter)
            self._names(painter)
            painter.setClipRect(self._area().adjusted(-1, -3, 3, 1))
            for curve in self._ghosts:
                self._line(painter, curve, 1.0, 0.45)
            painter.end()
            self._kept = (key, made)
        return self._kept[1]

    def _line(self, painter: QPainter, curve: Curve, width: float, opacity: float) -> None:
        a = self._area()
        points = np.empty((len(curve.gy), 2))
        points[:, 0] = a.left() + curve.gy * (a.width() / self._top_gy)
        points[:, 1] = a.bottom() - curve.amount * (a.height() / self._top_amount)
        painter.setOpacity(opacity)
        painter.setPen(QPen(self._ink(curve.key), width))
        painter.drawPolyline(polygon(points))
        painter.setOpacity(1.0)

    def _quantity(self) -> str:
        draft = self.follower.shown_draft
        to_water = draft is not None and draft.report_to == "water"
        return self.tr("dose to water in Gy") if to_water else self.tr("dose to medium in Gy")

    def _axes(self, painter: QPainter) -> None:
        a = self._area()
        painter.setFont(tabular(self.font(), SMALL_PX))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        grid, words = QPen(colour("line"), 1), QPen(colour("quiet"), 1)
        middle = Qt.AlignmentFlag.AlignCenter
        for i in range(int(self._top_gy / self._step_gy + 1e-6) + 1):
            x = self._at(i * self._step_gy, 0).x()
            painter.setPen(grid)
            painter.drawLine(QPointF(x, a.top()), QPointF(x, a.bottom()))
            painter.setPen(words)
            painter.drawText(QRectF(x - 30, a.bottom() + 2, 60, 16), middle, f"{i * self._step_gy:g}")
        for i in range(int(self._top_amount / self._step_amount + 1e-6) + 1):
            y = self._at(0, i * self._step_amount).y()
            painter.setPen(grid)
            painter.drawLine(QPointF(a.left(), y), QPointF(a.right(), y))
            painter.setPen(words)
            side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(QRectF(0, y - 9, a.left() - 5, 18), side, f"{i * self._step_amount:g}")
        painter.drawText(QRectF(a.left(), a.bottom() + 16, a.width(), 16), middle, self._quantity())
        painter.save()
        painter.translate(11, a.center().y())
        painter.rotate(-90)
        unit = self.tr("volume in cm³") if self.in_cm3 else self.tr("volume in %")
        painter.drawText(QRectF(-a.height() / 2, -8, a.height(), 16), middle, unit)
        painter.restore()
        prescribed = self.follower.now.prescribed_gy
        if prescribed and prescribed <= self._top_gy:
            x = self._at(prescribed, 0).x()
            painter.setPen(QPen(colour("quiet"), 1, Qt.PenStyle.DashDotLine))
            painter.drawLine(QPointF(x, a.top()), QPointF(x, a.bottom()))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def _mark(self, painter: QPainter, mark: Mark) -> None:
        """Draw a goal as an arrow head whose flat side is the limit; filled when missed, so that it calls."""
        if mark.gy > self._top_gy or mark.amount > self._top_amount * 1.001:
            return
        at = self._at(mark.gy, mark.amount)
        s = 6.0
        tip = {"left": (-s, 0), "right": (s, 0), "up": (0, -s), "down": (0, s)}[mark.way]
        base = (0.0, s * 0.7) if tip[1] == 0 else (s * 0.7, 0.0)
        shape = QPolygonF([at + QPointF(*tip), at + QPointF(*base), at - QPointF(*base)])
        ink = self._ink(mark.key)
        painter.setPen(QPen(ink, 1.4))
        painter.setBrush(ink if mark.state == "missed" else colour("panel"))
        painter.drawPolygon(shape)

    def _names(self, painter: QPainter) -> None:
        a = self._area()
        painter.setFont(tabular(self.font(), SMALL_PX))
        metrics = QFontMetricsF(painter.font())
        row = metrics.height()
        room = max(0, int((a.height() - 8) / row))
        if self._right() == RIGHT or not room:
            return
        left = a.right() + 10
        for i, curve in enumerate(self._curves[:room]):
            y = a.top() + 2 + (i + 0.5) * row
            painter.setPen(QPen(self._ink(curve.key), 2.4))
            painter.drawLine(QPointF(left, y), QPointF(left + 12, y))
            painter.setPen(colour("text"))
            name = metrics.elidedText(self._name(curve.key), Qt.TextElideMode.ElideRight, NAMES - 32)
            painter.drawText(QPointF(left + 18, y + metrics.ascent() / 2 - 1), name)

    def _mark_old(self, painter: QPainter) -> None:
        a = self._area()
        painter.fillRect(a, QBrush(QColor(colour("warn", 70)), Qt.BrushStyle.BDiagPattern))
        painter.setFont(tabular(self.font(), SMALL_PX, strong=True))
        metrics = QFontMetricsF(painter.font())
        text = metrics.elidedText(
            self.tr("Before: {0}").format(self.follower.reason), Qt.TextElideMode.ElideRight, a.width() - 20
        )
        box = QRectF(
            a.left() + 6, a.bottom() - metrics.height() - 10, metrics.horizontalAdvance(text) + 12, metrics.height() + 4
        )
        painter.fillRect(box, colour("panel", 230))
        painter.setPen(colour("warn"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _read_out(self, painter: QPainter, near: Curve) -> None:
        assert self._pointer is not None
        a, gy = self._area(), self._gy(self._pointer.x())
        at = self._at(gy, amount_at(near, gy))
        painter.setPen(QPen(colour("quiet"), 1, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(at.x(), a.bottom()), at)
        painter.drawLine(QPointF(a.left(), at.y()), at)
        painter.setPen(QPen(colour("panel"), 1))
        painter.setBrush(self._ink(near.key))
        painter.drawEllipse(at, 4, 4)
        text = self.words_at(self._pointer)
        painter.setFont(tabular(self.font(), SMALL_PX))
        metrics = QFontMetricsF(painter.font())
        box = QRectF(0, 0, metrics.horizontalAdvance(text) + 12, metrics.height() + 6)
        box.moveBottomLeft(at + QPointF(10, -10))
        box.moveLeft(min(max(box.left(), a.left()), max(a.left(), a.right() - box.width())))
        box.moveTop(max(box.top(), a.top()))
        painter.setPen(QPen(colour("line"), 1))
        painter.setBrush(colour("raised"))
        painter.drawRoundedRect(box, 3, 3)
        painter.setPen(colour("text"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _teach(self, painter: QPainter) -> None:
        painter.setPen(colour("quiet"))
        words = self.follower.problem or self.tr("The dose-volume histogram appears here once the beams have a dose.")
        painter.drawText(
            self.rect().adjusted(24, 8, -24, -8), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, words
        )

    # -- the hand ------------------------------------------------------------------------------------------------

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointer = event.position()
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        near = self._near(event.position())
        if near is not None:
            self.workspace.activate(volume=near.key)

    def leaveEvent(self, event: QEvent) -> None:
        self._pointer = None
        self.update()

    # -- parts ---------------------------------------------------------------------------------------------------

    def _near(self, position: QPointF) -> Curve | None:
        a = self._area()
        per_px = self._top_gy / a.width(), self._top_amount / a.height()
        found = nearest(self._curves, self._gy(position.x()), self._amount(position.y()), *per_px)
        return found[0] if found is not None and found[1] <= NEAR_PX else None

    def _ink(self, key: str) -> QColor:
        volume = self.workspace.case.volume(key) if self.workspace.case else None
        ink = QColor(*volume.colour) if volume is not None else colour("quiet")
        return ink.darker(135) if colour("panel").lightness() > 160 else ink

    def _name(self, key: str) -> str:
        volume = self.workspace.case.volume(key) if self.workspace.case else None
        return volume.name if volume is not None else key
