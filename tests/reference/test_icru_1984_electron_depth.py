"""How deep electrons go in water, against relations of clinical electron dosimetry (ICRU 35, recalled)."""

from __future__ import annotations

import numpy as np
import pytest

import assets
from engine.dose.kernel_factory.transport import DEPTH_BIN_CM, electron_histories
from engine.dose.kernel_factory.water import read_water


@pytest.mark.slow
@pytest.mark.parametrize("energy", [10.0, 20.0])
def test_half_value_depth_and_practical_range(energy):
    """E = 2.33 R50 and E = 0.22 + 1.98 Rp + 0.0025 Rp^2 (MeV, cm; ICRU Report 35, 1984) [memory], here within 4 %.

    A plausibility band: the relations are means over clinical beams, the electrons here are of one energy and nothing
    scatters back from in front of the water.
    """
    layers = int(1.3 * energy / 2 / DEPTH_BIN_CM)
    depth = electron_histories(read_water(assets.path("physics")), energy, 8000, 11, layers)
    z = (np.arange(layers) + 0.5) * DEPTH_BIN_CM
    width = int(0.05 * energy / 2 / DEPTH_BIN_CM)
    smooth = np.convolve(depth, np.ones(width) / width, mode="same")
    top = int(np.argmax(smooth[width:-width])) + width
    half = np.interp(-0.5 * smooth[top], -smooth[top:], z[top:])
    assert half == pytest.approx(energy / 2.33, rel=0.04)
    falling = (z > z[top]) & (smooth < 0.7 * smooth[top]) & (smooth > 0.3 * smooth[top])
    slope, start = np.polyfit(z[falling], smooth[falling], 1)
    expected = (-1.98 + np.sqrt(1.98**2 + 4 * 0.0025 * (energy - 0.22))) / (2 * 0.0025)
    assert -start / slope == pytest.approx(expected, rel=0.04)
