"""The tool column: every tool by its word, and the settings of the one in the hand."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from app.core.guard import Guard
from app.core.settings import Settings
from app.core.workspace import Workspace
from app.panels.grow_row import GrowRow
from app.panels.guard_row import GuardRow
from app.panels.number_box import NumberBox

LOOK = "look"
ROUND = ("brush", "eraser", "range", "nudge")


class VolumeTools(QWidget):
    """Chooses a tool.

    Signals
    -------
    chosen(name) : a tool's name, or "look" for an empty hand
    """

    chosen = Signal(str)

    def __init__(self, settings: Settings, guard: Guard, workspace: Workspace) -> None:
        super().__init__()
        self._settings = settings
        self._group = QButtonGroup(self)
        self.buttons: dict[str, QPushButton] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(6)
        for i, (name, word, key, hint) in enumerate(self._tools()):
            button = QPushButton(word)
            button.setCheckable(True)
            button.setToolTip(f"{word} ({key})\n{hint}")
            button.setProperty("tight", True)
            button.clicked.connect(lambda _=False, n=name: self.chosen.emit(n))
            self._group.addButton(button)
            grid.addWidget(button, i // 3, i % 3)
            self.buttons[name] = button
        self.buttons[LOOK].setChecked(True)
        self._hints = {name: hint for name, _, _, hint in self._tools()}
        self.hint = QLabel()
        self.hint.setObjectName("quiet")
        self.hint.setWordWrap(True)
        self._make_settings()
        self.guard = GuardRow(guard, workspace)
        self.growth = GrowRow()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addLayout(grid)
        column.addWidget(self.hint)
        column.addWidget(self._options)
        column.addWidget(self.growth)
        column.addWidget(self.guard)
        column.addStretch(1)
        settings.changed.connect(self._setting_changed)
        self.show_tool(LOOK)

    def _make_settings(self) -> None:
        """Make the row of every setting, and the tools it belongs to."""
        self.radius = self._box("brush/radius_mm", 1.0, 60.0, 1, self.tr(" mm"), self.tr("Brush radius ([ and ])"))
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(2, 120)
        self.slider.setAccessibleName(self.tr("Brush radius"))
        self.slider.setToolTip(self.tr("Brush radius ([ and ], Shift and wheel)"))
        self.slider.setValue(round(2 * self._settings.get("brush/radius_mm")))
        self.slider.valueChanged.connect(self._slid)
        self.ball = self._check("brush/ball", self.tr("Ball"), self.tr("A ball: paints the slices beside as well (D)"))
        self.pressure = self._check(
            "brush/pressure", self.tr("Pen pressure"), self.tr("A pen pressed lightly paints with a smaller radius")
        )
        self.low = self._box("range/low_hu", -1024, 3071, 0, self.tr(" HU"), self.tr("Lowest CT number painted"))
        self.high = self._box("range/high_hu", -1024, 3071, 0, self.tr(" HU"), self.tr("Highest CT number painted"))
        self.tolerance = self._box("grow/tolerance_hu", 1, 2000, 0, self.tr(" HU"), self.tr("How unlike may still join"))
        self.all_slices = self._check(
            "grow/all_slices", self.tr("All slices"), self.tr("Grow through all slices; shown before it is kept (D)")
        )
        self.neck = self._box(
            "grow/neck_mm", 0, 30, 1, self.tr(" mm"),
            self.tr("Neck: what hangs on only through necks narrower than this is left out; 0 lets all pass"),
        )  # fmt: skip
        self.reach = self._box(
            "grow/reach_mm",
            5,
            500,
            0,
            self.tr(" mm"),
            self.tr("Reach: farthest from the place; it says when it stopped there"),
        )
        self.most = self._box(
            "grow/most_cm3",
            1,
            9999,
            0,
            self.tr(" cm\u00b3"),
            self.tr("At most: largest volume; says when it stopped there"),
        )
        self._options = QWidget()
        self._options.setProperty("plain", True)
        self._form = QFormLayout(self._options)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setVerticalSpacing(6)
        self._rows = (
            (ROUND, self.tr("Radius"), _beside(self.slider, self.radius)),
            (("brush", "eraser", "range"), "", _beside(self.ball, self.pressure)),
            (("range",), self.tr("CT from, to"), _beside(self.low, self.high)),
            (("grow",), self.tr("Tolerance \u00b1"), _beside(self.tolerance, self.all_slices)),
            (("grow",), self.tr("Leaks"), _beside(self.neck, self.reach, self.most)),
        )
        for _, words, row in self._rows:
            self._form.addRow(words, row)

    def _tools(self) -> tuple[tuple[str, str, str, str], ...]:
        shift = self.tr("Shift takes away.")
        return (
            (LOOK, self.tr("Look"), "V", self.tr("Click moves the cross-hair, nothing is changed.")),
            ("brush", self.tr("Brush"), "B", self.tr("Drag to paint. Shift takes away, E swaps, D makes a ball.")),
            ("eraser", self.tr("Eraser"), "E", self.tr("Drag to take away. Shift paints, E swaps, D makes a ball.")),
            (
                "freehand",
                self.tr("Freehand"),
                "H",
                self.tr("Draw around it. Keys , and . go three slices, Ctrl+I fills.") + " " + shift,
            ),
            (
                "polygon",
                self.tr("Polygon"),
                "G",
                self.tr("Click the corners; Enter or a double click closes, Backspace takes one back.") + " " + shift,
            ),
            (
                "trace",
                self.tr("Edge trace"),
                "T",
                self.tr("Click along an edge; the line keeps to it. Enter closes.") + " " + shift,
            ),
            ("range", self.tr("Range brush"), "R", self.tr("Paints only CT numbers between the two below.")),
            ("grow", self.tr("Region grow"), "W", self.tr("Press; drag sideways to widen.") + " " + shift),
            (
                "nudge",
                self.tr("Nudge"),
                "N",
                self.tr("Push an edge: from inside outward, from outside inward."),
            ),
        )

    def keys(self) -> dict[str, str]:
        """Return the key of each tool."""
        return {key: name for name, _, key, _ in self._tools()}

    def show_tool(self, name: str) -> None:
        """Mark a tool as the one in the hand."""
        self._shown = name
        self.hint.show()
        self.buttons[name].setChecked(True)
        self.hint.setText(self._hints[name])
        wanted = [name in tools for tools, _, _ in self._rows]
        for (_, _, row), shown in zip(self._rows, wanted):
            self._form.setRowVisible(row, shown)
        self._options.setVisible(any(wanted))
        self._options.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.growth.setVisible(name == "grow")
        self.guard.setVisible(name != LOOK)

    def tell_growth(self, words: str, fraction: float) -> None:
        """Show what region growing says, in place of the hint."""
        self.growth.tell(words, fraction)
        self.hint.setVisible(not words)
        self.guard.setVisible(fraction < 0 and self._shown != LOOK)

    def deepen(self) -> bool:
        """Turn the depth of the tool in the hand on or off (ball, all slices); whether it has one."""
        box = {"brush": self.ball, "eraser": self.ball, "range": self.ball, "grow": self.all_slices}.get(self._shown)
        if box is not None:
            box.click()
        return box is not None

    def _box(self, key: str, low: float, high: float, decimals: int, unit: str, name: str) -> NumberBox:
        box = NumberBox()
        box.setRange(low, high)
        box.setDecimals(decimals)
        box.setSuffix(unit)
        box.setSingleStep(0.5 if decimals else 10)
        box.setKeyboardTracking(False)
        box.setMinimumWidth(72)
        box.setAccessibleName(name)
        box.setToolTip(name)
        box.setValue(self._settings.get(key))
        box.setProperty("key", key)
        box.valueChanged.connect(lambda value: self._settings.set(key, value))
        return box

    def _check(self, key: str, words: str, hint: str) -> QCheckBox:
        box = QCheckBox(words)
        box.setToolTip(hint)
        box.setChecked(self._settings.get(key))
        box.setProperty("key", key)
        box.toggled.connect(lambda on: self._settings.set(key, on))
        return box

    def _slid(self, halves: int) -> None:
        if round(2 * self._settings.get("brush/radius_mm")) != halves:
            self._settings.set("brush/radius_mm", halves / 2)

    def _setting_changed(self, key: str) -> None:
        value = self._settings.get(key) if "/" in key else None
        for box in (self.radius, self.low, self.high, self.tolerance, self.neck, self.reach, self.most):
            if box.property("key") == key and box.value() != value:
                box.setValue(value)
        for check in (self.ball, self.pressure, self.all_slices):
            if check.property("key") == key:
                check.setChecked(value)
        if key == "brush/radius_mm":
            self.slider.setValue(round(2 * value))


def _beside(*parts: QWidget) -> QWidget:
    """Put the parts of a row beside one another."""
    row = QWidget()
    row.setProperty("plain", True)
    line = QHBoxLayout(row)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(8)
    for part in parts:
        line.addWidget(part, 1 if len(parts) > 1 else 0)
    return row
