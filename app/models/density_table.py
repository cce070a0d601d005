"""The CT-number-to-density curve as a table that can be written in."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal

from app.core.language import translated
from app.models.numbers import typed
from engine.base.errors import InputError
from engine.image.density import DensityCurve

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


class DensityTable(QAbstractTableModel):
    """Rows (CT number, density). A change that would make no valid curve is refused with words and nothing changes.

    Signals
    -------
    edited(DensityCurve)   refused(words)
    """

    edited = Signal(object)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.curve: DensityCurve | None = None

    def show(self, curve: DensityCurve | None) -> None:
        """Show a curve."""
        self.beginResetModel()
        self.curve = curve
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() or self.curve is None else len(self.curve.hu)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else 2

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return (self.tr("CT number, HU"), self.tr("Density, g/cm\u00b3"))[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if self.curve is None or not index.isValid():
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            value = (self.curve.hu, self.curve.g_cm3)[index.column()][index.row()]
            return f"{value:g}".replace("-", "−")
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        return super().flags(index) | Qt.ItemFlag.ItemIsEditable if index.isValid() else Qt.ItemFlag.NoItemFlags

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        if self.curve is None or role != Qt.ItemDataRole.EditRole:
            return False
        if str(value).strip() == self.data(index):  # as shown, which may be less than all its digits
            return False
        number = typed(str(value), ("HU", "g/cm³"))
        if number is None:
            self.refused.emit(self.tr("{} is not a number.").format(value))
            return False
        columns = [list(self.curve.hu), list(self.curve.g_cm3)]
        if columns[index.column()][index.row()] == number:
            return True
        columns[index.column()][index.row()] = number
        return self._offer(columns)

    def add_row(self, after: int) -> bool:
        """Put a point halfway after a row (after the last one: 500 HU beyond it)."""
        if self.curve is None:
            return False
        hu, rho = list(self.curve.hu), list(self.curve.g_cm3)
        if 0 <= after < len(hu) - 1:
            hu.insert(after + 1, (hu[after] + hu[after + 1]) / 2)
            rho.insert(after + 1, (rho[after] + rho[after + 1]) / 2)
        else:
            hu.append(hu[-1] + 500)
            rho.append(rho[-1])
        return self._offer([hu, rho])

    def remove_row(self, row: int) -> bool:
        """Take a point away."""
        if self.curve is None or not 0 <= row < len(self.curve.hu):
            return False
        return self._offer([[v for i, v in enumerate(c) if i != row] for c in (self.curve.hu, self.curve.g_cm3)])

    def _offer(self, columns: list[list[float]]) -> bool:
        assert self.curve is not None
        source = self.tr("edited at intake")
        old = self.curve.source
        try:
            curve = self.curve.but(
                hu=tuple(columns[0]),
                g_cm3=tuple(columns[1]),
                source=old if old.startswith(source) else f"{source}; before: {old}",
            )
        except InputError as error:
            self.refused.emit(translated(error))
            return False
        self.show(curve)
        self.edited.emit(curve)
        return True
