"""Demonstration patients made once for a whole test run: by one of its processes, the others read them from disk."""

from __future__ import annotations

import functools
import os
import pickle
from pathlib import Path

from engine.phantoms import Phantom, make


class Demonstrations:
    """Gives demonstration patients by name.

    Parameters
    ----------
    folder : shared by all processes of one run and by no other run, so that no patient outlives the code that made it
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.made = functools.cache(self._made)

    def _made(self, name: str) -> Phantom:
        file = self.folder / f"demonstration-{name}.pickle"
        if file.exists():
            return pickle.loads(file.read_bytes())
        phantom = make(name)
        # Two processes may make the same patient at the same time: each file appears whole, and both are alike.
        own = file.with_suffix(f".{os.getpid()}")
        own.write_bytes(pickle.dumps(phantom, protocol=5))
        own.replace(file)
        return phantom

    def forget(self) -> None:
        """Take the files away: whoever needs a patient after that makes it again."""
        for file in self.folder.glob("demonstration-*.pickle"):
            file.unlink(missing_ok=True)
