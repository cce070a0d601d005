"""Operations as requests give what the functions give, and say what they lack."""

from __future__ import annotations

import pytest

from engine.base.errors import GeometryError, InputError
from engine.volumes import margins, tidy
from engine.volumes.shape import NUMBERS, OPERATIONS, CheckVolumes, ShapeVolume, check_volumes, shape_volume
from tests.support.cases import GRID, ball, small_case

A, B = ball(GRID, (0, 0, 0), 20), ball(GRID, (15, 0, 0), 15)


@pytest.mark.parametrize(
    ("what", "numbers", "expected"),
    [
        ("union", (), margins.union(A, B)),
        ("intersection", (), margins.intersection(A, B)),
        ("subtract", (), margins.subtract(A, B)),
        ("keep outside", (3.0,), margins.keep_outside(A, B, 3.0)),
        ("keep inside", (3.0,), margins.keep_inside(A, B, 3.0)),
        ("margin", (5.0,) * 6, margins.grow(A, (5.0,) * 6)),
        ("ring", (0.0, 6.0), margins.subtract(margins.grow(A, (6.0,) * 6), A)),
        ("ring", (3.0, 6.0), margins.subtract(margins.grow(A, (9.0,) * 6), margins.grow(A, (3.0,) * 6))),
        ("margin", (-5.0,) * 6, margins.shrink(A, (5.0,) * 6)),
        ("copy slice", (9, 10), tidy.copy_slice(A, 9, 10)),
        ("fill holes", (0.0,), A),
        ("remove islands", (0.0,), A),
        ("interpolate", (), A),
    ],
)
def test_each_request_gives_what_its_function_gives(what, numbers, expected):
    request = ShapeVolume(what, A, B, None, numbers)
    shaped = shape_volume(request)
    assert shaped.coverage == expected
    assert shaped.inputs == request.fingerprint


def test_smooth_and_threshold_keep_area_and_range():
    case = small_case()
    assert shape_volume(ShapeVolume("smooth", A, numbers=(2.0,))).coverage.volume_cm3 == pytest.approx(
        A.volume_cm3, rel=0.01
    )
    inside = shape_volume(ShapeVolume("threshold", A, image=case.image, numbers=(-10, 10))).coverage
    assert inside.volume_cm3 == pytest.approx(A.volume_cm3, rel=0.02)
    assert shape_volume(ShapeVolume("threshold", A, image=case.image, numbers=(500, 600))).coverage.is_empty


@pytest.mark.parametrize("what", sorted(OPERATIONS))
def test_missing_numbers_are_refused_in_words(what):
    with pytest.raises(InputError, match="numbers, not"):
        shape_volume(ShapeVolume(what, A, B, None, (1.0,) * (NUMBERS.get(what, 0) + 1)))


@pytest.mark.parametrize("what", ["union", "intersection", "subtract", "keep inside", "keep outside"])
def test_a_missing_second_volume_is_refused_in_words(what):
    with pytest.raises(InputError, match="second volume"):
        shape_volume(ShapeVolume(what, A, numbers=(1.0,) * NUMBERS.get(what, 0)))


def test_unknown_operation_mixed_margins_and_missing_image_are_refused():
    with pytest.raises(InputError, match="no operation"):
        shape_volume(ShapeVolume("melt", A))
    with pytest.raises(GeometryError, match="grow and shrink"):
        shape_volume(ShapeVolume("margin", A, numbers=(1, -1, 0, 0, 0, 0)))
    with pytest.raises(InputError, match="image"):
        shape_volume(ShapeVolume("threshold", A, numbers=(0, 1)))


def test_checking_names_only_volumes_with_something_to_see():
    case = small_case()
    odd = case.volume("cord").but(name="not a name!")
    evidence = check_volumes(CheckVolumes((*case.volumes[:2], odd), case.body))
    assert {e.code for e in evidence if e.volume_key == "cord"} == {"volume-name", "volume-scan-end"}
    assert not [e for e in evidence if e.volume_key == "body"]


def test_the_others_are_only_looked_at_in_pairs():
    case = small_case()
    cord = case.volume("cord")
    twin = cord.but(key="twin", name="bad name of a twin")
    evidence = check_volumes(CheckVolumes((cord,), case.body, (twin,)))
    assert [(e.code, e.volume_key) for e in evidence if e.other_key] == [("volume-twice", "twin")]
    assert not [e for e in evidence if e.volume_key == "twin" and not e.other_key]


def test_the_distance_to_the_skin_is_settable_within_bounds():
    case = small_case()
    codes = {
        mm: [e.code for e in check_volumes(CheckVolumes((case.volume("ptv"),), case.body, (), mm))] for mm in (0.0, 60.0)
    }
    assert "target-near-skin" in codes[60.0]
    assert "target-near-skin" not in codes[0.0]
    with pytest.raises(InputError, match="between 0 and 100"):
        CheckVolumes((), None, (), -1.0)


@pytest.mark.parametrize("numbers", [(-1.0, 5.0), (3.0, 0.0)])
def test_a_ring_without_width_is_refused(numbers):
    with pytest.raises(GeometryError, match="width above 0"):
        shape_volume(ShapeVolume("ring", A, numbers=numbers))
