"""Views of a source through edges, against closed forms and against rays drawn one by one."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtr

from engine.beams.optics import Edges, Source, lit, seen


def pair(distance, low, high):
    return Edges(distance, np.array([low]), np.array([high]))


def drawn(point, source, pairs, n=20_001):
    """Return the share of a Gaussian source whose rays to a point pass all edges, by counting rays."""
    u = (np.arange(n) + 0.5) / n
    from scipy.special import ndtri

    place = source.sigma_mm * ndtri(u)
    passes = np.ones(n, dtype=bool)
    for edges in pairs:
        share = (edges.distance_mm - source.distance_mm) / (source.sad_mm - source.distance_mm)
        crossing = (place + (point - place) * share) * source.sad_mm / edges.distance_mm
        passes &= (crossing > edges.low_mm[0]) & (crossing < edges.high_mm[0])
    return passes.mean()


@given(st.floats(-60, 60), st.floats(5, 30), st.floats(0, 150), st.floats(-60, 0), st.floats(0.5, 60), st.floats(-40, 10))
def test_the_view_is_what_rays_drawn_one_by_one_give(point, sigma, source_at, low, width, other_low):
    source = Source(source_at, sigma, 1000.0)
    pairs = [pair(280.0, low, low + width), pair(500.0, other_low, other_low + 35.0)]
    got = float(seen(np.array([point]), source, pairs)[0, 0])
    assert got == pytest.approx(drawn(point, source, pairs), abs=2e-4)


def test_an_edge_of_the_focal_spot_is_its_image():
    spot = Source(0.0, 0.8, 1000.0)
    assert spot.image_mm(400.0) == pytest.approx(0.8 * 600 / 400)
    x = np.linspace(-5, 5, 11)
    got = seen(x, spot, [pair(400.0, -500.0, 0.0)])[0]
    assert got == pytest.approx(ndtr(-x / 1.2), abs=1e-12)


def test_blur_adds_in_quadrature_to_each_edge_by_itself():
    spot, near, far = Source(0.0, 0.8, 1000.0), pair(500.0, -900.0, 0.0), pair(280.0, -900.0, 0.0)
    for edge in (near, far):
        width = np.sqrt(spot.image_mm(edge.distance_mm) ** 2 + 0.6**2 - 0.1**2 / 6)
        assert lit(np.array([2.0]), 0.1, spot, [edge], 0.6)[0, 0] == pytest.approx(ndtr(-2.0 / width), abs=1e-12)
    # A second, sharper pair that is far from a point leaves what it sees through the first as it was.
    wide = pair(500.0, -900.0, 900.0)
    x = np.linspace(-20, 20, 81)
    assert lit(x, 1.0, spot, [far, wide], 0.0, 2.5) == pytest.approx(lit(x, 1.0, spot, [far], 0.0, 2.5), abs=1e-12)


def test_intervals_side_by_side_add_up_to_the_whole():
    x = np.linspace(-30, 30, 61)
    spot = Source(0.0, 1.0, 1000.0)
    cuts = np.linspace(-20, 20, 9)
    parts = seen(x, spot, [Edges(500.0, cuts[:-1], cuts[1:])])
    assert parts.sum(axis=0) == pytest.approx(seen(x, spot, [pair(500.0, -20.0, 20.0)])[0], abs=1e-12)


def test_empty_and_crossed_intervals_show_nothing():
    spot = Source(125.0, 15.0, 1000.0)
    assert seen(np.zeros(3), spot, [pair(400.0, 5.0, 5.0)]).max() == 0.0
    assert seen(np.zeros(3), spot, [pair(400.0, -60.0, -40.0), pair(400.0, 40.0, 60.0)]).max() == 0.0


@given(st.floats(0.01, 3.0), st.floats(0.0, 2.0), st.floats(-0.5, 0.5))
def test_pixels_of_any_spot_keep_the_open_width(sigma, blur, shift):
    x = np.arange(-60.0, 61.0)
    passed = lit(x, 1.0, Source(0.0, sigma, 1000.0), [pair(500.0, -20.0 + shift, 20.0 + shift)], blur)
    assert passed.sum() == pytest.approx(40.0, abs=0.02)


def test_the_sharpest_spots_approach_the_point():
    x = np.arange(-40.0, 41.0, 0.5)
    edges = [pair(500.0, -20.0, 20.0)]
    point = lit(x, 0.5, Source(0.0, 0.0, 1000.0), edges, 1.0)
    tiny = lit(x, 0.5, Source(0.0, 1e-3, 1000.0), edges, 1.0)
    assert tiny == pytest.approx(point, abs=4e-3)
