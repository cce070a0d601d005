"""Measures of a phantom's volumes that several tests ask for."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from engine.phantoms import Phantom


def cm3(phantom: Phantom, name: str) -> float:
    """Return a volume's size."""
    return phantom.volume(name).coverage.volume_cm3


def numbers(phantom: Phantom, name: str) -> NDArray[np.int16]:
    """Return the CT numbers of the voxels wholly inside a volume."""
    return phantom.image.hu[phantom.volume(name).coverage.dense() == 255]


def centre(phantom: Phantom, name: str) -> NDArray[np.float64]:
    """Return a volume's centre of mass (x, y, z)."""
    return np.array(phantom.volume(name).coverage.centroid_mm())


def gap_mm(phantom: Phantom, a: str, b: str) -> float:
    """Return the least distance between the voxels of two volumes."""
    grid = phantom.image.grid
    p, q = (grid.point(np.argwhere(phantom.volume(n).coverage.dense() > 127).astype(float)) for n in (a, b))
    return float(cKDTree(p).query(q)[0].min())


def in_range(phantom: Phantom, sizes: tuple[tuple[str, float, float], ...]) -> list[str]:
    """Return what volumes are smaller or larger (cm3) than they should be; nothing if all is well."""
    return [f"{n}: {cm3(phantom, n):.2f} cm3" for n, least, most in sizes if not least <= cm3(phantom, n) <= most]


def median_in_range(phantom: Phantom, tissues: tuple[tuple[str, float, float], ...]) -> list[str]:
    """Return what volumes have a median CT number out of range; nothing if all is well."""
    found = [(n, float(np.median(numbers(phantom, n))), a, b) for n, a, b in tissues]
    return [f"{n}: {m:.0f} HU" for n, m, a, b in found if not a <= m <= b]
