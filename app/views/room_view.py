"""Patient, volumes and beams as they stand in the room, to be turned by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.core.beam_edits import BeamEdits
from app.core.painting import painting
from app.core.room_pictures import RoomPictures
from app.core.tokens import SMALL_PX, colour, tabular
from app.core.workspace import Workspace
from engine.beams.beam import Beam
from engine.case.case import Case
from engine.space.frames import beam_from_patient, fixed_from_patient
from engine.volumes.volume import Volume

START_DEG = (30.0, 25.0)  # turned about the vertical, and looked at from above
HALF_MM = 330.0
ORGAN_VEIL, BODY_VEIL = 0.5, 0.25
MOST_PX = 720
BEYOND = 1.12  # beams are drawn so far beyond the isocentre, in source distances


class RoomView(QWidget):
    """Drawn by this program itself, so that it needs no graphics card. Dragging or the arrow keys turn it, the wheel or
    + and − magnify, Home goes back. Someone who faces the gantry sees it at first, from the right and above."""

    def __init__(self, workspace: Workspace, pictures: RoomPictures, edits: BeamEdits) -> None:
        super().__init__()
        self.workspace, self.pictures, self.edits = workspace, pictures, edits
        self.turned_deg, self.half_mm = START_DEG, HALF_MM
        self._from: tuple[QPointF, tuple[float, float]] | None = None
        self._drawn: tuple[Any, QImage] = (None, QImage())
        self.setMinimumSize(160, 160)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName(self.tr("Room view"))
        self.setToolTip(self.tr("Drag or use the arrow keys to turn; wheel, + and − magnify; Home goes back"))
        workspace.case_changed.connect(self._changed)
        workspace.active_changed.connect(self.update)
        workspace.shown_changed.connect(self.update)
        edits.part_changed.connect(self.update)
        pictures.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        return QSize(320, 160)

    def axes(self, case: Case) -> NDArray[np.float64]:
        """Return the directions right, up and towards the eye, in patient axes (rows)."""
        a, b = np.deg2rad(self.turned_deg)
        right = (np.cos(a), np.sin(a), 0.0)
        towards = (np.sin(a) * np.cos(b), -np.cos(a) * np.cos(b), np.sin(b))
        up = np.cross(towards, right)
        return np.array((right, up, towards)) @ fixed_from_patient(case.image.patient_position)

    def place(self, case: Case, points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return (x, y, depth) in widget pixels and mm of patient points (n, 3)."""
        seen = (np.asarray(points_mm, dtype=np.float64) - self._middle(case)) @ self.axes(case).T
        scale = min(self.width(), self.height()) / (2 * self.half_mm)
        return np.column_stack((self.width() / 2 + scale * seen[:, 0], self.height() / 2 - scale * seen[:, 1], -seen[:, 2]))

    def _middle(self, case: Case) -> NDArray[np.float64]:
        beam = self.workspace.beam
        if beam is not None:
            return np.array(beam.isocentre_mm)
        box = case.image.grid.bounds_mm
        return (np.array(box[0]) + np.array(box[1])) / 2

    # -- drawing -------------------------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.fillRect(self.rect(), colour("stage_ground"))
            case = self.workspace.case
            if case is None:
                return
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(self.rect(), self._picture(case))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            draft, active = self.workspace.draft, self.workspace.beam
            for beam in draft.beams if draft is not None else ():
                self._beam(painter, case, beam, active is not None and beam.key == active.key)
            self._words(painter, case)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(colour("stage_accent"), 1))
                painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _picture(self, case: Case) -> QImage:
        shown = [
            (v, s)
            for v in case.volumes
            if v.key not in self.workspace.hidden and (s := self.pictures.surface(v)) is not None
        ]
        centre = tuple(self._middle(case))
        key = (tuple((v.key, v.colour, s.inputs) for v, s in shown), self.turned_deg, self.half_mm, self.size(), centre)
        if self._drawn[0] != key:
            self._drawn = (key, self._draw(case, shown))
        return self._drawn[1]

    def _draw(self, case: Case, shown: list[tuple[Any, Any]]) -> QImage:
        from engine.volumes.shell_kernels import draw, lay_over

        share = min(1.0, MOST_PX / max(self.width(), self.height(), 1))
        columns, rows = max(1, int(self.width() * share)), max(1, int(self.height() * share))
        ground = colour("stage_ground")
        image = np.empty((rows, columns, 3), dtype=np.uint8)
        image[:] = (ground.red(), ground.green(), ground.blue())
        depth = np.full((rows, columns), np.inf, dtype=np.float32)
        towards = self.axes(case)[2].astype(np.float32)
        # What the beams are for is solid, organs are seen through, the body more so.
        for share_shown in (1.0, ORGAN_VEIL, BODY_VEIL):
            over, veil = np.full_like(depth, np.inf), np.zeros_like(image)
            into = (depth, image) if share_shown == 1.0 else (over, veil)
            of_share = [(v, s) for v, s in shown if _shown_share(v) == share_shown]
            for volume, surface in of_share:
                points = self.place(case, surface.points_mm) * (share, share, 1.0)
                facing = surface.normals @ towards
                light = np.where(facing > 0, 0.25 + 0.75 * facing, -1.0).astype(np.float32)
                ink = np.array(volume.colour, dtype=np.float64)
                draw(points.astype(np.float32), surface.triangles, light, ink, *into)
            if share_shown < 1.0 and of_share:
                lay_over(over, veil, depth, image, share_shown)
        return QImage(image.data, columns, rows, 3 * columns, QImage.Format.Format_RGB888).copy()

    def _beam(self, painter: QPainter, case: Case, beam: Beam, active: bool) -> None:
        """Draw the edges of the field from the source through the isocentre plane and on."""
        seen = self.edits.seen(beam)
        sad_mm = case.machine(beam.machine).sad_mm
        m = beam_from_patient(case.image.patient_position, seen.gantry_deg, seen.collimator_deg, seen.couch_deg)
        (x1, x2), (y1, y2) = seen.aperture.x_mm, seen.aperture.y_mm
        corners = np.array(((x1, y1, 0.0), (x2, y1, 0.0), (x2, y2, 0.0), (x1, y2, 0.0))) @ m
        source = sad_mm * m[2]
        ends = source + BEYOND * (corners - source)
        points = self.place(case, np.concatenate(([source], corners, ends)) + np.array(beam.isocentre_mm))
        at = [QPointF(float(x), float(y)) for x, y, _ in points]
        ink = QColor(colour("stage_accent" if active else "stage_quiet"))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(ink.red(), ink.green(), ink.blue(), 220 if active else 110), 1.6 if active else 1.0))
        for corner in at[5:]:
            painter.drawLine(at[0], corner)
        if active:
            painter.setBrush(QColor(ink.red(), ink.green(), ink.blue(), 50))
        painter.drawPolygon(QPolygonF(at[1:5]))

    def _words(self, painter: QPainter, case: Case) -> None:
        """Letters where left, back and head of the patient lie."""
        painter.setFont(tabular(self.font(), SMALL_PX, strong=True))
        painter.setPen(colour("stage_text"))
        axes = self.axes(case)
        at = QPointF(34, self.height() - 34)
        for letter, direction in (("L", (1, 0, 0)), ("P", (0, 1, 0)), ("H", (0, 0, 1))):
            x, y, _ = axes @ np.array(direction, dtype=np.float64)
            end = at + QPointF(20 * float(x), -20 * float(y))
            painter.drawLine(at, end)
            painter.drawText(at + QPointF(28 * float(x) - 4, -28 * float(y) + 4), letter)

    # -- the hand ------------------------------------------------------------------------------------------------

    def _changed(self, *_: object) -> None:
        if self.isVisible() and self.workspace.case is not None:
            self.pictures.want(self.workspace.case)
        self.update()

    def showEvent(self, event: Any) -> None:
        self._changed()

    def turn(self, about_deg: float, up_deg: float) -> None:
        """Turn the room about the vertical and tip it towards the eye; from straight below to straight above."""
        a, b = self.turned_deg
        self.turned_deg = ((a + about_deg) % 360.0, min(max(b + up_deg, -90.0), 90.0))
        self.update()

    def magnify(self, by: float) -> None:
        """Show things so many times as large."""
        self.half_mm = min(max(self.half_mm / by, 40.0), 1500.0)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._from = (event.position(), self.turned_deg)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._from is not None and event.buttons() & Qt.MouseButton.LeftButton:
            start, held = self._from
            moved = event.position() - start
            self.turned_deg = held
            self.turn(-0.5 * moved.x(), 0.5 * moved.y())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._from = None

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.magnify(1.15 ** (event.angleDelta().y() / 120))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = Qt.Key
        turns = {keys.Key_Left: (-5, 0), keys.Key_Right: (5, 0), keys.Key_Up: (0, 5), keys.Key_Down: (0, -5)}
        if event.key() in turns:
            self.turn(*turns[keys(event.key())])
        elif event.key() in (keys.Key_Plus, keys.Key_Equal, keys.Key_Minus):
            self.magnify(1 / 1.2 if event.key() == keys.Key_Minus else 1.2)
        elif event.key() == keys.Key_Home:
            self.turned_deg, self.half_mm = START_DEG, HALF_MM
            self.update()
        else:
            super().keyPressEvent(event)


def _shown_share(volume: Volume) -> float:
    if volume.role == "EXTERNAL":
        return BODY_VEIL
    return 1.0 if volume.is_target or volume.role in ("SUPPORT", "BOLUS") else ORGAN_VEIL
