"""What region growing has to say, and the buttons that end it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget


class GrowRow(QWidget):
    """Progress while it grows, Keep and Drop once it is shown.

    Signals
    -------
    keep_wanted()   drop_wanted()
    """

    keep_wanted = Signal()
    drop_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("plain", True)
        self.words = QLabel()
        self.words.setObjectName("quiet")
        self.words.setWordWrap(True)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setFixedHeight(8)
        self.bar.setAccessibleName(self.tr("Progress of region growing"))
        self.keep = QPushButton(self.tr("Keep"))
        self.keep.setToolTip(self.tr("Add what is shown to the volume (Enter)"))
        self.drop = QPushButton(self.tr("Cancel"))
        self.drop.setToolTip(self.tr("Leave the volume as it is (Esc)"))
        self.keep.clicked.connect(self.keep_wanted)
        self.drop.clicked.connect(self.drop_wanted)
        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        buttons.addWidget(self.keep)
        buttons.addWidget(self.drop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for part in (self.words, self.bar):
            column.addWidget(part)
        column.addLayout(buttons)
        self.tell("", -1.0)

    def tell(self, words: str, fraction: float) -> None:
        """Show words; fraction 0..1 while it runs, 1 when it can be kept, -1 when nothing is open."""
        self.words.setText(words)
        self.words.setVisible(bool(words))
        self.bar.setVisible(0 <= fraction < 1)
        self.bar.setValue(int(100 * max(fraction, 0.0)))
        self.keep.setVisible(fraction >= 1)
        self.drop.setVisible(fraction >= 0)
