"""A table as the panels show one: whole rows, no gridlines, edited by double click, F2 or typing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionHeader,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.core.tokens import SMALL_PX, tabular


class ChoiceDelegate(QStyledItemDelegate):
    """Edits a cell by choosing from a list that is asked for when the cell is opened."""

    def __init__(self, choices: Callable[[], Sequence[str]], parent: QWidget) -> None:
        super().__init__(parent)
        self._choices = choices

    def createEditor(
        self, parent: QWidget, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QWidget:
        box = QComboBox(parent)
        box.addItems(list(self._choices()))
        box.activated.connect(lambda _: (self.commitData.emit(box), self.closeEditor.emit(box)))
        return box

    def setEditorData(self, editor: QWidget, index: QModelIndex | QPersistentModelIndex) -> None:
        if isinstance(editor, QComboBox):
            editor.setCurrentText(str(index.data(Qt.ItemDataRole.EditRole)))

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: QModelIndex | QPersistentModelIndex) -> None:
        if isinstance(editor, QComboBox):
            model.setData(index, editor.currentText(), Qt.ItemDataRole.EditRole)


class CellDelegate(QStyledItemDelegate):
    """Edits a cell as text, with the whole text selected and the cell's side kept."""

    def createEditor(
        self, parent: QWidget, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QWidget:
        editor = super().createEditor(parent, option, index)
        side = index.data(Qt.ItemDataRole.TextAlignmentRole)
        if side is not None and hasattr(editor, "setAlignment"):
            editor.setAlignment(Qt.AlignmentFlag(side))
        return editor


class ProseDelegate(CellDelegate):
    """Cuts a text that finds no room at its end, where names are cut in the middle."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> None:
        super().initStyleOption(option, index)
        option.textElideMode = Qt.TextElideMode.ElideRight  # type: ignore[attr-defined]


class Header(QHeaderView):
    """Heads stand at the side at which the cells below them stand, at the left where there are none."""

    def initStyleOptionForIndex(self, option: QStyleOptionHeader, logicalIndex: int) -> None:
        super().initStyleOptionForIndex(option, logicalIndex)
        role, model = Qt.ItemDataRole.TextAlignmentRole, self.model()
        if model.headerData(logicalIndex, self.orientation(), role) is None and model.rowCount():
            side = model.index(0, logicalIndex).data(role)
            if side is not None:
                option.textAlignment = Qt.AlignmentFlag(side)  # type: ignore[attr-defined]


def table_of(model: QAbstractItemModel, name: str, stretch: int, row_px: int = 24) -> QTableView:
    """Return a table view on a model; `stretch` is the column that takes the spare room."""
    table = QTableView()
    table.setHorizontalHeader(Header(Qt.Orientation.Horizontal, table))
    table.setModel(model)
    table.setAccessibleName(name)
    table.setShowGrid(False)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    triggers = QAbstractItemView.EditTrigger
    table.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed)
    table.setTabKeyNavigation(True)
    table.setWordWrap(False)
    table.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # names differ at their end: left, right
    table.setItemDelegate(CellDelegate(table))
    table.setFont(tabular(table.font(), SMALL_PX))
    table.horizontalHeader().setFont(tabular(table.font(), SMALL_PX - 1))
    table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(row_px)
    header = table.horizontalHeader()
    header.setStyleSheet("QHeaderView::section { padding: 3px 3px; font-size: 11px; }")
    header.setHighlightSections(False)
    header.setMinimumSectionSize(30)
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
    header.setSectionResizeMode(stretch, QHeaderView.ResizeMode.Stretch)
    return table


def set_widths(table: QTableView, samples: dict[int, str]) -> None:
    """Give columns the width their widest usual text or their head needs."""
    metrics, heads, model = QFontMetrics(table.font()), QFontMetrics(table.horizontalHeader().font()), table.model()
    for column, text in samples.items():
        head = str(model.headerData(column, Qt.Orientation.Horizontal, Qt.ItemDataRole.DisplayRole) or "")
        widths = [metrics.horizontalAdvance(text) + 6, *(heads.horizontalAdvance(t) + 10 for t in head.split("\n"))]
        table.setColumnWidth(column, max(widths))
