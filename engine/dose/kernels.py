"""Point kernels of a spectrum, gathered into cones about the ray, with one exponential per component and cone.

The tables in assets/kernels give, for single energies in water, where the energy goes that photons lose at a point:
shares by component, angle to the photon's direction, and radius. ``beam_kernel`` weights them with a machine's
spectrum and gathers them into rings of cones about the beam axis.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

import assets
from engine.base.errors import InputError
from engine.base.values import Fingerprint
from engine.beams.machine import Machine
from engine.dose.collapse import Cones
from engine.dose.source import Release, release, spectrum

Floats = NDArray[np.float64]

POINTS_FILE = "kernels/water_points.npz"


@dataclass(frozen=True)
class Rings:
    """Rings of cones about the ray.

    Parameters
    ----------
    edges_deg : n + 1 polar angles from 0 to 180
    counts : cones of each ring, equal in azimuth; a single cone about the ray runs along it
    """

    edges_deg: tuple[float, ...]
    counts: tuple[int, ...]


# Dense forward, where energy goes and beam edges form; see the convergence table in the contributor's guide. The borders
# of the scatter's rings were moved by a search until the axis of fields of 4 to 10 cm was smoothest.
PRIMARY_RINGS = Rings((0.0, 10.0, 22.0, 36.0, 55.0, 85.0, 180.0), (8, 12, 12, 12, 12, 4))
SCATTER_RINGS = Rings(
    (0.0, 3.8, 9.2, 15.6, 25.2, 33.4, 40.4, 66.4, 76.4, 98.4, 122.5, 153.2, 180.0),
    (4, 16, 20, 24, 24, 24, 24, 20, 12, 8, 8, 4),
)
# Kernels have the shape of the spectrum at these depths; how energy splits between the components follows the depth.
# Primary energy shows its shape where dose builds up, scatter where most of it is.
SHAPE_DEPTHS_G_CM2 = (2.0, 10.0)
# Reach of the fits (cm), weight of far radii, and energy that may count back; see ``_fit``.
_FIT_PRIMARY, _FIT_SCATTER = (6.0, 10.0, 0.003), (30.0, 1.0, 0.0)
_TILT = 0.1
_GOLDEN = 0.6180339887


@dataclass(frozen=True)
class PointKernels:
    """Shares of the energy lost at a point in water; see ``load_points`` for the axes."""

    energy_mev: Floats
    angle_edges_deg: Floats
    radius_edges_cm: Floats
    share: Floats
    escaped: Floats

    def primary_share(self, energy_mev: Floats) -> Floats:
        """Return the share of the primary component by photon energy (all radii)."""
        total = self.share[:, 0].sum(axis=(1, 2)) + self.escaped[:, 0]
        whole = self.share.sum(axis=(1, 2, 3)) + self.escaped.sum(axis=1)
        return np.interp(np.log(energy_mev), np.log(self.energy_mev), total / whole)


@dataclass(frozen=True)
class BeamKernel:
    """What transport needs of a machine.

    Parameters
    ----------
    primary : cones on the lattice of a fan, whose axes are (away from the source, Y, X) and whose rays never lean
    scatter : cones in device axes (X, Y, Z to the source), with weights that lean with the ray
    release : TERMA and its primary share by depth and angle
    """

    primary: Cones
    scatter: Cones
    release: Release


@lru_cache(maxsize=1)
def load_points() -> PointKernels:
    """Load the shipped point kernels.

    Returns
    -------
    PointKernels
        energy_mev (n,), angle_edges_deg (m + 1,), radius_edges_cm (r + 1,), share (n, 5, m, r) with the components
        primary, first, second, multiple scatter, bremsstrahlung and annihilation; escaped (n, 5) beyond the last radius
    """
    path = assets.path(POINTS_FILE)
    if not path.is_file():
        raise InputError("the kernel tables are missing", str(path), "Install the program again.")
    with np.load(path) as file:
        names = ("energy_mev", "angle_edges_deg", "radius_edges_cm", "share", "escaped")
        return PointKernels(*(np.asarray(file[name], dtype=np.float64) for name in names))


@lru_cache(maxsize=1)
def tables_fingerprint() -> Fingerprint:
    """Return the hash of every shipped table that dose depends on (read once)."""
    digest = hashlib.sha256()
    for path in (assets.path(POINTS_FILE), *sorted(assets.path("physics").glob("*.csv"))):
        digest.update(path.name.encode())
        digest.update(path.read_bytes() if path.is_file() else b"")
    return digest.hexdigest()


def ring_directions(rings: Rings, spread: bool = False) -> tuple[Floats, NDArray[np.intp]]:
    """Return directions (cones, 3) about +Z, and the ring of each cone.

    Azimuths are laid so that the set is its own mirror image in X and in Y.

    Parameters
    ----------
    spread : cones of a ring of 8, 16, 24 stand at polar angles of their own, spread evenly over the ring in solid angle
        (mirror images at one). Else all at one, and what they bring to the axis of a narrow beam comes in steps of depth
    """
    directions, ring_of = [], []
    for ring, (low, high, count) in enumerate(zip(rings.edges_deg, rings.edges_deg[1:], rings.counts, strict=False)):
        azimuth = 2 * np.pi * (np.arange(count) + 0.5) / count
        place = np.full(count, 0.5)
        if spread and count % 8 == 0:
            # Which of the mirror images in the first octant a cone belongs to; neighbours take places far apart.
            image = np.arange(count) % (count // 2)
            image = np.minimum(image, count // 2 - 1 - image)
            image = np.minimum(image, count // 4 - 1 - image)
            order = np.argsort(np.argsort((np.arange(count // 8) * _GOLDEN + 0.5) % 1.0))
            place = (order[image] + 0.5) / order.size
        inner, outer = np.cos(np.deg2rad(low)), np.cos(np.deg2rad(high))
        cosine = np.where(count == 1, 1.0, inner + (outer - inner) * place)
        sine = np.sqrt(1 - cosine**2)
        directions.append(np.stack([sine * np.cos(azimuth), sine * np.sin(azimuth), cosine], axis=1))
        ring_of.append(np.full(count, ring))
    return np.concatenate(directions), np.concatenate(ring_of)


@lru_cache(maxsize=16)
def beam_kernel(machine: Machine) -> BeamKernel:
    """Return the cone kernel and release table of a machine's spectrum."""
    return _beam_kernel(load_points(), machine)


def _beam_kernel(points: PointKernels, machine: Machine) -> BeamKernel:
    beam = spectrum(machine)
    mixes = [_energy_weights(points.energy_mev, beam.energy_mev, beam.after(d)) for d in SHAPE_DEPTHS_G_CM2]
    primary = np.tensordot(mixes[0], points.share[:, 0], axes=1)
    scatter = np.tensordot(mixes[1], points.share[:, 1:].sum(axis=1), axes=1)
    edges = points.angle_edges_deg, points.radius_edges_cm
    lost = float(mixes[0] @ points.escaped[:, 0]), float(mixes[1] @ points.escaped[:, 1:].sum(axis=1))
    away = np.array([1.0, 1.0, -1.0])
    return BeamKernel(
        # The fan's axes are (away from the source, Y, X).
        _cones(PRIMARY_RINGS, *edges, primary, lost[0], _FIT_PRIMARY, lambda d: d[:, [2, 1, 0]], True),
        _cones(SCATTER_RINGS, *edges, scatter, lost[1], _FIT_SCATTER, lambda d: d * away, False),
        release(machine, points.primary_share),
    )


def _cones(
    rings: Rings,
    angle_edges_deg: Floats,
    radius_edges_cm: Floats,
    part: Floats,
    escaped: float,
    fit: tuple[float, float, float],
    turn: Callable[[Floats], Floats],
    long_steps: bool,
) -> Cones:
    """Gather the energy (angles, radii) of one component into the cones of some rings."""
    around, ring_of = ring_directions(rings, spread=not long_steps)
    beyond = escaped / part.sum()
    by_angle = part.sum(axis=1)
    weights = _tilted_weights(rings, angle_edges_deg, by_angle / by_angle.sum())
    shares, attenuation = np.empty((len(around), 2)), np.empty((len(around), 2))
    for ring, (low, high) in enumerate(pairwise(rings.edges_deg)):
        inside = _bin_overlap(angle_edges_deg, low, high) @ part
        shares[ring_of == ring], attenuation[ring_of == ring] = _fit(radius_edges_cm, inside, beyond, *fit)
    return Cones(turn(around), weights, shares, attenuation, long_steps)


def _energy_weights(table_mev: Floats, energy_mev: Floats, weight: Floats) -> Floats:
    """Return the weight of each tabulated energy that stands for a spectrum, by linear interpolation in log energy."""
    place = np.interp(np.log(energy_mev), np.log(table_mev), np.arange(table_mev.size))
    low = np.minimum(place.astype(np.intp), table_mev.size - 2)
    mix = np.zeros(table_mev.size)
    np.add.at(mix, low, weight * (1 - (place - low)))
    np.add.at(mix, low + 1, weight * (place - low))
    return mix


def _bin_overlap(edges_deg: Floats, low_deg: float, high_deg: float) -> Floats:
    """Return the share of each angular bin inside low..high, by solid angle."""
    lower, upper = np.maximum(edges_deg[:-1], low_deg), np.minimum(edges_deg[1:], high_deg)
    cut = np.cos(np.deg2rad(lower)) - np.cos(np.deg2rad(np.maximum(lower, upper)))
    return cut / -np.diff(np.cos(np.deg2rad(edges_deg)))


def _fit(
    radius_edges_cm: Floats, energy: Floats, escaped: float, reach_cm: float, far_weight: float, below_zero: float
) -> tuple[Floats, Floats]:
    """Return shares (1 + b, -b) and attenuations (a, c) in 1/cm at unit density of two exponentials.

    Their sum (1 + b) (1 - exp(-a r)) - b (1 - exp(-c r)) is nearest the energy within radius r by least squares up to
    `reach_cm`, over ladders of a < c with the best b for each. b > 0 makes the energy set in slowly, as electrons that
    run forward and photons scattered more than once do; b < -1 ends it soon, as the range of electrons does.

    Parameters
    ----------
    energy : by shell; `escaped` is what lies beyond the last shell relative to all inside
    far_weight : weight of radii beyond twice the mean one: what is too far there leaves narrow fields
    below_zero : share of the energy that the sum may give back along a path
    """
    within = np.cumsum(energy) / (energy.sum() * (1 + escaped))
    radius = np.linspace(0.0, min(reach_cm, radius_edges_cm[-1]), 181)
    truth = np.interp(radius, radius_edges_cm, np.concatenate([[0.0], within]))
    mean = float(np.sum(1 - truth) * (radius[1] - radius[0]))
    weight = np.where(radius > 2 * mean, far_weight, 1.0)
    slow = np.geomspace(0.25, 5.0, 70) / mean
    ratio = np.geomspace(1.12, 12.0, 50)
    fall = 1 - np.exp(-np.outer(slow, radius))[:, None]
    fast = 1 - np.exp(-(slow[:, None] * ratio)[..., None] * radius)
    bend = fall - fast
    miss = truth - fall
    b = (miss * bend) @ weight / ((bend * bend) @ weight)
    # No energy below zero where a path starts.
    b = np.minimum(b, 0.999 / (ratio - 1))
    a, c = slow[:, None], slow[:, None] * ratio
    with np.errstate(divide="ignore", invalid="ignore"):
        turns = np.log(b * c / ((1 + b) * a)) / (c - a)
        back = np.where(b < -1, -(1 + b) * np.exp(-a * turns) + b * np.exp(-c * turns), 0.0)
    wrong = (miss - b[..., None] * bend) ** 2 @ weight
    wrong = np.where((back <= below_zero) & (np.abs(b) < 8), wrong, np.inf)
    i, j = np.unravel_index(int(np.argmin(wrong)), wrong.shape)
    return np.array([1 + b[i, j], -b[i, j]]), np.array([slow[i], slow[i] * ratio[j]])


def _tilted_weights(rings: Rings, angle_edges_deg: Floats, energy: Floats) -> Floats:
    """Return (cones, 3): energy per cone, and its change with the tangents of a ray that leans to +X or +Y.

    Energy by angle to the ray is turned with the ray and counted in the cells of the fixed cones; a symmetric
    difference at a tangent of 0.1 (a ray 100 mm off the axis) gives the slopes, which sum to zero.
    """
    fine = np.arange(0.25, 180.0, 0.5)
    at = np.clip(np.searchsorted(angle_edges_deg, fine, side="right") - 1, 0, energy.size - 1)
    solid = np.cos(np.deg2rad(fine - 0.25)) - np.cos(np.deg2rad(fine + 0.25))
    whole = np.bincount(at, solid, energy.size)
    density = energy[at] * solid / whole[at]
    # Never on the border of a cell, and as symmetric as the cones are.
    azimuth = np.deg2rad(np.arange(0.75, 360.0, 1.5))
    sine, cosine = np.sin(np.deg2rad(fine)), np.cos(np.deg2rad(fine))
    points = np.stack(
        [
            np.outer(sine, np.cos(azimuth)),
            np.outer(sine, np.sin(azimuth)),
            np.broadcast_to(cosine[:, None], (fine.size, azimuth.size)),
        ],
        axis=-1,
    ).reshape(-1, 3)
    amount = np.repeat(density / azimuth.size, azimuth.size)
    flat = _count(rings, points, amount)
    slopes = []
    for axis in (0, 1):
        lean = []
        for sign in (1.0, -1.0):
            angle = sign * np.arctan(_TILT)
            turned = points.copy()
            turned[:, axis] = points[:, axis] * np.cos(angle) + points[:, 2] * np.sin(angle)
            turned[:, 2] = points[:, 2] * np.cos(angle) - points[:, axis] * np.sin(angle)
            lean.append(_count(rings, turned, amount))
        slopes.append((lean[0] - lean[1]) / (2 * _TILT))
    return np.stack([flat, *slopes], axis=1)


def _count(rings: Rings, points: Floats, amount: Floats) -> Floats:
    """Return the energy in the cell (ring and azimuth sector) of each cone."""
    polar = np.rad2deg(np.arccos(np.clip(points[:, 2], -1, 1)))
    ring = np.clip(np.searchsorted(rings.edges_deg, polar, side="right") - 1, 0, len(rings.counts) - 1)
    count = np.array(rings.counts)[ring]
    turn = np.arctan2(points[:, 1], points[:, 0]) / (2 * np.pi) % 1.0
    cell = np.minimum((turn * count).astype(np.intp), count - 1)
    first = np.concatenate([[0], np.cumsum(rings.counts)])[ring]
    return np.bincount(first + cell, amount, sum(rings.counts)).astype(np.float64)
