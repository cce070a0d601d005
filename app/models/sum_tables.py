"""What a sum of drafts gives, as tables: the demands of its members, and what each volume receives of each course."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QBrush, QColor

from app.core.sum_plan import SumPlan
from app.core.tokens import colour
from app.models.goal_table import INKS, SHAPES, unit_of
from app.models.numbers import shown, typed

Index = QModelIndex | QPersistentModelIndex
GOALS = ("state", "volume", "metric", "demand", "achieved", "alpha_beta", "origin")
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class SumTable(QAbstractTableModel):
    """What the two tables share: rows made anew whenever the sum changes."""

    def __init__(self, plan: SumPlan) -> None:
        super().__init__(plan)
        self.plan = plan
        self.lines: list[Any] = []
        plan.now_changed.connect(self._take)

    def _take(self, *_: object) -> None:
        self.beginResetModel()
        self.lines = self.made() if self.plan.now is not None else []
        self.endResetModel()

    def made(self) -> list[Any]:
        """Return what the rows show."""
        raise NotImplementedError

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.lines)

    def ink_of(self, key: str) -> QColor | None:
        """Return a volume's colour."""
        volume = self.plan.workspace.case.volume(key) if self.plan.workspace.case else None
        return QColor(*volume.colour) if volume is not None else None

    def name_of(self, key: str) -> str:
        """Return a volume's name."""
        volume = self.plan.workspace.case.volume(key) if self.plan.workspace.case else None
        return volume.name if volume is not None else self.tr("(volume gone)")


class SumGoalTable(SumTable):
    """The demands of all members, judged by the sum. Nothing is edited here: each belongs to its draft."""

    def made(self) -> list[Any]:
        return list(zip(self.plan.now.goals, self.plan.origins))

    def counts(self) -> dict[str, int]:
        """Return how many demands are in each state."""
        states = [str(state) for (_, _, state), _ in self.lines]
        return {s: states.count(s) for s in SHAPES}

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(GOALS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation == Qt.Orientation.Vertical or role != Qt.ItemDataRole.DisplayRole:
            return None
        heads = {
            "state": "", "volume": self.tr("Volume"), "metric": self.tr("Metric"), "demand": self.tr("Demand"),
            "achieved": self.tr("Sum in EQD2") if self.plan.in_eqd2 else self.tr("Sum in Gy"),
            "alpha_beta": self.tr("α/β"), "origin": self.tr("Of"),
        }  # fmt: skip
        return heads[GOALS[section]]

    def data(self, index: Index, role: int = 0) -> Any:
        if not index.isValid() or index.row() >= len(self.lines):
            return None
        (goal, value, state), names = self.lines[index.row()]
        column = GOALS[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(column, goal, value, state, names)
        if role == Qt.ItemDataRole.TextAlignmentRole and column in ("demand", "achieved", "alpha_beta"):
            return RIGHT
        if role == Qt.ItemDataRole.ForegroundRole and column in ("state", "achieved"):
            return QBrush(colour(INKS[state]))
        if role == Qt.ItemDataRole.DecorationRole and column == "volume":
            return self.ink_of(goal.volume_key)
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._tip(goal, value, state, names)
        return None

    def _text(self, column: str, goal: Any, value: float | None, state: str, names: tuple[str, ...]) -> str:
        if column == "alpha_beta":
            return self.tr("{0} Gy").format(f"{self.plan.alpha_beta(goal.volume_key)[0]:g}") if self.plan.in_eqd2 else "–"
        if column == "achieved":
            return "–" if value is None else f"{value:.1f} {self._unit(goal)}"
        return {
            "state": SHAPES[state], "volume": self.name_of(goal.volume_key), "metric": goal.metric,
            "demand": f"{'≤' if goal.comparator == '<=' else '≥'} {shown(goal.limit, 2)}", "origin": ", ".join(names),
        }[column]  # fmt: skip

    def _unit(self, goal: Any) -> str:
        unit = unit_of(goal.metric)
        return self.tr("{0} EQD2").format(unit) if self.plan.in_eqd2 and unit in ("Gy", "cGy") else unit

    def _tip(self, goal: Any, value: float | None, state: str, names: tuple[str, ...]) -> str:
        parts = [self.tr("{0}; a demand of {1}").format(self.plan.title(), ", ".join(names))]
        if self.plan.in_eqd2:
            words = self.tr("Doses of metric and demand are read as EQD2 with {0}")
            parts.append(words.format(self.plan.alpha_beta_words(goal.volume_key)))
        if state == "not judged" and "%" in goal.metric:
            parts.append(
                self.tr("Percentages of the prescription are judged only where all drafts prescribe to one volume")
            )
        return "\n".join([*parts, goal.source] if goal.source else parts)


class SumVolumeTable(SumTable):
    """Each volume: its alpha/beta, edited in place; the mean of each course and per fraction; mean and D2% of the sum."""

    def made(self) -> list[Any]:
        case = self.plan.workspace.case
        found = self.plan.found
        keys = [v.key for v in case.volumes if v.key in self.plan.now.dvhs and v.role not in ("SUPPORT", "BOLUS")]
        return [(k, self.plan.now.dvhs[k], [p.dvhs.get(k) for p in found.parts]) for k in keys]

    @property
    def alpha_beta_column(self) -> int:
        """Where the alpha/beta stands."""
        return 1

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else 5 + len(self.plan.names)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation == Qt.Orientation.Vertical or role != Qt.ItemDataRole.DisplayRole:
            return None
        unit = self.tr("EQD2") if self.plan.in_eqd2 else self.tr("Gy")
        heads = [self.tr("Volume"), self.tr("α/β\nGy")]
        heads += [self.tr("{0}\nmean (each)").format(name) for name in self.plan.names]
        heads += [self.tr("Sum mean\n{0}").format(unit), self.tr("Sum D2%\n{0}").format(unit), self.tr("α/β from")]
        return heads[section] if section < len(heads) else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return flags | Qt.ItemFlag.ItemIsEditable if index.column() == self.alpha_beta_column else flags

    def data(self, index: Index, role: int = 0) -> Any:
        if not index.isValid() or index.row() >= len(self.lines):
            return None
        key, dvh, parts = self.lines[index.row()]
        column = index.column()
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self._texts(key, dvh, parts)[column]
        if role == Qt.ItemDataRole.TextAlignmentRole and 0 < column < self.columnCount() - 1:
            return RIGHT
        if role == Qt.ItemDataRole.DecorationRole and column == 0:
            return self.ink_of(key)
        if role == Qt.ItemDataRole.ToolTipRole:
            words = self.tr("{0}: {1}. Double click on α/β to change it; empty for the usual value.")
            return words.format(self.name_of(key), self.plan.alpha_beta_words(key))
        return None

    def _texts(self, key: str, dvh: Any, parts: list[Any]) -> list[str]:
        gy, source = self.plan.alpha_beta(key)
        texts = [self.name_of(key), f"{gy:g}"]
        for draft, part in zip(self.plan.members, parts):
            mean = part.mean_gy if part is not None else 0.0
            texts.append(f"{mean:.1f} ({mean / draft.prescription.fractions:.2f})" if draft.prescription else "–")
        return [*texts, f"{dvh.mean_gy:.1f}", f"{dvh.d_gy(2.0):.1f}", source]

    def setData(self, index: Index, value: Any, role: int = 0) -> bool:
        if not index.isValid() or role != Qt.ItemDataRole.EditRole or index.column() != self.alpha_beta_column:
            return False
        text = str(value).strip()
        gy = typed(text, (self.tr("Gy"), "Gy"))
        if text and gy is None:
            words = self.tr("“{0}” is not an α/β. Type Gy, such as 3; leave it empty for the usual value.")
            self.plan.refused.emit(words.format(text))
            return False
        return self.plan.set_alpha_beta(self.lines[index.row()][0], gy)
