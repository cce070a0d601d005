"""The line at the foot of the stage, whose words change with every move of the hand."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFont, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

GAP = "     "  # between the parts of what it says
PADDING_PX = 10  # that of the theme


class QuietLine(QWidget):
    """A label of its own size in the place the layout gives it.

    A label that a layout holds has the whole window laid out anew whenever its words change; and its words, which come
    and go under the pointer, must never widen the window.
    """

    def __init__(self, name: str, font: QFont) -> None:
        super().__init__()
        self.words = QLabel(self)
        self.words.setObjectName("readout")
        self.words.setFont(font)
        self.words.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def text(self) -> str:
        """Return the words."""
        return self.words.text()

    def show_parts(self, parts: Sequence[str], spare: Sequence[str] = ()) -> None:
        """Show what there is to say; the tip says it whole.

        What has no room for wide gaps gets narrow ones; then the spare parts go, the first first; what still has no room
        ends in dots.
        """
        metrics, room = self.words.fontMetrics(), self.width() - 2 * PADDING_PX
        whole, kept = GAP.join(parts), list(parts)
        words, gone = whole, iter(spare)
        while 0 < room < metrics.horizontalAdvance(words):
            if words == GAP[:2].join(kept):
                left_out = next(gone, None)
                if left_out is None:
                    words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)
                    break
                kept.remove(left_out)
            words = GAP[:2].join(kept)
        self.words.setText(words)
        tip = "" if words == whole else whole
        if tip != self.toolTip():
            self.setToolTip(tip)

    def sizeHint(self) -> QSize:
        return QSize(0, self.words.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.words.resize(event.size())
