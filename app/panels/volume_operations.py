"""Operations on the active volume: choose one, set its numbers, see it on the stage, apply it."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.panels.number_box import NumberBox
from app.panels.operation_list import DEGREES, Number, Operation, groups
from engine.case.case import Case
from engine.volumes.recipe import FOLLOWING
from engine.volumes.volume import Volume


class VolumeOperations(QWidget):
    """The form of the operations.

    Signals
    -------
    changed() : another operation, number or second volume: the preview is to be made again
    apply_wanted()   discard_wanted()
    """

    changed = Signal()
    apply_wanted = Signal()
    discard_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.operations = tuple(o for _, members in groups() for o in members)
        self._chosen: Operation | None = None
        self.which = QPushButton()
        self.which.setAccessibleName(self.tr("Operation"))
        self.which.setMenu(self._menu())
        self.hint = QLabel()
        self.hint.setObjectName("quiet")
        self.hint.setWordWrap(True)
        self.other = QComboBox()
        self.other.setAccessibleName(self.tr("Second volume"))
        self._others: list[tuple[str, str]] = []
        self._boxes: list[NumberBox] = []
        self._told: tuple[float, ...] = ()
        self._form = QWidget()
        self._form.setProperty("plain", True)
        self.fresh = QCheckBox(self.tr("Put it into a new volume"))
        self.follow = QCheckBox(self.tr("Keep it derived"))
        self.follow.setToolTip(self.tr("The new volume is made again whenever a volume it is made from changes"))
        self.fresh.toggled.connect(self._offer_following)
        self.outcome = QLabel()
        self.outcome.setWordWrap(True)
        self._wanted = False
        self.apply = QPushButton(self.tr("Apply"))
        self.apply.setProperty("main", True)
        self.apply.setToolTip(self.tr("Make what is shown dashed one step that can be undone (Return)"))
        self.discard = QPushButton(self.tr("Discard"))
        self.discard.setToolTip(self.tr("Leave everything as it is (Esc)"))
        row = QHBoxLayout()
        row.addWidget(self.discard, 1)
        row.addWidget(self.apply, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 8, 0, 0)
        self._column.setSpacing(6)
        self.same = QPushButton(self.tr("All as the first"))
        self.same.clicked.connect(lambda: [b.setValue(self._boxes[0].value()) for b in self._boxes])
        what = QHBoxLayout()
        what.setSpacing(8)
        what.addWidget(self.hint, 1)
        what.addWidget(self.same)
        self._column.addWidget(self.which)
        self._column.addLayout(what)
        self._column.addWidget(self._form)
        where = QHBoxLayout()
        where.setSpacing(16)
        where.addWidget(self.fresh)
        where.addWidget(self.follow, 1)
        self._column.addLayout(where)
        self._column.addWidget(self.outcome)
        self._column.addLayout(row)
        self._column.addStretch(1)
        self.other.activated.connect(lambda _: self.changed.emit())
        self.apply.clicked.connect(self.apply_wanted)
        self.discard.clicked.connect(self.discard_wanted)
        self.choose(None)

    @property
    def operation(self) -> Operation | None:
        """The chosen operation."""
        return self._chosen

    @property
    def follows(self) -> bool:
        """Whether a new volume can follow what it is made from: it is made from volumes and numbers alone."""
        o = self.operation
        return o is not None and (o.name in FOLLOWING or o.name == "skin")

    @property
    def numbers(self) -> tuple[float, ...]:
        """The numbers as they stand in the form, in the order of the operation."""
        return tuple(b.value() for b in self._boxes)

    def choose(self, name: str | None) -> None:
        """Show the form of an operation, or none."""
        o = self._chosen = next((o for o in self.operations if o.name == name), None)
        self.which.setText(o.words if o is not None else self.tr("Choose an operation\u2026"))
        fresh = QWidget()
        fresh.setProperty("plain", True)
        self._boxes = []
        if o is not None and len(o.numbers) == 6:
            self._fill_six(fresh, o)
        elif o is not None:
            form = QFormLayout(fresh)
            form.setContentsMargins(0, 0, 0, 0)
            form.setVerticalSpacing(6)
            if o.other:
                self.other.setParent(None)
                self.other.setAccessibleName(o.other)
                form.addRow(o.other, self.other)
                self.other.show()
                self.other.setCurrentIndex(-1)
                self._offer_others()
            for n in o.numbers:
                form.addRow(n.words, self._box(n))
        if o is None or not o.other:
            self.other.setParent(self)
            self.other.hide()
        self._column.replaceWidget(self._form, fresh)
        self._form.deleteLater()
        self._form = fresh
        for before, after in pairwise(
            (self.which, self.other, *self._boxes, self.same, self.fresh, self.follow, self.discard, self.apply)
        ):
            QWidget.setTabOrder(before, after)
        self.hint.setText(o.hint if o else self.tr("Each is shown on the stage, dashed, before it is applied."))
        self.same.setVisible(o is not None and o.name == "margin")
        self.fresh.setVisible(o is not None and not o.finds)
        self.fresh.setChecked(o is not None and o.fresh)
        self._offer_following()
        self.follow.setChecked(o is not None and o.fresh)
        self.discard.setVisible(o is not None)
        self.apply.setVisible(o is not None)
        self.show_outcome("", False)
        self._told = self.numbers
        self.changed.emit()

    def _offer_following(self) -> None:
        """A new volume can follow what it is made from, if it is made from volumes and numbers alone."""
        self.follow.setVisible(self.follows and self.fresh.isChecked())

    def show_volumes(self, case: Case | None, active: Volume | None) -> None:
        """Offer the other volumes as the second one."""
        volumes = case.volumes if case is not None else ()
        self._others = [(v.name, v.key) for v in volumes if active is None or v.key != active.key]
        self._offer_others()

    def _offer_others(self) -> None:
        before, o = self.other.currentData(), self.operation
        self.other.clear()
        if o is not None and o.anywhere:
            self.other.addItem(o.anywhere, None)
        for name, key in self._others:
            self.other.addItem(name, key)
        optional = o is not None and bool(o.anywhere)
        self.other.setCurrentIndex(0 if optional and before is None else max(0, self.other.findData(before)))

    def show_outcome(self, words: str, ready: bool) -> None:
        """Say what the preview shows and whether it can be applied."""
        self.outcome.setText(words)
        self.outcome.setVisible(bool(words))
        self.apply.setEnabled(ready)
        if ready and self._wanted:
            self._wanted = False
            self.apply.setFocus()

    def want_apply(self) -> None:
        """Give the keyboard to Apply, now or as soon as there is something to apply."""
        self._wanted = not self.apply.isEnabled()
        (self.discard if self._wanted else self.apply).setFocus()

    def _box(self, n: Number) -> NumberBox:
        box = NumberBox()
        box.setRange(n.low, n.high)
        box.setDecimals(n.decimals)
        box.setSuffix(n.unit if n.unit == DEGREES else f" {n.unit}")
        box.setSingleStep(10 if n.unit == "HU" else 1 if n.unit == "mm" else 0.5)
        box.setValue(n.value)
        box.setMinimumWidth(64)
        box.setAccessibleName(n.words)
        box.setToolTip(n.words)
        box.valueChanged.connect(self._number_changed)
        self._boxes.append(box)
        return box

    def _number_changed(self) -> None:
        """Return in a number says that it changed even if it did not: the preview then still holds."""
        if self.numbers != self._told:
            self._told = self.numbers
            self.changed.emit()

    def _fill_six(self, form: QWidget, o: Operation) -> None:
        """Show six numbers in two columns: margins by their axis, ways beside turns."""
        grid = QGridLayout(form)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        margin = o.name == "margin"
        for i, n in enumerate(o.numbers):
            row, column = divmod(i, 2) if margin else (i % 3, i // 3)
            label = QLabel(n.words)
            grid.addWidget(label, row, 2 * column)
            grid.addWidget(self._box(n), row, 2 * column + 1)
            label.setBuddy(self._boxes[-1])

    def _menu(self) -> QMenu:
        """Return the operations under their headings: as one list they would not fit a small screen."""
        menu = QMenu(self)
        for heading, members in groups():
            under = menu.addMenu(heading)
            for o in members:
                under.addAction(o.words).triggered.connect(lambda _=False, name=o.name: self._take(name))
        return menu

    def _take(self, name: str) -> None:
        """Choose by hand: the keyboard goes on to what the operation asks for first."""
        self.choose(name)
        o = self._chosen
        if o is not None and o.other:
            self.other.setFocus()
        elif self._boxes:
            self._boxes[0].setFocus()
            self._boxes[0].selectAll()
        else:
            self.want_apply()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.operation is not None:
            self.discard_wanted.emit()
            self.which.setFocus()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.apply.isEnabled() and self.operation is not None:
            self.apply_wanted.emit()
            self.which.setFocus()
        else:
            super().keyPressEvent(event)
