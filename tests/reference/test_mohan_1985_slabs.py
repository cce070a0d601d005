"""Correction factors behind lung, bone and air against independent photon transport (tests/reference/data)."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from engine.base.sources import read_table
from tests.reference.table import held
from tests.support.dose import at_depth, axis, axis_in_water, beam, dose, slabs

SUBJECT = "Layers, ideal 6 MV beam"
SOURCE = "separate photon transport, Mohan 1985 spectrum"
TABLE = read_table(Path(__file__).parent / "data" / "mohan_1985_slabs.csv")
LAYERS = {"lung": ((50, 1.0), (100, 0.26)), "bone": ((30, 1.0), (20, 1.85)), "air": ((50, 1.0), (30, 0.0012))}


@lru_cache
def layered(case, side):
    return axis(dose(slabs(LAYERS[case], (560.0, 300.0, 560.0), 4.0), beam(side)))


def factor(case, field_cm, depth_cm):
    return at_depth(layered(case, 10 * field_cm), 10 * depth_cm) / at_depth(axis_in_water(10 * field_cm), 10 * depth_cm)


@pytest.mark.parametrize("case", LAYERS)
def test_behind_the_slab_within_one_and_a_half_percent(case):
    rows = [n for n, c in enumerate(TABLE.text("case")) if c == case]
    field, depth, truth = (TABLE[c][rows] for c in ("field_cm", "depth_cm", "correction_factor"))
    found = [factor(case, f, d) for f, d in zip(field, depth)]
    where = [f"{f:g} cm field, {d:g} cm deep" for f, d in zip(field, depth)]
    held(
        SUBJECT,
        f"correction factor behind {case}",
        found,
        truth,
        rel=0.015,
        source=SOURCE,
        known="read, computed",
        at=where,
    )


def test_lost_backscatter_lowers_the_dose_before_lung():
    drops = np.array([[100 * (1 - factor("lung", f, d)) for f in (5, 10, 20)] for d in (4.0, 2.0)])
    fields = ["5 cm", "10 cm", "20 cm"]
    held(
        SUBJECT,
        "drop 1 cm before lung, fields 5, 10, 20 cm",
        drops[0],
        [0.3, 0.8, 1.5],
        tol=0.4,
        source=SOURCE,
        known="read, computed",
        unit=" %",
        digits=1,
        at=fields,
    )
    held(
        SUBJECT,
        "drop 3 cm before lung, fields 5, 10, 20 cm",
        drops[1],
        [0.1, 0.3, 0.7],
        tol=0.4,
        source=SOURCE,
        known="read, computed",
        unit=" %",
        digits=1,
        at=fields,
    )
    assert np.all(drops[0] > drops[1])


def test_the_correction_is_larger_for_smaller_fields():
    assert factor("lung", 5, 20) > factor("lung", 10, 20) > factor("lung", 20, 20)
