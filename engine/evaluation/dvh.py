"""Dose-volume histograms, cumulative and differential, from weighted samples.

The curve is kept as ascending dose with the share of the volume below it. Up to SORTED samples are sorted as they are;
more are gathered in BINS equal steps between the least and the highest dose, each step kept as its own mean dose (so the
mean is exact and a step's spread does not show). Doses between the points are interpolated linearly.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import EmptyVolume
from engine.base.values import FrozenArray, Value, own_array
from engine.base.words import say
from engine.evaluation.samples import Samples

SORTED = 4096
BINS = 4096
# "D or more" must not fail because single-precision sums differ in the last digit.
_SLACK = 2e-6


@dataclass(frozen=True, eq=False)
class Dvh(Value):
    """The cumulative dose-volume histogram of one volume.

    Parameters
    ----------
    dose_gy : float64 ascending; first is the least, last the highest dose
    below : float64 ascending 0..1, share of the volume (inside the dose grid) with less dose
    volume_cm3 : the whole volume
    covered : share of the volume inside the dose grid; the curve is of that part
    mean_gy : mean dose
    """

    dose_gy: FrozenArray
    below: FrozenArray
    volume_cm3: float
    covered: float
    mean_gy: float

    @property
    def min_gy(self) -> float:
        """Least sampled dose."""
        return float(self.dose_gy[0])

    @property
    def max_gy(self) -> float:
        """Highest sampled dose."""
        return float(self.dose_gy[-1])

    @property
    def median_gy(self) -> float:
        """Dose that half of the volume receives."""
        return self.d_gy(50.0)

    def d_gy(self, percent: float) -> float:
        """Return the least dose in the hottest `percent` of the volume (ICRU 83: D_v%)."""
        return float(np.interp(1.0 - percent / 100.0, self.below, self.dose_gy))

    def d_cc_gy(self, cm3: float) -> float:
        """Return the least dose in the hottest `cm3`.

        Raises
        ------
        EmptyVolume
            If the volume is smaller than that.
        """
        return self.d_gy(100.0 * self._share(cm3))

    def coldest_gy(self, cm3: float) -> float:
        """Return the dose that is not exceeded in the coldest `cm3` (raises like ``d_cc_gy``)."""
        return self.d_gy(100.0 * (1.0 - self._share(cm3)))

    def v_share(self, gy: float) -> float:
        """Return the share 0..1 of the volume that receives `gy` or more."""
        want = gy - abs(gy) * _SLACK
        i = int(np.searchsorted(self.dose_gy, want, side="left"))
        if i == 0:
            return 1.0
        if i == len(self.dose_gy):
            return 0.0
        low, high = float(self.dose_gy[i - 1]), float(self.dose_gy[i])
        t = min(1.0, (gy - low) / (high - low))
        return 1.0 - float(self.below[i - 1] + t * (self.below[i] - self.below[i - 1]))

    def v_cm3(self, gy: float) -> float:
        """Return the volume that receives `gy` or more."""
        return self.v_share(gy) * self.volume_cm3

    def curve(self, points: int = 400) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return (dose in Gy, percent that receives it or more) to draw, starting at zero dose with 100 %."""
        if len(self.dose_gy) <= points:
            dose, below = self.dose_gy, self.below
            return np.concatenate(([0.0], dose, [dose[-1]])), 100.0 * (1.0 - np.concatenate(([0.0], below, [1.0])))
        from engine.evaluation.kernels import thinned

        return thinned(self.dose_gy, self.below, points)

    def differential(self, steps: int = 100) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return (middle of each step in Gy, percent of the volume per Gy in it) for equal steps from zero to the maximum.

        It is the mean density of each step, so that the steps' sum times their width is 100 %. Without any dose both are
        a single zero.
        """
        if self.max_gy <= 0:
            return np.zeros(1), np.zeros(1)
        edges = np.linspace(0.0, self.max_gy, steps + 1)
        below = np.interp(edges, self.dose_gy, self.below)
        below[0], below[-1] = 0.0, 1.0
        return (edges[:-1] + edges[1:]) / 2, 100.0 * np.diff(below) / (self.max_gy / steps)

    def scaled(self, factor: float) -> Dvh:
        """Return the histogram of the dose times a factor that is not negative."""
        return self.but(dose_gy=own_array(self.dose_gy * factor), mean_gy=self.mean_gy * factor)

    def _share(self, cm3: float) -> float:
        if cm3 > self.volume_cm3 * (1 + 1e-9):
            raise EmptyVolume(
                say(
                    "the volume holds only {volume_cm3:.3g} cm³, less than {cm3:g} cm³", volume_cm3=self.volume_cm3, cm3=cm3
                )
            )
        return cm3 / self.volume_cm3


Points = tuple[NDArray[np.float64], NDArray[np.float64], float]


def dvh_of(dose_gy: NDArray[np.float32], where: Samples) -> Dvh:
    """Return the histogram of doses at a volume's sample points.

    Raises
    ------
    EmptyVolume
        If no part of the volume lies inside the dose grid.
    """
    return dvh_from(points_of(dose_gy, where), where)


def dvh_from(points: Points, where: Samples, factor: float = 1.0) -> Dvh:
    """Return the histogram of ``points_of`` with all doses times a factor that is not negative."""
    dose_gy, below, mean_gy = points
    return Dvh(own_array(dose_gy * factor), own_array(below), where.volume_cm3, where.covered, mean_gy * factor)


def points_of(dose_gy: NDArray[np.float32], where: Samples) -> Points:
    """Return dose and share below, as a ``Dvh`` has them, and the mean dose (raises like ``dvh_of``)."""
    from engine.evaluation.kernels import binned

    if where.count == 0:
        raise EmptyVolume("no part of the volume lies inside the dose grid")
    if where.count > SORTED:
        return binned(dose_gy, where.share, BINS)
    order = np.argsort(dose_gy, kind="stable")
    dose, share = dose_gy[order].astype(np.float64), where.share[order].astype(np.float64)
    keep = share > 0
    dose, share = dose[keep], share[keep]
    total = share.sum()
    middle = (np.cumsum(share) - 0.5 * share) / total
    points, below = np.concatenate((dose[:1], dose, dose[-1:])), np.concatenate(([0.0], middle, [1.0]))
    return points, below, float((dose * share).sum() / total)
