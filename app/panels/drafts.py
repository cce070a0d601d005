"""The drafts of the case: choose, begin, copy, name, remove."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QMenu, QPushButton, QWidget

from app.core.draft_edits import DraftEdits
from app.core.workspace import Workspace, only_beams
from engine.case.case import Case


class DraftsPanel(QWidget):
    """Chooses among drafts; the box itself is where the name is typed.

    Signals
    -------
    beside_wanted(key) : lay this draft beside the active one; "" ends it
    difference_wanted(bool) : show what the active draft gives more or less than the one beside it
    sum_wanted(keys) : add up these drafts, the active one first; () ends it
    """

    beside_wanted = Signal(str)
    difference_wanted = Signal(bool)
    sum_wanted = Signal(tuple)

    def __init__(self, workspace: Workspace, edits: DraftEdits) -> None:
        super().__init__()
        self._workspace, self._edits = workspace, edits
        heading = QLabel(self.tr("Drafts"))
        heading.setObjectName("heading")
        self.box = QComboBox(editable=True, insertPolicy=QComboBox.InsertPolicy.NoInsert)
        self.box.setAccessibleName(self.tr("Active draft; type to rename it"))
        self.box.setToolTip(self.tr("Choose a draft, or type here to rename this one"))
        self.box.activated.connect(self._choose)
        self.box.lineEdit().editingFinished.connect(self._rename)
        self.beside = QComboBox()
        for box in (self.box, self.beside):  # a long name must not widen the pane and take the room of the pictures
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
        self.new, self.copy, self.remove = (
            QPushButton(t) for t in (self.tr("New"), self.tr("Duplicate"), self.tr("Remove"))
        )
        self.new.setToolTip(self.tr("An empty draft with this prescription and these goals"))
        self.new.clicked.connect(lambda: edits.new_draft())
        self.copy.clicked.connect(lambda: edits.duplicate_draft())
        self.remove.clicked.connect(lambda: edits.remove_draft())
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(6)
        grid.addWidget(heading, 0, 0, 1, 3)
        grid.addWidget(self.box, 1, 0, 1, 3)
        for column, button in enumerate((self.new, self.copy, self.remove)):
            grid.addWidget(button, 2, column)
        self.beside.setAccessibleName(self.tr("Draft laid beside this one"))
        self.difference = QCheckBox(self.tr("Difference"))
        self.difference.setToolTip(
            self.tr("Colour where this draft gives more (orange) or less (blue) than the one beside")
        )
        name = QLabel(self.tr("Beside"))
        name.setBuddy(self.beside)
        grid.addWidget(name, 3, 0)
        grid.addWidget(self.beside, 3, 1)
        grid.addWidget(self.difference, 3, 2)
        self.sum_with = QPushButton(self.tr("Sum with…"))
        self.sum_with.setToolTip(
            self.tr("See this draft and others added up, such as a first course and its boost: in Gy or as EQD2")
        )
        self._summed: tuple[str, ...] = ()
        menu = QMenu(self.sum_with)
        menu.aboutToShow.connect(lambda: self._offer(menu))
        self.sum_with.setMenu(menu)
        grid.addWidget(self.sum_with, 4, 0, 1, 3)
        self.beside.activated.connect(lambda _: self._lay())
        self.difference.toggled.connect(self.difference_wanted)
        workspace.case_changed.connect(self._follow)
        workspace.active_changed.connect(self._take)
        self._take()

    def _follow(self, before: Case | None, after: Case | None) -> None:
        if not only_beams(before, after):
            self._take()

    def _take(self, *_: object) -> None:
        case, draft = self._workspace.case, self._workspace.draft
        listed = [(d.name, d.key) for d in case.drafts] if case else []
        if listed != [(self.box.itemText(i), self.box.itemData(i)) for i in range(self.box.count())]:
            self.box.clear()
            for name, key in listed:
                self.box.addItem(name, key)
        self.box.setCurrentIndex(self.box.findData(draft.key) if draft else -1)
        if draft is not None and not self.box.lineEdit().isModified():
            self.box.setEditText(draft.name)
        self._take_beside(listed, draft.key if draft else "")
        self.box.setEnabled(draft is not None)
        self.copy.setEnabled(draft is not None)
        self.remove.setEnabled(draft is not None)

    def _take_beside(self, listed: list[tuple[str, str]], active: str) -> None:
        chosen = self.beside.currentData()
        wanted = [(self.tr("none"), ""), *((n, k) for n, k in listed if k != active)]
        if wanted != [(self.beside.itemText(i), self.beside.itemData(i)) for i in range(self.beside.count())]:
            self.beside.clear()
            for name, key in wanted:
                self.beside.addItem(name, key)
            self.beside.setCurrentIndex(max(0, self.beside.findData(chosen)))
            self._lay()
        self.beside.setEnabled(len(wanted) > 1 and not self._summed)
        self.sum_with.setEnabled(len(wanted) > 1)
        self.difference.setEnabled(bool(self.beside.currentData()))

    def _offer(self, menu: QMenu) -> None:
        """Offer every other draft to be added to the active one; those in the sum are ticked."""
        menu.clear()
        draft, case = self._workspace.draft, self._workspace.case
        for other in case.drafts if case is not None and draft is not None else ():
            if draft is not None and other.key != draft.key:
                action = menu.addAction(other.name)
                action.setCheckable(True)
                action.setChecked(other.key in self._summed)
                action.triggered.connect(lambda on, key=other.key: self._add(key, on))
        if self._summed:
            menu.addSeparator()
            menu.addAction(self.tr("Back to the draft")).triggered.connect(lambda: self.sum_wanted.emit(()))

    def _add(self, key: str, on: bool) -> None:
        active = self._workspace.draft
        if active is not None:
            others = [k for k in self._summed if k not in (active.key, key)]
            self.sum_wanted.emit((active.key, *others, *((key,) if on else ())))

    def show_sum(self, keys: tuple[str, ...]) -> None:
        """Say which drafts are shown as a sum; nothing is laid beside one."""
        self._summed = keys
        if keys and self.beside.currentData():
            self.beside.setCurrentIndex(0)
            self._lay()
        self.beside.setEnabled(self.beside.count() > 1 and not keys)

    def _lay(self) -> None:
        key = self.beside.currentData() or ""
        self.difference.setEnabled(bool(key))
        if not key:
            self.difference.setChecked(False)
        self.beside_wanted.emit(key)

    def _choose(self, row: int) -> None:
        self._workspace.activate(draft=self.box.itemData(row))

    def _rename(self) -> None:
        line, draft = self.box.lineEdit(), self._workspace.draft
        if draft is None or not line.isModified():
            return
        line.setModified(False)
        text = line.text()
        if text != draft.name:
            self._edits.rename_draft(text)
        self._take()
