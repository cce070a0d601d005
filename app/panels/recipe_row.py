"""What the active volume is derived from, with its numbers to read and to change; hidden for a plain volume."""

from __future__ import annotations

import re

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.core.derived import DerivedVolumes
from app.core.language import translated
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.case.derived import in_words


class RecipeRow(QWidget):
    """Words, numbers and the way to a plain volume.

    Signals
    -------
    refused(words) : numbers that cannot be
    """

    refused = Signal(str)

    def __init__(self, workspace: Workspace, derived: DerivedVolumes, parent: QWidget) -> None:
        super().__init__(parent)  # shown without a parent it would be a window
        self.setProperty("plain", True)
        self._workspace, self._derived = workspace, derived
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.numbers = QLineEdit()
        self.numbers.setAccessibleName(self.tr("Numbers of the recipe"))
        self.to_plain = QPushButton(self.tr("Make plain"))
        self.to_plain.setToolTip(self.tr("Keep the shape and follow nothing any more; undo brings the recipe back"))
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.numbers, 1)
        row.addStretch(0)
        row.addWidget(self.to_plain)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.words)
        column.addLayout(row)
        self.numbers.editingFinished.connect(self._changed)
        self.to_plain.clicked.connect(lambda: derived.make_plain(self._key()))
        workspace.case_changed.connect(lambda *_: self._follow())
        workspace.active_changed.connect(self._follow)
        derived.changed.connect(self._follow)
        self._follow()

    def _key(self) -> str:
        v = self._workspace.volume
        return v.key if v is not None else ""

    def _follow(self) -> None:
        case, v = self._workspace.case, self._workspace.volume
        recipe = v.recipe if v is not None else None
        self.setVisible(recipe is not None)
        if case is None or v is None or recipe is None:
            return
        state = self._derived.state_of(v)
        text = self.tr("Derived: {}.").format(translated(in_words(case, v)))
        self.words.setText(self.tr("{} Out of date: {}.").format(text, state.rstrip(".")) if state else text)
        self.words.setProperty("level", "warning" if state else "")
        self.words.style().polish(self.words)
        self.numbers.setVisible(bool(recipe.numbers))
        tips = {
            "margin": self.tr("One number for all, or one for each: left, right, anterior, posterior, inferior, superior"),
            "ring": self.tr("Gap and width in mm"),
        }
        self.numbers.setToolTip(tips.get(recipe.what, self.tr("The number of the operation it is derived by")))
        one = recipe.what == "margin" and len(set(recipe.numbers)) == 1
        shown = " ".join(f"{n:g}" for n in recipe.numbers[: 1 if one else None])
        if not self.numbers.isModified() or not self.numbers.hasFocus():
            self.numbers.setText(shown)

    def _changed(self) -> None:
        if not self.numbers.isModified():
            return
        self.numbers.setModified(False)
        try:
            numbers = tuple(float(t) for t in re.split(r"[\s;]+", self.numbers.text().replace(",", ".").strip()))
            self._derived.set_numbers(self._key(), numbers)
        except ValueError:
            words = self.tr("“{0}”: these are no numbers. Write them apart by spaces, such as 5 or 5 5 5 5 8 8.")
            self.refused.emit(words.format(self.numbers.text()))
        except UserError as error:
            self.refused.emit(translated(error))
        self._follow()
