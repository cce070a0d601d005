"""Which package brings a system library that Qt misses."""

from __future__ import annotations

import re

# library file -> Debian package
PACKAGES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libglib-2.0.so.0": "libglib2.0-0",
}


def words_for(error: ImportError) -> str:
    """Return one sentence for an import that failed: the missing library and the package that brings it."""
    found = re.search(r"(lib[\w.+-]+\.so(?:\.\d+)*)", str(error))
    if not found:
        return f"a part of the program is missing ({error}). Install it again: pip install --force-reinstall halfshade."
    library = found.group(1)
    package = PACKAGES.get(library)
    advice = f"apt-get install {package}" if package else f"search it: apt-file search {library}"
    return f"the system library {library} that Qt needs is missing. On Debian: {advice}."
