"""Whether the volumes are in work or released for planning, by whom; releasing and taking back."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.core.handover import Handover
from app.core.workspace import Workspace


class ReleaseBar(QWidget):
    """A line of state with a button; Release opens a row for the name, nothing modal."""

    def __init__(self, workspace: Workspace, handover: Handover, parent: QWidget) -> None:
        super().__init__(parent)  # shown without a parent it would be a window
        self._workspace, self._handover = workspace, handover
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.button = QPushButton()
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self.words, 1)
        top.addWidget(self.button)
        self.who = QLineEdit()
        self.who.setMaxLength(64)
        self.who.setPlaceholderText(self.tr("Physician"))
        self.who.setAccessibleName(self.tr("Name of the physician who releases"))
        self.note = QLineEdit()
        self.note.setMaxLength(200)
        self.note.setPlaceholderText(self.tr("Note"))
        self.note.setAccessibleName(self.tr("Note to the release"))
        self.give = QPushButton(self.tr("Release"))
        self.give.setProperty("main", True)
        self.form = QWidget()
        self.form.setProperty("plain", True)
        row = QGridLayout(self.form)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.who, 0, 0)
        row.addWidget(self.give, 0, 1)
        row.addWidget(self.note, 1, 0, 1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(top)
        column.addWidget(self.form)
        self.form.hide()
        self.button.clicked.connect(self._pressed)
        self.give.clicked.connect(self._give)
        self.who.returnPressed.connect(self._give)
        self.note.returnPressed.connect(self._give)
        handover.changed.connect(self._follow)
        workspace.case_changed.connect(lambda *_: self._follow())
        self._follow()

    def open_form(self) -> None:
        """Ask for the name."""
        self.form.show()
        self.who.setFocus()
        self._follow()

    def _pressed(self) -> None:
        if self._handover.state == "released":
            self._handover.withdraw()
        elif self.form.isHidden():
            self.open_form()
        else:
            self.form.hide()
            self._follow()

    def _give(self) -> None:
        if self._handover.give(self.who.text(), self.note.text()):
            self.form.hide()
            self.note.clear()
            self._follow()

    def _follow(self) -> None:
        h = self._handover
        r = h.release
        if r is None:
            text, tip = (
                self.tr("In work, not released"),
                self.tr("Planning sees that no physician has released the volumes"),
            )
        elif h.state == "released":
            text = self.tr("Released by {}, {}").format(r.who, r.at[:10])
            tip = self.tr("{} UTC, {} volumes, digest {}").format(r.at[:16].replace("T", " "), len(r.volumes), r.digest)
        else:
            text = self.tr("Release by {} lapsed: {}").format(r.who, ", ".join(h.lapsed_by[:3]))
            tip = self.tr("Changed since the release: {}").format(", ".join(h.lapsed_by))
        self.words.setText(text)
        self.words.setToolTip("\n".join(t for t in (tip, r.note if r is not None else "") if t))
        self.words.setProperty("level", "warning" if h.state == "lapsed" else "")
        self.words.style().polish(self.words)
        open_ = not self.form.isHidden()
        if h.state == "released":
            self.form.hide()
            self.button.setText(self.tr("Take back"))
            self.button.setToolTip(self.tr("Take the volumes back into work; undo brings the release back"))
        else:
            self.button.setText(self.tr("Cancel") if open_ else self.tr("Release\u2026"))
            self.button.setToolTip(self.tr("Hand the volumes over to planning under a physician's name"))
        self.setVisible(self._workspace.case is not None and bool(self._workspace.case.volumes))
