"""The stage: one large plane and two companions that share a point, a window and their layers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from PySide6.QtCore import QPointF, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from app.core.settings import Settings
from app.core.tokens import tabular
from app.core.workspace import Workspace
from app.views import plane
from app.views.grey import PRESETS, look_up
from app.views.layer import Layer
from app.views.layers import ActiveVolumeLayer, CursorLayer, PreviewLayer, VolumeLayer, WordsLayer
from app.views.outline_paths import OutlinePaths
from app.views.quiet_line import QuietLine
from app.views.slice_view import SliceView
from app.views.stack_strip import StackStrip
from engine.image.ct import CtImage
from engine.space.grid import Grid

AIR_MM = 12.0  # around the body when pictures are fitted
NEAR_MM = 30.0  # how far slices lie from the cursor whose body the axial picture is fitted to


class Stage(QWidget):
    """The views, their layers and what they share. One in the window; every station works on it.

    Attributes
    ----------
    views : the three SliceViews; ``view_of("z")`` is the axial one wherever it stands, ``main`` the large one
    strip : the StackStrip
    layers : added through ``add_layer``
    readouts : callables point_mm -> str; what they return joins the line at the bottom
    preview : PreviewLayer for coverages that are not applied yet
    active : ActiveVolumeLayer, which shows a tool's scratch slice
    key_listeners : callables (view, event) -> bool, asked after the tool and before the stage's own keys
    tool : what the hand holds, or None (see app.tools.tool)
    shift_second : callable (moved in px), dragged with the right button and Ctrl; the second image sets it
    painting : whether a tool's gesture runs

    Signals
    -------
    hovered(point_mm or None)   levels_changed()   gesture_changed(bool)   tool_changed()
    slice_shown(axis, position_mm, scale) : a view has painted this plane
    """

    hovered = Signal(object)
    levels_changed = Signal()
    gesture_changed = Signal(bool)
    tool_changed = Signal()
    slice_shown = Signal(str, float, float)

    def __init__(self, workspace: Workspace, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.workspace, self.settings = workspace, settings
        self.image: CtImage | None = None
        self.framed_mm: dict[str, plane.Bounds] = {a: ((0.0, 0.0, 0.0), (1.0, 1.0, 1.0)) for a in plane.PLANES}
        self.cameras: dict[str, plane.Camera] = {axis: plane.Camera() for axis in plane.PLANES}
        self.levels = (settings.get("stage/level"), settings.get("stage/width"))
        self.grey_table = look_up(*self.levels)
        self.layers: list[Layer] = []
        self.readouts: list[Callable[[plane.Point], str]] = []
        self.key_listeners: list[Callable[[SliceView, QKeyEvent], bool]] = []
        self.shift_second: Callable[[QPointF], None] = lambda moved: None
        self.tool: Any = None
        self.painting = False
        self._build()
        paths = OutlinePaths()
        self._volumes, self.active, self.preview = VolumeLayer(paths), ActiveVolumeLayer(paths), PreviewLayer(paths)
        for layer in (self._volumes, self.active, self.preview, CursorLayer(), WordsLayer()):
            self.add_layer(layer)
        workspace.case_changed.connect(self._case_changed)
        workspace.cursor_changed.connect(self._cursor_changed)
        workspace.active_changed.connect(self._look_again)
        workspace.shown_changed.connect(self._look_again)
        settings.changed.connect(lambda key: self.refresh() if key.startswith("stage/") else None)

    def _build(self) -> None:
        self.setObjectName("stage")
        self.views = [SliceView(self, axis) for axis in ("z", "x", "y")]
        self.views[0].large = True
        for view in self.views:
            view.hovered.connect(self._hovered)
        self._name_views()
        self.strip = StackStrip(self.workspace, self)
        companions = QSplitter(Qt.Orientation.Vertical)
        companions.addWidget(self.views[1])
        companions.addWidget(self.views[2])
        self.splitter = QSplitter(Qt.Orientation.Horizontal)
        self.splitter.addWidget(self.views[0])
        self.splitter.addWidget(companions)
        self.splitter.setStretchFactor(0, 3)
        self.splitter.setStretchFactor(1, 1)
        self.splitter.setSizes([720, 240])
        for s in (self.splitter, companions):
            s.setHandleWidth(4)
            s.setChildrenCollapsible(False)
        self.line = QuietLine(self.tr("What lies under the pointer"), tabular(self.font(), 12))
        row = QHBoxLayout()
        row.setSpacing(0)
        row.addWidget(self.strip)
        row.addWidget(self.splitter, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row, 1)
        column.addWidget(self.line)

    # what is shown

    @property
    def grid(self) -> Grid:
        """The image's grid; only while there is an image."""
        assert self.image is not None
        return self.image.grid

    @property
    def main(self) -> SliceView:
        """The large view."""
        return self.views[0]

    def view_of(self, axis: str) -> SliceView:
        """Return the view that shows an axis."""
        return next(v for v in self.views if v.axis == axis)

    def add_layer(self, layer: Layer) -> None:
        """Put a layer on all views (it may choose among them by ``shown_in``)."""
        layer.stage = self
        self.layers.append(layer)
        self.layers.sort(key=lambda la: la.z)
        layer.refresh()
        self.make_room()

    def remove_layer(self, layer: Layer) -> None:
        """Take a layer off."""
        if layer in self.layers:
            layer.refresh()
            self.layers.remove(layer)
            layer.stage = None
            self.make_room()

    def make_room(self) -> None:
        """Fit the pictures between what the layers want for themselves."""
        for view in self.views:
            view.aim()

    def refresh(self, layer: Layer | None = None, view: SliceView | None = None, area: QRect | None = None) -> None:
        """Paint again: one layer's views or all, whole or only an area of one."""
        for v in [view] if view is not None else self.views:
            if layer is None or not layer.live:
                v.drop_backdrop()
            elif area is not None:
                v.update(area)
            else:
                v.update()

    def painted(self, view: SliceView) -> None:
        """A view has painted its plane."""
        self.slice_shown.emit(view.axis, view.position_mm, view.scale)

    def _case_changed(self, before: Any, after: Any) -> None:
        image = after.image if after is not None else None
        if image is not self.image:
            self.image = image
            if image is not None:
                self.frame_body(after)
            for view in self.views:
                view.aim()
                view.forget()
            self._tell(None)
        for layer in list(self.layers):
            layer.case_changed(before, after)
        if before is None or after is None or before.volumes is not after.volumes:
            self.refresh(self.active)

    def _look_again(self) -> None:
        self._volumes.look_again()
        self.refresh(self.active)

    def _cursor_changed(self, point: plane.Point) -> None:
        for view in self.views:
            view.update()
        under = next((v for v in self.views if v.pointer is not None and v.underMouse()), None)
        if self.image is not None:
            self._tell(point if under is None or under.pointer is None else under.point_mm(under.pointer))

    # moving about

    def inside(self, point: plane.Point) -> plane.Point:
        """Return a point moved into the image."""
        lo, hi = self.grid.point((0, 0, 0)), self.grid.point(tuple(n - 1 for n in self.grid.shape))
        return tuple(float(min(max(p, a), b)) for p, a, b in zip(point, lo, hi))  # type: ignore[return-value]

    def walk(self, axis: str, steps: int) -> None:
        """Go some planes along an axis; up is towards the head, the left or the back."""
        if self.image is None or not steps:
            return
        index = plane.plane_index(axis, self.grid, self.workspace.cursor_mm) + steps
        index = min(max(index, 0), plane.plane_count(axis, self.grid) - 1)
        point = list(self.workspace.cursor_mm)
        point[plane.NORMAL[axis]] = plane.plane_position(axis, self.grid, index)
        self.workspace.set_cursor((point[0], point[1], point[2]))

    def swap(self) -> None:
        """Trade the large plane with the first companion; the planes go round."""
        axes = [v.axis for v in self.views]
        for view, axis in zip(self.views, [axes[1], axes[2], axes[0]]):
            view.axis = axis
            view.aim()
            view.drop_backdrop()
        self._name_views()

    def _name_views(self) -> None:
        names = {"z": self.tr("Axial slice"), "x": self.tr("Sagittal slice"), "y": self.tr("Coronal slice")}
        for view in self.views:
            view.setAccessibleName(names[view.axis])

    def pan(self, view: SliceView, moved: QPointF) -> None:
        """Move the picture under a view by pixels."""
        camera = self.cameras[view.axis]
        camera.u_mm -= moved.x() / view.scale
        camera.v_mm -= plane.PLANES[view.axis][2] * moved.y() / view.scale
        view.aim()

    def zoom(self, view: SliceView, factor: float, at: QPointF) -> None:
        """Magnify at a widget position of a view; the point under it stays."""
        camera = self.cameras[view.axis]
        before = view.point_mm(at)
        zoom = min(max(camera.zoom * factor, 0.5), 40.0)
        cameras = self.cameras.values() if self.settings.get("stage/link_zoom") else (camera,)
        for c in cameras:
            c.zoom = zoom
        for v in self.views:
            v.aim()
        self.pan(view, at - view.project(before))

    def frame_body(self, case: Any) -> None:
        """Let the fitted pictures show the body with some air around it, or the whole image if there is no body.

        The axial picture is fitted to the slices about the cursor: shoulders would make the neck small.
        """
        coverage = case.body.coverage if case.body is not None else None
        z = self.workspace.cursor_mm[2]
        for axis in plane.PLANES:
            reach = (z - NEAR_MM, z + NEAR_MM) if axis == "z" else None
            lo, hi = case.image.grid.bounds_mm
            box = plane.bounds_between(coverage, reach) if coverage is not None else None
            if box is not None:
                lo = tuple(max(a, b - AIR_MM) for a, b in zip(lo, box[0]))
                hi = tuple(min(a, b + AIR_MM) for a, b in zip(hi, box[1]))
            self.framed_mm[axis] = (lo, hi)
        self.cameras = {axis: plane.centred(axis, self.framed_mm[axis]) for axis in plane.PLANES}

    def fit(self) -> None:
        """Show every plane whole."""
        if self.workspace.case is not None:
            self.frame_body(self.workspace.case)
            for view in self.views:
                view.aim()

    def centre_on(self, point: plane.Point) -> None:
        """Go to a point and bring it into the middle of views that are magnified."""
        self.workspace.set_cursor(self.inside(point))
        for view in self.views:
            camera = self.cameras[view.axis]
            if camera.zoom > 1.01:
                uv = plane.drop(view.axis, self.workspace.cursor_mm)
                camera.u_mm, camera.v_mm = uv.x(), uv.y()
                view.aim()

    # window

    def set_levels(self, level: float, width: float) -> None:
        """Choose level and width in HU."""
        levels = (min(max(level, -1500.0), 4000.0), min(max(width, 10.0), 6000.0))
        if levels != self.levels:
            self.levels = levels
            self.grey_table = look_up(*levels)
            for view in self.views:
                view.update()
            self.settings.set("stage/level", levels[0])
            self.settings.set("stage/width", levels[1])
            self.levels_changed.emit()

    def shift_levels(self, down_px: float, right_px: float) -> None:
        """Drag the window: up and down moves the level, sideways the width."""
        level, width = self.levels
        pace = max(0.5, width / 300)
        self.set_levels(round(level + down_px * pace, 1), round(width + right_px * pace, 1))

    # the hand

    def set_tool(self, tool: Any) -> None:
        """Put a tool into the hand, or None for an empty hand."""
        if tool is self.tool:
            return
        if self.tool is not None:
            self.tool.put_away()
            if self.tool.layer is not None:
                self.remove_layer(self.tool.layer)
        self.tool = tool
        if tool is not None and tool.layer is not None:
            self.add_layer(tool.layer)
        for view in self.views:
            self.show_pointer(view)
        self.tool_changed.emit()
        self.refresh(self.active)

    def show_pointer(self, view: SliceView) -> None:
        """Give a view the pointer of what the hand holds."""
        working = self.tool is not None and self.tool.works_in(view)
        view.setCursor(self.tool.pointer if working else Qt.CursorShape.CrossCursor)

    def begin_gesture(self) -> None:
        """A tool's gesture begins."""
        self.painting = True
        self.gesture_changed.emit(True)

    def end_gesture(self) -> None:
        """A tool's gesture has ended."""
        self.painting = False
        self.gesture_changed.emit(False)

    def key(self, view: SliceView, event: QKeyEvent) -> bool:
        """Answer a key pressed in a view; whether it meant something."""
        if self.image is None:
            return False
        if self.tool is not None and self.tool.key(view, event):
            return True
        if any(answer(view, event) for answer in self.key_listeners):
            return True
        key, count = event.key(), plane.plane_count(view.axis, self.grid)
        keys = Qt.Key
        steps = {
            keys.Key_Up: 1, keys.Key_Right: 1, keys.Key_Down: -1, keys.Key_Left: -1,
            keys.Key_PageUp: 10, keys.Key_PageDown: -10, keys.Key_Home: count, keys.Key_End: -count,
        }  # fmt: skip
        if key in steps:
            self.walk(view.axis, steps[key])
        elif keys.Key_1 <= key < keys.Key_1 + len(PRESETS) and not event.modifiers():
            preset = PRESETS[key - keys.Key_1]
            self.set_levels(preset.level, preset.width)
        elif key == keys.Key_F and not event.modifiers():
            self.fit()
        elif key in (keys.Key_Plus, keys.Key_Minus, keys.Key_Equal):
            self.zoom(view, 1 / 1.2 if key == keys.Key_Minus else 1.2, QPointF(view.rect().center()))
        else:
            return False
        return True

    # the quiet line

    def _hovered(self, point: plane.Point | None) -> None:
        self.hovered.emit(point)
        self._tell(point if point is not None else (self.workspace.cursor_mm if self.image is not None else None))

    def tell_again(self) -> None:
        """Write the quiet line anew: what a readout says has changed."""
        self._tell(self._told if self.image is not None else None)

    _told: plane.Point | None = None

    def _tell(self, point: plane.Point | None) -> None:
        self._told = point
        if point is None or self.image is None:
            self.line.show_parts(())
            return
        parts, spare = [self.tr("x {:.1f}  y {:.1f}  z {:.1f} mm").format(*point)], []
        if self.grid.contains(point):
            k, r, c = np.clip(np.rint(self.grid.index(point)).astype(int), 0, np.array(self.grid.shape) - 1)
            hu = int(self.image.hu[k, r, c])
            curve = self.workspace.case.curve if self.workspace.case else None
            parts.insert(0, self.tr("slice {} of {}").format(k + 1, self.grid.shape[0]))
            parts.append(self.tr("{} HU").format(hu))
            if curve is not None:
                parts.append(self.tr("{:.3f} g/cm\u00b3").format(float(np.interp(hu, curve.hu, curve.g_cm3))))
            spare = [*parts[:1:-1], parts[0]]  # density, CT number, slice: less is lost with them than with a dose
            parts += [words for words in (readout(point) for readout in self.readouts) if words]
        self.line.show_parts([_minus(p) for p in parts], [_minus(p) for p in spare])


def _minus(words: str) -> str:
    return words.replace("-", "\u2212")
