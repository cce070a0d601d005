"""Weigh: weights, normalisation, isodose lines, DVH and goals alive under the hand; drafts."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QPushButton, QSplitter, QWidget

from app.core.context import Context
from app.core.weight_balance import BALANCE
from app.panels.balance import BalancePanel
from app.panels.beams import BeamsPanel
from app.panels.dose_state import DoseState
from app.panels.drafts import DraftsPanel
from app.panels.goals import GoalsPanel
from app.panels.levels import LevelsPanel
from app.panels.pane import Pane
from app.panels.prescription import PrescriptionPanel
from app.stations.aim import probe_action, ring_action
from app.stations.beside import Beside
from app.stations.plan_stage import PlanStage
from app.stations.station import Station
from app.stations.summing import Summing
from app.views.dose_ramp import pen
from app.views.dvh_box import DvhBox

# Beside the panels below: the rail; the ledger with most of its sources whole.
RAIL_PX, LEDGER_PX = 164, 1200


class Weigh(Station):
    """Panels at the right, DVH and ledger below the stage."""

    name = "weigh"
    right_px = 300

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.title = self.tr("Weigh")
        self.stage = PlanStage.of(context)
        desk = self.desk = self.stage.desk
        self.balance_button = QPushButton(self.tr("Balance…"))
        self.balance_button.setToolTip(
            self.tr("Let the machine find weights that serve the goals best, and compare them with yours (Ctrl+B)")
        )
        self.balance_button.setCheckable(True)
        self.balance_button.clicked.connect(self.show_balance)
        self.state = DoseState(desk.follower, self.balance_button)
        self.prescription = PrescriptionPanel(context.workspace, desk.draft, narrow=True)
        self.prescription.outline_wanted.connect(lambda: context.go("outline"))
        self.weights = BeamsPanel(desk, ("name", "gantry", "weight", "mu"), commands=False)
        self.levels = LevelsPanel(context.workspace, desk.draft, pen)
        self.levels.look_changed.connect(self.stage.set_look)
        self.levels.extremes_changed.connect(self.stage.show_extremes)
        self.drafts = DraftsPanel(context.workspace, desk.draft)
        self.beside = Beside(context, self.stage)
        self.drafts.beside_wanted.connect(self._lay_beside)
        self.drafts.difference_wanted.connect(self.beside.set_difference)
        of_draft = (self.state, self.weights, self.prescription)
        self.summing = Summing(context, self.stage, self.drafts, self.levels, of_draft)
        self.pane = Pane(*of_draft, self.summing.panel, self.levels, self.drafts, spacing=8)
        self.pane.setMinimumWidth(280)
        self.pane.column.setContentsMargins(12, 4, 12, 4)  # all of it stands without scrolling at 800 px
        self.dvh_box = DvhBox(desk.follower)
        self.dvh = self.dvh_box.plot
        self.dvh.lay_beside(self.beside.other)
        self.goals = GoalsPanel(desk, context.settings)
        self.below = QSplitter(Qt.Orientation.Horizontal)
        self.below.setObjectName("panel")
        self.below.addWidget(self.dvh_box)
        self.below.addWidget(self.goals)
        self.balance = BalancePanel(desk)
        self.balance.setProperty("plain", True)
        self.balance.setMinimumWidth(340)
        self.balance.closed.connect(lambda: self.show_balance(False))
        self.balance.hide()
        self.below.addWidget(self.balance)
        # They shrink and leave things out rather than take the room of a draft that is laid beside.
        self.below.widget(0).setMinimumWidth(220)
        self.goals.setMinimumWidth(340)
        self._by_hand = False
        self.below.splitterMoved.connect(self._moved_by_hand)
        self.below.setStretchFactor(0, 3)
        self.below.setStretchFactor(1, 2)
        self.below.setChildrenCollapsible(False)
        self.goals.setProperty("plain", True)
        self.stage.ring.signals.open_beam.connect(self._open_beam)
        self._here = False
        self._told = ""
        self._tell_soon = QTimer(context.stage, singleShot=True, interval=150)  # ends with the window
        self._tell_soon.timeout.connect(self._tell)
        desk.follower.now_changed.connect(lambda *_: self._tell_soon.start())
        self._actions = self._make_actions()

    @property
    def bottom_px(self) -> int:
        """A third of the window, but enough for the ledger."""
        return max(268, self.context.stage.window().height() // 3 - 40)

    @property
    def side_px(self) -> int:
        """Two drafts side by side: the other one gets somewhat less than half of what the panels leave."""
        return max(240, (self.context.stage.window().width() - self.right_px) * 2 // 5)

    def _moved_by_hand(self, *_: int) -> None:
        self._by_hand = True

    def _share_out(self) -> None:
        """Give the ledger what it needs to be read whole; what a large screen has more goes to the curves."""
        if not self._by_hand:
            wide = self.context.stage.window().width() - RAIL_PX - self.right_px
            if self.left() is not None:
                wide -= self.side_px
            dvh = max(wide * 240 // 770, wide - LEDGER_PX)
            self.below.setSizes([dvh, wide - dvh, wide - dvh])

    def _make_actions(self) -> list[object]:
        accept = QAction(self.tr("Accept the change"), self)
        accept.setShortcut(QKeySequence("Ctrl+Return"))
        accept.triggered.connect(self._accept)
        balance = QAction(self.tr("Balance weights…"), self)
        balance.setShortcut(QKeySequence("Ctrl+B"))
        balance.triggered.connect(lambda: self.show_balance(True))
        hottest = QAction(self.tr("Go to highest dose"), self)
        hottest.setShortcut(QKeySequence("Ctrl+H"))
        hottest.triggered.connect(lambda: self.stage.go_to_hottest())
        line = QAction(self.tr("Dose along a line"), self, checkable=True)
        line.setShortcut(QKeySequence("Ctrl+L"))
        line.toggled.connect(self.stage.line.set_shown)
        return [accept, balance, hottest, line, ring_action(self), probe_action(self, self.stage)]

    def _accept(self) -> None:
        if not self.desk.balance.accept():
            self.desk.follower.accept()

    def show_balance(self, wanted: bool) -> None:
        """Open the place where weights are balanced instead of the ledger, or give the ledger its place back."""
        self.balance_button.setChecked(wanted)
        if wanted:
            self.summing.plan.end()  # weights are those of a draft
        if wanted != self.balance.isHidden():
            return
        if not wanted:
            self.desk.balance.forget()
        dvh, ledger, balance = self.below.sizes()
        self.goals.setVisible(not wanted)
        self.balance.setVisible(wanted)
        self.below.setSizes([dvh, max(ledger, balance), max(ledger, balance)])
        (self.balance.run if wanted else self.balance_button).setFocus()

    def tells(self, kind: str) -> bool:
        return kind == BALANCE

    def _tell(self) -> None:
        """Have the rail read the line of state again when it says something new."""
        words = self.state_line()
        if words != self._told:
            self._told = words
            self.context.refresh()

    def _open_beam(self, key: str) -> None:
        if self._here:
            self.context.go("aim")

    def _lay_beside(self, key: str) -> None:
        self.beside.choose(key)
        if self._here:
            self.context.refresh()
            self._share_out()

    # what stands where

    def panels(self) -> tuple[QWidget, ...]:
        return self.pane, self.below, self.summing.below

    def left(self) -> QWidget | None:
        wanted = self.beside.other.key and not self.beside.inside and self.context.workspace.case is not None
        return self.beside.widget if wanted else None

    def right(self) -> QWidget | None:
        return self.pane if self.context.workspace.case is not None else None

    def bottom(self) -> QWidget | None:
        below = self.summing.below if self.summing.shown else self.below
        return below if self.context.workspace.case is not None else None

    def empty_words(self) -> str:
        return self.tr("Here beams are weighed against each other; isodose lines, DVH and goals follow the hand.")

    def enter(self) -> None:
        self._here = True
        self._share_out()
        self.stage.enter()
        self.desk.balance.set_in_front(True)
        self.beside.set_here(True)
        self.summing.set_here(True)

    def leave(self) -> None:
        self._here = False
        self.desk.balance.set_in_front(False)
        self.drafts.difference.setChecked(False)
        self.beside.set_here(False)
        self.summing.set_here(False)
        self.stage.leave()

    def state_line(self) -> str:
        f = self.desk.follower
        counts = self.goals.model.counts()
        if self.summing.shown:
            return self.tr("a sum is shown")
        if f.reading:
            return self.tr("reading dose")
        if f.now is None or f.now.scale is None:
            return self.tr("no dose")
        if f.is_old:
            return self.tr("old dose")
        judged = counts["met"] + counts["within tolerance"] + counts["missed"]
        words = self.tr("{0} of {1} met").format(counts["met"], judged) if judged else self.tr("no goals")
        if f.trial is not None:
            return self.tr("proposed: {0} met").format(counts["met"])
        return self.tr("quick, {0}").format(words) if f.state == "quick" else words

    def actions(self) -> list[object]:
        return self._actions
