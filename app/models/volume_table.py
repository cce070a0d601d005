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
from engine.case.derived import in_words, out_of_date
from engine.case.release import changed_since, last_release
from engine.volumes.volume import Volume

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
NAME, ROLE, CM3, SLICES, MARK = range(5)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
CENTRE = int(Qt.AlignmentFlag.AlignCenter)


class VolumeTable(QAbstractTableModel):
    """Rows of volumes: colour and whether it is shown, name, role, cm3, slices, and marks: derived, finding.

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
        self._own_marks: dict[str, list[str]] = {}
        self._derived: dict[str, str] = {}
        workspace.case_changed.connect(self._case_changed)
        workspace.shown_changed.connect(lambda: self._changed(NAME, NAME))
        self._case_changed(None, workspace.case)

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        volumes = after.volumes if after is not None else ()
        other_marks = self._look(after)
        if [v.key for v in volumes] != [v.key for v in self.volumes]:
            self.beginResetModel()
            self.volumes = volumes
            self.endResetModel()
        elif volumes is not self.volumes:
            old, self.volumes = self.volumes, volumes
            # Only the rows that are new: a table painted whole at every stroke would cost more than the stroke.
            for row in (i for i, (a, b) in enumerate(zip(old, volumes)) if a is not b):
                self.dataChanged.emit(self.index(row, NAME), self.index(row, MARK))
        if other_marks:
            self._changed(MARK, MARK)

    def _look(self, case: Case | None) -> bool:
        """Note what is derived, out of date, or changed since it was released; return whether that is news."""
        before = self._own_marks, self._derived
        self._own_marks, self._derived = {}, {}
        if case is not None:
            self._derived = {v.key: translated(in_words(case, v)) for v in case.volumes if v.recipe is not None}
            for key in out_of_date(case):
                self._own_marks[key] = [self.tr("What it is derived from has changed; it is yet to be made again.")]
            last = last_release(case)
            changed = changed_since(case, last) if last is not None else ()
            for v in case.volumes:
                if v.name in changed:
                    self._own_marks.setdefault(v.key, []).append(self.tr("Changed since it was released for planning."))
        return before != (self._own_marks, self._derived)

    def _words(self, v: Volume) -> list[str]:
        return [*self._own_marks.get(v.key, ()), *self._marks.get(v.key, ())]

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
            return colour("warn") if self._words(v) else colour("quiet")
        derived = self.tr("Derived: {}").format(self._derived[v.key]) if v.key in self._derived else ""
        if role == roles.ToolTipRole:
            if column == MARK:
                return "\n".join([*filter(None, [derived]), *(f"\u2022 {w}" for w in self._words(v))]) or self.tr(
                    "Nothing to be seen."
                )
            return "\n".join(t for t in (v.name, derived or v.note) if t)
        if role == roles.AccessibleTextRole and column == MARK:
            return "; ".join([*filter(None, [derived]), *self._words(v)])
        return None

    def _text(self, v: Volume, column: int) -> str:
        if column == NAME:
            return v.name
        if column == ROLE:
            return v.role
        if column == MARK:
            return ("\u21b3" if v.recipe is not None else "") + ("!" if self._words(v) else "")
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
