"""The single dose that is most like a mixture."""

from __future__ import annotations

import numpy as np
import pytest

from engine.optimise.nearest import nearest
from engine.optimise.objective import Field

ALL = np.arange(3)


def field(*columns: list[float]) -> Field:
    rows = np.array(columns, dtype=np.float32).T
    return Field({"v": rows}, {"v": np.full(len(rows), 1 / len(rows))})


def test_a_mixture_of_open_and_steep_is_most_like_what_lies_between() -> None:
    flat, between, steep = [1.0, 1.0, 1.0], [0.7, 1.0, 1.3], [0.4, 1.0, 1.6]
    best, weight = nearest(field(flat, between, steep), ALL, np.array([1.0, 0.0, 1.0]))
    assert best == 1
    assert weight == pytest.approx(2)


def test_a_mixture_of_one_is_that_one_with_its_weight() -> None:
    doses = field([1.0, 1.0, 0.9], [0.7, 1.0, 1.3], [0.4, 1.0, 1.6])
    for i in range(3):
        x = np.zeros(3)
        x[i] = 0.8
        assert nearest(doses, ALL, x) == (i, pytest.approx(0.8))


def test_only_the_columns_that_were_asked_count() -> None:
    doses = field([1.0, 1.0, 1.0], [0.7, 1.0, 1.3], [0.4, 1.0, 1.6])
    best, _ = nearest(doses, np.array([0, 2]), np.array([0.1, 0.9]))
    assert best == 1


def test_no_mixture_and_no_dose() -> None:
    assert nearest(field([1.0], [1.0], [1.0]), ALL, np.zeros(3)) == (0, 0.0)
    assert nearest(field([0.0], [1.0], [0.0]), ALL, np.array([0.0, 1.0, 0.0])) == (1, pytest.approx(1.0))
