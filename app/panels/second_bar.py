"""The row under the stage and its line that says what lies over the planning CT and how it is looked at."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QSlider,
    QWidget,
)

from app.core.language import translated
from app.core.messages import messages_of
from app.panels.number_box import NumberBox
from engine.image.second_image import SecondImage

WINDOW_PX, WHOLE_PX, REST_PX = 64, 690, 150  # from WHOLE_PX on the boxes find room, REST_PX more for all words
NAME_PX, BLEND_PX, ARROW_PX = 260, 420, 44  # no wider, however much room there is


class SecondBar(QWidget):
    """Controls of the second image; hidden while the case has none.

    Signals
    -------
    shown_wanted(bool)   chosen(key)   blend_wanted(0..1)   curtain_wanted(bool)   window_wanted(low, high)
    removal_wanted()
    """

    shown_wanted = Signal(bool)
    chosen = Signal(str)
    blend_wanted = Signal(float)
    curtain_wanted = Signal(bool)
    window_wanted = Signal(float, float)
    removal_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.on = QCheckBox(self.tr("Second image"))
        self.on.setToolTip(self.tr("Show the second image, or the planning CT alone (X)"))
        self.on.clicked.connect(self.shown_wanted)
        self._names: list[str] = []
        self.which = QComboBox()
        self.which.setAccessibleName(self.tr("Which second image"))
        self.which.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.which.setMinimumContentsLength(7)
        self.which.activated.connect(lambda i: self.chosen.emit(self.which.itemData(i)))
        self.blend = QSlider(Qt.Orientation.Horizontal)
        self.blend.setRange(0, 100)
        self.blend.setPageStep(10)
        self.blend.setMinimumWidth(48)
        self.blend.setMaximumWidth(BLEND_PX)
        self.blend.setAccessibleName(self.tr("Blend of the second image, percent"))
        self.blend.setToolTip(self.tr("Blend: planning CT at the left, second image at the right (K less, L more)"))
        self.blend.valueChanged.connect(lambda v: self.blend_wanted.emit(v / 100))
        self.curtain = QCheckBox(self.tr("Curtain"))
        self.curtain.setToolTip(
            self.tr("Planning CT left of a line, second image right of it (C); drag the line, or Shift and the arrow keys")
        )
        self.curtain.clicked.connect(self.curtain_wanted)
        self.low, self.high = NumberBox(), NumberBox()
        for box, name in ((self.low, self.tr("Darkest value")), (self.high, self.tr("Brightest value"))):
            box.setRange(-1e6, 1e6)
            box.setKeyboardTracking(False)
            box.setButtonSymbols(NumberBox.ButtonSymbols.NoButtons)
            box.setFixedWidth(WINDOW_PX)
            box.setAlignment(Qt.AlignmentFlag.AlignCenter)
            box.setAccessibleName(name)
            box.setToolTip(self.tr("{} of the second image (Ctrl and drag with the right button)").format(name))
            box.valueChanged.connect(lambda _, b=box: self._window_typed(b))
        self.remove = QPushButton(self.tr("Remove"))
        self.remove.setToolTip(self.tr("Take the second image out of the case; undo brings it back"))
        self.remove.clicked.connect(self.removal_wanted)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 2, 8, 2)
        row.setSpacing(8)
        self.share = QLabel()
        self.share.setObjectName("quiet")
        self.share.setFixedWidth(self.share.fontMetrics().horizontalAdvance("100 %") + 4)
        for widget in (self.on, self.which, QLabel(self.tr("Blend")), self.blend, self.share, self.curtain):
            row.addWidget(widget, 1 if widget is self.blend else 0)
        row.addStretch(0)
        self._window, self._dash, self.unit = QLabel(self.tr("Window")), QLabel("\u2013"), QLabel()
        self._window.setBuddy(self.low)
        self.unit.setObjectName("quiet")
        for widget in (self._window, self.low, self._dash, self.high, self.unit, self.remove):
            row.addWidget(widget)
        # Like the quiet line below it, it must never widen the window; what finds no room has keys or the mouse.
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        row.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        self.hide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._fit(event.size().width())

    def _fit(self, wide: int) -> None:
        """Show what finds room; the name of the image gets what is to spare."""
        for widget in (self.low, self.high):
            widget.setVisible(wide >= WHOLE_PX)
        # What the boxes are is told before the dash between them and before the share, which the slider shows as well.
        word, dash = (w.sizeHint().width() + 8 for w in (self._window, self._dash))
        told = wide >= WHOLE_PX + word - dash
        self._window.setVisible(told)
        self._dash.setVisible(wide >= WHOLE_PX + (word if told else 0))
        self.share.setVisible(wide >= WHOLE_PX + word + self.share.width() + 8)
        self.unit.setVisible(wide >= WHOLE_PX + REST_PX and bool(self.unit.text()))
        self.remove.setVisible(wide >= WHOLE_PX - 150)
        self.which.setVisible(wide >= WHOLE_PX - 240)
        least = self.which.minimumSizeHint().width()
        letters = self.which.fontMetrics()
        named = max((letters.horizontalAdvance(n) for n in self._names), default=0) + ARROW_PX
        room = max(least, min(named, least + max(0, wide - WHOLE_PX - REST_PX), NAME_PX))
        self.which.setFixedWidth(room)
        for i, name in enumerate(self._names):
            self.which.setItemText(i, letters.elidedText(name, Qt.TextElideMode.ElideRight, room - ARROW_PX + 8))

    def _window_typed(self, box: NumberBox) -> None:
        """Ask for the window as typed; an end that the other one has passed is moved beyond it, and that is said."""
        low, high, least = self.low.value(), self.high.value(), 10.0 ** -self.low.decimals()
        words = ""
        if low >= high and box is self.low:
            high = low + least
            words = self.tr("Brightest value: moved to {0}, because it must lie above the darkest.")
            words = words.format(self.high.textFromValue(high))
        elif low >= high:
            low = high - least
            words = self.tr("Darkest value: moved to {0}, because it must lie below the brightest.")
            words = words.format(self.low.textFromValue(low))
        self.window_wanted.emit(low, high)
        messages = messages_of(self)
        if words and messages is not None:
            messages.info(words)

    def show_state(self, overlay: Any, images: tuple[SecondImage, ...]) -> None:
        """Show what the overlay is set to."""
        self.setVisible(bool(images))
        image = overlay.image
        if image is None:
            return
        parts = (self.on, self.which, self.blend, self.curtain, self.low, self.high)
        for part in parts:
            part.blockSignals(True)
        self.on.setChecked(overlay.shown)
        if [self.which.itemData(i) for i in range(self.which.count())] != [i.key for i in images]:
            self.which.clear()
            self._names = [self._words(i) for i in images]
            for i, name in zip(images, self._names, strict=True):
                self.which.addItem(name, i.key)
                self.which.setItemData(self.which.count() - 1, self._origin(i), Qt.ItemDataRole.ToolTipRole)
        self.which.setCurrentIndex(next(n for n, i in enumerate(images) if i.key == image.key))
        self.which.setToolTip(self._origin(image))
        self._dash.setToolTip(image.unit)
        self.unit.setText(image.unit)
        self.blend.setValue(round(100 * overlay.blend))
        self.share.setText(f"{self.blend.value()} %")
        self.curtain.setChecked(overlay.curtain)
        for box, value in zip((self.low, self.high), overlay.window, strict=True):
            box.setDecimals(1 if image.unit == "SUV" else 0)
            box.setSingleStep(0.5 if image.unit == "SUV" else 20)
            box.setValue(value)
        for part in parts:
            part.blockSignals(False)
        self._fit(self.width())

    def _words(self, image: SecondImage) -> str:
        kind = {"PT": "PET"}.get(image.modality, image.modality)
        return f"{kind}  {image.name}"

    def _origin(self, image: SecondImage) -> str:
        return self.tr("{}\nplaced by: {}").format(image.name, translated(image.origin))
