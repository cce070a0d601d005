"""What Enter means while a button has the keyboard: it is pressed, in the window as in a dialog.

Qt lets Enter press a button in dialogs only, and this program asks in none: whoever sees the keyboard on *Apply* and
types Enter would otherwise have applied nothing, and not be told.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QWidget

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class EnterKey(QObject):
    """Watches the widget that has the keyboard, and none else."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._moved)

    def _moved(self, old: QWidget | None, new: QWidget | None) -> None:
        if isinstance(old, QAbstractButton):
            old.removeEventFilter(self)
        if isinstance(new, QAbstractButton) and not isinstance(new.window(), QDialog):
            new.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent) or event.key() not in _ENTER:
            return False
        if not isinstance(watched, QAbstractButton) or event.isAutoRepeat():
            return False
        watched.click()
        return True
