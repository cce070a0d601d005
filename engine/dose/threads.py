"""Sharing work among threads whose kernels release the interpreter lock, and keeping the memory they use."""

from __future__ import annotations

import ctypes
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache

import numpy as np

from engine.base.progress import Report, quiet


def thread_count() -> int:
    """Return the number of processors this process may run on."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1


def workers() -> ThreadPoolExecutor:
    """Return the threads that all work on dose shares: two works side by side must not take more than there are.

    Who waits for work given to them must not be one of them.
    """
    return _workers(thread_count())


@lru_cache(maxsize=4)
def _workers(count: int) -> ThreadPoolExecutor:
    return ThreadPoolExecutor(max_workers=count, thread_name_prefix="halfshade-dose")


def share_out(count: int, pieces: int, work: Callable[[int, int], None], report: Report = quiet, words: str = "") -> None:
    """Run ``work(start, stop)`` over 0..count in at least `pieces` parts, and report between rounds of one per thread.

    Each part writes its own share of the output, so nothing depends on the number of threads.
    """
    threads = thread_count()
    rounds = -(-max(pieces, 1) // threads)
    bounds = np.unique(np.linspace(0, count, rounds * threads + 1).astype(int))
    parts = list(zip(bounds[:-1].tolist(), bounds[1:].tolist(), strict=True))
    for start in range(0, len(parts), threads):
        for one in [workers().submit(work, a, b) for a, b in parts[start : start + threads]]:
            one.result()
        report(min(1.0, (start + threads) / len(parts)), words)


@lru_cache(maxsize=1)
def keep_memory() -> bool:
    """Have the C library keep memory that is given back, for the next beam; returns whether it could.

    Every beam uses the same few large arrays. By default each is handed back to the system and fetched again as fresh
    pages, which costs as much time as the transport in them. What is kept is bounded, and only where glibc is in use.
    """
    try:
        mallopt = ctypes.CDLL(None).mallopt
    except (AttributeError, OSError, TypeError):
        return False
    # M_ARENA_MAX (-8): every arena keeps what it is given back, and threads come and go, so there must be few of them.
    # M_MMAP_THRESHOLD (-3) at the largest it takes, M_TRIM_THRESHOLD (-1): see mallopt(3).
    return all([bool(mallopt(-8, 2)), bool(mallopt(-3, 32 << 20)), bool(mallopt(-1, 256 << 20))])
