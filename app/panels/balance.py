"""Weights balanced by the machine: what counts, the work, and the proposal beside the hand's before it is accepted."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QTabBar,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.core.language import translated
from app.core.plan_desk import PlanDesk
from app.core.tokens import colour
from app.core.weight_balance import Wish
from app.models.balance_tables import BEAM_COLUMNS, GOAL_COLUMNS, BalanceBeams, BalanceGoals
from app.panels.number_box import NumberBox
from app.panels.tables import set_widths, table_of
from app.panels.whole_names import fit_rows, show_whole, widest

TICK_PX, COLOUR_PX, SPARE_PX = 20, 20, 40  # spare: names stand near their numbers however wide the window is
NARROW_PX = 620
MARGINS_PX, FRAME_PX, BAR_PX = 32, 2, 12  # around and between the tables, of each, of its scroll bar
ANY_PX = 16777215  # as wide as there is room
MOST_MU = 2000.0


class BalancePanel(QWidget):
    """Stands in place of the goal ledger while weights are balanced.

    Signals
    -------
    closed() : the ledger is wanted again
    """

    closed = Signal()

    def __init__(self, desk: PlanDesk) -> None:
        super().__init__()
        self._balance, self._follower = desk.balance, desk.follower
        self.heading = QLabel(self.tr("Balance weights"))
        self.heading.setObjectName("heading")
        self.said = QLabel()
        self.said.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.said.setAccessibleName(self.tr("State of the balancing"))
        self.seen = QCheckBox(self.tr("Show it"))
        self.seen.setChecked(True)
        self.seen.setToolTip(self.tr("Draw the proposal, your plan as thin lines; or your plan as it is"))
        self.seen.toggled.connect(self._balance.set_seen)
        self.keep, self.accept = QPushButton(self.tr("Keep mine")), QPushButton(self.tr("Accept weights"))
        self.keep.setToolTip(self.tr("Let the proposal go; nothing of it stays"))
        self.keep.clicked.connect(self._balance.decline)
        self.accept.setProperty("main", True)
        self.accept.setToolTip(self.tr("Make the proposed weights the draft's, as one step that can be undone"))
        self.accept.clicked.connect(lambda: self._balance.accept())
        self.close_button = QPushButton(self.tr("Close"))
        self.close_button.setToolTip(self.tr("Back to the goal ledger"))
        self.close_button.clicked.connect(self.leave)
        self.least, self.most = self._bound(self.tr("Least MU of each beam")), self._bound(self.tr("Most MU of each beam"))
        self.most.setSpecialValueText(self.tr("any"))
        self.most.setToolTip(self.tr("Most monitor units of each beam in one fraction; 0 for any"))
        self.least.setToolTip(self.tr("Least monitor units of each beam in one fraction"))
        self._bounds_refused = False
        for box in (self.least, self.most):
            box.valueChanged.connect(self._rebound)
        self.wedges = QCheckBox(self.tr("Wedges"))
        self.wedges.setToolTip(
            self.tr("Try the wedges of the machine in every beam too; each needs a dose, so it takes a while")
        )
        self.run = QPushButton(self.tr("Balance"))
        self.run.setToolTip(self.tr("Find the weights that serve the ticked goals best; nothing changes until you accept"))
        self.run.clicked.connect(self.start)
        self.bar = QProgressBar(textVisible=False)
        self.bar.setRange(0, 1000)
        self.bar.setAccessibleName(self.tr("Progress"))
        self.cancel = QPushButton(self.tr("Cancel"))
        self.cancel.clicked.connect(self._balance.cancel)
        self.beams, self.goals = BalanceBeams(self._balance, self._follower), BalanceGoals(self._balance, self._follower)
        self.beam_table = table_of(self.beams, self.tr("Weights by hand and as proposed"), BEAM_COLUMNS.index("name"))
        self.goal_table = table_of(self.goals, self.tr("Goals by hand and as proposed"), GOAL_COLUMNS.index("volume"))
        for table in (self.beam_table, self.goal_table):
            table.setEditTriggers(QTableView.EditTrigger.NoEditTriggers)
            table.setTabKeyNavigation(False)
            table.setIconSize(QSize(10, 10))
            table.horizontalHeader().setMinimumSectionSize(TICK_PX)
        show_whole(self.beam_table, BEAM_COLUMNS.index("name"))
        show_whole(self.goal_table, GOAL_COLUMNS.index("volume"))
        self._lay()
        self._balance.changed.connect(self._follow)
        self._follower.now_changed.connect(self._follow)
        self._show()

    def _bound(self, name: str) -> NumberBox:
        box = NumberBox(decimals=0, minimum=0.0, maximum=MOST_MU)
        box.setFixedWidth(56)
        box.setAccessibleName(name)
        return box

    def _lay(self) -> None:
        head, ask, tables = QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        for row in (head, ask, tables):
            row.setSpacing(8)
        head.addWidget(self.heading)
        head.addWidget(self.said, 1)
        for widget in (self.keep, self.accept, self.close_button):
            head.addWidget(widget)
        self.asked = QWidget()
        self.asked.setProperty("plain", True)
        bounds = QHBoxLayout(self.asked)
        bounds.setContentsMargins(0, 0, 0, 0)
        bounds.setSpacing(8)
        for part in (QLabel(self.tr("MU")), self.least, QLabel(self.tr("to")), self.most, self.wedges):
            bounds.addWidget(part)
        ask.addWidget(self.asked)
        ask.addStretch(1)
        ask.addWidget(self.bar, 20)
        ask.addWidget(self.seen)
        ask.addWidget(self.run)
        ask.addWidget(self.cancel)
        tables.addWidget(self.beam_table)
        tables.addWidget(self.goal_table, 100)
        tables.addStretch(1)
        self.switch = QTabBar()
        self.switch.setDrawBase(False)
        self.switch.setAccessibleName(self.tr("Goals or beams"))
        for words in (self.tr("Goals"), self.tr("Beams")):
            self.switch.addTab(words)
        self.switch.currentChanged.connect(lambda _: self._fit())
        self._tables = tables
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(6)
        column.addLayout(head)
        column.addLayout(ask)
        column.addWidget(self.switch)
        column.addLayout(tables, 1)
        self._fit()

    def _fit(self) -> None:
        """Give the columns what the width allows: values before priorities and long names."""
        narrow = self.width() < NARROW_PX
        self.heading.setVisible(not narrow or self._balance.state != "proposed")
        for model in (self.beams, self.goals):
            model.set_in_short(narrow)
        weight, demand = "00.00" if narrow else "00.000", GOAL_COLUMNS.index("demand")
        set_widths(self.beam_table, {1: weight, 2: weight})
        set_widths(self.goal_table, {3: "Prio.", 4: "100.0 ●", 5: "100.0 ●"})
        self.goal_table.setColumnWidth(0, TICK_PX)
        self.goal_table.setColumnWidth(demand, widest(self.goal_table, demand))
        self.goal_table.setColumnHidden(GOAL_COLUMNS.index("priority"), narrow)
        self._share_names()

    def _share_names(self) -> None:
        """Let both tables stand beside each other if every name finds room in full; else they take turns."""
        beam, volume = BEAM_COLUMNS.index("name"), GOAL_COLUMNS.index("volume")
        beams = self._beside_names(self.beam_table, beam) + widest(self.beam_table, beam)
        goals = self._beside_names(self.goal_table, volume) + widest(self.goal_table, volume) + COLOUR_PX + BAR_PX
        beside = beams + goals <= self.width() - MARGINS_PX
        self.switch.setVisible(not beside)
        self.beam_table.setVisible(beside or self.switch.currentIndex() == 1)
        self.goal_table.setVisible(beside or self.switch.currentIndex() == 0)
        spare = self.width() - MARGINS_PX - goals
        self.beam_table.setMaximumWidth(max(beams, min(spare, beams + SPARE_PX)) if beside else ANY_PX)
        self.beam_table.setMinimumWidth(self.beam_table.maximumWidth() if beside else 0)
        self.goal_table.setMaximumWidth(goals + SPARE_PX if beside else ANY_PX)
        self._tables.setStretch(0, 0 if beside else 100)
        self.layout().activate()  # type: ignore[union-attr]
        fit_rows(self.beam_table, beam)
        fit_rows(self.goal_table, volume, COLOUR_PX)

    @staticmethod
    def _beside_names(table: QTableView, name: int) -> int:
        return FRAME_PX + sum(table.columnWidth(c) for c in range(table.model().columnCount()) if c != name)

    # -- the hand ------------------------------------------------------------------------------------------------

    def start(self) -> None:
        """Balance the weights against the ticked goals."""
        wish = Wish(self.goals.counting(), self.least.value(), self.most.value(), self.wedges.isChecked())
        self._balance.run(wish)
        self._bounds_refused = self._balance.state == "failed" and not self._bounds_right()

    def _bounds_right(self) -> bool:
        return not self.most.value() or self.least.value() <= self.most.value()

    def _rebound(self, *_: object) -> None:
        """Let go of what was said about bounds once they are right."""
        if self._bounds_refused and self._balance.state == "failed" and self._bounds_right():
            self._bounds_refused = False
            self._balance.decline()

    def leave(self) -> None:
        """Give the place back."""
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._balance.state == "running":
            self._balance.cancel()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self.layout() is not None:
            self._show()

    # -- following -----------------------------------------------------------------------------------------------

    def _follow(self, *_: object) -> None:
        # Hidden behind the ledger it need not follow every move of a weight.
        if self.isVisible():
            self._show()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show()

    def _show(self, *_: object) -> None:
        b = self._balance
        running, proposed = b.state == "running", b.state == "proposed"
        self.bar.setVisible(running)
        self.bar.setValue(round(1000 * b.fraction))
        self.cancel.setVisible(running)
        self.run.setVisible(not running)
        missing = b.missing()
        self.run.setEnabled(not missing)
        self.wedges.setVisible(b.has_wedges())
        self.asked.setEnabled(not running)
        for widget in (self.seen, self.keep, self.accept):
            widget.setVisible(proposed)
        self.accept.setEnabled(proposed and b.offered != b.hand)
        self.close_button.setVisible(not proposed)
        self._fit()
        shape, ink, words, tip = self._words(missing)
        self.said.setText(f"<span style='color:{colour(ink).name()}'>{shape}</span>&nbsp; {words}" if words else "")
        self.said.setToolTip(tip or words)

    def _words(self, missing: str) -> tuple[str, str, str, str]:
        b = self._balance
        if b.state == "proposed":
            return self._proposed(b.result)
        if b.state == "lapsed":
            return "▨", "warn", b.words, ""
        if b.state == "failed":
            return "▲", "bad", b.words, ""
        if b.state == "running":
            return "◐", "quiet", self.tr("Balancing…"), ""
        return "○", "quiet", missing or b.words or self.tr("Tick the goals that count."), ""

    def _proposed(self, result: Any) -> tuple[str, str, str, str]:
        met = [sum(getattr(o, s) == "met" for o in result.outcomes) for s in ("state_before", "state_after")]
        words = self.tr("{0} of {1} met, yours {2}").format(met[1], len(result.outcomes), met[0])
        if self._balance.offered == self._balance.hand:
            words = self.tr("Nothing better than yours was found.")
        wedges = self.beams.wedges_changed()
        if wedges:
            words = self.tr("{0}; wedges: {1}").format(words, wedges)
        skipped = self.goals.not_pushed()
        if skipped:
            words = self.tr("{0}; {1} not pushed").format(words, len(skipped))
        tip = [
            words,
            self.tr("It stopped: {0}.").format(translated(result.stopped)),
            self.tr("What is missed, weighed by priority, falls from {0} to {1}.").format(
                f"{result.before:.2e}", f"{result.after:.2e}"
            ),
            *(f"{g.metric}: {why}" for g, why in skipped.items()),
        ]
        return "●", "accent", words, "\n".join(tip)
