"""Steps of a beam: shares add up, openings are gathered by angle, what moves is cut finely enough."""

import pytest

from engine.beams.arcs import with_arc
from engine.beams.beam import Aperture, Beam, ControlPoint
from engine.beams.delivery import stills
from engine.beams.segments import Segment, with_segments

EDGES = (-10.0, 0.0, 10.0)
WIDE = Aperture((-50, 50), (-10, 10), EDGES, ((-40, 40), (-40, 40)))
SMALL = Aperture((-50, 50), (-10, 10), EDGES, ((-10, 0), (0, 20)))
BEAM = Beam("k", "n", "m", (0, 0, 0), 30, 0, 0, WIDE)


def test_a_still_beam_is_one_step():
    (step,) = stills(BEAM)
    assert (step.gantry_deg, step.openings, step.share) == (30, ((1.0, WIDE),), 1.0)


def test_openings_from_one_angle_are_one_step_in_any_order():
    made = with_segments(BEAM, [Segment(1, WIDE), Segment(2, SMALL), Segment(1, WIDE)])
    (step,) = stills(made)
    assert step.openings == ((0.5, WIDE), (0.5, SMALL))


def test_an_arc_is_cut_into_pieces_of_at_most_the_step_and_stands_in_their_middles():
    steps = stills(with_arc(BEAM, (350, 10), (WIDE, WIDE), "CW"), arc_step_deg=5)
    assert [s.gantry_deg for s in steps] == [352.5, 357.5, 2.5, 7.5]
    assert [s.share for s in steps] == [0.25] * 4
    assert all(s.openings == ((0.25, WIDE),) for s in steps)
    back = stills(with_arc(BEAM, (10, 350), (WIDE, WIDE), "CC"), arc_step_deg=5)
    assert sorted(s.gantry_deg for s in back) == sorted(s.gantry_deg for s in steps)


def test_a_full_turn_adds_up_to_one():
    steps = stills(with_arc(BEAM, (0, 120, 240, 0), (WIDE, SMALL, WIDE, SMALL), "CC"))
    assert sum(s.share for s in steps) == pytest.approx(1)
    assert len(steps) == 90


def test_a_leaf_that_moves_is_cut_by_its_way():
    moving = BEAM.but(points=(ControlPoint(0, 30, WIDE), ControlPoint(1, 30, SMALL)))
    (step,) = stills(moving, leaf_step_mm=10)
    assert len(step.openings) == 4
    share, middle = step.openings[1]
    assert share == 0.25
    # Three eighths of the way: leaf pair 1 from (-40, 40) to (-10, 0).
    assert middle.leaves_mm[0] == (-40 + 30 * 3 / 8, 40 - 40 * 3 / 8)


def test_what_is_given_in_no_time_is_left_out():
    jump = BEAM.but(points=tuple(ControlPoint(w, 30, a) for w, a in ((0, WIDE), (0.5, WIDE), (0.5, SMALL), (1, SMALL))))
    (step,) = stills(jump)
    assert step.openings == ((0.5, WIDE), (0.5, SMALL))
