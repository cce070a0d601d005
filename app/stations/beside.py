"""Another draft beside the active one: a second stage with linked views, and the difference of the two doses."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.core.context import Context
from app.core.other_plan import OtherPlan
from app.stations.plan_stage import PlanStage
from app.views.difference_layer import DifferenceLayer
from app.views.dose_layers import DoseView, IsodoseLayer, WashLayer
from app.views.linked_views import Stage

WIDE_PX = 1600  # narrower windows show two large pictures and nothing small beside them


class Beside(QObject):
    """Makes the second stage when it is first wanted; it shares cursor, window and cameras with the first."""

    def __init__(self, context: Context, mine: PlanStage) -> None:
        super().__init__(context.stage)
        self._context, self._mine = context, mine
        self.other = OtherPlan(mine.follower, context.jobs, self)
        self.dose = DoseView(self.other)
        self.difference = DifferenceLayer(mine.dose, self.dose)
        self.widget: QWidget | None = None
        self.stage: Stage | None = None
        self._differs, self._here = False, False
        self.inside = False  # whether the other stage stands inside the first one
        self._link = QTimer(self, singleShot=True, interval=0)
        self._link.timeout.connect(self._aim)
        self.other.changed.connect(self._show)
        mine.follower.now_changed.connect(self._show_difference)

    def choose(self, key: str) -> None:
        """Lay a draft beside the active one; "" ends it."""
        if key and self.widget is None:
            self._build()
        self.other.choose(key)
        self._make_room()

    def set_here(self, here: bool) -> None:
        """Say whether the station that lays drafts beside each other is in front."""
        self._here = here
        self._make_room()

    def set_difference(self, wanted: bool) -> None:
        """Show the difference of the two doses on the active draft's stage."""
        stage = self._context.stage
        if wanted != self._differs:
            self._differs = wanted
            (stage.add_layer if wanted else stage.remove_layer)(self.difference)
            stage.refresh(self.difference)

    def _build(self) -> None:
        first = self._context.stage
        self.stage = Stage(self._context.workspace, self._context.settings)
        self.stage.strip.hide()
        self.stage.splitter.widget(1).hide()
        self._same_image(None, self._context.workspace.case)
        self.lines, self.wash = IsodoseLayer(self.dose), WashLayer(self.dose)
        for layer in (self.wash, self.lines):
            self.stage.add_layer(layer)
        self.stage.readouts.append(self.dose.readout)
        for one in (first, self.stage):
            one.slice_shown.connect(lambda *_: self._link.start())
        first.levels_changed.connect(lambda: self.stage.set_levels(*first.levels))
        self.stage.levels_changed.connect(lambda: first.set_levels(*self.stage.levels))
        self.widget = QWidget(self._context.wings)
        self._words = QLabel(self.widget)
        self._words.setObjectName("readout")
        column = QVBoxLayout(self.widget)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._words)
        column.addWidget(self.stage, 1)
        self._context.workspace.case_changed.connect(self._same_image)
        self._show()

    def _same_image(self, before: Any, after: Any) -> None:
        """Show the first stage's image with its cameras, so that panning or magnifying one moves both."""
        first = self._context.stage
        if self.stage is not None and first.image is not None:
            if self.stage.image is not first.image:
                self.stage.image = first.image
                self.stage.frame_body(after)
            self.stage.cameras = first.cameras
            self._aim()

    def _aim(self) -> None:
        if self.stage is None or self.stage.image is None:
            return
        if self.stage.cameras is not self._context.stage.cameras:
            self.stage.cameras = self._context.stage.cameras
        self.stage.framed_mm = self._context.stage.framed_mm
        for view in (*self.stage.views, *self._context.stage.views):
            view.aim()

    def _make_room(self) -> None:
        """In a narrow window lay the other draft where the small pictures and the strip were; the wheel still walks."""
        first = self._context.stage
        narrow = self._here and bool(self.other.key) and first.window().width() < WIDE_PX
        for part in (first.strip, first.splitter.widget(1)):
            if part.isHidden() != narrow:
                part.setHidden(narrow)
        if self.widget is not None and narrow != self.inside:
            self.inside = narrow
            if narrow:
                first.splitter.addWidget(self.widget)
                half = first.splitter.width() // 2
                first.splitter.setSizes([half, 0, half])
                self.widget.show()
            else:
                self.widget.setParent(self._context.wings)
            if self._here:
                self._context.refresh()

    def _show(self, *_: object) -> None:
        self._make_room()
        if self.stage is not None:
            self._words.setText(self.other.words())
            self.stage.refresh(self.lines)
        self._show_difference()

    def _show_difference(self, *_: object) -> None:
        if self._differs:
            self._context.stage.refresh(self.difference)
