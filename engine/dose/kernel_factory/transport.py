"""Histories of photons that interact at the origin of unbounded water, and where their energy ends (compiled)."""

from __future__ import annotations

import random

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.dose.kernel_factory import water
from engine.dose.kernel_factory.events import (
    MC2,
    Direction,
    anywhere,
    compton,
    emission_cosine,
    knock_on,
    photoelectron_cosine,
    turn,
)
from engine.dose.kernel_factory.water import Water

Floats = NDArray[np.float64]

PHOTON, ELECTRON, POSITRON = 0, 1, 2
PRIMARY, MULTIPLE, RADIATED = 0, 3, 4

FINE_DEG, COARSE_DEG, FINE_BINS, COARSE_BINS = 2.5, 5.0, 24, 24
ANGLE_BINS = FINE_BINS + COARSE_BINS
FIRST_CM, LAST_CM, RADIUS_BINS = 0.01, 60.0, 81
DEPTH_BIN_CM = 0.05
_RADIUS_SCALE = (RADIUS_BINS - 1) / np.log(LAST_CM / FIRST_CM)
_KEEP_RANGE = 0.02
_SMALLEST_CM = 0.001
_CUT_PHOTON = water.CUT_PHOTON_MEV
_CUT_ELECTRON = water.CUT_ELECTRON_MEV
_CUT_KNOCK_ON = water.CUT_KNOCK_ON_MEV
_CUT_RADIATION = water.CUT_RADIATION_MEV
_LOCAL = water.LOCAL_MEV


def angle_edges_deg() -> Floats:
    """Return the bin edges of the angle to the primary photon, 0 to 180 degrees."""
    fine = FINE_DEG * np.arange(FINE_BINS)
    return np.concatenate([fine, FINE_DEG * FINE_BINS + COARSE_DEG * np.arange(COARSE_BINS + 1)])


def radius_edges_cm() -> Floats:
    """Return the bin edges of the distance from the interaction: 0, then logarithmic from 0.01 to 60 cm."""
    return np.concatenate([[0.0], np.geomspace(FIRST_CM, LAST_CM, RADIUS_BINS)])


@njit(cache=True, nogil=True)
def _score(dose: Floats, category: int, x: float, y: float, z: float, energy: float) -> None:
    if dose.shape[0] == 1:
        # A single category means the depth tally of ``depth_histories``: charged particles only, by z.
        layer = int(np.floor(z / DEPTH_BIN_CM))
        if category != RADIATED and 0 <= layer < dose.shape[1]:
            dose[0, layer, 0] += energy
        return
    r = np.sqrt(x * x + y * y + z * z)
    if r < FIRST_CM:
        ring = 0
    elif r >= LAST_CM:
        ring = RADIUS_BINS
    else:
        ring = min(1 + int(np.log(r / FIRST_CM) * _RADIUS_SCALE), RADIUS_BINS - 1)
    degrees = 180.0 * random.random()
    if r > 0.0:
        degrees = np.degrees(np.arccos(min(1.0, max(-1.0, z / r))))
    if degrees < FINE_DEG * FINE_BINS:
        cone = int(degrees / FINE_DEG)
    else:
        cone = min(FINE_BINS + int((degrees - FINE_DEG * FINE_BINS) / COARSE_DEG), ANGLE_BINS - 1)
    dose[category, cone, ring] += energy


@njit(cache=True, nogil=True)
def _push(
    stack: Floats, top: int, kind: int, category: int, energy: float, x: float, y: float, z: float, way: Direction
) -> int:
    stack[top, 0], stack[top, 1], stack[top, 2] = kind, category, energy
    stack[top, 3], stack[top, 4], stack[top, 5] = x, y, z
    stack[top, 6], stack[top, 7], stack[top, 8] = way
    return top + 1


@njit(cache=True, nogil=True)
def _photon_event(
    data: Water, stack: Floats, top: int, category: int, energy: float, x: float, y: float, z: float, way: Direction
) -> int:
    """Let a photon interact where it is; push what leaves. Recoil electrons belong to the photon's category."""
    at = (np.log(energy) - data.photon_start) * data.photon_scale
    i = min(max(int(at), 0), len(data.mu_cm) - 2)
    f = at - i
    chance = random.random()
    azimuth = 2.0 * np.pi * random.random()
    if chance < (1.0 - f) * data.compton[i] + f * data.compton[i + 1]:
        scattered, cosine, recoil = compton(energy)
        after = category + 1 if category < MULTIPLE else category
        top = _push(stack, top, PHOTON, after, scattered, x, y, z, turn(way, cosine, azimuth))
        out = turn(way, recoil, azimuth + np.pi)
        return _push(stack, top, ELECTRON, category, energy - scattered, x, y, z, out)
    if energy <= 2.0 * MC2 or chance < (1.0 - f) * data.photo[i] + f * data.photo[i + 1]:
        out = turn(way, photoelectron_cosine(energy), azimuth)
        return _push(stack, top, ELECTRON, category, energy, x, y, z, out)
    shared = energy - 2.0 * MC2
    kinetic = shared * random.random()
    out = turn(way, emission_cosine(kinetic + MC2), azimuth)
    top = _push(stack, top, ELECTRON, category, kinetic, x, y, z, out)
    out = turn(way, emission_cosine(shared - kinetic + MC2), azimuth + np.pi)
    return _push(stack, top, POSITRON, category, shared - kinetic, x, y, z, out)


@njit(cache=True, nogil=True)
def _stops(data: Water, energy: float, x: float, y: float, z: float) -> bool:
    """Say whether an electron may stop here: its range is 2 % of the way from the origin or less."""
    if energy <= _CUT_ELECTRON:
        return True
    if energy > _LOCAL:
        return False
    rung = min(int((np.log(energy) - data.rung_start) * data.rung_scale) + 1, len(data.rung_mev) - 1)
    near = max(_SMALLEST_CM, _KEEP_RANGE * np.sqrt(x * x + y * y + z * z))
    return bool(data.range_cm[rung] < near)


@njit(cache=True, nogil=True)
def _electron(
    data: Water,
    dose: Floats,
    stack: Floats,
    top: int,
    kind: int,
    category: int,
    energy: float,
    x: float,
    y: float,
    z: float,
    way: Direction,
) -> int:
    """Follow an electron or positron down the ladder of energies to its end; push what it makes."""
    quantiles = data.deflection.shape[1] - 1
    photons = data.radiation.shape[1] - 1
    while not _stops(data, energy, x, y, z):
        k = min(int((np.log(energy) - data.rung_start) * data.rung_scale), len(data.path_cm) - 1)
        if energy <= data.rung_mev[k] * (1.0 + 1e-12) and k > 0:
            k -= 1
        width = data.rung_mev[k + 1] - data.rung_mev[k]
        to_rung = (energy - data.rung_mev[k]) / width
        slow_end = True
        part = to_rung
        knock, shine = data.knock_on_cm[k], data.radiate_cm[k]
        if knock + shine > 0.0:
            flight = -np.log(1.0 - random.random()) / (knock + shine) / data.path_cm[k]
            if flight < part:
                part, slow_end = flight, False
        step = part * data.path_cm[k]
        loss = part * width
        # The deflection happens at a random point of the step, for a partial step with the chance of its length: both
        # keep mean position, spread and direction of the full angular distribution (random hinge).
        hinge = random.random()
        scored = random.random()
        if scored < hinge:
            _score(dose, category, x + way[0] * scored * step, y + way[1] * scored * step, z + way[2] * scored * step, loss)
        x, y, z = x + way[0] * hinge * step, y + way[1] * hinge * step, z + way[2] * hinge * step
        if part >= 1.0 or random.random() < part:
            at = (random.random() ** (1.0 / 3.0)) * quantiles
            j = min(int(at), quantiles - 1)
            bend = data.deflection[k, j] + (at - j) * (data.deflection[k, j + 1] - data.deflection[k, j])
            way = turn(way, 1.0 - bend, 2.0 * np.pi * random.random())
        if scored >= hinge:
            past = (scored - hinge) * step
            _score(dose, category, x + way[0] * past, y + way[1] * past, z + way[2] * past, loss)
        rest = (1.0 - hinge) * step
        x, y, z = x + way[0] * rest, y + way[1] * rest, z + way[2] * rest
        if slow_end:
            energy = data.rung_mev[k]
            continue
        energy -= loss
        azimuth = 2.0 * np.pi * random.random()
        if random.random() * (knock + shine) < knock:
            if energy > 2.0 * _CUT_KNOCK_ON:
                given, cosine, own = knock_on(energy, _CUT_KNOCK_ON)
                top = _push(stack, top, ELECTRON, category, given, x, y, z, turn(way, cosine, azimuth))
                way = turn(way, own, azimuth + np.pi)
                energy -= given
        elif energy > 2.0 * _CUT_RADIATION:
            at = random.random() * photons
            j = min(int(at), photons - 1)
            share = data.radiation[k, j] + (at - j) * (data.radiation[k, j + 1] - data.radiation[k, j])
            emitted = _CUT_RADIATION * (energy / _CUT_RADIATION) ** share
            out = turn(way, emission_cosine(energy + MC2), azimuth)
            top = _push(stack, top, PHOTON, RADIATED, emitted, x, y, z, out)
            energy -= emitted
    _score(dose, category, x, y, z, energy)
    if kind == POSITRON:
        out = anywhere()
        top = _push(stack, top, PHOTON, RADIATED, MC2, x, y, z, out)
        top = _push(stack, top, PHOTON, RADIATED, MC2, x, y, z, (-out[0], -out[1], -out[2]))
    return top


@njit(cache=True, nogil=True)
def _finish(data: Water, dose: Floats, stack: Floats, top: int) -> None:
    """Follow everything on the stack to its end."""
    while top > 0:
        top -= 1
        kind, category, energy = int(stack[top, 0]), int(stack[top, 1]), stack[top, 2]
        x, y, z = stack[top, 3], stack[top, 4], stack[top, 5]
        way = (stack[top, 6], stack[top, 7], stack[top, 8])
        if kind != PHOTON:
            top = _electron(data, dose, stack, top, kind, category, energy, x, y, z, way)
        elif energy <= _CUT_PHOTON:
            _score(dose, category, x, y, z, energy)
        else:
            at = (np.log(energy) - data.photon_start) * data.photon_scale
            i = min(int(at), len(data.mu_cm) - 2)
            mu = data.mu_cm[i] + (at - i) * (data.mu_cm[i + 1] - data.mu_cm[i])
            flight = -np.log(1.0 - random.random()) / mu
            x, y, z = x + way[0] * flight, y + way[1] * flight, z + way[2] * flight
            top = _photon_event(data, stack, top, category, energy, x, y, z, way)


@njit(cache=True, nogil=True)
def photon_histories(data: Water, energy_mev: float, histories: int, seed: int) -> Floats:
    """Return the energy deposited by photons that fly along +z and interact at the origin.

    Parameters
    ----------
    data : tables of water
    energy_mev : photon energy
    histories : how many photons
    seed : start of the random numbers; equal seeds give equal results

    Returns
    -------
    (5, angles, radii + 1) MeV by category, angle and distance; the last radius holds all beyond 60 cm. The sum is
    histories times energy exactly (to rounding).
    """
    random.seed(seed)
    dose = np.zeros((5, ANGLE_BINS, RADIUS_BINS + 1))
    stack = np.zeros((4096, 9))
    for _ in range(histories):
        top = _photon_event(data, stack, 0, PRIMARY, energy_mev, 0.0, 0.0, 0.0, (0.0, 0.0, 1.0))
        _finish(data, dose, stack, top)
    return dose


@njit(cache=True, nogil=True)
def electron_histories(data: Water, energy_mev: float, histories: int, seed: int, layers: int) -> Floats:
    """Return what electrons starting at the origin along +z leave in layers of depth, for checks of their transport.

    By reciprocity this is the depth dose of a broad parallel beam (without what comes back from in front of it).

    Returns
    -------
    (layers,) MeV per electron in layers of DEPTH_BIN_CM, photons' energy left out
    """
    random.seed(seed)
    dose = np.zeros((1, layers, 1))
    stack = np.zeros((4096, 9))
    for _ in range(histories):
        top = _push(stack, 0, ELECTRON, PRIMARY, energy_mev, 0.0, 0.0, 0.0, (0.0, 0.0, 1.0))
        _finish(data, dose, stack, top)
    return dose[0, :, 0] / histories
