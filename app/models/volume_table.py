"""The volumes of the case as rows."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap

from app.core.language import translated
from app.core.tokens import colour
from app.core.workspace import Workspace
from engine.base.errors import InputError
from engine.case import edits
from engine.case.case import Case
from engine.volumes.volume import Volume

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
NAME, ROLE, CM3, SLICES, MARK = range(5)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
CENTRE = int(Qt.AlignmentFlag.AlignCenter)


class VolumeTable(QAbstractTableModel):
    """Rows of volumes: colour and whether it is shown, name, role, cm3, slices, and a mark where a finding exists.

    Signals
    -------
    refused(words) : a name or role that cannot be
    """

    refused = Signal(str)

    def __init__(self, workspace: Workspace) -> None:
        super().__init__()
        self._workspace = workspace
        self.volumes: tuple[Volume, ...] = ()
        self._marks: dict[str, list[str]] = {}
        workspace.case_changed.connect(self._case_changed)
        workspace.shown_changed.connect(lambda: self._changed(NAME, NAME))
        self._case_changed(None, workspace.case)

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        volumes = after.volumes if after is not None else ()
        if [v.key for v in volumes] != [v.key for v in self.volumes]:
            self.beginResetModel()
            self.volumes = volumes
            self.endResetModel()
        elif volumes is not self.volumes:
            self.volumes = volumes
            self._changed(NAME, MARK)

    def _changed(self, first: int, last: int) -> None:
        if self.volumes:
            self.dataChanged.emit(self.index(0, first), self.index(len(self.volumes) - 1, last))

    def set_marks(self, marks: dict[str, list[str]]) -> None:
        """Show a mark at volumes (by key) with these sentences as its tip."""
        if marks != self._marks:
            self._marks = marks
            self._changed(MARK, MARK)

    def row_of(self, key: str) -> int:
        """Return the row of a volume, or -1."""
        return next((i for i, v in enumerate(self.volumes) if v.key == key), -1)

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.volumes)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else 5

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if orientation == Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return (self.tr("Volume"), self.tr("Role"), self.tr("cm\u00b3"), self.tr("Slices"), "")[section]
            if role == Qt.ItemDataRole.ToolTipRole and section == MARK:
                return self.tr("What is to be seen in a volume")
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return (
                    RIGHT if section in (CM3, SLICES) else int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
                )
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.volumes):
            return None
        v, column = self.volumes[index.row()], index.column()
        roles = Qt.ItemDataRole
        if role in (roles.DisplayRole, roles.EditRole):
            return self._text(v, column)
        if role == roles.DecorationRole and column == NAME:
            return patch(v.colour)
        if role == roles.CheckStateRole and column == NAME:
            return Qt.CheckState.Unchecked if v.key in self._workspace.hidden else Qt.CheckState.Checked
        if role == roles.TextAlignmentRole:
            return RIGHT if column in (CM3, SLICES) else CENTRE if column == MARK else None
        if role == roles.ForegroundRole and column == MARK:
            return colour("warn")
        if role == roles.ToolTipRole:
            if column == MARK:
                return "\n".join(f"\u2022 {w}" for w in self._marks.get(v.key, ())) or self.tr("Nothing to be seen.")
            return "\n".join(t for t in (v.name, v.note) if t)
        if role == roles.AccessibleTextRole and column == MARK:
            return "; ".join(self._marks.get(v.key, ()))
        return None

    def _text(self, v: Volume, column: int) -> str:
        if column == NAME:
            return v.name
        if column == ROLE:
            return v.role
        if column == MARK:
            return "!" if self._marks.get(v.key) else ""
        if v.coverage.is_empty:
            return "\u2013"
        if column == CM3:
            cm3 = v.coverage.volume_cm3
            return f"{cm3:.2f}" if cm3 < 10 else f"{cm3:.1f}" if cm3 < 1000 else f"{cm3:.0f}"
        return str(len(v.coverage.tiles))

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        out = super().flags(index)
        if index.column() in (NAME, ROLE):
            out |= Qt.ItemFlag.ItemIsEditable
        return out | Qt.ItemFlag.ItemIsUserCheckable if index.column() == NAME else out

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        case = self._workspace.case
        if not index.isValid() or case is None:
            return False
        v, column = self.volumes[index.row()], index.column()
        if role == Qt.ItemDataRole.CheckStateRole:
            self._workspace.show_volume(v.key, Qt.CheckState(value) == Qt.CheckState.Checked)
            return True
        if role != Qt.ItemDataRole.EditRole or column not in (NAME, ROLE):
            return False
        try:
            changed = self._renamed(v, str(value).strip()) if column == NAME else v.but(role=str(value))
        except InputError as error:
            self.refused.emit(translated(error))
            return False
        if changed != v:
            text = self.tr("Rename {} to {}") if column == NAME else self.tr("Make {} {}")
            new = changed.name if column == NAME else changed.role
            self._workspace.edit(text.format(v.name, new), edits.with_volume(case, changed))
        return True

    def _renamed(self, v: Volume, name: str) -> Volume:
        """A volume that has not been given a role yet takes the one its new name implies."""
        from engine.volumes.naming import role_of

        if any(o.key != v.key and o.name.lower() == name.lower() for o in self.volumes):
            raise InputError(self.tr("there is already a volume of this name"), name, self.tr("Choose another."))
        role = role_of(name, "OTHER") if v.role == "OTHER" else v.role
        return v.but(name=name, role=role)


@lru_cache(maxsize=64)
def patch(rgb: tuple[int, int, int]) -> QIcon:
    """Return a patch of a volume's colour that a selected row does not tint."""
    icon = QIcon()
    for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected, QIcon.Mode.Active):
        icon.addPixmap(swatch(rgb), mode)
    return icon


def swatch(rgb: tuple[int, int, int], size: QSize | None = None) -> QPixmap:
    """Return a patch of a volume's colour."""
    out = QPixmap(size or QSize(14, 14))
    out.fill(Qt.GlobalColor.transparent)
    painter = QPainter(out)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(*rgb))
    painter.drawRoundedRect(out.rect().adjusted(1, 1, -1, -1), 3, 3)
    painter.end()
    return out
