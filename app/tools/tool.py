"""What a tool is: a gesture on the axial slice that ends in one edit, or in nothing."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from app.views.layer import Layer
from engine.case import edits

Box = tuple[int, int, int, int]


class Tool:
    """Start, move, finish or cancel. A tool that stays between clicks (polygon) also answers keys.

    Attributes
    ----------
    name : how panels call it
    pointer : shape of the pointer over a view it works in
    layer : what the tool draws over the slice, or None
    """

    name = ""
    pointer = Qt.CursorShape.CrossCursor

    def __init__(self, context: Any) -> None:
        self.context = context
        self.layer: Layer | None = None

    def works_in(self, view: Any) -> bool:
        """Whether the tool takes the left button in a view."""
        return view.axis == "z" and self.context.workspace.volume is not None and not self.context.workspace.read_only

    def refusal(self, view: Any) -> str:
        """Return why the tool does not work in a view and what helps, in words for the person, or ""."""
        workspace = self.context.workspace
        if workspace.read_only:
            return QCoreApplication.translate("Tool", "This case is read-only here. Save a copy to paint in it.")
        if workspace.volume is None:
            return QCoreApplication.translate("Tool", "There is no volume to paint yet. Make one in the list of volumes.")
        if view.axis != "z":
            return QCoreApplication.translate(
                "Tool",
                "Painting works on axial slices; here the cross-hair moves. Tab brings the axial slice to the front.",
            )
        return ""

    def start(self, view: Any, event: QMouseEvent) -> None:
        """The left button goes down."""

    def move(self, view: Any, event: QMouseEvent) -> None:
        """The mouse moves with the button down."""

    def finish(self, view: Any, event: QMouseEvent) -> None:
        """The button goes up: push the edit."""

    def cancel(self) -> None:
        """Escape: leave everything as it was."""

    def hover(self, view: Any, event: QMouseEvent) -> None:
        """The mouse moves with no button down."""

    def leave(self, view: Any) -> None:
        """The pointer leaves a view."""

    def wheel(self, view: Any, turns: float) -> None:
        """Shift and wheel."""

    def key(self, view: Any, event: QKeyEvent) -> bool:
        """Answer a key (True) or leave it to the stage."""
        return False

    def double_click(self, view: Any, event: QMouseEvent) -> None:
        """A double click: by default a second press."""
        view.mousePressEvent(event)

    def put_away(self) -> None:
        """Another tool is taken up."""
        self.cancel()


class Scratch:
    """A writable copy of one slice of the active volume, shown in its place until it is kept or dropped."""

    def __init__(self, context: Any, plane: int) -> None:
        self._context, self.plane = context, plane
        self.volume = context.workspace.volume
        self.before: NDArray[np.uint8] = self.volume.coverage.slice(plane)
        self.alpha = self.before.copy()
        tile = self.volume.coverage.tile(plane)
        self.box: Box = (0, 0, 0, 0)
        if tile is not None:
            r, c = tile.alpha.shape
            self.box = (tile.row, tile.row + r, tile.column, tile.column + c)
        if self.volume.key in context.workspace.hidden:
            context.workspace.show_volume(self.volume.key, True)

    def touched(self, dirty: Box) -> None:
        """Show a part that was painted."""
        r0, r1, c0, c1 = dirty
        if r1 <= r0 or c1 <= c0:
            return
        a = self.box
        self.box = dirty if a[1] <= a[0] else (min(a[0], r0), max(a[1], r1), min(a[2], c0), max(a[3], c1))
        self._context.stage.active.show_scratch(self.plane, self.alpha, self.box, dirty)

    def replace(self, alpha: NDArray[np.uint8]) -> None:
        """Show another slice in place of the scratch."""
        self.alpha = alpha
        rows, columns = np.flatnonzero(alpha.any(axis=1)), np.flatnonzero(alpha.any(axis=0))
        self.box = (0, 0, 0, 0)
        if rows.size:
            self.box = (int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1)
        self._context.stage.active.show_scratch(self.plane, self.alpha, self.box, None)

    def combine(self, shape: NDArray[np.uint8], subtract: bool) -> None:
        """Show the slice with a shape added or taken away."""
        self.replace(np.minimum(self.before, 255 - shape) if subtract else np.maximum(self.before, shape))

    def keep(self, words: str) -> None:
        """Make it one undoable step."""
        workspace = self._context.workspace
        case = workspace.case
        volume = case.volume(self.volume.key) if case is not None else None
        if volume is not None and not np.array_equal(self.alpha, self.before):
            coverage = volume.coverage.with_slice(self.plane, self.alpha)
            workspace.edit(words.format(volume.name), edits.with_volume(case, volume.with_coverage(coverage)))
        self.drop()

    def drop(self) -> None:
        """Show the volume itself again."""
        self._context.stage.active.end_scratch()


def row_column(view: Any, position: QPointF) -> tuple[float, float]:
    """Return fractional (row, column) of the axial slice under a widget position."""
    index = view.stage.grid.index(view.point_mm(position))
    return float(index[1]), float(index[2])


def subtracting(event: QMouseEvent) -> bool:
    """Whether Shift turns adding into taking away."""
    return bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)


def words(text: str) -> str:
    """Translate the text of an edit."""
    return QCoreApplication.translate("Edit", text)
