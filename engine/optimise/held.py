"""What a normalisation makes equal to the prescription, as a linear function of weights near the present ones."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import numpy as np

from engine.evaluation.live import LiveBasis, Prescribed
from engine.evaluation.metrics import parse
from engine.optimise.objective import Floats
from engine.space.grid import Point

# Share of the volume on both sides of a dose-volume point whose points stand for it: a single point would be noise.
AROUND = 0.005


class Normalised(Protocol):
    """What of a request matters here."""

    @property
    def normalisation(self) -> str: ...
    @property
    def prescription(self) -> Prescribed | None: ...
    @property
    def isocentre_mm(self) -> Point | tuple[()]: ...


def held_row(basis: LiveBasis, wish: Normalised, x: Floats) -> Floats:
    """Return the row (beams,) with ``row @ x = 1`` where the normalised quantity is the prescription, exact at `x`.

    Dose at a point and mean dose are linear anyway. A dose-volume point moves as the mean of the points that lie
    there does, the highest dose as the hottest point.

    Parameters
    ----------
    x : monitor units over all fractions of a plan that is normalised
    """
    assert wish.prescription is not None
    if wish.normalisation == "Isocentre":
        assert wish.isocentre_mm
        row = np.array(basis.point(wish.isocentre_mm, (1.0,) * len(x)))
    elif wish.normalisation == "Point":
        assert wish.prescription.point is not None
        row = np.array(basis.point(wish.prescription.point.place_mm, (1.0,) * len(x)))
    else:
        row = _in_volume(basis, wish.prescription.volume_key, wish.normalisation, x)
    return row / float(row @ x)


def _in_volume(basis: LiveBasis, key: str, rule: str, x: Sequence[float] | Floats) -> Floats:
    rows = np.stack(basis.per_beam[key])
    shares = basis.samples[key].share.astype(np.float64)
    metric = parse(f"{rule}[Gy]")
    if metric.kind == "Mean":
        return np.asarray(rows @ shares, dtype=np.float64)
    gy = np.asarray(x, dtype=np.float32) @ rows
    if metric.kind == "Max":
        return rows[:, int(np.argmax(gy))].astype(np.float64)
    order = np.argsort(gy, kind="stable")
    middle = np.cumsum(shares[order]) - 0.5 * shares[order]
    at = 1.0 - metric.amount / 100.0
    near = order[np.abs(middle - at) <= AROUND]
    if not near.size:
        near = order[[int(np.argmin(np.abs(middle - at)))]]
    return np.asarray(rows[:, near] @ shares[near] / shares[near].sum(), dtype=np.float64)
