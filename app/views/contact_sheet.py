"""The contact sheet: thumbnails of the pictures to be signed, each opened at full size by the reviewer."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QImage,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QShortcut,
)
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

from app.core.name_lines import wrapped
from app.core.painting import painting
from app.core.tokens import colour

LEAST_PX, MOST_PX = 200, 640
GAP_PX, WORDS_PX = 16, 40


class Thumb(QWidget):
    """One picture, small, with its title and a mark once it was looked at. Click, Enter or Space opens it."""

    opened = Signal(int)

    def __init__(self, index: int, title: str, image: QImage) -> None:
        super().__init__()
        self._index, self._title, self._image, self.seen = index, title, image, False
        self._small = QPixmap()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.set_width(LEAST_PX)
        self._name()

    def set_width(self, width: int) -> None:
        """Be this wide; the height follows."""
        self.setFixedSize(QSize(width, width * 3 // 4 + WORDS_PX))

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
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            frame = QRectF(1, 1, self.width() - 2, self.width() * 0.75 - 2)
            painter.drawPixmap(frame.toRect(), self._picture(frame.size().toSize()))
            ink = colour("accent") if self.hasFocus() else colour("line")
            painter.setPen(QPen(ink, 3 if self.hasFocus() else 1))
            painter.drawRect(frame)
            mark, words = (
                QRectF(2, frame.bottom() + 5, 18, 18),
                QRectF(22, frame.bottom() + 5, self.width() - 24, WORDS_PX - 6),
            )
            painter.setPen(QPen(colour("accent" if self.seen else "quiet"), 1.6))
            box = QRectF(mark.left() + 1, mark.top() + 2, 12, 12)
            painter.drawRoundedRect(box, 2, 2)
            if self.seen:
                painter.drawPolyline(
                    [box.topLeft() + QPointF(2.5, 6), box.topLeft() + QPointF(5, 9), box.topLeft() + QPointF(9.5, 3)]
                )
            painter.setPen(colour("text" if self.seen else "quiet"))
            painter.drawText(words, int(Qt.AlignmentFlag.AlignTop), "\n".join(self._lines(words.width())))

    def _lines(self, room_px: float) -> list[str]:
        """Return the title on two lines at most; the whole of it is the tool tip, and stands above the large picture."""
        metrics = self.fontMetrics()
        first, *rest = wrapped(self._title, room_px, metrics.horizontalAdvance)
        return [first, metrics.elidedText("".join(rest), Qt.TextElideMode.ElideMiddle, int(room_px))] if rest else [first]

    def _picture(self, size: QSize) -> QPixmap:
        """Return the picture at this size, kept: shrinking it well takes longer than drawing it."""
        ratio = self.devicePixelRatioF()
        wanted = QSize(round(size.width() * ratio), round(size.height() * ratio))
        if self._small.size() != wanted:
            smooth = Qt.TransformationMode.SmoothTransformation
            self._small = QPixmap.fromImage(self._image.scaled(wanted, Qt.AspectRatioMode.IgnoreAspectRatio, smooth))
        return self._small

    def _name(self) -> None:
        state = self.tr("looked at") if self.seen else self.tr("not looked at yet")
        self.setAccessibleName(f"{self._title}, {state}")
        self.setToolTip(f"{self._title} ({state})")


class _Full(QWidget):
    """A picture as large as there is room."""

    def __init__(self) -> None:
        super().__init__()
        self._image, self._fitted = QImage(), QPixmap()

    def sizeHint(self) -> QSize:
        return QSize(640, 480)

    def show_image(self, image: QImage, title: str) -> None:
        """Show another picture."""
        self._image, self._fitted = image, QPixmap()
        self.setAccessibleName(title)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._image.isNull():
            return
        ratio = self.devicePixelRatioF()
        size = self._image.size().scaled(self.size() * ratio, Qt.AspectRatioMode.KeepAspectRatio)
        if self._fitted.size() != size:
            smooth = Qt.TransformationMode.SmoothTransformation
            self._fitted = QPixmap.fromImage(self._image.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, smooth))
            self._fitted.setDevicePixelRatio(ratio)
        shown = self._fitted.deviceIndependentSize()
        left, top = (self.width() - shown.width()) / 2, (self.height() - shown.height()) / 2
        QPainter(self).drawPixmap(QPointF(round(left), round(top)), self._fitted)


class ContactSheet(QStackedWidget):
    """Thumbnails, or one picture at full size.

    Signals
    -------
    looked(index) : a picture was opened at full size
    opened(is_open) : a picture takes the place of the sheet, or the sheet is back
    way_wanted() : the button beside the words of an empty sheet was pressed
    """

    looked = Signal(int)
    opened = Signal(bool)
    way_wanted = Signal()

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
        self.way = QPushButton()
        self.way.clicked.connect(self.way_wanted)
        nothing = QWidget()
        words = QVBoxLayout(nothing)
        words.setContentsMargins(GAP_PX, GAP_PX, GAP_PX, GAP_PX)
        words.addStretch(1)
        words.addWidget(self.empty)
        words.addWidget(self.way, 0, Qt.AlignmentFlag.AlignHCenter)
        words.addStretch(1)
        self._grid_host = QWidget()
        self._grid = QGridLayout(self._grid_host)
        self._grid.setContentsMargins(GAP_PX, GAP_PX, GAP_PX, GAP_PX)
        self._grid.setSpacing(GAP_PX)
        self._grid.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setWidget(self._grid_host)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._full, page = _Full(), QWidget()
        self.title = QLabel()
        self.title.setObjectName("heading")
        self.title.setWordWrap(True)
        self.back, self.before, self.after = (
            QPushButton(t) for t in (self.tr("All pictures"), self.tr("Previous"), self.tr("Next"))
        )
        self.back.clicked.connect(self.close_picture)
        self.before.clicked.connect(lambda: self.open_picture(self._open - 1))
        self.after.clicked.connect(lambda: self.open_picture(self._open + 1))
        for key, button in ((Qt.Key.Key_Escape, self.back), (Qt.Key.Key_Left, self.before), (Qt.Key.Key_Right, self.after)):
            button.setToolTip(QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText))
            short = QShortcut(QKeySequence(key), page)
            short.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            short.activated.connect(button.click)
        bar = QHBoxLayout()
        for widget in (self.back, self.before, self.after):
            bar.addWidget(widget)
        bar.addStretch(1)
        column = QVBoxLayout(page)
        column.setContentsMargins(GAP_PX, GAP_PX, GAP_PX, GAP_PX)
        column.setSpacing(8)
        column.addLayout(bar)
        column.addWidget(self.title)
        column.addWidget(self._full, 1)
        for widget in (nothing, self._scroll, page):
            self.addWidget(widget)
        self.currentChanged.connect(lambda page: self.opened.emit(page == 2))
        self.setAccessibleName(self.tr("Contact sheet"))

    @property
    def is_open(self) -> bool:
        """Whether one picture stands at full size."""
        return self.currentIndex() == 2

    def show_words(self, words: str, way: str = "") -> None:
        """Say why there are no pictures, or that they are being made; `way` names a button for what can be done."""
        self.empty.setText(words)
        self.way.setText(way)
        self.way.setVisible(bool(way))
        self.setCurrentIndex(0)

    def show_pictures(self, titles: Sequence[str], images: Sequence[QImage], seen: Sequence[bool]) -> None:
        """Show the sheet; `seen` says of each picture whether it was looked at."""
        for thumb in self._thumbs:
            self._grid.removeWidget(thumb)
            thumb.deleteLater()
        self._images, self._titles, self._thumbs, self._open = list(images), list(titles), [], -1
        for i, (title, image, looked_at) in enumerate(zip(titles, images, seen, strict=True)):
            thumb = Thumb(i, title, image)
            thumb.set_seen(looked_at)
            thumb.opened.connect(self.open_picture)
            self._thumbs.append(thumb)
        self._arrange()
        self.setCurrentIndex(1)

    def open_picture(self, index: int) -> None:
        """Show one picture at full size and mark it as looked at."""
        if not 0 <= index < len(self._images):
            return
        self._open = index
        self._full.show_image(self._images[index], self._titles[index])
        self.title.setText(f"{index + 1} / {len(self._images)}   {self._titles[index]}")
        self.before.setEnabled(index > 0)
        self.after.setEnabled(index < len(self._images) - 1)
        self._thumbs[index].set_seen(True)
        self.setCurrentIndex(2)
        (self.after if self.after.isEnabled() else self.back).setFocus()
        self.looked.emit(index)

    def close_picture(self) -> None:
        """Back to the sheet."""
        self.setCurrentIndex(1)
        if 0 <= self._open < len(self._thumbs):
            self._thumbs[self._open].setFocus()

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._arrange()

    def _arrange(self) -> None:
        bar = self._scroll.verticalScrollBar().sizeHint().width()
        columns, width = sheet_columns(len(self._thumbs), self.width() - bar - GAP_PX, self.height() - GAP_PX)
        for i, thumb in enumerate(self._thumbs):
            thumb.set_width(width)
            self._grid.addWidget(thumb, i // columns, i % columns)


def sheet_columns(count: int, width: int, height: int) -> tuple[int, int]:
    """Return how many columns of which width show `count` pictures as large as they can be without scrolling.

    Where they would become smaller than LEAST_PX they keep that size, and the sheet scrolls.
    """
    most = max(1, width // (LEAST_PX + GAP_PX))
    best, found = 0, most
    for columns in range(1, most + 1):
        rows = -(-count // columns)
        high = height // max(1, rows) - WORDS_PX - GAP_PX
        wide = min(MOST_PX, width // columns - GAP_PX, high * 4 // 3)
        if wide > best:
            best, found = wide, columns
    if best >= LEAST_PX:
        return found, best
    return most, max(80, min(MOST_PX, width // most - GAP_PX))
