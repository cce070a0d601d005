"""The rail: the stations by name, each with one line of state."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.core.painting import painting
from app.core.tokens import SMALL_PX, colour, tabular

WIDTH_PX, HEIGHT_PX = 164, 58


class RailButton(QAbstractButton):
    """One station on the rail."""

    def __init__(self, name: str, title: str, number: int) -> None:
        super().__init__()
        self.name, self.state = name, ""
        self.setText(title)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setToolTip(self.tr("{} (Ctrl+{})").format(title, number))
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(WIDTH_PX, HEIGHT_PX)

    def set_state(self, words: str) -> None:
        """Show words under the title."""
        if words != self.state:
            self.state = words
            self.setAccessibleName(f"{self.text()}, {words}" if words else self.text())
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = QRectF(self.rect())
            if self.isChecked() or self.underMouse():
                painter.fillRect(box, colour("selected" if self.isChecked() else "raised"))
            if self.isChecked():
                painter.fillRect(QRectF(0, 0, 3, box.height()), colour("accent"))
            if self.hasFocus():
                painter.setPen(colour("accent"))
                painter.drawRect(box.adjusted(0.5, 0.5, -1.5, -1.5))
            painter.setPen(colour("text"))
            painter.setFont(tabular(self.font(), 15, strong=self.isChecked()))
            painter.drawText(box.adjusted(16, 9, -8, -28), Qt.AlignmentFlag.AlignVCenter, self.text())
            painter.setPen(colour("quiet"))
            small: QFont = tabular(self.font(), SMALL_PX)
            painter.setFont(small)
            words = painter.fontMetrics().elidedText(self.state, Qt.TextElideMode.ElideRight, WIDTH_PX - 24)
            painter.drawText(box.adjusted(16, 30, -8, -8), Qt.AlignmentFlag.AlignVCenter, words)


class Rail(QWidget):
    """The column of stations; arrow keys move between them.

    Signals
    -------
    chosen(name)
    """

    chosen = Signal(str)

    def __init__(self, stations: list[tuple[str, str]]) -> None:
        super().__init__()
        self.setObjectName("rail")
        self.setAccessibleName(self.tr("Stations"))
        self.setFixedWidth(WIDTH_PX)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        column.setSpacing(0)
        self.buttons = [RailButton(name, title, i + 1) for i, (name, title) in enumerate(stations)]
        for button in self.buttons:
            column.addWidget(button)
            button.clicked.connect(lambda _=False, n=button.name: self.chosen.emit(n))
        column.addStretch(1)

    def show_station(self, name: str) -> None:
        """Mark a station as the one in front."""
        for button in self.buttons:
            button.setChecked(button.name == name)

    def set_states(self, states: dict[str, str]) -> None:
        """Show the line of state of each station."""
        for button in self.buttons:
            button.set_state(states.get(button.name, ""))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(event.key())
        at = next((i for i, b in enumerate(self.buttons) if b.hasFocus()), None)
        if step is None or at is None:
            super().keyPressEvent(event)
        else:
            self.buttons[(at + step) % len(self.buttons)].setFocus(Qt.FocusReason.TabFocusReason)
