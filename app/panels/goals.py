"""The goal ledger with what can be done to it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.core.plan_desk import PlanDesk
from app.core.tokens import colour
from app.models.goal_table import COLUMNS, INKS, SHAPES, GoalTable, unit_of
from app.panels.tables import set_widths, table_of

SAMPLES = {
    "state": "◐  tolerance", "metric": "D0.03cc[Gy]", "demand": "≥ 57.00", "achieved": "107.0", "off": "+10.0",
    "priority": "Prio.",
}  # fmt: skip


class GoalForm(QWidget):
    """One line in which a goal is written; says at once whether the metric is understood."""

    def __init__(self, desk: PlanDesk) -> None:
        super().__init__()
        self._workspace, self._edits = desk.workspace, desk.draft
        self.volume, self.sense, self.priority = QComboBox(), QComboBox(), QComboBox()
        self.metric = QLineEdit(placeholderText="D95%[Gy]")
        self.limit = QDoubleSpinBox(decimals=2, maximum=100000.0)
        self.tolerance = QDoubleSpinBox(decimals=2, maximum=1000.0)
        self.sense.addItems(["≤", "≥"])
        self.priority.addItems(["1", "2", "3"])
        names = {
            self.volume: self.tr("Volume of the goal"), self.metric: self.tr("Metric, as in TG-263"),
            self.sense: self.tr("At most or at least"), self.limit: self.tr("Limit"),
            self.tolerance: self.tr("Tolerance beyond the limit"), self.priority: self.tr("Priority: 1 must, 3 wish"),
        }  # fmt: skip
        for widget, name in names.items():
            widget.setAccessibleName(name)
            widget.setToolTip(name)
        self.metric.setToolTip(self.tr("D95%[Gy], D0.1cc[Gy], V20Gy[%], V95%[%], Mean[Gy], Max[Gy]"))
        self.save = QPushButton(self.tr("Add"))
        self.save.clicked.connect(self.put)
        self.close_button = QPushButton(self.tr("Close"))
        self.close_button.clicked.connect(self.hide)
        self.metric.returnPressed.connect(self.put)
        self.metric.textChanged.connect(self._check)
        self.words = QLabel(wordWrap=True)
        self.words.setObjectName("quiet")
        upper, lower = QHBoxLayout(), QHBoxLayout()
        for widget in (self.volume, self.metric, self.sense, self.limit):
            upper.addWidget(widget, 1 if widget in (self.volume, self.metric) else 0)
        for widget in (QLabel(self.tr("Tolerance")), self.tolerance, QLabel(self.tr("Priority")), self.priority):
            lower.addWidget(widget)
        lower.addStretch(1)
        lower.addWidget(self.save)
        lower.addWidget(self.close_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for row in (upper, lower):
            row.setSpacing(6)
            column.addLayout(row)
        column.addWidget(self.words)
        self.hide()

    def open(self) -> None:
        """Show the form with the volumes of the case."""
        case, active = self._workspace.case, self._workspace.volume
        self.volume.clear()
        for volume in case.volumes if case else ():
            self.volume.addItem(volume.name, volume.key)
        if active is not None:
            self.volume.setCurrentIndex(max(0, self.volume.findData(active.key)))
        self._check()
        self.show()
        self.metric.setFocus()

    def put(self) -> bool:
        """Add the goal that is written here; returns whether it was accepted."""
        key, text = self.volume.currentData(), self.metric.text().strip()
        problem = self._edits.check_metric(text)
        if problem or not key:
            self._say(problem or self.tr("Choose a volume."), "bad")
            return False
        done = self._edits.put_goal(
            None,
            key,
            metric=text,
            comparator="<=" if self.sense.currentIndex() == 0 else ">=",
            limit=self.limit.value(),
            tolerance=self.tolerance.value(),
            priority=self.priority.currentIndex() + 1,
        )
        if done:
            self.metric.clear()
        return done

    def _check(self, *_: object) -> None:
        text = self.metric.text().strip()
        unit = unit_of(text)
        for spin in (self.limit, self.tolerance):
            spin.setSuffix(f" {unit}" if unit else "")
        if text and not unit:
            self._say(self._edits.check_metric(text), "warn")
        else:
            self._say(self.tr("Dose-volume metrics are written as in AAPM TG-263, with the unit in brackets."), "quiet")

    def _say(self, text: str, ink: str) -> None:
        self.words.setText(text)
        self.words.setStyleSheet(f"color: {colour(ink).name()}")


class GoalsPanel(QWidget):
    """The ledger, a count of its states, and add, suggest, remove."""

    def __init__(self, desk: PlanDesk) -> None:
        super().__init__()
        self._desk, self._workspace, self._edits = desk, desk.workspace, desk.draft
        self.model = GoalTable(desk.follower, desk.draft)
        self.table = table_of(self.model, self.tr("Goal ledger"), COLUMNS.index("volume"), 24)
        self.table.setIconSize(QSize(10, 10))
        set_widths(self.table, {COLUMNS.index(c): text for c, text in SAMPLES.items()})
        self.table.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # names differ at their end: left, right
        heading = QLabel(self.tr("Goal ledger"))
        heading.setObjectName("heading")
        self.count = QLabel()
        self.count.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.empty = QLabel(
            self.tr("A goal is one demand on a volume, such as D95%[Gy] ≥ 57. Add one, or take those suggested."),
            wordWrap=True,
        )
        self.empty.setObjectName("quiet")
        self.form = GoalForm(desk)
        self.add, self.suggest, self.remove = (
            QPushButton(t) for t in (self.tr("Add"), self.tr("Suggest"), self.tr("Remove"))
        )
        self.add.setToolTip(self.tr("Write a new goal"))
        self.add.clicked.connect(self.form.open)
        self.suggest.setToolTip(self.tr("Goals from published limits for volumes of these names"))
        self.suggest.clicked.connect(self._suggest)
        self.remove.clicked.connect(self._remove)
        delete = QAction(self.table)
        delete.setShortcut(QKeySequence("Del"))
        delete.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        delete.triggered.connect(self._remove)
        self.table.addAction(delete)
        head = QHBoxLayout()
        head.setSpacing(8)
        head.addWidget(heading)
        head.addWidget(self.count, 1)
        for widget in (self.add, self.suggest, self.remove):
            head.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.form)
        column.addWidget(self.empty)
        column.addWidget(self.table, 1)
        self.model.modelReset.connect(self._show)
        desk.follower.now_changed.connect(self._show)
        self._show()

    def _show(self, *_: object) -> None:
        counts = self.model.counts()
        parts = [f"<span style='color:{colour(INKS[s]).name()}'>{SHAPES[s]} {n}</span>" for s, n in counts.items() if n]
        self.count.setText("&nbsp; ".join(parts))
        self.count.setToolTip(", ".join(f"{n} {self.model.state_words(s)}" for s, n in counts.items() if n))
        some = self.model.rowCount() > 0
        self.empty.setVisible(not some)
        self.table.setVisible(some)
        self.remove.setEnabled(some)

    def _remove(self) -> None:
        row = self.table.currentIndex().row()
        if row >= 0:
            self._edits.remove_goals([row])

    def _suggest(self) -> None:
        goals = self._edits.suggested()
        added = self._edits.add_goals(goals)
        words = self.tr("{0} goals added from the library; check each against your own rules.").format(added)
        self._workspace.message.emit("info", words if added else self.tr("The library has nothing new for these volumes."))
