"""The beams of the active draft: table and what can be done to them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMenu, QPushButton, QVBoxLayout, QWidget

from app.core.plan_desk import PlanDesk
from app.models.beam_table import COLUMNS, BeamTable
from app.panels.tables import ChoiceDelegate, set_widths, table_of

SAMPLES = {
    "name": "Beam 10", "machine": "10 MV", "gantry": "359.5", "collimator": "359.5", "couch": "359.5", "x": "100.0",
    "y": "100.0", "weight": "0.875", "mu": "1000.0",
}  # fmt: skip
SETS = (3, 5, 7, 9)
FANS = (3, 5)
ROWS_SHOWN = 5
ROW_PX = 24


class BeamsPanel(QWidget):
    """Adds, duplicates, removes and edits beams; follows the active beam and sets it."""

    def __init__(self, desk: PlanDesk, columns: tuple[str, ...] = COLUMNS, commands: bool = True) -> None:
        super().__init__()
        self._workspace, self._edits, self._shapes = desk.workspace, desk.beams, desk.shapes
        self.model = BeamTable(desk.follower, desk.beams, columns)
        self.table = table_of(self.model, self.tr("Beams"), columns.index("name"), ROW_PX)
        if "machine" in columns:
            column = columns.index("machine")
            self.table.setItemDelegateForColumn(column, ChoiceDelegate(self._edits.machine_names, self.table))
        set_widths(self.table, {i: SAMPLES[c] for i, c in enumerate(columns) if c != "name"})
        self.table.selectionModel().currentRowChanged.connect(self._chosen)
        self.empty = QLabel(self.tr("Double-click the ring around the slice to add a beam there, or use Add beam."))
        self.empty.setObjectName("quiet")
        self.empty.setWordWrap(True)
        # One height whatever the number of beams: what stands below must not move from under the hand.
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + ROW_PX * ROWS_SHOWN + 4)
        self.empty.setFixedHeight(self.table.height())
        self.empty.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.model.modelReset.connect(self._select)
        self._workspace.active_changed.connect(self._select)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.empty)
        column.addWidget(self.table)
        if commands:
            column.addLayout(self._commands())
        self._select()

    def _commands(self) -> QHBoxLayout:
        self.add = QPushButton(self.tr("Add beam"))
        self.add.setToolTip(self.tr("Add a beam in the widest gap, fitted to the target (Insert)"))
        self.add.clicked.connect(self._add)
        self.more, self.isocentre = self._more(), self._isocentre()
        self.remove = QPushButton(self.tr("Remove"))
        self.remove.clicked.connect(lambda: self._with_active(self._edits.remove))
        self.remove.setToolTip(self.tr("Remove this beam (Delete)"))
        for keys, do in (("Ins", self._add), ("Del", lambda: self._with_active(self._edits.remove))):
            action = QAction(self.table)
            action.setShortcut(QKeySequence(keys))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            action.triggered.connect(do)
            self.table.addAction(action)
        row = QHBoxLayout()
        row.setSpacing(6)
        for widget in (self.add, self.more, self.remove):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.isocentre)
        return row

    def _more(self) -> QPushButton:
        button, menu = QPushButton(self.tr("Add more")), QMenu(self)
        button.setToolTip(self.tr("Sets, the opposed beam, the mirror image, a copy"))
        edits, shapes = self._edits, self._shapes
        sets: list[tuple[str, Callable[[], object]]] = [
            (self.tr("Opposed pair, front and back"), lambda: edits.add_many((0.0, 180.0), self.tr("Add opposed pair"))),
            (self.tr("Opposed pair, left and right"), lambda: edits.add_many((90.0, 270.0), self.tr("Add opposed pair"))),
            (self.tr("Four at right angles"), lambda: edits.add_evenly(4)),
            *((self.tr("{0} beams, evenly spaced").format(n), lambda n=n: edits.add_evenly(n)) for n in SETS),
            (self.tr("Tangential pair"), shapes.add_tangents),
            *((self.tr("Fan of {0}, couch turned").format(n), lambda n=n: shapes.add_fan(n)) for n in FANS),
        ]
        of_this: list[tuple[str, Callable[[], object]]] = [
            (self.tr("Beam opposed to this one"), lambda: self._with_active(edits.add_opposed)),
            (self.tr("Mirror image of this one"), lambda: self._with_active(shapes.add_mirrored)),
            (self.tr("Copy of this one"), lambda: self._with_active(edits.duplicate)),
        ]
        for words, do in sets:
            menu.addAction(words).triggered.connect(lambda *_, do=do: do())
        menu.addSeparator()
        for words, do in of_this:
            menu.addAction(words).triggered.connect(lambda *_, do=do: do())
        button.setMenu(menu)
        return button

    def _isocentre(self) -> QPushButton:
        button, menu = QPushButton(self.tr("Isocentre")), QMenu(self)
        button.setToolTip(self.tr("Where the axes of the beams of this draft meet"))
        menu.addAction(self.tr("To the middle of the target")).triggered.connect(
            lambda *_: self._edits.isocentre_at_target()
        )
        menu.addAction(self.tr("To the cross-hair")).triggered.connect(
            lambda *_: self._edits.set_isocentre(self._workspace.cursor_mm, text=self.tr("Isocentre at cursor"))
        )
        menu.addAction(self.tr("To my next click, on any plane")).triggered.connect(lambda *_: self._edits.place_next())
        menu.addAction(self.tr("To the cross-hair, this beam only")).triggered.connect(
            lambda *_: self._with_active(lambda key: self._edits.set_isocentre(self._workspace.cursor_mm, key))
        )
        button.setMenu(menu)
        return button

    def _add(self) -> None:
        draft = self._workspace.draft
        taken = [b.gantry_deg for b in draft.beams] if draft else []
        self._edits.add(_widest_gap(taken))

    def _with_active(self, do: object) -> None:
        beam = self._workspace.beam
        if beam is None:
            self.tell_no_beam()
        elif callable(do):
            do(beam.key)

    def tell_no_beam(self) -> None:
        """Say why nothing happens to what is not there."""
        self._workspace.message.emit("info", self.tr("There is no beam yet. Add one first."))

    def _chosen(self, index: object, _: object) -> None:
        beam = self.model.beam_at(self.table.currentIndex().row())
        if beam is not None:
            self._workspace.activate(beam=beam.key)

    def _select(self) -> None:
        beam = self._workspace.beam
        row = self.model.row_of(beam.key) if beam is not None else -1
        rows = self.model.rowCount()
        self.empty.setVisible(rows == 0)
        self.table.setVisible(rows > 0)
        if row >= 0 and self.table.currentIndex().row() != row:
            flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
            at = max(0, self.table.currentIndex().column())
            self.table.selectionModel().setCurrentIndex(self.model.index(row, at), flags)


def _widest_gap(angles: list[float]) -> float:
    """Return the middle of the widest stretch of the circle without a beam; 0 for the first."""
    if not angles:
        return 0.0
    turn = sorted(a % 360.0 for a in angles)
    gaps = [(b - a, a) for a, b in zip(turn, [*turn[1:], turn[0] + 360.0])]
    width, start = max(gaps, key=lambda g: g[0])
    return round(start + width / 2) % 360.0
