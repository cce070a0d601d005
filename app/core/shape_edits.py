"""Edits that shape beams: fields around the target, leaves over organs, collimator, openings in turn, arcs, sets."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from app.core.beam_edits import BeamEdits, target_of
from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.workspace import Workspace
from engine import compute
from engine.base.errors import UserError
from engine.base.values import Value
from engine.beams.beam import Beam
from engine.case import edits
from engine.case.case import Case, Draft

if TYPE_CHECKING:
    from engine.beams.conform import Margins

COLLIMATOR, ARC = "collimator angle", "arc"


class ShapeEdits(QObject):
    """Works on the active beam. What takes longer is a job; its result is an edit only if the beam is still as it was.

    Signals
    -------
    collimator_found(CollimatorResult) : for the beam that was asked about
    """

    collimator_found = Signal(object)

    def __init__(self, workspace: Workspace, beams: BeamEdits, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace, self._beams, self._jobs = workspace, beams, jobs
        self._asked: tuple[Value, Beam] | None = None
        jobs.result.connect(self._on_result)
        jobs.failed.connect(self._on_failed)

    # -- leaves and collimator -----------------------------------------------------------------------------------

    def shield(self, organ_key: str, margin_mm: float, keep_mm: float) -> bool:
        """Move leaves of the shown opening over an organ, as far as the target allows."""
        from engine.beams.parts import with_part
        from engine.beams.shield import shield

        case, draft, beam = self._now()
        organ = case.volume(organ_key) if case else None
        if case is None or draft is None or beam is None or organ is None:
            return False
        target = target_of(case, draft)
        seen = self._beams.seen(beam)

        def made() -> Beam:
            aperture = shield(
                seen, organ.coverage, target.coverage if target else None, case.machine(beam.machine), margin_mm, keep_mm,
                case.image.patient_position,
            )  # fmt: skip
            if aperture.leaves_mm == seen.aperture.leaves_mm:
                words = self.tr("{0} is covered as far as the target allows already.").format(organ.name)
                self._workspace.message.emit("info", words)
            return with_part(beam, self._beams.part_of(beam), aperture)

        return self._try(made, self.tr("Leaves over {0}").format(organ.name))

    def find_collimator(self, margins: Margins) -> None:
        """Ask which collimator angle leaves least open beyond the target; ``collimator_found`` answers."""
        case, draft, beam = self._now()
        target = target_of(case, draft) if case else None
        if case is None or beam is None:
            return
        if target is None:
            self._workspace.message.emit("warning", self.tr("There is no target to fit to. Paint one in Outline."))
            return
        request = compute.request(
            "CollimatorRequest", beam=self._beams.seen(beam), target=target.coverage, machine=case.machine(beam.machine),
            margins_mm=tuple(margins), patient_position=case.image.patient_position,
        )  # fmt: skip
        self._submit(COLLIMATOR, request, beam)

    def turn_collimator(self, key: str, angle_deg: float, merge: str | None = None) -> bool:
        """Turn the collimator of one beam; leaves and jaws turn with it."""
        return self._beams.change(key, self.tr("Turn collimator"), merge, collimator_deg=angle_deg)

    def fit_at_collimator(self, angle_deg: float, margins: Margins) -> bool:
        """Turn the collimator of the active beam and fit it to the target, in one step."""
        from engine.beams.conform import conform
        from engine.beams.parts import with_part

        case, draft, beam = self._now()
        target = target_of(case, draft) if case else None
        if case is None or beam is None or target is None:
            return False

        def made() -> Beam:
            turned = beam.but(collimator_deg=angle_deg)
            machine, position = case.machine(beam.machine), case.image.patient_position
            aperture = conform(self._beams.seen(turned), target.coverage, machine, margins, position)
            return with_part(turned, self._beams.part_of(turned), aperture)

        return self._try(made, self.tr("Collimator at {0}°, fitted to the target").format(f"{angle_deg:g}"))

    # -- openings one after another ------------------------------------------------------------------------------

    def add_opening(self) -> bool:
        """Add a smaller copy of the shown opening after it; the two share what the one had.

        It is drawn in along X: two equal openings one after another would be one.
        """
        from engine.beams.segments import Segment, segments

        def made(beam: Beam) -> list[Any]:
            held, n = list(segments(beam)), self._beams.part_of(beam)
            half = held[n].share / 2
            x1, x2 = held[n].aperture.x_mm
            smaller = held[n].aperture.but(x_mm=(x1 + 0.1 * (x2 - x1), x2 - 0.1 * (x2 - x1)))
            return [*held[:n], Segment(half, held[n].aperture), Segment(half, smaller), *held[n + 1 :]]

        beam = self._workspace.beam
        if beam is None or not self._with_openings(self.tr("Add opening"), made):
            return False
        self._beams.show_part(beam.key, self._beams.part_of(beam) + 1)
        return True

    def remove_opening(self) -> bool:
        """Take the shown opening out; the others keep their ratios."""
        from engine.beams.segments import segments

        beam = self._workspace.beam
        if beam is None or not beam.points:
            return False
        n = self._beams.part_of(beam)
        made = self._with_openings(
            self.tr("Remove opening"), lambda beam: [s for i, s in enumerate(segments(beam)) if i != n]
        )
        self._beams.show_part(beam.key, max(0, n - 1))
        return made

    def set_share(self, n: int, share: float, merge: str | None = None) -> bool:
        """Give one opening a share (0 to 1) of the beam's monitor units; the others keep their ratios."""
        from engine.beams.segments import Segment, segments

        share = min(max(share, 0.01), 0.99)

        def made(beam: Beam) -> list[Any]:
            held = segments(beam)
            rest = sum(s.share for i, s in enumerate(held) if i != n)
            return [Segment(share if i == n else s.share * (1 - share) / rest, s.aperture) for i, s in enumerate(held)]

        beam = self._workspace.beam
        if beam is None or not 0 <= n < self.openings(beam) or self.openings(beam) < 2:
            return False
        return self._with_openings(self.tr("Share of an opening"), made, merge)

    def openings(self, beam: Beam) -> int:
        """Return how many openings a beam has; 0 for an arc."""
        from engine.beams.parts import part_count

        return 0 if beam.is_arc else part_count(beam)

    # -- arcs ----------------------------------------------------------------------------------------------------

    def make_arc(
        self, start_deg: float, stop_deg: float, rotation: str, spacing_deg: float, margins: Margins | None
    ) -> None:
        """Turn the active beam into an arc as a job: fitted to the target all along, or (no margins) with its opening."""
        case, draft, beam = self._now()
        if case is None or beam is None:
            return
        target = target_of(case, draft)
        if margins is not None and target is None:
            self._workspace.message.emit("warning", self.tr("There is no target to fit to. Paint one in Outline."))
            return
        request = compute.request(
            "ArcRequest", beam=self._beams.seen(beam), machine=case.machine(beam.machine), start_deg=start_deg,
            target=target.coverage if margins is not None and target else None, stop_deg=stop_deg, rotation=rotation,
            margins_mm=tuple(margins or (0.0,) * 4), patient_position=case.image.patient_position, spacing_deg=spacing_deg,
        )  # fmt: skip
        self._submit(ARC, request, beam)

    def move_arc(self, start_deg: float, stop_deg: float) -> None:
        """Let the active arc begin and stop elsewhere; one that followed the target is fitted anew."""
        from engine.beams.arcs import span_deg
        from engine.beams.conform import Margins

        beam = self._workspace.beam
        if beam is None or not beam.is_arc:
            return
        wanted = self._beams.margin_mm
        margins = wanted if isinstance(wanted, Margins) else Margins(*(float(wanted),) * 4)
        spacing = min(max(span_deg(beam) / (len(beam.points) - 1), 0.1), 180.0)
        follows = len(beam.apertures) > 1
        self.make_arc(start_deg, stop_deg, beam.rotation, spacing, margins if follows else None)

    def make_still(self) -> bool:
        """Let the active beam stand where it is shown."""
        beam = self._workspace.beam
        return beam is not None and self._beams.replace(self._beams.seen(beam), self.tr("Make the beam stand still"))

    # -- sets ----------------------------------------------------------------------------------------------------

    def add_tangents(self) -> list[str]:
        """Add two beams that graze the body along the target (see ``engine.beams.tangents``)."""
        from engine.beams.conform import Margins
        from engine.beams.machine_file import load_machine
        from engine.beams.tangents import tangents

        case, draft, beam = self._now()
        target = target_of(case, draft) if case else None
        if case is None or target is None or case.body is None:
            words = self.tr("Tangential beams need a target and a body outline. Paint them in Outline.")
            self._workspace.message.emit("warning", words)
            return []
        lungs = [v.coverage for v in case.volumes if v.role in ("OAR", "ORGAN") and v.name.lower().startswith("lung")]
        name = beam.machine if beam else "generic-6"
        machine = next((m for m in case.machines if m.name == name), None) or load_machine(name)
        isocentre = beam.isocentre_mm if beam else target.coverage.centroid_mm()
        nearest = min(lungs, key=lambda c: _away(c, target.coverage), default=None)
        wanted = self._beams.margin_mm
        margins = wanted if isinstance(wanted, Margins) else Margins(*(float(wanted),) * 4)
        try:
            angles = tangents(
                target.coverage, case.body.coverage, nearest, isocentre, machine, margins, case.image.patient_position
            )
        except UserError as error:
            self._workspace.message.emit("error", translated(error))
            return []
        return self._beams.add_many(angles, self.tr("Add tangential beams"))

    def add_fan(self, count: int) -> list[str]:
        """Add beams that leave the plane of the gantry: the couch turned evenly, the gantry tilted."""
        from engine.beams.arrange import fan

        return self._beams.add_poses([(g, c) for g, c in fan(count)], self.tr("Add a fan of {0} beams").format(count))

    def add_mirrored(self, key: str) -> str:
        """Add the mirror image of a beam on the patient's other side."""
        from engine.beams.arrange import mirrored

        case, draft = self._workspace.case, self._workspace.draft
        beam = next((b for b in draft.beams if b.key == key), None) if draft else None
        if case is None or draft is None or beam is None:
            return ""
        names = {b.name for b in draft.beams}
        n = next(n for n in range(len(names) + 1, 2 * len(names) + 3) if f"Beam {n}" not in names)
        new = mirrored(self._beams.seen(beam), case.machine(beam.machine)).but(name=f"Beam {n}")
        after = edits.with_beam(draft, new, draft.weights[draft.beams.index(beam)])
        self._workspace.edit_draft(self.tr("Add mirror image of {0}").format(beam.name), after)
        self._workspace.activate(beam=new.key)
        return new.key

    # -- parts ---------------------------------------------------------------------------------------------------

    def _now(self) -> tuple[Case | None, Draft | None, Beam | None]:
        return self._workspace.case, self._workspace.draft, self._workspace.beam

    def _try(self, make: Callable[[], Beam], text: str, merge: str | None = None) -> bool:
        try:
            made = make()
        except UserError as error:
            self._workspace.message.emit("error", translated(error))
            return False
        return self._beams.replace(made, text, merge)

    def _with_openings(self, text: str, make: Callable[[Beam], Sequence[Any]], merge: str | None = None) -> bool:
        from engine.beams.segments import with_segments

        beam = self._workspace.beam
        return beam is not None and self._try(lambda: with_segments(beam, make(beam)), text, merge)

    def _submit(self, kind: str, request: Value, beam: Beam) -> None:
        self._asked = (request, beam)
        self._jobs.submit(kind, [request])

    def _on_result(self, kind: str, request: Value, value: Any) -> None:
        if kind not in (COLLIMATOR, ARC) or self._asked is None or self._asked[0].fingerprint != request.fingerprint:
            return
        beam, now = self._asked[1], self._workspace.beam
        if now is None or now.key != beam.key:
            return
        if kind == COLLIMATOR:
            self.collimator_found.emit(value)
        elif now != beam:
            words = self.tr("{0} was changed meanwhile, so the arc was not made. Ask again.").format(now.name)
            self._workspace.message.emit("info", words)
        else:
            self._beams.replace(value.beam, self.tr("Make an arc of {0}").format(beam.name))

    def _on_failed(self, kind: str, error: object) -> None:
        if kind in (COLLIMATOR, ARC) and isinstance(error, UserError):
            self._workspace.message.emit("error", translated(error))


def _away(coverage: Any, target: Any) -> float:
    a, b = coverage.centroid_mm(), target.centroid_mm()
    return float("inf") if a is None or b is None else sum((p - q) ** 2 for p, q in zip(a, b, strict=True))
