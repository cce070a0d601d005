"""The contact sheet: thumbnails of the pictures to be signed, each opened at full size by the reviewer."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.core.tokens import DARK

THUMB_PX = 248
GAP_PX = 16


class Thumb(QWidget):
    """One picture, small, with its title and a mark once it was looked at. Click, Enter or Space opens it."""

    opened = Signal(int)

    def __init__(self, index: int, title: str, image: QImage) -> None:
        super().__init__()
        self._index, self._title, self._image, self.seen = index, title, image, False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedSize(self.sizeHint())
        self._name()

    def sizeHint(self) -> QSize:
        return QSize(THUMB_PX, THUMB_PX * 3 // 4 + 40)

    def set_seen(self, seen: bool) -> None:
        """Mark the picture as looked at."""
        self.seen = seen
        self._name()
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self.opened.emit(self._index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.opened.emit(self._index)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        frame = QRectF(1, 1, self.width() - 2, self.width() * 0.75 - 2)
        painter.drawImage(frame, self._image)
        accent = QColor(DARK.stage_accent)
        painter.setPen(QPen(accent if self.hasFocus() else QColor(128, 134, 142), 2 if self.hasFocus() else 1))
        painter.drawRect(frame)
        text = QRectF(2, frame.bottom() + 4, self.width() - 4, 34)
        painter.setPen(self.palette().color(self.foregroundRole()))
        words = ("\u2713  " if self.seen else "\u25cb  ") + self._title
        painter.drawText(text, int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop), words)

    def _name(self) -> None:
        state = self.tr("looked at") if self.seen else self.tr("not looked at yet")
        self.setAccessibleName(f"{self._title}, {state}")
        self.setToolTip(f"{self._title} ({state})")


class _Full(QWidget):
    """A picture as large as there is room."""

    def __init__(self) -> None:
        super().__init__()
        self.image = QImage()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.image.isNull():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        size = self.image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        painter.drawImage(
            QRectF((self.width() - size.width()) / 2, (self.height() - size.height()) / 2, size.width(), size.height()),
            self.image,
        )


class ContactSheet(QStackedWidget):
    """Thumbnails, or one picture at full size.

    Signals
    -------
    looked(index) : a picture was opened at full size
    """

    looked = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self._thumbs: list[Thumb] = []
        self._images: list[QImage] = []
        self._titles: list[str] = []
        self._open = -1
        self.empty = QLabel()
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self.empty.setObjectName("quiet")
        self._grid_host = QWidget()
        self._grid = QGridLayout(self._grid_host)
        self._grid.setContentsMargins(GAP_PX, GAP_PX, GAP_PX, GAP_PX)
        self._grid.setSpacing(GAP_PX)
        self._grid.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setWidget(self._grid_host)
        self._full, page = _Full(), QWidget()
        self.title = QLabel()
        self.title.setObjectName("heading")
        self.back, self.before, self.after = (
            QPushButton(t) for t in (self.tr("All pictures"), self.tr("Before"), self.tr("Next"))
        )
        self.back.clicked.connect(self.close_picture)
        self.before.clicked.connect(lambda: self.open_picture(self._open - 1))
        self.after.clicked.connect(lambda: self.open_picture(self._open + 1))
        bar = QHBoxLayout()
        for widget in (self.back, self.before, self.after):
            bar.addWidget(widget)
        bar.addWidget(self.title, 1)
        column = QVBoxLayout(page)
        column.setContentsMargins(GAP_PX, GAP_PX, GAP_PX, GAP_PX)
        column.addLayout(bar)
        column.addWidget(self._full, 1)
        for widget in (self.empty, self._scroll, page):
            self.addWidget(widget)
        self.setAccessibleName(self.tr("Contact sheet"))

    def show_words(self, words: str) -> None:
        """Say why there are no pictures, or that they are being made."""
        self.empty.setText(words)
        self.setCurrentIndex(0)

    def show_pictures(self, titles: list[str], images: list[QImage], seen: set[str]) -> None:
        """Show the sheet; `seen` holds the titles already looked at."""
        for thumb in self._thumbs:
            self._grid.removeWidget(thumb)
            thumb.deleteLater()
        self._images, self._titles, self._thumbs, self._open = images, titles, [], -1
        for i, (title, image) in enumerate(zip(titles, images, strict=True)):
            thumb = Thumb(i, title, image)
            thumb.set_seen(title in seen)
            thumb.opened.connect(self.open_picture)
            self._thumbs.append(thumb)
        self._arrange()
        self.setCurrentIndex(1)

    def open_picture(self, index: int) -> None:
        """Show one picture at full size and mark it as looked at."""
        if not 0 <= index < len(self._images):
            return
        self._open = index
        self._full.image = self._images[index]
        self.title.setText(f"{index + 1} / {len(self._images)}   {self._titles[index]}")
        self.before.setEnabled(index > 0)
        self.after.setEnabled(index < len(self._images) - 1)
        self._thumbs[index].set_seen(True)
        self.setCurrentIndex(2)
        self._full.update()
        (self.after if self.after.isEnabled() else self.back).setFocus()
        self.looked.emit(index)

    def close_picture(self) -> None:
        """Back to the sheet."""
        self.setCurrentIndex(1)
        if 0 <= self._open < len(self._thumbs):
            self._thumbs[self._open].setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.currentIndex() == 2 and event.key() == Qt.Key.Key_Escape:
            self.close_picture()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._arrange()

    def _arrange(self) -> None:
        columns = max(1, (self.width() - GAP_PX) // (THUMB_PX + GAP_PX))
        for i, thumb in enumerate(self._thumbs):
            self._grid.addWidget(thumb, i // columns, i % columns)
