"""Dose-volume histograms, cumulative or differential, drawn anew within the frame in which a weight moves."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QToolTip, QWidget

from app.core.painting import painting
from app.core.plan_follow import PlanFollower
from app.core.tokens import SMALL_PX, colour, tabular
from app.views.dvh_axes import LEFT_PX, draw_axes, left_px
from app.views.dvh_curves import Curve, Mark, amount_at, curves, marks, nearest, round_top
from app.views.dvh_drawing import (
    LEGEND_PX,
    draw_marks,
    draw_names,
    draw_old,
    draw_over,
    draw_words,
    mark_places,
)
from app.views.dvh_words import DvhWords
from app.views.outline_paths import polygon

RIGHT, TOP, BOTTOM = 12, 10, 34
NEAR_PX = 14.0
BESIDE_NAME = 34  # its line and the gaps
NAMES, WIDE = 124, 460  # the names stand at the right only where there is room for them
OLD_OPACITY = 0.4


class DvhPlot(QWidget):
    """Shows the follower's DVHs, the ones before the last change as thin ghosts, goals as marks, and reads out values."""

    def __init__(self, follower: PlanFollower, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.follower, self.workspace = follower, follower.workspace
        self.in_cm3, self.in_percent, self.differential = False, False, False
        self._curves: list[Curve] = []
        self._ghosts: list[Curve] = []
        self._ghost_of: Any = None
        self._marks: list[Mark] = []
        self.other: Any = None
        self._kept: tuple[Any, QPixmap] = (None, QPixmap())
        self._pointer: QPointF | None = None
        self._top_gy, self._step_gy = 1.0, 0.25
        self._top_amount, self._step_amount = 100.0, 20.0
        self._left, self._longest_px = LEFT_PX, 0
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(200, 130)
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
        self.in_cm3 = in_cm3
        self._again()

    def set_in_percent(self, in_percent: bool) -> None:
        """Show the dose axis in percent of the prescription, as long as there is one, instead of Gy."""
        self.in_percent = in_percent
        self._again()

    def set_differential(self, differential: bool) -> None:
        """Show how much volume lies at each dose instead of how much receives it or more."""
        self.differential = differential
        self._again()

    def lay_beside(self, other: Any) -> None:
        """Draw the draft of an OtherPlan as well, dashed and in place of the ghosts, whenever it has a dose."""
        self.other = other
        other.changed.connect(self._again)

    def _drafts(self) -> tuple[str, str] | tuple[()]:
        """Return the names of the two drafts that are drawn, () while there is one."""
        mine, other = self.follower.shown_draft, self.other
        return (mine.name, other.shown_draft.name) if other is not None and _with_dose(other.now) and mine else ()

    @property
    def prescribed_gy(self) -> float:
        """The dose that is 100 % on the dose axis, or 0 while that axis is in Gy."""
        now = self.follower.now
        return float(now.prescribed_gy or 0.0) if self.in_percent and now is not None else 0.0

    def words_at(self, position: QPointF) -> str:
        """Return the read-out of the curve near a place: amount at its dose, dose at its amount; "" if none is near."""
        found = self._near(position)
        now = self.follower.now
        if found is None or now is None:
            return ""
        gy, amount = max(0.0, self._gy(position.x())), max(0.0, self._amount(position.y()))
        plans = self._named(now, self.other.now if self.other is not None else None)
        if self.differential:
            drawn = self._named(self._curves, self._ghosts)
            densities = [(name, amount_at(c, gy)) for name, curves in drawn for c in curves if c.key == found.key]
            return self._words(found.key).density_at(densities, gy)
        dvhs = [(name, plan.dvhs[found.key]) for name, plan in plans if found.key in plan.dvhs]
        return self._words(found.key).at(dvhs, gy, amount)

    def mark_words(self, position: QPointF) -> str:
        """Return the words of the goal whose mark is under a place, "" without one."""
        for mark, place in zip(self._marks, self._mark_places()):
            off = place - position
            if max(abs(off.x()), abs(off.y())) <= NEAR_PX / 2:
                return self._words(mark.key).goal(mark)
        return ""

    def _named(self, mine: Any, other: Any) -> list[tuple[str, Any]]:
        """Return what the drawn draft has, and with its name what the one beside has, if that is drawn."""
        drafts = self._drafts()
        return list(zip(drafts, (mine, other))) if drafts else [("", mine)]

    def _words(self, key: str) -> DvhWords:
        return DvhWords(self._name(key), self.in_cm3, self.prescribed_gy, *self.unit(key))

    def headline(self, metrics: QFontMetricsF | None = None, room: float = 0.0) -> str:
        """Return what stands over the plot, "" for nothing; cut to a room in pixels if asked with metrics."""
        return ""

    def unit(self, key: str) -> tuple[str, str]:
        """Return what stands behind a dose of a volume, and what else is to be said of it."""
        return self.tr("Gy"), ""

    # -- following -----------------------------------------------------------------------------------------------

    def _take(self, *_: object) -> None:
        now, hidden = _with_dose(self.follower.now), self.workspace.hidden
        ghost = self.other.now if self._drafts() else _with_dose(self.follower.ghost)
        case = self.workspace.case
        hidden = hidden | {v.key for v in case.volumes if v.role in ("SUPPORT", "BOLUS")} if case else hidden
        drawn = self.in_cm3, self.differential
        self._curves = [c for c in curves(now, *drawn) if c.key not in hidden] if now is not None else []
        if self._ghost_of is not ghost or not ghost:
            self._ghost_of, self._ghosts = ghost, curves(ghost, *drawn) if ghost is not None else []
        self._marks = [m for m in marks(now, *drawn) if m.key not in hidden] if now is not None else []
        self._ghosts = [c for c in self._ghosts if c.key not in hidden]
        shown = [*self._curves, *self._ghosts]
        unit_gy = self.prescribed_gy / 100.0 or 1.0
        top, step = round_top(1.02 * max((c.gy[-1] for c in shown), default=1.0) / unit_gy)
        self._top_gy, self._step_gy = top * unit_gy, step * unit_gy
        most = max((c.amount.max() for c in shown), default=100.0)
        whole = not self.in_cm3 and not self.differential
        self._top_amount, self._step_amount = (100.0, 20.0) if whole else round_top(most)
        metrics = QFontMetricsF(tabular(self.font(), SMALL_PX))
        self._left = left_px((self._top_amount, self._step_amount), metrics)
        longest = max((metrics.horizontalAdvance(self._name(c.key)) for c in self._curves), default=0.0)
        self._longest_px = int(longest) + BESIDE_NAME
        self.update()

    def _again(self) -> None:
        self._ghost_of = None
        self._take()

    def _look(self, before: Any, after: Any) -> None:
        if before is None or after is None or before.volumes is not after.volumes:
            self._take()

    # -- drawing -------------------------------------------------------------------------------------------------

    def _right(self) -> int:
        """Room for the names: all of the longest where the plot is wide, a quarter of it at most."""
        return max(NAMES, min(self._longest_px, self.width() // 4)) if self.width() >= WIDE else RIGHT

    def _area(self) -> QRectF:
        top = TOP + LEGEND_PX if self._drafts() or self.headline() else TOP
        wide = self.width() - self._left - self._right()
        return QRectF(self._left, top, max(10, wide), max(10, self.height() - top - BOTTOM))

    def _gy(self, x: float) -> float:
        a = self._area()
        return (x - a.left()) / a.width() * self._top_gy

    def _amount(self, y: float) -> float:
        a = self._area()
        return (a.bottom() - y) / a.height() * self._top_amount * 1.0

    def _at(self, gy: float, amount: float) -> QPointF:
        a = self._area()
        return QPointF(a.left() + gy / self._top_gy * a.width(), a.bottom() - amount / self._top_amount * a.height())

    def _mark_places(self) -> list[QPointF]:
        return mark_places(self._marks, self._area(), self._at, self.differential)

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.empty_words():
                painter.fillRect(self.rect(), colour("panel"))
                painter.setPen(colour("quiet"))
                middle = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
                painter.drawText(self.rect().adjusted(24, 8, -24, -8), middle, self.empty_words())
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
            inside = [
                (mark, place, self._ink(mark.key))
                for mark, place in zip(self._marks, self._mark_places())
                if mark.gy <= self._top_gy and mark.amount <= self._top_amount * 1.001
            ]
            draw_marks(painter, inside, self._area() if self.differential else None)
            if old:
                draw_old(painter, self._area(), self.tr("Before: {0}").format(self.follower.reason))
            if self._pointer is not None and near is not None:
                self._read_out(painter, near)

    def _ground(self) -> QPixmap:
        """Return axes, names and ghosts as a picture: they stand still while a weight moves."""
        ratio, now = self.devicePixelRatioF(), self.follower.now
        names, drafts = tuple((c.key, self._name(c.key)) for c in self._curves), self._drafts()
        key = (
            self.size(), ratio, self._top_gy, self._top_amount, self.in_cm3, self.in_percent,
            self.differential, id(self._ghost_of), names, now.prescribed_gy,
            colour("panel").rgb(), drafts, self.headline(), self._quantity(),
        )  # fmt: skip
        if self._kept[0] != key:
            made = QPixmap(int(self.width() * ratio), int(self.height() * ratio))
            made.setDevicePixelRatio(ratio)
            made.fill(colour("panel"))
            painter = QPainter(made)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._axes(painter)
            if self._right() != RIGHT:
                draw_names(painter, self._area(), [(name, self._ink(k)) for k, name in names], self._right())
            draw_over(painter, self._area(), drafts, self.headline)
            painter.setClipRect(self._area().adjusted(-1, -3, 3, 1))
            for curve in self._ghosts:
                self._line(painter, curve, 1.0, 1.0 if drafts else 0.45, bool(drafts))
            painter.end()
            self._kept = (key, made)
        return self._kept[1]

    def _line(self, painter: QPainter, curve: Curve, width: float, opacity: float, dashed: bool = False) -> None:
        a = self._area()
        points = np.empty((len(curve.gy), 2))
        points[:, 0] = a.left() + curve.gy * (a.width() / self._top_gy)
        points[:, 1] = a.bottom() - curve.amount * (a.height() / self._top_amount)
        painter.setOpacity(opacity)
        painter.setPen(QPen(self._ink(curve.key), width, Qt.PenStyle.DashLine if dashed else Qt.PenStyle.SolidLine))
        painter.drawPolyline(polygon(points))
        painter.setOpacity(1.0)

    def _quantity(self) -> str:
        draft = self.follower.shown_draft
        to_water = draft is not None and draft.report_to == "water"
        if self.prescribed_gy:
            percent = self.tr("dose to water in % of prescription"), self.tr("dose to medium in % of prescription")
            return percent[0] if to_water else percent[1]
        return self.tr("dose to water in Gy") if to_water else self.tr("dose to medium in Gy")

    def _axes(self, painter: QPainter) -> None:
        a, unit_gy = self._area(), self.prescribed_gy / 100.0 or 1.0
        painter.setFont(tabular(self.font(), SMALL_PX))
        unit = self.tr("volume in cm³") if self.in_cm3 else self.tr("volume in %")
        if self.differential:
            unit = self.tr("cm³ per Gy") if self.in_cm3 else self.tr("% of volume per Gy")
        dose = self._top_gy / unit_gy, self._step_gy / unit_gy
        draw_axes(painter, a, self.width() - 2.0, dose, (self._top_amount, self._step_amount), (self._quantity(), unit))
        prescribed = self.follower.now.prescribed_gy
        if prescribed and prescribed <= self._top_gy:
            x = self._at(prescribed, 0).x()
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.setPen(QPen(colour("quiet"), 1, Qt.PenStyle.DashDotLine))
            painter.drawLine(QPointF(x, a.top()), QPointF(x, a.bottom()))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def _read_out(self, painter: QPainter, near: Curve) -> None:
        assert self._pointer is not None
        a, gy = self._area(), max(0.0, self._gy(self._pointer.x()))
        at = self._at(gy, amount_at(near, gy))
        painter.setPen(QPen(colour("quiet"), 1, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(at.x(), a.bottom()), at)
        painter.drawLine(QPointF(a.left(), at.y()), at)
        if not self.differential:
            level = min(max(self._amount(self._pointer.y()), 0.0), float(near.amount[0]))
            other = self._at(float(np.interp(-level, -near.amount, near.gy)), level)
            painter.drawLine(QPointF(a.left(), other.y()), other)
            painter.drawLine(QPointF(other.x(), a.bottom()), other)
        painter.setPen(QPen(colour("panel"), 1))
        painter.setBrush(self._ink(near.key))
        painter.drawEllipse(at, 4, 4)
        draw_words(painter, a, at, self.words_at(self._pointer))

    def empty_words(self) -> str:
        """Return what stands in place of curves: "" where there are some, else what is missing."""
        now = self.follower.now
        if _with_dose(now) is not None or self._drafts():
            return ""
        if now is not None and now.prescribed_gy is None:
            return self.tr("{0} Give volume and dose under Prescription.").format(self.follower.problem)
        return self.follower.problem or self.tr("The dose-volume histogram appears here once the beams have a dose.")

    # -- the hand ------------------------------------------------------------------------------------------------

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointer = event.position()
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        near = self._near(event.position())
        if near is not None:
            self.workspace.activate(volume=near.key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right walk along the active volume's curve (with Shift ten times as fast) and read it out."""
        way = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(event.key())  # type: ignore[call-overload]
        active = self.workspace.volume
        curve = next((c for c in self._curves if active is not None and c.key == active.key), None)
        if way is None or curve is None:
            super().keyPressEvent(event)
            return
        step = way * self._top_gy / 200 * (10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1)
        gy = self._gy(self._pointer.x()) + step if self._pointer is not None else float(curve.gy[len(curve.gy) // 2])
        gy = min(max(gy, 0.0), self._top_gy)
        self._pointer = self._at(gy, amount_at(curve, gy))
        self.update()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent):
            at = QPointF(event.pos())
            # Over the curves it would cover the read-out; the rule is told over the axes.
            words = (
                self.mark_words(at)
                if self._area().contains(at)
                else self.tr(
                    "Dose-volume histogram. Volumes are the slabs of their slices: each slice fills half a spacing to both"
                    " sides, also at the ends, without caps. Thin lines: the accepted plan. Triangles: goals, filled while"
                    " missed; in the differential form they stand at their dose. Left and right walk along the active"
                    " volume's curve."
                )
            )
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

    def leaveEvent(self, event: QEvent) -> None:
        self._pointer = None
        self.update()

    # -- parts ---------------------------------------------------------------------------------------------------

    def _near(self, position: QPointF) -> Curve | None:
        a = self._area()
        per_px = self._top_gy / a.width(), self._top_amount / a.height()
        found = nearest(
            self._curves + (self._ghosts if self._drafts() else []),
            self._gy(position.x()),
            self._amount(position.y()),
            *per_px,
        )
        return found[0] if found is not None and found[1] <= NEAR_PX else None

    def _ink(self, key: str) -> QColor:
        volume = self.workspace.case.volume(key) if self.workspace.case else None
        ink = QColor(*volume.colour) if volume is not None else colour("quiet")
        return ink.darker(135) if colour("panel").lightness() > 160 else ink

    def _name(self, key: str) -> str:
        volume = self.workspace.case.volume(key) if self.workspace.case else None
        return volume.name if volume is not None else key


def _with_dose(now: Any) -> Any:
    """Return a plan, or None if its weights come to no monitor units: its curves would stand at 0 Gy."""
    return now if now is not None and now.scale is not None else None
