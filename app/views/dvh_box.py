"""The DVH with its heading and the choice of its axes."""

from __future__ import annotations

from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QMenu, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.core.plan_follow import PlanFollower
from app.views.dvh_plot import DvhPlot


class DvhBox(QWidget):
    """Volume in % or cm3 by two buttons; the rest (cumulative or differential, dose in Gy or %) by a menu."""

    def __init__(self, follower: PlanFollower, plot: DvhPlot | None = None) -> None:
        super().__init__()
        self.setProperty("plain", True)
        self.plot = plot or DvhPlot(follower)
        heading = QLabel(self.tr("DVH"))
        heading.setToolTip(
            self.tr(
                "Dose-volume histogram: how much of each volume receives a dose or more. Each slice fills half a spacing to"
                " both sides, also at the ends"
            )
        )
        heading.setObjectName("heading")
        self.axes = QPushButton(self.tr("Axes"))
        self.axes.setToolTip(self.tr("Cumulative or differential; dose in Gy or in percent of the prescription"))
        menu = QMenu(self.axes)
        _, self.differential = self._choice(
            menu, self.tr("Cumulative: what receives a dose or more"), self.tr("Differential: what lies at a dose")
        )
        menu.addSeparator()
        _, self.in_percent = self._choice(menu, self.tr("Dose in Gy"), self.tr("Dose in % of the prescription"))
        self.axes.setMenu(menu)
        self.differential.toggled.connect(self.plot.set_differential)
        self.in_percent.toggled.connect(self.plot.set_in_percent)
        self.percent, self.cm3 = QPushButton("%"), QPushButton(self.tr("cm³"))
        self.percent.setToolTip(self.tr("Volume axis in percent of each volume"))
        self.cm3.setToolTip(self.tr("Volume axis in cm³"))
        group = QButtonGroup(self)
        row = QHBoxLayout()
        row.setSpacing(4)
        row.addWidget(heading)
        row.addStretch(1)
        row.addWidget(self.axes)
        self.axes.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        for button in (self.percent, self.cm3):
            button.setCheckable(True)
            group.addButton(button)
            row.addWidget(button)
        self.percent.setChecked(True)
        self.cm3.toggled.connect(self.plot.set_in_cm3)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 4, 6)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self.plot, 1)

    def _choice(self, menu: QMenu, first: str, second: str) -> tuple[QAction, QAction]:
        """Add two actions of which one is chosen, at first the first."""
        group = QActionGroup(menu)
        actions = menu.addAction(first), menu.addAction(second)
        for action in actions:
            action.setCheckable(True)
            group.addAction(action)
        actions[0].setChecked(True)
        return actions
