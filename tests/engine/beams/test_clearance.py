"""Distances between head, body and couch that can be worked out with a ruler."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from engine.beams.arcs import with_arc
from engine.beams.arrange import new_beam
from engine.beams.clearance import angles_of, clearance, envelope, head_distance_mm, near_angles
from engine.beams.machine_file import load_machine
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((420, 420, 120), (4.0, 4.0, 6.0))
# A round body of 100 mm radius about the origin; head face at 400, radius 300, couch 500 x 80.
BODY = coverage_of(GRID, lambda x, y, z: np.hypot(x, y) < 100, fine=2)
MACHINE = load_machine("generic-6").but(
    head_distance_mm=400.0, head_radius_mm=300.0, couch_width_mm=500.0, couch_thickness_mm=80.0
)


def beam(gantry: float = 0.0, isocentre=(0.0, 0.0, 0.0), couch: float = 0.0):
    return new_beam("b", MACHINE.name, isocentre, gantry, None, 0.0, couch)


@pytest.mark.parametrize("position", ["HFS", "HFP", "FFS", "FFP"])
def test_from_above_the_body_is_nearest_and_the_couch_lies_below_however_the_patient_lies(position: str) -> None:
    found = clearance(beam(), BODY, MACHINE, position)
    assert (found.what, found.distance_mm) == ("body", pytest.approx(300, abs=4))
    # From below, the couch's underside at -180: 220 mm from the face.
    found = clearance(beam(180.0), BODY, MACHINE, position)
    assert (found.what, found.distance_mm) == ("couch", pytest.approx(220, abs=4))


def test_from_the_side_the_edge_of_the_couch_counts() -> None:
    # The couch reaches to 250 mm, within the 300 mm of the head: 150 mm to its face.
    found = clearance(beam(90.0), BODY, MACHINE, "HFS")
    assert (found.what, found.distance_mm) == ("couch", pytest.approx(150, abs=4))


def test_an_isocentre_far_to_one_side_brings_them_together() -> None:
    near = clearance(beam(90.0, (-170.0, 0.0, 0.0)), BODY, MACHINE, "HFS")
    assert near.distance_mm == 0
    assert clearance(beam(270.0, (-170.0, 0.0, 0.0)), BODY, MACHINE, "HFS").distance_mm > 100


def test_a_couch_turned_across_meets_the_head_at_its_side() -> None:
    assert clearance(beam(90.0, couch=90.0), BODY, MACHINE, "HFS").distance_mm == 0
    assert clearance(beam(0.0, couch=90.0), BODY, MACHINE, "HFS").distance_mm == pytest.approx(300, abs=4)


def test_one_point_beside_the_cylinder() -> None:
    # 3-4-5: 30 mm short of the face, 40 mm beside the rim.
    assert head_distance_mm(np.array([[340.0, -370.0, 0.0]]), beam(), 0.0, MACHINE, "HFS") == pytest.approx(50)


def test_an_arc_is_looked_at_all_along() -> None:
    arc = with_arc(beam(), (350.0, 100.0), (beam().aperture,) * 2, "CW")
    angles = list(angles_of(arc))
    assert (angles[0], angles[-1]) == (350, 100)
    assert max((b - a) % 360 for a, b in pairwise(angles)) <= 5
    assert clearance(arc, BODY, MACHINE, "HFS").distance_mm <= clearance(beam(90.0), BODY, MACHINE, "HFS").distance_mm


def test_without_a_body_nothing_is_said() -> None:
    assert envelope(Coverage(GRID), 500.0, 80.0, "HFS") == ()
    assert clearance(beam(), Coverage(GRID), MACHINE, "HFS") is None


def test_angles_without_room_lie_on_the_side_that_is_near() -> None:
    angles = near_angles((-170.0, 0.0, 0.0), 0.0, BODY, MACHINE, "HFS")
    assert 90 in angles
    assert not {0, 180, 270} & set(angles)
    assert near_angles((0.0, 0.0, 0.0), 0.0, BODY, MACHINE, "HFS") == ()
