"""What stands in place of the stage while no patient is open: what one does here, and the way to begin."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

WIDTH_PX = 460


class EmptyPage(QWidget):
    """Signals: way_wanted() when the person wants to open a patient."""

    way_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.title, self.words = QLabel(), QLabel()
        self.title.setObjectName("title")
        self.words.setObjectName("quiet")
        self.words.setWordWrap(True)
        self.words.setFixedWidth(WIDTH_PX)
        self.title.setFixedWidth(WIDTH_PX)
        self.way = QPushButton(self.tr("Open a patient in Intake"))
        self.way.setProperty("main", True)
        self.way.clicked.connect(self.way_wanted)
        column = QVBoxLayout(self)
        column.setSpacing(16)
        column.addStretch(2)
        for widget in (self.title, self.words, self.way):
            widget.setFixedWidth(WIDTH_PX)
            column.addWidget(widget, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(3)

    def show_words(self, title: str, words: str) -> None:
        """Name the station and say what is done there."""
        self.title.setText(title)
        self.words.setText(words)
