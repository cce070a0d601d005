"""Arcs: how far, through which angles, with which weights."""

import pytest

from engine.base.errors import InputError
from engine.beams.arcs import arc_angles, span_deg, turn_deg, with_arc
from engine.beams.beam import Aperture, Beam

WIDE = Aperture((-50, 50), (-40, 40))
SMALL = Aperture((-20, 20), (-20, 20))
BEAM = Beam("k", "n", "m", (0, 0, 0), 30, 0, 0, WIDE)


@pytest.mark.parametrize(
    ("start", "stop", "rotation", "turned"),
    [(10, 50, "CW", 40), (10, 50, "CC", 320), (350, 10, "CW", 20), (5, 5, "CW", 360), (5, 5, "CC", 360)],
)
def test_how_far_the_gantry_turns(start, stop, rotation, turned):
    assert turn_deg(start, stop, rotation) == turned


def test_angles_are_even_and_include_both_ends():
    assert arc_angles(350, 10, "CW", 8) == pytest.approx((350, 356.666667, 3.333333, 10))
    assert arc_angles(10, 350, "CC", 10) == (10, 0, 350)
    assert len(arc_angles(181, 181, "CW")) == 91
    assert len(arc_angles(0, 4, "CW", 4)) == 2


@pytest.mark.parametrize("bad", [("", 4), ("NONE", 4), ("CW", 0), ("CC", 200), ("CW", float("nan"))])
def test_arcs_that_make_no_sense_are_refused(bad):
    with pytest.raises(InputError):
        arc_angles(0, 90, *bad)


def test_monitor_units_flow_evenly_with_the_angle_unless_said_otherwise():
    arc = with_arc(BEAM, (350, 0, 30), (WIDE, SMALL, WIDE), "CW")
    assert [p.cumulative_weight for p in arc.points] == [0, 0.25, 1]
    assert (arc.gantry_deg, arc.aperture, arc.rotation, span_deg(arc)) == (350, WIDE, "CW", 40)
    given = with_arc(BEAM, (350, 0, 30), (WIDE, SMALL, WIDE), "CW", (0, 0.9, 1))
    assert [p.cumulative_weight for p in given.points] == [0, 0.9, 1]
    with pytest.raises(InputError):
        with_arc(BEAM, (0, 10), (WIDE,), "CW")
    with pytest.raises(InputError):
        with_arc(BEAM, (0,), (WIDE,), "CW")


def test_a_still_beam_turns_through_nothing():
    assert span_deg(BEAM) == 0
    assert with_arc(BEAM, (30, 90), (WIDE, SMALL), "CW").at(30) == BEAM
