"""``halfshade export --case FILE --out DIR``: RT DICOM out."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.common import add_json, answer, computed, draft_named, evaluated, progress
from engine.base.errors import InputError
from engine.base.progress import part
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("--case", required=True, metavar="FILE")
    parser.add_argument("--draft", metavar="NAME", help="which draft (the last)")
    parser.add_argument("--out", required=True, metavar="DIR")
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Export; only a plan that is still the sealed one leaves as APPROVED."""
    from engine.dicom.export import ExportCase, export_case
    from engine.review.cover import COVERS, stands
    from engine.review.record import verify_chain
    from engine.store.case_file import CaseFile

    report = progress()
    with CaseFile.open(Path(args.case), read_only=True) as file:
        case, results, records = file.case(), file.results(), file.records()
    draft = draft_named(case, args.draft)
    doses, _ = computed(case, draft, results, part(report, 0.0, 0.6))
    now = evaluated(case, draft, doses)
    if now.scale is None:
        raise InputError(now.reason, say("draft {draft}", draft=draft.name), "Change weights or prescription.")
    verify_chain(records)
    last = records[-1] if records else None
    seal = last.statement if last and stands(last, case, draft) == COVERS else None
    approved = seal is not None and seal.decision == "APPROVED"
    request = ExportCase(
        case, draft.key, now.dose(), now.mu, args.out, approved,
        seal.reviewer if seal and approved else "", seal.signed_at if seal and approved else "",
    )  # fmt: skip
    paths = export_case(request, part(report, 0.6, 1.0))
    status = "APPROVED" if approved else "UNAPPROVED"
    answer(
        args,
        {"paths": list(paths), "approval": status},
        [say("Wrote {p}.", p=p) for p in paths] + [say("The plan leaves as {status}.", status=status)],
    )
    return 0
