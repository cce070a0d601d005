"""The ledger of a sum of drafts: the demands of its members, or what each volume receives of each course."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.core.sum_plan import SumPlan
from app.core.sum_titles import fitted_title
from app.core.tokens import colour
from app.models.goal_table import INKS, SHAPES
from app.models.sum_tables import GOALS, SumGoalTable, SumVolumeTable
from app.panels.tables import set_widths, table_of

SAMPLES = {"state": "◐", "metric": "D0.03cc[Gy]", "demand": "≥ 57.00", "achieved": "107.0 Gy EQD2", "alpha_beta": "3.5 Gy",
           "origin": "First course, Boost"}  # fmt: skip
NARROW_PX, WIDE_PX = 520, 640  # below: without D2%; without where a demand or an alpha/beta is from, the tips say it
NAME_PX = 190


class SumLedger(QWidget):
    """Says over the tables whose sum it is and in which quantity; two buttons choose the table."""

    def __init__(self, plan: SumPlan) -> None:
        super().__init__()
        self._plan = plan
        self.goals, self.volumes = SumGoalTable(plan), SumVolumeTable(plan)
        self.goal_view = table_of(self.goals, self.tr("Goals of a sum of drafts"), GOALS.index("volume"))
        self.volume_view = table_of(self.volumes, self.tr("Volumes in a sum of drafts"), 0)
        for view in (self.goal_view, self.volume_view):
            view.setIconSize(QSize(10, 10))
            view.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self.heading = QLabel()
        self.heading.setObjectName("heading")
        self.heading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.quantity = QLabel()
        self.quantity.setObjectName("quiet")
        self.quantity.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.by_goal, self.by_volume = QPushButton(self.tr("Goals")), QPushButton(self.tr("Volumes"))
        self.by_goal.setToolTip(self.tr("The demands of all drafts of the sum, judged by the sum"))
        self.by_volume.setToolTip(self.tr("What each volume receives of each course, and its α/β"))
        group, head = QButtonGroup(self), QHBoxLayout()
        head.setSpacing(8)
        head.addWidget(self.heading, 1)
        for button in (self.by_goal, self.by_volume):
            button.setCheckable(True)
            button.setProperty("tight", True)
            group.addButton(button)
            head.addWidget(button)
        self.by_goal.setChecked(True)
        self._stack = QStackedWidget()
        self._stack.setProperty("plain", True)
        self._stack.addWidget(self.goal_view)
        self._stack.addWidget(self.volume_view)
        self.by_volume.toggled.connect(lambda on: self._stack.setCurrentIndex(int(on)))
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self.quantity)
        column.addWidget(self._stack, 1)
        plan.now_changed.connect(self._show)
        self._show()

    def _show(self, *_: object) -> None:
        plan, counts = self._plan, self.goals.counts()
        self.heading.setToolTip(plan.title())
        self._fit_heading()
        parts = [f"<span style='color:{colour(INKS[s]).name()}'>{SHAPES[s]} {n}</span>" for s, n in counts.items() if n]
        words = self.tr("physical dose in Gy")
        if plan.in_eqd2:
            words = self.tr("EQD2 in Gy, demands too; α/β: common practice")
            if plan.used_gy:
                words = self.tr("EQD2 in Gy, demands too; α/β: common practice, {0} chosen here").format(len(plan.used_gy))
        self.quantity.setText("&nbsp; ".join([*parts, words]))
        self.quantity.setToolTip(words)
        self._fit_columns()

    def _fit_heading(self) -> None:
        room = self.width() - 40 - self.by_goal.sizeHint().width() - self.by_volume.sizeHint().width()
        words = fitted_title(self._plan, QFontMetricsF(self.heading.font()), room) if self._plan.title() else ""
        self.heading.setText(words[:1].upper() + words[1:])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_heading()
        self._fit_columns()

    def _fit_columns(self) -> None:
        wide, modes = self.width() >= WIDE_PX, QHeaderView.ResizeMode
        set_widths(self.goal_view, {GOALS.index(c): text for c, text in SAMPLES.items()})
        self.goal_view.setColumnHidden(GOALS.index("origin"), not wide)
        self.goal_view.setColumnHidden(GOALS.index("alpha_beta"), not self._plan.in_eqd2)
        count = self.volumes.columnCount()
        samples = {1: "10.0", **dict.fromkeys(range(2, count - 3), "60.0 (2.00)")}
        set_widths(self.volume_view, samples | dict.fromkeys((count - 3, count - 2), "107.0"))
        left_out = {count - 1} if not wide else set()
        left_out |= {count - 2} if self.width() < NARROW_PX else set()
        for column in range(count):
            self.volume_view.setColumnHidden(column, column in left_out)
        # Where there is room, names stand beside their numbers and the words at the end take what is left.
        stretched = (self.goal_view, GOALS.index("volume"), GOALS.index("origin")), (self.volume_view, 0, count - 1)
        for view, name, last in stretched:
            for column in range(view.model().columnCount()):
                takes_all = column == (last if wide else name)
                view.horizontalHeader().setSectionResizeMode(column, modes.Stretch if takes_all else modes.Fixed)
            if wide:
                view.setColumnWidth(name, NAME_PX)
