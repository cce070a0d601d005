"""``halfshade evaluate``: doses and volumes of an RT Dose on an RT Structure Set."""

from __future__ import annotations

import argparse

from app.commands.common import add_json, answer, opened_ct, progress
from engine.base.errors import InputError
from engine.base.progress import part
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("--dose", required=True, metavar="RD.dcm")
    parser.add_argument("--structures", required=True, metavar="RS.dcm")
    parser.add_argument(
        "--ct", metavar="DIR", help="the CT the volumes were painted on (else its planes are taken from them)"
    )
    parser.add_argument("--prescription-gy", type=float, metavar="GY", help="for metrics and indices in percent")
    parser.add_argument("--metric", action="append", default=[], metavar="VOLUME:METRIC", help='e.g. "Lung_L:V20Gy[%%]"')
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Evaluate and print a line a volume."""
    from engine.case.case import Prescription
    from engine.dicom.dose import read_dose_file
    from engine.dicom.structures import ReadStructures, read_structures
    from engine.evaluation.evaluation import report as report_of

    for text in args.metric:
        if ":" not in text:
            raise InputError(say("{text!r} is not VOLUME:METRIC", text=text), "--metric", 'For example "Lung_L:V20Gy[%]".')
    show = progress()
    file = read_dose_file(args.dose)
    image = opened_ct(args.ct, part(show, 0.0, 0.5)).image if args.ct else None
    found = read_structures(ReadStructures(args.structures, image), part(show, 0.5, 0.8))
    wanted = Prescription(args.prescription_gy, 1, "") if args.prescription_gy is not None else None
    data = report_of(file.dose, found.volumes, args.metric, wanted, part(show, 0.8, 1.0))
    show(1.0, "")
    data["dose_is"] = file.words
    lines = [
        say("{name}: {volume_cm3:.2f} cm³", name=name, volume_cm3=row["volume_cm3"])
        if row["mean_gy"] is None
        else say(
            "{name}: {volume_cm3:.2f} cm³, mean {gy:.2f} Gy", name=name, volume_cm3=row["volume_cm3"], gy=row["mean_gy"]
        )
        for name, row in data["volumes"].items()
    ]
    warning = [] if file.is_total else [say("Note: this file holds the {words}.", words=file.words)]
    answer(args, data, [*warning, *found.notes, *lines])
    return 0
