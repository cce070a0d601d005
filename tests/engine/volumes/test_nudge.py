"""How far an edge is, and on which side of it a place lies."""

from __future__ import annotations

import numpy as np
import pytest

from engine.volumes.nudge import edge_near
from engine.volumes.paint import stamp


def test_a_disc_seen_from_inside_and_outside_with_oblong_pixels():
    alpha = np.zeros((60, 80), np.uint8)
    stamp(alpha, 30, 40, (5, 10))  # 15 mm by 15 mm in pixels of 3 x 1.5
    assert edge_near(alpha, (30, 40), (3.0, 1.5)) == (True, pytest.approx(15, abs=0.3))
    assert edge_near(alpha, (30, 60), (3.0, 1.5)) == (False, pytest.approx(15, abs=0.3))
    assert edge_near(alpha, (36, 40), (3.0, 1.5)) == (False, pytest.approx(3, abs=0.3))


def test_a_hole_is_outside():
    alpha = np.zeros((60, 60), np.uint8)
    stamp(alpha, 30, 30, (20, 20))
    stamp(alpha, 30, 30, (8, 8), 0)
    assert edge_near(alpha, (30, 30), (1.0, 1.0)) == (False, pytest.approx(8, abs=0.1))
    assert edge_near(alpha, (30, 41), (1.0, 1.0)) == (True, pytest.approx(3, abs=0.1))


def test_nothing_painted_has_no_edge():
    assert edge_near(np.zeros((5, 5), np.uint8), (2, 2), (1.0, 1.0)) is None
    assert edge_near(np.full((5, 5), 90, np.uint8), (2, 2), (1.0, 1.0)) is None
