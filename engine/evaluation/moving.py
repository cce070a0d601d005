"""Sums of beam doses at the points of volumes, while one beam of several moves.

The sum of all other beams stands still and is kept, so that a move costs what the moved beam weighs, not what all do. It is
kept in double precision and always made of those beams themselves, never by taking one away: rounding cannot creep,
however long a hand plays, and the sums do not show which beam moved last.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from engine.base.values import FrozenArray

Rows = tuple[FrozenArray, ...]
T = TypeVar("T")
# Starts its thread when first asked.
_BESIDE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="halfshade-sums")


@dataclass(frozen=True)
class _Still:
    """What stands still: the sum of all beams but one, for each volume.

    Parameters
    ----------
    rows : of each volume the doses of each beam, float32 (n,)
    weights : of each beam
    moving : the beam that is left out
    rest : of each volume float64 (n,)
    """

    rows: tuple[Rows, ...]
    weights: tuple[float, ...]
    moving: int
    rest: tuple[NDArray[np.float64], ...]

    def changed(self, rows: tuple[Rows, ...], weights: tuple[float, ...]) -> list[int] | None:
        """Return which beams are others now; None if it is about other points or another number of beams."""
        if len(rows) != len(self.rows) or len(weights) != len(self.weights):
            return None
        if any(len(a[0]) != len(b[0]) for a, b in zip(rows, self.rows)):
            return None
        beams = range(len(weights))
        return [i for i in beams if weights[i] != self.weights[i] or any(a[i] is not b[i] for a, b in zip(rows, self.rows))]


class Moving:
    """Remembers the last sum; whoever asks from another thread meanwhile gets the right one too, only slower."""

    def __init__(self) -> None:
        self._still: _Still | None = None

    def each(
        self, per_beam: Mapping[str, Rows], weights: Sequence[float], work: Callable[[str, NDArray[np.float32]], T]
    ) -> dict[str, T]:
        """Return by key what `work` makes of a volume and its sum of weight times dose, float32 (n,).

        Two threads share the volumes: kernels release the interpreter, and each volume is one's own.

        Parameters
        ----------
        per_beam : by key of the volume the dose of each beam, float32 (n,), n > 0; nobody writes to these arrays
        weights : one for each beam, at least one
        work : may be called beside itself; the array is used again once it returns
        """
        rows, wanted = tuple(per_beam.values()), tuple(float(w) for w in weights)
        if not rows:
            return {}
        still = self._standing(rows, wanted)
        whole = list(zip(per_beam, rows, still.rest, strict=True))
        weight, most = wanted[still.moving], max(len(rest) for rest in still.rest)

        def some(part: list[tuple[str, Rows, NDArray[np.float64]]]) -> list[tuple[str, T]]:
            from engine.evaluation.kernels import raised

            room, found = np.empty(most, dtype=np.float32), []
            for key, own, rest in part:
                out = room[: len(rest)]
                raised(rest, own[still.moving], weight, out)
                found.append((key, work(key, out)))
            return found

        beside = _BESIDE.submit(some, whole[1::2]) if len(whole) > 1 else None
        found = dict(some(whole[::2]))
        if beside is not None:
            found |= dict(beside.result())
        return {key: found[key] for key in per_beam}

    def _standing(self, rows: tuple[Rows, ...], weights: tuple[float, ...]) -> _Still:
        still = self._still
        changed = still.changed(rows, weights) if still is not None else None
        if still is None or changed is None:
            moving = 0
        elif not [i for i in changed if i != still.moving]:
            return still
        else:
            moving = changed[0]
        made = _Still(rows, weights, moving, tuple(rest_of(own, weights, moving) for own in rows))
        self._still = made
        return made


def rest_of(rows: Rows, weights: Sequence[float], but: int = -1) -> NDArray[np.float64]:
    """Return the sum of weight times dose of all beams but one, float64 (n,)."""
    from engine.evaluation.kernels import raise_by

    rest = np.zeros(len(rows[0]), dtype=np.float64)
    for i, (row, weight) in enumerate(zip(rows, weights, strict=True)):
        if i != but and weight != 0.0:
            raise_by(row, weight, rest)
    return rest


MOVING = Moving()
