"""``halfshade compare``: gamma and differences of two doses."""

from __future__ import annotations

import argparse
from typing import Any

from app.commands.common import add_json, answer, progress
from engine.base.progress import part
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("--reference", required=True, metavar="RD.dcm", help="the dose that is taken as true")
    parser.add_argument("--evaluated", required=True, metavar="RD.dcm", help="the dose that is judged; interpolated")
    parser.add_argument("--dose-percent", type=float, default=2.0, metavar="P", help="dose criterion (2 %%)")
    parser.add_argument("--distance-mm", type=float, default=2.0, metavar="D", help="distance criterion (2 mm)")
    parser.add_argument(
        "--threshold-percent",
        type=float,
        default=10.0,
        metavar="P",
        help="judge from this share of the highest dose (10 %%)",
    )
    parser.add_argument(
        "--local", action="store_true", help="dose criterion of each voxel's own dose instead of the highest dose"
    )
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Compare and print; exit code 0 whatever was found, for the numbers are the result."""
    from engine.dicom.dose import read_dose_file
    from engine.evaluation.gamma import CEILING, compare

    report = progress()
    report(0.0, "reading doses")
    reference, evaluated = read_dose_file(args.reference), read_dose_file(args.evaluated)
    criteria = (args.dose_percent, args.distance_mm, args.threshold_percent, args.local)
    found = compare(reference.dose, evaluated.dose, *criteria, part(report, 0.1, 1.0))
    highest = float(reference.dose.gy.max())
    notes = _notes(reference, evaluated, found, args.distance_mm)
    data = {
        "reference": args.reference,
        "evaluated": args.evaluated,
        "criteria": {
            "dose_percent": args.dose_percent,
            "distance_mm": args.distance_mm,
            "threshold_percent": args.threshold_percent,
            "dose_of": "each voxel" if args.local else "highest reference dose",
        },
        "pass_percent": found.pass_percent,
        "gamma_mean": found.gamma_mean,
        "gamma_ceiling": CEILING,
        "judged": found.judged,
        "outside": found.outside,
        "near_edge": found.near_edge,
        "max_difference_gy": found.max_difference_gy,
        "max_difference_percent": 100 * found.max_difference_gy / highest,
        "max_difference_at_mm": [round(v, 3) for v in found.max_difference_at_mm],
        "mean_difference_gy": found.mean_difference_gy,
        "reference_max_gy": highest,
        "evaluated_max_gy": float(evaluated.dose.gy.max()),
        "reference_grid": _grid(reference.dose.grid),
        "evaluated_grid": _grid(evaluated.dose.grid),
        "notes": notes,
    }
    answer(args, data, [*_sentences(data), *notes])
    return 0


def _grid(grid: Any) -> dict[str, Any]:
    return {"origin_mm": grid.origin_mm, "spacing_mm": grid.spacing_mm, "shape": grid.shape}


def _sentences(data: dict[str, Any]) -> list[str]:
    c = data["criteria"]
    kind = say("local") if c["dose_of"] == "each voxel" else say("global")
    return [
        say(
            "Gamma {dose_percent:g} % {kind} / {distance_mm:g} mm, from {threshold_percent:g} % of "
            "{reference_max_gy:.3f} Gy: {pass_percent:.2f} % of {judged} voxels pass, mean gamma {gamma_mean:.3f} "
            "(each counted as at most {gamma_ceiling:g}).",
            kind=kind,
            **{k: c[k] for k in ("dose_percent", "distance_mm", "threshold_percent")},
            **{k: data[k] for k in ("reference_max_gy", "pass_percent", "judged", "gamma_mean", "gamma_ceiling")},
        ),
        say(
            "Evaluated minus reference: {max_difference_gy:+.3f} Gy ({max_difference_percent:+.2f} % of the highest dose) "
            "at most, at x {x:g}, y {y:g}, z {z:g} mm; {mean_difference_gy:+.4f} Gy on average.",
            **dict(zip("xyz", data["max_difference_at_mm"], strict=True)),
            **{k: data[k] for k in ("max_difference_gy", "max_difference_percent", "mean_difference_gy")},
        ),
    ]


def _notes(reference: Any, evaluated: Any, found: Any, distance_mm: float) -> list[str]:
    notes = []
    if found.outside:
        notes.append(
            say(
                "{voxels} voxels above the threshold lie outside the evaluated grid and were not judged.",
                voxels=found.outside,
            )
        )
    if found.near_edge:
        notes.append(
            say(
                "{voxels} judged voxels lie within {distance_mm:g} mm of the evaluated grid's border; their gamma can only "
                "come out too high.",
                voxels=found.near_edge,
                distance_mm=distance_mm,
            )
        )
    if reference.frame_of_reference_uid != evaluated.frame_of_reference_uid:
        notes.append(say("The doses name different frames of reference; they were compared at equal coordinates."))
    if reference.words != evaluated.words:
        notes.append(
            say("The reference is the {one}, the evaluated the {other}.", one=reference.words, other=evaluated.words)
        )
    if reference.patient.patient_id != evaluated.patient.patient_id:
        one, other = reference.patient.patient_id, evaluated.patient.patient_id
        notes.append(say("The doses name different patients: {one!r} and {other!r}.", one=one, other=other))
    return notes
