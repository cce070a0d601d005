"""Narrow fields get a finer dose grid, within what a computer can hold."""

import pytest

from engine.beams.beam import Aperture
from engine.case.case import Case, Patient
from engine.case.dose_spacing import fitting_spacing_mm, narrowest_mm
from tests.support.dose import beam
from tests.support.phantoms import water_box

CASE = Case(Patient("Doe^Jane", "1"), water_box((200.0, 200.0, 200.0), 5.0))
EDGES = (-15.0, -5.0, 0.0, 5.0, 15.0)


def leaves(*pairs, jaws=50.0):
    return Aperture((-jaws, jaws), (-jaws, jaws), EDGES, pairs)


@pytest.mark.parametrize(
    ("aperture", "side"),
    [
        (Aperture((-20.0, 30.0), (-5.0, 5.0)), 10.0),
        (leaves((0, 0), (-6, 6), (-7, 9), (0, 0)), 10.0),  # two leaves of 5 mm
        (leaves((0, 0), (-2, 2), (-2, 2), (0, 0)), 4.0),
        (leaves((-40, 40), (-40, 40), (-40, 40), (-40, 40), jaws=12.0), 24.0),
        (leaves((30, 30), (30, 30), (30, 30), (30, 30)), 0.0),
    ],
)
def test_narrowest_side_of_an_opening(aperture, side):
    assert narrowest_mm(aperture) == pytest.approx(side)


@pytest.mark.parametrize(("side", "spacing"), [(100, 2.5), (20, 2.5), (19, 2.25), (14, 1.75), (10, 1.25), (4, 1.25)])
def test_spacing_follows_the_narrowest_field(side, spacing):
    assert fitting_spacing_mm(CASE, [beam(100.0), beam(float(side))]) == spacing


def test_a_closed_beam_and_no_beam_ask_for_nothing():
    shut = beam(Aperture((10.0, 10.0), (-20.0, 20.0)))
    assert fitting_spacing_mm(CASE, [shut]) == 2.5
    assert fitting_spacing_mm(CASE, []) == 2.5


def test_a_large_patient_gets_what_fits():
    large = Case(Patient("Doe^Jane", "1"), water_box((500.0, 400.0, 500.0), 10.0))
    spacing = fitting_spacing_mm(large, [beam(10.0)])
    assert spacing == 2.25
    assert 500 * 400 * 500 / spacing**3 < 10_000_000
