"""The command ``halfshade``: a subcommand runs headless, none opens the window."""

from __future__ import annotations

import argparse
import io
import os
import sys
from importlib import import_module
from typing import Any

import assets
from app.core.caution import caution
from app.core.language import install, translated
from app.core.libraries import words_for
from engine import __version__
from engine.base.errors import UserError
from engine.base.words import say

# name -> (module, one line of help). A command's module gives ``arguments(parser)`` and ``run(args) -> int``.
COMMANDS = {
    "demo": ("app.commands.demo", say("the whole job on a synthetic demonstration patient")),
    "intake": ("app.commands.intake", say("DICOM CT into a new case")),
    "dose": ("app.commands.dose", say("dose of a plan, absolute Gy over all fractions")),
    "evaluate": ("app.commands.evaluate", say("doses and volumes of a dose on a structure set")),
    "compare": ("app.commands.compare", say("gamma and differences of two doses")),
    "check": ("app.commands.check", say("findings of a case")),
    "export": ("app.commands.export", say("RT DICOM out of a case")),
    "machine": ("app.commands.machine", say("beam data of a machine, its file, and a model fitted to measurements")),
    "seal": ("app.commands.seal", say("verify the records of a case")),
}


class _Parser(argparse.ArgumentParser):
    """A parser whose help speaks the person's language."""

    def add_argument(self, *names: Any, **given: Any) -> argparse.Action:
        if given.get("help"):
            given["help"] = translated(given["help"])
        return super().add_argument(*names, **given)


def main(arguments: list[str] | None = None) -> int:
    """Run one command; returns 0, or 1 when input or result is refused (2 on wrong usage, by argparse)."""
    given = sys.argv[1:] if arguments is None else arguments
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a screen without "≤" must not cost the sentence
    install(assets.path("translations"))
    plain = caution()
    parser = _Parser(
        prog="halfshade",
        description=f"{translated(say('Contouring, photon dose, plan review and sign-off.'))} {plain}",
        epilog=translated(say("Without a subcommand: halfshade [CASE.halfshade or DICOM folder] opens the window.")),
    )
    parser.add_argument("--version", action="version", version=f"Halfshade {__version__}")
    chosen = given[0] if given and given[0] in COMMANDS else ""
    if not chosen and not (given and given[0] in ("-h", "--help", "--version")):
        return _window(parser, given)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, (module, words) in COMMANDS.items():
        words = translated(words)
        sub = commands.add_parser(name, help=words, description=f"{words[0].upper()}{words[1:]}. {plain}")
        if name == chosen:
            import_module(module).arguments(sub)
    args = parser.parse_args(given)
    try:
        return int(import_module(COMMANDS[args.command][0]).run(args))
    except UserError as error:
        print(f"halfshade {args.command}: {translated(error)}", file=sys.stderr)
    except BrokenPipeError:
        # Whoever read the output has stopped reading; what was to be written is written.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        print(f"halfshade {args.command}: {where}{error.strerror or error}.", file=sys.stderr)
    except ImportError as error:
        print(f"halfshade {args.command}: {translated(words_for(error))}", file=sys.stderr)
    except KeyboardInterrupt:
        stopped = translated(say("stopped; nothing half-written is left."))
        print(f"halfshade {args.command}: {stopped}", file=sys.stderr)
    return 1


def _window(parser: argparse.ArgumentParser, given: list[str]) -> int:
    parser.add_argument("path", nargs="?", help="case file or DICOM folder to open")
    path = parser.parse_args(given).path
    if path and not os.path.exists(path):
        unknown = say(
            "{path!r} is neither a command nor a file or folder. Commands are {commands}.",
            path=path,
            commands=", ".join(COMMANDS),
        )
        print(f"halfshade: {translated(unknown)}", file=sys.stderr)
        return 2
    from app.start import start

    return start(path)


if __name__ == "__main__":
    sys.exit(main())
