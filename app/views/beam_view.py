"""The beam's-eye view: what the source sees, with jaws and leaves to take hold of."""

from __future__ import annotations

import time
from math import atan2, degrees
from typing import Any

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
    QRegion,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from app.core.beam_edits import BeamEdits, target_of
from app.core.beam_pictures import BeamPictures
from app.core.painting import painting
from app.core.tokens import SMALL_PX, colour, tabular
from app.core.workspace import Workspace
from app.views.aperture_shape import HANDLE_GAP_MM, Grip, grip_at, handle, open_boxes, run_of, wedge_triangle
from app.views.eye_graticule import draw_graticule
from app.views.outline_paths import polygon
from app.views.still_picture import StillPicture
from engine.beams.beam import Beam

GRAB_PX = 7.0
HALF_MM = 110.0
PATIENCE_S = 0.015  # of drawing, for outlines that are to be made


class BeamView(QWidget):
    """Shows the active beam in the axes of its beam limiting device, X to the right and Y up, seen from the source.

    Jaw edges and leaf tips are dragged (Shift: a leaf with its neighbours; Control: both sides, mirrored); the round
    handle turns the collimator in whole degrees (Shift: tenths). Arrow keys move what was grabbed last by 1 mm or degree
    (Shift: a tenth). The wheel zooms.
    """

    def __init__(
        self, workspace: Workspace, pictures: BeamPictures, edits: BeamEdits, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.workspace, self.pictures, self.edits = workspace, pictures, edits
        self._half_mm, self._zoomed = HALF_MM, False
        self._grip: Grip | None = None
        self._over: Grip | None = None
        self._pointer: QPointF | None = None
        self._dragging = False
        self._begun = (0.0, QPointF())
        self._image: tuple[Any, QImage] = (None, QImage())
        self._shut, self._cross = StillPicture(), StillPicture()
        self._outlines: tuple[Any, list[tuple[QColor, float, QPainterPath]]] = (None, [])
        self._moving = False
        self._later = QTimer(self, singleShot=True, interval=150)
        self._later.timeout.connect(self._ask)
        self._finer = QTimer(self, singleShot=True, interval=0)
        self._finer.timeout.connect(self.update)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(160, 160)
        self.setAccessibleName(self.tr("Beam's-eye view"))
        workspace.case_changed.connect(self._changed)
        workspace.active_changed.connect(self._changed)
        workspace.shown_changed.connect(self.update)
        pictures.changed.connect(self.update)
        edits.part_changed.connect(self._changed)
        self._changed()

    def sizeHint(self) -> QSize:
        return QSize(320, 160)

    @property
    def beam(self) -> Beam | None:
        """The active beam as it stands in the opening or control point shown."""
        beam = self.workspace.beam
        return None if beam is None else self.edits.seen(beam)

    @property
    def transform(self) -> QTransform:
        """Map from mm at the isocentre plane (X right, Y up) to widget pixels."""
        scale = min(self.width(), self.height()) / (2 * self._half_mm)
        return QTransform(scale, 0, 0, -scale, self.width() / 2, self.height() / 2)

    def place(self, x_mm: float, y_mm: float) -> QPointF:
        """Return the widget position of a point of the isocentre plane."""
        return self.transform.map(QPointF(x_mm, y_mm))

    # -- following -----------------------------------------------------------------------------------------------

    def _changed(self, *_: object) -> None:
        case, beam = self.workspace.case, self.beam
        if beam is not None and not self._zoomed and not self._dragging:
            reach = max(abs(v) for v in (*beam.aperture.x_mm, *beam.aperture.y_mm))
            self._half_mm = min(max(1.3 * reach, reach + HANDLE_GAP_MM + 6, 50.0), 220.0)
        if self.isVisible():
            if case is not None and beam is not None and not self.pictures.is_current(case, beam):
                self._moving = True
                self.pictures.hold()
            self._later.start()
        self.update()

    def showEvent(self, event: Any) -> None:
        self._later.start()

    def _ask(self) -> None:
        self._moving = False
        self.update()
        case, beam = self.workspace.case, self.beam
        if case is not None and beam is not None and self.isVisible():
            self.pictures.want(case, beam)

    # -- drawing -------------------------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.fillRect(self.rect(), colour("stage_ground"))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            case, beam = self.workspace.case, self.beam
            if case is None or beam is None:
                painter.setPen(colour("stage_quiet"))
                words = self.tr("The beam's-eye view appears here once there is a beam.")
                painter.drawText(
                    self.rect().adjusted(16, 8, -16, -8), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, words
                )
                return
            self._radiograph(painter, case, beam)
            # A gantry that turns leaves these as they are.
            held = self._grip if self._dragging else self._over
            shut = beam.aperture, held, self.transform, self._half_mm
            self._shut.draw(painter, self, shut, lambda inner: self._aperture(inner, beam))
            self._volumes(painter, case, beam)
            self._cross.draw(painter, self, self.transform, lambda inner: draw_graticule(inner, self))
            self._jaws(painter, beam)
            self._wedge(painter, beam)
            self._handle(painter, beam)
            self._words(painter, beam)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(colour("stage_accent"), 1))
                painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _radiograph(self, painter: QPainter, case: Any, beam: Beam) -> None:
        found = self.pictures.radiograph(case, beam)
        if found is None:
            return
        if self._image[0] is not found:
            self._image = (found, _grey(found.image))
        x0, x1, y0, y1 = found.extent_mm
        box = self.transform.mapRect(QRectF(x0, y0, x1 - x0, y1 - y0))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(box, self._image[1])

    def _aperture(self, painter: QPainter, beam: Beam) -> None:
        """Shade what is closed: leaves and jaws, by an even veil over everything but the openings."""
        veil = QRegion(self.rect())
        opening = QRegion()
        for x0, y0, x1, y1 in open_boxes(beam.aperture):
            opening += self.transform.mapRect(QRectF(x0, y0, x1 - x0, y1 - y0)).toAlignedRect()
        painter.save()
        painter.setClipRegion(veil - opening)
        painter.fillRect(self.rect(), QColor(8, 12, 16, 130))
        painter.restore()
        edges, (y1, y2) = beam.aperture.leaf_edges_mm, beam.aperture.y_mm
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        boxes: dict[tuple[int, int], list[QRectF]] = {}
        for i, pair in enumerate(beam.aperture.leaves_mm):
            shown = edges[i + 1] > y1 and edges[i] < y2
            for side, tip in enumerate(pair):
                outer = (2 * side - 1) * 2 * self._half_mm
                box = QRectF(QPointF(min(tip, outer), edges[i]), QPointF(max(tip, outer), edges[i + 1]))
                look = (150 if shown else 34, 120 if self._held_leaf(i, side) else 22 if shown else 0)
                boxes.setdefault(look, []).append(self.transform.mapRect(box))
        for (line, fill), same in boxes.items():
            painter.setPen(QPen(colour("stage_accent", line), 1))
            painter.setBrush(colour("stage_accent", fill))
            painter.drawRects(same)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def _held_leaf(self, pair: int, side: int) -> bool:
        grip = self._grip if self._dragging else self._over
        return grip == Grip("leaf", side, pair)

    def _volumes(self, painter: QPainter, case: Any, beam: Beam) -> None:
        """Draw what the source sees; what takes longer than the eye waits for is drawn coarse, then finer bit by bit."""
        target, spent = target_of(case, self.workspace.draft), 0.0
        for volume in self.pictures.far_to_near(case, beam):
            if volume.role in ("EXTERNAL", "SUPPORT") or volume.key in self.workspace.hidden:
                continue
            fine = self.pictures.has_outlines(case, beam, volume)
            late = not fine and spent > PATIENCE_S
            if late and not self._moving:
                self._finer.start()
            began = time.perf_counter()
            lines = self.pictures.outlines(case, beam, volume, quick=self._moving or late)
            if not fine and not late:  # Only this counts, or a slow screen would never come to the last volume.
                spent += time.perf_counter() - began
            if not lines:
                continue
            path = QPainterPath()
            for line in lines:
                path.addPolygon(polygon(np.ascontiguousarray(line)))
                path.closeSubpath()
            mine = target is not None and volume.key == target.key
            pen = QPen(QColor(*volume.colour), 2.2 if mine else 1.2)
            pen.setCosmetic(True)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(pen)
            painter.drawPath(self.transform.map(path))

    def _jaws(self, painter: QPainter, beam: Beam) -> None:
        (x1, x2), (y1, y2) = beam.aperture.x_mm, beam.aperture.y_mm
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour("stage_text"), 1.6))
        painter.drawRect(self.transform.mapRect(QRectF(x1, y1, x2 - x1, y2 - y1)))
        grip = self._grip if self._dragging else self._over
        if grip is not None and grip.kind in "xy":
            at = grip.position(beam.aperture)
            ends = ((at, y1), (at, y2)) if grip.kind == "x" else ((x1, at), (x2, at))
            painter.setPen(QPen(colour("stage_accent"), 3.5))
            painter.drawLine(self.place(*ends[0]), self.place(*ends[1]))

    def _wedge(self, painter: QPainter, beam: Beam) -> None:
        corners = [self.place(x, y) for x, y in wedge_triangle(beam)]
        if corners:
            painter.setPen(QPen(colour("stage_text"), 1.2))
            painter.setBrush(colour("stage_text", 90))
            painter.drawPolygon(QPolygonF(corners))

    def _handle(self, painter: QPainter, beam: Beam) -> None:
        """Draw what turns the collimator: a dot above the Y2 jaw, with its angle while it is held."""
        at, foot = self.place(*handle(beam.aperture)), self.place(handle(beam.aperture)[0], beam.aperture.y_mm[1])
        grip = self._grip if self._dragging else self._over
        held = grip is not None and grip.kind == "turn"
        painter.setPen(QPen(colour("stage_accent" if held else "stage_text"), 1.4))
        painter.setBrush(colour("stage_accent" if held else "stage_ground"))
        painter.drawLine(foot, at)
        painter.drawEllipse(at, 5.0, 5.0)

    def _words(self, painter: QPainter, beam: Beam) -> None:
        painter.setFont(tabular(self.font(), SMALL_PX))
        metrics = QFontMetricsF(painter.font())
        lines = [f"{beam.name}   {beam.gantry_deg:g}°   {beam.wedge}".rstrip()]
        grip = self._grip if self._dragging else self._over
        if grip is not None:
            where = f"{beam.collimator_deg:g}°" if grip.kind == "turn" else f"{grip.position(beam.aperture):.1f} mm"
            lines.append(f"{grip.name()}   {where}".replace("-", "−"))
        elif self._pointer is not None:
            uv = self.transform.inverted()[0].map(self._pointer)
            lines.append(f"x {uv.x():.0f}   y {uv.y():.0f} mm".replace("-", "−"))
        for i, text in enumerate(lines):
            box = QRectF(6, 5 + i * (metrics.height() + 2), metrics.horizontalAdvance(text) + 10, metrics.height() + 2)
            painter.fillRect(box, colour("stage_ground", 190))
            painter.setPen(colour("stage_text"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        self._compass(painter)

    def _compass(self, painter: QPainter) -> None:
        """Say which way X and Y grow."""
        painter.setPen(QPen(colour("stage_quiet"), 1.2))
        painter.setBrush(colour("stage_quiet"))
        at = QPointF(self.width() - 34, self.height() - 14)
        for d, name, place in ((QPointF(16, 0), "X", QPointF(19, 4)), (QPointF(0, -16), "Y", QPointF(-4, -20))):
            painter.drawLine(at, at + d)
            side = QPointF(d.y(), d.x()) * 0.2
            painter.drawPolygon(QPolygonF([at + d * 1.15, at + d * 0.8 + side, at + d * 0.8 - side]))
            painter.drawText(at + place, name)

    # -- the hand ------------------------------------------------------------------------------------------------

    def grip_at(self, position: QPointF) -> Grip | None:
        """Return what can be grabbed at a widget position."""
        beam = self.beam
        if beam is None:
            return None
        uv = self.transform.inverted()[0].map(position)
        return grip_at(beam.aperture, uv.x(), uv.y(), GRAB_PX / self.transform.m11())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointer = event.position()
        if self._dragging and self._grip is not None:
            uv = self.transform.inverted()[0].map(event.position())
            keys = event.modifiers()
            shift = bool(keys & Qt.KeyboardModifier.ShiftModifier)
            if self._grip.kind == "turn":
                self._turn(uv, shift)
            else:
                both = bool(keys & Qt.KeyboardModifier.ControlModifier)
                self._move(self._grip, uv.y() if self._grip.kind == "y" else uv.x(), shift, both)
        else:
            self._over = self.grip_at(event.position())
            shapes = {
                "x": Qt.CursorShape.SizeHorCursor,
                "leaf": Qt.CursorShape.SizeHorCursor,
                "y": Qt.CursorShape.SizeVerCursor,
                "turn": Qt.CursorShape.PointingHandCursor,
            }
            self.setCursor(shapes[self._over.kind] if self._over else Qt.CursorShape.ArrowCursor)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._grip = self.grip_at(event.position()) if event.button() == Qt.MouseButton.LeftButton else None
        self._dragging = self._grip is not None
        if self._dragging and self.beam is not None:
            self._begun = (self.beam.collimator_deg, self.transform.inverted()[0].map(event.position()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._dragging:
            self._dragging = False
            self.workspace.end_merge()
            self.update()

    def wheelEvent(self, event: QWheelEvent) -> None:
        self._zoomed = True
        self._half_mm = min(max(self._half_mm * 1.15 ** (-event.angleDelta().y() / 120), 20.0), 260.0)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Down: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Up: 1}
        beam = self.beam
        if event.key() not in steps or self._grip is None or beam is None:
            super().keyPressEvent(event)
            return
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self._grip.kind == "turn":
            turned = beam.collimator_deg - steps[event.key()] * (0.1 if fine else 1.0)
            self.edits.change(beam.key, self.tr("Turn collimator"), "collimator", collimator_deg=turned)
            self.workspace.end_merge()
            return
        self._move(self._grip, self._grip.position(beam.aperture) + steps[event.key()] * (0.1 if fine else 1.0))
        self.workspace.end_merge()

    def leaveEvent(self, event: QEvent) -> None:
        self._pointer, self._over = None, None
        self.update()

    def focusInEvent(self, event: Any) -> None:
        self.update()

    def focusOutEvent(self, event: Any) -> None:
        self.update()

    def _turn(self, uv: QPointF, fine: bool) -> None:
        """Turn the collimator so that the handle follows the hand; the picture keeps the axes of the device."""
        beam = self.beam
        if beam is None:
            return
        start_deg, start = self._begun
        # The view turns with the collimator: the hand's angle counts from where the drag began in the axes of then.
        turned = degrees(atan2(uv.y(), uv.x()) - atan2(start.y(), start.x()))
        angle = start_deg + turned
        angle = round(angle, 1) if fine else round(angle)
        self.edits.change(beam.key, self.tr("Turn collimator"), "collimator", collimator_deg=angle)

    def _move(self, grip: Grip, position_mm: float, several: bool = False, both: bool = False) -> None:
        beam = self.beam
        if beam is None:
            return
        if grip.kind == "leaf":
            pairs = run_of(beam.aperture, grip.pair) if several else (grip.pair,)
            merge = f"leaf{grip.pair}/{grip.side}"
            self.edits.set_leaves(beam.key, dict.fromkeys(pairs, position_mm), grip.side, merge)
            if both:
                self.edits.set_leaves(beam.key, dict.fromkeys(pairs, -position_mm), 1 - grip.side, merge)
            return
        jaws = list(beam.aperture.x_mm if grip.kind == "x" else beam.aperture.y_mm)
        other = jaws[1 - grip.side]
        if both:
            half = max(0.0, position_mm if grip.side else -position_mm)
            jaws = [-half, half]
        else:
            jaws[grip.side] = min(position_mm, other) if grip.side == 0 else max(position_mm, other)
        self.edits.set_jaws(beam.key, grip.kind, (jaws[0], jaws[1]), f"jaw{grip.kind}{grip.side}")


def _grey(image: Any) -> QImage:
    """Return a radiograph as grey: what absorbs more is lighter, spread between its own low and high values."""
    data = np.asarray(image, dtype=np.float32)
    low, high = np.percentile(data[::4, ::4], (2.0, 99.5))
    grey = np.clip((data - low) * (210.0 / max(1e-6, float(high - low))), 0, 210).astype(np.uint8)
    rows, columns = grey.shape
    # A radiograph's first row is the lowest y, a picture's first row is at the top.
    return QImage(np.ascontiguousarray(grey[::-1]).data, columns, rows, columns, QImage.Format.Format_Grayscale8).copy()
