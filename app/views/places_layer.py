"""Places in the patient on every plane: isocentre, set-up point, named points; and the click that puts the isocentre."""

from __future__ import annotations

from math import floor
from typing import Any

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPen, QPixmap, QPolygonF

from app.core.beam_edits import BeamEdits, target_of
from app.core.tokens import SMALL_PX, colour, tabular
from app.views.layer import Layer
from app.views.plane import NORMAL, Point

ROOM_PX = 220  # smaller views show marks without names
MARKER_PX, MARKERS_KEPT = 26, 8
NEAR_MM = 1.0  # a point is on a plane that passes within this, or within half the planes' spacing


def _tr(text: str) -> str:
    return QCoreApplication.translate("PlacesLayer", text)


class PlacesLayer(Layer):
    """Marks what lies on a plane; on the axial one the isocentre is seen from everywhere, as the middle of the ring.

    After ``BeamEdits.place_next`` the next click on any plane puts the isocentre there; Escape leaves it where it is.
    """

    live = True

    @property
    def z(self) -> int:  # type: ignore[override]
        """Its place among the layers; on top while a click is awaited, so that no other layer takes it."""
        return 95 if self.edits.placing else 61

    def __init__(self, edits: BeamEdits) -> None:
        self.edits = edits
        self._markers: dict[tuple[float, float, float], QPixmap] = {}
        self._marked: tuple[Point, list[tuple[Point, str]]] | None = None

    def shown_in(self, view: Any) -> bool:
        return self.stage.workspace.case is not None

    def paint(self, painter: QPainter, view: Any) -> None:
        if not self.stage.settings.get("stage/ring"):
            return
        if self.stage.painting:
            painter.setOpacity(0.25)
        painter.setFont(tabular(painter.font(), SMALL_PX - 1))
        isocentre = isocentre_of(self.stage.workspace)
        middle = view.project(isocentre)
        for point, name in self.places():
            if self._near(view, point):
                self._paint_place(painter, view, view.project(point), middle, name)
        if view.axis == "z" or self._near(view, isocentre):
            self._paint_isocentre(painter, middle)

    def places(self) -> list[tuple[Point, str]]:
        """Return place and name of every point that is marked, each place once."""
        workspace = self.stage.workspace
        case, draft = workspace.case, workspace.draft
        found: dict[Point, str] = {}
        if draft is not None and draft.normalisation == "Point" and draft.prescription and draft.prescription.point:
            found[draft.prescription.point.place_mm] = draft.prescription.point.name
        for point in case.points if case is not None else ():
            found.setdefault(point.place_mm, point.name)
        if draft is not None and draft.marker_mm:
            found.setdefault(draft.marker_mm, _tr("Set-up point"))
        return list(found.items())

    def _near(self, view: Any, point: Point) -> bool:
        n = NORMAL[view.axis]
        return bool(abs(point[n] - view.position_mm) <= max(NEAR_MM, self.stage.grid.spacing_mm[n] / 2 + 1e-6))

    def _paint_place(self, painter: QPainter, view: Any, at: QPointF, middle: QPointF, name: str) -> None:
        """Draw a mark, in a view with room with its name: on the side away from the isocentre, within the view."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        corners = QPolygonF([at + QPointF(0, -5), at + QPointF(5, 0), at + QPointF(0, 5), at + QPointF(-5, 0)])
        wide = QFontMetricsF(painter.font()).horizontalAdvance(name) + 6
        right = (at.x() >= middle.x() or at.x() < wide + 12) and at.x() + wide + 12 < view.width()
        box = QRectF(at.x() + 8 if right else at.x() - 8 - wide, at.y() - 18, wide, 15)
        named = min(view.width(), view.height()) > ROOM_PX
        if named:
            painter.fillRect(box, colour("stage_shade"))
        for ink, width in ((colour("stage_ground", 190), 3.0), (colour("stage_text"), 1.3)):
            painter.setPen(QPen(ink, width))
            painter.drawPolygon(corners)
        if named:
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, name)

    def _paint_isocentre(self, painter: QPainter, at: QPointF) -> None:
        """Draw a circle with four short lines from a picture: it is in every frame and hardly ever moves."""
        corner = QPointF(floor(at.x()) - MARKER_PX // 2, floor(at.y()) - MARKER_PX // 2)
        ratio = painter.device().devicePixelRatioF()
        key = (corner.x() - at.x(), corner.y() - at.y(), ratio)
        if key not in self._markers:
            if len(self._markers) >= MARKERS_KEPT:
                self._markers.clear()
            made = QPixmap(int(MARKER_PX * ratio), int(MARKER_PX * ratio))
            made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            inner = QPainter(made)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            _draw_isocentre(inner, at - corner)
            inner.end()
            self._markers[key] = made
        painter.drawPixmap(corner, self._markers[key])

    # the hand

    def hover(self, view: Any, event: QMouseEvent) -> str:
        return _tr("Click: the isocentre of all beams goes here. Escape: it stays.") if self.edits.placing else ""

    def press(self, view: Any, event: QMouseEvent) -> bool:
        if not self.edits.placing:
            return False
        self.edits.place(view.point_mm(event.position()))
        return True

    def case_changed(self, before: Any, after: Any) -> None:
        workspace = self.stage.workspace
        marked = (isocentre_of(workspace), self.places()) if workspace.case is not None else None
        if marked != self._marked:
            self._marked = marked
            self.refresh()


def _draw_isocentre(painter: QPainter, at: QPointF) -> None:
    for ink, width in ((colour("stage_ground", 190), 3.0), (colour("stage_accent"), 1.3)):
        painter.setPen(QPen(ink, width))
        painter.drawEllipse(at, 5.0, 5.0)
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            painter.drawLine(at + QPointF(dx, dy) * 3, at + QPointF(dx, dy) * 10)


def isocentre_of(workspace: Any) -> Point:
    """Return the isocentre of the active beam; without beams where it would be."""
    if workspace.beam is not None:
        at: Point = workspace.beam.isocentre_mm
        return at
    target = target_of(workspace.case, workspace.draft)
    return (target.coverage.centroid_mm() if target else None) or workspace.cursor_mm
