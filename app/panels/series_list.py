"""The series of a folder with what is wrong with each, and the button that opens one."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QHeaderView, QLabel, QPushButton, QTableView, QVBoxLayout, QWidget

from app.core.language import translated
from app.models.series_table import STATE, SeriesTable

POSITIONS = ("HFS", "HFP", "FFS", "FFP")


class SeriesList(QWidget):
    """Shows what a folder holds.

    Signals
    -------
    open_wanted(series_uid, patient_position or "")
    """

    open_wanted = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        self.folder = QLabel(self.tr("Series"))
        self.folder.setObjectName("heading")
        self.count = QLabel()
        self.count.setObjectName("quiet")
        self.count.setWordWrap(True)
        self.model = SeriesTable()
        self.table = QTableView()
        self.table.setModel(self.model)
        self.table.setAccessibleName(self.tr("Series found"))
        self.table.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(28)
        header = self.table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(STATE, QHeaderView.ResizeMode.Stretch)
        self.why = QLabel()
        self.why.setWordWrap(True)
        self.why.setMinimumHeight(40)
        self.why.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.why.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.position = QComboBox()
        self.position.addItem(self.tr("as the files say"), "")
        for p in POSITIONS:
            self.position.addItem(p, p)
        self.position.setToolTip(
            self.tr("How the patient lies, used only where the files are silent: head or feet first, supine or prone")
        )
        self.position.setAccessibleName(self.tr("Patient position"))
        self.open = QPushButton(self.tr("Open this series"))
        self.open.setProperty("main", True)
        position_word = QLabel(self.tr("Patient position"))
        row = QHBoxLayout()
        row.addWidget(position_word)
        row.addWidget(self.position)
        row.addStretch(1)
        row.addWidget(self.open)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for w in (self.folder, self.count):
            column.addWidget(w)
        column.addWidget(self.table, 1)
        column.addWidget(self.why)
        column.addLayout(row)
        column.addStretch(0)
        self._with_series = (self.table, self.why, position_word, self.position, self.open)
        self.model.modelReset.connect(self._show_parts)
        self._show_parts()
        self.table.selectionModel().selectionChanged.connect(self._chosen)
        self.table.doubleClicked.connect(lambda _: self._open())
        self.open.clicked.connect(self._open)
        self._chosen()

    def show_nothing(self) -> None:
        """Say what will stand here."""
        self.folder.setText(self.tr("Series"))
        self.count.setText(self.tr("The series of the folder you open appear here, each with what is wrong with it."))

    def show_searching(self, folder: str) -> None:
        """Say that a folder is being read."""
        self.folder.setText(folder)
        self.count.setText(self.tr("Reading the folder\u2026"))
        self.model.show(())
        self._chosen()

    def show_found(self, found: Any) -> None:
        """Show a SeriesList of the engine."""
        self.folder.setText(found.folder)
        usable = sum(not s.problem for s in found.series)
        words = [self.tr("{} series, {} can be opened").format(len(found.series), usable)]
        if found.other_files:
            words.append(self.tr("{} files are not DICOM").format(found.other_files))
        if found.damaged:
            words.append(self.tr("{} DICOM files are damaged").format(len(found.damaged)))
        self.count.setText(". ".join(words) + ".")
        self.count.setToolTip("\n".join(found.damaged[:30]))
        self.model.show(found.series)
        if found.series:
            self.table.selectRow(0)
        self._chosen()
        if self.open.isEnabled():
            self.open.setFocus()

    def show_failed(self, words: str) -> None:
        """Say why a folder could not be read."""
        self.count.setText(words)
        self.model.show(())
        self._chosen()

    def _show_parts(self) -> None:
        for widget in self._with_series:
            widget.setVisible(self.model.rowCount() > 0)

    def _row(self) -> Any:
        rows = self.table.selectionModel().selectedRows()
        return self.model.series[rows[0].row()] if rows and rows[0].row() < len(self.model.series) else None

    def _chosen(self, *_: Any) -> None:
        s = self._row()
        self.open.setEnabled(s is not None and not s.problem)
        self.why.setText("\n".join(translated(t) for t in (s.problem, s.note) if t) if s is not None else "")

    def _open(self) -> None:
        s = self._row()
        if s is not None and not s.problem:
            self.open_wanted.emit(s.uid, self.position.currentData())
