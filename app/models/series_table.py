"""The series found in a folder, as rows."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from app.core.language import translated
from app.core.tokens import colour

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
STATE = 5


class SeriesTable(QAbstractTableModel):
    """Rows of SeriesFound: what each is and whether it can be opened."""

    def __init__(self) -> None:
        super().__init__()
        self.series: tuple[Any, ...] = ()

    def show(self, series: tuple[Any, ...]) -> None:
        """Show other series."""
        self.beginResetModel()
        self.series = tuple(series)
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.series)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else 6

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return (
                self.tr("Series"),
                self.tr("Kind"),
                self.tr("Patient"),
                self.tr("Date"),
                self.tr("Files"),
                self.tr("State"),
            )[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        s, column = self.series[index.row()], index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(s, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return "\n".join(translated(t) for t in (s.problem, s.note) if t) or self._text(s, column)
        if role == Qt.ItemDataRole.ForegroundRole and s.problem and s.over_problem:
            return colour("bad") if column == STATE else colour("quiet")
        if role == Qt.ItemDataRole.TextAlignmentRole and column == 4:
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        return None

    def _text(self, s: Any, column: int) -> str:
        date = s.study_date
        if len(date) == 8 and date.isdigit():
            date = f"{date[:4]}-{date[4:6]}-{date[6:]}"
        who = s.patient_name.replace("^", " ").strip() or s.patient_id
        state = translated(s.problem or s.note) or self.tr("can be opened")
        if s.problem and not s.over_problem:
            state = self.tr("can be laid over a planning CT")
        return (s.description or self.tr("no description"), s.modality, who, date, str(s.files), state)[column]
