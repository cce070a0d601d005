"""Sets of volumes a site usually needs: names and roles, shipped and one's own.

A set is a TOML file::

    title = "Thorax"
    source = "where names and selection are from"
    volumes = [
        { name = "Heart", role = "OAR" },
        { name = "PTV", role = "PTV", colour = [86, 180, 233] },   # a volume without a colour gets the next free one
    ]
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import assets
from engine.base.errors import InputError
from engine.base.words import say
from engine.volumes.naming import role_of
from engine.volumes.volume import ROLES, Volume

MOST = 200


@dataclass(frozen=True)
class Wanted:
    """One volume of a set; `colour` None takes the next free one."""

    name: str
    role: str
    colour: tuple[int, int, int] | None = None


@dataclass(frozen=True)
class VolumeSet:
    """A named set; `source` says where names and selection are from."""

    title: str
    volumes: tuple[Wanted, ...]
    source: str = ""


def shipped_sets() -> tuple[VolumeSet, ...]:
    """Return the sets the program ships, by title."""
    return sets_in(assets.path("sets"))[0]


def sets_in(folder: Path) -> tuple[tuple[VolumeSet, ...], tuple[InputError, ...]]:
    """Return the sets in a folder, by title, and what is wrong with the files that are none; () if it does not exist."""
    found, bad = [], []
    for path in sorted(folder.glob("*.toml")):
        try:
            found.append(load_set(path))
        except InputError as error:
            bad.append(error)
    return tuple(sorted(found, key=lambda s: s.title.casefold())), tuple(bad)


def load_set(path: Path) -> VolumeSet:
    """Read a set.

    Raises
    ------
    InputError
        If the file cannot be read, is no TOML, or a volume in it has no usable name, role or colour.
    """
    where = str(path)
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise InputError(
            say("it cannot be read ({reason})", reason=error.strerror or str(error)), where, "Choose another file."
        ) from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise InputError(say("it is no TOML: {error}", error=str(error)), where, "Correct that line.") from None
    title, rows = document.get("title"), document.get("volumes")
    if not isinstance(title, str) or not title.strip():
        raise InputError("a set of volumes needs a title", where, 'Add a line such as title = "Thorax".')
    if not isinstance(rows, list) or not 1 <= len(rows) <= MOST:
        raise InputError(say("a set holds 1 to {most} volumes", most=MOST), where, "Add a list named volumes.")
    wanted = tuple(_wanted(row, where) for row in rows)
    if len({w.name.casefold() for w in wanted}) != len(wanted):
        raise InputError("two volumes of the set have one name", where, "Give each a name of its own.")
    source = document.get("source", "")
    return VolumeSet(title.strip(), wanted, source if isinstance(source, str) else "")


def set_text(wanted: VolumeSet) -> str:
    """Return a set as the text of its file."""
    rows = []
    for v in wanted.volumes:
        colour = f", colour = [{', '.join(map(str, v.colour))}]" if v.colour else ""
        rows.append(f"    {{ name = {_quoted(v.name)}, role = {_quoted(v.role)}{colour} }},")
    head = [f"title = {_quoted(wanted.title)}", f"source = {_quoted(wanted.source)}", "volumes = ["]
    return "\n".join([*head, *rows, "]", ""])


def set_of(volumes: Iterable[Volume], title: str) -> VolumeSet:
    """Return the set of volumes a case has, with their colours."""
    return VolumeSet(title, tuple(Wanted(v.name, v.role, v.colour) for v in volumes))


def _wanted(row: Any, where: str) -> Wanted:
    name = row.get("name") if isinstance(row, dict) else None
    if not isinstance(name, str) or not 1 <= len(name.strip()) <= 64:
        raise InputError("a volume of the set has no name of 1 to 64 characters", where, "Give it one.")
    role = row.get("role", role_of(name, "OTHER"))
    if role not in ROLES:
        raise InputError(
            say("{name} has a role that is not one of {roles}", name=name, roles=", ".join(ROLES)), where, "Choose one."
        )
    colour = row.get("colour")
    if colour is None:
        return Wanted(name.strip(), role)
    if not isinstance(colour, list) or len(colour) != 3 or any(type(c) is not int or not 0 <= c <= 255 for c in colour):
        raise InputError(say("the colour of {name} is not three numbers from 0 to 255", name=name), where, "Correct it.")
    return Wanted(name.strip(), role, (colour[0], colour[1], colour[2]))


def _quoted(text: str) -> str:
    # A JSON string is a TOML basic string, but for the one control character JSON leaves bare.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
