from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import EmptyVolume, GeometryError, InputError
from engine.beams.arrange import new_beam
from engine.beams.conform import Margins, conform, conform_to_shadow
from engine.beams.machine_file import load_machine
from engine.beams.shadow_kernels import strip_extents
from engine.beams.silhouette import shadow_points
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((100, 100, 100), (1.0, 1.0, 2.0))
BALL = coverage_of(GRID, lambda x, y, z: x * x + y * y + z * z <= 900)
SHOE = coverage_of(GRID, lambda x, y, z: (np.hypot(x, z) < 40) & ~((np.abs(x) < 12) & (z < 10)) & (np.abs(y) < 20))
MACHINE = load_machine("generic-6")


def beam(gantry: float = 0, collimator: float = 0, isocentre=(0.0, 0.0, 0.0)):
    return new_beam("b", MACHINE.name, isocentre, gantry, None, collimator)


def test_disc_with_margin() -> None:
    aperture = conform(beam(), BALL, MACHINE, 7.0)
    assert aperture.x_mm == pytest.approx((-37, 37), abs=0.4)
    assert aperture.y_mm == pytest.approx((-37, 37), abs=1.1)
    assert aperture.leaf_edges_mm == MACHINE.leaf_edges_mm
    edges = np.array(aperture.leaf_edges_mm)
    for (a, b), y0, y1 in zip(aperture.leaves_mm, edges[:-1], edges[1:]):
        inner = 0.0 if y0 < 0 < y1 else min(abs(y0), abs(y1))
        if inner < 36:
            # The widest chord of the strip, give or take the steps of the slabs.
            chord = np.sqrt(37**2 - inner**2)
            assert b == pytest.approx(chord, abs=2.5 if inner >= 30 else 1.0)
            assert a == pytest.approx(-b, abs=0.6)
        elif inner > 39:
            assert a == b
            assert not aperture.x_mm[0] < a < aperture.x_mm[1]


@pytest.mark.parametrize("margin", [0.0, 5.0, 12.0])
@pytest.mark.parametrize("gantry", [0.0, 35.0, 250.0])
@pytest.mark.parametrize("collimator", [0.0, 30.0, 90.0])
def test_nothing_of_the_target_and_its_margin_is_shielded(margin: float, gantry: float, collimator: float) -> None:
    b = beam(gantry, collimator, (5.0, -3.0, 4.0))
    aperture = conform(b, SHOE, MACHINE, margin)
    shadow = shadow_points(SHOE, b, MACHINE.sad_mm, "HFS")
    turn = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    rim = (shadow[:, None] + margin * np.stack((np.cos(turn), np.sin(turn)), axis=-1)).reshape(-1, 2)
    edges = np.array(aperture.leaf_edges_mm)
    strip = np.searchsorted(edges, rim[:, 1], side="right") - 1
    leaves = np.array(aperture.leaves_mm)[strip]
    slack = 0.06
    assert (leaves[:, 0] <= rim[:, 0] + slack).all()
    assert (leaves[:, 1] >= rim[:, 0] - slack).all()
    assert (aperture.x_mm[0] <= rim[:, 0] + slack).all()
    assert (aperture.y_mm[1] >= rim[:, 1] - slack).all()
    # And no jaw or leaf stands back further than it must.
    for side, x in ((0, rim[:, 0].min()), (1, rim[:, 0].max())):
        assert aperture.x_mm[side] == pytest.approx(x, abs=0.2)


def test_union_of_targets_and_closing_margin() -> None:
    other = coverage_of(GRID, lambda x, y, z: (x - 35) ** 2 + y * y + z * z <= 100)
    both = conform(beam(), (BALL, other), MACHINE, 5.0)
    assert both.x_mm[1] == pytest.approx(50, abs=0.5)
    assert both.x_mm[0] == pytest.approx(-35, abs=0.5)
    tighter = conform(beam(), BALL, MACHINE, -5.0)
    assert tighter.x_mm == pytest.approx((-25, 25), abs=0.4)
    assert max(b for _, b in tighter.leaves_mm if b < 100) >= 25 - 0.4


def test_machine_limits_hold() -> None:
    wide = coverage_of(grid_of((500, 60, 500), (5.0, 5.0, 5.0)), lambda x, y, z: (np.abs(x) < 240) & (np.abs(z) < 240))
    aperture = conform(beam(), wide, MACHINE, 10.0)
    limit = MACHINE.field_limit_mm
    assert aperture.x_mm == (-limit, limit)
    assert all(
        -limit <= a <= MACHINE.leaf_travel_mm and -MACHINE.leaf_travel_mm <= b <= limit for a, b in aperture.leaves_mm
    )
    gap = conform(beam(), BALL, MACHINE.but(min_leaf_gap_mm=6.0), 0.0)
    assert min(b - a for a, b in gap.leaves_mm) >= 6.0 - 1e-9
    off = conform(beam(isocentre=(160.0, 0.0, 0.0)), BALL, MACHINE, 5.0)
    assert all(a <= MACHINE.leaf_travel_mm and b >= -MACHINE.leaf_travel_mm for a, b in off.leaves_mm)


def test_without_leaves_there_are_only_jaws() -> None:
    aperture = conform(beam(), BALL, MACHINE.but(leaf_edges_mm=()), 5.0)
    assert aperture.leaves_mm == ()
    assert aperture.x_mm == pytest.approx((-35, 35), abs=0.4)


def test_refusals() -> None:
    with pytest.raises(EmptyVolume):
        conform(beam(), Coverage(GRID), MACHINE, 5.0)
    with pytest.raises(EmptyVolume):
        conform(beam(), (), MACHINE, 5.0)
    with pytest.raises(GeometryError, match="outside"):
        conform(beam(isocentre=(400.0, 0.0, 0.0)), BALL, MACHINE, 5.0)
    with pytest.raises(GeometryError, match="leaves nothing"):
        conform(beam(), BALL, MACHINE, -40.0)
    with pytest.raises(InputError):
        conform(beam(), BALL, MACHINE, float("nan"))


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 10_000), st.floats(0, 15))
def test_extents_of_discs_in_strips(seed: int, margin: float) -> None:
    rng = np.random.default_rng(seed)
    points, edges = rng.uniform(-40, 40, (30, 2)), np.sort(rng.uniform(-60, 60, 9))
    lo, hi = strip_extents(points, edges, margin, margin, margin, margin)
    turn = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    rim = (points[:, None] + margin * np.stack((np.cos(turn), np.sin(turn)), axis=-1)).reshape(-1, 2)
    for s in range(len(edges) - 1):
        inside = rim[(rim[:, 1] > edges[s]) & (rim[:, 1] < edges[s + 1])]
        if len(inside):
            assert lo[s] <= inside[:, 0].min() + 1e-9
            assert hi[s] >= inside[:, 0].max() - 1e-9
            assert hi[s] <= points[:, 0].max() + margin + 1e-9


def test_each_side_has_a_margin_of_its_own() -> None:
    """A ball of 30 mm with 2, 12, 5 and 9 mm: jaws at the extremes, quarters of ellipses about every point between."""
    aperture = conform(beam(), BALL, MACHINE, Margins(2.0, 12.0, 5.0, 9.0))
    assert aperture.x_mm == pytest.approx((-32, 42), abs=0.5)
    assert aperture.y_mm == pytest.approx((-35, 39), abs=1.1)
    edges = aperture.leaf_edges_mm
    middle = next(n for n, e in enumerate(edges) if e <= 0.5 < edges[n + 1])
    assert aperture.leaves_mm[middle] == pytest.approx((-32, 42), abs=0.5)
    assert conform(beam(), BALL, MACHINE, Margins(7.0, 7.0, 7.0, 7.0)) == conform(beam(), BALL, MACHINE, 7.0)


def test_ovals_about_one_point() -> None:
    lo, hi = strip_extents(np.zeros((1, 2)), np.array([-9.0, -4.0, 6.0, 8.0, 20.0]), 3.0, 6.0, 5.0, 10.0)
    assert lo == pytest.approx([-3 * 0.6, -3, -3 * 0.8, -3 * 0.6])  # 4/5 down, none, 6/10 and 8/10 up
    assert hi == pytest.approx([6 * 0.6, 6, 6 * 0.8, 6 * 0.6])
    nothing = strip_extents(np.zeros((1, 2)), np.array([1.0, 2.0]), 3.0, 3.0, 0.0, 0.0)
    assert nothing[0][0] == np.inf


def test_one_bad_margin_is_refused() -> None:
    with pytest.raises(InputError, match="500"):
        conform_to_shadow(np.zeros((4, 2)), MACHINE, Margins(0.0, 500.0, 0.0, 0.0))
