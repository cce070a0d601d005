"""``halfshade seal verify FILE``: the chain of records of a case."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.commands.common import add_json, answer
from app.core.caution import caution
from app.core.language import translated
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    sub = parser.add_subparsers(dest="what", metavar="verify", required=True)
    words = translated(say("is the chain intact, and is the present plan the sealed one"))
    verify = sub.add_parser("verify", help=words, description=f"{words[0].upper()}{words[1:]}. {caution()}")
    verify.add_argument("case", metavar="FILE")
    add_json(verify)


def run(args: argparse.Namespace) -> int:
    """Verify; exit code 1 when the chain is broken, or there is nothing sealed."""
    from engine.base.errors import SealError, StoreError
    from engine.review.cover import COVERS, DOSE_CHANGED, stands
    from engine.review.record import verify_chain
    from engine.store.case_file import CaseFile

    intact, reason = True, ""
    with CaseFile.open(Path(args.case), read_only=True) as file:
        case = file.case()
        try:
            records = file.records()
            verify_chain(records)
            for record in records:
                for picture in record.statement.pictures:
                    file.value(picture)
        except (SealError, StoreError) as error:
            records, intact, reason = (), False, error
    rows = []
    for record in records:
        s = record.statement
        stand = stands(record, case)
        rows.append({"decision": s.decision, "reviewer": s.reviewer, "role": s.role, "signed_at": s.signed_at,
                     "draft": s.draft_name, "record": record.fingerprint, "covers_present_plan": stand == COVERS,
                     "stands": stand})  # fmt: skip
    data = {
        "case": args.case,
        "intact": intact,
        "reason": str(reason),
        "records": rows,
        "present_plan_is_sealed": bool(rows) and bool(rows[-1]["covers_present_plan"]),
    }
    if not intact:
        answer(args, data, [say("The chain of records is broken: {reason}", reason=reason)])
        return 1
    if not rows:
        answer(args, data, [say("This case holds no record.")])
        return 1
    words = [say("{signed_at}  {decision} by {reviewer}, {role} ({draft})", **r) for r in rows]
    last = (
        say("The present plan is the sealed one.")
        if data["present_plan_is_sealed"]
        else say("The dose calculation was changed since it was sealed.")
        if rows[-1]["stands"] == DOSE_CHANGED
        else say("The plan was changed since it was sealed.")
    )
    answer(args, data, [*words, say("The chain is intact (records: {records}). {last}", records=len(rows), last=last)])
    return 0
