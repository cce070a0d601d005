"""Values survive the trip through bytes, share what they share, and damage is noticed."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import StoreError
from engine.case import edits
from engine.store import codec
from tests.support.cases import GRID, ball, flat_dose, small_case


def stored(value):
    return {h: (k, n, b) for h, k, n, b in codec.rows(value, lambda _: False)}


def test_a_case_comes_back_with_the_same_fingerprint_and_content():
    case = small_case()
    rows = stored(case)
    back = codec.Reader(rows.__getitem__).value(case.fingerprint)
    assert back == case
    assert np.array_equal(back.image.hu, case.image.hu)
    assert back.volumes[1].coverage.volume_cm3 == case.volumes[1].coverage.volume_cm3
    assert not back.image.hu.flags.writeable
    # recomputed from scratch, not remembered from the row
    assert back.but().fingerprint == case.fingerprint


def test_parts_that_are_shared_are_one_object_after_reading():
    case = small_case()
    back = codec.Reader(stored(case).__getitem__).value(case.fingerprint)
    assert back.volumes[0].coverage.grid is back.image.grid


def test_an_edit_of_one_slice_writes_only_what_is_new():
    case = small_case()
    rows = stored(case)
    volume = case.volumes[1]
    painted = volume.with_coverage(volume.coverage.with_slice(9, np.full(GRID.shape[1:], 255, np.uint8)))
    after = edits.with_volume(case, painted)
    fresh = {h: k for h, k, _, _ in codec.rows(after, rows.__contains__)}
    assert sorted(fresh.values()) == ["Case", "Coverage", "Tile", "Volume", "array"]


def test_floats_that_are_not_finite_survive():
    dose = flat_dose(GRID, 1.0)
    grid = GRID.but(origin_mm=(0.1, 1 / 3, -1e-300))
    back = codec.Reader(stored(grid).__getitem__).value(grid.fingerprint)
    assert back.origin_mm == grid.origin_mm
    assert codec.Reader(stored(dose).__getitem__).value(dose.fingerprint) == dose


@pytest.mark.parametrize("kind", ["array", "Tile"])
def test_a_changed_byte_is_named_as_damage(kind):
    coverage = ball(GRID, (0, 0, 0), 15)
    rows = stored(coverage)
    victim = next(h for h, (k, _, _) in rows.items() if k == kind)
    data = bytearray(rows[victim][2])
    data[len(data) // 2] ^= 1
    rows[victim] = (*rows[victim][:2], bytes(data))
    with pytest.raises(StoreError, match="damaged"):
        codec.Reader(rows.__getitem__).value(coverage.fingerprint)


def test_a_kind_nobody_knows_asks_for_an_update():
    import hashlib

    data = b'{"fields":{},"kind":"FromTheFuture","layout":1}'
    key = hashlib.sha256(data).hexdigest()
    with pytest.raises(StoreError, match="newer program"):
        codec.Reader({key: ("FromTheFuture", 1, data)}.__getitem__).value(key)
