"""CT number to density: the shipped curve against two published relations."""

from __future__ import annotations

import numpy as np

from engine.image.density import DEFAULT_CURVE
from tests.reference.table import band, held

SUBJECT = "Tissues"
SCHNEIDER = "U. Schneider et al. 1996 and W. Schneider et al. 2000"
NUMBERS = (-800, -500, -100, 0, 50, 300, 1000)


def test_between_the_two_relations():
    found = DEFAULT_CURVE.density(np.array(NUMBERS)).astype(float)
    one, two = (
        np.array([0.200, 0.507, 0.918, 1.012, 1.057, 1.210, 1.674]),
        np.array([0.207, 0.516, 0.928, 1.018, 1.061, 1.195, 1.609]),
    )
    room = np.where(np.array(NUMBERS) < 100, 0.03, 0.10)
    band(
        SUBJECT,
        "density at -800 to 1000 HU",
        found,
        np.minimum(one, two) - room,
        np.maximum(one, two) + room,
        source=SCHNEIDER,
        unit=" g/cm³",
        at=[f"{n} HU" for n in NUMBERS],
    )


def test_ends():
    found = DEFAULT_CURVE.density(np.array([-1000, 0])).astype(float)
    held(
        SUBJECT,
        "air at -1000 HU and water at 0 HU",
        found,
        [0.0012, 1.0],
        tol=1e-4,
        source="definition of the Hounsfield unit",
        known="exact",
        unit=" g/cm³",
        digits=4,
    )
    every = DEFAULT_CURVE.density(np.arange(-3024, 4000))
    assert np.all(np.diff(every) >= 0)
    assert every.min() > 0


def test_inserts():
    numbers = np.array([-700, -550, -95, 40, 80, 210, 450, 820, 1230])
    grams = np.array([0.30, 0.45, 0.95, 1.05, 1.08, 1.14, 1.34, 1.56, 1.82])
    spread = np.array([40, 40, 20, 20, 20, 40, 50, 80, 120])
    # The band of CT numbers turned into one of density by the curve's own slope, and three per cent.
    low, high = DEFAULT_CURVE.density(numbers - spread), DEFAULT_CURVE.density(numbers + spread)
    room = (high - low) / 2 + 0.03 * grams
    band(
        SUBJECT,
        "density of nine inserts from their typical CT numbers",
        DEFAULT_CURVE.density(numbers).astype(float),
        grams - room,
        grams + room,
        source="typical inserts at 120 kV",
        unit=" g/cm³",
        at=[f"{n} HU" for n in numbers],
    )
