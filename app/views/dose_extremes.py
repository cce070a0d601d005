"""Where the dose of a plane is highest, and lowest and highest in the prescribed volume there."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.core.tokens import SMALL_PX, colour, tabular
from app.views import plane as planes
from app.views.difference_layer import on_points
from app.views.dose_layers import DoseView
from app.views.layer import Layer
from engine.volumes.coverage import Coverage
from engine.volumes.planes import out_of_plane, slice_of

WORDS_PX = 400  # smaller views show the doses without words
HALF = 128  # a pixel counts as inside when half of it is covered


class Extreme(NamedTuple):
    """One marked place: in-plane mm, dose, and whether it is the lowest one."""

    at_mm: QPointF
    gy: float
    lowest: bool
    words: str


class ExtremesLayer(Layer):
    """Upward triangles stand for highest doses, downward ones for lowest; read at the pixels of the image."""

    z = 35
    live = True

    def __init__(self, shared: DoseView) -> None:
        self.shared = shared
        self.wanted = False
        self._kept: dict[str, tuple[Any, list[Extreme]]] = {}

    def shown_in(self, view: Any) -> bool:
        return self.wanted and self.shared.now is not None and not self.shared.follower.is_old

    def paint(self, painter: QPainter, view: Any) -> None:
        painter.setFont(tabular(painter.font(), SMALL_PX, strong=True))
        metrics = QFontMetricsF(painter.font())
        drawn: list[QPointF] = []
        taken: list[QRectF] = []
        for found in self.extremes(view):
            if found.at_mm in drawn:
                continue  # the highest dose of the plane lies in the target
            drawn.append(found.at_mm)
            at, s = view.transform.map(found.at_mm), -6.0 if found.lowest else 6.0
            painter.setPen(QPen(colour("stage_text"), 1.6))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPolygon([at + QPointF(0, -s), at + QPointF(-s, s * 0.8), at + QPointF(s, s * 0.8)])
            text = f"{found.words} {found.gy:.1f}" if view.large and view.width() >= WORDS_PX else f"{found.gy:.1f}"
            box = QRectF(0, 0, metrics.horizontalAdvance(text) + 6, metrics.height())
            box.moveCenter(at + QPointF(0, 16 if found.lowest else -16))
            box.moveLeft(min(max(2.0, box.left()), max(2.0, view.width() - 2 - box.width())))
            while any(box.intersects(other) for other in taken):
                box.translate(0, metrics.height() if found.lowest else -metrics.height())
            taken.append(box)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour("stage_ground", 200))
            painter.drawRoundedRect(box, 3, 3)
            painter.setPen(colour("stage_text"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def extremes(self, view: Any) -> list[Extreme]:
        """Return what is marked in a view."""
        case, draft, now = self.shared.follower.workspace.case, self.shared.follower.shown_draft, self.shared.now
        if case is None or now is None:
            return []
        wanted = draft.prescription if draft is not None else None
        volumes = case.body, case.volume(wanted.volume_key) if wanted is not None else None
        body, target = (v.coverage if v is not None else None for v in volumes)
        key = (view.position_mm, now, body, target)
        kept = self._kept.get(view.axis)
        if kept is None or kept[0][0] != key[0] or any(a is not b for a, b in zip(kept[0][1:], key[1:])):
            tr = QCoreApplication.translate
            found = self._of(view, body, tr("Extremes", "highest"), None)
            found += self._of(view, target, tr("Extremes", "target max."), tr("Extremes", "target min."))
            kept = self._kept[view.axis] = (key, found)
        return kept[1]

    def _of(self, view: Any, coverage: Coverage | None, high: str, low: str | None) -> list[Extreme]:
        plane = self.shared.planes.plane(self.shared.now, view.axis, view.position_mm)
        if coverage is None or coverage.is_empty or plane is None:
            return []
        inside = slice_of(coverage, view.axis, view.index) >= HALF
        if not inside.any():
            return []
        rows, columns = np.flatnonzero(inside.any(axis=1)), np.flatnonzero(inside.any(axis=0))
        r0, r1, c0, c1 = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
        first, last = (
            planes.drop(view.axis, out_of_plane(coverage.grid, view.axis, view.index, rc))
            for rc in ((r0, c0), (r1 - 1, c1 - 1))
        )
        u = np.linspace(first.x(), last.x(), c1 - c0)
        v = np.linspace(first.y(), last.y(), r1 - r0)
        gy = np.where(inside[r0:r1, c0:c1], on_points(plane, v, u), np.nan)
        if np.isnan(gy).all():
            return []
        out = []
        for words, find, lowest in ((high, np.nanargmax, False), (low, np.nanargmin, True)):
            if words is not None:
                i, j = np.unravel_index(int(find(gy)), gy.shape)
                out.append(Extreme(QPointF(float(u[j]), float(v[i])), float(gy[i, j]), lowest, words))
        return out
