"""Operations as requests give what the functions give, and say what they lack."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.volumes import extent, margins, move, stack, tidy
from engine.volumes.coverage import Coverage
from engine.volumes.shape import NEED_OTHER, NUMBERS, OPERATIONS, CheckVolumes, ShapeVolume, check_volumes, shape_volume
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
        ("margin", (5.0, -3.0, 0, 0, -2.0, 1.0), extent.change(A, (5.0, -3.0, 0, 0, -2.0, 1.0))),
        ("ring", (-2.0, 5.0), extent.ring(A, -2, 5)),
        ("ring inside", (1.0, 5.0), margins.intersection(extent.ring(A, 1, 5), B)),
        ("either alone", (), margins.either_alone(A, B)),
        ("smooth through", (3.0,), stack.smooth_through(A, 3)),
        ("fill cavities", (0.0,), A),
        ("keep largest", (), A),
        ("move", (1.0, 2.0, 3.0, 4.0, 5.0, 6.0), move.moved(A, (1, 2, 3, 4, 5, 6))),
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


@pytest.mark.parametrize("what", NEED_OTHER)
def test_a_missing_second_volume_is_refused_in_words(what):
    with pytest.raises(InputError, match="second volume"):
        shape_volume(ShapeVolume(what, A, numbers=(1.0,) * NUMBERS.get(what, 0)))


def test_unknown_operation_and_missing_image_are_refused():
    with pytest.raises(InputError, match="no operation"):
        shape_volume(ShapeVolume("melt", A))
    for what in ("threshold", "ct range"):
        with pytest.raises(InputError, match="image"):
            shape_volume(ShapeVolume(what, A, numbers=(0, 1)))


def test_a_range_of_ct_numbers_is_found_everywhere_or_inside_another():
    case = small_case()
    everywhere = shape_volume(ShapeVolume("ct range", Coverage(GRID), image=case.image, numbers=(-10, 10))).coverage
    # The line between water and air lies where the CT number passes -10: close to the last pixel of water.
    assert 0.92 * case.body.coverage.volume_cm3 < everywhere.volume_cm3 < case.body.coverage.volume_cm3
    inside = shape_volume(ShapeVolume("ct range", Coverage(GRID), B, case.image, (-10, 10))).coverage
    assert inside.volume_cm3 == pytest.approx(B.volume_cm3, rel=0.02)


@pytest.mark.parametrize(
    ("what", "numbers", "sides"),
    [
        ("margin", (5.0,) * 6, ""),
        ("margin", (0, 100.0, 0, 0, 0, 0), "right"),
        ("margin", (0, 0, 0, 0, 100.0, 100.0), "inferior, superior"),
        ("margin", (-5.0,) * 6, ""),
        ("ring", (80.0, 20.0), "left, right, anterior, posterior, inferior, superior"),
        ("move", (0, -100.0, 0, 0, 0, 0), "anterior"),
    ],
)
def test_what_the_image_cuts_off_is_told(what, numbers, sides):
    note = shape_volume(ShapeVolume(what, A, numbers=numbers)).note
    assert note == (f"Cut at the image's edge: {sides}." if sides else "")


def test_checking_names_only_volumes_with_something_to_see():
    case = small_case()
    odd = case.volume("cord").but(name="not a name!")
    evidence = check_volumes(CheckVolumes((*case.volumes[:2], odd), case.body))
    assert {e.code for e in evidence if e.volume_key == "cord"} == {"volume-name", "volume-scan-end"}
    assert not [e for e in evidence if e.volume_key == "body"]


def test_the_rest_is_only_looked_at_in_pairs():
    case = small_case()
    cord = case.volume("cord")
    twin = cord.but(key="twin", name="bad name of a twin")
    evidence = check_volumes(CheckVolumes((cord,), case.body, (cord, twin)))
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
