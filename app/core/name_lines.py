"""Names written whole: on as many lines as they need, in type as large as the room allows."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

# Where a name may end a line without being torn: after what joins its parts, but not within a number.
_PARTS = re.compile(r"(?:[^_\-./ ]|(?<=\d)\.(?=\d))*[_\-./ ]*")

Width = Callable[[str], float]


def wrapped(name: str, room_px: float, width: Width) -> list[str]:
    """Return a name on lines of at most `room_px`, broken after its joints where it can be, anywhere where it must be.

    Every letter is there: the lines joined are the name. `width` measures text in px.
    """
    lines, line = [], ""
    for part in _PARTS.findall(name):
        if line and width((line + part).rstrip()) > room_px:
            lines.append(line)
            line = ""
        for letter in part:
            if line and width((line + letter).rstrip()) > room_px:
                lines.append(line)
                line = ""
            line += letter
    return [*lines, line] if line or not lines else lines


def fitted(
    names: Sequence[str],
    room_px: float,
    height: Callable[[float, list[list[str]]], float],
    width_at: Callable[[float], Width],
    high_px: float,
    sizes_px: Sequence[float],
) -> tuple[float, list[list[str]]]:
    """Return the largest type of `sizes_px` in which all names find room, and each name's lines in it.

    Parameters
    ----------
    room_px, high_px : width of a line, height of all
    height : of all lines in a size of type
    width_at : measures text in a size of type

    The smallest size is taken where even that is too large.
    """
    for px in sizes_px:
        lines = [wrapped(name, room_px, width_at(px)) for name in names]
        if height(px, lines) <= high_px:
            break
    return px, lines
