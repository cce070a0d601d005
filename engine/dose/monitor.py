"""Monitor units and Gy: what one MU is, the machine's calibration says.

Unless its file says otherwise 1 MU is 1 cGy at the depth of dose maximum of the reference beam: 100 x 100 mm at the
isocentre plane, which is the surface of a water phantom, so that the source-surface distance equals the source-axis
distance (1000 mm) [common practice; one of the two choices that AAPM TG-71 (2014) accepts].
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.beams.machine import Machine

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
    _, energy, soft = _reference(machine, reference)
    return gy_at_maximum(machine, reference) * calibration(energy, soft, machine.contamination_share)


@lru_cache(maxsize=16)
def gy_at_maximum(machine: Machine, reference: DepthDose) -> float:
    """Return Gy per MU at the dose maximum of the reference beam: what contaminant dose is relative to."""
    if machine.calibration_depth_mm == 0:
        return machine.calibration_gy_per_mu
    depth, energy, soft = _reference(machine, reference)
    relative = calibration(energy, soft, machine.contamination_share) * energy + machine.contamination_share * soft
    there = float(np.exp(np.interp(machine.calibration_depth_mm, depth, np.log(relative))))
    return machine.calibration_gy_per_mu / there


@lru_cache(maxsize=16)
def _reference(machine: Machine, reference: DepthDose) -> tuple[Floats, Floats, Floats]:
    return reference(machine)


def calibration(energy: Floats, soft: Floats, share: float) -> float:
    """Return the factor f that makes the maximum over depth of f energy + share soft equal 1.

    At every depth some f would give 1 there; the smallest of them belongs to the maximum. A parabola through the three
    lowest samples places it between voxels.
    """
    factor = (1 - share * soft) / energy
    n = int(np.clip(np.argmin(factor), 1, factor.size - 2))
    a, b, c = factor[n - 1 : n + 2]
    bend = a - 2 * b + c
    return float(b - (a - c) ** 2 / (8 * bend)) if bend > 0 else float(factor.min())
