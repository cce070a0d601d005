"""What was read of beam doses: at the points of volumes, and the highest of each block.

When one beam of nine moves, eight are as they were. What was read of them is kept by what it depends on, so that only the
moved beam is read again. The least recently used goes first; everything here can be read again at any time.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock

import numpy as np

from engine.base.values import Fingerprint, FrozenArray, own_array
from engine.dose.dose import Dose
from engine.evaluation import summing
from engine.evaluation.samples import Samples
from engine.volumes.coverage import Coverage

MOST_BYTES = 200_000_000

Key = tuple[str, Fingerprint, Fingerprint]


class Reading:
    """Keeps arrays by what they depend on, up to a number of bytes."""

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self._most, self._bytes = most_bytes, 0
        self._held: OrderedDict[Key, FrozenArray] = OrderedDict()
        self._lock = Lock()

    def doses(self, dose: Dose, volume: Coverage, where: Samples) -> FrozenArray:
        """Return the dose at a volume's points, float32 (n,); `where` must be ``samples(volume, dose.grid)``."""

        def read() -> FrozenArray:
            from engine.evaluation.samples import doses_at

            return doses_at(dose.gy, where)

        return self._of(("points", _named(dose), volume.fingerprint), read)

    def tops(self, dose: Dose, body: Coverage | None, mask: FrozenArray) -> FrozenArray:
        """Return the highest dose of each block inside the mask of a body, float32 (blocks,)."""
        inside = body.fingerprint if body is not None else ""
        return self._of(("tops", _named(dose), inside), lambda: summing.tops_of((dose.gy,), mask)[0])

    def _of(self, key: Key, read: Callable[[], np.ndarray]) -> FrozenArray:
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
                return self._held[key]
        found = own_array(read())
        with self._lock:
            if key not in self._held:
                self._held[key] = found
                self._bytes += found.nbytes
            while self._bytes > self._most and len(self._held) > 1:
                self._bytes -= self._held.popitem(last=False)[1].nbytes
        return found


def _named(dose: Dose) -> Fingerprint:
    """Return what stands for a dose: its request, because hashing its ten megabytes costs as much as reading it."""
    return f"{dose.quality} {dose.inputs}" if dose.inputs else dose.fingerprint


READ = Reading()
