"""Edits of the beams of the active draft, each one undoable step; what is refused is said on the message strip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from app.core.beam_parts import ShownParts
from app.core.language import translated
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.beams.beam import Aperture, Beam
from engine.beams.machine import Machine
from engine.beams.machine_file import load_machine, shipped_machines
from engine.case import edits
from engine.case.case import Case, Draft
from engine.volumes.volume import Volume, new_key

if TYPE_CHECKING:
    from engine.beams.conform import Margins

Point = tuple[float, float, float]

DEFAULT_MACHINE = "generic-6"
DEFAULT_MARGIN_MM = 8.0
HALF_FIELD_MM = 50.0


def target_of(case: Case, draft: Draft | None) -> Volume | None:
    """Return the volume the beams are aimed at: the prescribed one, else the outermost kind of target painted so far."""
    if draft is not None and draft.prescription is not None:
        volume = case.volume(draft.prescription.volume_key)
        if volume is not None and not volume.coverage.is_empty:
            return volume
    for role in ("PTV", "ITV", "CTV", "GTV"):
        for volume in case.volumes:
            if volume.role == role and not volume.coverage.is_empty:
                return volume
    return None


class BeamEdits(ShownParts):
    """Adds, changes and removes beams of the workspace's active draft (one is begun when there is none).

    Of a beam with several openings, or an arc, the one that is shown is changed.
    """

    def __init__(self, workspace: Workspace, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace = workspace
        self.margin_mm: float | Margins = DEFAULT_MARGIN_MM

    def add(self, gantry_deg: float) -> str:
        """Add a beam at a gantry angle, fitted to the target if there is one; returns its key, or "" when refused."""
        keys = self.add_many((gantry_deg,))
        return keys[0] if keys else ""

    def add_many(self, gantry_degs: Sequence[float], text: str = "") -> list[str]:
        """Add beams at several gantry angles as one step; returns their keys."""
        return self.add_poses([(g, 0.0) for g in gantry_degs], text)

    def add_poses(self, poses: Sequence[tuple[float, float]], text: str = "") -> list[str]:
        """Add beams at (gantry, couch) angles as one step; returns their keys."""
        case = self._workspace.case
        if case is None:
            return []
        try:
            draft = self._workspace.draft or edits.new_draft(case)
            machine = self._machine(case, draft)
            case = edits.with_machine(case, machine)
            keys = []
            for gantry_deg, couch_deg in poses:
                beam = self._new_beam(case, draft, machine, gantry_deg, couch_deg)
                draft = edits.with_beam(draft, beam, self._usual_weight(draft))
                keys.append(beam.key)
        except UserError as error:
            self._refuse(error)
            return []
        words = text or self.tr("Add beam at {0}°").format(f"{poses[0][0] % 360:g}")
        self._workspace.edit(words, edits.with_draft(case, draft))
        self._workspace.activate(draft=draft.key, beam=keys[-1] if keys else None)
        return keys

    def add_evenly(self, count: int, start_deg: float = 0.0) -> list[str]:
        """Add `count` beams spread evenly over the circle from a start angle."""
        angles = [(start_deg + i * 360.0 / count) % 360.0 for i in range(count)]
        return self.add_many([round(a, 1) for a in angles], self.tr("Add {0} beams spread evenly").format(count))

    def add_opposed(self, key: str) -> str:
        """Add the beam that comes from the other side of the isocentre along the same line."""
        beam = self._find(key)
        if beam is None:
            return ""
        gantry_deg = (beam.gantry_deg + 180.0) % 360.0
        return self._add_like(beam, self.tr("Add beam opposed to {0}").format(beam.name), gantry_deg, mirrored=True)

    def duplicate(self, key: str) -> str:
        """Add a copy of a beam."""
        beam = self._find(key)
        return "" if beam is None else self._add_like(beam, self.tr("Duplicate {0}").format(beam.name), beam.gantry_deg)

    def remove(self, key: str) -> None:
        """Take a beam out of the draft."""
        draft, beam = self._workspace.draft, self._find(key)
        if draft is not None and beam is not None:
            i = draft.beams.index(beam)
            after = edits.without_beam(draft, key)
            self._workspace.edit_draft(self.tr("Remove {0}").format(beam.name), after)
            if after.beams:
                self._workspace.activate(beam=after.beams[min(i, len(after.beams) - 1)].key)

    def change(self, key: str, text: str, merge: str | None = None, **fields: Any) -> bool:
        """Replace fields of one beam; returns whether it was accepted. `merge` joins the steps of one gesture."""
        beam = self._find(key)
        if beam is None:
            return False
        try:
            changed = beam.but(**fields)
        except UserError as error:
            self._refuse(error)
            return False
        return self.replace(changed, text, merge)

    def replace(self, beam: Beam, text: str, merge: str | None = None) -> bool:
        """Put a beam in place of the one of its key; returns whether it was accepted."""
        draft = self._workspace.draft
        if draft is None:
            return False
        try:
            after = edits.with_beam(draft, beam)
        except UserError as error:
            self._refuse(error)
            return False
        self._workspace.edit_draft(text, after, f"{beam.key}/{merge}" if merge else None)
        return True

    def set_gantry(self, key: str, gantry_deg: float, merge: str | None = None) -> bool:
        """Turn the gantry of one beam (any number; it wraps into 0 <= a < 360)."""
        beam = self._find(key)
        return beam is not None and self.replace(beam.turned_to(gantry_deg), self.tr("Turn gantry"), merge)

    def set_weight(self, key: str, weight: float, merge: str | None = None) -> bool:
        """Set the weight of one beam."""
        draft = self._workspace.draft
        if draft is None or self._find(key) is None:
            return False
        try:
            after = edits.with_weight(draft, key, weight)
        except UserError as error:
            self._refuse(error)
            return False
        self._workspace.edit_draft(self.tr("Change weight"), after, f"{key}/{merge}" if merge else None)
        return True

    def set_field(self, key: str, axis: str, width_mm: float, merge: str | None = None) -> bool:
        """Set the jaw opening along "x" or "y" about its present middle."""
        beam = self._find(key)
        if beam is None:
            return False
        aperture = self.seen(beam).aperture
        lo, hi = aperture.x_mm if axis == "x" else aperture.y_mm
        middle = (lo + hi) / 2
        return self.set_jaws(key, axis, (middle - width_mm / 2, middle + width_mm / 2), merge)

    def set_jaws(self, key: str, axis: str, jaws_mm: tuple[float, float], merge: str | None = None) -> bool:
        """Set both jaws of one axis, kept within what the machine can do and from crossing."""
        beam, case = self._find(key), self._workspace.case
        if beam is None or case is None:
            return False
        machine = case.machine(beam.machine)
        least, most = machine.jaw_x_mm if axis == "x" else machine.jaw_y_mm
        lo, hi = (round(min(max(v, least), most), 1) for v in sorted(jaws_mm))
        if merge is None and (min(jaws_mm) < least - 0.05 or max(jaws_mm) > most + 0.05):
            words = self.tr("{0} moves the {1} jaws between {2} and {3} mm, so they stop there.")
            ends = (f"{end:g}".replace("-", "−") for end in (least, most))
            words = words.format(machine.name, axis.upper(), *ends)
            self._workspace.message.emit("info", words)
        change = {"x_mm": (lo, hi)} if axis == "x" else {"y_mm": (lo, hi)}
        return self._reshape(beam, self.tr("Move jaws"), merge, change)

    def set_leaf(self, key: str, pair: int, side: int, position_mm: float, merge: str | None = None) -> bool:
        """Move one leaf (side 0: bank at -X, 1: bank at +X); it stops at its partner."""
        beam, case = self._find(key), self._workspace.case
        if beam is None or case is None:
            return False
        held = self.seen(beam).aperture.leaves_mm
        if not 0 <= pair < len(held):
            return False
        return self.set_leaves(key, {pair: position_mm}, side, merge)

    def set_leaves(self, key: str, positions_mm: Mapping[int, float], side: int, merge: str | None = None) -> bool:
        """Move leaves of one bank (pair: position) within their machine's travel; each stops at its partner."""
        beam, case = self._find(key), self._workspace.case
        if beam is None or case is None:
            return False
        machine = case.machine(beam.machine)
        travel = machine.leaf_travel_mm
        least, most = (-machine.field_limit_mm, travel) if side == 0 else (-travel, machine.field_limit_mm)
        leaves = list(self.seen(beam).aperture.leaves_mm)
        for pair, wanted in positions_mm.items():
            position_mm = round(min(max(wanted, least), most), 1)
            a, b = leaves[pair]
            gap = min(machine.min_leaf_gap_mm, b - a)
            leaves[pair] = (min(position_mm, b - gap), b) if side == 0 else (a, max(position_mm, a + gap))
        words = self.tr("Move leaf") if len(positions_mm) == 1 else self.tr("Move leaves")
        return self._reshape(beam, words, merge, {"leaves_mm": tuple(leaves)})

    def set_machine(self, key: str, name: str) -> bool:
        """Plan a beam on another machine; its leaves are fitted anew because leaf widths may differ."""
        case, draft, beam = self._workspace.case, self._workspace.draft, self._find(key)
        if case is None or draft is None or beam is None or name == beam.machine:
            return False
        try:
            machine = next((m for m in case.machines if m.name == name), None) or load_machine(name)
            case = edits.with_machine(case, machine)
            kept = beam.but(points=(), rotation="")
            kept = kept if machine.wedge(beam.wedge) else kept.but(wedge="", wedge_orientation_deg=0.0)
            moved = self._fitted(case, draft, kept.but(machine=name), machine)
            case = edits.with_draft(case, edits.with_beam(draft, moved))
        except UserError as error:
            self._refuse(error)
            return False
        self._workspace.edit(self.tr("Change machine"), case)
        if beam.wedge and not kept.wedge:
            words = self.tr("{0} has no wedge {1}; {2} is without a wedge now.").format(name, beam.wedge, beam.name)
            self._workspace.message.emit("warning", words)
        return True

    def set_wedge(self, key: str, name: str, orientation_deg: float | None = None) -> bool:
        """Put a wedge of the machine into a beam, or take it out (""); it stands as asked, as before, or as it can."""
        beam, case = self._find(key), self._workspace.case
        if beam is None or case is None:
            return False
        wedge = case.machine(beam.machine).wedge(name)
        if wedge is None:
            return self.change(key, self.tr("Take wedge out"), wedge="", wedge_orientation_deg=0.0)
        wanted = beam.wedge_orientation_deg if orientation_deg is None else orientation_deg
        if wanted not in wedge.orientations_deg:
            wanted = wedge.orientations_deg[0]
        words = self.tr("Turn wedge") if name == beam.wedge else self.tr("Wedge {0}").format(name)
        return self.change(key, words, wedge=name, wedge_orientation_deg=wanted)

    def set_bolus(self, key: str, volume_key: str, on: bool) -> bool:
        """Lay a bolus on the patient for one beam, or take it off."""
        case, draft, beam = self._workspace.case, self._workspace.draft, self._find(key)
        if case is None or draft is None or beam is None:
            return False
        try:
            after = edits.with_bolus(case, draft.key, key, volume_key, on)
        except UserError as error:
            self._refuse(error)
            return False
        self._workspace.edit(self.tr("Lay bolus on") if on else self.tr("Take bolus off"), after)
        return True

    def fit(self, keys: Sequence[str], margin_mm: float | Margins) -> bool:
        """Fit jaws and leaves of beams to the target with a margin, or one for each jaw."""
        from engine.beams.parts import with_part

        case, draft = self._workspace.case, self._workspace.draft
        if case is None or draft is None:
            return False
        self.margin_mm = margin_mm
        if target_of(case, draft) is None:
            self._workspace.message.emit("warning", self.tr("There is no target to fit to. Paint one in Outline."))
            return False
        try:
            for key in keys:
                beam = draft.beam(key)
                fitted = self._fitted(case, draft, self.seen(beam), case.machine(beam.machine))
                draft = edits.with_beam(draft, with_part(beam, self.part_of(beam), fitted.aperture))
        except UserError as error:
            self._refuse(error)
            return False
        self._workspace.edit_draft(self.tr("Fit to target with {0} mm").format(_numbers(margin_mm)), draft)
        return True

    def set_isocentre(self, point_mm: Point, key: str | None = None, text: str = "") -> bool:
        """Move the isocentre of all beams of the draft (or of one) to a point."""
        draft = self._workspace.draft
        if draft is None or not draft.beams:
            self._workspace.message.emit("info", self.tr("Add a beam first: the isocentre belongs to the beams."))
            return False
        point = tuple(round(float(v), 2) for v in point_mm)
        beams = tuple(b.but(isocentre_mm=point) if key in (None, b.key) else b for b in draft.beams)
        self._workspace.edit_draft(text or self.tr("Move isocentre"), draft.but(beams=beams))
        return True

    def place_next(self) -> None:
        """Let the next click on any plane, and only that, put the isocentre of all beams there."""
        draft = self._workspace.draft
        if draft is None or not draft.beams:
            self.set_isocentre(self._workspace.cursor_mm)  # says why not
            return
        self.placing = True
        self.placing_changed.emit("awaited")

    def place(self, point_mm: Point) -> None:
        """Put the isocentre of all beams where it was awaited."""
        if self.placing:
            self.set_isocentre(point_mm, text=self.tr("Isocentre where clicked"))
            self._end_placing("placed")

    def isocentre_at_target(self) -> bool:
        """Move the isocentre of all beams to the middle of the target."""
        case = self._workspace.case
        target = target_of(case, self._workspace.draft) if case else None
        point = target.coverage.centroid_mm() if target else None
        if point is None:
            self._workspace.message.emit("warning", self.tr("There is no target to centre on. Paint one in Outline."))
            return False
        return self.set_isocentre(point, text=self.tr("Isocentre at target"))

    def machine_names(self) -> list[str]:
        """Names of machines a beam can be planned on: those of the case, then those shipped."""
        case = self._workspace.case
        held = [m.name for m in case.machines] if case else []
        return [*held, *(n for n in shipped_machines() if n not in held)]

    # -- parts ---------------------------------------------------------------------------------------------------

    def _find(self, key: str) -> Beam | None:
        draft = self._workspace.draft
        return next((b for b in draft.beams if b.key == key), None) if draft else None

    def _refuse(self, error: UserError) -> None:
        self._workspace.message.emit("error", translated(error))

    def _machine(self, case: Case, draft: Draft) -> Machine:
        if draft.beams:
            return case.machine(draft.beams[-1].machine)
        return next((m for m in case.machines if m.name == DEFAULT_MACHINE), None) or load_machine(DEFAULT_MACHINE)

    def _new_beam(self, case: Case, draft: Draft, machine: Machine, gantry_deg: float, couch_deg: float) -> Beam:
        if draft.beams:
            isocentre = draft.beams[-1].isocentre_mm
        else:
            target = target_of(case, draft)
            middle = target.coverage.centroid_mm() if target else None
            isocentre = middle or self._workspace.cursor_mm
        isocentre = tuple(round(float(v), 2) for v in isocentre)
        half = (-HALF_FIELD_MM, HALF_FIELD_MM)
        beam = Beam(new_key(), _free_name(draft), machine.name, isocentre, gantry_deg, 0.0, couch_deg, Aperture(half, half))
        return self._fitted(case, draft, beam, machine)

    def _fitted(self, case: Case, draft: Draft, beam: Beam, machine: Machine) -> Beam:
        target = target_of(case, draft)
        if target is None:
            return beam.but(aperture=beam.aperture.but(leaf_edges_mm=(), leaves_mm=()))
        from engine.beams.conform import conform

        position = case.image.patient_position
        return beam.but(aperture=conform(beam, target.coverage, machine, self.margin_mm, position))

    def _usual_weight(self, draft: Draft) -> float:
        return sum(draft.weights) / len(draft.weights) if any(draft.weights) else 1.0

    def _add_like(self, beam: Beam, text: str, gantry_deg: float, mirrored: bool = False) -> str:
        from engine.beams.arrange import toe_kept

        draft, case = self._workspace.draft, self._workspace.case
        if draft is None or case is None:
            return ""
        new = beam.but(key=new_key(), name=_free_name(draft)).turned_to(gantry_deg)
        try:
            if mirrored:
                still = new.but(points=(), rotation="")
                machine = case.machine(new.machine)
                new = toe_kept(self._fitted(case, draft, still, machine), machine)
            draft = edits.with_beam(draft, new, draft.weights[draft.beams.index(beam)])
        except UserError as error:
            self._refuse(error)
            return ""
        self._workspace.edit_draft(text, draft)
        self._workspace.activate(beam=new.key)
        return new.key

    def _reshape(self, beam: Beam, text: str, merge: str | None, fields: dict[str, Any]) -> bool:
        from engine.beams.parts import with_part

        try:
            changed = with_part(beam, self.part_of(beam), self.seen(beam).aperture.but(**fields))
        except UserError as error:
            self._refuse(error)
            return False
        return self.replace(changed, text, merge)


def _numbers(margin_mm: float | Margins) -> str:
    sides = (margin_mm,) if isinstance(margin_mm, float | int) else margin_mm
    return " / ".join(f"{m:g}" for m in dict.fromkeys(sides))


def _free_name(draft: Draft) -> str:
    names, n = {b.name for b in draft.beams}, len(draft.beams) + 1
    while f"Beam {n}" in names:
        n += 1
    return f"Beam {n}"
