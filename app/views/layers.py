"""The layers every station shows: volumes, the active volume under the hand, previews, cross-hair and words."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPixmap

from app.core.looks import USUAL, look_of, looks
from app.core.tokens import SMALL_PX, colour, tabular
from app.views import plane
from app.views.grey import PRESETS
from app.views.layer import Layer
from app.views.outline_paths import OutlinePaths, path_of_plane
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

__all__ = ["ActiveVolumeLayer", "CursorLayer", "Layer", "PreviewLayer", "VolumeLayer", "WordsLayer"]


def draw_path(painter: QPainter, view: Any, path: QPainterPath, ink: QColor, width: float, fill_alpha: int) -> None:
    """Draw a path given in in-plane mm with a pen in pixels and a translucent fill."""
    if path.isEmpty():
        return
    painter.setTransform(view.transform, True)
    pen = QPen(ink, width)
    pen.setCosmetic(True)
    # An outline bends by little at each point: rounding its joins takes twice as long and is not to be seen.
    pen.setJoinStyle(Qt.PenJoinStyle.BevelJoin)
    painter.setPen(pen)
    if fill_alpha:
        # The line covers the steps of a fill that is not smoothed, which takes half the time.
        smooth = painter.testRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        fill = QColor(ink)
        fill.setAlpha(fill_alpha)
        painter.fillPath(path, fill)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, smooth)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path)
    painter.setWorldTransform(view.transform.inverted()[0], True)


class VolumeLayer(Layer):
    """Outlines of all shown volumes but the active one."""

    z = 20

    def __init__(self, paths: OutlinePaths) -> None:
        self.paths = paths
        self._shown: list[tuple[Any, ...]] = []

    def _volumes(self) -> list[Volume]:
        w = self.stage.workspace
        active = w.volume
        volumes = w.case.volumes if w.case else ()
        shown = [v for v in volumes if v is not active and v.key not in w.hidden]
        return sorted(shown, key=lambda v: v.is_target)  # no organ with the same border hides a target

    def paint(self, painter: QPainter, view: Any) -> None:
        filled, chosen = self.stage.settings.get("stage/fill"), looks(self.stage.settings)
        for v in self._volumes():
            look = chosen.get(v.name.lower(), USUAL)
            fill = look.alpha(0 if v.role == "EXTERNAL" else 34) if filled else 0
            path = self.paths.path(v.coverage, view.axis, view.index)
            draw_path(painter, view, path, QColor(*v.colour), look.width(1.3), fill)

    def look_again(self) -> None:
        """Repaint only if what this layer shows is not what it showed."""
        now = [(v.coverage, v.colour, v.role, v.name) for v in self._volumes()]
        same = len(now) == len(self._shown) and all(a[0] is b[0] and a[1:] == b[1:] for a, b in zip(now, self._shown))
        if not same:
            self._shown = now
            self.refresh()

    def case_changed(self, before: Any, after: Any) -> None:
        self.look_again()


class ActiveVolumeLayer(Layer):
    """The active volume; while a tool works, the scratch slice in its place."""

    z = 40
    live = True

    def __init__(self, paths: OutlinePaths) -> None:
        self.paths = paths
        self._scratch: tuple[str, int, QPainterPath] | None = None
        self._kept: dict[Any, tuple[Any, QPainterPath, QPixmap | None]] = {}

    def paint(self, painter: QPainter, view: Any) -> None:
        volume = self.stage.workspace.volume
        if volume is None or volume.key in self.stage.workspace.hidden:
            return
        if self._scratch is not None and (view.axis, view.index) == self._scratch[:2]:
            path = self._scratch[2]
        else:
            path = self.paths.path(volume.coverage, view.axis, view.index)
        look = look_of(self.stage.settings, volume.name)
        alpha = look.alpha(0 if volume.role == "EXTERNAL" else 58) if self.stage.settings.get("stage/fill") else 0
        self._draw(painter, view, path, QColor(*volume.colour), look.width(2.0 if view.large else 1.6), alpha)

    def _draw(self, painter: QPainter, view: Any, path: QPainterPath, ink: QColor, width: float, alpha: int) -> None:
        """Draw at once what has changed, from a picture what is drawn a second time: other things move over it."""
        ratio = view.devicePixelRatioF()
        key = (view.transform, view.size(), ratio, ink.rgb(), width, alpha)
        kept = self._kept.get(view)
        if kept is None or kept[0] != key or kept[1] is not path:
            self._kept[view] = (key, path, None)
            draw_path(painter, view, path, ink, width, alpha)
            return
        made = kept[2]
        if made is None:
            made = QPixmap(max(1, int(view.width() * ratio)), max(1, int(view.height() * ratio)))
            made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            inner = QPainter(made)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            draw_path(inner, view, path, ink, width, alpha)
            inner.end()
            self._kept[view] = (key, path, made)
        painter.drawPixmap(0, 0, made)

    def show_scratch(
        self,
        axis: str,
        index: int,
        alpha: NDArray[np.uint8],
        box: tuple[int, int, int, int],
        dirty: tuple[int, int, int, int] | None,
    ) -> None:
        """Show a plane that is being worked on.

        Parameters
        ----------
        axis, index : which plane
        alpha : the whole plane (rows, columns)
        box : rows r0..r1, columns c0..c1 outside which it is empty
        dirty : the part changed since the last call, or None for all of it
        """
        self._scratch = (axis, index, path_of_plane(alpha, box, axis, self.stage.grid))
        view = self.stage.view_of(axis)
        self.refresh(view, None if dirty is None else self._area(view, dirty))

    def end_scratch(self) -> None:
        """Show the volume itself again."""
        axis = self._scratch[0] if self._scratch is not None else None
        self._scratch = None
        self.refresh(self.stage.view_of(axis) if axis is not None else None)

    def _area(self, view: Any, dirty: tuple[int, int, int, int]) -> QRect:
        (ox, oy, oz), (sx, sy, sz) = self.stage.grid.origin_mm, self.stage.grid.spacing_mm
        (v0, sv), (u0, su) = {"z": ((oy, sy), (ox, sx)), "x": ((oz, sz), (oy, sy)), "y": ((oz, sz), (ox, sx))}[view.axis]
        r0, r1, c0, c1 = dirty
        mm = QRectF(u0 + (c0 - 1.5) * su, v0 + (r0 - 1.5) * sv, (c1 - c0 + 2) * su, (r1 - r0 + 2) * sv)
        return view.transform.mapRect(mm).toAlignedRect().adjusted(-4, -4, 4, 4)


class PreviewLayer(Layer):
    """What an operation would make of the active volume, before it is applied."""

    z = 45
    live = True

    def __init__(self, paths: OutlinePaths) -> None:
        self.paths = paths
        self.coverage: Coverage | None = None

    def show(self, coverage: Coverage | None) -> None:
        """Show a coverage, or nothing."""
        if coverage is not self.coverage:
            self.coverage = coverage
            self.refresh()

    def paint(self, painter: QPainter, view: Any) -> None:
        if self.coverage is None:
            return
        path = self.paths.path(self.coverage, view.axis, view.index)
        draw_path(painter, view, path, QColor(0, 0, 0, 150), 3.6, 0)
        if path.isEmpty():
            return
        painter.setTransform(view.transform, True)
        pen = QPen(QColor("#ffffff"), 1.8)
        pen.setCosmetic(True)
        pen.setDashPattern([4, 3])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(path)


class CursorLayer(Layer):
    """The cross-hair of the point all views share, open around the point itself."""

    z = 70
    live = True
    GAP_PX = 14

    def __init__(self) -> None:
        self._lines: dict[int, QPixmap] = {}

    def paint(self, painter: QPainter, view: Any) -> None:
        if not self.stage.settings.get("stage/crosshair"):
            return
        at = view.project(self.stage.workspace.cursor_mm)
        quiet = self.stage.tool is not None
        ink, across, down = colour("stage_accent", 60 if quiet else 140), round(at.x()), round(at.y())
        gap = self.GAP_PX
        painter.fillRect(QRect(0, down, across - gap, 1), ink)
        painter.fillRect(QRect(across + gap, down, view.width() - across - gap, 1), ink)
        line = self._upright(view.height(), ink)
        for top, bottom in ((0, down - gap), (down + gap, view.height())):
            if bottom > top:
                painter.drawPixmap(across, top, line, 0, 0, 1, bottom - top)

    def _upright(self, height: int, ink: QColor) -> QPixmap:
        """Return a line to be cut from: filling a rectangle one pixel wide takes Qt as long as painting a plane."""
        kept = self._lines.get(ink.rgba())
        if kept is None or kept.height() < height:
            kept = QPixmap(1, height)
            kept.fill(ink)
            self._lines[ink.rgba()] = kept
        return kept


class WordsLayer(Layer):
    """Orientation letters, scale bar, slice position and window; kept as a picture while they say the same."""

    z = 90
    live = True

    def __init__(self) -> None:
        self._kept: dict[Any, tuple[Any, QPixmap]] = {}

    def paint(self, painter: QPainter, view: Any) -> None:
        ratio = view.devicePixelRatioF()
        key = (view.axis, view.large, view.position_mm, view.scale, self.stage.levels, view.size(), ratio, view.font())
        kept = self._kept.get(view)
        if kept is None or kept[0] != key:
            made = QPixmap(max(1, int(view.width() * ratio)), max(1, int(view.height() * ratio)))
            made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            inner = QPainter(made)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._write(inner, view)
            inner.end()
            kept = self._kept[view] = (key, made)
        painter.drawPixmap(0, 0, kept[1])

    def _write(self, painter: QPainter, view: Any) -> None:
        painter.setFont(tabular(view.font(), 14 if view.large else SMALL_PX, strong=True))
        painter.setPen(colour("stage_text"))
        frame = view.rect().adjusted(6, 4, -6, -4)
        left, right, top, bottom = plane.edge_letters(view.axis)
        sides = Qt.AlignmentFlag
        _write(painter, frame, sides.AlignLeft | sides.AlignVCenter, left)
        _write(painter, frame, sides.AlignRight | sides.AlignVCenter, right)
        _write(painter, frame, sides.AlignHCenter | sides.AlignTop, top)
        _write(painter, frame, sides.AlignHCenter | sides.AlignBottom, bottom)
        painter.setFont(tabular(view.font(), SMALL_PX))
        painter.setPen(colour("stage_quiet"))
        name = {"z": QT_TRANSLATE_NOOP("Stage", "Axial"), "x": QT_TRANSLATE_NOOP("Stage", "Sagittal"),
                "y": QT_TRANSLATE_NOOP("Stage", "Coronal")}[view.axis]  # fmt: skip
        words = QCoreApplication.translate("Stage", name)
        mm = f"{view.axis} {view.position_mm:.1f} mm".replace("-", "\u2212")
        beside_letter = frame.width() // 2 - 12

        def write(side: Qt.AlignmentFlag, text: str, line: int = 0) -> None:
            wide = max(painter.fontMetrics().horizontalAdvance(row) for row in text.split("\n")) > beside_letter
            _write(painter, frame.adjusted(0, max(16 * line, 16 if wide else 0), 0, 0), side | sides.AlignTop, text)

        write(sides.AlignLeft, f"{words}  {mm}" if view.large else f"{words}\n{mm}")
        if view.large:
            level, width = self.stage.levels
            preset = next(
                (p.name for p in PRESETS if (p.level, p.width) == (level, width)), QT_TRANSLATE_NOOP("Preset", "Own")
            )
            preset = QCoreApplication.translate("Preset", preset)
            text = QCoreApplication.translate("Stage", "{}  level {:.0f}  width {:.0f} HU").format(preset, level, width)
            if painter.fontMetrics().horizontalAdvance(text) > beside_letter:
                text = QCoreApplication.translate("Stage", "{}  {:.0f} / {:.0f} HU").format(preset, level, width)
            crowded = painter.fontMetrics().horizontalAdvance(f"{words}  {mm}  {text}") > frame.width()
            write(sides.AlignRight, text.replace("-", "\u2212"), 2 if crowded else 0)
            self._scale_bar(painter, view)

    def _scale_bar(self, painter: QPainter, view: Any) -> None:
        length = next((n for n in (200, 100, 50, 20, 10, 5, 2, 1) if n * view.scale <= view.width() * 0.22), 1)
        pixels, x, y = length * view.scale, 10.0, view.height() - 14.0
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for ink, more in ((colour("stage_ground", 200), 2), (colour("stage_text"), 0)):
            painter.setPen(QPen(ink, 2 + more))
            painter.drawLine(QPointF(x, y), QPointF(x + pixels, y))
            painter.setPen(QPen(ink, 1 + more))
            for end in (x, x + pixels):
                painter.drawLine(QPointF(end, y - 5), QPointF(end, y + 3))
        painter.setPen(colour("stage_quiet"))
        words = QCoreApplication.translate("Stage", "{} mm").format(length)
        place = QRect(int(x + pixels + 8), int(y) - 12, 120, 20)
        _write(painter, place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, words)


def _write(painter: QPainter, place: QRect, side: Qt.AlignmentFlag, text: str) -> None:
    """Write over a picture: a dark rim keeps the words legible on bone and couch."""
    ink = painter.pen()
    painter.setPen(colour("stage_ground", 230))
    for dx, dy in ((-2, 0), (2, 0), (0, -2), (0, 2), (-1, -1), (1, -1), (-1, 1), (1, 1)):
        painter.drawText(place.translated(dx, dy), side, text)
    painter.setPen(ink)
    painter.drawText(place, side, text)
