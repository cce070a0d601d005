"""``halfshade machine check FILE.toml``: what is wrong or unusual in a machine file."""

from __future__ import annotations

import argparse

from app.commands.common import answer
from engine.base.words import listed, say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("machine", metavar="FILE.toml", help="a machine file, or the name of a machine that comes along")


def run(args: argparse.Namespace) -> int:
    """Check and print every problem and warning; exit code 1 when the file is refused."""
    from engine.commission.machine_check import check_machine

    found = check_machine(args.machine)
    data = {
        "file": args.machine,
        "accepted": not found.problems,
        "problems": [str(p) for p in found.problems],
        "warnings": [str(w) for w in found.warnings],
        "parts": {str(k): bool(v) for k, v in found.parts},
    }
    lines = [say("Problem: {problem}", problem=p) for p in found.problems]
    lines += [say("Unusual: {warning}", warning=w) for w in found.warnings]
    on = listed(k for k, v in found.parts if v) or say("nothing but an ideal source")
    off = listed(k for k, v in found.parts if not v) or say("nothing")
    if not found.problems:
        lines.append(say("Modelled: {on}. Left out: {off}.", on=on, off=off))
    problems, unusual = len(found.problems), len(found.warnings)
    verdict = (
        say(
            "{file} is refused (problems: {problems}, unusual values: {unusual}).",
            file=args.machine,
            problems=problems,
            unusual=unusual,
        )
        if found.problems
        else say(
            "{file} is accepted (problems: {problems}, unusual values: {unusual}).",
            file=args.machine,
            problems=problems,
            unusual=unusual,
        )
    )
    answer(args, data, [*lines, verdict])
    return 1 if found.problems else 0
