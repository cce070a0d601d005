"""What every command shares: progress, JSON, whole files only, and the dose of a draft."""

from __future__ import annotations

import argparse
import json
import os
import sys
from pathlib import Path
from typing import Any

from app.core.language import translated
from engine import compute
from engine.base.errors import InputError, StoreError
from engine.base.progress import Report, part, quiet
from engine.base.values import Fingerprint, Value
from engine.base.words import say
from engine.case.case import Case, Draft
from engine.case.requests import Standing, dose_requests, standing
from engine.dose.dose import Dose


def add_json(parser: argparse.ArgumentParser) -> None:
    """Add ``--json``."""
    parser.add_argument(
        "--json", metavar="FILE", help="write the result as JSON; - is standard output, then nothing else is"
    )


def progress() -> Report:
    """Return a report that draws on standard error when it is a terminal."""
    if not sys.stderr.isatty():
        return quiet

    def report(fraction: float, words: str = "") -> None:
        end = "\n" if fraction >= 1.0 else ""
        print(f"\r\x1b[K{100 * fraction:3.0f} %  {translated(words)[:70]}", end=end, file=sys.stderr, flush=True)

    return report


def answer(args: argparse.Namespace, data: dict[str, Any], sentences: list[str]) -> None:
    """Print the sentences and write the JSON, or with ``--json -`` only the JSON."""
    text = json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    if args.json == "-":
        sys.stdout.write(text)
        return
    if args.json:
        write_whole(Path(args.json), text.encode())
    for sentence in sentences:
        print(translated(sentence))


def write_whole(path: Path, data: bytes) -> None:
    """Write a file completely or not at all."""
    temporary = path.with_name(f".{path.name}.part")
    try:
        temporary.write_bytes(data)
        os.replace(temporary, path)
    except OSError as error:
        temporary.unlink(missing_ok=True)
        raise StoreError(
            say("it cannot be written ({strerror})", strerror=error.strerror or str(error)),
            str(path),
            "Check the folder and the space.",
        ) from error


def draft_named(case: Case, name: str | None) -> Draft:
    """Return a draft by name, or the last one."""
    if not case.drafts:
        raise InputError("the case holds no draft", do="Add beams first.")
    if name is None:
        return case.drafts[-1]
    found = next((d for d in case.drafts if d.name == name), None)
    if found is None:
        names = ", ".join(repr(d.name) for d in case.drafts)
        raise InputError(say("there is no draft {name!r}", name=name), do=say("Use one of {names}.", names=names))
    return found


def computed(
    case: Case, draft: Draft, results: dict[Fingerprint, Value], report: Report = quiet
) -> tuple[tuple[Dose, ...], Standing]:
    """Return the fine dose of every beam, computing those that are not among `results` (and adding them)."""
    requests = dose_requests(case, draft, "fine")
    if not requests:
        raise InputError("it has no beam", say("draft {draft}", draft=draft.name), "Add a beam first.")
    for i, request in enumerate(requests):
        if request.fingerprint not in results:
            inner = part(report, i / len(requests), (i + 1) / len(requests))
            results[request.fingerprint] = compute.run(request, inner)
    stands = standing(case, draft, results)
    return stands.doses, stands


def evaluated(case: Case, draft: Draft, doses: tuple[Dose, ...], report: Report = quiet) -> Any:
    """Return the plan at the draft's weights (a PlanNow)."""
    from engine.evaluation.live import LiveRequest, prepare

    basis = prepare(LiveRequest(doses, case.volumes), report)
    point = draft.beams[0].isocentre_mm if draft.beams else None
    return basis.evaluate(draft.weights, draft.normalisation, draft.prescription, point, draft.goals)


def opened_ct(folder: str, report: Report, frame_uid: str = "", series_uid: str = "") -> Any:
    """Open the CT of a folder: the one series that can be used, or the one in the wanted frame of reference."""
    from engine.dicom.read_ct import FindSeries, OpenSeries, find_series, open_series

    found = find_series(FindSeries(str(folder)), part(report, 0.0, 0.3))
    usable = [s for s in found.series if s.usable]
    if not series_uid and len(usable) > 1 and frame_uid:
        matching = [s for s in usable if s.frame_of_reference_uid == frame_uid]
        series_uid = matching[0].uid if len(matching) == 1 else ""
    return open_series(OpenSeries(str(folder), series_uid), part(report, 0.3, 1.0))
