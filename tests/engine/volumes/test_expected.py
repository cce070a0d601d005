"""What a name lets expect: side, size, a place in the list."""

import pytest

from engine.volumes import evidence as ev
from engine.volumes import naming
from engine.volumes.expected import of_name, of_side, of_size, sizes_cm3
from engine.volumes.volume import Volume
from tests.support.solids import cube_grid, cylinder, sphere

GRID = cube_grid(50, 1.0, 2.5)
BODY = Volume("body", "Body", "EXTERNAL", (0, 0, 0), cylinder(GRID, 35, 60, (8.0, 0)))


def organ(name, coverage=None, role="OAR"):
    return Volume("v", name, role, (1, 2, 3), coverage if coverage is not None else sphere(GRID, 15))


@pytest.mark.parametrize(
    ("name", "code", "better"),
    [
        ("left lung (new)", ev.NAME, "Lung_L"), ("Nonsense of today", ev.NAME, ""),
        ("Spinal_Cord", ev.UNLISTED, "SpinalCord"),
        ("Parotis_R", ev.UNLISTED, "Parotid_R"), ("Qwzx", ev.UNLISTED, ""),
    ],
)  # fmt: skip
def test_a_name_beside_the_list_is_told_with_the_nearest(name, code, better):
    (seen,) = of_name(organ(name))
    assert seen.code == code
    assert better in seen.words
    assert ("nearest" in seen.words) == bool(better)


@pytest.mark.parametrize("name", ["Heart", "PTV_6000", "SpinalCord_PRV05", "Lungs-GTV", "Brain~", "GTVp1", "Body"])
def test_names_of_the_list_and_those_built_from_it_are_fine(name):
    assert of_name(organ(name)) == []


def test_a_helper_may_be_called_anything_of_the_form():
    assert of_name(organ("Thing", role="OTHER")) == []


def test_the_side_is_that_of_the_patient_against_the_middle_of_the_body():
    at_left, at_right = sphere(GRID, 10, (20.0, 0, 0)), sphere(GRID, 10, (-4.0, 0, 0))  # the body's middle is at +8
    assert of_side(organ("Kidney_L", at_left), BODY, ev.DEFAULT_LIMITS) == []
    assert of_side(organ("Kidney_R", at_right), BODY, ev.DEFAULT_LIMITS) == []
    (seen,) = of_side(organ("Kidney_R", at_left), BODY, ev.DEFAULT_LIMITS)
    assert (seen.code, seen.point_mm) == (ev.SIDE, pytest.approx((20, 0, 0), abs=0.1))
    assert seen.number == pytest.approx(12, abs=0.2)
    assert "12 mm left of the middle" in seen.words
    (other,) = of_side(organ("kidney left", at_right), BODY, ev.DEFAULT_LIMITS)
    assert "right of the middle" in other.words
    for name in ("Heart", "Kidney_L_R", "LargeThing"):
        assert of_side(organ(name, at_left), BODY, ev.DEFAULT_LIMITS) == []


def test_the_middle_is_that_of_the_slices_of_the_volume():
    arm = cylinder(GRID, 10, 60, (35.0, 0))
    shoulders = Volume(
        "b", "Body", "EXTERNAL", (0, 0, 0), BODY.coverage.but(tiles=arm.tiles[:10] + BODY.coverage.tiles[10:])
    )
    low = sphere(GRID, 6, (20.0, 0, float(GRID.z_mm[-8])))
    assert of_side(organ("Kidney_L", low), shoulders, ev.DEFAULT_LIMITS) == []


def test_a_size_far_from_that_of_the_organ_is_told_as_from_memory():
    (small,) = of_size(organ("Liver"), cut_off=False)  # 14 cm3
    assert small.code == ev.SIZE
    assert "from memory" in small.words
    assert ev.severity_of(small.code, False) == "note"
    assert of_size(organ("Liver"), cut_off=True) == []  # the scan ends in it
    assert of_size(organ("Parotid_L"), cut_off=False) == []
    (large,) = of_size(organ("Lens_R"), cut_off=True)
    assert large.number == pytest.approx(14.1, rel=0.02)
    assert of_size(organ("Liver", role="PTV"), cut_off=False) == []
    assert of_size(organ("Whatever"), cut_off=False) == []


def test_sizes_bear_names_of_the_list():
    missing = [n for n in sizes_cm3() if not (naming.known(n) or naming.known(f"{n}_L"))]
    assert missing == []
    assert all(0 < low < high for low, high in sizes_cm3().values())
