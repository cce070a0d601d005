"""The list of volumes: which is active, shown, called what, for what; new, copy, delete, colour."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractItemModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QSignalBlocker,
    QStringListModel,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QCheckBox,
    QComboBox,
    QCompleter,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QStyledItemDelegate,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.core.settings import Settings
from app.core.workspace import Workspace
from app.models.volume_table import CM3, MARK, NAME, ROLE, SLICES, VolumeTable
from app.panels.look_menu import LookMenu
from app.panels.number_box import NumberBox
from app.panels.set_menu import SetMenu
from engine.case import edits
from engine.case.derived import made
from engine.volumes.coverage import Coverage
from engine.volumes.recipe import Recipe
from engine.volumes.volume import ROLES, Volume, new_key

POPUP_MS = 200


class VolumeView(QTableView):
    """A table that keeps its current row in sight when its height changes, so one sees what is painted."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scrollTo(self.currentIndex())


class NameEditor(QStyledItemDelegate):
    """Edits a name, with names of TG-263 offered while typing."""

    def createEditor(self, parent: QWidget, option: Any, index: QModelIndex | QPersistentModelIndex) -> QWidget:
        from engine.volumes.naming import suggestions

        editor = QLineEdit(parent)
        editor.setMaxLength(64)
        completer = QCompleter(editor)
        found = QStringListModel(completer)
        completer.setModel(found)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setMaxVisibleItems(12)
        editor.textEdited.connect(lambda text: _fill(editor, suggestions(text)))
        editor.setCompleter(completer)

        def entered() -> None:
            # While names are offered, Return goes past the filter of this delegate: commit here.
            if completer.popup().isVisible():
                completer.popup().hide()
                self.commitData.emit(editor)
                self.closeEditor.emit(editor)

        editor.returnPressed.connect(entered)
        return editor


def _fill(editor: QLineEdit, names: tuple[str, ...]) -> None:
    """Let the completer of an editor offer these."""
    model = editor.completer().model()
    assert isinstance(model, QStringListModel)
    model.setStringList(names)


class RoleEditor(QStyledItemDelegate):
    """Edits a role out of the fixed list."""

    def createEditor(self, parent: QWidget, option: Any, index: QModelIndex | QPersistentModelIndex) -> QWidget:
        editor = QComboBox(parent)
        editor.addItems(ROLES)
        editor.activated.connect(lambda _: (self.commitData.emit(editor), self.closeEditor.emit(editor)))
        return editor

    def setEditorData(self, editor: QWidget, index: QModelIndex | QPersistentModelIndex) -> None:
        assert isinstance(editor, QComboBox)
        editor.setCurrentText(index.data())
        view = editor.view()  # the column is narrower than its longest role, and the list has a scroll bar
        view.setMinimumWidth(view.sizeHintForColumn(0) + view.verticalScrollBar().sizeHint().width() + 8)
        # A list that opens under a pressed button is closed by its release, as of a double click.
        soon = QTimer(editor, singleShot=True, interval=POPUP_MS if QApplication.mouseButtons() else 0)
        soon.timeout.connect(editor.showPopup)
        soon.start()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: QModelIndex | QPersistentModelIndex) -> None:
        assert isinstance(editor, QComboBox)
        model.setData(index, editor.currentText())


class VolumeList(QWidget):
    """Shows and edits the volumes of the case.

    Signals
    -------
    refused(words)   go_to(key) : bring a volume into view   said(level, words)
    """

    refused = Signal(str)
    go_to = Signal(str)
    said = Signal(str, str)

    def __init__(self, workspace: Workspace, settings: Settings) -> None:
        super().__init__()
        self._workspace = workspace
        self.model = VolumeTable(workspace)
        self.model.refused.connect(self.refused)
        self.table = VolumeView()
        self.table.setModel(self.model)
        self._dress()
        head = QLabel(self.tr("Volumes"))
        head.setObjectName("heading")
        self.head = QHBoxLayout()  # a station may put more beside the heading
        self.head.setSpacing(16)
        self.head.addWidget(head, 0, Qt.AlignmentFlag.AlignVCenter)
        self.new = QPushButton(self.tr("New"))
        self.new.setToolTip(self.tr("New volume (Ctrl+N)"))
        self.copy = QPushButton(self.tr("Copy"))
        self.copy.setToolTip(self.tr("A new volume with the same shape"))
        self.delete = QPushButton(self.tr("Delete"))
        self.delete.setToolTip(self.tr("Delete the active volume; undo brings it back"))
        self.look = QPushButton(self.tr("Display"))
        self.look.setToolTip(self.tr("Colour, fill and line of the active volume, and which volumes are shown"))
        self.look.setMenu(LookMenu(workspace, settings, self))
        self.sets = SetMenu(workspace, settings, self)
        self.sets.said.connect(self.said)
        self.set_button = QPushButton(self.tr("Sets"))
        self.set_button.setToolTip(
            self.tr(
                "The usual volumes of a site, added empty; undo takes them back. Names of AAPM TG-263, a choice of our own"
            )
        )
        self.set_button.setMenu(self.sets)
        row = QHBoxLayout()
        row.setSpacing(8)
        for b in (self.new, self.copy, self.delete, self.look, self.set_button):
            row.addWidget(b, 1)
        self.own_density = QCheckBox(self.tr("Own density"))
        self.own_density.setToolTip(self.tr("Compute dose with this density instead of the CT's inside the volume"))
        self.density = NumberBox()
        self.density.setRange(0.0, 25.0)
        self.density.setDecimals(3)
        self.density.setSingleStep(0.05)
        self.density.setSuffix(self.tr(" g/cm\u00b3"))
        self.density.setKeyboardTracking(False)
        self.density.setAccessibleName(self.tr("Density of the volume"))
        density_row = QHBoxLayout()
        density_row.addWidget(self.own_density)
        density_row.addWidget(self.density, 1)
        self.hint = QLabel(
            self.tr("No volume yet. New makes one to paint, Sets the usual ones of a site; Operations can find the body.")
        )
        self.hint.setObjectName("quiet")
        self.hint.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(self.head)
        column.addWidget(self.hint)
        column.addWidget(self.table, 1)
        column.addLayout(row)
        column.addLayout(density_row)
        self.own_density.clicked.connect(self._density)
        self.density.valueChanged.connect(self._density)
        self.new.clicked.connect(self.make)
        self.copy.clicked.connect(self._copy)
        self.delete.clicked.connect(self._delete)
        self.table.selectionModel().currentRowChanged.connect(self._row_changed)
        self.table.doubleClicked.connect(self._double)
        workspace.active_changed.connect(self._follow)
        workspace.case_changed.connect(lambda *_: self._follow())
        self._follow()

    def _dress(self) -> None:
        t = self.table
        t.setAccessibleName(self.tr("Volumes"))
        t.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        t.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        t.setShowGrid(False)
        t.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # names differ at their end: left, right
        t.setTabKeyNavigation(False)
        t.setMinimumHeight(150)
        triggers = QAbstractItemView.EditTrigger
        t.setEditTriggers(triggers.EditKeyPressed | triggers.SelectedClicked | triggers.DoubleClicked)
        t.verticalHeader().hide()
        t.verticalHeader().setDefaultSectionSize(26)
        self._editors = (NameEditor(t), RoleEditor(t))
        t.setItemDelegateForColumn(NAME, self._editors[0])
        t.setItemDelegateForColumn(ROLE, self._editors[1])
        header = t.horizontalHeader()
        header.setMinimumSectionSize(20)
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        for column, width in ((ROLE, 76), (CM3, 52), (SLICES, 48), (MARK, 26)):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            header.resizeSection(column, width)

    # the active row

    def _follow(self) -> None:
        v = self._workspace.volume
        case = self._workspace.case
        row = self.model.row_of(v.key) if v is not None else -1
        if row >= 0 and self.table.currentIndex().row() != row:
            flags = QItemSelectionModel.SelectionFlag
            self.table.selectionModel().setCurrentIndex(self.model.index(row, NAME), flags.ClearAndSelect | flags.Rows)
        self.hint.setVisible(case is not None and not case.volumes)
        self.new.setEnabled(case is not None)
        self.set_button.setEnabled(case is not None)
        for b in (self.copy, self.delete, self.look, self.own_density):
            b.setEnabled(v is not None)
        own = v.density_g_cm3 if v is not None else None
        self.own_density.setChecked(own is not None)
        self.density.setEnabled(own is not None)
        with QSignalBlocker(self.density):
            self.density.setValue(1.0 if own is None else own)

    def _row_changed(self, now: QModelIndex, before: QModelIndex) -> None:
        if now.isValid() and now.row() < len(self.model.volumes):
            self._workspace.activate(volume=self.model.volumes[now.row()].key)

    def _double(self, index: QModelIndex) -> None:
        if index.column() not in (NAME, ROLE):
            self.go_to.emit(self.model.volumes[index.row()].key)

    # edits

    def make(
        self,
        coverage: Coverage | None = None,
        name: str = "",
        role: str = "",
        note: str = "",
        recipe: Recipe | None = None,
    ) -> str:
        """Add a volume (empty unless given a coverage), make it active and let its name be written; return its key.

        With a recipe, `coverage` is what that makes of the volumes it names as they are now.
        """
        case = self._workspace.case
        if case is None:
            return ""
        ask = not name
        taken = {v.name.lower() for v in case.volumes}
        stem, n = name or "Volume_1", 1
        name = stem
        while name.lower() in taken:
            n += 1
            name = f"{stem.rstrip('_0123456789')}_{n}" if ask else f"{stem}_{n}"
        coverage = coverage if isinstance(coverage, Coverage) else Coverage(case.image.grid)
        volume = Volume(new_key(), name, role or "OTHER", edits.next_colour(case), coverage, note=note)
        if recipe is not None:
            volume = made(case, volume, recipe, coverage)
        self._workspace.edit(self.tr("New volume {}").format(name), edits.with_volume(case, volume))
        self._workspace.activate(volume=volume.key)
        self._follow()
        row = self.model.row_of(volume.key)
        if ask and row >= 0:
            self.table.edit(self.model.index(row, NAME))
        return volume.key

    def _copy(self) -> None:
        v = self._workspace.volume
        if v is not None:
            self.make(v.coverage, v.name, v.role, self.tr("copy of {}").format(v.name))

    def _delete(self) -> None:
        case, v = self._workspace.case, self._workspace.volume
        if case is None or v is None:
            return
        row = self.model.row_of(v.key)
        self._workspace.edit(self.tr("Delete {}").format(v.name), edits.without_volume(case, v.key))
        left = self.model.volumes
        self._workspace.activate(volume=left[min(row, len(left) - 1)].key if left else "")
        self._follow()

    def _density(self, *_: Any) -> None:
        case, v = self._workspace.case, self._workspace.volume
        if case is None or v is None:
            return
        own = self.density.value() if self.own_density.isChecked() else None
        if own != v.density_g_cm3:
            text = self.tr("Density of {}").format(v.name)
            self._workspace.edit(text, edits.with_volume(case, v.but(density_g_cm3=own)), merge=f"{v.key}/density")
