"""What Aim and Weigh put on the stage together: ring, isodose lines, wash, probe, coverage on the strip."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer

from app.core.context import Context
from app.core.plan_desk import PlanDesk
from app.core.plan_follow import PlanFollower
from app.stations.isocentre_click import IsocentreClick
from app.stations.plan_watch import PlanWatch
from app.views.beam_ring import BeamRingLayer
from app.views.dose_extremes import ExtremesLayer
from app.views.dose_layers import DoseView, IsodoseLayer, WashLayer
from app.views.dose_line import DoseLine
from app.views.layer import Layer
from app.views.places_layer import PlacesLayer
from app.views.point_probe import PointProbe
from app.views.sum_stage import SumWordsLayer

STRIP_MS = 200  # the strip follows when the hand rests; lines, histogram and ledger follow at once


class PlanStage(QObject):
    """Shared by the planning stations; ``enter`` and ``leave`` put everything on the stage and take it off."""

    def __init__(self, context: Context) -> None:
        super().__init__(context.workspace)
        self.context = context
        self.desk = PlanDesk.of(context.workspace, context.jobs)
        self.follower: PlanFollower = self.desk.follower
        self.dose = DoseView(self.follower)
        self.ring = BeamRingLayer(self.desk.beams, self.desk.pictures.near_angles)
        self.ring.trial = lambda: self.follower.trial
        self.places = PlacesLayer(self.desk.beams)
        self.ring.signals.arc_dragged.connect(self.desk.shapes.move_arc)
        self.lines, self.wash = IsodoseLayer(self.dose), WashLayer(self.dose)
        self.extremes, self.line = ExtremesLayer(self.dose), DoseLine(context.stage, self.dose)
        self.probe = PointProbe(context.stage, self.follower)
        self.sum_words = SumWordsLayer()
        self.watch = PlanWatch(context, self)
        self.isocentre_click = IsocentreClick(context, self.desk.beams, self)
        self._there = False
        self._drawn: object = None
        self._strip_soon = QTimer(self, singleShot=True, interval=STRIP_MS)
        self._strip_soon.timeout.connect(lambda: context.stage.strip.set_coverage(self._coverage()))
        self.follower.now_changed.connect(self._show)
        context.workspace.case_changed.connect(self._levels)
        context.settings.changed.connect(self._ring_wanted)

    @staticmethod
    def of(context: Context) -> PlanStage:
        """Return the one of this window."""
        found = context.workspace.findChild(PlanStage)
        return found if found is not None else PlanStage(context)

    def enter(self) -> None:
        """Put dose and beams on the stage and let doses be computed."""
        if self._there:
            return
        self._there = True
        stage = self.context.stage
        for layer in self._layers():
            stage.add_layer(layer)
        stage.readouts.append(self.dose.readout)
        stage.key_listeners += [self.line.key] + ([self.ring.key] if self.dose.sum is None else [])
        self.line.set_active(True)
        self.probe.set_active(self.dose.sum is None)
        self.follower.set_active(True)
        self.watch.set_active(True)
        self._show()

    def leave(self) -> None:
        """Take them off; running computations go on to their end."""
        if not self._there:
            return
        self._there = False
        self.desk.beams.leave_placing()
        stage = self.context.stage
        for layer in self._layers():
            stage.remove_layer(layer)
        stage.readouts.remove(self.dose.readout)
        for answer in [a for a in stage.key_listeners if a in (self.line.key, self.ring.key)]:
            stage.key_listeners.remove(answer)
        self.line.set_active(False)
        self.probe.set_active(False)
        self.follower.set_active(False)
        self.watch.set_active(False)

    def set_look(self, lines: bool, labels: bool, labels_in_gy: bool, wash_percent: int) -> None:
        """Choose what of the dose is drawn."""
        self.dose.lines_shown, self.dose.labels_shown, self.dose.labels_in_gy = lines, labels, labels_in_gy
        self.dose.wash_percent = wash_percent
        self.context.stage.refresh(self.lines)

    def show_extremes(self, wanted: bool) -> None:
        """Mark the highest dose of each plane, and the extremes in the target there."""
        self.extremes.wanted = wanted
        self.context.stage.refresh(self.extremes)

    def show_sum(self, plan: Any) -> None:
        """Show a sum of drafts (a SumPlan) in place of the active draft and its beams; None shows the draft again."""
        there, changed = self._there, plan is not self.dose.sum
        if there and changed:
            self.leave()
        self.dose.show_sum(plan)
        self.sum_words.plan = plan
        if there and changed:
            self.enter()
        elif plan is not None:
            self._show()
        self.line.read()

    def _layers(self) -> tuple[Layer, ...]:
        of_what = self.ring if self.dose.sum is None else self.sum_words
        return self.wash, self.lines, self.extremes, of_what, self.places, self.line

    def _ring_wanted(self, key: str) -> None:
        """Give the ring its room around the pictures, or take it back."""
        if key == "stage/ring" and self._there:
            self.context.stage.make_room()

    def go_to_hottest(self) -> None:
        """Move the cursor to the highest dose in the body."""
        found = self.dose.now.hottest() if self.dose.now is not None else None
        if found is not None:
            self.context.stage.centre_on(found[0])

    def _show(self, *_: object) -> None:
        if self._there:
            self.context.stage.refresh(self.lines)
            self.context.stage.tell_again()
        self._strip_soon.start()

    def _levels(self, *_: object) -> None:
        draft = self.context.workspace.draft
        levels = (draft.levels_percent, draft.prescription) if draft is not None else None
        if self._there and levels != self._drawn:
            self._drawn = levels
            self.context.stage.refresh(self.lines)

    def _coverage(self) -> dict[int, float] | None:
        now, draft = self.follower.now, self.follower.shown_draft
        if now is None or draft is None or draft.prescription is None or self.follower.is_old or self.dose.sum is not None:
            return None
        rows = now.coverage_by_slice(draft.prescription.volume_key)
        return {plane: gy / draft.prescription.dose_gy for plane, gy in rows} or None
