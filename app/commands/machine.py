"""``halfshade machine show / check / fit``: the beam data of a machine, its file, and a model fitted to measurements."""

from __future__ import annotations

import argparse
from importlib import import_module

from app.commands.common import add_json
from app.core.caution import caution
from app.core.language import translated
from engine.base.words import say

CHOICES = {
    "show": ("app.commands.machine_show", say("beam data of a machine computed in water, as tables and plots")),
    "check": ("app.commands.machine_check", say("is a machine file right, and is anything in it unusual")),
    "fit": ("app.commands.machine_fit", say("fit a beam model to measured depth doses, profiles and output factors")),
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the choices and their options."""
    sub = parser.add_subparsers(dest="what", metavar="show, check or fit", required=True)
    for name, (module, words) in CHOICES.items():
        one, words = import_module(module), translated(words)
        choice = sub.add_parser(
            name,
            help=words,
            description=f"{words[0].upper()}{words[1:]}. {caution()}",
            epilog=getattr(one, "EPILOG", None),
            formatter_class=argparse.RawDescriptionHelpFormatter if hasattr(one, "EPILOG") else argparse.HelpFormatter,
        )
        one.arguments(choice)
        add_json(choice)


def run(args: argparse.Namespace) -> int:
    """Run the chosen one."""
    return int(import_module(CHOICES[args.what][0]).run(args))
