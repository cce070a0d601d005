"""What was read of beam doses: at the points of volumes, and the highest of each block.

When one beam of nine moves, eight are as they were. What was read of them is kept by what it depends on, so that only the
moved beam is read again. A dose is known by its array itself, which nobody can write to: hashing its ten megabytes would
cost as much as reading it. The least recently used goes first; everything here can be read again at any time.
"""

from __future__ import annotations

import weakref
from collections import OrderedDict
from collections.abc import Callable
from threading import Lock

import numpy as np

from engine.base.values import Fingerprint, FrozenArray, own_array
from engine.dose.dose import Dose
from engine.evaluation import summing
from engine.evaluation.samples import Samples
from engine.volumes.coverage import Coverage

MOST_BYTES, MOST_CUT_BYTES = 200_000_000, 24_000_000

Key = tuple[str, int, Fingerprint]


class Reading:
    """Keeps arrays by what they depend on, up to a number of bytes."""

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self._most, self._bytes = most_bytes, 0
        self._held: OrderedDict[Key, tuple[weakref.ref[FrozenArray], FrozenArray]] = OrderedDict()
        self._lock = Lock()

    def doses(self, dose: Dose, volume: Coverage, where: Samples) -> FrozenArray:
        """Return the dose at a volume's points, float32 (n,); `where` must be ``samples(volume, dose.grid)``."""

        def read() -> FrozenArray:
            from engine.evaluation.samples import doses_at

            return doses_at(dose.gy, where)

        return self._of("points", dose.gy, volume.fingerprint, read)

    def tops(self, dose: Dose, body: Coverage | None, mask: FrozenArray) -> FrozenArray:
        """Return the highest dose of each block inside the mask of a body, float32 (blocks,)."""
        inside = body.fingerprint if body is not None else ""
        return self._of("tops", dose.gy, inside, lambda: summing.tops_of((dose.gy,), mask)[0])

    def cut(self, gy: FrozenArray, along: int, at: float) -> FrozenArray:
        """Return a plane of a dose, see ``summing.cut_of``."""
        return self._of("cut", gy, f"{along} {at!r}", lambda: summing.cut_of(gy, along, at))

    def _of(self, what: str, gy: FrozenArray, where: Fingerprint, read: Callable[[], np.ndarray]) -> FrozenArray:
        key = (what, id(gy), where)
        with self._lock:
            known = self._held.get(key)
            # A number of an array that is gone may have been given to another.
            if known is not None and known[0]() is gy:
                self._held.move_to_end(key)
                return known[1]
        found = own_array(read())
        with self._lock:
            old = self._held.pop(key, None)
            self._bytes += found.nbytes - (old[1].nbytes if old else 0)
            self._held[key] = (weakref.ref(gy), found)
            while self._bytes > self._most and len(self._held) > 1:
                self._bytes -= self._held.popitem(last=False)[1][1].nbytes
        return found


READ = Reading()
# Apart, so that a walk through many planes does not drive out what was read in volumes.
CUTS = Reading(MOST_CUT_BYTES)
