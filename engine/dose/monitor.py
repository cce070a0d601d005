"""Monitor units and Gy: 1 MU is 1 cGy at the depth of dose maximum of the reference beam.

Reference beam: 100 x 100 mm at the isocentre plane, which is the surface of a water phantom, so that the
source-surface distance equals the source-axis distance (1000 mm) [common practice; one of the two choices that AAPM
TG-71 (2014) accepts].
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.beams.machine import Machine

REFERENCE_GY_PER_MU = 0.01

Floats = NDArray[np.float64]
DepthDose = Callable[[Machine], tuple[Floats, Floats, Floats]]


@lru_cache(maxsize=16)
def gy_per_unit(machine: Machine, reference: DepthDose) -> float:
    """Return Gy per MU for one unit of energy dose (see ``calculate.beam_energy``).

    Parameters
    ----------
    reference : returns depth, energy dose and relative contaminant dose of the reference beam on the axis, computed
        with the same transport as every patient, so that its errors in water cancel at this point
    """
    _, energy, soft = reference(machine)
    return calibration(energy, soft, machine.contamination_share)


def calibration(energy: Floats, soft: Floats, share: float) -> float:
    """Return the factor f that makes the maximum over depth of f energy + 0.01 share soft equal 0.01 Gy.

    At every depth some f would give 0.01 Gy there; the smallest of them belongs to the maximum. A parabola through the
    three lowest samples places it between voxels.
    """
    factor = REFERENCE_GY_PER_MU * (1 - share * soft) / energy
    n = int(np.clip(np.argmin(factor), 1, factor.size - 2))
    a, b, c = factor[n - 1 : n + 2]
    bend = a - 2 * b + c
    return float(b - (a - c) ** 2 / (8 * bend)) if bend > 0 else float(factor.min())
