"""An organ is covered where the target allows: blocks worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import EmptyVolume, InputError
from engine.beams.arrange import new_beam
from engine.beams.conform import conform
from engine.beams.machine_file import load_machine
from engine.beams.shield import shield
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((120, 40, 100), (1.0, 1.0, 2.0))
MACHINE = load_machine("generic-6")
TARGET = coverage_of(GRID, lambda x, y, z: (np.abs(x) < 20) & (np.abs(y) < 2) & (abs(z) < 30))


def organ(low: float, high: float) -> Coverage:
    return coverage_of(GRID, lambda x, y, z: (x > low) & (x < high) & (np.abs(y) < 2) & (abs(z) < 10))


def fitted():
    made = new_beam("b", MACHINE.name, (0.0, 0.0, 0.0), 0.0)
    return made.but(aperture=conform(made, TARGET, MACHINE, 8.0))


def pair_at(aperture, y_mm: float) -> tuple[float, float]:
    edges = aperture.leaf_edges_mm
    return aperture.leaves_mm[next(n for n in range(len(edges) - 1) if edges[n] <= y_mm < edges[n + 1])]


def test_beside_the_target_the_leaf_stops_where_the_organ_begins() -> None:
    made = shield(fitted(), organ(23, 50), TARGET, MACHINE, 0.0)
    assert pair_at(made, 1.0) == pytest.approx((-28, 23), abs=0.3)
    assert pair_at(made, 20.0) == pair_at(fitted().aperture, 20.0)
    assert pair_at(shield(fitted(), organ(23, 50), TARGET, MACHINE, 2.0), 1.0)[1] == pytest.approx(21, abs=0.3)


def test_an_organ_across_the_edge_is_covered_up_to_the_target() -> None:
    made = shield(fitted(), organ(-50, 0), TARGET, MACHINE, 3.0)
    assert pair_at(made, 1.0) == pytest.approx((-20, 28), abs=0.3)
    assert pair_at(shield(fitted(), organ(-50, 0), TARGET, MACHINE, 3.0, keep_mm=5.0), 1.0)[0] == pytest.approx(
        -25, abs=0.3
    )


def test_an_organ_within_the_target_moves_nothing() -> None:
    assert shield(fitted(), organ(-10, 10), TARGET, MACHINE, 3.0).leaves_mm == fitted().aperture.leaves_mm


def test_without_target_the_wider_opening_is_left_and_a_covered_pair_is_parked() -> None:
    assert pair_at(shield(fitted(), organ(-15, -5), None, MACHINE, 0.0), 1.0) == pytest.approx((-5, 28), abs=0.3)
    a, b = pair_at(shield(fitted(), organ(-50, 50), None, MACHINE, 0.0), 1.0)
    assert b - a == pytest.approx(MACHINE.min_leaf_gap_mm)
    assert a >= fitted().aperture.x_mm[1] or b <= fitted().aperture.x_mm[0]


def test_a_beam_of_jaws_alone_gets_leaves() -> None:
    bare = fitted().but(aperture=new_beam("b", "m", (0.0, 0.0, 0.0), 0.0).aperture)
    made = shield(bare, organ(23, 60), TARGET, MACHINE, 0.0)
    assert pair_at(made, 1.0) == pytest.approx((-50, 23), abs=0.3)
    assert pair_at(made, 40.0) == (-50, 50)


def test_what_cannot_be_done_is_refused() -> None:
    with pytest.raises(EmptyVolume):
        shield(fitted(), Coverage(GRID), TARGET, MACHINE, 0.0)
    with pytest.raises(InputError, match="no leaves"):
        shield(fitted(), organ(0, 9), TARGET, MACHINE.but(leaf_edges_mm=()), 0.0)
    with pytest.raises(InputError, match="-1"):
        shield(fitted(), organ(0, 9), TARGET, MACHINE, -1.0)
