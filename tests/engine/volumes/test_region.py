"""Region growing: what joins, what stops it, and that it says so."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import Cancelled
from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.region import GrowRegion, Limits, grow, grow_region

GRID = Grid((0.0, 0.0, 0.0), (1.0, 1.0, 2.0), (20, 60, 80))
SPACING = (2.0, 1.0, 1.0)


def two_rooms(neck: int) -> np.ndarray:
    """Two boxes of -800 HU in water, joined by a corridor `neck` pixels wide."""
    hu = np.zeros(GRID.shape, np.int16)
    hu[3:17, 15:45, 8:35] = -800
    hu[3:17, 15:45, 50:72] = -800
    hu[8:12, 28 : 28 + neck, 35:50] = -800
    return hu


def full(growth, shape=GRID.shape):
    out = np.zeros(shape, np.uint8)
    k, r, c = growth.corner
    a, b, d = growth.mask.shape
    out[k : k + a, r : r + b, c : c + d] = growth.mask
    return out


def test_without_guards_it_takes_all_that_is_connected():
    hu = two_rooms(3)
    growth = grow(hu, (10, 30, 20), Limits(-900, -700), SPACING)
    assert np.array_equal(full(growth), (hu == -800).astype(np.uint8))
    assert growth.notes == ""


def test_a_neck_parts_two_rooms_and_is_told():
    hu = two_rooms(3)
    growth = grow(hu, (10, 30, 20), Limits(-900, -700, neck_mm=5), SPACING)
    out = full(growth)
    assert out[3:17, 15:45, 8:35].all()
    assert not out[:, :, 40:].any()
    assert "necks narrower than 5 mm" in growth.notes
    wide = grow(two_rooms(8), (10, 30, 20), Limits(-900, -700, neck_mm=5), SPACING)
    assert full(wide)[10, 30, 60]


def test_a_seed_in_a_neck_is_told():
    growth = grow(two_rooms(3), (10, 29, 42), Limits(-900, -700, neck_mm=5), SPACING)
    assert growth.mask.any()
    assert "place pressed is narrower" in growth.notes


def test_reach_and_volume_end_it_and_are_told():
    hu = np.zeros(GRID.shape, np.int16)
    near = grow(hu, (10, 30, 40), Limits(-10, 10, reach_mm=12), SPACING)
    k, r, c = np.nonzero(full(near))
    assert np.sqrt(((k - 10) * 2.0) ** 2 + (r - 30) ** 2 + (c - 40) ** 2).max() == pytest.approx(12, abs=0.01)
    assert "12 mm from the place" in near.notes
    small = grow(hu, (10, 30, 40), Limits(-10, 10, most_cm3=3.0), SPACING)
    assert small.mask.sum() * 2e-3 == pytest.approx(3.0, abs=0.01)
    assert "stopped at 3 cm³" in small.notes


def test_the_rim_of_the_image_is_no_neck():
    hu = np.zeros(GRID.shape, np.int16)
    whole = grow(hu, (0, 0, 0), Limits(-10, 10, neck_mm=6), SPACING)
    assert full(whole).all()
    assert whole.notes == ""


def test_one_slice_and_seeds_that_grow_nothing():
    hu = two_rooms(3)
    flat = grow(hu[10:11], (0, 30, 20), Limits(-900, -700, neck_mm=5), SPACING)
    # and the three pixels of the mouth of the corridor, the one step that takes round corners back
    assert flat.mask.shape[0] == 1
    assert flat.mask.sum() == 30 * 27 + 3
    assert grow(hu, (10, 30, 200), Limits(-900, -700), SPACING).mask.size == 0
    assert grow(hu, (10, 5, 5), Limits(-900, -700), SPACING).mask.size == 0
    line = grow(hu[:1, :1], (0, 0, 3), Limits(-10, 10, neck_mm=5), SPACING)
    assert line.mask.sum() == GRID.shape[2]


def ask(**changes):
    image = CtImage(own_array(two_rooms(3)), GRID)
    fields = dict(image=image, seed=(10, 30, 20), numbers=(-900.0, -700.0, 5.0, 500.0, 500.0), coverage=Coverage(GRID))
    return GrowRegion(**{**fields, **changes})


def test_the_request_adds_to_the_volume_or_takes_from_it():
    request = ask()
    made = grow_region(request)
    assert made.inputs == request.fingerprint
    assert made.grown_cm3 == pytest.approx(made.coverage.volume_cm3)
    taken = grow_region(ask(coverage=made.coverage, subtract=True))
    assert taken.coverage.is_empty


def test_the_request_keeps_to_the_guard():
    half = np.zeros(GRID.shape, np.uint8)
    half[:, :, :20] = 255
    guard = Coverage.from_dense(GRID, half)
    inside = grow_region(ask(guard=guard)).coverage.dense()
    outside = grow_region(ask(guard=guard, inside=False)).coverage.dense()
    assert (inside[10, 30, 10], inside[10, 30, 30]) == (255, 0)
    assert (outside[10, 30, 10], outside[10, 30, 30]) == (0, 255)


def test_it_can_be_cancelled():
    def report(fraction: float, words: str = "") -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        grow_region(ask(), report)


def test_noise_makes_no_necks():
    hu = two_rooms(3)
    rng = np.random.default_rng(5)
    spots = np.where((rng.random(GRID.shape) < 0.1) & (hu == -800))
    hu[spots] = -500
    growth = grow(hu, (10, 30, 20), Limits(-900, -700, neck_mm=5), SPACING)
    room = np.zeros(GRID.shape, bool)
    room[3:17, 15:45, 8:35] = True
    assert full(growth)[room].mean() > 0.97
    assert full(growth)[~room].sum() < 20
