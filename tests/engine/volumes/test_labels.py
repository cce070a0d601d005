"""Labels of one slice, against the general routines of SciPy, to the bit."""

import numpy as np
import pytest
from scipy import ndimage

from engine.volumes import labels

CROSS = ndimage.generate_binary_structure(2, 1)
SHAPES = ((1, 1), (1, 9), (9, 1), (23, 31), (40, 40))


def slices():
    rng = np.random.default_rng(3)
    for shape in SHAPES:
        for share in (0.0, 0.2, 0.45, 0.6, 0.9, 1.0):
            yield rng.random(shape) < share
    yield ndimage.gaussian_filter(rng.normal(size=(120, 90)), 3) > 0


@pytest.mark.parametrize("corners", [False, True])
def test_the_same_parts_in_the_same_order(corners):
    for mask in slices():
        wanted, count = ndimage.label(mask, np.ones((3, 3)) if corners else CROSS)
        found, n = labels.label(mask, corners)
        assert n == count
        assert np.array_equal(found, wanted)
        assert labels.sizes(found, n).tolist() == np.bincount(wanted.ravel(), minlength=count + 1).tolist()


def test_shares_weigh_the_parts():
    rng = np.random.default_rng(4)
    share = rng.integers(0, 256, (30, 30)).astype(np.uint8)
    found, n = labels.label(share > 90)
    wanted = np.bincount(found.ravel(), weights=share.ravel() / 255.0, minlength=n + 1)
    assert labels.sizes(found, n, share) == pytest.approx(wanted)


@pytest.mark.parametrize("shape", [(0, 0), (0, 5), (5, 0)])
def test_slices_without_pixels_have_no_parts(shape):
    nothing = np.zeros(shape, bool)
    assert labels.filled(nothing).shape == shape == labels.spread(nothing, 2).shape
    assert labels.label(nothing)[1] == labels.holes(nothing)[1] == 0


def test_a_view_that_is_not_contiguous_is_taken_as_it_looks():
    mask = np.random.default_rng(6).random((40, 40)) < 0.5
    assert np.array_equal(labels.label(mask.T[::2])[0], ndimage.label(mask.T[::2])[0])


def test_holes_are_filled_and_labelled():
    for mask in slices():
        closed = ndimage.binary_fill_holes(mask)
        assert np.array_equal(labels.filled(mask), closed)
        wanted, count = ndimage.label(closed & ~mask)
        found, n = labels.holes(mask)
        assert n == count
        assert np.array_equal(found, wanted)


@pytest.mark.parametrize("times", [0, 1, 2, 5])
def test_spreading_is_dilation_over_sides(times):
    for mask in slices():
        wanted = ndimage.binary_dilation(mask, CROSS, times) if times else mask
        assert np.array_equal(labels.spread(mask, times), wanted)


@pytest.mark.parametrize("times", [1, 3])
def test_spreading_within_goes_around_what_is_barred(times):
    rng = np.random.default_rng(7)
    for mask in slices():
        within = rng.random(mask.shape) < 0.7
        wanted = mask
        for _ in range(times):
            wanted = ndimage.binary_dilation(wanted, CROSS) & within
        assert np.array_equal(labels.spread(mask, times, within), wanted)
