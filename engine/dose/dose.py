"""Absorbed dose on a grid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.base.errors import GeometryError
from engine.base.values import Fingerprint, FrozenArray, Value, own_array
from engine.base.words import say
from engine.space.grid import Grid


@dataclass(frozen=True, eq=False)
class Dose(Value):
    """Absorbed dose, reported to water or to medium as the request says.

    Parameters
    ----------
    gy : float32 (planes, rows, columns); of one beam: Gy per MU; of a plan: Gy over all fractions
    grid : where
    inputs : fingerprint of the request it answers (of a sum: empty)
    quality : quick or fine (a sum is as good as its worst part)
    """

    gy: FrozenArray
    grid: Grid
    inputs: Fingerprint = ""
    quality: str = "fine"

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.gy.shape != self.grid.shape or self.gy.dtype != np.float32:
            raise GeometryError(
                say(
                    "dose of shape {shape}, {dtype} does not fit the grid {wanted}",
                    shape=self.gy.shape,
                    dtype=self.gy.dtype,
                    wanted=self.grid.shape,
                )
            )


def weighted_sum(doses: Sequence[Dose], factors: Sequence[float]) -> Dose:
    """Return sum(factor * dose); all on one grid.

    Parameters
    ----------
    doses : beams' doses in Gy per MU
    factors : MU times fractions of each beam

    Raises
    ------
    GeometryError
        If there is no dose, or the grids differ.
    """
    if not doses or len(doses) != len(factors):
        raise GeometryError("a sum of doses needs at least one dose and one factor for each")
    if any(d.grid != doses[0].grid for d in doses):
        raise GeometryError("doses on different grids cannot be summed", do="Compute all beams on one grid.")
    total = np.zeros(doses[0].grid.shape, dtype=np.float32)
    for dose, factor in zip(doses, factors, strict=True):
        total += np.float32(factor) * dose.gy
    quality = "quick" if any(d.quality == "quick" for d in doses) else "fine"
    return Dose(own_array(total), doses[0].grid, "", quality)
