"""What a tool is: a gesture on a plane that ends in one edit, or in nothing."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from app.core import warm
from app.core.guard import Guard
from app.tools.scratch import Scratch
from app.views.layer import Layer


class Tool:
    """Start, move, finish or cancel. A tool that stays between clicks (polygon) also answers keys.

    Attributes
    ----------
    name : how panels call it
    pointer : shape of the pointer over a view it works in
    layer : what the tool draws over the planes, or None
    guard : what it keeps to, or None
    """

    name = ""
    pointer = Qt.CursorShape.CrossCursor

    def __init__(self, context: Any, guard: Guard | None = None) -> None:
        self.context, self.guard = context, guard
        self.layer: Layer | None = None

    def works_in(self, view: Any) -> bool:
        """Whether the tool takes the left button in a view."""
        workspace = self.context.workspace
        return workspace.volume is not None and not workspace.read_only and not warm.pending(warm.PAINTING)

    def refusal(self, view: Any) -> str:
        """Return why the tool does not work in a view and what helps, in words for the person, or ""."""
        workspace = self.context.workspace
        if workspace.read_only:
            return QCoreApplication.translate("Tool", "This case is read-only here. Save a copy to paint in it.")
        if workspace.volume is None:
            return QCoreApplication.translate("Tool", "There is no volume to paint yet. Make one in the list of volumes.")
        if warm.pending(warm.PAINTING):
            return QCoreApplication.translate("Tool", "The tools are being made ready; they can be used in some seconds.")
        return ""

    def scratch(self, axis: str, plane: int) -> Scratch:
        """Return a working copy of one plane of the active volume."""
        return Scratch(self.context, axis, plane, self.guard)

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


def row_column(view: Any, position: QPointF) -> tuple[float, float]:
    """Return fractional (row, column) of the view's plane under a widget position."""
    from engine.volumes.planes import in_plane

    return in_plane(view.stage.grid, view.axis, view.point_mm(position))


def subtracting(event: QMouseEvent) -> bool:
    """Whether Shift turns adding into taking away."""
    return bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)


def words(text: str) -> str:
    """Translate the text of an edit."""
    return QCoreApplication.translate("Edit", text)
