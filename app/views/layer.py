"""What is drawn over a slice.

To add something to the stage, subclass ``Layer``, set ``z`` and ``live`` and paint; then ``stage.add_layer(layer)``.

* ``paint(painter, view)`` is called for every view it is ``shown_in``. The painter is in widget pixels; call
  ``painter.setTransform(view.transform, True)`` to draw in in-plane mm (with cosmetic pens). ``view.axis`` is "z", "x"
  or "y", ``view.position_mm`` where the plane stands, ``view.project(point_mm)`` and ``view.point_mm(position)`` convert.
* ``live`` layers are painted in every frame, the others into a picture that is kept until ``refresh()``, a new slice, a new
  window or another zoom; they always lie below the live ones. Within each sort, higher ``z`` lies on top.
* Return True from ``press`` to take the mouse until ``release``; layers are asked from the top, before the tool in hand.

Heights in use: second image 5, dose wash 10, volumes 20, isodose lines 30, active volume 40, preview 45, beam ring 60,
places 61, curtain 65, cursor 70, tool 80, words 90.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRect
from PySide6.QtGui import QMouseEvent, QPainter

if TYPE_CHECKING:
    from app.views.slice_view import SliceView


class Layer:
    """One thing drawn over the slices; see the head of this file."""

    z = 50
    live = False
    stage: Any = None

    def shown_in(self, view: SliceView) -> bool:
        """Whether `view` paints this layer."""
        return True

    def margins_px(self, view: SliceView) -> tuple[float, float]:
        """Return the room beside and above the fitted picture that this layer wants for itself in a view."""
        return (0.0, 0.0)

    def paint(self, painter: QPainter, view: SliceView) -> None:
        """Draw over one view."""

    def hover(self, view: SliceView, event: QMouseEvent) -> str:
        """Return a tip for what lies under the pointer, or ""; called while no button is down."""
        return ""

    def press(self, view: SliceView, event: QMouseEvent) -> bool:
        """Take the mouse (True) or leave it to what lies below."""
        return False

    def drag(self, view: SliceView, event: QMouseEvent) -> None:
        """Follow the mouse that was taken."""

    def release(self, view: SliceView, event: QMouseEvent) -> None:
        """End what `press` began."""

    def cancel(self) -> None:
        """Escape was pressed between `press` and `release`: put back what was there."""

    def double_click(self, view: SliceView, event: QMouseEvent) -> bool:
        """Answer a double click (True) or leave it to what lies below."""
        return False

    def case_changed(self, before: Any, after: Any) -> None:
        """The case changed; the stage has already dropped kept pictures if the image changed."""

    def refresh(self, view: SliceView | None = None, area: QRect | None = None) -> None:
        """Ask to be painted again, in one view or all, whole or only inside `area` (widget pixels)."""
        if self.stage is not None:
            self.stage.refresh(self, view, area)
