"""How many threads transport may use."""

from __future__ import annotations

import os


def thread_count() -> int:
    """Return the number of processors this process may run on (``HALFSHADE_THREADS`` lowers or sets it)."""
    wish = os.environ.get("HALFSHADE_THREADS", "")
    if wish.isdigit() and int(wish) > 0:
        return int(wish)
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1
