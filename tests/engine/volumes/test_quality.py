"""Evidence about volumes: planted faults are found, a clean volume is let pass."""

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.base.values import own_array
from engine.volumes import evidence as ev
from engine.volumes import quality as q
from engine.volumes.coverage import Coverage
from engine.volumes.margins import subtract, union
from engine.volumes.volume import Contour, Volume
from tests.support.solids import cube_grid, cylinder, sphere

GRID = cube_grid(50, 1.0, 2.5)
BALL = sphere(GRID, 15)
BODY = Volume("body", "Body", "EXTERNAL", (0, 0, 0), cylinder(GRID, 40, 60))


def volume(coverage, name="Duodenum", role="OAR", key="v"):
    return Volume(key, name, role, (1, 2, 3), coverage)


def codes(found):
    return [e.code for e in found]


def test_a_clean_volume_is_let_pass():
    assert q.quality(volume(BALL), BODY) == ()
    assert q.quality(volume(BALL, "PTV", "PTV"), BODY) == ()
    assert q.quality(BODY, BODY) == ()
    assert q.overlaps([BODY, volume(BALL), volume(sphere(GRID, 8, (30.0, 0, 0)), "Aorta", key="w")]) == ()


def test_empty_and_unnamed():
    (name, empty) = q.quality(volume(Coverage(GRID), "left lung (new)"))
    assert (name.code, empty.code) == (ev.NAME, ev.EMPTY)
    faint = np.zeros(GRID.shape, np.uint8)
    faint[3, 4, 4] = 90
    assert codes(q.quality(volume(Coverage.from_dense(GRID, faint)))) == [ev.EMPTY]


def test_gap_and_single_slice():
    middle = BALL.planes[len(BALL.planes) // 2]
    holed = Coverage(GRID, tuple(t for t in BALL.tiles if t.plane not in (middle, middle + 1)))
    (gap,) = (e for e in q.quality(volume(holed)) if e.code == ev.GAP)
    assert gap.planes == (middle, middle + 1)
    assert gap.number == 2
    assert gap.point_mm[2] == pytest.approx(GRID.z_mm[middle])
    (single,) = q.quality(volume(Coverage(GRID, (BALL.tile(middle),))))
    assert (single.code, single.planes) == (ev.SINGLE, (middle,))


def test_islands_have_a_place():
    (island,) = q.quality(volume(union(BALL, sphere(GRID, 4, (30.0, -10.0, 5.0)))))
    assert island.code == ev.ISLAND
    assert island.point_mm == pytest.approx((30, -10, 5), abs=1.3)
    assert island.number == pytest.approx(4 / 3 * np.pi * 0.064, rel=0.15)
    lungs = union(sphere(GRID, 15, (-25.0, 0, 0)), sphere(GRID, 13, (25.0, 0, 0)))
    assert q.quality(volume(lungs)) == ()


def test_holes_have_a_place():
    (hole,) = q.quality(volume(subtract(BALL, cylinder(GRID, 3, 4, (5.0, -2.0)))))
    assert hole.code == ev.HOLE
    assert hole.number == pytest.approx(np.pi * 0.09, rel=0.15)
    assert hole.point_mm[:2] == pytest.approx((5, -2), abs=0.5)


def test_outside_the_body_and_near_the_skin():
    stray = volume(sphere(GRID, 10, (40.0, 0, 0)), "PTV", "PTV")
    found = {e.code: e for e in q.quality(stray, BODY)}
    assert set(found) == {ev.OUTSIDE, ev.NEAR_SKIN}
    assert found[ev.OUTSIDE].number == pytest.approx(subtract(stray.coverage, BODY.coverage).volume_cm3)
    assert found[ev.OUTSIDE].point_mm[0] > 40
    near = volume(sphere(GRID, 10, (27.0, 0, 0)), "PTV", "PTV")
    assert codes(q.quality(near, BODY)) == [ev.NEAR_SKIN]
    assert q.quality(near, BODY, ev.Limits(skin_mm=2)) == ()
    assert q.quality(near.but(role="OAR"), BODY) == ()
    assert q.quality(stray.but(role="SUPPORT", name="Couch"), BODY) == ()
    with pytest.raises(GeometryError, match="grid"):
        q.quality(volume(sphere(cube_grid(20), 9)), BODY)


def test_a_volume_that_touches_the_end_of_the_scan_is_told_and_the_scan_is_no_skin():
    ptv = volume(cylinder(GRID, 10, 60), "PTV", "PTV")
    (end,) = q.quality(ptv, BODY)
    last = GRID.shape[0] - 1
    assert (end.code, end.planes) == (ev.SCAN_END, (0, last))
    assert end.point_mm == pytest.approx((0, 0, GRID.z_mm[0]), abs=0.6)
    (one,) = q.quality(volume(Coverage(GRID, ptv.coverage.tiles[:-2]), "SpinalCord"), BODY)
    assert one.planes == (0,)
    assert codes(q.quality(volume(ptv.coverage, "CouchSurface", "SUPPORT"), BODY)) == []


def test_area_jumps_stand_out_but_ends_do_not():
    middle = BALL.planes[len(BALL.planes) // 2]
    fat = BALL.with_slice(middle, sphere(GRID, 32).slice(middle))
    thin = BALL.with_slice(middle, sphere(GRID, 8).slice(middle))
    for changed in (fat, thin):
        (jump,) = q.quality(volume(changed))
        assert (jump.code, jump.planes) == (ev.JUMP, (middle,))


def test_overlaps_duplicates_and_names():
    a, b = volume(BALL, "Heart", key="a"), volume(sphere(GRID, 10, (18.0, 0, 0)), "Aorta", key="b")
    (shared,) = q.overlaps([a, b])
    assert (shared.code, shared.volume_key, shared.other_key) == (ev.OVERLAP, "a", "b")
    assert shared.number == pytest.approx(0.55, abs=0.5)
    assert 8 < shared.point_mm[0] < 15
    twice = q.overlaps([a, volume(BALL, "HEART", key="c")])
    assert codes(twice) == [ev.SAME_NAME, ev.SAME_PLACE]
    ptv, ctv = volume(BALL, "PTV", "PTV", "p"), volume(sphere(GRID, 10), "CTV", "CTV", "q")
    assert q.overlaps([ptv, ctv]) == ()
    assert codes(q.overlaps([ptv, ctv], wanted=lambda a, b: True)) == [ev.OVERLAP]
    assert q.overlaps([]) == ()


def test_only_pairs_of_touched_volumes_are_looked_at():
    a, b = volume(BALL, "Heart", key="a"), volume(sphere(GRID, 10, (18.0, 0, 0)), "Liver", key="b")
    c = volume(sphere(GRID, 10, (-18.0, 0, 0)), "Spleen", key="c")
    assert {(e.volume_key, e.other_key) for e in q.overlaps([a, b, c])} == {("a", "b"), ("a", "c")}
    assert [(e.volume_key, e.other_key) for e in q.overlaps([a, b, c], touched=[c])] == [("a", "c")]
    assert q.overlaps([a, b, c], touched=[]) == ()


def test_which_roles_exclude_each_other():
    heart, part = volume(BALL, "Heart", key="a"), volume(sphere(GRID, 8, (4.0, 0, 0)), "A_LAD", key="b")
    assert q.overlaps([heart, part]) == ()  # part of it
    shifted = sphere(GRID, 15, (12.0, 0, 0))

    def told(first, second):
        return codes(q.overlaps([heart.but(role=first), volume(shifted, "Other", second, "b")])) == [ev.OVERLAP]

    exclude = {("OAR", "OAR"), ("SUPPORT", "OAR"), ("BOLUS", "PTV"), ("SUPPORT", "EXTERNAL"), ("AVOIDANCE", "GTV")}
    meant = {("PTV", "OAR"), ("PTV", "CTV"), ("PRV", "OAR"), ("BOLUS", "EXTERNAL"), ("OTHER", "PTV"), ("AVOIDANCE", "OAR")}
    for pair in exclude:
        assert told(*pair)
        assert told(*pair[::-1])
    for pair in meant:
        assert not told(*pair)
        assert not told(*pair[::-1])


def test_a_side_a_size_and_crossing_lines_are_seen_among_the_rest():
    left = volume(sphere(GRID, 15, (-20.0, 0, 0)), "Kidney_L")
    assert codes(q.quality(left, BODY)) == [ev.SIZE, ev.SIDE]
    ring = np.array([(0, 0, 0), (20, 20, 0), (20, 0, 0), (0, 20, 0)], np.float64)
    assert ev.CROSSING in codes(q.quality(volume(BALL).but(original=(Contour(own_array(ring)),))))


def test_neighbours_that_share_the_pixels_between_them_only_meet():
    left = volume(
        Coverage.from_dense(GRID, np.where(GRID.x_mm < 0.5, 255, 0).astype(np.uint8) * np.ones(GRID.shape, np.uint8))
    )
    data = left.coverage.dense()
    right = volume(Coverage.from_dense(GRID, 255 - data), "Liver", key="b")
    rim = 255 - data
    rim[:, :, np.flatnonzero(GRID.x_mm < 0.5)[-1]] = 60
    assert q.overlaps([left, right.with_coverage(Coverage.from_dense(GRID, rim))]) == ()
