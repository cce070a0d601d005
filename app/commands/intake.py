"""``halfshade intake FOLDER --case FILE``: DICOM CT into a new case."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.common import add_json, answer, progress
from engine.base.progress import part
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("folder", help="folder with the CT, in sub-folders or mixed with other files")
    parser.add_argument("--case", required=True, metavar="FILE", help="the new case file")
    parser.add_argument("--series", default="", metavar="UID", help="which series, when there are several")
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """List what is there, open the CT, find the body and write the case."""
    from engine.case import edits
    from engine.case.case import Case
    from engine.dicom.read_ct import FindSeries, OpenSeries, find_series, open_series
    from engine.store.case_file import CaseFile
    from engine.volumes.outer import FindBody, find_body
    from engine.volumes.volume import Volume, new_key

    report = progress()
    found = find_series(FindSeries(args.folder), part(report, 0.0, 0.2))
    data = {
        "folder": args.folder,
        "series": [
            {
                "uid": s.uid,
                "modality": s.modality,
                "description": s.description,
                "patient_name": s.patient_name,
                "patient_id": s.patient_id,
                "files": s.files,
                "accepted": s.usable,
                "reason": s.problem,
                "note": s.note,
            }
            for s in found.series
        ],
        "other_files": found.other_files,
        "damaged": list(found.damaged),
    }
    opened = open_series(OpenSeries(args.folder, args.series), part(report, 0.2, 0.6))
    case = Case(opened.patient, opened.image)
    body = find_body(FindBody(opened.image), part(report, 0.6, 0.9))
    case = edits.with_volume(case, Volume(new_key(), "Body", "EXTERNAL", edits.next_colour(case), body, note="found"))
    with CaseFile.create(Path(args.case), case, "intake") as file:
        path = file.path
    report(1.0, "")
    planes, rows, columns = opened.image.grid.shape
    data |= {"case": str(path), "opened": opened.image.series_uid, "notes": list(opened.notes)}
    refused = [
        say(
            "{description} ({modality}): {problem}",
            description=s.description or s.uid,
            modality=s.modality,
            problem=s.problem,
        )
        for s in found.series
        if not s.usable
    ]
    answer(
        args,
        data,
        [
            say(
                "Opened {description}: {planes} slices of {rows} × {columns} pixels.",
                description=opened.image.description or opened.image.series_uid,
                planes=planes,
                rows=rows,
                columns=columns,
            ),
            *opened.notes,
            *refused,
            say("Wrote {path} with the body outline ({volume_cm3:.0f} cm³).", path=path, volume_cm3=body.volume_cm3),
        ],
    )
    return 0
