"""One aperture of a beam after another."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.beams.arcs import with_arc
from engine.beams.arrange import new_beam
from engine.beams.beam import Aperture, ControlPoint
from engine.beams.parts import part, part_count, with_part
from engine.beams.segments import Segment, segments, with_segments

WIDE, SMALL, TALL = Aperture((-50, 50), (-50, 50)), Aperture((-10, 10), (-10, 10)), Aperture((-5, 5), (-80, 80))
STILL = new_beam("b", "m", (0.0, 0.0, 0.0), 30.0, WIDE)
STEPS = with_segments(STILL, [Segment(3, WIDE), Segment(1, SMALL)])
ARC = with_arc(STILL, (30.0, 40.0, 50.0), (WIDE, SMALL, WIDE), "CW")


def test_every_kind_of_beam_has_its_parts() -> None:
    assert [part_count(b) for b in (STILL, STEPS, ARC)] == [1, 2, 3]
    assert part(STEPS, 1) == (30.0, SMALL)
    assert part(ARC, 1) == (40.0, SMALL)
    assert part(STILL, 9) == (30.0, WIDE)


def test_one_part_is_changed_and_the_others_stay() -> None:
    assert with_part(STILL, 0, TALL).aperture == TALL
    changed = with_part(STEPS, 1, TALL)
    assert [(s.share, s.aperture) for s in segments(changed)] == [(0.75, WIDE), (0.25, TALL)]
    assert with_part(STEPS, 0, TALL).aperture == TALL
    assert [p.aperture for p in with_part(ARC, 0, TALL).points] == [TALL, SMALL, WIDE]


def test_leaves_that_move_while_it_delivers_are_control_points() -> None:
    sliding = STILL.but(points=(ControlPoint(0, 30, WIDE), ControlPoint(1, 30, SMALL)))
    assert part_count(sliding) == 2
    assert with_part(sliding, 1, TALL).points[1].aperture == TALL


def test_what_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="opening 3"):
        with_part(STEPS, 2, TALL)
    with pytest.raises(InputError):
        with_part(STEPS, 1, Aperture((-5, 5), (-5, 5), (-5.0, 5.0), ((-1.0, 1.0),)))
