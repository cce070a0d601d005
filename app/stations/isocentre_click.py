"""The click that puts the isocentre: asked for, told while it is awaited, ended by it or by Escape, and told again."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QToolTip

from app.core.beam_edits import BeamEdits
from app.core.context import Context

TOPIC = "isocentre/click"


class IsocentreClick(QObject):
    """Watches the edits of beams; while a click is awaited, Escape ends that wherever the keyboard is."""

    def __init__(self, context: Context, edits: BeamEdits, parent: QObject) -> None:
        super().__init__(parent)
        self._context, self._edits = context, edits
        edits.placing_changed.connect(self._changed)
        context.messages.settled.connect(lambda topic: edits.leave_placing() if topic == TOPIC else None)  # dismissed
        context.workspace.case_changed.connect(lambda _, after: None if after is not None else edits.leave_placing())

    def _changed(self, how: str) -> None:
        app, messages = QApplication.instance(), self._context.messages
        if app is None:
            return
        if how == "awaited":
            app.installEventFilter(self)
            self._context.stage.main.setFocus()
            words = self.tr("The next click on any plane puts the isocentre of all beams there. Escape leaves it.")
            messages.warning(words, self.tr("Leave it"), self._edits.leave_placing, TOPIC)
            return
        app.removeEventFilter(self)
        QToolTip.hideText()
        messages.settle(TOPIC)
        beam = self._context.workspace.beam
        if how == "placed" and beam is not None:
            x, y, z = (f"{v:.1f}".replace("-", "−") for v in beam.isocentre_mm)
            messages.info(self.tr("The isocentre of all beams is at x {0}, y {1}, z {2} mm.").format(x, y, z))
        else:
            messages.info(self.tr("The isocentre stays where it was."))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() not in (QEvent.Type.KeyPress, QEvent.Type.ShortcutOverride) or not isinstance(event, QKeyEvent):
            return False
        if event.key() != Qt.Key.Key_Escape or QApplication.activePopupWidget() is not None:
            return False
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
        else:
            self._edits.leave_placing()
        return True
