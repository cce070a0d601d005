"""The named points of the case, such as markers of a structure set: see where one lies, name it anew, remove it."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QWidget

from app.core.language import translated
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.case import edits


class PointList(QWidget):
    """One row: the box chooses a point, and its name is typed there; hidden while the case has none."""

    def __init__(self, workspace: Workspace) -> None:
        super().__init__()
        self._workspace = workspace
        self.box = QComboBox(editable=True, insertPolicy=QComboBox.InsertPolicy.NoInsert)
        self.box.setAccessibleName(self.tr("Named point; type to rename it"))
        self.box.setToolTip(self.tr("Points that came with structure sets: choose one, or type here to rename it"))
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.box.setMinimumContentsLength(6)
        self.box.lineEdit().setMaxLength(64)
        self.box.activated.connect(lambda _: self._show())
        self.box.lineEdit().editingFinished.connect(self._rename)
        self.show_button, self.remove = QPushButton(self.tr("Show")), QPushButton(self.tr("Remove"))
        self.show_button.setToolTip(self.tr("Move the cross-hair to this point"))
        self.show_button.clicked.connect(self._show)
        self.remove.setToolTip(self.tr("Take this point out of the case; what was put at it stays. Undo brings it back"))
        self.remove.clicked.connect(self._remove)
        self.label = QLabel(self.tr("Points"))  # stands where the panel has its labels
        self.label.setObjectName("quiet")
        self.label.setBuddy(self.box)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for widget in (self.box, self.show_button, self.remove):
            row.addWidget(widget, 1 if widget is self.box else 0)
        workspace.case_changed.connect(self.take)

    def take(self, *_: object) -> None:
        """Show the points there are now."""
        case, row = self._workspace.case, self.box.currentIndex()
        points = case.points if case is not None else ()
        self.setVisible(bool(points))
        self.label.setVisible(bool(points))
        names = [p.name for p in points]
        if names != [self.box.itemText(i) for i in range(self.box.count())]:
            self.box.clear()
            self.box.addItems(names)
            self.box.setCurrentIndex(min(max(row, 0), len(names) - 1))

    def _show(self) -> None:
        case, row = self._workspace.case, self.box.currentIndex()
        if case is not None and 0 <= row < len(case.points):
            self._workspace.set_cursor(case.points[row].place_mm)

    def _rename(self) -> None:
        line, case, row = self.box.lineEdit(), self._workspace.case, self.box.currentIndex()
        if case is None or not line.isModified() or not 0 <= row < len(case.points):
            return
        line.setModified(False)
        before, wanted = case.points[row].name, line.text().strip()
        if wanted != before:
            try:
                self._workspace.edit(self.tr("Rename {0}").format(before), edits.with_point_named(case, row, wanted))
            except UserError as error:
                self._workspace.message.emit("error", translated(error))
        if self._workspace.case is not None and row < len(self._workspace.case.points):
            self.box.setEditText(self._workspace.case.points[row].name)

    def _remove(self) -> None:
        case, row = self._workspace.case, self.box.currentIndex()
        if case is not None and 0 <= row < len(case.points):
            self._workspace.edit(self.tr("Remove {0}").format(case.points[row].name), edits.without_point(case, row))
