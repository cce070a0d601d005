"""``halfshade machine check FILE.toml``: what is wrong or unusual in a machine file."""

from __future__ import annotations

import argparse

from app.commands.common import answer


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
    lines = [f"Problem: {p}" for p in found.problems] + [f"Unusual: {w}" for w in found.warnings]
    on = [str(k) for k, v in found.parts if v]
    off = [str(k) for k, v in found.parts if not v]
    if not found.problems:
        lines.append(
            f"Modelled: {', '.join(on) or 'nothing but an ideal source'}. Left out: {', '.join(off) or 'nothing'}."
        )
    verdict = "refused" if found.problems else "accepted"
    count = f"problems: {len(found.problems)}, unusual values: {len(found.warnings)}"
    answer(args, data, [*lines, f"{args.machine} is {verdict} ({count})."])
    return 1 if found.problems else 0
