"""The DVH and the goal ledger as pictures."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainterPath, QPen

from app.core.language import translated
from app.report.paper import (
    INK,
    LEDGER,
    PAPER,
    QUIET,
    RULE,
    STATE_COLOURS,
    STATE_SHAPES,
    Legend,
    canvas,
    font,
    heading,
    legend_px,
    painter_on,
    write_name,
)
from app.views.outline_paths import polygon
from engine.case.case import Case, Draft
from engine.review.sheet import Item

MIN_CONTRAST_LUMA = 150
LINE_PX = 44.0  # of a name in the legend, with what leads to it
COLUMNS = (0.016, 0.34, 0.57, 0.69, 0.81)  # where the columns of the ledger begin, as shares of its width


def draw_dvh(item: Item, case: Case, draft: Draft, now: Any, width: int, height: int) -> QImage:
    """Return the cumulative DVH of every volume with samples."""
    image = canvas(width, height, PAPER)
    painter = painter_on(image)
    top = heading(painter, width, translated(item.title), draft.name, INK, QUIET)
    if now.scale is None:
        painter.setPen(INK)
        painter.setFont(font(13))
        words = QCoreApplication.translate("Picture", "No dose-volume histogram: {0}").format(_why_no_dose(now))
        middle = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
        painter.drawText(QRectF(24, top, width - 48, height - top - 24), middle, words)
        painter.end()
        return image
    painter.setFont(font(12))
    drawn = [v for v in case.volumes if v.key in now.dvhs and v.role != "SUPPORT"]
    legend = legend_px(painter, (v.name for v in drawn), LINE_PX + 12, 170.0, width / 3)
    box = QRectF(58, top + 6, width - 58 - legend - 14, height - top - 52)
    highest = max((float(d.max_gy) for d in now.dvhs.values()), default=1.0)
    step = _step(highest)
    full = max(step, step * np.ceil(highest / step))
    painter.setFont(font(11))
    for gy in np.arange(0, full + step / 2, step):
        x = box.left() + box.width() * gy / full
        painter.setPen(QPen(RULE, 1))
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
        painter.setPen(QUIET)
        painter.drawText(QRectF(x - 30, box.bottom() + 4, 60, 16), int(Qt.AlignmentFlag.AlignCenter), f"{gy:.10g}")
    for percent in range(0, 101, 20):
        y = box.bottom() - box.height() * percent / 100
        painter.setPen(QPen(RULE, 1))
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
        painter.setPen(QUIET)
        align = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        painter.drawText(QRectF(4, y - 8, box.left() - 10, 16), align, f"{percent} %")
    to_water = draft.report_to == "water"
    quantity = (
        QCoreApplication.translate("Picture", "Dose to water (Gy)")
        if to_water
        else QCoreApplication.translate("Picture", "Dose to medium (Gy)")
    )
    below = QRectF(box.left(), box.bottom() + 22, box.width(), 18)
    painter.drawText(below, int(Qt.AlignmentFlag.AlignCenter), quantity)
    y = box.top()
    names = Legend((v.name for v in drawn), legend - LINE_PX, box.height())
    for n, volume in enumerate(drawn):
        gy, share = now.dvhs[volume.key].curve(400)
        points = np.stack([box.left() + box.width() * gy / full, box.bottom() - box.height() * share / 100.0], axis=1)
        path = QPainterPath()
        path.addPolygon(polygon(points))
        colour = on_paper(QColor(*volume.colour))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour, 2.6 if volume.is_target else 1.8))
        painter.drawPath(path)
        middle = y + names.row_px / 2
        painter.drawLine(QPointF(box.right() + 16, middle), QPointF(box.right() + 36, middle))
        painter.setPen(INK)
        y += names.write(painter, QPointF(box.right() + LINE_PX, y), n)
    if draft.prescription and draft.prescription.dose_gy <= full:
        x = box.left() + box.width() * draft.prescription.dose_gy / full
        painter.setPen(QPen(INK, 1.2, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
    painter.end()
    return image


def _why_no_dose(now: Any) -> str:
    """Return why a plan has no monitor units, and what helps where that is a prescription."""
    why = translated(now.reason)
    if now.prescribed_gy is not None:
        return why
    return QCoreApplication.translate("Picture", "{0} Give volume and dose under Prescription in Aim.").format(why)


def draw_goals(item: Item, case: Case, draft: Draft, now: Any, width: int, height: int) -> QImage:
    """Return the goal ledger: demand, what is reached, and its state in word and shape."""
    image = canvas(width, height, PAPER)
    painter = painter_on(image)
    y = heading(painter, width, translated(item.title), draft.name, INK, QUIET) + 10
    columns = tuple(width * share for share in COLUMNS)
    tr = QCoreApplication.translate
    heads = (tr("Picture", "Volume"), tr("Picture", "Demand"), tr("Picture", "Reached"), tr("Picture", "Priority"),
             tr("Picture", "State"))  # fmt: skip
    painter.setFont(font(12, bold=True))
    painter.setPen(QUIET)
    for x, text in zip(columns, heads, strict=True):
        painter.drawText(QPointF(x, y + 12), text)
    y += 22
    volumes = [case.volume(goal.volume_key) for goal, _, _ in now.goals]
    names = Legend(
        (v.name if v else goal.waits_for or "?" for v, (goal, _, _) in zip(volumes, now.goals, strict=True)),
        columns[1] - columns[0] - 8,
        height - y - 10,
        LEDGER,
    )
    for n, (goal, value, state) in enumerate(now.goals):
        painter.setPen(QPen(RULE, 1))
        painter.drawLine(QPointF(14, y), QPointF(width - 14, y))
        cells = (
            f"{goal.metric} {'≤' if goal.comparator == '<=' else '≥'} {goal.limit:g}",
            "–" if value is None else f"{value:.2f}",
            str(goal.priority),
        )
        painter.setPen(INK)
        used = names.write(painter, QPointF(columns[0], y), n)
        for x, end, text in zip(columns[1:-1], columns[2:], cells, strict=True):
            write_name(painter, QPointF(x, y + names.base_px), text, end - x - 8)
        painter.setPen(STATE_COLOURS.get(state, QUIET))
        painter.drawText(QPointF(columns[-1], y + names.base_px), f"{STATE_SHAPES.get(state, '')} {translated(state)}")
        y += used
    if not now.goals:
        painter.setFont(font(13))
        painter.setPen(QUIET)
        painter.drawText(QPointF(14, y + 18), tr("Picture", "This draft has no goals."))
    painter.end()
    return image


def on_paper(colour: QColor) -> QColor:
    """Return a volume colour dark enough for white paper, of the same hue."""
    out = QColor(colour)
    while 0.299 * out.red() + 0.587 * out.green() + 0.114 * out.blue() > MIN_CONTRAST_LUMA:
        out = out.darker(112)
    return out


def _step(highest: float) -> float:
    """Return a round axis step that gives about eight marks."""
    rough = max(highest, 1e-6) / 8
    base = 10.0 ** np.floor(np.log10(rough))
    return float(base * next(m for m in (1, 2, 5, 10) if m * base >= rough))
