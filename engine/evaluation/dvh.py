"""Cumulative dose-volume histograms from weighted samples.

The curve is kept as ascending dose with the share of the volume below it. Up to SORTED samples are sorted as they are;
more are gathered in BINS equal steps between the least and the highest dose, each step kept as its own mean dose (so the
mean is exact and a step's spread does not show). Doses between the points are interpolated linearly.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.errors import EmptyVolume
from engine.base.values import FrozenArray, Value, own_array
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
        else:
            dose = np.linspace(self.min_gy, self.max_gy, points)
            below = np.interp(dose, self.dose_gy, self.below)
        return np.concatenate(([0.0], dose, [dose[-1]])), 100.0 * (1.0 - np.concatenate(([0.0], below, [1.0])))

    def scaled(self, factor: float) -> Dvh:
        """Return the histogram of the dose times a factor that is not negative."""
        return self.but(dose_gy=own_array(self.dose_gy * factor), mean_gy=self.mean_gy * factor)

    def _share(self, cm3: float) -> float:
        if cm3 > self.volume_cm3 * (1 + 1e-9):
            raise EmptyVolume(f"the volume holds only {self.volume_cm3:.3g} cm3, less than {cm3:g} cm3")
        return cm3 / self.volume_cm3


def dvh_of(dose_gy: NDArray[np.float32], where: Samples) -> Dvh:
    """Return the histogram of doses at a volume's sample points.

    Raises
    ------
    EmptyVolume
        If no part of the volume lies inside the dose grid.
    """
    if where.count == 0:
        raise EmptyVolume("no part of the volume lies inside the dose grid")
    if where.count <= SORTED:
        order = np.argsort(dose_gy, kind="stable")
        dose, share = dose_gy[order].astype(np.float64), where.share[order].astype(np.float64)
        keep = share > 0
        dose, share = dose[keep], share[keep]
        low, high = float(dose[0]), float(dose[-1])
    else:
        low, high, dose, share = _gathered(dose_gy, where.share, BINS)
    total = share.sum()
    middle = (np.cumsum(share) - 0.5 * share) / total
    return Dvh(
        own_array(np.concatenate(([low], dose, [high]))),
        own_array(np.concatenate(([0.0], middle, [1.0]))),
        where.volume_cm3,
        where.covered,
        float((dose * share).sum() / total),
    )


@njit(cache=True, nogil=True)
def _gathered(dose, share, bins):  # type: ignore[no-untyped-def]
    low, high = dose[0], dose[0]
    for i in range(dose.shape[0]):
        low = min(low, dose[i])
        high = max(high, dose[i])
    step = np.float32(0.0) if high <= low else np.float32(bins * 0.999999) / (high - low)
    weight = np.zeros((2, bins))
    moment = np.zeros((2, bins))
    # Two interleaved tables: neighbours often share a bin, and a sum waits for the one before.
    for i in range(dose.shape[0]):
        b = int((dose[i] - low) * step)
        side = i & 1
        weight[side, b] += share[i]
        moment[side, b] += share[i] * dose[i]
    out_dose = np.empty(bins)
    out_share = np.empty(bins)
    n = 0
    for b in range(bins):
        w = weight[0, b] + weight[1, b]
        if w > 0:
            out_dose[n] = min(max((moment[0, b] + moment[1, b]) / w, float(low)), float(high))
            out_share[n] = w
            n += 1
    return float(low), float(high), out_dose[:n].copy(), out_share[:n].copy()


@njit(cache=True, nogil=True)
def combine(per_beam, factors, out):  # type: ignore[no-untyped-def]
    """Fill `out` (n,) with the sum of factor times dose over beams; `per_beam` float32 (beams, n)."""
    n = out.shape[0]
    for i in range(n):
        out[i] = 0.0
    for b in range(per_beam.shape[0]):
        f = np.float32(factors[b])
        if f != 0.0:
            row = per_beam[b]
            for i in range(n):
                out[i] += f * row[i]
