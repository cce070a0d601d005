"""Two widgets one above the other, and a divide that stands where the hand put it."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSplitter, QSplitterHandle, QWidget

from app.core.painting import painting
from app.core.settings import Settings
from app.core.tokens import colour

GRIP_PX = 16  # as wide as the space between the parts of a pane
SHARE, LEAST_PX, MOST_PX = 0.33, 300, 420  # of the lower one, until the hand moves the divide


class SharedColumn(QSplitter):
    """Divides its height by a rule of its own until the divide is dragged, then as it was dragged; that is remembered."""

    def __init__(self, upper: QWidget, lower: QWidget, settings: Settings, name: str) -> None:
        super().__init__(Qt.Orientation.Vertical)
        self._settings, self._name = settings, name
        self.setHandleWidth(GRIP_PX)
        self.setChildrenCollapsible(False)
        self.addWidget(upper)
        self.addWidget(lower)
        self.setStretchFactor(0, 1)
        self.setStretchFactor(1, 0)
        self._by_hand = self.restoreState(settings.sizes(name))
        self.splitterMoved.connect(self._dragged)

    def createHandle(self) -> QSplitterHandle:
        grip = _Grip(Qt.Orientation.Vertical, self)
        grip.again.connect(self._as_at_first)
        return grip

    def _dragged(self, *_: object) -> None:
        self._by_hand = True
        self._settings.keep_sizes(self._name, self.saveState())

    def _as_at_first(self) -> None:
        self._by_hand = False
        self._settings.keep_sizes(self._name, QByteArray())
        self._share()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if not self._by_hand:
            self._share()

    def _share(self) -> None:
        room = self.height() - GRIP_PX
        lower = round(min(max(SHARE * room, LEAST_PX), MOST_PX))
        self.setSizes([room - lower, lower])


class _Grip(QSplitterHandle):
    """The divide: a short line in the space between.

    Signals
    -------
    again() : it was double-clicked
    """

    again = Signal()

    def __init__(self, orientation: Qt.Orientation, parent: QSplitter) -> None:
        super().__init__(orientation, parent)
        self.setToolTip(self.tr("Drag to share the height anew; a double click shares it as at first"))
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            ink = colour("accent") if self.underMouse() else colour("line")
            painter.fillRect(QRectF(self.width() / 2 - 20, self.height() / 2 - 1, 40, 2), ink)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.again.emit()
