"""``halfshade check --case FILE``: the findings of a case."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.common import add_json, answer, computed, draft_named, evaluated, progress
from engine.base.words import as_words, say

SEVERITY = {"stop": say("stop"), "warn": say("warn"), "note": say("note")}


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("--case", required=True, metavar="FILE")
    parser.add_argument("--draft", metavar="NAME", help="which draft (the last)")
    parser.add_argument("--compute", action="store_true", help="compute a missing dose first instead of reporting it")
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Check and print; exit code 0 whatever was found, for the findings are the result."""
    from engine.case.case import Draft
    from engine.case.requests import standing
    from engine.review.checks import check, open_findings
    from engine.store.case_file import CaseFile

    with CaseFile.open(Path(args.case), read_only=True) as file:
        case, results = file.case(), file.results()
    draft = draft_named(case, args.draft) if case.drafts or args.draft else Draft("none", "no draft")
    if args.compute and draft.beams:
        computed(case, draft, results, progress())
    stands = standing(case, draft, results)
    now = evaluated(case, draft, stands.doses) if stands.doses else None
    findings = check(case, draft, stands, now)
    still = {f.key for f in open_findings(case, findings)}
    data = {
        "case": args.case,
        "draft": draft.name,
        "dose": stands.state,
        "findings": [
            {
                "code": f.code,
                "severity": f.severity,
                "rule": f.rule,
                "evidence": f.evidence,
                "place": f.place,
                "volume": v.name if (v := case.volume(f.volume_key)) else "",
                "point_mm": f.point_mm,
                "open": f.key in still,
            }
            for f in findings
        ],
    }
    sentences = [
        say("{severity:5} {evidence}", severity=SEVERITY[f.severity], evidence=as_words(f.evidence)) for f in findings
    ]
    answer(
        args,
        data,
        [
            *sentences,
            say(
                "{findings} findings, {still} open; dose: {state}.",
                findings=len(findings),
                still=len(still),
                state=stands.state,
            ),
        ],
    )
    return 0
