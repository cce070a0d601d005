"""Names in full where a table is narrow: they go on in further lines of their row."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QStyleOptionViewItem, QTableView

from app.panels.tables import CellDelegate

JOINTS = "_-/.+"  # names are joined by these and have few spaces; a line may end behind each
HERE = "\u200b"
EDGES_PX, SLACK_PX = 8, 2  # of a cell, left and right of its text; of these what only roundings need


def breakable(name: str) -> str:
    """Return a name that may be broken behind its joints; it looks the same."""
    for joint in JOINTS:
        name = name.replace(joint, joint + HERE)
    return name


class WholeNames(CellDelegate):
    """Draws text in as many lines as it needs, in rows that `fit_rows` made high enough."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> None:
        super().initStyleOption(option, index)
        option.text = breakable(option.text)


def show_whole(table: QTableView, column: int) -> None:
    """Let a column of a table show its names in full."""
    table.setItemDelegateForColumn(column, WholeNames(table))
    table.setWordWrap(True)


def fit_rows(table: QTableView, column: int, beside_px: int = 0) -> None:
    """Make the rows as high as their names need; `beside_px` of the column are taken by what stands before the name."""
    model, metrics = table.model(), QFontMetrics(table.font())
    room = QRect(0, 0, table.columnWidth(column) - EDGES_PX + SLACK_PX - beside_px, 1000)
    least = table.verticalHeader().defaultSectionSize()
    for row in range(model.rowCount()):
        text = breakable(str(model.index(row, column).data() or ""))
        high = metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), text).height() + 6
        table.setRowHeight(row, max(least, high))


def widest(table: QTableView, column: int) -> int:
    """Return the width a column needs for its longest text in one line."""
    model, metrics = table.model(), QFontMetrics(table.font())
    texts = (str(model.index(row, column).data() or "") for row in range(model.rowCount()))
    return max((metrics.horizontalAdvance(t) for t in texts), default=0) + EDGES_PX
