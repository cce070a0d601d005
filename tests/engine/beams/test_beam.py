"""Beams: angles wrap, impossible apertures cannot exist."""

import pytest

from engine.base.errors import InputError
from engine.beams.beam import Aperture, Beam

OPEN = Aperture((-50, 50), (-40, 40))


def beam(gantry):
    return Beam("k", "n", "m", (0, 0, 0), gantry, 0, 0, OPEN)


@pytest.mark.parametrize(("given", "kept"), [(0, 0), (360, 0), (-10, 350), (725.5, 5.5), (359.9999999, 0)])
def test_angles_lie_in_zero_to_360(given, kept):
    assert beam(given).gantry_deg == kept


def test_name_and_key_do_not_count_for_the_dose():
    assert beam(10).nameless() == beam(10).but(key="z", name="other").nameless()


@pytest.mark.parametrize(
    "bad",
    [
        lambda: Aperture((50, -50), (-40, 40)),
        lambda: Aperture((-50, 50), (40, -40)),
        lambda: Aperture((-50, 50), (-40, 40), (0, 10), ((0, 1), (0, 1))),
        lambda: Aperture((-50, 50), (-40, 40), (0, 10), ((5, 1),)),
    ],
)
def test_crossed_jaws_and_leaves_are_refused(bad):
    with pytest.raises(InputError):
        bad()


def test_positions_that_are_no_numbers_and_leaves_that_overlap_are_refused():
    nan, inf = float("nan"), float("inf")
    for bad in (
        lambda: Aperture((nan, 50), (-40, 40)),
        lambda: Aperture((-50, inf), (-40, 40)),
        lambda: Aperture((-50, 50), (-40, 40), (0, 10, 20), ((0, 1), (0, nan))),
        lambda: Aperture((-50, 50), (-40, 40), (0, 10, 5), ((0, 1), (0, 1))),
        lambda: Aperture((-50, 50), (-40, 40), (0, 10, 10), ((0, 1), (0, 1))),
        lambda: Aperture((-50, 50), (-40, 40), (), ((0, 1), (0, 1))),
    ):
        with pytest.raises(InputError):
            bad()


def test_wedge_and_its_direction_count_for_the_dose_the_bolus_is_in_the_density():
    plain = beam(10)
    assert plain.but(wedge="W30").nameless() != plain.nameless()
    assert plain.but(wedge="W30", wedge_orientation_deg=450).wedge_orientation_deg == 90
    assert plain.but(wedge_orientation_deg=90).nameless() == plain.nameless()
    assert plain.but(bolus=("b",)).nameless() == plain.nameless()
