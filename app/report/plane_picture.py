"""One plane of the patient with volumes and isodose lines, as it is signed."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QTransform

from app.core.language import translated
from app.report.paper import (
    DARK,
    LIGHT,
    QUIET,
    Legend,
    canvas,
    clip_to,
    font,
    heading,
    legend_px,
    painter_on,
    scale_bar,
    text_with_halo,
)
from app.views.dose_planes import DosePlanes, LevelLines
from app.views.dose_ramp import casing, ink, pen_at_rest
from app.views.grey import look_up, picture, plane_numbers
from app.views.outline_paths import OutlinePaths, path_of
from app.views.plane import PLANES, Camera, drop, edge_letters, extent, looking, plane_index, plane_position
from engine.case.case import Case, Draft
from engine.review.sheet import Item
from engine.volumes.coverage import Coverage

LEVEL_HU, WIDTH_HU = 20.0, 700.0
RIM_MM = 12.0
LEAD_PX = 26.0  # what leads to a name in the legend
LEVEL_PX = 18.0  # height of a level in the legend


def draw_plane(item: Item, case: Case, draft: Draft, now: Any, width: int, height: int) -> QImage:
    """Return the picture of a plane item: CT, volume outlines, isodose lines with their percent, cross at the point."""
    assert item.point_mm is not None
    image = canvas(width, height, DARK)
    painter = painter_on(image)
    top = heading(painter, width, translated(item.title), translated(item.place), LIGHT, QColor(150, 158, 166))
    painter.setFont(font(12))
    legend = legend_px(painter, (v.name for v in case.volumes), LEAD_PX + 20, 168.0, width / 3)
    box = QRectF(14, top, width - 28 - legend, height - top - 14)
    index = plane_index(item.axis, case.image.grid, item.point_mm)
    position = plane_position(item.axis, case.image.grid, index)
    to_px = _view(case, item.axis, box)
    painter.save()
    clip_to(painter, box)
    _draw_ct(painter, case, item.axis, index, to_px)
    shown = _draw_volumes(painter, case, item.axis, index, to_px)
    body = OutlinePaths(complete=True).path(case.body.coverage, item.axis, index) if case.body else QPainterPath()
    levels = _draw_dose(painter, draft, now, item.axis, position, to_px, body)
    at = to_px.map(drop(item.axis, item.point_mm))
    painter.setPen(QPen(LIGHT, 1.2))
    for dx, dy in ((9, 0), (-9, 0), (0, 9), (0, -9)):
        painter.drawLine(at + QPointF(dx * 0.4, dy * 0.4), at + QPointF(dx, dy))
    painter.restore()
    _letters(painter, item.axis, box)
    scale_bar(painter, abs(to_px.m11()), box)
    _legend(painter, QRectF(width - legend, top, legend - 14, box.height()), shown, levels)
    painter.end()
    return image


def _view(case: Case, axis: str, box: QRectF) -> QTransform:
    body = case.body
    found = body.coverage.bounds_mm() if body else None
    if found:
        u, v, _ = PLANES[axis]
        u0, u1, v0, v1 = found[0][u] - RIM_MM, found[1][u] + RIM_MM, found[0][v] - RIM_MM, found[1][v] + RIM_MM
    else:
        u0, u1, v0, v1 = extent(axis, case.image.grid.bounds_mm)
    scale = min(box.width() / (u1 - u0), box.height() / (v1 - v0))
    out = looking(axis, Camera((u0 + u1) / 2, (v0 + v1) / 2), scale, box.width(), box.height())
    return out * QTransform.fromTranslate(box.x(), box.y())


def _draw_ct(painter: QPainter, case: Case, axis: str, index: int, to_px: QTransform) -> None:
    grey = picture(plane_numbers(case.image, axis, index), look_up(LEVEL_HU, WIDTH_HU))
    u0, u1, v0, v1 = extent(axis, case.image.grid.bounds_mm)
    painter.drawImage(to_px.mapRect(QRectF(u0, v0, u1 - u0, v1 - v0)), grey)


def _draw_volumes(painter: QPainter, case: Case, axis: str, index: int, to_px: QTransform) -> list[tuple[str, QPen]]:
    """Draw the outlines, targets last so that no organ with the same border hides one; return names and pens in order."""
    paths, shown = OutlinePaths(complete=True), {}
    for volume in sorted(case.volumes, key=lambda v: v.is_target):
        pen, name = QPen(QColor(*volume.colour), 2.4 if volume.is_target else 1.6), volume.name
        path = paths.path(volume.coverage, axis, index)
        if path.isEmpty() and axis == "z" and volume.is_target:
            # The slice of the lowest coverage is often the last one, of which a target may fill less than half.
            path = _under_half(volume.coverage, index)
            pen.setStyle(Qt.PenStyle.DotLine)
            name = QCoreApplication.translate("Picture", "{0}, under half").format(name)
        if path.isEmpty():
            continue
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(to_px.map(path))
        shown[volume.key] = (name, pen)
    return [shown[v.key] for v in case.volumes if v.key in shown]


def _under_half(coverage: Coverage, index: int) -> QPainterPath:
    """Return the outline at half of the strongest coverage of a slice that nowhere reaches half, where it has none."""
    from engine.volumes.outline import outlines

    tile = coverage.tile(index)
    if tile is None or not tile.alpha.any():
        return QPainterPath()
    alpha = (tile.alpha * (255.0 / float(tile.alpha.max()))).astype(np.uint8)
    return path_of(outlines(alpha, tile.row, tile.column), "z", coverage.grid)


def _draw_dose(
    painter: QPainter, draft: Draft, now: Any, axis: str, position_mm: float, to_px: QTransform, body: QPainterPath
) -> list[float]:
    """Draw isodose lines inside the body, as on the stage (everywhere where there is none); return those that are there."""
    reference = draft.prescription.dose_gy if draft.prescription else 0.0
    levels = DosePlanes().level_lines(now, axis, position_mm, draft.levels_percent, reference)
    places = [(level, at) for level in levels if (at := _label_place(level, body)) is not None]
    painter.save()
    if not body.isEmpty():
        painter.setClipPath(to_px.map(body), Qt.ClipOperation.IntersectClip)
    for level, _ in places:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for stroke in (casing(level.percent), pen_at_rest(level.percent)):
            painter.setPen(stroke)
            painter.drawPath(to_px.map(level.path))
    painter.restore()
    painter.setFont(font(11, bold=True))
    for level, at in places:
        text_with_halo(painter, to_px.map(at), f"{level.percent:g}", ink(level.percent), QColor(14, 16, 18, 190))
    return [level.percent for level, _ in places]


def _label_place(level: LevelLines, body: QPainterPath) -> QPointF | None:
    """Return where a line's label stands: at its anchor, or where the line is inside the body; None where it never is."""
    anchor = level.anchor_mm
    if anchor is None or body.isEmpty() or body.contains(anchor):
        return anchor
    points = (QPointF(float(u), float(v)) for line in level.lines for u, v in line)
    return next((p for p in points if body.contains(p)), None)


def _letters(painter: QPainter, axis: str, box: QRectF) -> None:
    left, right, top, bottom = edge_letters(axis)
    painter.setFont(font(14, bold=True))
    c = box.center()
    for text, at in (
        (left, QPointF(box.left() + 10, c.y())),
        (right, QPointF(box.right() - 10, c.y())),
        (top, QPointF(c.x(), box.top() + 10)),
        (bottom, QPointF(c.x(), box.bottom() - 10)),
    ):
        text_with_halo(painter, at, text, LIGHT, QColor(14, 16, 18, 170))


def _legend(painter: QPainter, box: QRectF, volumes: list[tuple[str, QPen]], levels: list[float]) -> None:
    y = box.top() + 6
    high = box.height() - 38 - LEVEL_PX * len(levels)
    legend = Legend((name for name, _ in volumes), box.width() - LEAD_PX, high)
    for n, (_, pen) in enumerate(volumes):
        middle = y + legend.row_px / 2
        painter.setPen(QPen(pen.color(), 3, pen.style()))
        painter.drawLine(QPointF(box.left(), middle), QPointF(box.left() + 18, middle))
        painter.setPen(LIGHT)
        y += legend.write(painter, QPointF(box.left() + LEAD_PX, y), n)
    painter.setFont(font(12))
    y += 12
    if levels:
        painter.setPen(QUIET.lighter(150))
        painter.drawText(QPointF(box.left(), y + 10), QCoreApplication.translate("Picture", "% of prescription"))
        y += 20
    for percent in sorted(levels, reverse=True):
        painter.setPen(pen_at_rest(percent))
        painter.drawLine(QPointF(box.left(), y + 6), QPointF(box.left() + 34, y + 6))
        painter.setPen(LIGHT)
        painter.drawText(QPointF(box.left() + 42, y + 10), f"{percent:g}")
        y += LEVEL_PX
