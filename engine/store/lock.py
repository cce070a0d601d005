"""Who may write a case: an advisory lock beside the file that dies with its process."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import IO


class CaseLock:
    """Holds ``.<name>.lock`` while a case is open for writing; never stale, for the system frees it with the process."""

    def __init__(self, path: Path) -> None:
        self._path = path.with_name(f".{path.name}.lock")
        self._file: IO[bytes] | None = None

    def take(self) -> bool:
        """Return whether this process now holds the lock; False if another holds it or the folder is read-only."""
        try:
            file = open(self._path, "ab")  # noqa: SIM115 (kept open for the life of the lock)
        except OSError:
            return False
        try:
            _lock(file)
        except OSError:
            file.close()
            return False
        self._file = file
        return True

    def free(self) -> None:
        """Give the lock back."""
        if self._file is not None:
            # Removed before it is unlocked: nobody can be holding a file that has no name.
            self._path.unlink(missing_ok=True)
            self._file.close()
            self._file = None


def _lock(file: IO[bytes]) -> None:
    if sys.platform == "win32":
        import msvcrt

        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)


def writable(path: Path) -> bool:
    """Whether a file, or the folder a new file would go to, can be written."""
    return os.access(path if path.exists() else path.parent, os.W_OK)
