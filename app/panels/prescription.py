"""Prescription and normalisation of the active draft."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QPushButton, QWidget

from app.core.draft_edits import NORMALISATIONS, DraftEdits
from app.core.workspace import Workspace, only_beams
from app.panels.number_box import NumberBox
from app.panels.point_row import PointRow
from engine.case.case import Case


class PrescriptionPanel(QWidget):
    """Target, dose, fractions and what the plan is normalised to.

    Signals
    -------
    outline_wanted() : there is no target yet; the person wants to paint one
    """

    outline_wanted = Signal()

    def __init__(self, workspace: Workspace, edits: DraftEdits, narrow: bool = False) -> None:
        super().__init__()
        self._narrow = narrow
        self._workspace, self._edits = workspace, edits
        self._quiet = False
        self._build()
        workspace.case_changed.connect(self._follow)
        workspace.active_changed.connect(self._take)
        self._take()

    def _build(self) -> None:
        self.target = QComboBox()
        self.target.setAccessibleName(self.tr("Prescribed volume"))
        self.dose = NumberBox(decimals=2, minimum=0.1, maximum=200.0, singleStep=1.0, suffix=self.tr(" Gy"))
        self.fractions = NumberBox(decimals=0, minimum=1.0, maximum=100.0)
        self.each = QLabel()
        self.each.setObjectName("quiet")
        self.rule = QComboBox()
        words = {
            "D95%": self.tr("D95 % = prescription"), "D98%": self.tr("D98 % = prescription"),
            "D50%": self.tr("D50 % = prescription"), "D2%": self.tr("D2 % = prescription"),
            "Mean": self.tr("Mean dose = prescription"), "Max": self.tr("Highest dose = prescription"),
            "Isocentre": self.tr("At isocentre = prescription"),
            "Point": self.tr("At a point = prescription"),
            "None": self.tr("None: weight × 100 MU"),
        }  # fmt: skip
        for rule in NORMALISATIONS:
            self.rule.addItem(words[rule], rule)
        self.rule.setToolTip(self.tr("What of the prescribed volume is made equal to the prescription; MU follow from it"))
        self.point = PointRow(self._workspace, self._edits, self._narrow)
        self.grid = NumberBox(decimals=1, minimum=1.0, maximum=10.0, singleStep=0.5, suffix=self.tr(" mm"))
        self.grid.setToolTip(self.tr("Spacing of the points where the fine dose is read"))
        self.medium = QComboBox()
        self.medium.addItem(self.tr("medium"), "medium")
        self.medium.addItem(self.tr("water"), "water")
        self.medium.setToolTip(
            self.tr("Absorbed dose to the tissue of each place, or to a small amount of water there (higher in bone)")
        )
        self.problem = QLabel(wordWrap=True)
        self.problem.setProperty("level", "warning")
        self.paint = QPushButton(self.tr("Go to Outline"))
        self.paint.clicked.connect(self.outline_wanted)
        heading = QLabel(self.tr("Prescription"))
        heading.setObjectName("heading")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0 if self._narrow else 12, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4 if self._narrow else 8)
        amounts = QHBoxLayout()
        amounts.setSpacing(8)
        for widget in (
            self.dose,
            QLabel(self.tr("in")),
            self.fractions,
            QLabel(self.tr("fr.") if self._narrow else self.tr("fractions")),
            self.each,
        ):
            amounts.addWidget(widget)
        amounts.addStretch(1)
        if not self._narrow:  # the page of Aim bears the word already; shown before it has a parent it would be a window
            heading.hide()
        grid.addWidget(heading, 0, 0, 1, 4)
        grid.setRowStretch(7, 1)
        for column, (label, widget) in enumerate(((self.tr("To"), self.target), (self.tr("Normalise"), self.rule))):
            name = QLabel(label)
            name.setBuddy(widget)
            row, at = (1 + column, 0) if self._narrow else (1, 2 * column)
            grid.addWidget(name, row, at)
            grid.addWidget(widget, row, at + 1, 1, 3 if self._narrow else 1)
            grid.setColumnStretch(at + 1, 3 + column)  # the rule is written longer than most names
            widget.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            widget.setMinimumContentsLength(8)
        grid.addWidget(self.point, 3, 0, 1, 4)
        grid.addLayout(amounts, 4, 0, 1, 4)
        how = QHBoxLayout()
        how.setSpacing(8)
        for widget in (QLabel(self.tr("Grid")), self.grid, QLabel(self.tr("dose to")), self.medium):
            how.addWidget(widget)
        how.addStretch(1)
        grid.addLayout(how, 5, 0, 1, 4)
        hint = QHBoxLayout()
        hint.addWidget(self.problem, 1)
        hint.addWidget(self.paint)
        grid.addLayout(hint, 6, 0, 1, 4)
        for name, widget in (
            (self.tr("Prescribed dose"), self.dose),
            (self.tr("Fractions"), self.fractions),
            (self.tr("Dose grid"), self.grid),
        ):
            widget.setAccessibleName(name)
            widget.setKeyboardTracking(False)
        self.target.activated.connect(self._prescribe)
        self.dose.valueChanged.connect(self._prescribe)
        self.fractions.valueChanged.connect(self._prescribe)
        self.rule.activated.connect(self._normalise)
        self.medium.setAccessibleName(self.tr("Dose is reported to"))
        self.medium.activated.connect(lambda _: self._edits.report_to(self.medium.currentData()))
        self.grid.valueChanged.connect(self._compute_on)

    def _follow(self, before: Case | None, after: Case | None) -> None:
        if not only_beams(before, after):
            self._take()

    def _take(self, *_: object) -> None:
        self._quiet = True
        draft = self._workspace.draft
        wanted = draft.prescription if draft else None
        choices = self._edits.target_choices()
        listed = [(self.target.itemData(i), self.target.itemText(i)) for i in range(self.target.count())]
        if listed != [(c.key, c.name) for c in choices]:
            self.target.clear()
            for choice in choices:
                self.target.addItem(choice.name, choice.key)
        self.target.setCurrentIndex(self.target.findData(wanted.volume_key) if wanted else -1)
        self.target.setPlaceholderText(self.tr("Choose"))
        if wanted is not None:
            _put(self.dose, wanted.dose_gy)
            _put(self.fractions, wanted.fractions)
            self.each.setText(self.tr("= {0} Gy each").format(f"{wanted.dose_gy / wanted.fractions:.2f}"))
        else:
            self.each.setText("")
        self.rule.setCurrentIndex(self.rule.findData(draft.normalisation) if draft else 0)
        self.point.take()
        for widget in (self.grid, self.medium):
            widget.setEnabled(draft is not None)
        if draft is not None:
            _put(self.grid, draft.dose_spacing_mm)
            self.medium.setCurrentIndex(self.medium.findData(draft.report_to))
        self._say_what_is_missing(wanted, choices)
        self._quiet = False

    def _say_what_is_missing(self, wanted: object, choices: list) -> None:  # type: ignore[type-arg]
        targets = [c for c in choices if c.is_target and not c.is_empty]
        chosen = next((c for c in choices if wanted is not None and c.key == wanted.volume_key), None)  # type: ignore[attr-defined]
        words = ""
        if not targets:
            words = self.tr("There is no target volume yet.")
        elif wanted is None:
            words = self.tr("Choose the volume the dose is prescribed to.")
        elif chosen is None or chosen.is_empty:
            words = self.tr("The prescribed volume is empty.")
        self.problem.setText(words)
        self.problem.setVisible(bool(words))
        self.paint.setVisible(bool(words) and not (targets and wanted is None))

    def _prescribe(self, *_: object) -> None:
        key = self.target.currentData()
        if not self._quiet and key:
            self._edits.prescribe(self.dose.value(), int(self.fractions.value()), key)

    def _normalise(self, *_: object) -> None:
        if not self._edits.normalise(self.rule.currentData()):
            self._take()

    def _compute_on(self, spacing_mm: float) -> None:
        if not self._quiet:
            self._edits.compute_on(spacing_mm)


def _put(box: NumberBox, value: float) -> None:
    """Show a value; one that is shown already is left alone, for a box paints itself anew whenever it is told one."""
    if box.value() != value:
        box.setValue(value)
