"""What a shape is taken for between its slices and beyond its ends."""

import numpy as np
import pytest

from engine.volumes.coverage import Coverage
from engine.volumes.levels import ends, laid, levels
from engine.volumes.margins import union
from tests.support.solids import block, cube_grid, cylinder, sphere, stacked

GRID = cube_grid(24, 1.0, 3.0)
BOX = (0, 48, 0, 48)


def sections(coverage):
    """Return (z in mm, area in mm2) of every level, and of the ends the heights."""
    found = []
    for stretch in levels(coverage, BOX, True, 0, GRID.shape[0]):
        for level in stretch:
            z = GRID.origin_mm[2] + level.z * 3.0
            found.append((z, 0.0 if level.share is None else float(level.share.sum()) / 255, bool(level.points)))
    return found


@pytest.mark.parametrize("phase", [0.0, 0.7, 1.5, 2.2])
@pytest.mark.parametrize("radius", [5.0, 9.0, 18.0])
def test_a_ball_is_a_ball_between_slices_and_closes_at_its_poles(radius, phase):
    """Areas within 2 % of the widest cut, poles within 0.1 mm; a blend of lines alone loses 15 % of a small ball."""
    found = sections(sphere(GRID, radius, (0.2, 0.1, phase)))
    poles = [z - phase for z, _, closes in found if closes]
    assert min(poles) == pytest.approx(-radius, abs=0.1)
    assert max(poles) == pytest.approx(radius, abs=0.1)
    for z, area, closes in found:
        if not closes:
            true = np.pi * max(0.0, radius**2 - (z - phase) ** 2)
            assert area == pytest.approx(true, abs=0.02 * np.pi * radius**2 + 1.0)


def test_a_tube_ends_with_the_slab_of_its_last_slice():
    """No caps: the house rule of half-slice ends, with the very slice at the end."""
    tube = cylinder(GRID, 8.3, 11)
    low, high = tube.bounds_mm()
    held = [z for z, area, _ in sections(tube) if area > 0]
    assert min(held) == pytest.approx(low[2], abs=1e-6)
    assert max(held) == pytest.approx(high[2], abs=1e-6)
    last = [s[1] for s in levels(tube, BOX, True, 0, GRID.shape[0]) if s[1].shape is not None][-1]
    assert np.array_equal(last.share, laid(tube.tiles[-1].alpha, tube.tiles[-1], BOX))


def test_a_single_slice_is_its_slab():
    disc = Coverage(GRID, cylinder(GRID, 6, 2).tiles[:1])
    held = [z for z, area, _ in sections(disc) if area > 0]
    assert max(held) - min(held) == pytest.approx(3.0)


def test_a_cone_closes_at_its_apex_and_a_blunt_one_before_the_next_slice():
    sharp = stacked(GRID, lambda z: 1.2 * (9.0 - z) if z > -12 else 0.0)
    top = max(z for z, _, closes in sections(sharp) if closes)
    assert top == pytest.approx(9.0, abs=0.4)
    blunt = stacked(GRID, lambda z: 14 - 0.3 * z if abs(z) < 10 else 0.0)
    end = max(z for z, area, _ in sections(blunt) if area > 0)
    plane = max(z for z in GRID.z_mm if abs(z) < 10)
    assert plane + 1.5 - 1e-6 <= end < plane + 3


def test_each_piece_ends_by_itself():
    """Two balls beside each other, one higher: the lower one closes where it closes alone."""
    one, other = sphere(GRID, 7, (-10.0, 0.0, -3.4)), sphere(GRID, 7, (10.0, 0.0, 4.3))
    poles = [z for z, _, closes in sections(union(one, other)) if closes]
    for pole in (3.6, -10.4, 11.3, -2.7):
        assert min(abs(z - pole) for z in poles) < 0.15


def test_pieces_that_meet_nothing_end():
    tall, short = block(GRID, (-12, -4, -9), (-4, 4, 9)), block(GRID, (4, -4, -9), (12, 4, 3))
    both = union(tall, short)
    tile = both.tile(short.planes[-1])
    gone = ends(both, tile, 1)
    assert gone is not None
    assert np.flatnonzero(gone.any(axis=0)).min() + tile.column > 24
    assert ends(both, tile, -1) is None
    assert ends(both, both.tiles[-1], 1).all() or (ends(both, both.tiles[-1], 1) == (both.tiles[-1].alpha > 0)).all()


def test_without_a_margin_along_z_slices_stand_alone():
    ball = sphere(GRID, 9)
    found = list(levels(ball, BOX, False, 0, GRID.shape[0]))
    assert [low.z for low, _ in found] == list(ball.planes)
    assert all(low is high for low, high in found)
