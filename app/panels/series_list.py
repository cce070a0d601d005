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
    over_wanted(series_uid) : lie over the planning CT of the open case
    registration_wanted(series_uid) : the same, placed by a registration file the person chooses
    """

    open_wanted = Signal(str, str)
    over_wanted = Signal(str)
    registration_wanted = Signal(str)

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
        self.over = QPushButton(self.tr("Lay over the planning CT"))
        self.over.setToolTip(self.tr("Show this series over the CT of the open patient; nothing is computed with it"))
        self.by_hand = QPushButton(self.tr("With a registration\u2026"))
        self.by_hand.setToolTip(self.tr("Lay it over the planning CT by a DICOM spatial registration you choose"))
        position_word = QLabel(self.tr("Patient position"))
        row = QHBoxLayout()
        row.addWidget(position_word)
        row.addWidget(self.position)
        row.addStretch(1)
        row.addWidget(self.open)
        lay = QHBoxLayout()  # a row of its own: beside the others it would not fit a small screen
        lay.addStretch(1)
        lay.addWidget(self.by_hand)
        lay.addWidget(self.over)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for w in (self.folder, self.count):
            column.addWidget(w)
        column.addWidget(self.table, 1)
        column.addWidget(self.why)
        column.addLayout(lay)
        column.addLayout(row)
        column.addStretch(0)
        self._with_series = (self.table, self.why, position_word, self.position, self.open)
        self._case_open = False
        self.model.modelReset.connect(self._show_parts)
        self._show_parts()
        self.table.selectionModel().selectionChanged.connect(self._chosen)
        self.table.doubleClicked.connect(lambda _: self._open())
        self.open.clicked.connect(self._open)
        self.over.clicked.connect(lambda: self.over_wanted.emit(self._row().uid))
        self.by_hand.clicked.connect(lambda: self.registration_wanted.emit(self._row().uid))
        self._chosen()

    def offer_over(self, case_open: bool) -> None:
        """Offer to lay a series over the planning CT while a case is open."""
        self._case_open = case_open
        self._show_parts()
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
            n = found.other_files
            words.append(self.tr("1 file is not DICOM") if n == 1 else self.tr("{} files are not DICOM").format(n))
        if found.damaged:
            n = len(found.damaged)
            words.append(self.tr("1 DICOM file is damaged") if n == 1 else self.tr("{} DICOM files are damaged").format(n))
        if not found.series:
            words.append(
                self.tr("Copy or export the damaged files again, or choose a folder that holds a CT series as DICOM files")
                if found.damaged
                else self.tr("Choose a folder that holds a CT series as DICOM files; folders within it are searched, too")
            )
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
        for button in (self.over, self.by_hand):
            button.setVisible(self.model.rowCount() > 0 and self._case_open)

    def _row(self) -> Any:
        rows = self.table.selectionModel().selectedRows()
        return self.model.series[rows[0].row()] if rows and rows[0].row() < len(self.model.series) else None

    def _chosen(self, *_: Any) -> None:
        s = self._row()
        self.open.setEnabled(s is not None and not s.problem)
        over = s is not None and not s.over_problem
        self.over.setEnabled(over)
        self.by_hand.setEnabled(over)
        words = [translated(t) for t in (s.problem, s.note) if t] if s is not None else []
        if over and s is not None and s.problem:
            words.append(
                self.tr("It can be laid over the planning CT.")
                if self._case_open
                else self.tr("It can be laid over a planning CT once that is open.")
            )
        elif s is not None and self._case_open and s.over_problem and s.over_problem != s.problem:
            words.append(self.tr("Not over the planning CT: {}").format(translated(s.over_problem)))
        self.why.setText("\n".join(words))

    def _open(self) -> None:
        s = self._row()
        if s is not None and not s.problem:
            self.open_wanted.emit(s.uid, self.position.currentData())
