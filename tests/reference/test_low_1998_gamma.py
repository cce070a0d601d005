"""Gamma against its closed forms (definition of Low et al., Med. Phys. 25 (1998) 656)."""

from __future__ import annotations

import numpy as np
import pytest

from engine.evaluation.gamma import compare
from tests.reference.table import held
from tests.support.shapes import dose_of

SUBJECT = "Comparison of doses"


def say(check, found, expected, **more):
    held(SUBJECT, check, found, expected, source="Low et al. 1998, definition", known="exact", **more)


def inner(result, rim=6):
    return result.gamma[rim:-rim, rim:-rim, rim:-rim]


def test_closed_forms():
    flat = dose_of(lambda x, y, z: 50 + 0 * x, 30, 2)
    more = dose_of(lambda x, y, z: 51.5 + 0 * x, 30, 2)
    say("uniform offset of 3 %, 3 % / 3 mm", float(inner(compare(flat, more, 3, 3), 3).max()), 1.0, tol=0.001)
    # 1 mm along a gradient of 5 % a millimetre of the dose to which per cent refer: 0.327.
    slope, shift = 5.0, 1.0
    line = dose_of(lambda x, y, z: 100 + slope * x + 0 * y, 40, 2)
    moved = dose_of(lambda x, y, z: 100 + slope * (x - shift) + 0 * y, 40, 2)
    top = float(line.gy.max())
    gradient = slope / top
    law = shift * gradient / 0.03 / np.sqrt(1 + (gradient * 3 / 0.03) ** 2)
    say(
        "1 mm shift along a straight gradient, 3 % / 3 mm",
        float(np.median(inner(compare(line, moved, 3, 3)))),
        law,
        tol=0.002,
    )
    exact = 1 * 5 / 3 / np.sqrt(1 + (5 * 3 / 3) ** 2)
    assert exact == pytest.approx(0.327, abs=0.001)
