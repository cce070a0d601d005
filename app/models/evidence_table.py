"""What is to be seen in the volumes, as rows: gravest first, then in the order of the volumes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from app.core.language import translated
from app.core.tokens import colour
from engine.case.case import Case
from engine.volumes.evidence import RULES, Evidence, severity_of

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
KIND, VOLUME, WORDS = range(3)
SHAPES = {"warn": "\u25b2", "note": "\u25cf"}


class EvidenceTable(QAbstractTableModel):
    """Rows of Evidence with the name of the volume each concerns."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[tuple[str, str, Evidence]] = []

    def show(self, case: Case | None, seen: Sequence[Evidence]) -> None:
        """Show other evidence; what is the same already is left alone, so that the chosen row stays chosen."""
        volumes = case.volumes if case is not None else ()
        place = {v.key: (i, v) for i, v in enumerate(volumes)}
        rows = []
        for e in seen:
            if e.volume_key in place:
                v = place[e.volume_key][1]
                rows.append((severity_of(e.code, v.is_target), v.name, e))
        rows.sort(key=lambda r: (r[0] != "warn", place[r[2].volume_key][0]))
        if rows != self.rows:
            self.beginResetModel()
            self.rows = rows
            self.endResetModel()

    def words(self, row: int) -> tuple[str, str]:
        """Return evidence and rule of a row."""
        _, name, e = self.rows[row]
        return self.tr("{}: {}").format(name, translated(e.words)), translated(RULES[e.code])

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else 3

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return ("", self.tr("Volume"), self.tr("What is to be seen"))[section]
        if role == Qt.ItemDataRole.TextAlignmentRole and section != KIND:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        severity, name, e = self.rows[index.row()]
        roles, column = Qt.ItemDataRole, index.column()
        kind = self.tr("Mend it or answer it before signing") if severity == "warn" else self.tr("Note")
        if role == roles.DisplayRole:
            return (SHAPES[severity], name, translated(e.words))[column]
        if role == roles.ForegroundRole and column == KIND:
            return colour("warn") if severity == "warn" else colour("quiet")
        if role == roles.ToolTipRole:
            return kind if column == KIND else "\n".join(self.words(index.row()))
        if role == roles.AccessibleTextRole and column == KIND:
            return kind
        return int(Qt.AlignmentFlag.AlignCenter) if role == roles.TextAlignmentRole and column == KIND else None
