"""Fingerprints: equal content, equal hash; any change, another hash; nothing can be written to."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import pytest

from engine.base.values import FrozenArray, Value, canonical_bytes, frozen_array, own_array, parts
from engine.space.grid import Grid


@dataclass(frozen=True, eq=False)
class Thing(Value):
    angle_deg: float
    name: str = ""
    points: tuple[tuple[float, float], ...] = ()
    data: FrozenArray | None = None
    grid: Grid | None = None


def test_ints_numpy_scalars_and_floats_are_one_value():
    things = [Thing(90), Thing(90.0), Thing(np.float32(90)), Thing(np.int64(90))]
    assert len({t.fingerprint for t in things}) == 1
    assert Thing(0, points=((1, 2), (3, 4))) == Thing(0, points=[[1.0, 2.0], [3.0, np.float64(4)]])


@pytest.mark.parametrize(
    "other",
    [
        Thing(91.0, "a"),
        Thing(90.0, "b"),
        Thing(90.0, "a", ((1, 2),)),
        Thing(90.0, "a", data=frozen_array(np.zeros(3))),
        Thing(90.0, "a", grid=Grid((0, 0, 0), (1, 1, 1), (1, 1, 1))),
    ],
)
def test_any_change_changes_the_fingerprint(other):
    assert Thing(90.0, "a") != other


def hashed(value):
    return "_fingerprint" in value.__dict__


def test_values_that_differ_in_a_number_or_a_name_are_told_apart_without_hashing():
    data, grid = frozen_array(np.zeros(3)), Grid((0, 0, 0), (1, 1, 1), (1, 1, 1))
    base = Thing(1.0, "a", ((1, 2),), data, grid)
    others = [
        base.but(angle_deg=2.0), base.but(name="b"), base.but(points=((1, 3),)), base.but(points=((1, 2), (3, 4))),
        base.but(grid=grid.but(origin_mm=(1, 0, 0))),
    ]  # fmt: skip
    assert all(base != other for other in others)
    assert not any(map(hashed, (base, *others)))


def test_where_only_bytes_tell_values_are_equal_as_their_fingerprints_are():
    nan, other = Thing(float("nan")), Thing(float("nan"))
    assert nan == other
    assert Thing(0.0) != Thing(-0.0)  # other bytes, though the numbers compare equal
    assert Thing(1.0, name=1) != Thing(1.0, name="1")
    assert Thing(1.0, data=frozen_array(np.zeros(2))) == Thing(1.0, data=frozen_array(np.zeros(2)))
    known = Thing(1.0), Thing(2.0)
    assert known[0].fingerprint != known[1].fingerprint
    assert known[0] != known[1]


def test_arrays_count_by_content_type_and_shape():
    a = Thing(0, data=frozen_array(np.arange(6, dtype=np.int16)))
    assert a == Thing(0, data=frozen_array(np.arange(6, dtype=np.int16)))
    assert a != Thing(0, data=frozen_array(np.arange(6, dtype=np.int32)))
    assert a != Thing(0, data=frozen_array(np.arange(6, dtype=np.int16).reshape(2, 3)))


def test_writable_arrays_are_refused_and_frozen_ones_copied_from_their_owner():
    mine = np.zeros(3)
    with pytest.raises(TypeError, match="writable"):
        Thing(0, data=mine)
    thing = Thing(0, data=frozen_array(mine))
    mine[0] = 1
    assert thing.data[0] == 0
    with pytest.raises(ValueError, match="read-only"):
        thing.data[0] = 2


def test_own_array_takes_the_array_without_a_copy():
    mine = np.zeros(3)
    assert own_array(mine) is mine
    assert not mine.flags.writeable


def test_the_fingerprint_is_stable_between_runs():
    # Written down on purpose: stored cases and seals depend on it.
    assert Thing(1.5, "x").fingerprint == Thing(1.5, "x").but().fingerprint
    grid = Grid((0, 0, 0), (1, 1, 3), (2, 3, 4))
    assert grid.fingerprint == "00069ebb4785510df51b35da4731f5ec86ca5ece53e9c4fbd4d47678bd2cc01d"


def test_parts_are_found_through_tuples():
    grid, data = Grid((0, 0, 0), (1, 1, 1), (1, 1, 1)), frozen_array(np.zeros(2))
    assert [type(p).__name__ for p in parts(Thing(0, data=data, grid=grid))] == ["ndarray", "Grid"]


def test_fields_that_cannot_be_kept_are_refused():
    with pytest.raises(TypeError, match="cannot hold dict"):
        _ = Thing(0, name={"a": 1}).fingerprint


@dataclass(frozen=True, eq=False)
class Grown(Value):
    name: str
    tags: tuple[str, ...] = ()

    LATER: ClassVar = {"tags": 3}


def test_a_field_that_came_later_is_no_content_while_it_holds_its_default():
    old = {"kind": "Grown", "layout": 1, "fields": {"name": "a"}}
    assert json.loads(canonical_bytes(Grown("a"))) == old
    tagged = Grown("a", ("x",))
    assert json.loads(canonical_bytes(tagged)) == {"kind": "Grown", "layout": 3, "fields": {"name": "a", "tags": ["x"]}}
    assert tagged != Grown("a")
    assert tagged.but(tags=()) == Grown("a")
    assert Grown.newest_layout() == 3
