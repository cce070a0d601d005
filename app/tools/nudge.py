"""Nudge: a disc that pushes the edge before it, outward when pressed inside, inward when pressed outside."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QMouseEvent

from app.tools.brush import Brush
from app.tools.scratch import Scratch
from app.tools.tool import row_column, words


class Nudge(Brush):
    """The disc is the brush, but no larger than fits between pointer and edge: pressing changes nothing, pushing does."""

    name = "nudge"

    def __init__(self, context: Any, guard: Any = None) -> None:
        super().__init__(context, guard)
        self._fitted: float | None = None

    @property
    def is_ball(self) -> bool:
        return False

    def shown_mm(self, view: Any) -> float:
        return self.radius_mm if self._fitted is None else self._fitted

    def start(self, view: Any, event: QMouseEvent) -> None:
        from engine.volumes.nudge import edge_near
        from engine.volumes.planes import pixel_mm

        scratch = Scratch(self.context, view.axis, view.index, self.guard)
        pixels = pixel_mm(view.stage.grid, view.axis)
        found = edge_near(scratch.alpha, row_column(view, event.position()), pixels)
        if found is None:
            self.context.workspace.message.emit(
                "info",
                QCoreApplication.translate("Tool", "There is no edge of {} to nudge on this slice. Paint it first.").format(
                    scratch.volume.name
                ),
            )
            return
        inside, free_mm = found
        self.erasing = not inside
        # Half a pixel short of the edge, so that its shares stay as they are until it is pushed.
        self._fitted = min(self.radius_mm, max(free_mm - 0.5 * min(pixels), 0.5 * min(pixels)))
        self._scratch, self._masks = scratch, {}
        self._last = view.point_mm(event.position())
        self.layer.refresh(view)

    def finish(self, view: Any, event: QMouseEvent) -> None:
        scratch, self._scratch, self._fitted = self._scratch, None, None
        if scratch is not None:
            scratch.keep(words("Nudge {}"))
        self.layer.refresh(view)

    def cancel(self) -> None:
        self._fitted = None
        super().cancel()

    def hover(self, view: Any, event: QMouseEvent) -> None:
        """Show on which side the pointer is: pushing outward or inward."""
        from engine.volumes.planes import in_plane

        grid, volume = view.stage.grid, self.context.workspace.volume
        r, c = (round(i) for i in in_plane(grid, view.axis, view.point_mm(event.position())))
        self.erasing = volume is None or _share(volume.coverage, view.axis, view.index, r, c) <= 127
        self.layer.follow(view)


def _share(coverage: Any, axis: str, index: int, row: int, column: int) -> int:
    """Return the share of one pixel of a plane, 0 outside the image."""
    k, r, c = {"z": (index, row, column), "x": (row, column, index), "y": (row, index, column)}[axis]
    tile = coverage.tile(k)
    if tile is None or not (0 <= r - tile.row < tile.alpha.shape[0] and 0 <= c - tile.column < tile.alpha.shape[1]):
        return 0
    return int(tile.alpha[r - tile.row, c - tile.column])
