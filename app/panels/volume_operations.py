"""Operations on the active volume: choose one, set its numbers, see it on the stage, apply it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from engine.case.case import Case
from engine.volumes.recipe import FOLLOWING
from engine.volumes.volume import Volume


@dataclass(frozen=True)
class Number:
    """A number an operation asks for."""

    words: str
    value: float
    low: float
    high: float
    unit: str
    decimals: int = 1


@dataclass(frozen=True)
class Operation:
    """What the form shows for an operation. `other`: it needs a second volume; `fresh`: it offers a new volume first."""

    name: str
    words: str
    hint: str
    numbers: tuple[Number, ...] = ()
    other: bool = False
    fresh: bool = False
    needs_shape: bool = True


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
        self.operations = self._operations()
        self.which = QComboBox()
        self.which.setAccessibleName(self.tr("Operation"))
        self.which.addItem(self.tr("Choose an operation\u2026"), None)
        for o in self.operations:
            self.which.addItem(o.words, o.name)
        self.which.setMaxVisibleItems(20)
        self.hint = QLabel()
        self.hint.setObjectName("quiet")
        self.hint.setWordWrap(True)
        self.other = QComboBox()
        self.other.setAccessibleName(self.tr("Second volume"))
        self._boxes: list[QDoubleSpinBox] = []
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
        self.discard = QPushButton(self.tr("Discard"))
        row = QHBoxLayout()
        row.addWidget(self.discard, 1)
        row.addWidget(self.apply, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 8, 0, 0)
        self._column.setSpacing(8)
        for w in (self.which, self.hint, self._form):
            self._column.addWidget(w)
        where = QHBoxLayout()
        where.setSpacing(16)
        where.addWidget(self.fresh)
        where.addWidget(self.follow, 1)
        self._column.addLayout(where)
        self._column.addWidget(self.outcome)
        self._column.addLayout(row)
        self._column.addStretch(1)
        self.which.activated.connect(lambda _: self.choose(self.which.currentData()))
        self.other.activated.connect(lambda _: self.changed.emit())
        self.apply.clicked.connect(self.apply_wanted)
        self.discard.clicked.connect(self.discard_wanted)
        self.choose(None)

    @property
    def operation(self) -> Operation | None:
        """The chosen operation."""
        return next((o for o in self.operations if o.name == self.which.currentData()), None)

    @property
    def numbers(self) -> tuple[float, ...]:
        """The numbers as they stand in the form, in the order of the operation."""
        return tuple(b.value() for b in self._boxes)

    def choose(self, name: str | None) -> None:
        """Show the form of an operation, or none."""
        self.which.setCurrentIndex(max(0, self.which.findData(name)))
        o = self.operation
        fresh = QWidget()
        fresh.setProperty("plain", True)
        self._boxes = []
        if o is not None and o.name == "margin":
            self._fill_margins(fresh, o)
        elif o is not None:
            form = QFormLayout(fresh)
            form.setContentsMargins(0, 0, 0, 0)
            form.setVerticalSpacing(8)
            if o.other:
                self.other.setParent(None)
                form.addRow(self.tr("Volume B"), self.other)
                self.other.show()
            for n in o.numbers:
                form.addRow(n.words, self._box(n))
        if o is None or not o.other:
            self.other.setParent(self)
            self.other.hide()
        self._column.replaceWidget(self._form, fresh)
        self._form.deleteLater()
        self._form = fresh
        self.hint.setText(o.hint if o else self.tr("Each is shown on the stage, dashed, before it is applied."))
        self.fresh.setVisible(o is not None)
        self.fresh.setChecked(o is not None and o.fresh)
        self._offer_following()
        self.follow.setChecked(o is not None and o.fresh)
        self.discard.setVisible(o is not None)
        self.apply.setVisible(o is not None)
        self.show_outcome("", False)
        self.changed.emit()

    def _offer_following(self) -> None:
        """A new volume can follow what it is made from, if it is made from volumes and numbers alone."""
        o = self.operation
        self.follow.setVisible(o is not None and o.name in FOLLOWING and self.fresh.isChecked())

    def show_volumes(self, case: Case | None, active: Volume | None) -> None:
        """Offer the other volumes as the second one."""
        before = self.other.currentData()
        self.other.clear()
        for v in case.volumes if case is not None else ():
            if active is None or v.key != active.key:
                self.other.addItem(v.name, v.key)
        self.other.setCurrentIndex(max(0, self.other.findData(before)))

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

    def _box(self, n: Number) -> QDoubleSpinBox:
        box = QDoubleSpinBox()
        box.setRange(n.low, n.high)
        box.setDecimals(n.decimals)
        box.setSuffix(f" {n.unit}")
        box.setSingleStep(10 if n.unit == "HU" else 1 if n.unit == "mm" else 0.5)
        box.setValue(n.value)
        box.setMinimumWidth(64)
        box.setAccessibleName(n.words)
        box.setToolTip(n.words)
        box.valueChanged.connect(lambda _: self.changed.emit())
        self._boxes.append(box)
        return box

    def _fill_margins(self, form: QWidget, o: Operation) -> None:
        grid = QGridLayout(form)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(8)
        for i, n in enumerate(o.numbers):
            grid.addWidget(QLabel(n.words), i // 2, 2 * (i % 2))
            grid.addWidget(self._box(n), i // 2, 2 * (i % 2) + 1)
        same = QPushButton(self.tr("All as the first"))
        same.clicked.connect(lambda: [b.setValue(self._boxes[0].value()) for b in self._boxes])
        grid.addWidget(same, 3, 0, 1, 4)

    def _operations(self) -> tuple[Operation, ...]:
        tr: Any = self.tr
        mm, hu = "mm", "HU"
        directions = (tr("Left"), tr("Right"), tr("Anterior"), tr("Posterior"), tr("Inferior"), tr("Superior"))
        margins = tuple(Number(d, 5.0, -100, 100, mm) for d in directions)
        gap = (Number(tr("Gap"), 3.0, 0, 100, mm),)
        inside = tr("Keeps the part of A at least the gap inside B.")
        outside = tr("Keeps the part of A at least the gap away from B.")
        return (
            Operation("interpolate", tr("Fill missing slices"), tr("Interpolates between the painted slices.")),
            Operation("copy above", tr("Copy from the slice above"), tr("Towards the head; replaces the slice shown.")),
            Operation("copy below", tr("Copy from the slice below"), tr("Towards the feet; replaces the slice shown.")),
            Operation("smooth", tr("Smooth"), tr("Rounds each line and keeps its area."),
                      (Number(tr("Width"), 2.0, 0.1, 20, mm),)),
            Operation("fill holes", tr("Fill holes"), tr("Closes holes within a slice; 0 closes all."),
                      (Number(tr("Up to"), 0.0, 0, 500, "cm\u00b2"),)),
            Operation("remove islands", tr("Remove islands"), tr("Drops small separate pieces; 0 keeps only the largest."),
                      (Number(tr("Smaller than"), 0.0, 0, 1000, "cm\u00b3"),)),
            Operation("margin", tr("Margin"), tr("Grows by six distances; negative ones shrink."), margins, fresh=True),
            Operation("ring", tr("Ring"), tr("A shell around it, beginning at the gap and as thick as the width."),
                      (Number(tr("Gap"), 3.0, 0, 100, mm), Number(tr("Width"), 10.0, 0.5, 100, mm)), fresh=True),
            Operation("union", tr("Combine: A or B"), tr("What lies in either. A is the active volume."), (), True),
            Operation("intersection", tr("Combine: A and B"), tr("What lies in both. A is the active volume."), (), True),
            Operation("subtract", tr("Combine: A without B"), tr("What lies in A but not in B."), (), True),
            Operation("keep inside", tr("Keep inside another"), inside, gap, True),
            Operation("keep outside", tr("Keep outside another"), outside, gap, True),
            Operation("threshold", tr("CT-number range inside"), tr("Keeps the pixels of A inside the range."),
                      (Number(tr("From"), -100, -1024, 3071, hu, 0), Number(tr("To"), 200, -1024, 3071, hu, 0))),
            Operation("body", tr("Body outline"), tr("Finds the patient's outline without the couch."),
                      (Number(tr("Above"), -300, -1000, 500, hu, 0),), needs_shape=False),
        )  # fmt: skip
