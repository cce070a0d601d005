"""What one can begin with: images, a case, a demonstration patient."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from app.core.demonstration import demonstrations


class Welcome(QWidget):
    """The ways into a case, each with its button.

    Signals
    -------
    folder_wanted()   case_wanted()   recent_wanted(Path)   demonstration_wanted(name)
    """

    folder_wanted = Signal()
    case_wanted = Signal()
    recent_wanted = Signal(object)
    demonstration_wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        title = QLabel(self.tr("Begin with a patient"))
        title.setObjectName("title")
        self._column.addWidget(title)
        self._heading(
            self.tr("CT images"), self.tr("A folder of DICOM files. You can also drop it anywhere on this window.")
        )
        self.folder = self._button(self.tr("Open a folder of images\u2026"), "Ctrl+Shift+O")
        self.folder.clicked.connect(self.folder_wanted)
        self._heading(self.tr("A case"), self.tr("Everything decided so far is in one file; it opens where you left it."))
        self.case = self._button(self.tr("Open a case\u2026"), "Ctrl+O")
        self.case.clicked.connect(self.case_wanted)
        self._recent = QVBoxLayout()
        self._recent.setSpacing(4)
        self._column.addLayout(self._recent)
        self._heading(
            self.tr("A demonstration patient"),
            self.tr("Synthetic, computed from shapes; no person was imaged. Good for a first look around."),
        )
        self.demonstrations: dict[str, QPushButton] = {}
        for i, (name, words) in enumerate(demonstrations()):
            button = self._button(words, "")
            button.setProperty("main", i == 0)
            button.clicked.connect(lambda _=False, n=name: self.demonstration_wanted.emit(n))
            self.demonstrations[name] = button
        self._column.addStretch(1)

    def show_recent(self, paths: list[Path]) -> None:
        """Offer cases opened lately."""
        while (item := self._recent.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.deleteLater()
        for path in paths[:4]:
            button = QPushButton(path.stem)
            button.setToolTip(str(path))
            button.clicked.connect(lambda _=False, p=path: self.recent_wanted.emit(p))
            self._recent.addWidget(button)

    def _heading(self, words: str, hint: str) -> None:
        line = QFrame()
        line.setObjectName("line")
        line.setFixedHeight(1)
        head, under = QLabel(words), QLabel(hint)
        head.setObjectName("heading")
        under.setObjectName("quiet")
        under.setWordWrap(True)
        self._column.addSpacing(8)
        for w in (line, head, under):
            self._column.addWidget(w)

    def _button(self, words: str, shortcut: str) -> QPushButton:
        button = QPushButton(words)
        if shortcut:
            button.setToolTip(f"{words} ({shortcut})")
        self._column.addWidget(button)
        return button
