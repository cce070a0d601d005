"""What is to be seen in the volumes: a list that follows every edit, with rule, evidence and a jump to the place."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.core.settings import Settings
from app.models.evidence_table import KIND, VOLUME, WORDS, EvidenceTable
from app.panels.number_box import NumberBox
from app.panels.tables import table_of
from engine.case.case import Case
from engine.volumes.evidence import Evidence

SKIN = "findings/skin_mm"
RULE_PX, HIGH_PX = 48, 104  # of a rule of three lines; of the table at least


class VolumeFindings(QWidget):
    """A table of findings, the chosen one in full below it, and the distance to the skin that targets keep.

    Signals
    -------
    jump_wanted(evidence) : go to the place
    """

    jump_wanted = Signal(object)

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        self._settings = settings
        self.model = EvidenceTable()
        self.table = table_of(self.model, self.tr("Findings on the volumes"), WORDS)
        self.table.setTabKeyNavigation(False)
        self.table.setMinimumHeight(HIGH_PX)
        self.table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.table.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.table.setEditTriggers(QTableView.EditTrigger.NoEditTriggers)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(VOLUME, QHeaderView.ResizeMode.Fixed)
        header.resizeSection(KIND, 24)
        header.resizeSection(VOLUME, 104)
        self.evidence, self.rule = QLabel(), QLabel()
        self.rule.setObjectName("quiet")
        self.rule.setMinimumHeight(RULE_PX)  # so that the rows keep their room when one is chosen
        self.rule.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        for label in (self.evidence, self.rule):
            label.setWordWrap(True)
        self.go = QPushButton(self.tr("Go there"))
        self.go.setToolTip(self.tr("Move the cross-hair to the place (Enter, or a click on the row)"))
        self.skin = NumberBox()
        self.skin.setRange(1.0, 50.0)
        self.skin.setDecimals(1)
        self.skin.setSuffix(self.tr(" mm"))
        self.skin.setKeyboardTracking(False)
        self.skin.setValue(settings.get(SKIN))
        words = self.tr("Targets nearer to the skin than this are told, here and before signing")
        self.skin.setToolTip(words)
        self.skin.setAccessibleName(self.tr("Distance of targets to the skin"))
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self.go)
        foot.addStretch(1)
        label = QLabel(self.tr("Skin nearer than"))
        label.setToolTip(words)
        foot.addWidget(label)
        foot.addWidget(self.skin)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.table, 1)
        for widget in (self.evidence, self.rule):
            column.addWidget(widget)
        column.addLayout(foot)
        self.skin.valueChanged.connect(lambda mm: settings.set(SKIN, mm))
        self.table.clicked.connect(self._jump)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._tell())
        self.model.modelReset.connect(self._tell)
        self.go.clicked.connect(lambda: self._jump(self.table.currentIndex()))
        self._tell()

    def show_seen(self, case: Case | None, seen: Sequence[Evidence]) -> None:
        """Show evidence; the row that was chosen stays chosen if it is still there."""
        row = self.table.currentIndex().row()
        rows = self.model.rows
        held = (rows[row][2].code, rows[row][2].volume_key) if 0 <= row < len(rows) else None
        self.model.show(case, seen)
        if held is not None and not self.table.currentIndex().isValid():
            same = [i for i, r in enumerate(self.model.rows) if (r[2].code, r[2].volume_key) == held]
            if same:
                self.table.selectRow(same[0])

    def go_on(self) -> bool:
        """Go to the place of the next finding, from the last one to the first; returns whether there is one."""
        count = len(self.model.rows)
        if count:
            index = self.table.currentIndex()
            self.table.selectRow((index.row() + 1) % count if index.isValid() else 0)
            self._jump(self.table.currentIndex())
        return count > 0

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.table.hasFocus():
            self._jump(self.table.currentIndex())
        else:
            super().keyPressEvent(event)

    def _tell(self) -> None:
        index = self.table.currentIndex()
        chosen = index.isValid() and index.row() < len(self.model.rows)
        self.go.setEnabled(chosen)
        if chosen:
            evidence, rule = self.model.words(index.row())
        elif self.model.rows:
            evidence, rule = self.tr("Choose a row: a click or Enter goes to the place."), ""
        else:
            evidence, rule = self.tr("Nothing to be seen in the volumes. They are looked at after every edit."), ""
        self.evidence.setText(evidence)
        self.rule.setText(rule)

    def _jump(self, index: QModelIndex) -> None:
        if index.isValid() and index.row() < len(self.model.rows):
            self.jump_wanted.emit(self.model.rows[index.row()][2])
