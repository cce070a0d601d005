"""The goal ledger: each demand of the draft, what is reached, and how far off it is."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QBrush, QColor

from app.core.draft_edits import DraftEdits
from app.core.plan_follow import PlanFollower
from app.core.tokens import colour
from app.models.numbers import shown, typed
from engine.base.errors import UserError
from engine.evaluation.goals import Goal

Index = QModelIndex | QPersistentModelIndex
COLUMNS = ("state", "volume", "metric", "demand", "tolerance", "achieved", "off", "priority", "source")
EDITED = ("volume", "metric", "demand", "tolerance", "priority", "source")
_FIRST, _LAST = COLUMNS.index("achieved"), COLUMNS.index("off")
STATE = Qt.ItemDataRole.UserRole + 2  # "met", ...
_ANSWERED = frozenset(
    int(r)
    for r in (
        Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole, STATE, Qt.ItemDataRole.TextAlignmentRole,
        Qt.ItemDataRole.ForegroundRole, Qt.ItemDataRole.DecorationRole, Qt.ItemDataRole.ToolTipRole,
    )
)  # fmt: skip
SHAPES = {"met": "●", "within tolerance": "◐", "missed": "▲", "not judged": "–"}
INKS = {"met": "good", "within tolerance": "warn", "missed": "bad", "not judged": "quiet"}


@lru_cache(maxsize=256)
def unit_of(metric: str) -> str:
    """Return the unit of a metric's answer as shown, "" when the metric is not understood."""
    from engine.evaluation.metrics import parse

    try:
        return {"cc": "cm³"}.get(parse(metric).unit, parse(metric).unit)
    except UserError:
        return ""


class GoalTable(QAbstractTableModel):
    """One row a goal of the active draft; what the goal says is edited in place, what is reached follows the dose.

    `in_short` leaves the words of a state to its shape and tip, for narrow ledgers.
    """

    def __init__(self, follower: PlanFollower, edits: DraftEdits) -> None:
        super().__init__(follower)
        self._follower, self._workspace, self._edits = follower, follower.workspace, edits
        self._goals: tuple[Goal, ...] = ()
        self._cells: dict[tuple[int, int, int], Any] = {}
        self._shown: list[tuple[str, str, str]] = []
        self._reached: dict[Goal, tuple[float | None, str]] = {}
        self.in_short = False
        self._workspace.case_changed.connect(self._take)
        self._workspace.active_changed.connect(self._take)
        follower.now_changed.connect(self._take_values)
        self._take()

    def set_in_short(self, in_short: bool) -> None:
        """Choose whether states are written or only drawn."""
        if in_short != self.in_short:
            self.in_short = in_short
            self._cells.clear()
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, 0)
            if self._goals:
                self.dataChanged.emit(self.index(0, 0), self.index(len(self._goals) - 1, 0))

    def _take(self, *_: object) -> None:
        draft = self._workspace.draft
        self._cells.clear()
        goals = draft.goals if draft else ()
        if goals is not self._goals:
            self.beginResetModel()
            self._cells.clear()
            self._goals = goals
            self._reached = self._values()
            self._shown = [self._shows(g) for g in goals]
            self.endResetModel()

    def _take_values(self, *_: object) -> None:
        before = self._shown
        self._reached = self._values()
        self._shown = [self._shows(g) for g in self._goals]
        self._cells.clear()
        for row, (old, new) in enumerate(zip(before, self._shown)) if len(before) == len(self._goals) else ():
            if old[0] != new[0]:
                self.dataChanged.emit(self.index(row, 0), self.index(row, 0))
            if old != new:
                self.dataChanged.emit(self.index(row, _FIRST), self.index(row, _LAST))
        if self._goals and len(before) != len(self._goals):
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._goals) - 1, len(COLUMNS) - 1))

    def _values(self) -> dict[Goal, tuple[float | None, str]]:
        now = self._follower.now
        if now is None or self._follower.is_old:
            return {}
        return {g: (value, state) for g, value, state in now.goals}

    def _shows(self, goal: Goal) -> tuple[str, str, str]:
        """Return what of a goal follows the dose, as shown: state, value, distance."""
        value, state = self.reached(goal)
        return state, self._text(goal, "achieved", value, state), self._text(goal, "off", value, state)

    def goal_at(self, row: int) -> Goal | None:
        """Return the goal of a row."""
        return self._goals[row] if 0 <= row < len(self._goals) else None

    def reached(self, goal: Goal) -> tuple[float | None, str]:
        """Return what is reached and how it is judged; (None, "not judged") while the dose is old or missing."""
        return self._reached.get(goal, (None, "not judged"))

    def counts(self) -> dict[str, int]:
        """Return how many goals are in each state."""
        states = [s for s, _, _ in self._shown]
        return {s: states.count(s) for s in SHAPES}

    # -- as Qt asks ----------------------------------------------------------------------------------------------

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._goals)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation == Qt.Orientation.Vertical or role != Qt.ItemDataRole.DisplayRole:
            return None
        heads = {
            "state": "" if self.in_short else self.tr("State"), "volume": self.tr("Volume"),
            "metric": self.tr("Metric"), "demand": self.tr("Demand"), "tolerance": self.tr("Tolerance"),
            "achieved": self.tr("Reached"), "off": self.tr("Off by"), "priority": self.tr("Prio."),
            "source": self.tr("Source"),
        }  # fmt: skip
        return heads[COLUMNS[section]]

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        editable = COLUMNS[index.column()] in EDITED
        return flags | Qt.ItemFlag.ItemIsEditable if editable else flags

    def data(self, index: Index, role: int = 0) -> Any:
        """Return what a cell shows; remembered until the plan or the goals change, because a view asks very often."""
        if role not in _ANSWERED or not index.isValid():
            return None
        key = (index.row(), index.column(), int(role))
        if key not in self._cells:
            self._cells[key] = self._cell(index, role)
        return self._cells[key]

    def _cell(self, index: Index, role: int) -> Any:
        goal = self.goal_at(index.row())
        if goal is None:
            return None
        column, (value, state) = COLUMNS[index.column()], self.reached(goal)
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(goal, column, value, state)
        if role == Qt.ItemDataRole.EditRole:
            return self._demand(goal) if column == "demand" else self._text(goal, column, value, state)
        if role == STATE:
            return state
        if role == Qt.ItemDataRole.TextAlignmentRole and column in ("demand", "tolerance", "achieved", "off", "priority"):
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ForegroundRole and column in ("state", "off"):
            return QBrush(colour(INKS[state]))
        if role == Qt.ItemDataRole.DecorationRole and column == "volume":
            volume = self._workspace.case.volume(goal.volume_key) if self._workspace.case else None
            return QColor(*volume.colour) if volume else None
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._tip(goal, state)
        return None

    def _text(self, goal: Goal, column: str, value: float | None, state: str) -> str:
        if column == "state":
            return SHAPES[state] if self.in_short else f"{SHAPES[state]}  {self.state_words(state)}"
        if column == "volume":
            volume = self._workspace.case.volume(goal.volume_key) if self._workspace.case else None
            if volume is None and goal.waits_for:
                return self.tr("{0} (awaited)").format(goal.waits_for)
            return volume.name if volume else self.tr("(volume gone)")
        if column == "metric":
            return goal.metric
        if column == "demand":
            return f"{'≤' if goal.comparator == '<=' else '≥'} {shown(goal.limit, 2)}"
        if column == "tolerance":
            return shown(goal.tolerance, 2)
        if column == "priority":
            return str(goal.priority)
        if column == "source":
            return goal.source
        if value is None:
            return "–"
        if column == "achieved":
            return f"{value:.1f}"
        off = value - goal.limit if goal.comparator == "<=" else goal.limit - value
        sign = "" if abs(off) < 0.05 else "+" if off > 0 else "−"  # neither beyond nor within what is shown
        return f"{sign}{abs(off):.1f}"

    def _demand(self, goal: Goal) -> str:
        sign = "≤" if goal.comparator == "<=" else "≥"
        return f"{sign} {shown(goal.limit, 2)} {unit_of(goal.metric)}"

    def state_words(self, state: str) -> str:
        """Return a state in the person's language."""
        return {
            "met": self.tr("met"), "within tolerance": self.tr("tolerance"), "missed": self.tr("missed"),
            "not judged": self.tr("open"),
        }[state]  # fmt: skip

    def _tip(self, goal: Goal, state: str) -> str:
        parts = [
            f"{self._text(goal, 'volume', None, state)}: {goal.metric.partition('[')[0]} {self._demand(goal)}",
            self.tr("Priority {0}: {1}").format(goal.priority, self.state_words(state)),
        ]
        if goal.tolerance:
            parts.append(self.tr("tolerance {0} {1}").format(shown(goal.tolerance, 2), unit_of(goal.metric)))
        if goal.waits_for:
            parts.append(self.tr("It waits for a volume named {0} and is judged once there is one.").format(goal.waits_for))
        parts.append(self.tr("“Off by” is how far beyond the demand (+) or within it (−)."))
        return "\n".join([*parts, goal.source] if goal.source else parts)

    def setData(self, index: Index, value: Any, role: int = 0) -> bool:
        goal = self.goal_at(index.row()) if index.isValid() else None
        if goal is None or role != Qt.ItemDataRole.EditRole:
            return False
        column, text = COLUMNS[index.column()], str(value).strip()
        fields: dict[str, Any] = {
            "metric": goal.metric, "comparator": goal.comparator, "limit": goal.limit, "tolerance": goal.tolerance,
            "priority": goal.priority, "source": goal.source, "waits_for": goal.waits_for,
        }  # fmt: skip
        key, unit, refusal = goal.volume_key, unit_of(goal.metric), ""
        if column == "volume":
            volume = self._workspace.case.named(text) if self._workspace.case else None
            key, refusal = (volume.key, "") if volume else (key, self.tr("There is no volume “{0}” in this case."))
            fields["waits_for"] = ""
        elif column in ("metric", "source"):
            fields[column] = text
        elif column == "priority":
            fields["priority"] = int(text) if text in ("1", "2", "3") else goal.priority
            refusal = "" if text in ("1", "2", "3") else self.tr("A priority is 1 (must), 2 or 3 (wish).")
        elif column == "tolerance":
            number = typed(text, (unit, "cc"))
            fields["tolerance"] = number
            if number is None or number < 0:
                refusal = self.tr("“{0}” is not a tolerance. Write how far beyond the demand still counts, such as 2 {1}.")
        else:
            comparator = "<=" if text[:1] in "≤<" and text else ">=" if text[:1] in "≥>" and text else goal.comparator
            number = typed(text.lstrip("≤≥<>= "), (unit, "cc"))
            fields.update(comparator=comparator, limit=number)
            if number is None or number < 0:
                refusal = self.tr("“{0}” is not a demand. Write it like ≤ 20 {1} or ≥ 57 {1}.")
        if refusal:
            self._workspace.message.emit("warning", refusal.format(text, unit))
            return False
        return self._edits.put_goal(index.row(), key, **fields)
