"""The tool column: every tool by its word, and the settings of the one in the hand."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QDoubleSpinBox,
    QFormLayout,
    QGridLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.core.settings import Settings

LOOK = "look"


class VolumeTools(QWidget):
    """Chooses a tool.

    Signals
    -------
    chosen(name) : a tool's name, or "look" for an empty hand
    """

    chosen = Signal(str)

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        self._settings = settings
        self._group = QButtonGroup(self)
        self.buttons: dict[str, QPushButton] = {}
        grid = QGridLayout()
        grid.setSpacing(8)
        for i, (name, word, key, hint) in enumerate(self._tools()):
            button = QPushButton(word)
            button.setCheckable(True)
            button.setToolTip(f"{word} ({key})\n{hint}")
            button.clicked.connect(lambda _=False, n=name: self.chosen.emit(n))
            self._group.addButton(button)
            grid.addWidget(button, i // 2, i % 2)
            self.buttons[name] = button
        self.buttons[LOOK].setChecked(True)
        self._hints = {name: hint for name, _, _, hint in self._tools()}
        self.hint = QLabel()
        self.hint.setObjectName("quiet")
        self.hint.setWordWrap(True)
        self.radius = self._box("brush/radius_mm", 0.5, 80.0, 1, self.tr(" mm"), self.tr("Brush radius ([ and ])"))
        self.low = self._box("range/low_hu", -1024, 3071, 0, self.tr(" HU"), self.tr("Lowest CT number painted"))
        self.high = self._box("range/high_hu", -1024, 3071, 0, self.tr(" HU"), self.tr("Highest CT number painted"))
        self.radius2 = self._box("brush/radius_mm", 0.5, 80.0, 1, self.tr(" mm"), self.tr("Brush radius ([ and ])"))
        self.tolerance = self._box("grow/tolerance_hu", 1, 2000, 0, self.tr(" HU"), self.tr("How unlike may still join"))
        self._options = QStackedWidget()
        self._pages = {
            "": self._page(),
            "brush": self._page((self.tr("Radius"), self.radius)),
            "range": self._page((self.tr("Radius"), self.radius2), (self.tr("From"), self.low), (self.tr("To"), self.high)),
            "grow": self._page((self.tr("Tolerance \u00b1"), self.tolerance)),
        }
        for page in self._pages.values():
            self._options.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(8)
        column.addLayout(grid)
        column.addWidget(self.hint)
        column.addWidget(self._options)
        column.addStretch(1)
        settings.changed.connect(self._setting_changed)
        self.show_tool(LOOK)

    def _tools(self) -> tuple[tuple[str, str, str, str], ...]:
        shift = self.tr("Shift takes away.")
        return (
            (LOOK, self.tr("Look"), "V", self.tr("Click moves the cross-hair, nothing is changed.")),
            ("brush", self.tr("Brush"), "B", self.tr("Drag to paint. Shift and wheel change the radius, E swaps.")),
            ("eraser", self.tr("Eraser"), "E", self.tr("Drag to take away. Shift and wheel change the radius.")),
            ("freehand", self.tr("Freehand"), "H", self.tr("Draw around it in one go.") + " " + shift),
            (
                "polygon",
                self.tr("Polygon"),
                "G",
                self.tr("Click the corners; Enter or a double click closes, Backspace takes one back.") + " " + shift,
            ),
            ("range", self.tr("Range brush"), "R", self.tr("Paints only CT numbers between the two below.")),
            ("grow", self.tr("Region grow"), "W", self.tr("Press on a place and drag sideways to widen.") + " " + shift),
            (
                "trace",
                self.tr("Edge trace"),
                "T",
                self.tr("Click along an edge; the line keeps to it. Enter closes.") + " " + shift,
            ),
        )

    def keys(self) -> dict[str, str]:
        """Return the key of each tool."""
        return {key: name for name, _, key, _ in self._tools()}

    def show_tool(self, name: str) -> None:
        """Mark a tool as the one in the hand."""
        self.buttons[name].setChecked(True)
        self.hint.setText(self._hints[name])
        page = "brush" if name == "eraser" else name
        front = self._pages.get(page, self._pages[""])
        self._options.setCurrentWidget(front)
        for one in self._pages.values():
            height = QSizePolicy.Policy.Preferred if one is front else QSizePolicy.Policy.Ignored
            one.setSizePolicy(QSizePolicy.Policy.Preferred, height)
        self._options.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)

    def _box(self, key: str, low: float, high: float, decimals: int, unit: str, name: str) -> QDoubleSpinBox:
        box = QDoubleSpinBox()
        box.setRange(low, high)
        box.setDecimals(decimals)
        box.setSuffix(unit)
        box.setSingleStep(0.5 if decimals else 10)
        box.setKeyboardTracking(False)
        box.setAccessibleName(name)
        box.setToolTip(name)
        box.setValue(self._settings.get(key))
        box.setProperty("key", key)
        box.valueChanged.connect(lambda value: self._settings.set(key, value))
        return box

    def _page(self, *rows: tuple[str, QWidget]) -> QWidget:
        page = QWidget()
        page.setProperty("plain", True)
        form = QFormLayout(page)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(8)
        for words, widget in rows:
            form.addRow(words, widget)
        return page

    def _setting_changed(self, key: str) -> None:
        for box in (self.radius, self.radius2, self.low, self.high, self.tolerance):
            if box.property("key") == key and box.value() != self._settings.get(key):
                box.setValue(self._settings.get(key))
