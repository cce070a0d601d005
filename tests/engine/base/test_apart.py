import numpy as np
import pytest
from numba import njit

from engine.base.apart import fetch, put, read_back


@njit(error_model="numpy")
def through(table, places, out):
    for n in range(np.uint32(out.size)):
        put(out, n, fetch(table, np.uint64(np.int32(fetch(places, n)))) * np.float32(2.0))


@pytest.mark.parametrize("count", [0, 1, 7, 8, 33, 1000])
def test_what_is_fetched_and_put_is_what_indexing_gives(count):
    rng = np.random.default_rng(count)
    table = rng.random(500).astype(np.float32)
    places = rng.uniform(0, 499.9, count).astype(np.float32)
    out = np.full(count, -1, np.float32)
    through(table, places, out)
    assert np.array_equal(out, 2 * table[places.astype(int)])


def test_a_view_with_an_offset_is_read_and_written_in_its_place():
    table, out = np.arange(20, dtype=np.float32), np.zeros(10, np.float32)
    through(table[10:], np.array([0.0, 3.5], np.float32), out[4:6])
    assert out.tolist() == [0, 0, 0, 0, 20, 26, 0, 0, 0, 0]


@njit(error_model="numpy")
def more(table, places, out):
    for n in range(np.uint32(out.size)):
        put(out, n, read_back(out, n) + fetch(table, np.uint64(np.int32(fetch(places, n)))))


@pytest.mark.parametrize("count", [0, 1, 7, 8, 33, 1000])
def test_what_is_read_back_is_what_put_has_left_there(count):
    rng = np.random.default_rng(count)
    table = rng.random(500).astype(np.float32)
    places = rng.uniform(0, 499.9, count).astype(np.float32)
    out = rng.random(count).astype(np.float32)
    expected = out + table[places.astype(int)] + table[places.astype(int)]
    more(table, places, out)
    more(table, places, out)
    assert np.allclose(out, expected, rtol=1e-6)
