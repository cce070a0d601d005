"""What points of the isocentre plane see of a source through edges that lie at distances of their own.

One dimension at a time: an aperture bounded along X and along Y is a product of two views, a set of leaves the sum of
such products. All positions of edges are projected to the isocentre plane from the focal spot.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d

Floats = NDArray[np.float64]

SIGMA_PER_FWHM = 1 / (2 * np.sqrt(2 * np.log(2)))
# Below this share of a pixel a Gaussian edge would fall between the pixel centres.
_SHARPEST_PIXELS = 0.5
# So many sigmas off, a normal distribution lacks 4e-17 of its whole.
_ALL = 8.3
_SQRT_HALF = float(np.sqrt(0.5))


@dataclass(frozen=True)
class Edges:
    """A pair of edges at one distance from the focal spot: intervals (m,) they leave open; m = 1 serves all."""

    distance_mm: float
    low_mm: Floats
    high_mm: Floats


@dataclass(frozen=True)
class Source:
    """A Gaussian source: its distance from the focal spot, its sigma, and the distance to the isocentre plane."""

    distance_mm: float
    sigma_mm: float
    sad_mm: float

    def image_mm(self, plane_mm: float) -> float:
        """Return the sigma of an edge's penumbra on the isocentre plane, for an edge at a distance."""
        scale = plane_mm / self.sad_mm * (self.sad_mm - self.distance_mm) / (self.sad_mm - plane_mm)
        return self.sigma_mm / scale


def seen(points_mm: Floats, source: Source, edges: Sequence[Edges]) -> Floats:
    """Return (m, n): the share of a source that n points see through m intervals of several pairs of edges.

    Of all edges on one side the innermost counts, as seen from the point.
    """
    return _between(points_mm, source, edges, [source.image_mm(pair.distance_mm) for pair in edges])


def _between(points_mm: Floats, source: Source, edges: Sequence[Edges], penumbra_mm: Sequence[float]) -> Floats:
    """Return the share seen, each pair of edges with the sigma of its own penumbra on the isocentre plane.

    The line from a point x through an edge X at distance z meets the source's plane z_s at
    X z (SAD - z_s) / (SAD (SAD - z)) - x (z - z_s) / (SAD - z).
    """
    intervals = max(pair.low_mm.size for pair in edges)
    slopes, low, high = np.empty(len(edges)), np.empty((len(edges), intervals)), np.empty((len(edges), intervals))
    for k, (pair, sigma_mm) in enumerate(zip(edges, penumbra_mm, strict=True)):
        way = source.sad_mm - pair.distance_mm
        of_edge = pair.distance_mm / source.sad_mm * (source.sad_mm - source.distance_mm) / way
        sigma = of_edge * sigma_mm
        slopes[k] = (pair.distance_mm - source.distance_mm) / way / sigma
        low[k], high[k] = of_edge * pair.low_mm / sigma, of_edge * pair.high_mm / sigma
    share = np.empty((intervals, points_mm.size))
    _fill_share(points_mm, slopes, low, high, share)
    return share


@njit(cache=True, nogil=True)
def _below(z):  # type: ignore[no-untyped-def]
    """Return the normal distribution's share below z; 0 or 1 where a double hardly tells the difference."""
    if z >= _ALL:
        return 1.0
    return 0.0 if z <= -_ALL else 0.5 * math.erfc(-z * _SQRT_HALF)


@njit(cache=True, nogil=True)
def _fill_share(points, slopes, low, high, share):  # type: ignore[no-untyped-def]
    for i in range(share.shape[0]):
        for n in range(share.shape[1]):
            left, right = -np.inf, np.inf
            for k in range(slopes.size):
                here = slopes[k] * points[n]
                left, right = max(left, low[k, i] - here), min(right, high[k, i] - here)
            share[i, n] = _below(right) - _below(left) if right > left else 0.0


def lit(
    points_mm: Floats, step_mm: float, source: Source, edges: Sequence[Edges], blur_mm: float = 0.0, read_mm: float = 0.0
) -> Floats:
    """Return (m, n): what pixels of size `step_mm` get from a small source through m intervals.

    The map is read bilinearly between pixel centres, which widens an edge by step^2 / 6 (a pixel's mean by step^2 / 12
    more); that much less is blurred. Of a point source the covered share of every pixel is exact.

    Parameters
    ----------
    blur_mm : further Gaussian sigma of every edge on the isocentre plane
    read_mm : spacing of the cells between which the result is read linearly in the end. That widens an edge by
        read^2 / 6, which is taken off a source wide enough to spare it
    """
    if source.sigma_mm == 0:
        low = np.max(np.broadcast_arrays(*(e.low_mm for e in edges)), axis=0)
        high = np.min(np.broadcast_arrays(*(e.high_mm for e in edges)), axis=0)
        upper = np.minimum(points_mm + step_mm / 2, high[:, None])
        share = np.maximum(upper - np.maximum(points_mm - step_mm / 2, low[:, None]), 0.0) / step_mm
        rest = blur_mm * blur_mm - step_mm * step_mm / 4
        if rest > 0:
            share = gaussian_filter1d(share, np.sqrt(rest) / step_mm, axis=1, mode="nearest")
        return share
    # Each pair by itself: a jaw's penumbra does not change because leaves, with a finer one, stand behind it.
    sigmas = []
    for pair in edges:
        image = source.image_mm(pair.distance_mm)
        wanted = max(image**2 + blur_mm**2 - read_mm**2 / 6, blur_mm**2) - step_mm**2 / 6
        sigmas.append(float(np.sqrt(max(wanted, (_SHARPEST_PIXELS * step_mm) ** 2))))
    return _between(points_mm, source, edges, sigmas)
