"""The pane a station's panels stand in: even margins, scrolls when it must."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget


class Pane(QScrollArea):
    """A column of widgets beside the stage; `stretch` names the one that takes the spare room."""

    def __init__(self, *widgets: QWidget, stretch: QWidget | None = None, spacing: int = 16) -> None:
        super().__init__()
        self.setObjectName("panel")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        inner.setProperty("plain", True)
        self.column = QVBoxLayout(inner)
        self.column.setContentsMargins(16, 16, 16, 16)
        self.column.setSpacing(spacing)
        for widget in widgets:
            widget.setProperty("plain", True)
            self.column.addWidget(widget, 1 if widget is stretch else 0)
        if stretch is None:
            self.column.addStretch(1)
        self.setWidget(inner)
        self._inner = inner
        inner.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            # What stands in the pane may have become wider; the splitter has to hear of it.
            self.updateGeometry()
        return super().eventFilter(watched, event)

    def minimumSizeHint(self) -> QSize:
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(self._inner.minimumSizeHint().width() + bar, 120)
