"""From an aperture to the energy fluence it lets through, as a map on the isocentre plane in device axes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.values import own_array
from engine.beams.beam import Aperture
from engine.beams.machine import Machine
from engine.beams.openings import Openings, openings
from engine.beams.optics import SIGMA_PER_FWHM, Edges, Source, lit, seen

Floats = NDArray[np.float64]

NO_HARDENING: NDArray[np.float32] = np.empty((0, 0), np.float32)

# How far the map goes beyond the jaws; further out its last value holds. Head scatter reaches further than edges do.
_RIM_MM, _SCATTER_RIM_MM = 60.0, 100.0
_REFERENCE = Aperture((-50.0, 50.0), (-50.0, 50.0))
_AXIS = np.zeros(1)


@dataclass(frozen=True, eq=False)
class FluenceMap:
    """Planar energy fluence relative to the axis of the reference field, on the isocentre plane.

    Parameters
    ----------
    fluence : (ny, nx) float32, bilinear between pixel centres, its edge values hold beyond
    contamination : (ny, nx) float32, the blurred aperture that scales contaminant dose (all zero without)
    first_mm, step_mm : centre (x, y) of pixel [0, 0], and the pixel size
    hardening_g_cm2 : (ny, nx) float32, or empty: depth of water that hardens the spectrum as a wedge does there. Release
        is read at depth + hardening; `fluence` carries the factor that makes the product right at depth 0
    """

    fluence: NDArray[np.float32]
    contamination: NDArray[np.float32]
    first_mm: tuple[float, float]
    step_mm: float
    hardening_g_cm2: NDArray[np.float32] = field(default_factory=lambda: NO_HARDENING)

    @property
    def x_mm(self) -> Floats:
        """Pixel centres along X."""
        return self.first_mm[0] + self.step_mm * np.arange(self.fluence.shape[1], dtype=np.float64)

    @property
    def y_mm(self) -> Floats:
        """Pixel centres along Y."""
        return self.first_mm[1] + self.step_mm * np.arange(self.fluence.shape[0], dtype=np.float64)

    def at(self, x_mm: float, y_mm: float) -> float:
        """Return the fluence at one point of the isocentre plane."""
        c = np.clip((x_mm - self.first_mm[0]) / self.step_mm, 0, self.fluence.shape[1] - 1)
        r = np.clip((y_mm - self.first_mm[1]) / self.step_mm, 0, self.fluence.shape[0] - 1)
        i, j = min(int(r), self.fluence.shape[0] - 2), min(int(c), self.fluence.shape[1] - 2)
        f, g = r - i, c - j
        v = self.fluence[i : i + 2, j : j + 2].astype(np.float64)
        return float((v[0, 0] * (1 - g) + v[0, 1] * g) * (1 - f) + (v[1, 0] * (1 - g) + v[1, 1] * g) * f)


@lru_cache(maxsize=8)
def fluence_map(aperture: Aperture, machine: Machine, blur_mm: float = 0.0, read_mm: float = 0.0) -> FluenceMap:
    """Return the fluence behind an aperture, without a wedge; remembered, for a gantry may turn about it.

    Parameters
    ----------
    blur_mm : Gaussian sigma added for the size of the cells that dose is computed in, so that an edge moves smoothly
        through them
    read_mm : spacing of those cells if dose is read linearly between them; see ``optics.lit``

    Notes
    -----
    Every point sees the focal spot and the extra-focal plane through the jaws and the leaves, each at its distance, in
    closed form (``optics``). Scatter from the jaws and leaves themselves is not modelled.
    """
    shape = openings(aperture, machine)
    spots = [Source(0.0, fwhm * SIGMA_PER_FWHM, machine.sad_mm) for fwhm in machine.focal_fwhm_mm]
    sharpest = float(np.hypot(blur_mm, min(s.image_mm(shape.lowest_mm) for s in spots)))
    step = 1.0 if sharpest >= 0.65 else 0.5
    rim = _SCATTER_RIM_MM if machine.extra_focal_share else _RIM_MM
    x, y = (_pixels(lo - rim, hi + rim, step) for lo, hi in (aperture.x_mm, aperture.y_mm))
    direct = shape.let_through(
        lambda edges: lit(x, step, spots[0], edges, blur_mm, read_mm),
        lambda edges: lit(y, step, spots[1], edges, blur_mm, read_mm),
    )
    output, scattered = monitor_output(aperture, machine), machine.extra_focal_share
    if machine.horn_mm:
        direct *= _horn(machine, (float(x[0]), float(y[0])), step, direct.shape)
    direct *= (1 - scattered) * output
    if scattered:
        direct += _head_scatter(shape, machine, x, y, scattered * output / _reference_view(machine))
    soft = np.zeros_like(direct)
    if machine.contamination_share:
        soft = _contaminants(shape, machine, x, y, output)
    return FluenceMap(direct.astype(np.float32), soft.astype(np.float32), (float(x[0]), float(y[0])), step)


def mixed(openings: Sequence[tuple[float, Aperture]], machine: Machine, blur_mm: float, read_mm: float) -> FluenceMap:
    """Return the sum of the fluences behind several apertures, each with its share of the monitor units.

    Each has its own head scatter and output per monitor unit. A single one with share 1 gives just its map.
    """
    maps = [fluence_map(aperture, machine, blur_mm, read_mm) for _, aperture in openings]
    if len(maps) == 1 and openings[0][0] == 1.0:
        return maps[0]
    # All maps have pixels at whole steps, so they lie on one grid; beyond its edge each goes on as it ends.
    step = maps[0].step_mm
    ends = [
        (round(m.first_mm[a] / step), round(m.first_mm[a] / step) + m.fluence.shape[1 - a]) for m in maps for a in (0, 1)
    ]
    (x0, x1), (y0, y1) = ((min(e[0] for e in ends[a::2]), max(e[1] for e in ends[a::2])) for a in (0, 1))
    fluence, soft = np.zeros((y1 - y0, x1 - x0), np.float64), np.zeros((y1 - y0, x1 - x0), np.float64)
    for (share, _), one, (c0, c1), (r0, r1) in zip(openings, maps, ends[::2], ends[1::2], strict=True):
        rim = ((r0 - y0, y1 - r1), (c0 - x0, x1 - c1))
        fluence += share * np.pad(one.fluence, rim, mode="edge")
        soft += share * np.pad(one.contamination, rim, mode="edge")
    return FluenceMap(fluence.astype(np.float32), soft.astype(np.float32), (x0 * step, y0 * step), step)


def _pixels(low: float, high: float, step: float) -> Floats:
    first, last = np.floor(low / step), np.ceil(high / step)
    return step * np.arange(first, last + 1)


def transmission(aperture: Aperture, machine: Machine, x_mm: Floats, y_mm: Floats, step_mm: float) -> Floats:
    """Return the mean transmission (ny, nx) of pixels of size `step_mm` from a point source; exact area shares."""
    point = Source(0.0, 0.0, machine.sad_mm)
    return openings(aperture, machine).let_through(
        lambda edges: lit(x_mm, step_mm, point, edges), lambda edges: lit(y_mm, step_mm, point, edges)
    )


@lru_cache(maxsize=4)
def _horn(machine: Machine, first_mm: tuple[float, float], step_mm: float, shape: tuple[int, int]) -> Floats:
    """Return (ny, nx) the fluence off the axis; remembered, for a leaf may move within it."""
    x, y = (at + step_mm * np.arange(n) for at, n in zip(first_mm, shape[::-1], strict=True))
    return own_array(np.interp(np.hypot(x[None, :], y[:, None]), machine.horn_mm, machine.horn_fluence))


def _head_scatter(shape: Openings, machine: Machine, x: Floats, y: Floats, worth: float) -> Floats:
    """Return `worth` times the share of the extra-focal plane that every point (ny, nx) sees."""
    sigma = machine.extra_focal_fwhm_mm * SIGMA_PER_FWHM
    source = Source(machine.extra_focal_distance_mm, sigma, machine.sad_mm)
    ys, xs = shape.views(lambda edges: seen(x, source, edges), lambda edges: seen(y, source, edges), fine=False)
    return (worth * ys).T @ xs


@lru_cache(maxsize=4)
def _reference_view(machine: Machine) -> float:
    """Return the share of the extra-focal plane that the axis sees through the reference field."""
    return float(_head_scatter(openings(_REFERENCE, machine), machine, _AXIS, _AXIS, 1.0)[0, 0])


def _contaminants(shape: Openings, machine: Machine, x: Floats, y: Floats, worth: float) -> Floats:
    """Return the aperture blurred by the spread of contaminants, one width for every edge; a part of it by the core's."""
    core = machine.contamination_core_share
    ys, xs = _blurred(shape, machine, machine.contamination_spread_mm, x, y)
    if not core:
        return (worth * ys).T @ xs
    more_ys, more_xs = _blurred(shape, machine, machine.contamination_core_mm, x, y)
    both = np.concatenate([worth * (1 - core) * ys, worth * core * more_ys])
    return both.T @ np.concatenate([xs, more_xs])


def _blurred(shape: Openings, machine: Machine, sigma_mm: float, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    # Half way down, an edge's image of a source is as wide as the source.
    half, source = machine.sad_mm / 2, Source(0.0, sigma_mm, machine.sad_mm)

    def view(points: Floats, edges: list[Edges]) -> Floats:
        return seen(points, source, [Edges(half, e.low_mm, e.high_mm) for e in edges])

    return shape.views(lambda edges: view(x, edges), lambda edges: view(y, edges), fine=False)


def monitor_output(aperture: Aperture, machine: Machine) -> float:
    """Return the output per monitor unit relative to the reference field, as back-scatter to the monitor changes it.

    What the jaws throw back ends a monitor unit earlier: output = (1 + B(reference)) / (1 + B(aperture)), with B linear in
    the covered area, weighed by the inverse square of the distance of the jaws that cover it.
    """
    if not machine.monitor_backscatter:
        return 1.0
    return (1 + _thrown_back(_REFERENCE, machine)) / (1 + _thrown_back(aperture, machine))


def _thrown_back(aperture: Aperture, machine: Machine) -> float:
    whole = 2 * machine.field_limit_mm
    upper, lower = aperture.y_mm, aperture.x_mm
    if machine.upper_jaws == "X":
        upper, lower = lower, upper
    open_upper, open_lower = (float(np.clip((p[1] - p[0]) / whole, 0.0, 1.0)) for p in (upper, lower))
    closeness = (machine.upper_jaw_mm / machine.lower_jaw_mm) ** 2
    return machine.monitor_backscatter * ((1 - open_upper) + closeness * open_upper * (1 - open_lower))
