"""What Ctrl+Z means while a line of text has the keyboard: what was typed there since, and when that is undone, the case.

Qt lets a text field swallow the keys of undo and redo even when it has nothing to undo, so that they would do nothing at
all. The guard hands them on to the window's actions instead. Editors in the cells of a table keep the keys for
themselves: an undo of the case below an open editor would be overwritten when the editor closes.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class TextUndo(QObject):
    """Watches the widget that has the keyboard, and none else."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._moved)

    def _moved(self, old: QWidget | None, new: QWidget | None) -> None:
        if old is not None:
            old.removeEventFilter(self)
        line = _line_of(new)
        if new is not None and (line is not None or isinstance(new, QPlainTextEdit)):
            if line is not None:
                line.setModified(False)
            new.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not isinstance(event, QKeyEvent) or not isinstance(watched, QWidget):
            return False
        line = _line_of(watched)
        if event.type() == QEvent.Type.KeyPress and event.key() in _ENTER and line is not None:
            # What was typed is taken over now; undoing it is undoing the case.
            QTimer.singleShot(0, line, lambda: line.setModified(False))
        if event.type() != QEvent.Type.ShortcutOverride or _in_a_cell(watched):
            return False
        if event.matches(QKeySequence.StandardKey.Undo):
            theirs = _can_undo(watched, line)
        elif event.matches(QKeySequence.StandardKey.Redo):
            theirs = _can_redo(watched, line)
        else:
            return False
        if theirs:
            return False
        event.ignore()
        return True


def _line_of(widget: QWidget | None) -> QLineEdit | None:
    if isinstance(widget, QLineEdit):
        return widget
    if isinstance(widget, QAbstractSpinBox | QComboBox):
        return widget.lineEdit()
    return None


def _can_undo(widget: QWidget, line: QLineEdit | None) -> bool:
    if isinstance(widget, QPlainTextEdit):
        return widget.document().isUndoAvailable()
    return line is not None and line.isModified() and line.isUndoAvailable()


def _can_redo(widget: QWidget, line: QLineEdit | None) -> bool:
    if isinstance(widget, QPlainTextEdit):
        return widget.document().isRedoAvailable()
    return line is not None and line.isRedoAvailable()


def _in_a_cell(widget: QWidget) -> bool:
    above = widget.parentWidget()
    while above is not None and not above.isWindow():
        if isinstance(above, QAbstractItemView):
            return True
        above = above.parentWidget()
    return False
