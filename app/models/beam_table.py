"""The beams of the active draft as a table whose cells are edited in their units."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from app.core.beam_edits import BeamEdits
from app.core.plan_follow import PlanFollower
from app.core.tokens import colour
from app.models.numbers import shown, typed
from engine.beams.beam import Beam
from engine.case.case import Draft

Index = QModelIndex | QPersistentModelIndex
KEY = Qt.ItemDataRole.UserRole

_ANSWERED = frozenset(
    int(r)
    for r in (
        Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole, KEY, Qt.ItemDataRole.TextAlignmentRole,
        Qt.ItemDataRole.ForegroundRole, Qt.ItemDataRole.ToolTipRole,
    )
)  # fmt: skip
COLUMNS = ("name", "machine", "gantry", "collimator", "couch", "x", "y", "weight", "mu")
ANGLES = {"gantry": "gantry_deg", "collimator": "collimator_deg", "couch": "couch_deg"}


@dataclass(frozen=True)
class _Number:
    """What a numeric cell accepts."""

    units: tuple[str, ...]
    low: float
    high: float
    asks: str


class BeamTable(QAbstractTableModel):
    """One row a beam. `columns` chooses among COLUMNS; what a cell refuses is said on the message strip."""

    def __init__(self, follower: PlanFollower, edits: BeamEdits, columns: tuple[str, ...] = COLUMNS) -> None:
        super().__init__(follower)
        self._follower, self._workspace, self._edits = follower, follower.workspace, edits
        self.columns = columns
        self._draft: Draft | None = None
        self._told: list[tuple[str, str]] = []
        self._trial: Draft | None = None
        self._numbers = {
            **{a: _Number(("°", "deg"), -1e5, 1e5, self.tr("degrees, as in IEC 61217")) for a in ANGLES},
            **{a: _Number(("mm",), 0.0, 1e4, self.tr("the width in mm at the isocentre")) for a in "xy"},
            "weight": _Number((), 0.0, 1e5, self.tr("a number that is not negative")),
        }
        self._workspace.case_changed.connect(self._take)
        self._workspace.active_changed.connect(self._take)
        follower.now_changed.connect(self._take_mu)
        self._take()

    def _take(self, *_: object) -> None:
        before, self._draft = self._draft, self._workspace.draft
        keys = [b.key for b in before.beams] if before else []
        now = [b.key for b in self._draft.beams] if self._draft else []
        if keys != now:
            self._draft, after = before, self._draft
            self.beginResetModel()
            self._draft = after
            self.endResetModel()
        elif now and before is not None and self._draft is not None and before is not self._draft:
            whole = zip(before.beams, self._draft.beams), zip(before.weights, self._draft.weights)
            for row, ((a, b), (v, w)) in enumerate(zip(*whole)):
                if a is not b or v != w:
                    self._tell_row(row, [n for n, c in enumerate(self.columns) if self._moved(c, a, b, v != w)])

    def _moved(self, column: str, before: Beam, beam: Beam, weighs: bool) -> bool:
        """Whether a cell says something else than it did; monitor units are told of when they come."""
        if column in ("weight", "mu"):
            return weighs and column == "weight"
        return before is not beam and self._text(before, 0, column) != self._text(beam, 0, column)

    def _tell_row(self, row: int, columns: list[int]) -> None:
        """Have cells drawn anew, and none besides: under a moving hand that is every frame."""
        if columns:
            self.dataChanged.emit(self.index(row, columns[0]), self.index(row, columns[-1]))

    def _take_mu(self, *_: object) -> None:
        if "mu" in self.columns and self._beams():
            if "weight" in self.columns and self._follower.trial is not self._trial:
                self._trial, w = self._follower.trial, self.columns.index("weight")
                self.dataChanged.emit(self.index(0, w), self.index(len(self._beams()) - 1, w))
            c, before = self.columns.index("mu"), self._told
            self._told = [(self._mu(b), self._follower.state) for b in self._beams()]
            for row, told in enumerate(self._told):
                if row >= len(before) or told != before[row]:
                    self.dataChanged.emit(self.index(row, c), self.index(row, c))

    def _beams(self) -> tuple[Beam, ...]:
        return self._draft.beams if self._draft is not None else ()

    def beam_at(self, row: int) -> Beam | None:
        """Return the beam of a row."""
        return self._beams()[row] if 0 <= row < len(self._beams()) else None

    def row_of(self, key: str) -> int:
        """Return the row of a beam, or -1."""
        return next((i for i, b in enumerate(self._beams()) if b.key == key), -1)

    # -- as Qt asks ----------------------------------------------------------------------------------------------

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._beams())

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation == Qt.Orientation.Vertical:
            return section + 1 if role == Qt.ItemDataRole.DisplayRole else None
        heads = {
            "name": (self.tr("Beam"), self.tr("Name of the beam")),
            "machine": (self.tr("Energy"), self.tr("Machine and energy; a double click chooses another")),
            "gantry": (self.tr("Gantry\n°"), self.tr("Gantry angle, degrees, IEC 61217")),
            "collimator": (self.tr("Coll.\n°"), self.tr("Collimator angle, degrees, IEC 61217")),
            "couch": (self.tr("Couch\n°"), self.tr("Couch angle, degrees, IEC 61217")),
            "x": (self.tr("X\nmm"), self.tr("Field width along X at the isocentre: X2 − X1")),
            "y": (self.tr("Y\nmm"), self.tr("Field width along Y at the isocentre: Y2 − Y1")),
            "weight": (self.tr("Weight"), self.tr("Share of the monitor units")),
            "mu": (self.tr("MU"), self.tr("Monitor units in one fraction")),
        }
        head = heads[self.columns[section]]
        if role == Qt.ItemDataRole.DisplayRole:
            return head[0]
        return head[1] if role == Qt.ItemDataRole.ToolTipRole else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        editable = self.columns[index.column()] != "mu"
        return flags | Qt.ItemFlag.ItemIsEditable if editable else flags

    def data(self, index: Index, role: int = 0) -> Any:
        if role not in _ANSWERED:
            return None
        beam = self.beam_at(index.row()) if index.isValid() else None
        if beam is None or self._draft is None:
            return None
        column = self.columns[index.column()]
        if role == KEY:
            return beam.key
        if role == Qt.ItemDataRole.DisplayRole and column == "machine":
            return self._energy(beam)
        if role == Qt.ItemDataRole.EditRole and column == "weight":  # the hand's, whatever is shown on trial
            return shown(self._draft.weights[index.row()], 3)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self._text(beam, index.row(), column)
        if role == Qt.ItemDataRole.TextAlignmentRole and column != "name":
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ForegroundRole and column == "mu" and self._follower.state != "current":
            return colour("quiet")
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._tip(beam, column)
        return None

    def _text(self, beam: Beam, row: int, column: str) -> str:
        if column == "name":
            return beam.name
        if column == "machine":
            return beam.machine
        if column in ANGLES:
            return shown(getattr(beam, ANGLES[column]), 1)
        if column in ("x", "y"):
            lo, hi = beam.aperture.x_mm if column == "x" else beam.aperture.y_mm
            return shown(hi - lo, 1)
        if column == "weight":
            draft = self._follower.trial or self._draft
            return shown(draft.weights[row], 3) if draft else ""
        return self._mu(beam)

    def _energy(self, beam: Beam) -> str:
        case = self._workspace.case
        machine = case.machine(beam.machine) if case else None
        return machine.energy if machine else beam.machine

    def _mu(self, beam: Beam) -> str:
        now, draft = self._follower.now, self._follower.shown_draft
        if now is None or draft is None or self._follower.is_old or now.scale is None:
            return "–"
        i = next((i for i, b in enumerate(draft.beams) if b.key == beam.key), None)
        return "–" if i is None else f"{now.mu[i]:.1f}"

    def _tip(self, beam: Beam, column: str) -> str | None:
        if column == "name":
            return beam.name
        if column == "mu":
            if self._follower.is_old:
                return self.tr("The dose is out of date: {0}").format(self._follower.reason)
            return self._follower.problem or self.tr("Monitor units in one fraction")
        if column == "machine":
            case = self._workspace.case
            machine = case.machine(beam.machine) if case else None
            return f"{machine.name}: {machine.description}" if machine else None
        if column in ("x", "y"):
            lo, hi = beam.aperture.x_mm if column == "x" else beam.aperture.y_mm
            return self.tr("{0}1 {1} mm, {0}2 {2} mm").format(column.upper(), shown(lo), shown(hi))
        return None

    def setData(self, index: Index, value: Any, role: int = 0) -> bool:
        beam = self.beam_at(index.row()) if index.isValid() else None
        if beam is None or role != Qt.ItemDataRole.EditRole:
            return False
        column, text = self.columns[index.column()], str(value).strip()
        if text == self._text(beam, index.row(), column):
            return False
        if column == "name":
            return self._rename(beam, text)
        if column == "machine":
            return self._edits.set_machine(beam.key, text)
        number = self._number(column, text, beam)
        if number is None:
            return False
        setters: dict[str, Callable[[], bool]] = {
            "x": lambda: self._edits.set_field(beam.key, "x", number),
            "y": lambda: self._edits.set_field(beam.key, "y", number),
            "weight": lambda: self._edits.set_weight(beam.key, number),
        }
        if column in ANGLES and not 0 <= number < 360:
            self._tell_turned(beam, column, number)
        if column == "gantry":
            return self._edits.set_gantry(beam.key, number)
        if column in ANGLES:
            words = {
                "collimator": self.tr("Turn collimator"), "couch": self.tr("Turn couch"),
            }  # fmt: skip
            return self._edits.change(beam.key, words[column], **{ANGLES[column]: number})
        return setters[column]()

    def _tell_turned(self, beam: Beam, column: str, number: float) -> None:
        words = self.tr("{0}, {1}: {2}° is the same as {3}°.")
        told = words.format(beam.name, self._head(column), shown(number, 6), shown(number % 360, 6))
        self._workspace.message.emit("info", told)

    def _head(self, column: str) -> str:
        return str(self.headerData(self.columns.index(column), Qt.Orientation.Horizontal)).split("\n")[0]

    def _number(self, column: str, text: str, beam: Beam) -> float | None:
        wants = self._numbers[column]
        number = typed(text, wants.units)
        if number is None or not wants.low <= number <= wants.high:
            words = self.tr("{0}, {1}: “{2}” cannot be used. Type {3}.")
            words = words.format(beam.name, self._head(column), text, wants.asks)
            self._workspace.message.emit("warning", words)
            return None
        return number

    def _rename(self, beam: Beam, name: str) -> bool:
        if not name or len(name) > 64 or any(b.name == name for b in self._beams()):
            words = self.tr("A beam needs a name of its own, 1 to 64 characters; “{0}” cannot be used.").format(name)
            self._workspace.message.emit("warning", words)
            return False
        return self._edits.change(beam.key, self.tr("Rename beam"), name=name)
