"""Edits of the active draft that are not about beams: prescription, normalisation, goals, levels, drafts themselves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from app.core.language import translated
from app.core.workspace import Workspace
from engine.base.errors import InputError, UserError
from engine.case import edits
from engine.case.case import NORMALISATIONS, Draft, Prescription
from engine.evaluation.goals import Goal
from engine.space.point import NamedPoint
from engine.volumes.volume import new_key

if TYPE_CHECKING:
    from engine.evaluation.goal_file import GoalSet
    from engine.evaluation.metrics import MetricError
    from engine.volumes.sets import VolumeSet

__all__ = ["NORMALISATIONS", "DraftEdits", "TargetChoice"]

_USUAL_FRACTIONS = 30
_TARGET_GOALS = (("D98%[%]", ">=", 95.0), ("D2%[%]", "<=", 107.0))
_TARGET_SOURCE = "ICRU Reports 50 and 62: target dose within -5 and +7 % of the prescription [common practice]"


@dataclass(frozen=True)
class TargetChoice:
    """A volume a prescription can refer to, as a list shows it."""

    key: str
    name: str
    is_target: bool
    is_empty: bool


class DraftEdits(QObject):
    """Changes the workspace's active draft; what is refused is said on the message strip."""

    def __init__(self, workspace: Workspace, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace = workspace

    # -- prescription --------------------------------------------------------------------------------------------

    def target_choices(self) -> list[TargetChoice]:
        """Volumes a prescription can name: targets first, then the others, in order of creation."""
        case = self._workspace.case
        if case is None:
            return []
        found = [TargetChoice(v.key, v.name, v.is_target, v.coverage.is_empty) for v in case.volumes]
        return sorted(found, key=lambda c: not c.is_target)

    def prescribe(self, dose_gy: float, fractions: int, volume_key: str, merge: str | None = None) -> bool:
        """Set dose, fractions and volume of the prescription; begins a draft when there is none.

        Goals on the volume that was prescribed to go with the prescription to the new one, in the same step.
        """
        case = self._workspace.case
        if case is None:
            return False
        draft = self._workspace.draft or edits.new_draft(case)
        try:
            wanted = Prescription(
                dose_gy, fractions, volume_key, draft.prescription.point if draft.prescription is not None else None
            )
        except UserError as error:
            self._refuse(error)
            return False
        if draft.prescription is not None and wanted == draft.prescription:
            return True
        goals, moved = _following(draft, volume_key)
        self._workspace.edit_draft(self.tr("Change prescription"), draft.but(prescription=wanted, goals=goals), merge)
        self._workspace.activate(draft=draft.key)
        if moved and not self._workspace.read_only:
            volume = case.volume(volume_key)
            words = (
                self.tr("1 goal went with the prescription to {0}; undo takes both back.")
                if moved == 1
                else self.tr("{1} goals went with the prescription to {0}; undo takes both back.")
            )
            self._workspace.message.emit("info", words.format(volume.name if volume is not None else "", moved))
        return True

    def normalise(self, rule: str) -> bool:
        """Choose what is made equal to the prescription; a point that was never chosen is where the cross-hair stands."""
        draft = self._workspace.draft
        if rule == "Point" and (draft is None or draft.prescription is None or draft.prescription.point is None):
            return self.normalise_at(self.tr("Cross-hair"), self._workspace.cursor_mm)
        return self._change(self.tr("Change normalisation"), normalisation=rule)

    def normalise_at(self, name: str, place_mm: tuple[float, float, float]) -> bool:
        """Make the dose at a named point equal to the prescription, which keeps the point."""
        draft = self._workspace.draft
        if draft is None or draft.prescription is None:
            self._workspace.message.emit("info", self.tr("Prescribe first: the point is kept with the prescription."))
            return False
        x, y, z = (round(float(v), 2) for v in place_mm)
        try:
            wanted = draft.prescription.but(point=NamedPoint(name, (x, y, z)))
        except UserError as error:
            self._refuse(error)
            return False
        return self._change(self.tr("Normalise at {0}").format(name), normalisation="Point", prescription=wanted)

    def compute_on(self, dose_spacing_mm: float) -> bool:
        """Choose the spacing of the fine dose grid."""
        return self._change(self.tr("Change dose grid"), dose_spacing_mm=round(dose_spacing_mm, 2))

    def report_to(self, kind: str) -> bool:
        """Choose whether dose is reported to the medium of each place or to water."""
        return self._change(self.tr("Change what dose is reported to"), report_to=kind)

    def set_levels(self, levels_percent: tuple[float, ...]) -> bool:
        """Set the isodose levels, percent of the prescription; kept in falling order, each once."""
        wanted = tuple(sorted({round(float(v), 2) for v in levels_percent}, reverse=True))
        if any(not 0 < v <= 200 for v in wanted):
            self._refuse(InputError("an isodose level lies above 0 and up to 200 %", do="Type a percentage in that range."))
            return False
        return self._change(self.tr("Change isodose levels"), levels_percent=wanted)

    # -- goals ---------------------------------------------------------------------------------------------------

    def check_metric(self, text: str) -> str:
        """Return "" when the metric text is understood, else one sentence that says what is wrong and where."""
        fault = self.metric_fault(text)
        return "" if fault is None else translated(fault)

    def metric_fault(self, text: str) -> MetricError | None:
        """Return what is wrong with a metric text and at which characters, or None."""
        from engine.evaluation.metrics import MetricError, parse

        try:
            parse(text)
        except MetricError as error:
            return error
        return None

    def put_goal(self, index: int | None, volume_key: str, **fields: Any) -> bool:
        """Replace goal `index`, or add one (None); the metric is read as in TG-263 and kept with its unit."""
        from engine.evaluation.metrics import parse

        draft = self._workspace.draft
        if draft is None:
            self._workspace.message.emit("info", self.tr("Begin a draft first: goals belong to a draft."))
            return False
        problem = self.check_metric(fields["metric"])
        if problem:
            self._workspace.message.emit("error", problem)
            return False
        try:
            goal = Goal(volume_key, **{**fields, "metric": str(parse(fields["metric"]))})
        except UserError as error:
            self._refuse(error)
            return False
        goals = list(draft.goals)
        if index is None:
            goals.append(goal)
        else:
            goals[index] = goal
        return self._change(self.tr("Add goal") if index is None else self.tr("Change goal"), goals=tuple(goals))

    def add_goals(self, goals: tuple[Goal, ...]) -> int:
        """Add goals that are not there yet as one step; returns how many were new."""
        draft = self._workspace.draft
        if draft is None:
            return 0
        known = {(g.volume_key, g.metric, g.comparator) for g in draft.goals if not g.waits_for}
        new = [g for g in goals if (g.volume_key, g.metric, g.comparator) not in known]
        if new:
            self._change(self.tr("Add {0} goals").format(len(new)), goals=(*draft.goals, *new))
        return len(new)

    def suggested(self) -> tuple[Goal, ...]:
        """Return goals for the prescribed volume and, from published limits, for organs whose names are known."""
        case, draft = self._workspace.case, self._workspace.draft
        if case is None or draft is None:
            return ()
        from engine.evaluation.library import strictest, suggestions_for

        wanted = draft.prescription
        goals = [Goal(wanted.volume_key, *demand, 0.0, 1, _TARGET_SOURCE) for demand in _TARGET_GOALS] if wanted else []
        fractions = wanted.fractions if wanted else _USUAL_FRACTIONS
        try:
            for volume in case.volumes:
                if volume.role in ("OAR", "PRV") and not volume.coverage.is_empty:
                    goals += [s.goal(volume.key) for s in suggestions_for(volume.name, fractions)]
        except UserError as error:
            self._refuse(error)
        return strictest(goals)

    def site_goals(self, site: VolumeSet) -> GoalSet:
        """Return published limits for the organs of a site, at the draft's fractions, and the usual ones for its target."""
        from engine.evaluation.goal_file import Demand
        from engine.evaluation.library import site_goals

        case, draft = self._workspace.case, self._workspace.draft
        wanted = draft.prescription if draft is not None else None
        found = site_goals(site, wanted.fractions if wanted else _USUAL_FRACTIONS)
        target = case.volume(wanted.volume_key) if case is not None and wanted else None
        if target is None:
            return found
        on_target = tuple(Demand(target.name, *demand, 0.0, 1, _TARGET_SOURCE) for demand in _TARGET_GOALS)
        return replace(found, demands=(*on_target, *found.demands))

    def take_goals(self, wanted: GoalSet, instead: bool) -> int:
        """Add the goals of a set, or put them `instead` of those there are, as one step; returns how many came."""
        from engine.evaluation.goal_file import goals_for

        case, draft = self._workspace.case, self._workspace.draft
        if case is None or draft is None:
            return 0
        goals = goals_for(wanted, case.volumes)
        known = {_demanded(g) for g in draft.goals}
        new = tuple(g for g in goals if instead or _demanded(g) not in known)
        text = self.tr("Replace goals by {0}") if instead else self.tr("Add goals of {0}")
        after = new if instead else (*draft.goals, *new)
        if after == draft.goals or not self._change(text.format(wanted.name), goals=after):
            return 0
        return len(new)

    def remove_goals(self, indices: list[int]) -> None:
        """Take goals out by their place in the draft."""
        draft = self._workspace.draft
        if draft is not None and indices:
            kept = tuple(g for i, g in enumerate(draft.goals) if i not in indices)
            self._change(self.tr("Remove goal"), goals=kept)

    # -- drafts --------------------------------------------------------------------------------------------------

    def new_draft(self) -> str:
        """Add an empty draft with the present prescription and goals; returns its key."""
        case, old = self._workspace.case, self._workspace.draft
        if case is None:
            return ""
        draft = edits.new_draft(case)
        if old is not None:
            draft = draft.but(prescription=old.prescription, goals=old.goals, levels_percent=old.levels_percent)
        return self._add(self.tr("New draft"), draft)

    def duplicate_draft(self) -> str:
        """Add a copy of the active draft; its doses are found again because beams keep their fingerprints."""
        case, old = self._workspace.case, self._workspace.draft
        if case is None or old is None:
            return ""
        name = edits.new_draft(case, self.tr("{0} copy").format(old.name)).name
        return self._add(self.tr("Duplicate draft"), old.but(key=new_key(), name=name))

    def rename_draft(self, name: str) -> bool:
        """Give the active draft another name, free within the case."""
        case, draft = self._workspace.case, self._workspace.draft
        name = name.strip()
        if case is None or draft is None or name == draft.name:
            return False
        if not name or any(d.name == name for d in case.drafts):
            what = self.tr("a draft named {0!r} exists already") if name else self.tr("a draft needs a name")
            self._refuse(InputError(what.format(name), do=self.tr("Type another name.")))
            return False
        return self._change(self.tr("Rename draft"), name=name)

    def remove_draft(self) -> None:
        """Take the active draft out of the case (undo brings it back)."""
        case, draft = self._workspace.case, self._workspace.draft
        if case is not None and draft is not None:
            self._workspace.edit(self.tr("Remove {0}").format(draft.name), edits.without_draft(case, draft.key))

    # -- parts ---------------------------------------------------------------------------------------------------

    def _add(self, text: str, draft: Draft) -> str:
        self._workspace.edit_draft(text, draft)
        self._workspace.activate(draft=draft.key, beam=draft.beams[0].key if draft.beams else "")
        return draft.key

    def _change(self, text: str, **fields: Any) -> bool:
        draft = self._workspace.draft
        if draft is None:
            return False
        try:
            after = draft.but(**fields)
        except UserError as error:
            self._refuse(error)
            return False
        self._workspace.edit_draft(text, after)
        return not self._workspace.read_only

    def _refuse(self, error: UserError) -> None:
        self._workspace.message.emit("error", translated(error))


def _demanded(goal: Goal) -> tuple[object, ...]:
    return goal.volume_key, goal.waits_for.lower(), goal.metric, goal.comparator, goal.limit


def _following(draft: Draft, volume_key: str) -> tuple[tuple[Goal, ...], int]:
    """Return the goals of a draft once another volume is prescribed, and how many moved.

    A goal stays where it was if the new volume has one of its own on the same metric.
    """
    old = draft.prescription.volume_key if draft.prescription is not None else volume_key
    if old == volume_key:
        return draft.goals, 0
    taken = {(g.metric, g.comparator) for g in draft.goals if g.volume_key == volume_key}
    moves = [g.volume_key == old and (g.metric, g.comparator) not in taken for g in draft.goals]
    return tuple(g.but(volume_key=volume_key) if m else g for g, m in zip(draft.goals, moves, strict=True)), sum(moves)
