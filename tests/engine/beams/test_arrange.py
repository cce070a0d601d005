from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import EmptyVolume, InputError
from engine.beams.arrange import ARRANGEMENTS, evenly, fan, isocentre_of, mirrored, new_beam, opposed
from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from engine.space.frames import beam_from_patient
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((60, 60, 60), (1.0, 1.0, 2.0))


def test_isocentre_is_the_centre_of_mass() -> None:
    ball = coverage_of(GRID, lambda x, y, z: (x - 7) ** 2 + (y + 4) ** 2 + (z - 3) ** 2 <= 144)
    assert isocentre_of(ball) == pytest.approx((7, -4, 3), abs=0.11)
    other = coverage_of(GRID, lambda x, y, z: (x + 13) ** 2 + (y + 4) ** 2 + (z - 3) ** 2 <= 144)
    assert isocentre_of((ball, other)) == pytest.approx((-3, -4, 3), abs=0.11)
    assert isocentre_of((ball, Coverage(GRID))) == isocentre_of(ball)
    with pytest.raises(EmptyVolume):
        isocentre_of(Coverage(GRID))


def test_angles() -> None:
    assert evenly(5) == (0, 72, 144, 216, 288)
    assert evenly(3, 350) == (350, 110, 230)
    assert evenly(7) == ARRANGEMENTS["Seven, evenly spaced"]
    assert opposed(270) == (270, 90)
    with pytest.raises(InputError):
        evenly(0)
    for angles in ARRANGEMENTS.values():
        assert all(0 <= a < 360 for a in angles)
        assert len(set(angles)) == len(angles)


def test_new_beams_have_their_own_keys() -> None:
    one, two = (new_beam("A", "generic-6", (1.0, 2.0, 3.0), 370.0) for _ in range(2))
    assert one.key != two.key
    assert one.gantry_deg == 10.0
    assert one.nameless() == two.nameless()


def test_a_fan_leaves_the_plane_and_the_foot_end() -> None:
    made = fan(5, 90.0, 40.0)
    assert made == ((40, 315), (40, 337.5), (40, 0), (320, 22.5), (320, 45))
    for gantry, couch in made[3:]:
        # IEC 61217: the foot end of a couch turned by a positive angle lies at +X, the head of the machine at -X.
        assert np.sin(np.deg2rad(couch)) > 0 > np.sin(np.deg2rad(gantry))
    for bad in ((1, 90.0, 40.0), (5, 0.0, 40.0), (5, 90.0, 95.0)):
        with pytest.raises(InputError):
            fan(*bad)


@pytest.mark.parametrize("position", ["HFS", "FFP"])
def test_a_mirrored_beam_throws_the_mirrored_field(position: str) -> None:
    """Corners of the field on the isocentre plane, and the source, change from left to right and nothing else."""
    machine = load_machine("generic-6")
    opening = Aperture((-20.0, 50.0), (-10.0, 30.0), (-40.0, 0.0, 40.0), ((-15.0, 5.0), (-30.0, 8.0)))
    one = new_beam("b", machine.name, (0.0, 0.0, 0.0), 40.0, opening, 25.0, 10.0)
    other = mirrored(one, machine)
    a, b = (beam_from_patient(position, m.gantry_deg, m.collimator_deg, m.couch_deg) for m in (one, other))
    flip = np.diag((-1.0, 1.0, 1.0))
    assert b[2] == pytest.approx(flip @ a[2])
    for n, (low, high) in enumerate(opening.leaves_mm):
        for x, edge in ((low, n), (high, n + 1)):
            here = x * a[0] + opening.leaf_edges_mm[edge] * a[1]
            there = -x * b[0] + opening.leaf_edges_mm[edge] * b[1]
            assert there == pytest.approx(flip @ here)
        assert other.aperture.leaves_mm[n] == (-high, -low)
    again = mirrored(other, machine)
    assert again.but(key=one.key) == one
    assert other.key != one.key
