"""The drafts of the case: choose, begin, copy, name, remove."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QPushButton, QWidget

from app.core.draft_edits import DraftEdits
from app.core.workspace import Workspace


class DraftsPanel(QWidget):
    """Chooses among drafts; the box itself is where the name is typed."""

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
        workspace.case_changed.connect(self._take)
        workspace.active_changed.connect(self._take)
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
        self.box.setEnabled(draft is not None)
        self.copy.setEnabled(draft is not None)
        self.remove.setEnabled(draft is not None)

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
