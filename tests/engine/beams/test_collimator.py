"""The best collimator angle of shapes whose best angle is known."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import EmptyVolume
from engine.beams.arrange import new_beam
from engine.beams.beam import Aperture
from engine.beams.collimator import CollimatorRequest, best_collimator, open_cm2
from engine.beams.conform import conform
from engine.beams.machine_file import load_machine
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((140, 20, 140), (1.0, 1.0, 2.0))
LEAVES = load_machine("generic-6")
JAWS_ONLY = LEAVES.but(leaf_edges_mm=())


def bar(angle_deg: float, half_long: float = 50.0, half_wide: float = 15.0) -> Coverage:
    """A flat bar in the coronal plane; its long side stands at an angle from the patient's +x towards the head."""
    a = np.deg2rad(angle_deg)
    c, s = np.cos(a), np.sin(a)
    return coverage_of(
        GRID,
        lambda x, y, z: (np.abs(c * x + s * z) < half_long) & (np.abs(-s * x + c * z) < half_wide) & (np.abs(y) < 2),
    )


def asked(target: Coverage, machine, gantry: float = 0.0):
    beam = new_beam("b", machine.name, (0.0, 0.0, 0.0), gantry)
    return best_collimator(CollimatorRequest(beam, target, machine, (5.0, 5.0, 5.0, 5.0), "HFS"))


@pytest.mark.parametrize("angle", [20, 45, 70])
def test_jaws_lie_along_a_bar(angle: int) -> None:
    """A box of 100 x 30 mm with 5 mm: 110 x 40 mm at the angle of the bar or square to it, 14 cm2 beyond the box."""
    found = asked(bar(angle), JAWS_ONLY)
    assert min(abs(found.best_deg - a) for a in (angle, (angle + 90) % 180)) <= 2
    assert min(found.beyond_cm2) == pytest.approx(14.0, abs=3.0)  # slabs of 2 mm stand out at the corners
    assert found.beyond_cm2[found.angles_deg.index(0.0)] > 1.3 * min(found.beyond_cm2) + 5


def test_the_angle_really_leaves_least_open() -> None:
    target = bar(33)
    found = asked(target, LEAVES)
    for angle, beyond in list(zip(found.angles_deg, found.beyond_cm2))[::7]:
        beam = new_beam("b", LEAVES.name, (0.0, 0.0, 0.0), 0.0, None, angle)
        opened = open_cm2(conform(beam, target, LEAVES, 5.0))
        assert opened - 30.0 == pytest.approx(beyond, abs=0.8)
    assert found.best_deg in found.angles_deg


def test_a_disc_needs_no_turn() -> None:
    disc = coverage_of(GRID, lambda x, y, z: (np.hypot(x, z) < 30) & (np.abs(y) < 2))
    found = asked(disc, JAWS_ONLY)
    assert max(found.beyond_cm2) - min(found.beyond_cm2) < 3.0


def test_open_area() -> None:
    assert open_cm2(Aperture((-50, 50), (-20, 30))) == pytest.approx(50)
    two = Aperture((-50, 50), (-10, 10), (-20.0, 0.0, 20.0), ((-60.0, 0.0), (-5.0, 5.0)))
    assert open_cm2(two) == pytest.approx((50 * 10 + 10 * 10) / 100)


def test_nothing_painted() -> None:
    with pytest.raises(EmptyVolume):
        asked(Coverage(GRID), LEAVES)
