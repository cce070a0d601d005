"""A sum of drafts in place of the active draft: on the stage, in the DVH, in the ledger and in the panels."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QSplitter, QWidget

from app.core.context import Context
from app.core.sum_plan import SumPlan
from app.panels.drafts import DraftsPanel
from app.panels.levels import LevelsPanel
from app.panels.sum_ledger import SumLedger
from app.panels.sum_panel import SumPanel
from app.stations.plan_stage import PlanStage
from app.views.dvh_box import DvhBox
from app.views.sum_stage import SumDvhPlot

TOPIC = "case/sum"


class Summing(QObject):
    """Shows a SumPlan while there is one and its station is in front; `hidden` are the panels it stands in place of."""

    def __init__(
        self, context: Context, stage: PlanStage, drafts: DraftsPanel, levels: LevelsPanel, hidden: tuple[QWidget, ...]
    ) -> None:
        super().__init__(context.stage)
        self._context, self._stage, self._drafts, self._levels, self._hidden = context, stage, drafts, levels, hidden
        self.plan = SumPlan(context.workspace, context.jobs, self)
        self.panel = SumPanel(self.plan)
        self.panel.hide()
        self.dvh_box = DvhBox(self.plan, SumDvhPlot(self.plan))  # type: ignore[arg-type]
        self.ledger = SumLedger(self.plan)
        self.ledger.setProperty("plain", True)
        self.below = QSplitter(Qt.Orientation.Horizontal)
        self.below.setObjectName("panel")
        self.below.addWidget(self.dvh_box)
        self.below.addWidget(self.ledger)
        self.dvh_box.setMinimumWidth(220)
        self.ledger.setMinimumWidth(340)
        self.below.setSizes([240, 530])
        self.below.setStretchFactor(0, 3)
        self.below.setStretchFactor(1, 2)
        self.below.setChildrenCollapsible(False)
        self._here, self._shown = False, False
        drafts.sum_wanted.connect(self._choose)
        self.plan.now_changed.connect(self._show)
        self.plan.lapsed.connect(self._lapse)
        self.plan.refused.connect(lambda words: context.messages.warning(words))

    @property
    def shown(self) -> bool:
        """Whether a sum is chosen, though it may still be read."""
        return bool(self.plan.keys)

    def set_here(self, here: bool) -> None:
        """Say whether the station is in front."""
        self._here = here
        self._show()

    def _choose(self, keys: tuple[str, ...]) -> None:
        self._context.messages.settle(TOPIC)
        self.plan.choose(keys)
        self._drafts.show_sum(self.plan.keys)

    def _lapse(self, words: str) -> None:
        self._context.messages.warning(words, topic=TOPIC)

    def _show(self, *_: object) -> None:
        shown, now = self.shown, self.plan.now
        self._stage.show_sum(self.plan if now is not None and self._here else None)
        self._levels.show_reference(self.plan.reference_gy, self.plan.short_words() if now is not None else "")
        if shown != self._shown:
            self._shown = shown
            self._drafts.show_sum(self.plan.keys)
            for widget in self._hidden:
                widget.setHidden(shown)
            self.panel.setVisible(shown)
            if self._here:
                self._context.refresh()
