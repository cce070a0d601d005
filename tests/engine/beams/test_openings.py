"""Openings as rectangles: the sum of what they let through is what jaws and leaves leave open."""

from itertools import pairwise

import numpy as np
import pytest

from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from engine.beams.openings import openings

POINT = load_machine("point-6")


def open_length(edges):
    """Stand in for a view: the open lengths themselves, so that products are areas."""
    low = np.max(np.broadcast_arrays(*(e.low_mm for e in edges)), axis=0)
    high = np.min(np.broadcast_arrays(*(e.high_mm for e in edges)), axis=0)
    return np.maximum(high - low, 0.0)[:, None]


def area(aperture, machine):
    return float(openings(aperture, machine).let_through(open_length, open_length)[0, 0])


def test_jaws_alone_are_one_rectangle_at_their_planes():
    found = openings(Aperture((-30, 40), (-10, 20)), POINT)
    assert found.strips_x is None
    assert (found.jaw_x.distance_mm, found.jaw_y.distance_mm) == (POINT.lower_jaw_mm, POINT.upper_jaw_mm)
    assert found.lowest_mm == POINT.lower_jaw_mm
    assert area(Aperture((-30, 40), (-10, 20)), POINT) == 70 * 30


def test_leaves_outside_the_jaws_and_closed_ones_add_nothing():
    gaps = tuple((-20.0, 30.0) if n % 2 else (5.0, 5.0) for n in range(60))
    edges = POINT.leaf_edges_mm
    found = openings(Aperture((-10, 100), (-20, 20), edges, gaps), POINT)
    assert found.lowest_mm == POINT.leaf_distance_mm
    assert len(found.strips_x.low_mm) < 30
    strips = [min(b, 20) - max(a, -20) for n, (a, b) in enumerate(pairwise(edges)) if n % 2 and a < 20 and b > -20]
    assert area(Aperture((-10, 100), (-20, 20), edges, gaps), POINT) == pytest.approx(40 * sum(strips))


def test_sides_take_their_strip_from_what_is_open_beside_a_closed_leaf():
    gaps = tuple((-20.0, 30.0) if n in (29, 30) else (-90.0, -90.0) for n in range(60))
    shape = Aperture((-100, 100), (-100, 100), POINT.leaf_edges_mm, gaps)
    assert area(shape, POINT) - area(shape, POINT.but(tongue_mm=0.5)) == pytest.approx(2 * 0.5 * 50)
    stagger = tuple((-20.0, 30.0) if n == 29 else (0.0, 50.0) if n == 30 else (-90.0, -90.0) for n in range(60))
    shape = Aperture((-100, 100), (-100, 100), POINT.leaf_edges_mm, stagger)
    # Outer sides 50 mm each; between the two, 20 mm of each opening lie beside a closed part of the other.
    assert area(shape, POINT) - area(shape, POINT.but(tongue_mm=0.5)) == pytest.approx(0.5 * (50 + 50 + 20 + 20))
