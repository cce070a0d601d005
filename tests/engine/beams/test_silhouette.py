from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.beams.arrange import new_beam
from engine.beams.conform import project_volume, warm_up
from engine.beams.silhouette import shadow_points
from engine.space.frames import beam_from_patient, project
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

FINE = grid_of((80, 80, 80), (1.0, 1.0, 1.0))
BALL = coverage_of(FINE, lambda x, y, z: x * x + y * y + z * z <= 900)


def beam(gantry: float = 0, collimator: float = 0, couch: float = 0, isocentre=(0.0, 0.0, 0.0)):
    return new_beam("b", "m", isocentre, gantry, None, collimator, couch)


def area(loop: np.ndarray) -> float:
    q = np.roll(loop, -1, axis=0)
    return 0.5 * float((loop[:, 0] * q[:, 1] - loop[:, 1] * q[:, 0]).sum())


@pytest.mark.parametrize(
    ("gantry", "collimator", "couch"), [(0, 0, 0), (37, 20, 0), (90, 0, 0), (180, 0, 60), (300, 45, 90)]
)
def test_ball_throws_a_disc(gantry: float, collimator: float, couch: float) -> None:
    """A ball of radius R about the isocentre has a shadow of radius SAD R / sqrt(SAD^2 - R^2)."""
    (loop,) = project_volume(BALL, beam(gantry, collimator, couch), 1000.0, "HFS")
    wanted = 1000 * 30 / np.sqrt(1000**2 - 30**2)
    radius = np.hypot(*loop.T)
    # The steps of 1 mm slabs show at the head and foot ends.
    assert radius.min() > wanted - 0.5
    assert radius.max() < wanted + 0.8
    assert abs(area(loop)) == pytest.approx(np.pi * wanted**2, rel=0.01 if couch == 0 else 0.02)


@pytest.mark.parametrize("position", ["HFS", "FFS", "HFP", "FFP"])
@pytest.mark.parametrize(("gantry", "collimator", "couch"), [(0, 0, 0), (70, 30, 0), (20, 0, 340)])
def test_off_centre_box_lands_where_its_corners_do(position, gantry, collimator, couch) -> None:
    """Lop-sided box, so that a mirrored or swapped axis is caught; corners are sharp in patient axes."""
    lo, hi = np.array((-25.0, -10.0, 5.0)), np.array((-5.0, 20.0, 33.0))
    box = coverage_of(
        FINE,
        lambda x, y, z: (x >= lo[0]) & (x <= hi[0]) & (y >= lo[1]) & (y <= hi[1]) & (z >= lo[2]) & (z <= hi[2]),
    )
    b = beam(gantry, collimator, couch, (3.0, -4.0, 5.0))
    corners = np.array([[x, y, z] for x in (lo[0], hi[0]) for y in (lo[1], hi[1]) for z in (lo[2], hi[2])])
    seen = project(corners, b.isocentre_mm, beam_from_patient(position, gantry, collimator, couch), 1000.0)
    (loop,) = project_volume(box, b, 1000.0, position)
    assert loop.min(axis=0) == pytest.approx(seen.min(axis=0), abs=0.6)
    assert loop.max(axis=0) == pytest.approx(seen.max(axis=0), abs=0.6)
    points = shadow_points(box, b, 1000.0, position)
    assert points.min(axis=0) == pytest.approx(seen.min(axis=0), abs=0.5)


def test_head_and_left_are_where_a_viewer_from_the_source_expects_them() -> None:
    """Gantry 0, head-first supine: device +X is the patient's left, +Y is the head."""
    left_head = coverage_of(FINE, lambda x, y, z: (x > 10) & (x < 30) & (z > 15) & (z < 30) & (np.abs(y) < 5))
    (loop,) = project_volume(left_head, beam(), 1000.0, "HFS")
    assert loop[:, 0].min() > 9
    assert loop[:, 1].min() > 14
    (turned,) = project_volume(left_head, beam(collimator=90), 1000.0, "HFS")
    # The device turned counter-clockwise by 90: its X looks to the head, its Y to the patient's right.
    assert turned[:, 0].min() > 14
    assert turned[:, 1].max() < -9


def test_ring_keeps_its_hole_and_horseshoe_its_bay() -> None:
    ring = coverage_of(FINE, lambda x, y, z: (np.hypot(x, z) < 30) & (np.hypot(x, z) > 15) & (np.abs(y) < 4))
    loops = project_volume(ring, beam(), 1000.0, "HFS")
    assert len(loops) == 2
    areas = sorted(area(x) for x in loops)
    assert areas[0] < 0 < areas[1] or areas[1] < 0 < areas[0]
    assert sorted(abs(a) for a in areas) == pytest.approx([np.pi * 15**2, np.pi * 30**2], rel=0.04)
    shoe = coverage_of(FINE, lambda x, y, z: (np.hypot(x, y) < 30) & ~((np.abs(x) < 10) & (y < 0)) & (np.abs(z) < 20))
    (loop,) = project_volume(shoe, beam(gantry=0, couch=0), 1000.0, "HFS")
    assert abs(area(loop)) == pytest.approx(60 * 40, rel=0.05)


def test_flat_pancake_seen_through_its_faces() -> None:
    """One thin slice seen along z (couch 90, gantry 90): only its middle section throws the shadow."""
    plate = coverage_of(FINE, lambda x, y, z: (np.abs(x) < 20) & (np.abs(y) < 10) & (np.abs(z - 0.5) < 0.6))
    loops = project_volume(plate, beam(90, 0, 90), 1000.0, "HFS")
    assert len(loops) == 1
    assert abs(area(loops[0])) == pytest.approx(800, rel=0.03)


def test_parted_volume_gives_two_shadows_and_nothing_gives_none() -> None:
    two = coverage_of(FINE, lambda x, y, z: (np.abs(np.abs(x) - 20) < 8) & (np.abs(y) < 8) & (np.abs(z) < 8))
    assert len(project_volume(two, beam(), 1000.0, "HFS")) == 2
    assert len(project_volume(two, beam(90), 1000.0, "HFS")) == 1
    assert project_volume(Coverage(FINE), beam(), 1000.0, "HFS") == []


COARSE = grid_of((28, 90, 90), (1.0, 1.0, 3.0))


@pytest.mark.parametrize(("gantry", "collimator", "couch"), [(0, 0, 0), (40, 0, 0), (90, 30, 20)])
def test_for_the_eye_a_ball_of_thick_slices_has_no_steps(gantry: float, collimator: float, couch: float) -> None:
    """The smooth outline turns everywhere like the circle it stands for and keeps its size."""
    ball = coverage_of(COARSE, lambda x, y, z: x * x + y * y + z * z <= 900)
    seen = beam(gantry, collimator, couch)
    (stepped,) = project_volume(ball, seen, 1000.0, "HFS")
    (smooth,) = project_volume(ball, seen, 1000.0, "HFS", smooth=True)
    assert abs(area(smooth)) == pytest.approx(abs(area(stepped)), rel=0.02)
    assert _turning(smooth) < 1.15 * 2 * np.pi < 1.7 * 2 * np.pi < _turning(stepped)
    assert np.hypot(*smooth.T).max() < np.hypot(*stepped.T).max() + 0.1


def _turning(loop: np.ndarray) -> float:
    """Angle by which a hand turns on the way round, both senses added up, looking 2 mm ahead: 2 pi for a circle."""
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(np.vstack((loop, loop[:1])), axis=0).T))))
    even = np.arange(0.0, along[-1], 2.0)
    x, y = (np.interp(even, along, np.append(loop[:, i], loop[0, i])) for i in (0, 1))
    way = np.unwrap(np.arctan2(np.diff(np.append(y, y[0])), np.diff(np.append(x, x[0]))))
    return float(np.abs(np.diff(way)).sum())


def test_for_the_eye_small_and_thin_volumes_stay() -> None:
    """A lens of two slices, a ring with its hole and a thin plate neither vanish nor lose their holes."""
    for shape, loops in (
        (lambda x, y, z: (np.hypot(x, y) < 4) & (np.abs(z) < 3), 1),
        (lambda x, y, z: (np.hypot(x, z) < 25) & (np.hypot(x, z) > 18) & (np.abs(y) < 4), 2),
        (lambda x, y, z: (np.abs(x) < 20) & (np.abs(y) < 1.6) & (np.abs(z) < 20), 1),
    ):
        volume = coverage_of(COARSE, shape)
        for gantry in (0, 90):
            stepped = project_volume(volume, beam(gantry), 1000.0, "HFS")
            smooth = project_volume(volume, beam(gantry), 1000.0, "HFS", smooth=True)
            assert len(smooth) == len(stepped)
            assert sum(map(area, smooth)) == pytest.approx(sum(map(area, stepped)), rel=0.06)
        assert len(project_volume(volume, beam(0), 1000.0, "HFS", smooth=True)) == loops


@pytest.mark.parametrize("radius_mm", [1.2, 2.4])
def test_for_the_eye_a_nook_between_steps_does_not_keep_the_steps(radius_mm: float) -> None:
    """A pinhole about as small as a step goes; the outline round it is as even as without."""
    ball = coverage_of(COARSE, lambda x, y, z: (x * x + y * y + z * z <= 900) & ~(np.hypot(x, z) < radius_mm))
    assert len(project_volume(ball, beam(40), 1000.0, "HFS")) >= 1
    smooth = max(project_volume(ball, beam(0), 1000.0, "HFS", smooth=True), key=lambda loop: abs(area(loop)))
    assert _turning(smooth) < 1.15 * 2 * np.pi


def test_volume_at_the_source_is_refused() -> None:
    with pytest.raises(GeometryError, match="source"):
        project_volume(BALL, beam(isocentre=(0.0, 990.0, 0.0)), 1000.0, "HFS")
    warm_up()


@pytest.mark.parametrize("gantry", [0.0, 53.0])
def test_a_quick_outline_lies_within_a_millimetre_and_a_half(gantry: float) -> None:
    (quick,) = project_volume(BALL, beam(gantry), 1000.0, "HFS", quick=True)
    radius = np.hypot(*quick.T)
    wanted = 1000 * 30 / np.sqrt(1000**2 - 30**2)
    assert np.abs(radius - wanted).max() < 1.5


def test_a_quick_outline_keeps_holes_and_parts() -> None:
    shell = coverage_of(FINE, lambda x, y, z: ((x * x + z * z <= 900) & (x * x + z * z >= 300)) | ((y > 20) & (x < -34)))
    for gantry in (0.0, 90.0):
        slow = project_volume(shell, beam(gantry), 1000.0, "HFS")
        quick = project_volume(shell, beam(gantry), 1000.0, "HFS", quick=True)
        assert len(quick) == len(slow)
        assert sum(map(area, quick)) == pytest.approx(sum(map(area, slow)), rel=0.04)
