"""The opening of the active beam: margins, leaves over organs, the collimator, openings one after another."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSlider,
    QWidget,
)

from app.core.plan_desk import PlanDesk
from app.panels.bare_box import bare
from app.panels.number_box import NumberBox
from engine.beams.beam import Beam

JAWS = ("X1", "X2", "Y1", "Y2")
NOT_COVERED = ("EXTERNAL", "SUPPORT", "BOLUS")


def mm_box(name: str, tip: str, value: float = 0.0, least: float = 0.0, most: float = 50.0) -> NumberBox:
    """Return a box for whole millimetres with a name for those who cannot see it."""
    box = NumberBox(decimals=0, minimum=least, maximum=most)
    box.setSuffix(" mm")
    box.setValue(value)
    box.setAccessibleName(name)
    box.setToolTip(tip)
    bare(box)
    box.setFixedWidth(58)
    return box


class BeamShape(QWidget):
    """Rows that act on the opening shown in the beam's-eye view."""

    def __init__(self, desk: PlanDesk) -> None:
        super().__init__()
        self._workspace, self._beams, self._shapes = desk.workspace, desk.beams, desk.shapes
        self._best: Any = None
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 8, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(8)
        for row, (label, line) in enumerate((self._margins(), self._cover(), self._collimator(), self._openings())):
            label.setObjectName("quiet")
            grid.addWidget(label, row, 0)
            grid.addLayout(line, row, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(4, 1)
        self._workspace.case_changed.connect(self._take)
        self._workspace.active_changed.connect(self._take)
        self._beams.part_changed.connect(self._take)
        self._shapes.collimator_found.connect(self._found)
        self._take()

    def _margins(self) -> tuple[QLabel, QHBoxLayout]:
        tip = self.tr("Left free between target and {0}, at the isocentre plane, in the axes of the leaves")
        value = self._beams.margin_mm if isinstance(self._beams.margin_mm, float) else self._beams.margin_mm[0]
        self.sides = [mm_box(self.tr("Margin towards {0}").format(j), tip.format(j), value, -20.0) for j in JAWS]
        for box, jaw in zip(self.sides, JAWS, strict=True):
            box.setPrefix(f"{jaw} ")
            box.setSuffix("")
        self.fit = QPushButton(self.tr("Fit"))
        self.fit.setToolTip(self.tr("Fit this opening to the target with a margin of its own on each side"))
        self.fit.clicked.connect(self._fit)
        return QLabel(self.tr("Margins")), _row(*self.sides, self.fit)

    def _cover(self) -> tuple[QLabel, QHBoxLayout]:
        self.organ = QComboBox()
        self.organ.setAccessibleName(self.tr("Organ that leaves move over"))
        self.organ.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.organ.setMinimumContentsLength(5)
        self.around = mm_box(self.tr("Margin around the organ"), self.tr("How far leaves reach beyond the organ"), 3.0)
        self.keep = mm_box(
            self.tr("Kept around the target"),
            self.tr("No leaf comes nearer to the target than this: the target goes first"),
        )
        self.cover = QPushButton(self.tr("Cover"))
        self.cover.setToolTip(self.tr("Move leaves over the organ as far as the target allows; leaves only close"))
        self.cover.clicked.connect(
            lambda: self._shapes.shield(self.organ.currentData() or "", self.around.value(), self.keep.value())
        )
        return QLabel(self.tr("Leaves over")), _row(
            self.organ, self.around, QLabel(self.tr("target +")), self.keep, self.cover, stretch=self.organ
        )

    def _collimator(self) -> tuple[QLabel, QHBoxLayout]:
        self.search = QPushButton(self.tr("Find angle"))
        self.search.setToolTip(self.tr("Search the collimator angle that leaves least open beyond the target"))
        self.search.clicked.connect(lambda: self._shapes.find_collimator(self.margins))
        self.said = QLabel()
        self.turn = QPushButton(self.tr("Turn and fit"))
        self.turn.clicked.connect(lambda: self._shapes.fit_at_collimator(self._best.best_deg, self.margins))
        return QLabel(self.tr("Collimator")), _row(self.search, self.said, self.turn, stretch=self.said)

    def _openings(self) -> tuple[QLabel, QHBoxLayout]:
        self.which = QComboBox()
        self.which.setAccessibleName(self.tr("Opening shown"))
        self.which.setToolTip(self.tr("Openings that are given one after another from this angle"))
        self.which.activated.connect(self._choose)
        self.share = QSlider(Qt.Orientation.Horizontal, minimum=1, maximum=99)
        self.share.setAccessibleName(self.tr("Share of this opening"))
        self.share.setToolTip(self.tr("Share of the beam's monitor units; the other openings keep their ratios"))
        self.share.valueChanged.connect(self._share)
        self.share.sliderReleased.connect(self._workspace.end_merge)
        self.share.setMinimumWidth(40)
        self.percent = QLabel()
        self.add = QPushButton(self.tr("Add"))
        self.add.setToolTip(self.tr("Add a smaller copy of this opening, to be changed: a field in a field"))
        self.add.clicked.connect(self._shapes.add_opening)
        self.remove = QPushButton(self.tr("Remove"))
        self.remove.setToolTip(self.tr("Take this opening out"))
        self.remove.clicked.connect(self._shapes.remove_opening)
        return QLabel(self.tr("Openings")), _row(
            self.which, self.share, self.percent, self.add, self.remove, stretch=self.share
        )

    @property
    def margins(self) -> Any:
        """Margins towards X1, X2, Y1, Y2 in mm."""
        from engine.beams.conform import Margins

        return Margins(*(box.value() for box in self.sides))

    def set_margin(self, margin_mm: float) -> None:
        """Put one margin in all four boxes."""
        for box in self.sides:
            box.setValue(margin_mm)

    def _fit(self) -> None:
        beam = self._workspace.beam
        if beam is not None:
            self._beams.fit([beam.key], self.margins)

    def _take(self, *_: object) -> None:
        case, beam = self._workspace.case, self._workspace.beam
        self.setEnabled(case is not None and beam is not None)
        if case is None or beam is None:
            return
        organs = [v for v in case.volumes if not v.is_target and v.role not in NOT_COVERED and not v.coverage.is_empty]
        listed = [(self.organ.itemText(i), self.organ.itemData(i)) for i in range(self.organ.count())]
        if listed != [(v.name, v.key) for v in organs]:
            chosen = self.organ.currentData()
            self.organ.clear()
            for volume in organs:
                self.organ.addItem(volume.name, volume.key)
            self.organ.setCurrentIndex(max(0, self.organ.findData(chosen)))
        self.cover.setEnabled(bool(organs))
        self._take_openings(beam)
        self._tell()

    def _take_openings(self, beam: Beam) -> None:
        count, n = self._shapes.openings(beam), self._beams.part_of(beam)
        with QSignalBlocker(self.which), QSignalBlocker(self.share):
            self.which.clear()
            for i in range(count):
                self.which.addItem(self.tr("{0} of {1}").format(i + 1, count))
            self.which.setCurrentIndex(n if count else -1)
            shares = self._shares(beam)
            part = shares[n] if n < len(shares) else 1.0
            self.share.setValue(round(100 * part))
        self.percent.setText(f"{100 * part:.0f} %" if count else self.tr("an arc"))
        self.share.setEnabled(count > 1)
        self.remove.setEnabled(count > 1)
        self.add.setEnabled(count > 0)
        self.which.setEnabled(count > 0)

    @staticmethod
    def _shares(beam: Beam) -> list[float]:
        from engine.base.errors import InputError
        from engine.beams.segments import segments

        try:
            return [] if beam.is_arc else [s.share for s in segments(beam)]
        except InputError:
            return []

    def _choose(self, n: int) -> None:
        beam = self._workspace.beam
        if beam is not None:
            self._beams.show_part(beam.key, n)

    def _share(self, value: int) -> None:
        beam = self._workspace.beam
        if beam is not None:
            self._shapes.set_share(self._beams.part_of(beam), value / 100, "share")
            if not self.share.isSliderDown():
                self._workspace.end_merge()

    def _found(self, result: Any) -> None:
        self._best = result
        self._asked_of = self._pose()
        self._tell()

    def _pose(self) -> tuple[Any, ...]:
        beam = self._workspace.beam
        return (beam.key, beam.gantry_deg, beam.couch_deg, beam.isocentre_mm) if beam is not None else ()

    def _tell(self) -> None:
        if self._best is not None and self._asked_of != self._pose():
            self._best = None
        self.turn.setVisible(self._best is not None)
        if self._best is None:
            self.said.setText("")
            return
        best, beam = self._best, self._workspace.beam
        at = min(best.angles_deg, key=lambda a: abs((a - beam.collimator_deg + 90) % 180 - 90)) if beam else 0.0
        least, now = min(best.beyond_cm2), best.beyond_cm2[best.angles_deg.index(at)]
        words = self.tr("{0}°: {1} cm², now {2} cm²")
        self.said.setText(words.format(f"{best.best_deg:g}", f"{least:.1f}", f"{now:.1f}"))
        self.said.setToolTip(self.tr("Open beyond the target at the best angle, and at the present one"))


def _row(*widgets: QWidget, stretch: QWidget | None = None) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(6)
    for widget in widgets:
        row.addWidget(widget, 1 if widget is stretch else 0)
    if stretch is None:
        row.addStretch(1)
    return row
