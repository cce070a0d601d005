"""From an aperture to the energy fluence it lets through, as a map on the isocentre plane in device axes."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d

from engine.beams.beam import Aperture
from engine.beams.machine import Machine

Floats = NDArray[np.float64]

NO_HARDENING: NDArray[np.float32] = np.empty((0, 0), np.float32)

_RIM_MM = 60.0
_REFERENCE = Aperture((-50.0, 50.0), (-50.0, 50.0))
_SIGMA_PER_FWHM = 1 / (2 * np.sqrt(2 * np.log(2)))


@dataclass(frozen=True)
class FluenceMap:
    """Planar energy fluence relative to the axis of the reference field, on the isocentre plane.

    Parameters
    ----------
    fluence : (ny, nx) float32, bilinear between pixel centres, its edge values hold beyond
    contamination : (ny, nx) float32, the blurred aperture that scales contaminant dose (all zero without)
    hardening_g_cm2 : (ny, nx) float32, or empty: depth of water that hardens the spectrum as a wedge does there. Release
        is read at depth + hardening; `fluence` carries the factor that makes the product right at depth 0
    first_mm, step_mm : centre (x, y) of pixel [0, 0], and the pixel size
    """

    fluence: NDArray[np.float32]
    contamination: NDArray[np.float32]
    first_mm: tuple[float, float]
    step_mm: float
    hardening_g_cm2: NDArray[np.float32] = field(default_factory=lambda: NO_HARDENING)

    def at(self, x_mm: float, y_mm: float) -> float:
        """Return the fluence at one point of the isocentre plane."""
        c = np.clip((x_mm - self.first_mm[0]) / self.step_mm, 0, self.fluence.shape[1] - 1)
        r = np.clip((y_mm - self.first_mm[1]) / self.step_mm, 0, self.fluence.shape[0] - 1)
        i, j = min(int(r), self.fluence.shape[0] - 2), min(int(c), self.fluence.shape[1] - 2)
        f, g = r - i, c - j
        v = self.fluence[i : i + 2, j : j + 2].astype(np.float64)
        return float((v[0, 0] * (1 - g) + v[0, 1] * g) * (1 - f) + (v[1, 0] * (1 - g) + v[1, 1] * g) * f)


def fluence_map(aperture: Aperture, machine: Machine, blur_mm: float = 0.0) -> FluenceMap:
    """Return the fluence behind an aperture.

    Parameters
    ----------
    blur_mm : Gaussian sigma added for the size of the dose voxels, so that a field edge moves smoothly through them

    Notes
    -----
    The open area of every pixel is exact. The focal spot blurs it by its image at the isocentre plane. Head scatter is
    the part of a Gaussian extra-focal plane that the point sees through the aperture (one plane stands for jaws and
    leaves together). Monitor back-scatter is not modelled.
    """
    spot = [
        f * _SIGMA_PER_FWHM * (machine.sad_mm - machine.collimator_mm) / machine.collimator_mm
        for f in machine.focal_fwhm_mm
    ]
    sharpest = float(np.hypot(blur_mm, min(spot)))
    step = 1.0 if sharpest >= 0.65 else 0.5
    x, y = (_pixels(lo, hi, step) for lo, hi in (aperture.x_mm, aperture.y_mm))
    passed = transmission(aperture, machine, x, y, step)
    # Pixel box and bilinear reading widen an edge by a quarter of a pixel squared in all; that much less is blurred.
    own = step * step / 4
    direct = passed
    for axis, sigma in ((1, spot[0]), (0, spot[1])):
        rest = sigma * sigma + blur_mm * blur_mm - own
        if rest > 0:
            direct = gaussian_filter1d(direct, np.sqrt(rest) / step, axis=axis, mode="nearest")
    if machine.horn_mm:
        direct = direct * np.interp(np.hypot(x[None, :], y[:, None]), machine.horn_mm, machine.horn_fluence)
    if machine.extra_focal_share:
        share = machine.extra_focal_share
        direct = (1 - share) * direct + share * _head_scatter(passed, machine, x, y, step) / _reference_view(machine)
    soft = np.zeros_like(direct)
    if machine.contamination_share:
        soft = passed
        for axis in (0, 1):
            soft = gaussian_filter1d(soft, machine.contamination_spread_mm / step, axis=axis, mode="nearest")
    return FluenceMap(direct.astype(np.float32), soft.astype(np.float32), (float(x[0]), float(y[0])), step)


def _pixels(low: float, high: float, step: float) -> Floats:
    first, last = np.floor((low - _RIM_MM) / step), np.ceil((high + _RIM_MM) / step)
    return step * np.arange(first, last + 1)


def transmission(aperture: Aperture, machine: Machine, x_mm: Floats, y_mm: Floats, step_mm: float) -> Floats:
    """Return the mean transmission (ny, nx) of pixels of size `step_mm` about the centres; exact area shares."""
    jaw_x, jaw_y = _covered(x_mm, step_mm, aperture.x_mm), _covered(y_mm, step_mm, aperture.y_mm)
    inside = np.outer(jaw_y, jaw_x)
    if aperture.leaves_mm:
        open_area = np.zeros_like(inside)
        back = machine.leaf_end_offset_mm
        edges = aperture.leaf_edges_mm
        for low, high, (left, right) in zip(edges, edges[1:], aperture.leaves_mm, strict=False):
            rows = _covered(y_mm, step_mm, (max(low, aperture.y_mm[0]), min(high, aperture.y_mm[1])))
            span = np.flatnonzero(rows)
            if span.size == 0 or (right <= left and back == 0):
                continue
            gap = (max(left - back, aperture.x_mm[0]), min(right + back, aperture.x_mm[1]))
            open_area[span] += np.outer(rows[span], _covered(x_mm, step_mm, gap))
        inside_jaws = open_area + machine.leaf_transmission * (inside - open_area)
    else:
        inside_jaws = inside
    return inside_jaws + machine.jaw_transmission * (1 - inside)


def _covered(centres: Floats, step: float, span: tuple[float, float]) -> Floats:
    """Return the share of each pixel inside an interval (none if it is empty)."""
    upper = np.minimum(centres + step / 2, span[1])
    return np.maximum(upper - np.maximum(centres - step / 2, span[0]), 0.0) / step


def _scatter_optics(machine: Machine) -> tuple[float, float]:
    """Return sigma of the extra-focal plane seen on the isocentre plane, and how far off axis a point looks.

    A point x on the isocentre plane sees through the collimator position X (at the isocentre plane) the place
    x (1 - k) + X k c of the extra-focal plane, with k = (SAD - z_e) / (SAD - z_c), c = z_c / SAD.
    """
    k = (machine.sad_mm - machine.extra_focal_distance_mm) / (machine.sad_mm - machine.collimator_mm)
    c = machine.collimator_mm / machine.sad_mm
    return machine.extra_focal_fwhm_mm * _SIGMA_PER_FWHM / (k * c), (k - 1) / (k * c)


def _head_scatter(passed: Floats, machine: Machine, x: Floats, y: Floats, step: float) -> Floats:
    sigma, lens = _scatter_optics(machine)
    seen = passed
    for axis, at in ((0, y), (1, x)):
        seen = gaussian_filter1d(seen, sigma / step, axis=axis, mode="nearest")
        where = np.clip((lens * at - at[0]) / step, 0, at.size - 1)
        low = np.minimum(where.astype(np.intp), at.size - 2)
        f = where - low
        f = f[:, None] if axis == 0 else f[None, :]
        seen = np.take(seen, low, axis) * (1 - f) + np.take(seen, low + 1, axis) * f
    return seen


def _reference_view(machine: Machine) -> float:
    """Return the share of the extra-focal plane that the axis sees through the reference field."""
    x = _pixels(*_REFERENCE.x_mm, 1.0)
    passed = transmission(_REFERENCE, machine, x, x, 1.0)
    seen = _head_scatter(passed, machine, x, x, 1.0)
    middle = int(np.argmin(np.abs(x)))
    return float(seen[middle, middle])
