"""Dose on the stage: isodose lines that carry their labels, a wash that lets the anatomy through, and old dose as old."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QImage, QMouseEvent, QPainter, QPainterPath, QPen, QPixmap

from app.core.plan_follow import PlanFollower
from app.core.tokens import SMALL_PX, colour, tabular
from app.views import plane as planes
from app.views.dose_labels import DoseLabels
from app.views.dose_planes import DosePlanes, LevelLines
from app.views.dose_ramp import TOP_PERCENT, casing, pen, pen_at_rest, wash_table
from app.views.layer import Layer
from app.views.outline_paths import OutlinePaths

OLD_OPACITY = 0.35
NEAR_PX = 4.0
LETTER_PX = 20.0  # what an orientation letter takes at the edge of a view
LABELS_PX = 210  # smaller views show lines without words


def _tr(text: str) -> str:
    return QCoreApplication.translate("DoseLayers", text)


class DoseView:
    """What the dose layers share: the follower, the planes, and what the eye has chosen."""

    def __init__(self, follower: PlanFollower) -> None:
        self.follower = self._of_draft = follower
        self.sum: Any = None  # the SumPlan that is shown instead of a draft
        self.planes = DosePlanes()
        self._paths = OutlinePaths()
        self.lines_shown, self.labels_shown = True, True
        self.labels_in_gy = False
        self.wash_percent = 0

    def show_sum(self, plan: Any) -> None:
        """Draw a sum of drafts (a SumPlan); None draws the draft again."""
        self.sum = plan
        self.follower = self._of_draft if plan is None else plan

    @property
    def unit(self) -> str:
        """What stands behind a dose."""
        return str(self.sum.unit()) if self.sum is not None else _tr("Gy")

    @property
    def now(self) -> Any:
        """The plan to draw, or None."""
        return self.follower.now

    @property
    def levels(self) -> tuple[float, ...]:
        """Isodose levels, percent."""
        draft = self.follower.workspace.draft
        return draft.levels_percent if draft is not None else ()

    @property
    def reference_gy(self) -> float:
        """The dose that is 100 %: the prescription of the shown draft, of a sum all added, else the highest dose."""
        if self.sum is not None:
            return float(self.sum.reference_gy)
        draft, now = self.follower.shown_draft, self.now
        if now is None or draft is None:
            return 0.0
        if draft.prescription is not None:
            return float(draft.prescription.dose_gy)
        hottest = now.hottest()
        return hottest[1] if hottest else 0.0

    @property
    def gy_per_percent(self) -> float:
        """What a percent on a label is in Gy, where labels are written in Gy; else 0."""
        return self.reference_gy / 100.0 if self.labels_in_gy else 0.0

    def body_path(self, view: Any) -> QPainterPath | None:
        """Return the body's outline on a plane: dose in the air and the couch around it is nobody's concern."""
        case = self.follower.workspace.case
        body = case.body if case is not None else None
        path = self._paths.path(body.coverage, view.axis, view.index) if body is not None else QPainterPath()
        return None if path.isEmpty() else path

    def readout(self, point_mm: tuple[float, float, float]) -> str:
        """Return the dose at a point in words for the line at the stage's foot."""
        if self.now is None:
            return ""
        if self.sum is not None:
            return str(self.sum.readout(point_mm))
        gy = float(sum(self.now.point(point_mm)))
        if self.reference_gy <= 0 or not np.isfinite(gy):
            return ""
        words = _tr("{0} Gy ({1} %)").format(f"{gy:.2f}", f"{100 * gy / self.reference_gy:.1f}")
        if self.follower.is_old:
            return _tr("{0}, old").format(words)
        return _tr("{0}, quick").format(words) if self.follower.state == "quick" else words


class WashLayer(Layer):
    """Dose as a translucent colour over everything above the lowest level."""

    z = 10
    live = True

    def __init__(self, shared: DoseView) -> None:
        self.shared = shared

    def paint(self, painter: QPainter, view: Any) -> None:
        s = self.shared
        if s.now is None or not s.wash_percent or s.reference_gy <= 0 or s.follower.is_old:
            return
        plane = s.planes.plane(s.now, view.axis, view.position_mm)
        if plane is None:
            return
        percent = plane.gy * np.float32(100.0 / s.reference_gy)
        index = np.clip(percent * np.float32(255.0 / TOP_PERCENT), 1, 255).astype(np.uint8)
        index[percent < (min(s.levels) if s.levels else 10.0)] = 0
        pixels = wash_table(int(255 * s.wash_percent / 100))[index]
        rows, columns = index.shape
        image = QImage(pixels.data, columns, rows, 4 * columns, QImage.Format.Format_ARGB32_Premultiplied)
        du, dv = plane.u_mm[1] - plane.u_mm[0], plane.v_mm[1] - plane.v_mm[0]
        painter.setTransform(view.transform, True)
        body = self.shared.body_path(view)
        if body is not None:
            painter.setClipPath(body, Qt.ClipOperation.IntersectClip)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        box = QRectF(plane.u_mm[0] - du / 2, plane.v_mm[0] - dv / 2, columns * du, rows * dv)
        painter.drawImage(box, image)


class IsodoseLayer(Layer):
    """Isodose lines; while the dose is old, dimmed and hatched with what changed written over them."""

    z = 30
    live = True

    def __init__(self, shared: DoseView) -> None:
        self.shared = shared
        self._kept: dict[Any, tuple[Any, list[LevelLines], QPixmap | None]] = {}
        self._labels = DoseLabels()

    def shown_in(self, view: Any) -> bool:
        return self.shared.now is not None

    def paint(self, painter: QPainter, view: Any) -> None:
        s = self.shared
        levels = s.planes.level_lines(s.now, view.axis, view.position_mm, s.levels, s.reference_gy)
        self._draw(painter, view, levels)

    def hover(self, view: Any, event: QMouseEvent) -> str:
        s = self.shared
        plane = s.planes.plane(s.now, view.axis, view.position_mm) if s.now is not None and s.lines_shown else None
        if plane is None or s.reference_gy <= 0:
            return ""
        at = planes.drop(view.axis, view.point_mm(event.position()))
        gy, slope = plane.at(at.x(), at.y())
        reach = slope * NEAR_PX / view.scale
        near = [(abs(gy - p * s.reference_gy / 100), p) for p in s.levels]
        if not near or not min(near)[0] <= reach:
            return ""
        percent = min(near)[1]
        gy = f"{percent * s.reference_gy / 100:.2f}"
        words = _tr("{0} % isodose line: {1} {2}").format(f"{percent:g}", gy, s.unit)
        return _tr("{0} (before the change)").format(words) if s.follower.is_old else words

    def _draw(self, painter: QPainter, view: Any, levels: list[LevelLines]) -> None:
        """Draw the lines of a view: at once while they change, from a picture when they are drawn a second time.

        An old dose is not what the hand changes: it is kept at once, for the hand may drag on for long over it.
        """
        ratio = view.devicePixelRatioF()
        s = self.shared
        old = s.follower.reason if s.follower.is_old else None
        key = (view.transform, view.size(), ratio, s.lines_shown, s.labels_shown, s.gy_per_percent, old)
        kept = self._kept.get(view)
        again = kept is not None and kept[0] == key and kept[1] is levels
        if not again and old is None:
            self._kept[view] = (key, levels, None)
            self._write(painter, view, levels, cased=False)
            return
        made = kept[2] if kept is not None else None
        if made is None or not again:
            if made is None or kept is None or kept[0][1:3] != key[1:3]:
                made = QPixmap(int(view.width() * ratio), int(view.height() * ratio))
                made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            inner = QPainter(made)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            inner.setFont(painter.font())
            self._write(inner, view, levels, cased=old is None)
            inner.end()
            self._kept[view] = (key, levels, made)
        painter.drawPixmap(0, 0, made)

    def _write(self, painter: QPainter, view: Any, levels: list[LevelLines], cased: bool) -> None:
        old = self.shared.follower.is_old
        if self.shared.lines_shown:
            painter.setOpacity(OLD_OPACITY if old else 1.0)
            self._lines(painter, view, levels, cased)
            painter.setOpacity(1.0)
        if old:
            self._mark_old(painter, view, levels)

    def _lines(self, painter: QPainter, view: Any, levels: list[LevelLines], cased: bool) -> None:
        """Draw lines and labels; casings only once the lines rest, for they cost as much as the lines."""
        body = self.shared.body_path(view)
        painter.save()
        painter.setTransform(view.transform, True)
        if body is not None:
            painter.setClipPath(body, Qt.ClipOperation.IntersectClip)
        for level in reversed(levels) if cased and view.large else ():
            painter.setPen(casing(level.percent))
            painter.drawPath(level.path)
        for level in reversed(levels):
            line = QPen(pen_at_rest(level.percent) if cased and view.large else pen(level.percent))
            if not view.large:
                line.setWidthF(1.8 if line.widthF() > 2 else 1.0)
            painter.setPen(line)
            painter.drawPath(level.path)
        painter.restore()
        if self.shared.labels_shown and min(view.width(), view.height()) >= LABELS_PX:
            self._labels.draw(painter, view, levels, body, self.shared.gy_per_percent)

    def _mark_old(self, painter: QPainter, view: Any, levels: list[LevelLines]) -> None:
        hatch = QBrush(QColor(colour("warn", 90)), Qt.BrushStyle.BDiagPattern)
        outermost = next((lv for lv in reversed(levels) if not lv.path.isEmpty()), None)
        if outermost is not None:
            painter.save()
            body = self.shared.body_path(view)
            if body is not None:
                painter.setClipPath(view.transform.map(body))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(hatch)
            painter.drawPath(view.transform.map(outermost.path))
            painter.restore()
        words = self.shared.follower.reason
        text = _tr("Dose before: {0}").format(words) if view.large else _tr("Old dose")
        font = tabular(painter.font(), SMALL_PX, strong=True)
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, view.width() - 40)
        box = mark_box(view.width(), view.height(), metrics.horizontalAdvance(text) + 16, metrics.height() + 6)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour("stage_ground", 225))
        painter.drawRoundedRect(box, 3, 3)
        painter.setPen(QColor("#e3b75f"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def mark_box(view_width: float, view_height: float, width: float, height: float) -> QRectF:
    """Return where the mark of an old dose stands: lower right, above the orientation letter if it would cover that."""
    box = QRectF(view_width - 6 - width, view_height - 6 - height, width, height)
    return box if box.left() > view_width / 2 + LETTER_PX else box.translated(0, -LETTER_PX)
