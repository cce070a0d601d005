"""Correction factors behind lung, bone and air against independent photon transport (tests/reference/data)."""

from functools import lru_cache
from pathlib import Path

import pytest

from engine.base.sources import read_table
from tests.support.dose import at_depth, axis, axis_in_water, beam, dose, slabs

TABLE = read_table(Path(__file__).parent / "data" / "mohan_1985_slabs.csv")
ROWS = list(zip(TABLE.text("case"), *(TABLE[c] for c in ("field_cm", "depth_cm", "correction_factor"))))
LAYERS = {"lung": ((50, 1.0), (100, 0.26)), "bone": ((30, 1.0), (20, 1.85)), "air": ((50, 1.0), (30, 0.0012))}


@lru_cache
def layered(case, side):
    return axis(dose(slabs(LAYERS[case], (560.0, 300.0, 560.0), 4.0), beam(side)))


def factor(case, field_cm, depth_cm):
    return at_depth(layered(case, 10 * field_cm), 10 * depth_cm) / at_depth(axis_in_water(10 * field_cm), 10 * depth_cm)


@pytest.mark.parametrize(("case", "field", "depth", "truth"), ROWS)
def test_behind_the_slab_within_one_and_a_half_percent(case, field, depth, truth):
    assert factor(case, field, depth) == pytest.approx(truth, rel=0.015)


@pytest.mark.parametrize(("field", "drop"), [(5, 0.3), (10, 0.8), (20, 1.5)])
def test_lost_backscatter_lowers_the_dose_before_lung(field, drop):
    # One centimetre before the lung, by the same transport: 0.3, 0.8 and 1.5 % for 5, 10 and 20 cm fields.
    assert 100 * (1 - factor("lung", field, 4.0)) == pytest.approx(drop, abs=0.4)
    assert factor("lung", field, 2.0) > factor("lung", field, 4.0)


def test_the_correction_is_larger_for_smaller_fields():
    assert factor("lung", 5, 20) > factor("lung", 10, 20) > factor("lung", 20, 20)
