"""The normalisation as a row of numbers, one per beam."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from engine.case.case import Prescription
from engine.evaluation.live import LiveRequest, prepare
from engine.optimise.held import held_row
from engine.space.point import NamedPoint
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of

IMAGE = grid_of((60, 60, 60), (2.0, 2.0, 2.0))
PTV = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + y * y + z * z <= 225), "ptv", "PTV")
DOSES = (
    dose_of(lambda x, y, z: 0.01 * np.exp(-0.01 * (y + 30)) + 0 * x, 64, 2, "a"),
    dose_of(lambda x, y, z: 0.01 * np.exp(-0.01 * (x + 30)) + 0 * y, 64, 2, "b"),
)
BASIS = prepare(LiveRequest(DOSES, (PTV,)))


WANTED = Prescription(60, 30, "ptv", NamedPoint("aside", (5.0, -4.0, 2.0)))


@dataclass(frozen=True)
class Wish:
    normalisation: str
    prescription: Prescription = WANTED
    isocentre_mm: tuple[float, ...] = (0.0, 0.0, 0.0)


def reached(wish: Wish, x: np.ndarray) -> float:
    """Return what the normalised quantity is, as a share of the prescription."""
    plan = BASIS.evaluate(tuple(x / 30), wish.normalisation, wish.prescription, wish.isocentre_mm)
    return 1.0 / plan.scale


@pytest.mark.parametrize("rule", ["D95%", "D98%", "D50%", "D2%", "Mean", "Max", "Isocentre", "Point"])
def test_it_is_held_now_and_moves_with_the_weights(rule: str) -> None:
    wish = Wish(rule)
    plan = BASIS.evaluate((1.0, 0.6), rule, wish.prescription, wish.isocentre_mm)
    x = np.array(plan.factors)
    row = held_row(BASIS, wish, x)
    assert row @ x == pytest.approx(1, rel=1e-9)
    for step in (np.array([0.01, 0]), np.array([0, 0.01])):
        moved = x * (1 + step)
        assert row @ moved == pytest.approx(reached(wish, moved), abs=4e-4)


@pytest.mark.parametrize("rule", ["Mean", "Isocentre", "Point"])
def test_mean_and_isocentre_are_exact_however_far(rule: str) -> None:
    wish = Wish(rule)
    x = np.array(BASIS.evaluate((1.0, 0.6), rule, wish.prescription, wish.isocentre_mm).factors)
    row = held_row(BASIS, wish, x)
    far = x * np.array([0.1, 3.0])
    assert row @ far == pytest.approx(reached(wish, far), rel=1e-5)
