"""Segments of a still beam: there and back, what moves has none."""

import pytest

from engine.base.errors import InputError
from engine.beams.beam import Aperture, Beam, ControlPoint
from engine.beams.segments import Segment, segments, with_segments

WIDE = Aperture((-50, 50), (-40, 40))
SMALL = Aperture((-20, 20), (-20, 20))
BEAM = Beam("k", "n", "m", (0, 0, 0), 30, 0, 0, WIDE)


def test_a_still_beam_is_one_segment():
    assert segments(BEAM) == (Segment(1.0, WIDE),)
    assert with_segments(BEAM, segments(BEAM)) == BEAM


def test_shares_count_by_their_ratios_and_come_back():
    made = with_segments(BEAM, (Segment(3, WIDE), Segment(1, SMALL)))
    assert [p.cumulative_weight for p in made.points] == [0, 0.75, 0.75, 1]
    assert [(s.share, s.aperture) for s in segments(made)] == [(0.75, WIDE), (0.25, SMALL)]
    assert with_segments(BEAM, segments(made)) == made
    assert (made.gantry_deg, made.aperture, made.rotation) == (30, WIDE, "")


def test_neighbours_of_one_aperture_are_one_segment():
    made = with_segments(BEAM, (Segment(1, WIDE), Segment(1, WIDE)))
    assert [(s.share, s.aperture) for s in segments(made)] == [(1.0, WIDE)]


def test_what_moves_while_it_delivers_has_no_segments():
    sliding = BEAM.but(points=(ControlPoint(0, 30, WIDE), ControlPoint(1, 30, SMALL)))
    arc = BEAM.but(points=(ControlPoint(0, 30, WIDE), ControlPoint(1, 90, WIDE)), rotation="CW")
    for moving in (sliding, arc):
        with pytest.raises(InputError):
            segments(moving)


@pytest.mark.parametrize("shares", [(), (0.0, 0.0), (1.0, -0.5), (float("nan"), 1.0), (float("inf"), 1.0)])
def test_shares_that_make_no_sense_are_refused(shares):
    with pytest.raises(InputError):
        with_segments(BEAM, [Segment(s, WIDE) for s in shares])


def test_many_thirds_end_at_exactly_one():
    made = with_segments(BEAM, [Segment(1 / 3, SMALL if n % 2 else WIDE) for n in range(7)])
    assert made.points[-1].cumulative_weight == 1.0
    assert sum(s.share for s in segments(made)) == pytest.approx(1, abs=1e-12)
