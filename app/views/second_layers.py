"""The second image on every plane, and the curtain that is drawn aside over it."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QMouseEvent, QPainter, QPen, QPolygonF

from app.core import warm
from app.core.tokens import colour
from app.views.layer import Layer
from engine.image.second_image import SecondImage

MOST_SAMPLES = 900  # along the longer side: beyond it samples lie closer than any second image's voxels
GRAB_PX, STEP = 7, 0.02

# Uptake: nearly equal steps of OKLab lightness (B. Ottosson, 2020; 0.10 to 0.12 each) from black through blue and green to
# white, so that the order survives every colour-vision deficiency; the dose ramp goes through violet and rose and shares
# none of its hues.
_UPTAKE = ((8, 9, 16), (13, 32, 79), (13, 62, 122), (14, 97, 143), (29, 133, 150), (66, 168, 148), (122, 201, 147),
           (188, 229, 163), (250, 250, 220))  # fmt: skip


@lru_cache(maxsize=2)
def table(modality: str) -> NDArray[np.uint32]:
    """Return 256 opaque colours (0xffRRGGBB): grey, or for PET a ramp of rising lightness."""
    if modality == "PT":
        at = np.linspace(0, 255, len(_UPTAKE))
        rgb = [np.interp(np.arange(256), at, [s[i] for s in _UPTAKE]).round().astype(np.uint32) for i in range(3)]
    else:
        rgb = [np.arange(256, dtype=np.uint32)] * 3
    return np.asarray(np.uint32(0xFF000000) | (rgb[0] << np.uint32(16)) | (rgb[1] << np.uint32(8)) | rgb[2])


class SecondLayer(Layer):
    """Lies under all volumes; blends over the planning CT, right of the curtain if there is one."""

    z = 5

    def __init__(self, overlay: Any) -> None:
        self.overlay = overlay
        self._values: dict[str, tuple[Any, NDArray[np.float32]]] = {}
        self._pictures: dict[str, tuple[Any, QImage]] = {}

    def shown_in(self, view: Any) -> bool:
        return self.overlay.shown and self.overlay.image is not None and not warm.pending(warm.VIEWS)

    def paint(self, painter: QPainter, view: Any) -> None:
        image = self.overlay.image
        picture = self._picture(view, image)
        if self.overlay.curtain:
            x = self.overlay.curtain_px(view)
            painter.setClipRect(QRectF(x, 0, view.width() - x, view.height()))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setOpacity(self.overlay.blend)
        painter.drawImage(QRectF(0, 0, view.width(), view.height()), picture)

    def _picture(self, view: Any, image: SecondImage) -> QImage:
        from engine.image.second_kernels import colours

        values_key, values = self._sampled(view, image)
        key = (values_key, self.overlay.window)
        kept = self._pictures.get(view.axis)
        if kept is None or kept[0] != key:
            low, high = map(float, self.overlay.window)
            pixels = np.empty(values.shape, dtype=np.uint32)
            colours(values, low, high, table(image.modality), np.uint32(0xFF000000), pixels)
            rows, columns = pixels.shape
            made = QImage(pixels.data, columns, rows, 4 * columns, QImage.Format.Format_RGB32).copy()
            kept = self._pictures[view.axis] = (key, made)
        return kept[1]

    def _sampled(self, view: Any, image: SecondImage) -> tuple[Any, NDArray[np.float32]]:
        """Return the values under a view and what they were made for; made again only when the plane moves."""
        width, height = view.width() * view.devicePixelRatioF(), view.height() * view.devicePixelRatioF()
        shrink = min(1.0, MOST_SAMPLES / max(width, height))
        columns, rows = max(1, round(width * shrink)), max(1, round(height * shrink))
        key = (id(image), view.axis, view.position_mm, view.transform, columns, rows)
        kept = self._values.get(view.axis)
        if kept is None or kept[0] != key:
            sx, sy = view.width() / columns, view.height() / rows
            start = np.array(view.point_mm(QPointF(sx / 2, sy / 2)))
            across = np.array(view.point_mm(QPointF(1.5 * sx, sy / 2))) - start
            down = np.array(view.point_mm(QPointF(sx / 2, 1.5 * sy))) - start
            made = image.on_plane(tuple(start), tuple(across), tuple(down), rows, columns)
            kept = self._values[view.axis] = (key, made)
        return kept

    def forget(self) -> None:
        """Let all kept planes go."""
        self._values.clear()
        self._pictures.clear()


class CurtainLayer(Layer):
    """The line between the planning CT at the left and the second image at the right; it can be dragged."""

    z = 65
    live = True

    def __init__(self, overlay: Any) -> None:
        self.overlay = overlay
        self._before = 0.5

    def shown_in(self, view: Any) -> bool:
        return self.overlay.curtain and self.overlay.shown and self.overlay.image is not None

    def paint(self, painter: QPainter, view: Any) -> None:
        x, y = self.overlay.curtain_px(view), view.height() / 2
        painter.setPen(QPen(colour("stage_ground", 200), 3))
        painter.drawLine(QPointF(x, 0), QPointF(x, view.height()))
        painter.setPen(QPen(colour("stage_accent"), 1))
        painter.drawLine(QPointF(x, 0), QPointF(x, view.height()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour("stage_accent"))
        for way in (-1, 1):
            points = [QPointF(x + way * a, y + b) for a, b in ((3, -6), (10, 0), (3, 6))]
            painter.drawPolygon(QPolygonF(points))

    def hover(self, view: Any, event: QMouseEvent) -> str:
        if not self._near(view, event):
            return ""
        return QCoreApplication.translate("SecondImage", "Planning CT left, second image right: drag (Shift + arrows)")

    def press(self, view: Any, event: QMouseEvent) -> bool:
        self._before = self.overlay.at
        return self._near(view, event)

    def drag(self, view: Any, event: QMouseEvent) -> None:
        self.overlay.set_at(event.position().x() / max(1, view.width()))

    def cancel(self) -> None:
        self.overlay.set_at(self._before)

    def _near(self, view: Any, event: QMouseEvent) -> bool:
        return abs(float(event.position().x()) - self.overlay.curtain_px(view)) <= GRAB_PX
