"""Couch moves worked out by hand from where the patient lies. Someone faces the gantry: +X right, +Y ahead, +Z up."""

from __future__ import annotations

import pytest

from engine.base.errors import GeometryError
from engine.beams.couch import CouchMove, couch_move

# Isocentre 10 mm to the patient's left, 20 mm to the back, 30 mm to the head of the marker.
LEFT_BACK_HEAD = (10.0, 20.0, 30.0)


@pytest.mark.parametrize(
    ("position", "lateral", "longitudinal", "vertical"),
    [
        # On the back, head to the gantry: left is right of the viewer, so the couch goes left; the back is below, so it
        # rises; the head is ahead, so it comes back.
        ("HFS", -10.0, -30.0, 20.0),
        # On the face, head to the gantry: left is left; the back is above.
        ("HFP", 10.0, -30.0, -20.0),
        # On the back, feet to the gantry: left is left; the head is nearer.
        ("FFS", 10.0, 30.0, 20.0),
        ("FFP", -10.0, 30.0, -20.0),
    ],
)
def test_the_couch_goes_the_other_way(position: str, lateral: float, longitudinal: float, vertical: float) -> None:
    assert couch_move((0.0, 0.0, 0.0), LEFT_BACK_HEAD, position) == CouchMove(lateral, longitudinal, vertical)


def test_only_the_line_between_counts_and_it_turns_round() -> None:
    assert couch_move((5.0, 6.0, 7.0), (5.0, 6.0, 7.0), "HFS") == CouchMove(0.0, 0.0, 0.0)
    there, back = couch_move((1.0, 2.0, 3.0), (4.0, -2.0, 8.0), "HFS"), couch_move((4.0, -2.0, 8.0), (1.0, 2.0, 3.0), "HFS")
    assert (there.lateral_mm, there.vertical_mm) == (-back.lateral_mm, -back.vertical_mm)
    assert str(couch_move((0.0, 0.0, 0.0), (0.01, 0.0, 0.0), "HFS").lateral_mm) == "0.0"


def test_an_unknown_position_is_refused() -> None:
    with pytest.raises(GeometryError):
        couch_move((0.0, 0.0, 0.0), LEFT_BACK_HEAD, "SITTING")
