"""Sums of courses: closed forms of uniform doses, laws, grids of their own, refusals in words."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from engine import compute
from engine.base.errors import GeometryError, InputError
from engine.base.values import own_array
from engine.case.case import Prescription
from engine.dose.dose import Dose
from engine.evaluation.course_sum import (
    Course,
    CourseSumRequest,
    shared_grid,
    sum_courses,
    sum_words,
    usual_alpha_beta,
)
from engine.evaluation.goals import Goal
from engine.evaluation.radiobiology import eqd2
from engine.space.grid import Grid
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, tube

FINE = Grid((-60.0, -60.0, -47.5), (2.5, 2.5, 2.5), (39, 49, 49))
COARSE = Grid((-60.0, -60.0, -46.0), (4.0, 4.0, 4.0), (24, 31, 31))
VOLUMES = (
    Volume("body", "Body", "EXTERNAL", (1, 2, 3), tube(GRID, (0, 0), 50)),
    Volume("ptv", "PTV", "PTV", (1, 2, 3), ball(GRID, (0, 0, 0), 20)),
    Volume("cord", "SpinalCord", "OAR", (1, 2, 3), tube(GRID, (0, 35), 6)),
)


def course(
    name: str, total_gy: float, fractions: int, grid: Grid = FINE, frame: str = "1.2", shape=None, to="ptv"
) -> Course:
    """Return a course that gives `total_gy` times `shape(x, y, z)` (1 everywhere)."""
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    share = np.ones(grid.shape) if shape is None else shape(x, y, z)
    gy = own_array((total_gy / fractions / 100.0 * share).astype(np.float32))
    return Course(name, (Dose(gy, grid),), (1.0,), "None", Prescription(total_gy, fractions, to), (0, 0, 0), frame)


def slope(x, y, z):
    return 1.0 + 0.004 * x - 0.003 * y + 0.002 * z


def added(*courses: Course, **fields):
    return sum_courses(CourseSumRequest(courses, VOLUMES, **fields))


@pytest.mark.parametrize("alpha_beta", [1.5, 3.0, 10.0])
def test_two_gray_a_fraction_are_their_own_eqd2(alpha_beta: float) -> None:
    chosen = tuple((v.key, alpha_beta) for v in VOLUMES)
    found = added(
        course("A", 30, 15), course("B", 30, 15), alpha_beta_gy=chosen, picture_alpha_beta_gy=alpha_beta
    )  # fmt: skip
    for now in (found.physical, found.eqd2):
        assert sum(now.point((0, 0, 0))) == pytest.approx(60, rel=1e-5)
        for dvh in now.dvhs.values():
            assert (dvh.min_gy, dvh.mean_gy, dvh.max_gy) == pytest.approx((60, 60, 60), rel=1e-5)
    assert found.reference_gy == pytest.approx(60)
    assert found.reference_eqd2_gy == pytest.approx(60)


def test_each_course_is_converted_with_its_own_dose_per_fraction() -> None:
    """3 Gy x 10 at alpha/beta 3 is 36 Gy; 2 Gy x 10 is 20. Added physically and converted afterwards it would be else."""
    found = added(course("A", 30, 10), course("B", 20, 10))
    assert found.physical.dvhs["cord"].mean_gy == pytest.approx(50, rel=1e-5)
    assert found.eqd2.dvhs["cord"].mean_gy == pytest.approx(36 + 20, rel=1e-5)
    assert abs(eqd2(50, 20, 3) - 56) > 0.5
    # the target has 10 Gy: 30 (3 + 10) / 12 = 32.5
    assert found.eqd2.dvhs["ptv"].mean_gy == pytest.approx(32.5 + 20, rel=1e-5)
    assert [p.dvhs["cord"].mean_gy for p in found.parts] == pytest.approx([30, 20], rel=1e-5)
    assert found.eqd2.point((0, 0, 0)) == pytest.approx((36, 20), rel=1e-5)
    assert found.reference_eqd2_gy == pytest.approx(56)
    assert found.eqd2.prescribed_gy == pytest.approx(56), "of the picture; goals of the target are read with its own"


def test_the_conversion_is_made_voxel_by_voxel() -> None:
    """The mean EQD2 of a slope is not the EQD2 of its mean."""
    found = added(course("A", 30, 10, shape=slope), course("B", 20, 10))
    point = (12.0, -18.0, 5.0)
    gy = 30 * slope(*point)
    assert found.eqd2.point(point) == pytest.approx((eqd2(gy, 10, 3), 20), rel=1e-4)
    assert found.eqd2.dvhs["cord"].max_gy == pytest.approx(
        eqd2(found.parts[0].dvhs["cord"].max_gy, 10, 3) + 20, rel=1e-3
    )  # fmt: skip
    of_mean = eqd2(found.parts[0].dvhs["body"].mean_gy, 10, 3) + 20
    assert found.eqd2.dvhs["body"].mean_gy > of_mean + 0.05


def test_a_course_twice_is_one_of_twice_the_fractions() -> None:
    twice = added(course("A", 30, 10, shape=slope), course("B", 30, 10, shape=slope))
    once = added(course("A", 60, 20, shape=slope), course("B", 0.001, 100))
    for key in ("body", "ptv", "cord"):
        for now, other in ((twice.physical, once.physical), (twice.eqd2, once.eqd2)):
            assert now.dvhs[key].mean_gy == pytest.approx(other.dvhs[key].mean_gy, abs=2e-3)
            assert now.dvhs[key].d_gy(5) == pytest.approx(other.dvhs[key].d_gy(5), abs=2e-3)


@pytest.mark.parametrize("grids", [(FINE, FINE, FINE), (FINE, COARSE, FINE)])
def test_the_order_does_not_matter(grids: tuple[Grid, ...]) -> None:
    courses = [
        course("A", 50, 25, grids[0], shape=slope), course("B", 16, 4, grids[1]), course("C", 9, 3, grids[2], shape=slope),
    ]  # fmt: skip
    found = [added(*order) for order in permutations(courses)]
    for other in found[1:]:
        assert other.physical.basis.grid == found[0].physical.basis.grid
        for key in ("body", "ptv", "cord"):
            for name in ("physical", "eqd2"):
                mine, theirs = getattr(found[0], name).dvhs[key], getattr(other, name).dvhs[key]
                assert mine.dose_gy == pytest.approx(theirs.dose_gy, rel=1e-5)


def test_courses_on_grids_of_their_own_are_read_at_the_points_of_the_finest() -> None:
    """Doses linear in space come back exactly, wherever the voxels lie."""
    found = added(course("A", 50, 25, FINE, shape=slope), course("B", 20, 10, COARSE, shape=slope))
    assert not found.one_grid
    assert found.physical.basis.grid.spacing_mm == FINE.spacing_mm
    for point in ((0.0, 0.0, 0.0), (11.0, -23.0, 17.0), (-30.0, 30.0, -30.0)):
        assert found.physical.point(point) == pytest.approx((50 * slope(*point), 20 * slope(*point)), rel=1e-5)
    assert added(course("A", 50, 25), course("B", 20, 10)).one_grid


def test_the_shared_grid_is_the_finest_cut_to_what_all_hold() -> None:
    low = Grid((-60.0, -60.0, -80.0), (5.0, 5.0, 5.0), (20, 25, 25))  # z faces from -82.5 to 17.5
    assert shared_grid([FINE, FINE]) == FINE
    cut = shared_grid([low, FINE])
    assert cut == shared_grid([FINE, low])
    assert cut.spacing_mm == FINE.spacing_mm
    assert cut.origin_mm == pytest.approx((-60.0, -60.0, -47.5))
    assert cut.bounds_mm[1][2] == pytest.approx(18.75), "less than a voxel beyond the other's face"
    far = Grid((500.0, 0.0, 0.0), (2.0, 2.0, 2.0), (5, 5, 5))
    with pytest.raises(GeometryError, match="no place in common"):
        shared_grid([FINE, far])


def test_a_volume_outside_one_course_is_not_judged() -> None:
    """What one course does not know of, the sum does not know either."""
    low = Grid((-60.0, -60.0, -80.0), (5.0, 5.0, 5.0), (20, 25, 25))
    found = added(course("A", 50, 25), course("B", 20, 10, low), goals=(Goal("cord", "Max[Gy]", "<=", 45),))
    assert found.physical.dvhs["cord"].covered < 0.999
    assert found.physical.goals[0][1:] == (None, "not judged")


def test_goals_are_judged_in_gray_and_in_eqd2() -> None:
    goals = (Goal("cord", "Max[Gy]", "<=", 52), Goal("ptv", "D95%[%]", ">=", 99), Goal("gone", "Max[Gy]", "<=", 1))
    found = added(course("A", 30, 10), course("B", 20, 10), goals=goals)
    assert [(s, None if v is None else round(v, 2)) for _, v, s in found.physical.goals] == [
        ("met", 50), ("met", 100), ("not judged", None),
    ]  # fmt: skip
    assert [(s, None if v is None else round(v, 2)) for _, v, s in found.eqd2.goals] == [
        ("missed", 56), ("met", 100), ("not judged", None),
    ]  # fmt: skip
    # With two targets nobody knows what 100 % is; doses in Gy are judged all the same.
    apart = added(course("A", 30, 10), course("B", 20, 10, to="cord"), goals=goals)
    assert [s for _, _, s in apart.physical.goals] == ["met", "not judged", "not judged"]
    assert apart.reference_gy == 50


def test_alpha_beta_belongs_to_the_volume() -> None:
    found = added(course("A", 30, 10), course("B", 20, 10), alpha_beta_gy=(("cord", 2.0),), picture_alpha_beta_gy=5.0)
    assert found.eqd2.dvhs["cord"].mean_gy == pytest.approx(eqd2(30, 10, 2) + 20, rel=1e-5)
    assert found.eqd2.dvhs["ptv"].mean_gy == pytest.approx(eqd2(30, 10, 10) + 20, rel=1e-5)
    assert found.eqd2.dvhs["body"].max_gy == pytest.approx(eqd2(30, 10, 5) + 20, rel=1e-5), "the body is read as pictures"
    assert [usual_alpha_beta(v) for v in VOLUMES] == [3, 10, 3]
    with pytest.raises(InputError, match="alpha/beta of 0 Gy"):
        added(course("A", 30, 10), course("B", 20, 10), alpha_beta_gy=(("cord", 0.0),))


def test_large_fractions_put_the_formula_in_doubt() -> None:
    assert added(course("A", 30, 10), course("B", 20, 10)).doubt == ""
    assert "Boost gives up to 12.0 Gy a fraction" in added(course("A", 30, 10), course("Boost", 24, 2)).doubt


def test_other_frames_and_lone_drafts_are_refused() -> None:
    with pytest.raises(GeometryError) as refused:
        added(course("A", 30, 10), course("B", 20, 10, frame="9.9"))
    assert "sum of A and B: their doses lie in different frames of reference" in str(refused.value)
    with pytest.raises(InputError, match="at least two"):
        added(course("A", 30, 10))


def test_a_course_without_a_dose_to_normalise_says_so() -> None:
    empty = course("A", 30, 10).but(normalisation="D95%", weights=(0.0,))
    with pytest.raises(GeometryError, match="weight zero"):
        added(empty, course("B", 20, 10))


def test_a_normalised_course_gives_what_is_prescribed() -> None:
    normalised = course("A", 30, 10, shape=slope).but(normalisation="Mean", weights=(7.0,))
    found = added(normalised, course("B", 20, 10))
    assert found.parts[0].dvhs["ptv"].mean_gy == pytest.approx(30, rel=1e-3)


def test_a_sum_is_called_by_its_members() -> None:
    assert sum_words(["A", "B"]) == "sum of A and B"
    assert sum_words(["A", "B", "C"]) == "sum of A, B and C"


def test_it_is_asked_through_the_one_door() -> None:
    made = compute.request("CourseSumRequest", courses=(course("A", 30, 10), course("B", 20, 10)), volumes=VOLUMES)
    seen = []
    found = compute.run(made, lambda fraction, words="": seen.append(fraction))
    assert found.physical.dvhs["ptv"].mean_gy == pytest.approx(50, rel=1e-5)
    assert seen == sorted(seen)
