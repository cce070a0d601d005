"""Tabs whose row stands still: a page that needs more than its room scrolls in it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QStackedWidget, QTabBar, QVBoxLayout, QWidget

LEAST_PX = 120  # of a page, before what stands above it must give way


class FrontTabs(QWidget):
    """Shows one of its pages. Neither its size nor its row of tabs follows what the pages ask for.

    A QTabWidget asks for the room its pages need, so that everything beside it moves whenever one of them grows.

    Signals
    -------
    currentChanged(index)
    """

    currentChanged = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.row = QTabBar()
        self.row.setDrawBase(False)
        self.row.setExpanding(False)
        line = QFrame()
        line.setObjectName("line")
        line.setFixedHeight(1)
        self._stack = QStackedWidget()
        self._stack.setProperty("plain", True)
        self._pages: list[QWidget] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.row)
        column.addWidget(line)
        column.addWidget(self._stack, 1)
        self.row.currentChanged.connect(self._turn)

    def addTab(self, page: QWidget, words: str) -> int:
        """Add a page with the words of its tab."""
        self._pages.append(page)
        page.setProperty("plain", True)
        self._stack.addWidget(_Scroll(page))
        return self.row.addTab(words)

    def _turn(self, index: int) -> None:
        self._stack.setCurrentIndex(index)
        self.currentChanged.emit(index)

    def count(self) -> int:
        """Return how many pages there are."""
        return len(self._pages)

    def widget(self, index: int) -> QWidget:
        """Return a page."""
        return self._pages[index]

    def indexOf(self, page: QWidget) -> int:
        """Return which page this is."""
        return self._pages.index(page)

    def currentWidget(self) -> QWidget | None:
        """Return the page in front."""
        index = self.row.currentIndex()
        return self._pages[index] if index >= 0 else None

    def setCurrentWidget(self, page: QWidget) -> None:
        """Bring a page to the front."""
        self.row.setCurrentIndex(self.indexOf(page))

    def setCurrentIndex(self, index: int) -> None:
        """Bring a page to the front by its place."""
        self.row.setCurrentIndex(index)

    def tabText(self, index: int) -> str:
        """Return the words of a tab."""
        return self.row.tabText(index)

    def setTabText(self, index: int, words: str) -> None:
        """Name a tab anew."""
        self.row.setTabText(index, words)

    def minimumSizeHint(self) -> QSize:
        wide = max((p.minimumSizeHint().width() for p in self._pages), default=0)
        return QSize(max(wide, self.row.minimumSizeHint().width()), self.row.sizeHint().height() + LEAST_PX)


class _Scroll(QScrollArea):
    """A page as wide as its room, and as high, or higher where it must be; then it scrolls."""

    def __init__(self, page: QWidget) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(page)
        page.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)
