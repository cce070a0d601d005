"""The dose of the active draft less that of another, as a wash in two colours that no eye mixes up."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QMouseEvent, QPainter

from app.core.tokens import SMALL_PX, colour, tabular
from app.views.dose_layers import DoseView
from app.views.dose_planes import DosePlane
from app.views.layer import Layer

# Blue where the active draft gives less, orange where it gives more (after Okabe and Ito, public domain).
LESS, MORE = (0, 114, 178), (230, 159, 0)
FULL_PERCENT = 20.0  # difference, in percent of the prescription, at which the colour is strongest
LEAST_PERCENT = 1.0
KEY_TOP_PX, KEY_LINE_PX = 46.0, 17.0


class DifferenceLayer(Layer):
    """Drawn on every plane while it is on the stage."""

    z = 12
    live = True

    def __init__(self, mine: DoseView, other: DoseView) -> None:
        self.mine, self.other = mine, other

    def paint(self, painter: QPainter, view: Any) -> None:
        found = self._plane(view)
        if found is None:
            return
        percent, v_mm, u_mm = found
        rows, columns = percent.shape
        pixels = _coloured(percent)
        image = QImage(pixels.data, columns, rows, 4 * columns, QImage.Format.Format_ARGB32_Premultiplied)
        du, dv = u_mm[1] - u_mm[0], v_mm[1] - v_mm[0]
        painter.save()
        painter.setTransform(view.transform, True)
        body = self.mine.body_path(view)
        if body is not None:
            painter.setClipPath(body, Qt.ClipOperation.IntersectClip)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(QRectF(u_mm[0] - du / 2, v_mm[0] - dv / 2, columns * du, rows * dv), image)
        painter.restore()
        self._key(painter, view, percent)

    def hover(self, view: Any, event: QMouseEvent) -> str:
        if self.mine.now is None or self.other.now is None:
            return ""
        point = view.point_mm(event.position())
        gy = float(sum(self.mine.now.point(point)) - sum(self.other.now.point(point)))
        words = QCoreApplication.translate("DifferenceLayer", "{0} Gy against the other draft")
        return words.format(f"{gy:+.2f}".replace("-", "−"))

    def how(self, view: Any) -> str:
        """Return in words how the doses of the two grids are brought together."""
        a = self.mine.planes.plane(self.mine.now, view.axis, view.position_mm)
        b = self.other.planes.plane(self.other.now, view.axis, view.position_mm)
        if a is None or b is None or same_points(a, b):
            return QCoreApplication.translate("DifferenceLayer", "one dose grid")
        return QCoreApplication.translate("DifferenceLayer", "other dose read linearly at this draft's grid points")

    def says(self, percent: NDArray[np.float32]) -> str:
        """Return in words how differences (percent of the prescription) are coloured, or that there are none."""
        most = float(np.abs(percent).max(initial=0.0))
        if most == 0.0:
            return QCoreApplication.translate("DifferenceLayer", "no difference in this plane")
        if most < LEAST_PERCENT:
            words = QCoreApplication.translate("DifferenceLayer", "no difference of {0} % or more in this plane")
            return words.format(f"{LEAST_PERCENT:g}")
        return QCoreApplication.translate("DifferenceLayer", "strongest at {0} %").format(f"{FULL_PERCENT:g}")

    def _plane(self, view: Any) -> tuple[NDArray[np.float32], Any, Any] | None:
        reference = self.mine.reference_gy
        if self.mine.now is None or self.other.now is None or self.mine.follower.is_old or reference <= 0:
            return None
        a = self.mine.planes.plane(self.mine.now, view.axis, view.position_mm)
        b = self.other.planes.plane(self.other.now, view.axis, view.position_mm)
        if a is None or b is None:
            return None
        second = b.gy if same_points(a, b) else on_points(b, a.v_mm, a.u_mm)
        # Beyond the other draft's grid its dose is not known, so nothing is shown there.
        percent = np.nan_to_num((a.gy - second) * np.float32(100.0 / reference))
        return percent, a.v_mm, a.u_mm

    def _key(self, painter: QPainter, view: Any, percent: NDArray[np.float32]) -> None:
        if not view.large:
            return
        tr = QCoreApplication.translate
        painter.setFont(tabular(painter.font(), SMALL_PX))
        metrics = QFontMetricsF(painter.font())
        x, y = 10.0, KEY_TOP_PX  # in the upper corner, which no ring of beams crosses
        for ink, words in ((MORE, tr("DifferenceLayer", "more")), (LESS, tr("DifferenceLayer", "less"))):
            painter.fillRect(QRectF(x, y - 9, 12, 10), QColor(*ink))
            painter.setPen(colour("stage_text"))
            painter.drawText(int(x + 17), int(y), words)
            x += 30 + metrics.horizontalAdvance(words)
        painter.setPen(colour("stage_quiet"))
        for n, line in enumerate((self.says(percent), self.how(view)), 1):
            painter.drawText(10, int(y + n * KEY_LINE_PX), line)


def same_points(a: DosePlane, b: DosePlane) -> bool:
    """Return whether two planes hold the dose of the same points."""
    return np.array_equal(a.u_mm, b.u_mm) and np.array_equal(a.v_mm, b.v_mm)


def on_points(plane: DosePlane, v_mm: NDArray[np.float64], u_mm: NDArray[np.float64]) -> NDArray[np.float32]:
    """Return a plane's dose at other rows and columns (mm) by bilinear interpolation; nan beyond its outermost points."""

    def weights(at: NDArray[np.float64], points: NDArray[np.float64]) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
        place = (at - points[0]) / (points[1] - points[0])
        last = len(points) - 1
        place = np.where((place < -1e-6) | (place > last + 1e-6), np.nan, np.clip(place, 0, last))
        low = np.minimum(np.nan_to_num(place).astype(np.intp), last - 1)
        return low, place - low

    (i, s), (j, t) = weights(v_mm, plane.v_mm), weights(u_mm, plane.u_mm)
    across = plane.gy[:, j] * (1 - t) + plane.gy[:, j + 1] * t
    out: NDArray[np.float32] = (across[i] * (1 - s[:, None]) + across[i + 1] * s[:, None]).astype(np.float32)
    return out


def _coloured(percent: NDArray[np.float32]) -> NDArray[np.uint8]:
    strength = np.clip(np.abs(percent) / FULL_PERCENT, 0, 1)
    strength[np.abs(percent) < LEAST_PERCENT] = 0
    alpha = (strength * 190).astype(np.float32)
    more = percent > 0
    out = np.empty((*percent.shape, 4), dtype=np.uint8)
    for i, (m, le) in enumerate(zip(MORE[::-1], LESS[::-1], strict=True)):
        out[..., i] = (np.where(more, m, le) * alpha / 255).astype(np.uint8)
    out[..., 3] = alpha.astype(np.uint8)
    return out
