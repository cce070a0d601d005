"""Which square a rectangle or a circle is worth, by the dose on its axis at 10 cm depth."""

from __future__ import annotations

import numpy as np
import pytest

from engine.beams.beam import Aperture
from engine.dose.hand_check import CIRCLE_TO_SQUARE, equivalent_square_mm
from tests.reference.table import band, held
from tests.support.dose import at_depth, axis, axis_in_water, beam, dose, water

SUBJECT = "Equivalent fields"
WIDE = 560.0


def worth_cm(aperture):
    """Return the side of the square with the same dose at 10 cm depth."""
    found = at_depth(axis(dose(water((WIDE, 300.0, WIDE), 4.0), beam(aperture))), 100.0)
    sides = np.array([40.0, 50.0, 80.0, 90.0, 100.0, 150.0, 200.0])
    return float(np.interp(found, [at_depth(axis_in_water(s), 100.0) for s in sides], sides)) / 10


def rectangle(x, y):
    return Aperture((-x / 2, x / 2), (-y / 2, y / 2))


def test_the_rule_of_area_over_perimeter():
    found = [equivalent_square_mm(a, b) / 10 for a, b in ((50, 200), (100, 200), (40, 300), (100, 300))]
    assert found == pytest.approx([8.00, 13.33, 7.06, 15.00], abs=0.005)


def test_rectangles_against_the_tables():
    found = [worth_cm(rectangle(50.0, 200.0)), worth_cm(rectangle(100.0, 200.0)), worth_cm(rectangle(100.0, 300.0))]
    wanted = np.array([8.0, 13.0, 13.9])
    # Seven millimetres of side are half a per cent of dose for large fields.
    band(
        SUBJECT,
        "5 x 20, 10 x 20, 10 x 30 cm by transport",
        found,
        wanted - 0.7,
        wanted + 0.7,
        source="British Journal of Radiology Suppl. 25 (1996)",
        unit=" cm",
        digits=1,
    )
    assert found[2] < 15.0  # the rule of area over perimeter is known to be high here


def test_which_side_is_long_is_no_matter_without_a_head():
    found = worth_cm(rectangle(200.0, 50.0)) / worth_cm(rectangle(50.0, 200.0))
    held(
        SUBJECT,
        "5 x 20 over 20 x 5 cm without head scatter",
        found,
        1.0,
        tol=0.005,
        source="Higgins et al., Med. Phys. 16 (1989) 800",
        known="read",
    )


def test_a_circle():
    edges = np.arange(-100.0, 101.0, 2.5)
    middle = (edges[1:] + edges[:-1]) / 2
    half = np.sqrt(np.clip(50.0**2 - middle**2, 0, None))
    circle = Aperture((-100.0, 100.0), (-100.0, 100.0), tuple(edges), tuple((-h, h) for h in half))
    held(
        SUBJECT,
        "circle of 10 cm diameter by transport",
        worth_cm(circle),
        10 * CIRCLE_TO_SQUARE,
        tol=0.2,  # 0.2 % of dose
        source="Bjärngard and Siddon, Med. Phys. 9 (1982)",
        known="read",
        unit=" cm",
        digits=2,
    )
