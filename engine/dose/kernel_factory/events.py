"""Single events of photons and electrons, sampled (compiled). Energies in MeV, directions as unit vectors."""

from __future__ import annotations

import random

import numpy as np
from numba import njit

MC2 = 0.510998950
Direction = tuple[float, float, float]


@njit(cache=True, nogil=True)
def turn(direction: Direction, cosine: float, azimuth: float) -> Direction:
    """Return a direction turned by a polar angle (given as its cosine) and an azimuth."""
    u, v, w = direction
    sine = np.sqrt(max(0.0, 1.0 - cosine * cosine))
    a, b = sine * np.cos(azimuth), sine * np.sin(azimuth)
    across = u * u + v * v
    if across < 1e-20:
        return a, b * np.sign(w), cosine * np.sign(w)
    root = np.sqrt(across)
    x = u * cosine + (u * w * a - v * b) / root
    y = v * cosine + (v * w * a + u * b) / root
    z = w * cosine - root * a
    size = np.sqrt(x * x + y * y + z * z)
    return x / size, y / size, z / size


@njit(cache=True, nogil=True)
def anywhere() -> Direction:
    """Return an isotropic direction."""
    cosine = 2.0 * random.random() - 1.0
    azimuth = 2.0 * np.pi * random.random()
    sine = np.sqrt(1.0 - cosine * cosine)
    return sine * np.cos(azimuth), sine * np.sin(azimuth), cosine


@njit(cache=True, nogil=True)
def compton(energy: float) -> tuple[float, float, float]:
    """Return scattered photon energy, its cosine, and the electron's cosine: Klein-Nishina, free electron at rest."""
    alpha = energy / MC2
    low = 1.0 / (1.0 + 2.0 * alpha)
    a, b = -np.log(low), 0.5 * (1.0 - low * low)
    while True:
        if random.random() * (a + b) < a:
            kept = low ** random.random()
        else:
            kept = np.sqrt(low * low + (1.0 - low * low) * random.random())
        t = (1.0 - kept) / (alpha * kept)
        if random.random() <= 1.0 - kept * t * (2.0 - t) / (1.0 + kept * kept):
            break
    cosine = min(1.0, max(-1.0, 1.0 - t))
    scattered = kept * energy
    kinetic = energy - scattered
    momentum = np.sqrt(kinetic * (kinetic + 2.0 * MC2))
    electron = (energy - scattered * cosine) / momentum if momentum > 0.0 else 1.0
    return scattered, cosine, min(1.0, max(-1.0, electron))


@njit(cache=True, nogil=True)
def photoelectron_cosine(kinetic: float) -> float:
    """Return the photoelectron's cosine to the photon: Sauter's K-shell distribution, sampled by rejection."""
    gamma = 1.0 + kinetic / MC2
    beta = np.sqrt(kinetic * (kinetic + 2.0 * MC2)) / (kinetic + MC2)
    a = 1.0 / beta - 1.0
    extra = 0.5 * beta * gamma * (gamma - 1.0) * (gamma - 2.0)
    highest = 2.0 * (1.0 / a + extra)
    while True:
        u = random.random()
        v = 2.0 * a / ((a + 2.0) ** 2 - 4.0 * u) * (2.0 * u + (a + 2.0) * np.sqrt(u))
        if random.random() * highest <= (2.0 - v) * (1.0 / (a + v) + extra):
            return 1.0 - v


@njit(cache=True, nogil=True)
def emission_cosine(total_mev: float) -> float:
    """Return a cosine from x/(1 + x^2)^2 with x = angle times total energy over mc2 (pairs and bremsstrahlung)."""
    u = random.random()
    angle = np.sqrt(u / (1.0 - u + 1e-12)) * MC2 / total_mev
    return np.cos(min(angle, np.pi))


@njit(cache=True, nogil=True)
def knock_on(kinetic: float, cut: float) -> tuple[float, float, float]:
    """Return the energy given to a knock-on electron, its cosine, and the primary's cosine (Moller; kinetic > 2 cut)."""
    total = kinetic + MC2
    cross = MC2 * (2.0 * kinetic + MC2) / (total * total)
    while True:
        u = random.random()
        w = 1.0 / (1.0 / cut - u * (1.0 / cut - 2.0 / kinetic))
        left = kinetic - w
        shape = 1.0 + (w / left) ** 2 + (w / total) ** 2 - cross * w / left
        if random.random() * 2.25 <= shape:
            break
    given = np.sqrt(w * (kinetic + 2.0 * MC2) / (kinetic * (w + 2.0 * MC2)))
    primary = np.sqrt(left * (kinetic + 2.0 * MC2) / (kinetic * (left + 2.0 * MC2)))
    return w, min(1.0, given), min(1.0, primary)
