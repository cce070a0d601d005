"""The command ``halfshade``: a subcommand runs headless, none opens the window."""

from __future__ import annotations

import argparse
import os
import sys
from importlib import import_module

from app.core.caution import PLAIN
from app.core.libraries import words_for
from engine import __version__
from engine.base.errors import UserError

# name -> (module, one line of help). A command's module gives ``arguments(parser)`` and ``run(args) -> int``.
COMMANDS = {
    "demo": ("app.commands.demo", "the whole job on a synthetic demonstration patient"),
    "intake": ("app.commands.intake", "DICOM CT into a new case"),
    "dose": ("app.commands.dose", "dose of a plan, absolute Gy over all fractions"),
    "evaluate": ("app.commands.evaluate", "doses and volumes of a dose on a structure set"),
    "compare": ("app.commands.compare", "gamma and differences of two doses"),
    "check": ("app.commands.check", "findings of a case"),
    "export": ("app.commands.export", "RT DICOM out of a case"),
    "seal": ("app.commands.seal", "verify the records of a case"),
}


def main(arguments: list[str] | None = None) -> int:
    """Run one command; returns 0, or 1 when input or result is refused (2 on wrong usage, by argparse)."""
    given = sys.argv[1:] if arguments is None else arguments
    parser = argparse.ArgumentParser(
        prog="halfshade",
        description="Contouring, photon dose, plan review and sign-off. " + PLAIN,
        epilog="Without a subcommand: halfshade [CASE.halfshade or DICOM folder] opens the window.",
    )
    parser.add_argument("--version", action="version", version=f"Halfshade {__version__}")
    chosen = given[0] if given and given[0] in COMMANDS else ""
    if not chosen and not (given and given[0] in ("-h", "--help", "--version")):
        return _window(parser, given)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, (module, words) in COMMANDS.items():
        sub = commands.add_parser(name, help=words, description=f"{words[0].upper()}{words[1:]}. {PLAIN}")
        if name == chosen:
            import_module(module).arguments(sub)
    args = parser.parse_args(given)
    try:
        return int(import_module(COMMANDS[args.command][0]).run(args))
    except UserError as error:
        print(f"halfshade {args.command}: {error}", file=sys.stderr)
    except BrokenPipeError:
        # Whoever read the output has stopped reading; what was to be written is written.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        print(f"halfshade {args.command}: {where}{error.strerror or error}.", file=sys.stderr)
    except ImportError as error:
        print(f"halfshade {args.command}: {words_for(error)}", file=sys.stderr)
    except KeyboardInterrupt:
        print(f"halfshade {args.command}: stopped; nothing half-written is left.", file=sys.stderr)
    return 1


def _window(parser: argparse.ArgumentParser, given: list[str]) -> int:
    parser.add_argument("path", nargs="?", help="case file or DICOM folder to open")
    path = parser.parse_args(given).path
    from app.start import start

    return start(path)


if __name__ == "__main__":
    sys.exit(main())
