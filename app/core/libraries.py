"""Which Debian package brings a system library that Qt misses. Imports nothing of Qt: it is asked when Qt cannot load."""

from __future__ import annotations

import re

from engine.base.words import say

# library -> the Debian package that holds it (read from the packages' file lists)
SYSTEM_LIBRARIES = {
    "xcb-cursor": "libxcb-cursor0",
    "xcb-icccm": "libxcb-icccm4",
    "xcb-image": "libxcb-image0",
    "xcb-keysyms": "libxcb-keysyms1",
    "xcb-render-util": "libxcb-render-util0",
    "xcb-xkb": "libxcb-xkb1",
    "xcb-shape": "libxcb-shape0",
    "xkbcommon-x11": "libxkbcommon-x11-0",
    "xkbcommon": "libxkbcommon0",
    "EGL": "libegl1",
    "GL": "libgl1",
    "fontconfig": "libfontconfig1",
    "dbus-1": "libdbus-1-3",
    "glib-2.0": "libglib2.0-0",
}


def words_for(error: ImportError) -> str:
    """Return one sentence for an import that failed: the missing library and the package that brings it."""
    found = re.search(r"lib([\w.+-]+?)\.so[\d.]*", str(error))
    if not found:
        return say(
            "a part of the program is missing ({error}). Install it again: pip install --force-reinstall halfshade.",
            error=str(error),
        )
    package = SYSTEM_LIBRARIES.get(found.group(1))
    advice = (
        say("apt-get install {package}", package=package)
        if package
        else say("search it with apt-file search {found}", found=found.group(0))
    )
    return say(
        "the system library {found} that Qt needs is missing. On Debian: {advice}.", found=found.group(0), advice=advice
    )
