"""``halfshade evaluate``: doses and volumes of an RT Dose on an RT Structure Set."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from app.commands.common import add_json, answer, opened_ct, progress
from engine.base.errors import InputError
from engine.base.progress import part
from engine.base.words import Words, listed, say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("--dose", required=True, metavar="RD.dcm")
    parser.add_argument("--structures", required=True, metavar="RS.dcm")
    parser.add_argument(
        "--ct", metavar="DIR", help="the CT the volumes were painted on (else its planes are taken from them)"
    )
    parser.add_argument("--prescription-gy", type=float, metavar="GY", help="for metrics and indices in percent")
    parser.add_argument("--metric", action="append", default=[], metavar="VOLUME:METRIC", help='e.g. "Lung_L:V20Gy[%%]"')
    parser.add_argument("--goals", metavar="FILE.toml", help="a set of goals to be judged, as the goal ledger saves it")
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Evaluate and print a line a volume."""
    from engine.case.case import Prescription
    from engine.dicom.dose import read_dose_file
    from engine.dicom.structures import ReadStructures, read_structures
    from engine.evaluation.evaluation import report as report_of
    from engine.evaluation.goal_file import goals_for, load_goals

    for text in args.metric:
        if ":" not in text:
            raise InputError(say("{text!r} is not VOLUME:METRIC", text=text), "--metric", 'For example "Lung_L:V20Gy[%]".')
    demands = load_goals(Path(args.goals)) if args.goals else None
    show = progress()
    file = read_dose_file(args.dose)
    image = opened_ct(args.ct, part(show, 0.0, 0.5)).image if args.ct else None
    found = read_structures(ReadStructures(args.structures, image), part(show, 0.5, 0.8))
    wanted = Prescription(args.prescription_gy, 1, "") if args.prescription_gy is not None else None
    goals = goals_for(demands, found.volumes) if demands else ()
    data = report_of(file.dose, found.volumes, args.metric, wanted, part(show, 0.8, 1.0), goals)
    show(1.0, "")
    data["dose_is"] = file.words
    lines = [line for name, row in data["volumes"].items() for line in _lines(name, row)]
    lines += [_judged(goal) for goal in data.get("goals", ())]
    warning = [] if file.is_total else [say("Note: this file holds the {words}.", words=file.words)]
    answer(args, data, [*warning, *found.notes, *lines])
    return 0


def _judged(goal: dict[str, Any]) -> Words:
    """Return what is told of a goal: demand, what is reached, how that is judged."""
    demand = say(
        "{volume} {metric} {sign} {limit:g}",
        volume=goal["volume"],
        metric=goal["metric"],
        sign="≤" if goal["comparator"] == "<=" else "≥",
        limit=goal["limit"],
    )
    if goal["value"] is None:
        said = [goal["state"], goal["note"]] if goal["note"] else [goal["state"]]
        return say("{demand}: {said}", demand=demand, said=listed(said))
    return say("{demand}: {value:.2f}, {state}", demand=demand, value=goal["value"], state=goal["state"])


def _lines(name: str, row: dict[str, Any]) -> list[Words]:
    """Return what is told of a volume: its size and mean dose, what was asked of it, and what limits the numbers."""
    told: list[Words] = [say("{volume_cm3:.2f} cm³", volume_cm3=row["volume_cm3"])]
    if row["mean_gy"] is not None:
        told.append(say("mean {gy:.2f} Gy", gy=row["mean_gy"]))
    for metric, value in row["metrics"].items():
        told.append(
            say("{metric} cannot be told", metric=metric)
            if value is None
            else say("{metric} = {value:.2f}", metric=metric, value=value)
        )
    lines = [say("{name}: {told}", name=name, told=listed(told))]
    return [*lines, say("{name}: {note}.", name=name, note=row["note"])] if row["note"] else lines
