"""Pairs of volumes of one name, the case's and another observer's, the least alike first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from app.models.volume_table import patch
from engine.volumes.volume import Volume

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
NAME, DICE, MEAN, P95 = range(4)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


@dataclass(frozen=True)
class Pair:
    """Two volumes and how alike they are: a Likeness of engine.volumes, or None while it is worked out."""

    first: Volume
    second: Volume
    likeness: Any = None


class PairTable(QAbstractTableModel):
    """Rows of pairs: those that are known by their Dice, then those that are being compared."""

    def __init__(self) -> None:
        super().__init__()
        self.pairs: list[Pair] = []

    def show(self, pairs: list[Pair]) -> None:
        """Show other pairs."""
        wanted = sorted(pairs, key=lambda p: (p.likeness is None, p.likeness.dice if p.likeness is not None else 0.0))
        keys = [(p.first.key, p.second.key) for p in wanted]
        if keys != [(p.first.key, p.second.key) for p in self.pairs]:
            self.beginResetModel()
            self.pairs = wanted
            self.endResetModel()
        elif wanted:
            self.pairs = wanted
            self.dataChanged.emit(self.index(0, 0), self.index(len(wanted) - 1, P95))

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.pairs)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else 4

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return (self.tr("Volume"), self.tr("Dice"), self.tr("Mean mm"), self.tr("95 % mm"))[section]
        if role == Qt.ItemDataRole.TextAlignmentRole and orientation == Qt.Orientation.Horizontal:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter) if section == NAME else RIGHT
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        pair, column = self.pairs[index.row()], index.column()
        if role == Qt.ItemDataRole.DecorationRole and column == NAME:
            return patch(pair.first.colour)
        if role == Qt.ItemDataRole.TextAlignmentRole and column != NAME:
            return RIGHT
        if role == Qt.ItemDataRole.ToolTipRole:
            return pair.first.name
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        found = pair.likeness
        if column == NAME:
            return pair.first.name
        if found is None:
            return "\u2026"
        value = {DICE: found.dice, MEAN: found.mean_mm, P95: found.p95_mm}[column]
        return "\u2013" if value is None else f"{value:.3f}" if column == DICE else f"{value:.2f}"
