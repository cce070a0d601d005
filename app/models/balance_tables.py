"""The proposal of balanced weights as two tables: beams and goals, the hand's beside the proposed."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QBrush, QColor

from app.core.language import translated
from app.core.plan_follow import PlanFollower
from app.core.tokens import colour
from app.core.weight_balance import WeightBalance
from app.models.goal_table import INKS, SHAPES, unit_of
from app.models.numbers import shown
from engine.beams.beam import Beam
from engine.beams.wedge import TOE_JAWS
from engine.evaluation.goals import Goal

Index = QModelIndex | QPersistentModelIndex
Roles = Qt.ItemDataRole
BEAM_COLUMNS = ("name", "hand", "offered")
GOAL_COLUMNS = ("counts", "volume", "demand", "priority", "hand", "offered")
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class _Table(QAbstractTableModel):
    columns: tuple[str, ...] = ()

    def __init__(self, balance: WeightBalance, follower: PlanFollower) -> None:
        super().__init__(follower)
        self._balance, self._follower, self._workspace = balance, follower, follower.workspace
        self._rows: tuple[Any, ...] = ()
        self.in_short = False
        balance.changed.connect(self._take)
        follower.now_changed.connect(self._take)
        self._workspace.case_changed.connect(self._take)
        self._workspace.active_changed.connect(self._take)

    def set_in_short(self, in_short: bool) -> None:
        """Choose short heads, for narrow tables."""
        if in_short != self.in_short:
            self.in_short = in_short
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)

    def rows(self) -> tuple[Any, ...]:
        """Return what stands in the rows now."""
        raise NotImplementedError

    def _take(self, *_: object) -> None:
        rows = self.rows()
        if len(rows) != len(self._rows) or any(a is not b and a != b for a, b in zip(rows, self._rows)):
            self.beginResetModel()
            self._rows = rows
            self.endResetModel()
        elif rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(self.columns) - 1))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation == Qt.Orientation.Vertical:
            return None
        head, tip = self.heads()[self.columns[section]]
        return head if role == Roles.DisplayRole else tip if role == Roles.ToolTipRole else None

    def heads(self) -> dict[str, tuple[str, str]]:
        """Return head and tip of every column."""
        raise NotImplementedError

    def _digits(self) -> int:
        return 2 if self.in_short else 3

    def _proposed(self) -> str:
        return self.tr("New") if self.in_short else self.tr("Proposed")


class BalanceBeams(_Table):
    """One row a beam: its weight by hand and the one proposed."""

    columns = BEAM_COLUMNS

    def __init__(self, balance: WeightBalance, follower: PlanFollower) -> None:
        super().__init__(balance, follower)
        self._take()

    def rows(self) -> tuple[Beam, ...]:
        draft = self._balance.hand if self._balance.result is not None else self._workspace.draft
        return draft.beams if draft is not None else ()

    def heads(self) -> dict[str, tuple[str, str]]:
        return {
            "name": (self.tr("Beam"), self.tr("Name of the beam")),
            "hand": (self.tr("Yours"), self.tr("Weight by hand")),
            "offered": (self._proposed(), self.tr("Weight that serves the goals best")),
        }

    def data(self, index: Index, role: int = 0) -> Any:
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        column, row, b = self.columns[index.column()], index.row(), self._balance
        if role == Roles.DisplayRole:
            if column == "name":
                return self._name(row)
            draft = b.hand if b.result is not None else self._workspace.draft
            if column == "hand":
                return shown(draft.weights[row], self._digits()) if draft is not None and row < len(draft.weights) else "–"
            return shown(b.offered.weights[row], self._digits()) if b.offered is not None else "–"
        if role == Roles.TextAlignmentRole and column != "name":
            return _RIGHT
        if role == Roles.ForegroundRole and column == "offered" and b.state == "lapsed":
            return QBrush(colour("quiet"))
        if role == Roles.ToolTipRole:
            return self._tip(row)
        return None

    def _tip(self, row: int) -> str:
        """Return the name in full and, once weights are proposed, what they mean."""
        own, result = self._rows[row], self._balance.result
        if result is None or row >= len(result.mu_before):
            return str(own.name)
        mu = result.mu_before[row], result.mu_after[row]
        words = self.tr("{0} MU in one fraction by hand, {1} MU as proposed").format(*(f"{m:.1f}" for m in mu))
        return "\n".join(filter(None, (own.name, words, self._wedges(row))))

    def _offered(self, row: int) -> Beam | None:
        """Return the beam as proposed where its wedge is another than by hand, else None."""
        offered, own = self._balance.offered, self._rows[row]
        if offered is None or row >= len(offered.beams):
            return None
        beam = offered.beams[row]
        return beam if (beam.wedge, beam.wedge_orientation_deg) != (own.wedge, own.wedge_orientation_deg) else None

    def _name(self, row: int) -> str:
        own, beam = self._rows[row], self._offered(row)
        if beam is None:
            return own.name
        if self.in_short:
            return f"{own.name} ◺"
        return f"{own.name} + {beam.wedge}" if beam.wedge else f"{own.name} − {own.wedge}"

    def wedges_changed(self) -> int:
        """Return in how many beams the wedge is another as proposed."""
        return sum(self._offered(row) is not None for row in range(len(self._rows)))

    def _wedges(self, row: int) -> str:
        beam = self._offered(row)
        if beam is None:
            return ""
        if not beam.wedge:
            return self.tr("Proposed without the wedge {0}").format(self._rows[row].wedge)
        toe = TOE_JAWS.get(beam.wedge_orientation_deg, "?")
        return self.tr("Proposed with wedge {0}, its toe to {1}").format(beam.wedge, toe)


class BalanceGoals(_Table):
    """One row a goal: whether it counts (ticked by hand), what is reached by hand and what as proposed."""

    columns = GOAL_COLUMNS

    def __init__(self, balance: WeightBalance, follower: PlanFollower) -> None:
        super().__init__(balance, follower)
        self._left_out: frozenset[Goal] = frozenset()
        self._take()

    def rows(self) -> tuple[Goal, ...]:
        draft = self._balance.hand if self._balance.result is not None else self._workspace.draft
        return draft.goals if draft is not None else ()

    def counting(self) -> tuple[Goal, ...]:
        """Return the goals that are ticked and whose volumes are there."""
        return tuple(g for g in self._rows if g not in self._left_out and self._volume(g) is not None)

    def not_pushed(self) -> dict[Goal, str]:
        """Return the goals that counted but that weights were not pushed towards, and why."""
        found = self._balance.result.outcomes if self._balance.result is not None else ()
        return {o.goal: translated(o.not_pushed) for o in found if o.not_pushed}

    def heads(self) -> dict[str, tuple[str, str]]:
        return {
            "counts": ("", self.tr("Whether the goal counts")),
            "volume": (self.tr("Volume"), self.tr("Volume of the goal")),
            "demand": (self.tr("Goal"), self.tr("Metric, as in TG-263, and what is demanded of it")),
            "priority": (self.tr("Prio."), self.tr("Priority 1 counts ten times as much as 2, 2 ten times as much as 3")),
            "hand": (self.tr("Yours"), self.tr("Reached with the weights by hand")),
            "offered": (self._proposed(), self.tr("Reached with the proposed weights")),
        }

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        there = index.row() < len(self._rows) and self._volume(self._rows[index.row()]) is not None
        return flags | Qt.ItemFlag.ItemIsUserCheckable if there and self.columns[index.column()] == "counts" else flags

    def setData(self, index: Index, value: Any, role: int = 0) -> bool:
        if role != Roles.CheckStateRole or not index.isValid():
            return False
        goal = self._rows[index.row()]
        self._left_out = self._left_out ^ {goal}
        self.dataChanged.emit(index, index)
        return True

    def data(self, index: Index, role: int = 0) -> Any:
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        goal, column = self._rows[index.row()], self.columns[index.column()]
        if role == Roles.CheckStateRole and column == "counts":
            return Qt.CheckState.Checked if goal in self.counting() else Qt.CheckState.Unchecked
        if role == Roles.DisplayRole:
            return self._text(goal, column)
        if role == Roles.TextAlignmentRole and column in ("priority", "hand", "offered"):
            return _RIGHT
        if role == Roles.DecorationRole and column == "volume":
            volume = self._volume(goal)
            return QColor(*volume.colour) if volume is not None else None
        if role == Roles.ForegroundRole:
            return self._ink(goal, column)
        if role == Roles.ToolTipRole:
            return self._tip(goal)
        return None

    def _volume(self, goal: Goal) -> Any:
        case = self._workspace.case
        return case.volume(goal.volume_key) if case is not None else None

    def _reached(self, goal: Goal, column: str) -> tuple[float | None, str]:
        """Return (value or None, state) by hand or as proposed; by hand the present plan while nothing is proposed."""
        result = self._balance.result
        if result is not None:
            found = next((o for o in result.outcomes if o.goal == goal), None)
            if found is None:
                return None, "not judged"
            by_hand = column == "hand"
            return (found.before, found.state_before) if by_hand else (found.after, found.state_after)
        now = self._follower.now
        if column == "hand" and now is not None and not self._follower.is_old:
            return next(((v, s) for g, v, s in now.goals if g == goal), (None, "not judged"))
        return None, "not judged"

    def _text(self, goal: Goal, column: str) -> str:
        if column == "volume":
            volume = self._volume(goal)
            if volume is None and goal.waits_for:
                return self.tr("{0} (awaited)").format(goal.waits_for)
            return volume.name if volume is not None else self.tr("(no volume yet)")
        if column == "demand":
            sign = "≤" if goal.comparator == "<=" else "≥"
            return f"{goal.metric.partition('[')[0]} {sign} {shown(goal.limit, 2)} {unit_of(goal.metric)}"
        if column == "priority":
            return str(goal.priority)
        if column in ("hand", "offered"):
            value, state = self._reached(goal, column)
            return "–" if value is None else f"{value:.1f} {SHAPES[state]}"
        return ""

    def _ink(self, goal: Goal, column: str) -> QBrush | None:
        if goal not in self.counting() or (column == "offered" and self._balance.state == "lapsed"):
            return QBrush(colour("quiet"))
        if column in ("hand", "offered"):
            return QBrush(colour(INKS[self._reached(goal, column)[1]]))
        return QBrush(colour("quiet")) if goal in self.not_pushed() else None

    def _tip(self, goal: Goal) -> str:
        reason = self.not_pushed().get(goal)
        parts = [
            f"{self._text(goal, 'volume')} {self._text(goal, 'demand')}",
            self.tr("Priority {0}").format(goal.priority),
        ]
        if reason:
            parts.append(self.tr("Weights were not pushed towards it: {0}.").format(reason))
        return "\n".join([*parts, goal.source] if goal.source else parts)
