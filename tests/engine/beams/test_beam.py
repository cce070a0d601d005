"""Beams: angles wrap, impossible apertures cannot exist."""

import pytest

from engine.base.errors import InputError
from engine.beams.beam import Aperture, Beam, ControlPoint

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


SMALL = Aperture((-20, 20), (-20, 20))


def points(*rows):
    return tuple(ControlPoint(*row) for row in rows)


def test_a_beam_without_control_points_is_what_it_was():
    layout, fields = beam(10).content()
    assert layout == 2
    assert "points" not in fields
    assert "rotation" not in fields
    with_points = beam(10).but(points=points((0, 10, OPEN), (1, 10, OPEN)))
    assert with_points.content()[0] == 3
    assert with_points != beam(10)


def test_control_points_count_for_the_dose_and_list_their_apertures():
    step = beam(10).but(points=points((0, 10, OPEN), (0.5, 10, OPEN), (0.5, 10, SMALL), (1, 10, SMALL)))
    assert step.nameless() != beam(10).nameless()
    assert step.apertures == (OPEN, SMALL)
    assert beam(10).apertures == (OPEN,)
    assert not step.is_arc


def test_turning_a_beam_turns_its_control_points():
    arc = beam(350).but(points=points((0, 350, OPEN), (1, 30, SMALL)), rotation="CW")
    turned = arc.turned_to(20)
    assert arc.is_arc
    assert [p.gantry_deg for p in turned.points] == [20, 60]
    assert turned.gantry_deg == 20
    assert beam(350).turned_to(20) == beam(20)


@pytest.mark.parametrize(
    ("rows", "rotation", "words"),
    [
        (((0, 10, OPEN),), "", "one control point"),
        (((0.1, 10, OPEN), (1, 10, OPEN)), "", "from 0.1 to 1"),
        (((0, 10, OPEN), (0.9, 10, OPEN)), "", "from 0 to 0.9"),
        (((0, 10, OPEN), (0.6, 10, OPEN), (0.5, 10, OPEN), (1, 10, OPEN)), "", "falls at control point 3"),
        (((0, 10, OPEN), (1, 20, OPEN)), "", "which way"),
        (((0, 11, OPEN), (1, 20, OPEN)), "CW", "first control point"),
        (((0, 10, SMALL), (1, 10, OPEN)), "", "first control point"),
        (((0, 10, OPEN), (1, 20, OPEN)), "NONE", "cannot turn"),
        ((), "CW", "without control points"),
        (((0, 10, OPEN), (1, 10, Aperture((-5, 5), (-5, 5), (-5, 5), ((-1, 1),)))), "", "not the same pairs"),
    ],
)
def test_control_points_that_make_no_sense_are_refused(rows, rotation, words):
    with pytest.raises(InputError, match=words):
        beam(10).but(points=points(*rows), rotation=rotation)


@pytest.mark.parametrize("bad", [(-0.1, 0), (1.1, 0), (float("nan"), 0), (0.5, float("inf"))])
def test_a_control_point_has_a_weight_between_0_and_1_and_an_angle(bad):
    with pytest.raises(InputError):
        ControlPoint(*bad, OPEN)
