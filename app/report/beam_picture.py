"""A beam's-eye view as it is signed: radiograph, projected volumes, jaws and leaves."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QTransform

from app.core.language import translated
from app.report.paper import DARK, LIGHT, Legend, canvas, clip_to, heading, painter_on, scale_bar
from app.views.outline_paths import polygon
from engine import compute
from engine.beams.beam import Beam
from engine.beams.conform import project_volume
from engine.beams.wedge import TOE_JAWS
from engine.case.case import Case, Draft
from engine.image.projection import Radiograph
from engine.review.sheet import Item

HALF_VIEW_MM = 110.0
EDGE = QColor(240, 243, 246)  # of jaws and leaves: volumes have the colours


def half_view_mm(beam: Beam) -> float:
    """Return half the side of the square that is shown, at the isocentre plane."""
    return max(HALF_VIEW_MM, 12 + max(abs(v) for v in (*beam.aperture.x_mm, *beam.aperture.y_mm)))


def radiograph_of(case: Case, beam: Beam) -> Radiograph:
    """Return the request for the radiograph behind a beam's picture."""
    size = 2 * half_view_mm(beam)
    return Radiograph(case.image, beam.nameless(), case.machine(beam.machine).sad_mm, size, size / 256.0)


def draw_beam(item: Item, case: Case, draft: Draft, width: int, height: int, radiograph: Any = None) -> QImage:
    """Return the beam's-eye view; IEC 61217 beam limiting device axes, +Y up, mm at the isocentre plane.

    `radiograph` is the answer to ``radiograph_of``; without it the request is run here, which only a command may do.
    """
    beam = draft.beam(item.beam_key)
    machine = case.machine(beam.machine)
    image = canvas(width, height, DARK)
    painter = painter_on(image)
    angles = QCoreApplication.translate("Picture", "gantry {:g}°, collimator {:g}°, couch {:g}°").format(
        beam.gantry_deg, beam.collimator_deg, beam.couch_deg
    )
    (x1, x2), (y1, y2) = beam.aperture.x_mm, beam.aperture.y_mm
    field = QCoreApplication.translate("Picture", "jaws X {0:.0f}, Y {1:.0f} mm").format(x2 - x1, y2 - y1)
    under = f"{beam.machine}; {angles}; {field}{_devices(case, beam)}"
    top = heading(painter, width, translated(item.title), under, LIGHT, QColor(150, 158, 166))
    side = min(width - 190.0, height - top - 14)
    box = QRectF(14, top, side, side)
    half = half_view_mm(beam)
    scale = side / (2 * half)
    to_px = QTransform(scale, 0, 0, -scale, box.center().x(), box.center().y())
    painter.save()
    clip_to(painter, box)
    _radiograph(painter, radiograph or compute.run(radiograph_of(case, beam)), half, to_px)
    names = []
    for volume in case.volumes:
        if volume.role in ("EXTERNAL", "SUPPORT") or volume.coverage.is_empty:
            continue
        path = QPainterPath()
        for outline in project_volume(volume.coverage, beam, machine.sad_mm, case.image.patient_position, True):
            path.addPolygon(polygon(np.ascontiguousarray(outline[:, :2], dtype=np.float64)))
            path.closeSubpath()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(*volume.colour), 2.4 if volume.is_target else 1.4))
        painter.drawPath(to_px.map(path))
        names.append((volume.name, QPen(QColor(*volume.colour), 3)))
    _aperture(painter, beam, to_px)
    painter.restore()
    scale_bar(painter, scale, box)
    y = top + 6
    tr = QCoreApplication.translate
    names.append((tr("Picture", "Jaws"), _jaw_pen()))
    if beam.aperture.leaves_mm:
        names.append((tr("Picture", "Leaves"), _leaf_pen()))
    legend = Legend((name for name, _ in names), width - box.right() - 50, height - y - 14)
    for n, (_, pen) in enumerate(names):
        middle = y + legend.row_px / 2
        painter.setPen(pen)
        painter.drawLine(QPointF(box.right() + 16, middle), QPointF(box.right() + 34, middle))
        painter.setPen(LIGHT)
        y += legend.write(painter, QPointF(box.right() + 42, y), n)
    painter.end()
    return image


def _radiograph(painter: QPainter, found: Any, half: float, to_px: QTransform) -> None:
    size = 2 * half
    # Its first row is the lowest y, a picture's first row is at the top.
    grey = np.ascontiguousarray(np.clip(np.asarray(found.image)[::-1] * 255.0, 0, 255).astype(np.uint8))
    rows, columns = grey.shape
    made = QImage(grey.data, columns, rows, columns, QImage.Format.Format_Grayscale8).copy()
    painter.drawImage(to_px.mapRect(QRectF(-half, -half, size, size)), made)


def _aperture(painter: QPainter, beam: Beam, to_px: QTransform) -> None:
    a = beam.aperture
    if a.leaves_mm:
        path = QPainterPath()
        for (left, right), low, high in zip(a.leaves_mm, a.leaf_edges_mm, a.leaf_edges_mm[1:], strict=False):
            if high > a.y_mm[0] and low < a.y_mm[1] and right > left:
                path.addRect(QRectF(left, low, right - left, high - low))
        painter.setPen(_leaf_pen())
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(to_px.map(path.simplified()))
    painter.setPen(_jaw_pen())
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(to_px.mapRect(QRectF(a.x_mm[0], a.y_mm[0], a.x_mm[1] - a.x_mm[0], a.y_mm[1] - a.y_mm[0])))
    centre = to_px.map(QPointF(0, 0))
    painter.setPen(QPen(LIGHT, 1))
    painter.drawLine(centre - QPointF(8, 0), centre + QPointF(8, 0))
    painter.drawLine(centre - QPointF(0, 8), centre + QPointF(0, 8))


def _jaw_pen() -> QPen:
    return QPen(EDGE, 2.0)


def _leaf_pen() -> QPen:
    return QPen(EDGE, 1.4, Qt.PenStyle.DashLine)


def _devices(case: Case, beam: Beam) -> str:
    """Return wedge and boluses of a beam in words, empty without."""
    out, tr = "", QCoreApplication.translate
    if beam.wedge:
        toe = TOE_JAWS.get(beam.wedge_orientation_deg, "?")
        out += tr("Picture", "; wedge {0}, toe to {1}").format(beam.wedge, toe)
    laid = [v.name if (v := case.volume(key)) else "?" for key in beam.bolus]
    return out + (tr("Picture", "; bolus {0}").format(", ".join(laid)) if laid else "")
