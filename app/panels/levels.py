"""Isodose levels, in percent of the prescription or in Gy, and how dose is drawn."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from app.core.draft_edits import DraftEdits
from app.core.painting import painting
from app.core.tokens import SMALL_PX, colour, tabular
from app.core.workspace import Workspace, only_beams
from app.models.numbers import shown, typed
from engine.case.case import Case

ROW_PX = 18
DEFAULT = (107.0, 100.0, 95.0, 80.0, 50.0, 30.0, 10.0)


class LevelKey(QWidget):
    """The levels as they are drawn: a sample of each line with percent and Gy."""

    def __init__(self, pens: Callable[[float], QPen]) -> None:
        super().__init__()
        self._pens = pens
        self._rows: tuple[tuple[float, float], ...] = ()
        self.setAccessibleName(self.tr("Isodose levels"))

    def show_levels(self, rows: tuple[tuple[float, float], ...]) -> None:
        """Show (percent, Gy) rows; Gy 0 means there is no prescription."""
        if rows == self._rows:
            return  # a weight that moves must not lay the window out anew
        self._rows = rows
        self.setMinimumHeight(ROW_PX * ((len(rows) + 1) // 2) + 6)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(240, ROW_PX * ((len(self._rows) + 1) // 2) + 6)

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour("stage_ground"))
            painter.drawRoundedRect(self.rect(), 4, 4)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # thin lines would lose half their light
            painter.setFont(tabular(self.font(), SMALL_PX))
            per_column = (len(self._rows) + 1) // 2
            half = self.width() / 2
            for i, (percent, gy) in enumerate(self._rows):
                x, y = 10 + half * (i // per_column if per_column else 0), 3 + ROW_PX * (i % per_column) + ROW_PX / 2
                pen = self._pens(percent)
                painter.setPen(QPen(pen))
                painter.drawLine(int(x), int(y), int(x + 34), int(y))
                painter.setPen(colour("stage_text"))
                words = f"{shown(percent, 1)} %" + (f"  {gy:.1f} Gy" if gy else "")
                painter.drawText(int(x + 42), int(y + 5), words)


class LevelsPanel(QWidget):
    """Edits the levels as a line of numbers; switches lines, labels and extremes; sets the strength of the wash.

    The draft keeps percentages of the prescription; Gy is a way of typing and showing them.

    Signals
    -------
    look_changed(lines, labels, labels in Gy, wash_percent)   extremes_changed(bool)
    """

    look_changed = Signal(bool, bool, bool, int)
    extremes_changed = Signal(bool)

    def __init__(self, workspace: Workspace, edits: DraftEdits, pens: Callable[[float], QPen]) -> None:
        super().__init__()
        self._workspace, self._edits = workspace, edits
        self._reference_gy = 0.0
        heading = self.heading = QLabel(self.tr("Isodose lines"))
        heading.setObjectName("heading")
        self.key = LevelKey(pens)
        self.levels = QLineEdit()
        self.levels.setAccessibleName(self.tr("Isodose levels"))
        self.levels.setToolTip(self.tr("Numbers with spaces between; Enter applies"))
        self.unit = QComboBox()
        self.unit.addItems(["%", self.tr("Gy")])
        self.unit.setAccessibleName(self.tr("Unit of the isodose levels"))
        self.unit.setToolTip(self.tr("Type and show levels in percent of the prescription or in Gy"))
        self.unit.currentIndexChanged.connect(self._take)
        self.levels.editingFinished.connect(self._apply)
        self.reset = QPushButton(self.tr("Usual"))
        self.reset.setToolTip(self.tr("Back to the usual levels"))
        self.reset.clicked.connect(lambda: self._edits.set_levels(DEFAULT))
        self.lines, self.labels = QCheckBox(self.tr("Lines")), QCheckBox(self.tr("Labels"))
        self.extremes = QCheckBox(self.tr("Extremes"))
        self.extremes.setToolTip(
            self.tr("Mark the highest dose of the plane, and the lowest and highest in the target there")
        )
        self.extremes.toggled.connect(self.extremes_changed)
        self.lines.setChecked(True)
        self.labels.setChecked(True)
        self.wash = QSlider(Qt.Orientation.Horizontal)
        self.wash.setRange(0, 60)
        self.wash.setAccessibleName(self.tr("Strength of the dose wash"))
        self.wash.setToolTip(self.tr("Dose wash: off at the left, never so strong that the anatomy is hidden"))
        for box in (self.lines, self.labels):
            box.toggled.connect(self._looks)
        self.wash.valueChanged.connect(self._looks)
        self.unit.currentIndexChanged.connect(self._looks)
        edit, looks = QHBoxLayout(), QHBoxLayout()
        edit.setSpacing(6)
        looks.setSpacing(8)
        edit.addWidget(self.levels, 1)
        edit.addWidget(self.unit)
        edit.addWidget(self.reset)
        for widget in (self.lines, self.labels, self.extremes, QLabel(self.tr("Wash"))):
            looks.addWidget(widget)
        looks.addWidget(self.wash, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(heading)
        column.addWidget(self.key)
        column.addLayout(edit)
        column.addLayout(looks)
        workspace.case_changed.connect(self._follow)
        workspace.active_changed.connect(self._take)
        self._take()

    def _follow(self, before: Case | None, after: Case | None) -> None:
        if not only_beams(before, after):
            self._take()

    def _take(self, *_: object) -> None:
        draft = self._workspace.draft
        levels = draft.levels_percent if draft else ()
        dose = self._dose_gy()
        self.unit.setEnabled(dose > 0)
        if not dose and self.unit.currentIndex():
            self.unit.setCurrentIndex(0)  # comes back here
            return
        self.key.show_levels(tuple((p, p * dose / 100.0) for p in levels))
        if not self.levels.hasFocus() or not self.levels.isModified():
            factor = dose / 100.0 if self.in_gy else 1.0
            text = "  ".join(shown(p * factor, 2 if self.in_gy else 1) for p in levels)
            if text != self.levels.text():
                self.levels.setText(text)
        self.setEnabled(draft is not None)

    @property
    def in_gy(self) -> bool:
        """Whether levels are typed and shown in Gy."""
        return self.unit.currentIndex() == 1

    def show_reference(self, gy: float, words: str) -> None:
        """Let another dose than the prescription be 100 %, that of a sum of drafts, named by `words`; 0 ends it."""
        heading = self.tr("Isodose lines: sum, {0}").format(words) if words else self.tr("Isodose lines")
        if (gy, heading) != (self._reference_gy, self.heading.text()):
            self._reference_gy = gy
            self.heading.setText(heading)
            self.heading.setToolTip(self.tr("100 % are the prescriptions of all drafts added") if words else "")
            self._take()

    def _dose_gy(self) -> float:
        if self._reference_gy:
            return self._reference_gy
        draft = self._workspace.draft
        return draft.prescription.dose_gy if draft is not None and draft.prescription is not None else 0.0

    def _apply(self) -> None:
        if not self.levels.isModified():
            return
        self.levels.setModified(False)
        words = self.levels.text().replace("%", " ").replace(self.tr("Gy"), " ").replace(";", " ").split()
        numbers = [typed(w) for w in words]
        if any(n is None for n in numbers):
            wrong = words[numbers.index(None)]
            text = self.tr("“{0}” is not a percentage. Type numbers with spaces between, such as 107 100 95 50.")
            if self.in_gy:
                text = self.tr("“{0}” is not a dose. Type numbers in Gy with spaces between, such as 60 57 30.")
            self._workspace.message.emit("warning", text.format(wrong))
        else:
            factor = 100.0 / self._dose_gy() if self.in_gy else 1.0
            self._edits.set_levels(tuple(n * factor for n in numbers if n is not None))
        self._take()

    def _looks(self, *_: object) -> None:
        self.look_changed.emit(self.lines.isChecked(), self.labels.isChecked(), self.in_gy, self.wash.value())
