"""Brush, polygon, region and edge tools."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine.base.errors import GeometryError
from engine.volumes import paint

some = settings(max_examples=25, deadline=None)
place = st.floats(-10, 74)
radius = st.floats(0.4, 25)


def blank(n=64):
    return np.zeros((n, n), np.uint8)


@pytest.mark.parametrize(("rows", "columns", "allowed"), [(5, 5, 1e-3), (12.3, 12.3, 3e-4), (20, 7, 3e-4), (1, 1, 5e-3)])
def test_a_disc_has_its_area(rows, columns, allowed):
    out = blank()
    paint.stamp(out, 31.3, 30.8, (rows, columns))
    assert out.sum() / 255 == pytest.approx(np.pi * rows * columns, rel=allowed)


@pytest.mark.parametrize("turn_deg", [0, 17, 45, 90])
def test_a_stroke_has_the_area_of_a_capsule(turn_deg):
    out, r, length = blank(128), 9.4, 40.0
    way = length * np.array((np.sin(np.deg2rad(turn_deg)), np.cos(np.deg2rad(turn_deg))))
    paint.stroke(out, (np.array((40.2, 40.7)), (40.2, 40.7) + way), (r, r))
    assert out.sum() / 255 == pytest.approx(np.pi * r * r + 2 * r * length, rel=5e-4)


@some
@given(place, place, place, place, radius)
def test_painting_twice_changes_nothing_more(r0, c0, r1, c1, r):
    out = blank()
    paint.stroke(out, ((r0, c0), (r1, c1)), (r, r))
    once = out.copy()
    assert paint.stroke(out, ((r0, c0), (r1, c1)), (r, r)) == paint.NOTHING
    assert np.array_equal(out, once)


@some
@given(place, place, place, place, radius)
def test_erasing_is_painting_the_other_side(r0, c0, r1, c1, r):
    painted, erased = blank(), np.full((64, 64), 255, np.uint8)
    assert paint.stroke(painted, ((r0, c0), (r1, c1)), (r, r)) == paint.stroke(
        erased, ((r0, c0), (r1, c1)), (r, r), erase=True
    )
    assert np.array_equal(erased, 255 - painted)


@some
@given(place, place, place, place, radius)
def test_the_box_holds_exactly_what_changed(r0, c0, r1, c1, r):
    out = blank()
    a, b, c, d = paint.stroke(out, ((r0, c0), (r1, c1)), (r, 0.8 * r))
    rows, columns = np.nonzero(out)
    if len(rows) == 0:
        assert (a, b, c, d) == paint.NOTHING
    else:
        assert (a, b, c, d) == (rows.min(), rows.max() + 1, columns.min(), columns.max() + 1)


@some
@given(place, place, place, place, radius)
@example(0.0, 3.0, 1.5, 1.5, 1.5)
def test_a_stroke_holds_the_discs_along_it_and_its_reverse_is_the_same(r0, c0, r1, c1, r):
    swept, pressed, back = blank(), blank(), blank()
    paint.stroke(swept, ((r0, c0), (r1, c1)), (r, r))
    paint.stroke(back, ((r1, c1), (r0, c0)), (r, r))
    for t in np.linspace(0, 1, 7):
        paint.stamp(pressed, r0 + t * (r1 - r0), c0 + t * (c1 - c0), (r, r))
    # Beside the line between round end and straight part 256 points decide; a point on the edge counts one level.
    assert (pressed.astype(int) - swept).max() <= 12
    assert np.abs(swept.astype(int) - back).max() <= 8


def test_mirror_images_stay_mirror_images():
    out, mirrored = blank(), blank()
    paint.stroke(out, ((20.3, 11.2), (33.9, 40.1)), (7.3, 7.3))
    paint.stroke(mirrored, ((20.3, 63 - 11.2), (33.9, 63 - 40.1)), (7.3, 7.3))
    assert np.abs(out[:, ::-1].astype(int) - mirrored).max() <= 1


def test_only_the_pixels_of_the_mask_change():
    only = np.zeros((64, 64), bool)
    only[:, 30:] = True
    out = blank()
    box = paint.stamp(out, 32, 30, (10, 10), only=only)
    assert not out[:, :30].any()
    assert out[32, 30] == 255
    assert box[2] == 30


def test_a_share_paints_up_to_that_share():
    out = blank()
    paint.stamp(out, 32, 32, (5, 5), value=100)
    assert out.max() == 100
    paint.stamp(out, 32, 32, (6.5, 6.5), value=0)
    assert not out.any()


@pytest.mark.parametrize("bad", [(0, 5), (-1, 5), (np.nan, 5), (np.inf, 5)])
def test_a_brush_without_size_is_refused(bad):
    with pytest.raises(GeometryError, match="radius"):
        paint.stamp(blank(), 1, 1, bad)


def test_hostile_strokes():
    out = blank()
    assert paint.stroke(out, np.zeros((0, 2)), (3, 3)) == paint.NOTHING
    assert paint.stamp(out, -500, 1e6, (3, 3)) == paint.NOTHING
    with pytest.raises(GeometryError, match="not a number"):
        paint.stamp(out, np.nan, 3, (3, 3))
    with pytest.raises(GeometryError, match="mask"):
        paint.stamp(out, 3, 3, (3, 3), only=np.ones((2, 2), bool))
    with pytest.raises(GeometryError, match="0 and 255"):
        paint.stamp(out, 3, 3, (3, 3), value=300)


def test_a_rectangle_is_exact_in_every_pixel():
    out = paint.polygon((30, 30), [(4.3, 5.2), (4.3, 20.7), (18.9, 20.7), (18.9, 5.2)])
    share_r = np.clip(np.minimum(np.arange(30) + 0.5, 18.9) - np.maximum(np.arange(30) - 0.5, 4.3), 0, 1)
    share_c = np.clip(np.minimum(np.arange(30) + 0.5, 20.7) - np.maximum(np.arange(30) - 0.5, 5.2), 0, 1)
    assert np.abs(out - 255 * share_r[:, None] * share_c).max() <= 0.51


@some
@given(st.lists(st.tuples(st.floats(2, 60), st.floats(2, 60)), min_size=3, max_size=3))
def test_any_triangle_has_its_area(points):
    p = np.array(points)
    u, v = p[1] - p[0], p[2] - p[0]
    area = abs(u[0] * v[1] - u[1] * v[0]) / 2
    found = paint.polygon((64, 64), p).sum() / 255
    # Shares are rounded to a 255th in every pixel the three sides pass.
    assert found == pytest.approx(area, abs=0.002 * area + 0.25)
    assert np.array_equal(paint.polygon((64, 64), p[::-1]), paint.polygon((64, 64), p))


def test_polygons_are_even_odd_and_cut_at_the_rim():
    bow = paint.polygon((40, 40), [(5, 5), (35, 35), (5, 35), (35, 5)])
    assert bow.sum() / 255 == pytest.approx(2 * 0.5 * 30 * 15, rel=2e-3)
    beyond = paint.polygon((20, 20), [(-50, -50), (-50, 80), (80, 80), (80, -50)])
    assert (beyond == 255).all()
    assert not paint.polygon((20, 20), [(3, 3), (9, 9)]).any()
    assert not paint.polygon((20, 20), [(30, 30), (30, 40), (40, 40)]).any()
    with pytest.raises(GeometryError, match="not a number"):
        paint.polygon((20, 20), [(1, 1), (np.nan, 4), (4, 4)])


@pytest.mark.parametrize("far", [1e6, 1e12, 1e160, 1e308])
def test_a_polygon_may_reach_as_far_as_numbers_do(far):
    for loop in ([(-far, -far), (far, -far), (far, far)], [(-far, -far), (-far, far), (far, far), (far, -far)]):
        found = paint.polygon((20, 30), loop)
        assert (found[12:, :5] == 255).all()
        assert found[0, -1] == (0 if len(loop) == 3 else 255)


def test_level_range_holds_both_ends():
    hu = np.array([[-1000, -5, 0, 40, 41]], np.int16)
    assert paint.level_range(hu, -5, 40).tolist() == [[False, True, True, True, False]]


def test_region_growing_stops_at_the_range_and_at_corners():
    hu = np.full((20, 20), -1000, np.int16)
    hu[3:8, 3:8] = 30
    hu[8:12, 8:12] = 30  # joined by a corner only
    grown = paint.region_grow(hu, (5.2, 5.4), 0, 60)
    assert grown.sum() == 25 * 255
    assert not paint.region_grow(hu, (0, 0), 0, 60).any()
    assert not paint.region_grow(hu, (-4, 300), 0, 60).any()


def test_an_edge_trace_keeps_to_a_round_edge():
    y, x = np.mgrid[:100, :100]
    hu = np.where(np.hypot(y - 50, x - 50) < 30, 40, -100) + np.random.default_rng(3).normal(0, 8, (100, 100))
    path = paint.edge_trace(hu, (50, 20), (20, 50))
    assert np.abs(np.hypot(path[:, 0] - 50, path[:, 1] - 50) - 30).max() < 2.5
    assert path[0].tolist() == [50, 20]
    assert path[-1].tolist() == [20, 50]
    assert np.abs(np.diff(path, axis=0)).max() <= 1


def test_warming_up_leaves_nothing_behind():
    before, after = np.zeros((20, 20), np.uint8), np.zeros((20, 20), np.uint8)
    paint.stamp(before, 10, 10, (4.5, 4.5))
    paint.warm_up()
    paint.stamp(after, 10, 10, (4.5, 4.5))
    assert np.array_equal(before, after)
