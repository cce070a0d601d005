from __future__ import annotations

import json
from dataclasses import dataclass

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.evaluation.evaluation import report
from engine.evaluation.goals import Goal
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of

IMAGE = grid_of((60, 60, 60), (1.0, 1.0, 2.0))
PTV = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + y * y + z * z <= 625), "PTV", "PTV")
EMPTY = as_volume(Coverage(IMAGE), "Empty")
FAR = as_volume(coverage_of(IMAGE, lambda x, y, z: (x > 20) & (y == y)), "Far")
DOSE = dose_of(lambda x, y, z: 50 + 0.4 * z + 0 * x, 52, 2)


@dataclass(frozen=True)
class Wish:
    dose_gy: float = 50.0
    fractions: int = 25
    volume_key: str = "PTV"


def test_keys_and_numbers_of_a_sphere() -> None:
    found = report(DOSE, (PTV, EMPTY, FAR), ["PTV:V55Gy[%]", "ptv:v100%", "Mean[Gy]", "Empty:Max[Gy]"], Wish())
    json.dumps(found, allow_nan=False)
    ptv = found["volumes"]["PTV"]
    assert ptv["volume_cm3"] == pytest.approx(65.45, rel=0.01)
    assert ptv["mean_gy"] == pytest.approx(50, abs=0.05)
    assert ptv["median_gy"] == pytest.approx(50, abs=0.05)
    assert ptv["d_gy"]["98"] == pytest.approx(41.68, abs=0.1)
    assert ptv["d_gy"]["2"] == pytest.approx(58.32, abs=0.1)
    assert ptv["metrics"]["V55Gy[%]"] == pytest.approx(15.6, abs=0.3)
    assert ptv["metrics"]["V100%[%]"] == pytest.approx(50, abs=0.5)
    assert ptv["indices"]["homogeneity"] == pytest.approx((58.3192 - 41.6808) / 50, rel=0.01)
    assert set(found["formulas"]) >= {"homogeneity", "conformity_paddick", "conformity_rtog", "gradient"}
    assert found["volumes"]["Empty"]["d_gy"] == {}
    assert "empty" in found["volumes"]["Empty"]["note"]
    far = found["volumes"]["Far"]
    assert far["covered"] < 0.99
    assert "inside the dose grid" in far["note"]


def test_percent_without_prescription_is_left_open_with_a_note() -> None:
    found = report(DOSE, (PTV,), ["V95%[%]"])["volumes"]["PTV"]
    assert found["metrics"]["V95%[%]"] is None
    assert "prescription" in found["note"]
    assert "indices" not in found


def test_unknown_volume_and_bad_metric_are_refused() -> None:
    with pytest.raises(InputError, match="no volume"):
        report(DOSE, (PTV,), ["Nobody:Mean[Gy]"])
    with pytest.raises(InputError, match=r"^V20: at its end a unit \(Gy, cGy or %\) was expected"):
        report(DOSE, (PTV,), ["PTV:V20"])


def test_dose_is_taken_as_it_is() -> None:
    flat = dose_of(lambda x, y, z: 12.5 + 0 * x, 70, 2)
    assert report(flat, (PTV,))["volumes"]["PTV"]["max_gy"] == np.float32(12.5)


def test_goals_are_judged_and_what_cannot_be_says_why() -> None:
    goals = (
        Goal("PTV", "Mean[Gy]", ">=", 49.0, source="s"),
        Goal("PTV", "D98%[Gy]", ">=", 42.5, tolerance=1.5, priority=2),
        Goal("PTV", "V100%[%]", ">=", 95.0),
        Goal("PTV", "D900cc[Gy]", "<=", 1.0),
        Goal("", "Mean[Gy]", "<=", 7.0, waits_for="Lungs"),
    )
    found = report(DOSE, (PTV,), prescription=Wish(), goals=goals)["goals"]
    json.dumps(found, allow_nan=False)
    assert [g["state"] for g in found] == ["met", "within tolerance", "missed", "not judged", "not judged"]
    assert found[0]["value"] == pytest.approx(50, abs=0.05)
    assert [g["volume"] for g in found] == ["PTV"] * 4 + ["Lungs"]
    assert [g["unit"] for g in found] == ["Gy", "Gy", "%", "Gy", "Gy"]
    assert "cm" in found[3]["note"]
    assert found[4]["note"] == "there is no such volume"
    assert "goals" not in report(DOSE, (PTV,))
