"""Derived volumes: current by comparison, made again in order, never in a circle."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.case import edits
from engine.case.derived import (
    children,
    derive,
    fits,
    in_order,
    in_words,
    made,
    next_wanted,
    out_of_date,
    plain,
    request_of,
    with_made,
)
from engine.store import codec
from engine.volumes.recipe import Recipe
from engine.volumes.shape import shape_volume
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, small_case

FIVE = (5.0,) * 6


def remade(case):
    """Make everything again that is old; returns the case and the keys in the order of making."""
    order = []
    while (wanted := next_wanted(case)) is not None:
        key, request = wanted
        case = with_made(case, key, shape_volume(request))
        order.append(key)
    return case, order


@pytest.fixture
def chain():
    """GTV -> CTV -> PTV and "Rest", the body without the PTV; listed so that children come first."""
    case = small_case()
    gtv = Volume("gtv", "GTV", "GTV", (1, 2, 3), ball(GRID, (0, 0, 0), 10))
    ctv = Volume("ctv", "CTV", "CTV", (1, 2, 3), gtv.coverage)
    rest = Volume("rest", "zRest", "OTHER", (1, 2, 3), gtv.coverage)
    for v in (rest, ctv, gtv):
        case = edits.with_volume(case, v)
    case = derive(case, "ctv", Recipe("margin", ("gtv",), FIVE))
    case = derive(case, "ptv", Recipe("margin", ("ctv",), FIVE))
    return derive(case, "rest", Recipe("subtract", ("body", "ptv")))


def test_a_chain_is_made_in_order_and_then_is_current(chain):
    case, order = remade(chain)
    assert order == ["ctv", "ptv", "rest"]
    assert out_of_date(case) == ()
    gtv, ctv, ptv, rest = (case.volume(k) for k in ("gtv", "ctv", "ptv", "rest"))
    assert gtv.coverage.volume_cm3 < ctv.coverage.volume_cm3 < ptv.coverage.volume_cm3
    total = case.body.coverage.volume_cm3
    assert rest.coverage.volume_cm3 == pytest.approx(total - ptv.coverage.volume_cm3, rel=1e-3)


def test_a_change_of_a_parent_makes_all_that_stands_on_it_old_and_undoing_it_current_again(chain):
    case, _ = remade(chain)
    painted = edits.with_volume(case, case.volume("gtv").with_coverage(ball(GRID, (0, 0, 0), 14)))
    assert out_of_date(painted) == ("ctv", "ptv", "rest")
    assert not fits(painted, painted.volume("ctv"))
    assert fits(painted, painted.volume("ptv"))  # its own parent has not changed yet, but what that stands on has
    again, order = remade(painted)
    assert order == ["ctv", "ptv", "rest"]
    assert again.volume("ptv").coverage.volume_cm3 > case.volume("ptv").coverage.volume_cm3
    assert out_of_date(case) == ()


def test_a_change_beside_it_touches_nothing(chain):
    case, _ = remade(chain)
    cord = case.volume("cord")
    assert out_of_date(edits.with_volume(case, cord.with_coverage(ball(GRID, (0, 30, 0), 5)))) == ()
    assert out_of_date(edits.with_volume(case, case.volume("gtv").but(name="GTVp", colour=(9, 9, 9)))) == ()


def test_a_late_answer_changes_nothing(chain):
    key, request = next_wanted(chain)
    shaped = shape_volume(request)
    moved = edits.with_volume(chain, chain.volume("gtv").with_coverage(ball(GRID, (0, 0, 0), 14)))
    assert with_made(moved, key, shaped) is moved
    other = derive(chain, key, chain.volume(key).recipe.with_numbers((3,)))
    assert with_made(other, key, shaped) is other
    assert with_made(plain(chain, key), key, shaped) == plain(chain, key)


def test_circles_are_refused_in_words(chain):
    with pytest.raises(InputError, match="PTV is itself derived from GTV"):
        derive(chain, "gtv", Recipe("margin", ("ptv",), FIVE))
    with pytest.raises(InputError, match="itself derived"):
        derive(chain, "gtv", Recipe("smooth", ("gtv",), (2,)))
    with pytest.raises(InputError, match="no longer in the case"):
        derive(chain, "gtv", Recipe("smooth", ("gone",), (2,)))
    looped = chain.volume("gtv").but(recipe=Recipe("smooth", ("ptv",), (2,)))
    with pytest.raises(InputError, match="in a circle"):
        edits.with_volume(chain, looped)


def test_without_its_parent_a_volume_is_plain_and_keeps_its_shape(chain):
    case, _ = remade(chain)
    shape = case.volume("ptv").coverage
    assert [v.key for v in children(case, "ctv")] == ["ptv"]
    less = edits.without_volume(case, "ctv")
    assert less.volume("ptv").recipe is None
    assert less.volume("ptv").coverage is shape
    assert less.volume("rest").recipe is not None
    assert out_of_date(less) == ()


def test_painting_on_it_makes_it_plain(chain):
    case, _ = remade(chain)
    ptv = case.volume("ptv")
    slice_ = ptv.coverage.slice(9).copy()
    slice_[20:23, 5:8] = 255
    painted = edits.with_volume(case, ptv.with_coverage(ptv.coverage.with_slice(9, slice_)))
    assert painted.volume("ptv").recipe is None
    assert out_of_date(painted) == ("rest",)


def test_words_order_and_plain_volumes(chain):
    assert in_words(chain, chain.volume("ptv")) == "CTV with +5 mm"
    assert in_words(chain, chain.volume("gtv")) == ""
    keys = [v.key for v in in_order(chain)]
    assert keys.index("gtv") < keys.index("ctv") < keys.index("ptv") < keys.index("rest")
    assert request_of(chain, chain.volume("gtv")) is None
    assert next_wanted(small_case()) is None


def test_a_derived_volume_survives_the_store(chain):
    case, _ = remade(chain)
    rows = {h: (k, n, b) for h, k, n, b in codec.rows(case, lambda _: False)}
    back = codec.Reader(rows.__getitem__).value(case.fingerprint)
    assert back == case
    assert back.volume("ptv").recipe == case.volume("ptv").recipe
    assert out_of_date(back) == ()


def test_made_says_what_it_was_made_from(chain):
    volume = made(chain, chain.volume("ctv"), chain.volume("ctv").recipe, ball(GRID, (0, 0, 0), 15))
    assert volume.recipe.made_from == (chain.volume("gtv").coverage.fingerprint,)
    assert np.isclose(volume.coverage.volume_cm3, ball(GRID, (0, 0, 0), 15).volume_cm3)
