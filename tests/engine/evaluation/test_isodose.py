from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.evaluation.isodose import lines


def closed(line: np.ndarray) -> bool:
    return bool((line[0] == line[-1]).all())


def test_exact_in_a_linear_field_and_open_at_the_border() -> None:
    r, c = np.mgrid[:20, :30]
    (only,) = lines((2.0 * r + 0.5 * c + 1).astype(np.float32), [24.25])
    assert len(only) == 1
    assert not closed(only[0])
    line = only[0]
    assert np.abs(2 * line[:, 0] + 0.5 * line[:, 1] + 1 - 24.25).max() < 1e-5
    for end in (line[0], line[-1]):
        assert end[0] in (0, 19) or end[1] in (0, 29)
    assert np.linalg.norm(np.diff(line, axis=0), axis=1).max() <= np.sqrt(2) + 1e-9


def test_circle_is_one_closed_line_of_the_right_size() -> None:
    r, c = np.mgrid[:101, :101]
    cone = (60 - np.hypot(r - 50, c - 50)).astype(np.float32)
    for level, found in zip((20, 30, 59), lines(cone, [20, 30, 59]), strict=True):
        assert len(found) == 1
        assert closed(found[0])
        radius = np.hypot(*(found[0] - 50).T)
        assert radius == pytest.approx(60 - level, abs=0.15)


def test_rings_holes_and_levels_not_reached() -> None:
    r, c = np.mgrid[:80, :80]
    ring = (20 - np.abs(np.hypot(r - 40, c - 40) - 20)).astype(np.float32)
    inner_and_outer, none, below = lines(ring, [15, 99, -99])
    assert len(inner_and_outer) == 2
    assert none == []
    assert below == []


def test_saddle_follows_the_mean() -> None:
    joined = np.array([[1, 0], [0.2, 1]], np.float32)
    parted = np.array([[1, 0], [0.2, 0.6]], np.float32)
    assert len(lines(joined, [0.5])[0]) == 2
    assert len(lines(parted, [0.5])[0]) == 2
    # Joined: each line cuts off a low corner. Parted: each cuts off a high one.
    assert {tuple(np.round(x).min(axis=0)) for x in lines(joined, [0.5])[0]} != set()
    low = sorted(min(map(tuple, x)) for x in lines(joined, [0.5])[0])
    high = sorted(min(map(tuple, x)) for x in lines(parted, [0.5])[0])
    assert low[0] == (0.0, 0.5)
    assert high[0] == (0.0, 0.5)


def test_flat_and_tiny_planes_have_no_lines() -> None:
    assert lines(np.full((5, 5), 3, np.float32), [3, 4]) == [[], []]
    assert lines(np.zeros((1, 5), np.float32), [0.5]) == [[]]
    assert lines(np.zeros((5, 5), np.float32), []) == []


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000), st.integers(2, 12), st.integers(2, 12))
def test_every_crossing_of_a_grid_edge_is_passed_once(seed: int, rows: int, columns: int) -> None:
    plane = np.random.default_rng(seed).random((rows, columns)).astype(np.float32)
    level = np.float32(0.5)
    (found,) = lines(plane, [level])
    inside = plane >= level
    crossings = int((inside[1:] != inside[:-1]).sum() + (inside[:, 1:] != inside[:, :-1]).sum())
    distinct = [len(x) - closed(x) for x in found]
    assert sum(distinct) == crossings
    for line in found:
        on_edge = (line == np.floor(line)).any(axis=1)
        assert on_edge.all()
        if not closed(line):
            for end in (line[0], line[-1]):
                assert end[0] in (0, rows - 1) or end[1] in (0, columns - 1)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000))
def test_whole_numbers_at_the_level_never_break_it(seed: int) -> None:
    plane = np.random.default_rng(seed).integers(0, 4, (9, 9)).astype(np.float32)
    for found in lines(plane, [1, 2, 3]):
        for line in found:
            assert np.isfinite(line).all()
            assert len(line) >= 2
