"""Margins and sums of volumes."""

import numpy as np
import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from engine.base.errors import Cancelled, GeometryError
from engine.volumes.coverage import Coverage
from engine.volumes.margins import (
    equal,
    grow,
    intersection,
    keep_inside,
    keep_outside,
    shrink,
    subtract,
    union,
)
from tests.support.solids import block, cube_grid, cylinder, sphere

GRID = cube_grid(40, 1.0, 2.0)
few = settings(max_examples=6, deadline=None, phases=(Phase.explicit, Phase.generate))
margin = st.tuples(*[st.one_of(st.floats(0, 9), st.floats(0, 9), st.floats(0, 0.6), st.just(0.0))] * 6)


def within(inner: Coverage, outer: Coverage, levels: int = 1) -> bool:
    return bool((inner.dense().astype(int) - outer.dense()).max() <= levels)


def nearly_within(inner: Coverage, outer: Coverage, whole: Coverage) -> bool:
    """Whether next to nothing sticks out: together one per cent of `whole`, and more than four tenths of a few pixels only.

    Beside margins of next to nothing shares along the whole line are known to a few hundredths of a pixel, at tips to half.
    """
    excess = np.clip(inner.dense().astype(int) - outer.dense(), 0, None)
    volume = whole.dense().sum(dtype=int)
    return bool((excess > 102).sum() <= 2e-3 * volume / 255 and excess.sum() <= 1e-2 * volume)


@pytest.mark.parametrize(("plane_mm", "margin_mm"), [(1.0, 5.0), (2.5, 5.0), (3.0, 7.0)])
def test_a_sphere_grows_and_shrinks_to_a_sphere(plane_mm, margin_mm):
    found = []
    for phase in np.linspace(0, plane_mm, 4, endpoint=False):
        ball = sphere(cube_grid(36, 1.0, plane_mm, phase), 20, (0.2, 0.4, 0.0))
        found.append([f(ball, equal(margin_mm)).volume_cm3 for f in (grow, shrink)])
    wide, narrow = np.mean(found, axis=0)
    sphere_cm3 = 4 / 3 * np.pi / 1000
    assert wide == pytest.approx(sphere_cm3 * (20 + margin_mm) ** 3, rel=0.01)
    assert narrow == pytest.approx(sphere_cm3 * (20 - margin_mm) ** 3, rel=0.03)


@few
@given(margin, st.integers(0, 5), st.floats(0, 4))
@example((5.290895, 0.0, 0.0, 8.846177, 6.581688, 2.281363), 2, 1.053969)
@example((0.0, 0.0, 0.0, 0.114, 0.39361, 8.315743), 5, 1.156805)
@example((0.734, 0.0, 0.0, 0.404, 4.247, 2.466), 1, 0.198)
@example((0.0, 0.0, 3.49, 0.0, 5.446, 7.844), 0, 0.576)
@example((0.1, 0.1, 0.1, 0.1, 6.0, 6.0), 4, 1.0)
@example((0.0, 0.0118, 0.0007, 0.0055, 2.3644, 8.377), 2, 2.102)
def test_a_wider_margin_holds_a_narrower_one(margins, which, more):
    ball = sphere(GRID, 12, (3.3, -2.1, 1.0))
    wider = tuple(m + more * (i == which) for i, m in enumerate(margins))
    small, large = grow(ball, margins), grow(ball, wider)
    assert within(ball, small)
    assert nearly_within(small, large, small)
    assert nearly_within(shrink(ball, wider), shrink(ball, margins), ball)
    assert within(shrink(ball, margins), ball)


@few
@given(margin)
@example((0.0, 0.5, 0.0, 4.0, 3.0, 0.0))
@example((0.0, 0.0, 0.0, 0.015625, 0.0, 0.0))
def test_mirrored_margins_of_a_mirrored_shape_mirror(margins):
    left, right, ant, post, inf, sup = margins
    shape = union(sphere(GRID, 9, (5.5, 3.5, 3.0)), block(GRID, (-12, -9, -7), (2, 1, 5)))
    turned = Coverage.from_dense(GRID, shape.dense()[::-1, ::-1, ::-1].copy())
    for change in (grow, shrink):
        a = change(shape, margins).dense()
        b = change(turned, (right, left, post, ant, sup, inf)).dense()[::-1, ::-1, ::-1]
        # A centre that lies on the line lies on either side of it by rounding, and its share is read from that side.
        differ = np.abs(a.astype(int) - b)
        assert (differ > 2).sum() <= 2
        assert differ.max() <= 40


@pytest.mark.parametrize("little", [0.02, 0.1, 0.3])
def test_next_to_no_margin_is_nearly_none(little):
    """Only upwards 6 mm and `little` elsewhere: a ball loses what it loses upwards, and a thin skin."""
    ball = sphere(GRID, 12, (3.3, -2.1, 1.0))
    sharp = shrink(ball, (0, 0, 0, 0, 0, 6.0))
    for margins in (
        (little,) * 4 + (0.0, 6.0),
        (0.0, little, 0.0, 0.0, 0.0, 6.0),
        (little, 0.0, 2 * little, 0.0, 0.0, 6.0),
    ):
        found = shrink(ball, margins)
        assert nearly_within(found, sharp, ball)
        lost = np.clip(sharp.dense().astype(int) - found.dense(), 0, None)
        assert lost.max() < 255 * (0.1 + sum(margins[:4]))
        assert lost.sum() < (0.004 + 0.06 * sum(margins[:4])) * sharp.dense().sum(dtype=int)


def test_growing_back_does_not_restore_corners_but_stays_inside():
    brick = block(GRID, (-15, -12, -11), (15, 12, 11))
    opened = grow(shrink(brick, equal(5)), equal(5))
    assert opened.volume_cm3 < brick.volume_cm3
    assert opened.volume_cm3 > 0.7 * brick.volume_cm3
    assert within(opened, brick, 12)


def test_shrinking_away_leaves_nothing():
    assert shrink(sphere(GRID, 6), equal(7)).is_empty
    assert shrink(Coverage(GRID), equal(7)).is_empty
    assert grow(Coverage(GRID), equal(7)).is_empty
    ball = sphere(GRID, 6)
    assert grow(ball, equal(0)) is ball
    assert shrink(ball, equal(0)) is ball


def test_z_margins_alone_copy_slices_with_their_edges():
    ball = cylinder(GRID, 9.3, 5)
    tall = grow(ball, (0, 0, 0, 0, 4.0, 0))
    assert len(tall.planes) == len(ball.planes) + 2
    assert tall.planes[-1] == ball.planes[-1]
    assert np.array_equal(tall.slice(tall.planes[0]), ball.slice(ball.planes[0]))


def test_a_z_margin_ends_at_the_nearest_half_way_face():
    disc = cylinder(GRID, 9, 1.5)
    for margin_mm, more in ((0.9, 0), (1.1, 1), (2.9, 1), (3.1, 2)):
        assert len(grow(disc, (0, 0, 0, 0, 0, margin_mm)).planes) - len(disc.planes) == more


def test_growth_is_cut_at_the_image_and_shrinking_comes_from_its_rim():
    everything = Coverage.from_dense(GRID, np.ones(GRID.shape, bool))
    assert grow(everything, equal(5)) == everything
    left = shrink(everything, equal(5))
    assert left.bounds_mm()[0] == pytest.approx((-35, -35, -35), abs=1.01)
    assert left.slice(20)[40].sum() / 255 == pytest.approx(70, abs=0.05)


@pytest.mark.parametrize("bad", [(-1, 0, 0, 0, 0, 0), (np.nan,) * 6, (1, 2, 3), (500,) * 6])
def test_bad_margins_are_refused(bad):
    with pytest.raises(GeometryError, match="six numbers"):
        grow(sphere(GRID, 5), bad)


def test_sums_of_volumes():
    a, b = sphere(GRID, 12), sphere(GRID, 12, (8.0, 0, 0))
    both, either, rest = intersection(a, b), union(a, b), subtract(a, b)
    assert either.volume_cm3 + both.volume_cm3 == pytest.approx(a.volume_cm3 + b.volume_cm3, rel=1e-12)
    assert rest.volume_cm3 + both.volume_cm3 == pytest.approx(a.volume_cm3, rel=1e-12)
    assert union(a, a) == a == intersection(a, a)
    assert union(a, b) == union(b, a)
    assert subtract(a, Coverage(GRID)) == a
    assert union(Coverage(GRID), a) == a
    assert intersection(a, Coverage(GRID)).is_empty
    assert subtract(a, grow(a, equal(3))).is_empty
    # A lens of two equal spheres, radius R, distance d: pi (4R + d) (2R - d)^2 / 12.
    assert both.volume_cm3 == pytest.approx(np.pi * 56 * 16**2 / 12 / 1000, rel=0.01)


def test_combining_on_different_grids_is_refused():
    with pytest.raises(GeometryError, match="different grids"):
        union(sphere(GRID, 5), sphere(cube_grid(20), 5))


def test_gaps_inside_and_outside():
    body, target = cylinder(GRID, 30, 36), sphere(GRID, 12, (22.0, 0, 0))
    kept = keep_inside(target, body, 5)
    assert kept == intersection(target, shrink(body, equal(5)))
    _, r, c = np.nonzero(kept.dense() > 127)
    assert np.hypot(GRID.x_mm[c], GRID.y_mm[r]).max() < 25.1
    cord = cylinder(GRID, 6, 36)
    away = keep_outside(sphere(GRID, 12, (10.0, 0, 0)), cord, 3)
    _, r, c = np.nonzero(away.dense() > 127)
    assert np.hypot(GRID.x_mm[c], GRID.y_mm[r]).min() > 8.9
    assert keep_outside(cord, cord).is_empty
    assert keep_inside(cord, Coverage(GRID), 3).is_empty
    assert keep_inside(Coverage(GRID), cord, 3).is_empty


def test_margins_report_and_can_be_stopped():
    seen = []
    grow(sphere(GRID, 10), equal(5), lambda f, w="": seen.append(f))
    assert seen == sorted(seen)
    assert seen[-1] == pytest.approx(1)

    def stop(fraction, words=""):
        raise Cancelled

    with pytest.raises(Cancelled):
        shrink(sphere(GRID, 10), equal(5), stop)
