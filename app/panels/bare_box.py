"""A number without arrows, for places where many stand in a row."""

from __future__ import annotations

from PySide6.QtWidgets import QAbstractSpinBox

ROOM_PX = 4  # without arrows the style forgets the room at the left


def bare(box: QAbstractSpinBox) -> None:
    """Take the arrows from a box and keep its text off the border."""
    box.setButtonSymbols(QAbstractSpinBox.ButtonSymbols.NoButtons)
    box.lineEdit().setTextMargins(ROOM_PX, 0, 0, 0)
