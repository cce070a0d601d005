"""The goal ledger with what can be done to it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.core.language import translated
from app.core.plan_desk import PlanDesk
from app.core.settings import Settings
from app.core.tokens import colour
from app.models.goal_table import COLUMNS, INKS, SHAPES, GoalTable, unit_of
from app.panels.goal_menu import GoalMenu
from app.panels.number_box import NumberBox
from app.panels.tables import ChoiceDelegate, ProseDelegate, set_widths, table_of
from engine.evaluation.goals import Goal

SAMPLES = {
    "state": "◐  tolerance", "metric": "D0.03cc[Gy]", "demand": "≥ 57.00", "tolerance": "10.00", "achieved": "107.0",
    "off": "+10.0", "priority": "Prio.",
}  # fmt: skip
SMALL_PX, NARROW_PX, WIDE_PX = 440, 520, 720  # below: names before distances; states without words; from: all columns
VOLUME_PX = 170


class GoalForm(QWidget):
    """Where a goal is written or changed; says at once whether the metric is understood."""

    def __init__(self, desk: PlanDesk) -> None:
        super().__init__()
        self._workspace, self._edits = desk.workspace, desk.draft
        self._goal: Goal | None = None
        self.volume, self.sense, self.priority = QComboBox(), QComboBox(), QComboBox()
        self.metric_line = QLineEdit(placeholderText="D95%[Gy]")
        self.limit = NumberBox(decimals=2, maximum=100000.0)
        self.tolerance = NumberBox(decimals=2, maximum=1000.0)
        self.source = QLineEdit(placeholderText=self.tr("where the demand comes from"))
        self.sense.addItems(["≤", "≥"])
        self.priority.addItems(["1", "2", "3"])
        names = {
            self.volume: self.tr("Volume of the goal"), self.metric_line: self.tr("Metric, as in TG-263"),
            self.sense: self.tr("At most or at least"), self.limit: self.tr("Limit"),
            self.tolerance: self.tr("Tolerance beyond the limit"), self.priority: self.tr("Priority: 1 must, 3 wish"),
            self.source: self.tr("Source of the demand"),
        }  # fmt: skip
        for widget, name in names.items():
            widget.setAccessibleName(name)
            widget.setToolTip(name)
        self.metric_line.setToolTip(self.tr("D95%[Gy], D0.1cc[Gy], V20Gy[%], V95%[%], Mean[Gy], Max[Gy]"))
        self.save = QPushButton(self.tr("Add"))
        self.save.clicked.connect(self.put)
        self.close_button = QPushButton(self.tr("Close"))
        self.close_button.clicked.connect(self.hide)
        self.metric_line.returnPressed.connect(self._entered)
        self.source.returnPressed.connect(self.put)
        self.metric_line.textChanged.connect(self._check)
        self.words = QLabel(wordWrap=True)
        self.words.setObjectName("quiet")
        upper, lower = QHBoxLayout(), QHBoxLayout()
        for widget in (self.volume, self.metric_line, self.sense, self.limit):
            upper.addWidget(widget, 1 if widget in (self.volume, self.metric_line) else 0)
        for widget in (QLabel(self.tr("Tolerance")), self.tolerance, QLabel(self.tr("Priority")), self.priority):
            lower.addWidget(widget)
        lower.addWidget(QLabel(self.tr("Source")))
        lower.addWidget(self.source, 1)
        last = QHBoxLayout()
        last.addWidget(self.words, 1)
        last.addWidget(self.save)
        last.addWidget(self.close_button)
        # The form opens inside the ledger and must not widen the window.
        self.volume.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for field, least in (
            (self.volume, 70),
            (self.metric_line, 70),
            (self.limit, 70),
            (self.tolerance, 64),
            (self.source, 40),
        ):
            field.setMinimumWidth(least)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for row in (upper, lower, last):
            row.setSpacing(6)
            column.addLayout(row)
        self.hide()

    def open(self, index: int | None = None) -> None:
        """Show the form with the volumes of the case, empty or with goal `index` of the draft."""
        case, active, draft = self._workspace.case, self._workspace.volume, self._workspace.draft
        self.volume.clear()
        for volume in case.volumes if case else ():
            self.volume.addItem(volume.name, volume.key)
        self._goal = None
        self.save.setText(self.tr("Add") if index is None else self.tr("Change"))
        if index is not None and draft is not None and index < len(draft.goals):
            goal = self._goal = draft.goals[index]
            if goal.waits_for:
                self.volume.addItem(self.tr("{0} (awaited)").format(goal.waits_for), goal.volume_key)
            self.volume.setCurrentIndex(self.volume.findData(goal.volume_key))
            self.metric_line.setText(goal.metric)
            self.sense.setCurrentIndex(0 if goal.comparator == "<=" else 1)
            self.limit.setValue(goal.limit)
            self.tolerance.setValue(goal.tolerance)
            self.priority.setCurrentIndex(goal.priority - 1)
            self.source.setText(goal.source)
        elif active is not None:
            self.volume.setCurrentIndex(max(0, self.volume.findData(active.key)))
        self._check()
        self.show()
        (self.metric_line if index is None else self.limit).setFocus()

    def _entered(self) -> None:
        """Go on to the limit of a new goal: Return after the metric must not make a demand nobody typed."""
        understood = self._edits.metric_fault(self.metric_line.text()) is None
        if understood and self._goal is None and self.limit.value() == 0.0:
            self.limit.setFocus()
            self.limit.selectAll()
        else:
            self.put()

    def put(self) -> bool:
        """Add or change the goal that is written here; returns whether it was accepted."""
        key, text = self.volume.currentData(), self.metric_line.text().strip()
        fault = self._edits.metric_fault(self.metric_line.text())
        if fault is not None or key is None:
            self._say(self.tr("Choose a volume.") if fault is None else translated(fault), "bad")
            if fault is not None:
                self.metric_line.setFocus()
                self.metric_line.setSelection(fault.at, fault.until - fault.at)
            return False
        goals = self._workspace.draft.goals if self._workspace.draft is not None else ()
        if self._goal is not None and self._goal not in goals:
            self._say(self.tr("This goal has been changed or removed meanwhile. Close, and choose it again."), "bad")
            return False
        done = self._edits.put_goal(
            None if self._goal is None else goals.index(self._goal),
            key,
            metric=text,
            comparator="<=" if self.sense.currentIndex() == 0 else ">=",
            limit=self.limit.value(),
            tolerance=self.tolerance.value(),
            priority=self.priority.currentIndex() + 1,
            source=self.source.text().strip(),
            waits_for=self._goal.waits_for if self._goal is not None and not key else "",
        )
        if done:
            self.metric_line.clear()
            if self._goal is not None:
                self.hide()
        return done

    def _check(self, *_: object) -> None:
        text = self.metric_line.text().strip()
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
    """The ledger, a count of its states, and add, suggest, remove; sets of goals from files and sites."""

    def __init__(self, desk: PlanDesk, settings: Settings) -> None:
        super().__init__()
        self._desk, self._workspace, self._edits = desk, desk.workspace, desk.draft
        self.model = GoalTable(desk.follower, desk.draft)
        self.table = table_of(self.model, self.tr("Goal ledger"), COLUMNS.index("volume"), 24)
        names = ChoiceDelegate(self._volume_names, self.table)
        self.table.setItemDelegateForColumn(COLUMNS.index("volume"), names)
        self.table.setItemDelegateForColumn(COLUMNS.index("source"), ProseDelegate(self.table))
        self.table.setIconSize(QSize(10, 10))
        self.heading = QLabel(self.tr("Goal ledger"))
        self.heading.setObjectName("heading")
        self.count = QLabel()
        self.count.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.empty = QLabel(
            self.tr("A goal is one demand on a volume, such as D95%[Gy] ≥ 57. Add one, or take those suggested."),
            wordWrap=True,
        )
        self.empty.setObjectName("quiet")
        self.form = GoalForm(desk)
        self.add, self.change, self.suggest, self.remove = (
            QPushButton(t) for t in (self.tr("Add"), self.tr("Change"), self.tr("Suggest"), self.tr("Remove"))
        )
        self.add.setToolTip(self.tr("Write a new goal"))
        self.add.clicked.connect(lambda: self.form.open())
        self.change.setToolTip(self.tr("Change the marked goal: volume, metric, limit, tolerance, priority, source"))
        self.change.clicked.connect(self._change)
        self.suggest.setToolTip(self.tr("Goals from published limits for volumes of these names"))
        self.suggest.clicked.connect(self._suggest)
        self.remove.clicked.connect(self._remove)
        self.menu = GoalMenu(desk, settings, self)
        self.sets = QPushButton(self.tr("Sets"))
        self.sets.setToolTip(self.tr("Goals of a site with their sources, and goals from files and into files"))
        self.sets.setMenu(self.menu)
        delete = QAction(self.table)
        delete.setShortcut(QKeySequence("Del"))
        delete.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        delete.triggered.connect(self._remove)
        self.table.addAction(delete)
        head = self._head = QHBoxLayout()
        head.addWidget(self.heading)
        head.addWidget(self.count, 1)
        for widget in (self.add, self.change, self.suggest, self.sets, self.remove):
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
        self._fit_columns()
        self._show()

    def _show(self, *_: object) -> None:
        counts = self.model.counts()
        parts = [f"<span style='color:{colour(INKS[s]).name()}'>{SHAPES[s]} {n}</span>" for s, n in counts.items() if n]
        self.count.setText(("&nbsp;" if self.model.in_short else "&nbsp; ").join(parts))
        self.count.setToolTip(", ".join(f"{n} {self.model.state_words(s)}" for s, n in counts.items() if n))
        some = self.model.rowCount() > 0
        self.empty.setVisible(not some)
        self.table.setVisible(some)
        for button in (self.change, self.remove):
            button.setEnabled(some)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_columns()

    def _fit_columns(self) -> None:
        """Give the columns what the ledger's width allows: names before words, the source only where there is room."""
        small, narrow, wide = self.width() < SMALL_PX, self.width() < NARROW_PX, self.width() >= WIDE_PX
        if narrow != self.model.in_short or self.change.property("tight") is None:
            self.heading.setText(self.tr("Goals") if narrow else self.tr("Goal ledger"))
            self._head.setSpacing(4 if narrow else 8)  # the counts are not cut on a small screen
            for button in (self.add, self.change, self.suggest, self.sets, self.remove):
                button.setProperty("tight", narrow)
                button.style().unpolish(button)
                button.style().polish(button)
                button.updateGeometry()
        self.model.set_in_short(narrow)
        self.heading.setVisible(not small)
        self.suggest.setVisible(not small)
        samples = SAMPLES | ({"state": "◐"} if narrow else {})
        set_widths(self.table, {COLUMNS.index(c): text for c, text in samples.items()})
        volume, source = COLUMNS.index("volume"), COLUMNS.index("source")
        for name, shown in (("tolerance", wide), ("source", wide), ("off", not small), ("priority", not small)):
            self.table.setColumnHidden(COLUMNS.index(name), not shown)
        modes, header = QHeaderView.ResizeMode, self.table.horizontalHeader()
        header.setSectionResizeMode(volume, modes.Fixed if wide else modes.Stretch)
        header.setSectionResizeMode(source, modes.Stretch if wide else modes.Fixed)
        if wide:
            self.table.setColumnWidth(volume, VOLUME_PX)

    def _volume_names(self) -> list[str]:
        case = self._workspace.case
        return [v.name for v in case.volumes] if case is not None else []

    def _change(self) -> None:
        row = self.table.currentIndex().row()
        self.form.open(max(0, row))

    def _remove(self) -> None:
        row = self.table.currentIndex().row()
        if row >= 0:
            self._edits.remove_goals([row])

    def _suggest(self) -> None:
        goals = self._edits.suggested()
        added = self._edits.add_goals(goals)
        words = self.tr("{0} goals added from the library; check each against your own rules.").format(added)
        self._workspace.message.emit("info", words if added else self.tr("The library has nothing new for these volumes."))
