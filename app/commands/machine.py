"""``halfshade machine show / check / fit``: the beam data of a machine, its file, and a model fitted to measurements."""

from __future__ import annotations

import argparse
from importlib import import_module

from app.commands.common import add_json
from app.core.caution import PLAIN

CHOICES = {
    "show": ("app.commands.machine_show", "beam data of a machine computed in water, as tables and plots"),
    "check": ("app.commands.machine_check", "is a machine file right, and is anything in it unusual"),
    "fit": ("app.commands.machine_fit", "fit a beam model to measured depth doses, profiles and output factors"),
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the choices and their options."""
    sub = parser.add_subparsers(dest="what", metavar="show, check or fit", required=True)
    for name, (module, words) in CHOICES.items():
        one = import_module(module)
        choice = sub.add_parser(
            name,
            help=words,
            description=f"{words[0].upper()}{words[1:]}. {PLAIN}",
            epilog=getattr(one, "EPILOG", None),
            formatter_class=argparse.RawDescriptionHelpFormatter if hasattr(one, "EPILOG") else argparse.HelpFormatter,
        )
        one.arguments(choice)
        add_json(choice)


def run(args: argparse.Namespace) -> int:
    """Run the chosen one."""
    return int(import_module(CHOICES[args.what][0]).run(args))
