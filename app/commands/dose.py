"""``halfshade dose``: dose of a case's draft, or of an RT Plan on a CT."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import Any

from app.commands.common import add_json, answer, computed, draft_named, evaluated, opened_ct, progress
from engine.base.errors import InputError
from engine.base.progress import Report, part
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    source = parser.add_mutually_exclusive_group(required=True)
    source.add_argument("--case", metavar="FILE", help="a case file")
    source.add_argument("--ct", metavar="DIR", help="folder with the planning CT, with --plan")
    parser.add_argument("--draft", metavar="NAME", help="which draft of the case (the last)")
    parser.add_argument("--plan", metavar="RP.dcm", help="RT Plan with static photon beams and monitor units")
    parser.add_argument(
        "--structures", metavar="RS.dcm", help="RT Structure Set: body outline, supports, density overrides"
    )
    parser.add_argument("--out", required=True, metavar="RD.dcm", help="RT Dose to write, Gy over all fractions")
    parser.add_argument("--machine", metavar="NAME", help="machine file by name or path (the plan's own machine name)")
    parser.add_argument(
        "--grid-mm", type=float, metavar="N", help="spacing of the dose grid, 1 to 10 (2.5; finer for fields below 20 mm)"
    )
    parser.add_argument("--method", default="collapsed-cone", choices=["collapsed-cone"], help="dose method")
    parser.add_argument("--report-to", choices=["medium", "water"], help="dose to medium or dose to water (medium)")
    parser.add_argument("--threads", type=int, metavar="N", help="processor cores to use (all)")
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Compute and write the dose."""
    if args.ct and not args.plan:
        raise InputError("--ct needs --plan", do="Name the RT Plan.")
    # What would be left unread in silence is refused: the dose would be of another plan than was meant.
    unread = ("plan", "structures") if args.case else ("draft",)
    for name in unread:
        if getattr(args, name) is not None:
            source = "--case" if args.case else "--ct"
            raise InputError(
                say("{option} has no meaning with {source}", option=f"--{name}", source=source), do="Leave it out."
            )
    if args.grid_mm is not None and not 1.0 <= args.grid_mm <= 10.0:
        raise InputError(say("a grid of {grid_mm} mm is not between 1 and 10 mm", grid_mm=args.grid_mm), "--grid-mm")
    if args.threads is not None:
        if not 1 <= args.threads <= 256:
            raise InputError(say("{threads} threads are not between 1 and 256", threads=args.threads), "--threads")
        os.environ["NUMBA_NUM_THREADS"] = str(args.threads)
    out = Path(args.out)
    if not out.parent.is_dir():
        raise InputError("the folder does not exist", str(out.parent), "Make it first, or choose another.")
    report = progress()
    case, draft, factors, plan_uid, notes = (_from_case if args.case else _from_plan)(args, part(report, 0.0, 0.3))
    changes = {"dose_spacing_mm": args.grid_mm, "report_to": args.report_to}
    draft = draft.but(**{k: v for k, v in changes.items() if v is not None})
    notes = [*notes, *_beyond_curve(case), *_misfits(case, draft), *_beyond_grid(case, draft)]
    doses, _ = computed(case, draft, {}, part(report, 0.3, 0.9))
    from engine.dicom.common import save_file
    from engine.dicom.dose import dose_dataset
    from engine.dicom.plan_file import plan_uid as uid_of_plan
    from engine.dose.dose import weighted_sum

    if factors is None:
        now = evaluated(case, draft, doses)
        if now.scale is None:
            raise InputError(now.reason, say("draft {draft}", draft=draft.name), "Change weights or prescription.")
        factors, plan_uid = now.factors, uid_of_plan(case, draft, now.mu, None)
    total = weighted_sum(doses, factors)
    if not float(total.gy.max()) > 0:
        raise InputError(
            "no beam gives dose anywhere in the body",
            say("draft {draft}", draft=draft.name),
            "Check isocentre, field and MU.",
        )
    temporary = out.with_name(f".{out.name}.part")
    save_file(dose_dataset(case, total, plan_uid, report_to=draft.report_to), temporary)
    os.replace(temporary, out)
    report(1.0, "")
    grid = total.grid
    k, r, c = (int(i) for i in highest_voxel(total))
    place = [round(float(v), 2) for v in grid.point((k, r, c))]
    data = {
        "out": str(out),
        "beams": [{"name": b.name, "machine": b.machine, "mu_total": f} for b, f in zip(draft.beams, factors, strict=True)],
        "grid": {"origin_mm": grid.origin_mm, "spacing_mm": grid.spacing_mm, "shape": grid.shape},
        "report_to": draft.report_to,
        "max_gy": float(total.gy.max()),
        "max_at_mm": place,
        "notes": notes,
    }
    words = say(
        "Wrote {out}: {beams} beams, highest dose {gy:.3f} Gy at x {x:g}, y {y:g}, z {z:g} mm, to {report_to}.",
        out=out,
        beams=len(draft.beams),
        gy=data["max_gy"],
        **dict(zip("xyz", place, strict=True)),
        report_to=draft.report_to,
    )
    answer(args, data, [*notes, words])
    return 0


def _beyond_curve(case: Any) -> list[str]:
    top, end = int(case.image.hu.max()), case.curve.hu[-1]
    if top <= end:
        return []
    return [
        say(
            "CT numbers reach {top} HU, the density curve ends at {end:g} HU: its last density holds beyond (metal?).",
            top=top,
            end=end,
        )
    ]


def _misfits(case: Any, draft: Any) -> list[str]:
    """Return what beams ask that their machine cannot do; refuse, by the beam's name, what no dose would make sense for."""
    from engine.beams.limits import misfits, refuse_nonsense

    notes = []
    for beam in draft.beams:
        machine = case.machine(beam.machine)
        refuse_nonsense(beam, machine)
        notes += [say("Beam {beam}: {misfit}.", beam=beam.name, misfit=m.words) for m in misfits(beam, machine)]
    return notes


def _beyond_grid(case: Any, draft: Any) -> list[str]:
    """Return where beams irradiate the body beyond the grid dose is computed on."""
    from engine.case.requests import Standing
    from engine.review.checks_grid import dose_grid_holds_beams
    from engine.review.finding import Facts

    return [found.evidence for found in dose_grid_holds_beams(Facts(case, draft, Standing("none"), None))]


def highest_voxel(dose: Any) -> tuple[int, int, int]:
    """Return (plane, row, column) of the highest voxel."""
    flat = int(dose.gy.argmax())
    _, rows, columns = dose.gy.shape
    return flat // (rows * columns), flat // columns % rows, flat % columns


def _from_case(args: argparse.Namespace, report: Report) -> tuple[Any, Any, Any, str, list[str]]:
    from engine.beams.machine_file import load_machine
    from engine.case import edits
    from engine.store.case_file import CaseFile

    with CaseFile.open(Path(args.case), read_only=True) as file:
        case = file.case()
    draft = draft_named(case, args.draft)
    if args.machine:
        machine = load_machine(args.machine)
        case = edits.with_machine(case, machine)
        draft = draft.but(beams=tuple(b.but(machine=machine.name) for b in draft.beams))
    return edits.with_draft(case, draft), draft, None, "", []


def _from_plan(args: argparse.Namespace, report: Report) -> tuple[Any, Any, Any, str, list[str]]:
    from engine.beams.machine_file import load_machine
    from engine.case import edits
    from engine.case.case import Case, Draft
    from engine.case.dose_spacing import fitting_spacing_mm
    from engine.dicom.beam_devices import with_boluses, with_wedge_of
    from engine.dicom.plan import read_plan
    from engine.dicom.structures import ReadStructures, read_structures
    from engine.volumes.outer import matter_box
    from engine.volumes.volume import Volume, new_key

    plan = read_plan(args.plan)
    opened = opened_ct(args.ct, part(report, 0.0, 0.6), plan.frame_of_reference_uid)
    if plan.frame_of_reference_uid and opened.image.frame_of_reference_uid != plan.frame_of_reference_uid:
        raise InputError("plan and CT have different frames of reference", args.plan, "Choose the CT the plan was made on.")
    image, notes = opened.image, [*opened.notes, *plan.notes]
    if plan.patient_position and plan.patient_position != image.patient_position:
        notes.append(
            say(
                "The CT was taken {patient_position}, the plan is for {wanted}; the plan's position counts.",
                patient_position=image.patient_position,
                wanted=plan.patient_position,
            )
        )
        image = image.but(patient_position=plan.patient_position)
    case, beams = Case(opened.patient, image), plan.beams
    if args.structures:
        found = read_structures(ReadStructures(args.structures, image), part(report, 0.6, 0.8))
        notes += found.notes
        case = case.but(volumes=found.volumes)
        beams = with_boluses(beams, plan.bolus_rois, found.volumes, found.numbers)
    elif any(plan.bolus_rois):
        raise InputError("the plan lays boluses on the patient", args.plan, "Give its structure set with --structures.")
    if case.body is None or case.body.coverage.is_empty:
        notes.append(say("No body outline was given: all that the CT shows counts as it is, a couch too."))
    # A bolus is laid into what no outline claims, so there is none around it.
    if (case.body is None or case.body.coverage.is_empty) and not any(b.bolus for b in beams):
        whole = Volume(new_key(), "Body", "EXTERNAL", edits.next_colour(case), matter_box(image))
        case = edits.with_volume(case, whole)
    for name in sorted({b.machine for b in beams}):
        if not (args.machine or name):
            raise InputError("the plan names no machine", args.plan, "Name one with --machine.")
        machine = load_machine(args.machine or name)
        case = edits.with_machine(case, machine)
        beams = tuple(b.but(machine=machine.name) if b.machine == name else b for b in beams)
    found_wedges = [with_wedge_of(b, w, case.machine(b.machine)) for b, w in zip(beams, plan.wedges, strict=True)]
    beams = tuple(b for b, _ in found_wedges)
    notes += [note for _, note in found_wedges if note]
    draft = Draft(new_key(), plan.label or "Plan", beams=beams, weights=(1.0,) * len(beams), normalisation="None")
    spacing = fitting_spacing_mm(case, beams)
    if args.grid_mm is None and spacing < draft.dose_spacing_mm:
        notes.append(say("The dose grid is {spacing:g} mm fine because a field is that narrow.", spacing=spacing))
        draft = draft.but(dose_spacing_mm=spacing)
    case = edits.with_draft(case, draft)
    notes += _differences(plan, beams, case)
    return case, draft, plan.factors, plan.sop_uid, notes


def _differences(plan: Any, beams: tuple[Any, ...], case: Any) -> list[str]:
    """Return where the machine that computes is another than the plan asks for."""
    notes = {}
    for beam, mv, sad_mm, flattened in zip(beams, plan.nominal_mv, plan.sad_mm, plan.flattened, strict=True):
        machine = case.machine(beam.machine)
        if mv and mv != machine.nominal_mv:
            notes[
                say(
                    "The plan asks for {mv:g} MV; {machine} gives {nominal_mv:g} MV.",
                    mv=mv,
                    machine=machine.name,
                    nominal_mv=machine.nominal_mv,
                )
            ] = None
        if flattened != machine.flattened:
            asked = say("a flattened beam") if flattened else say("a beam without flattening filter")
            notes[say("The plan asks for {asked}; {machine} gives {energy}.", asked=asked, machine=machine.name,
                      energy=machine.energy)] = None  # fmt: skip
        if sad_mm and abs(sad_mm - machine.sad_mm) > 0.5:
            notes[
                say(
                    "The plan's source-axis distance is {sad_mm:g} mm, that of {machine} {own_mm:g} mm.",
                    sad_mm=sad_mm,
                    machine=machine.name,
                    own_mm=machine.sad_mm,
                )
            ] = None
    return list(notes)
