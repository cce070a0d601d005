"""Gathers what a reviewer signs: every input, number and picture by name or fingerprint."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from engine import __version__
from engine.base.errors import SealError
from engine.base.words import as_words, say
from engine.beams.beam import Beam
from engine.beams.couch import couch_move
from engine.beams.wedge import TOE_JAWS
from engine.case.case import Case, Draft
from engine.case.release import changed_since, last_release
from engine.case.requests import Standing
from engine.dose.request import PHYSICS_VERSION
from engine.evaluation.live import PlanNow
from engine.review.checks import open_findings
from engine.review.finding import Finding
from engine.review.record import Picture, Statement


def numbers(case: Case, draft: Draft, now: PlanNow) -> tuple[tuple[str, str], ...]:
    """Return the numbers that go on the record, as (name, text)."""
    out: list[tuple[str, str]] = []
    wanted = draft.prescription
    if wanted:
        aim = case.volume(wanted.volume_key)
        name = aim.name if aim else "?"
        out.append(("Prescription", f"{wanted.dose_gy:g} Gy in {wanted.fractions} fractions to {name}"))
    point = wanted.point.words if wanted and wanted.point and draft.normalisation == "Point" else ""
    out += [("Normalisation", f"{draft.normalisation} {point}".rstrip()), ("Dose grid", f"{draft.dose_spacing_mm:g} mm"),
            ("Dose reported to", draft.report_to)]  # fmt: skip
    release = last_release(case)
    if release is not None:
        changed = changed_since(case, release)
        held = f"lapsed, changed since: {', '.join(changed)}" if changed else "holds"
        out.append(("Volumes released", f"by {release.who}, {release.at[:16]} UTC, digest {release.digest}: {held}"))
    for beam, weight, mu in zip(draft.beams, draft.weights, now.mu, strict=True):
        angles = f"gantry {beam.gantry_deg:g}°, collimator {beam.collimator_deg:g}°, couch {beam.couch_deg:g}°"
        named = beam.name if beam.name.casefold().startswith("beam") else f"Beam {beam.name}"
        shape = f"{_field(beam)}{_parts(beam)}{_devices(case, beam)}"
        out.append((named, f"{beam.machine}, {angles}, {shape}, weight {weight:g}, {mu:.1f} MU a fraction"))
    out += [(f"Couch from set-up point{name}", move) for name, move in _couch_moves(case, draft)]
    for region in case.volumes:
        dvh = now.dvhs.get(region.key)
        if dvh is None or region.role == "SUPPORT":
            continue
        doses = f"D98 {dvh.d_gy(98):.2f}, D50 {dvh.d_gy(50):.2f}, D2 {dvh.d_gy(2):.2f}, mean {dvh.mean_gy:.2f} Gy"
        out.append((region.name, f"{dvh.volume_cm3:.2f} cm³; {doses}"))
    for goal, value, state in now.goals:
        volume = case.volume(goal.volume_key)
        found = "-" if value is None else f"{value:.2f}"
        name = volume.name if volume else goal.waits_for or "?"
        out.append((f"Goal {name} {goal.metric} {goal.comparator} {goal.limit:g}", f"{found}: {state}"))
    return tuple(out)


def _field(beam: Beam) -> str:
    (x1, x2), (y1, y2) = beam.aperture.x_mm, beam.aperture.y_mm
    leaves = " with leaves" if beam.aperture.leaves_mm else ""
    place = ", ".join(f"{axis} {value:.1f}" for axis, value in zip("xyz", beam.isocentre_mm, strict=True))
    return f"jaws X {x1:.1f} to {x2:.1f}, Y {y1:.1f} to {y2:.1f} mm{leaves}, isocentre at {place} mm"


def _parts(beam: Beam) -> str:
    """Return what is given one after another: openings with their shares, or where an arc goes."""
    if not beam.points:
        return ""
    if beam.is_arc:
        way = "clockwise" if beam.rotation == "CW" else "anticlockwise"
        return f", arc {way} to gantry {beam.points[-1].gantry_deg:g}° with {len(beam.points)} control points"
    weights = [p.cumulative_weight for p in beam.points]
    shares = " / ".join(f"{100 * (b - a):.0f}" for a, b in pairwise(weights) if b > a)
    return f", {len(beam.apertures)} apertures with {shares} % of the MU; jaws of the first"


def _couch_moves(case: Case, draft: Draft) -> list[tuple[str, str]]:
    """Return (which beams, how the couch goes from the set-up point) for each isocentre; [] without a set-up point."""
    out: list[tuple[str, str]] = []
    places = tuple(dict.fromkeys(b.isocentre_mm for b in draft.beams))
    for place in places if draft.marker_mm else ():
        assert draft.marker_mm
        move = couch_move(draft.marker_mm, place, case.image.patient_position)
        names = " of " + ", ".join(b.name for b in draft.beams if b.isocentre_mm == place) if len(places) > 1 else ""
        start = ", ".join(f"{axis} {value:.1f}" for axis, value in zip("xyz", draft.marker_mm, strict=True))
        way = (
            f"vertical {move.vertical_mm:+.1f}, longitudinal {move.longitudinal_mm:+.1f}, lateral {move.lateral_mm:+.1f} mm"
        )
        out.append((names, f"{way} (IEC 61217, couch at 0°), from {start} mm"))
    return out


def _devices(case: Case, beam: Beam) -> str:
    toe = TOE_JAWS.get(beam.wedge_orientation_deg, f"{beam.wedge_orientation_deg:g}°")
    wedge = f", wedge {beam.wedge} toe to {toe}" if beam.wedge else ""
    laid = [v.name if (v := case.volume(key)) else "?" for key in beam.bolus]
    return wedge + (f", bolus {' and '.join(laid)}" if laid else "")


def make_statement(
    case: Case,
    draft: Draft,
    standing: Standing,
    now: PlanNow | None,
    findings: Sequence[Finding],
    pictures: Sequence[Picture],
    seen: Sequence[str],
    decision: str,
    reviewer: str,
    role: str,
    comment: str,
    signed_at: str,
) -> Statement:
    """Return the statement for a decision.

    Raises
    ------
    SealError
        If there is no current fine dose; or, for APPROVED, if findings stand open or a picture was not looked at.
    """
    if now is None or standing.state != "current" or now.basis.quality != "fine":
        raise SealError("there is no current fine dose to sign", draft.name, "Compute it, look at it, then sign.")
    if decision == "APPROVED":
        standing_open = open_findings(case, tuple(findings))
        if standing_open:
            raise SealError(
                say(
                    "{count} findings stand open, first: {evidence}",
                    count=len(standing_open),
                    evidence=as_words(standing_open[0].evidence),
                ),
                draft.name,
                "Mend them, or answer the warnings with a reason.",
            )
        unseen = [p.title for p in pictures if p.title not in seen]
        if unseen:
            raise SealError(
                say("{count} pictures were not looked at, first: {unseen}", count=len(unseen), unseen=unseen[0]),
                draft.name,
                "Open each of them.",
            )
    answers = {a.finding: f"{a.reason} ({a.who})" for a in case.answers}
    return Statement(
        case=case.fingerprint,
        draft=draft.fingerprint,
        draft_key=draft.key,
        draft_name=draft.name,
        requests=tuple(d.inputs for d in standing.doses),
        doses=tuple(d.fingerprint for d in standing.doses),
        numbers=numbers(case, draft, now),
        findings=tuple((f.key, f.evidence, answers.get(f.key, "")) for f in findings),
        pictures=tuple(p.fingerprint for p in pictures),
        seen=tuple(seen),
        decision=decision,
        reviewer=reviewer,
        role=role,
        comment=comment,
        signed_at=signed_at,
        program=__version__,
        physics_version=PHYSICS_VERSION,
    )
