"""What stands in place of the stage while no patient is open: what one does here, and the way to begin."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

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
        self.way = QPushButton(self.tr("Open a patient in Intake"))
        self.way.setProperty("main", True)
        self.way.clicked.connect(self.way_wanted)
        middle = QWidget()
        middle.setFixedWidth(WIDTH_PX)
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(16)
        for widget in (self.title, self.words, self.way):
            column.addWidget(widget)
        across = QHBoxLayout()
        across.addStretch(1)
        across.addWidget(middle)
        across.addStretch(1)
        upright = QVBoxLayout(self)
        upright.addStretch(2)
        upright.addLayout(across)
        upright.addStretch(3)

    def show_words(self, title: str, words: str) -> None:
        """Name the station and say what is done there."""
        self.title.setText(title)
        self.words.setText(words)
