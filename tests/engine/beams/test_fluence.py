import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.beams.beam import Aperture
from engine.beams.fluence import fluence_map, transmission
from engine.beams.machine_file import load_machine

POINT = load_machine("point-6")
GENERIC = load_machine("generic-6")
BARE = GENERIC.but(horn_mm=(), horn_fluence=(), extra_focal_share=0.0, contamination_share=0.0)


def square(side):
    return Aperture((-side / 2, side / 2), (-side / 2, side / 2))


def leaves(machine, openings):
    return Aperture((-100, 100), (-100, 100), machine.leaf_edges_mm, openings)


@given(st.floats(1, 60), st.floats(1, 60), st.floats(-20, 20))
def test_the_open_area_is_exact_whatever_the_pixels(width, height, shift):
    x = np.arange(-100.0, 101.0)
    passed = transmission(Aperture((shift, shift + width), (-height / 2, height / 2)), POINT, x, x, 1.0)
    assert passed.sum() == pytest.approx(width * height, rel=1e-9)


def test_leaves_open_the_sum_of_their_gaps_inside_the_jaws():
    gaps = tuple((-20.3 + n / 7, 15.2 + n / 5) if 20 <= n < 40 else (0.0, 0.0) for n in range(60))
    x = np.arange(-150.0, 151.0)
    passed = transmission(leaves(POINT, gaps), POINT, x, x, 1.0)
    area = sum((b - a) * (POINT.leaf_edges_mm[n + 1] - POINT.leaf_edges_mm[n]) for n, (a, b) in enumerate(gaps))
    assert passed.sum() == pytest.approx(area, rel=1e-9)


def test_each_leaf_shapes_its_own_strip():
    gaps = tuple((-30.0, 30.0) if n == 29 else (0.0, 0.0) for n in range(60))
    field = fluence_map(leaves(POINT, gaps), POINT)
    low, high = POINT.leaf_edges_mm[29:31]
    middle = (low + high) / 2
    assert field.at(0, middle) == pytest.approx(1.0)
    assert field.at(0, middle + 5) == field.at(0, middle - 5) == field.at(40, middle) == 0.0


def test_what_leaks_is_what_the_machine_says():
    gaps = ((0.0, 0.0),) * 60
    machine = BARE.but(leaf_end_offset_mm=0.0)
    field = fluence_map(leaves(machine, gaps), machine)
    assert field.at(40, 0) == pytest.approx(machine.leaf_transmission)
    assert field.at(135, 0) == pytest.approx(machine.jaw_transmission)


def test_rounded_ends_move_the_edge_outwards():
    gaps = ((-30.0, 30.0),) * 60
    machine = BARE.but(leaf_transmission=0.0, jaw_transmission=0.0)
    x = np.arange(-100.0, 101.0)
    width = transmission(leaves(machine, gaps), machine, x, np.zeros(1), 1.0).sum()
    assert width == pytest.approx(60 + 2 * machine.leaf_end_offset_mm)


@given(st.floats(0.8, 4.0))
def test_an_edge_is_half_and_its_width_is_that_of_the_blur(blur):
    field = fluence_map(square(80), POINT, blur)
    assert field.at(40, 0) == pytest.approx(0.5, abs=0.01)
    # 84.1 % to 15.9 % of a Gaussian edge lie two sigma apart.
    assert field.at(40 - blur, 0) == pytest.approx(0.841, abs=0.03)
    assert field.at(40 + blur, 0) == pytest.approx(0.159, abs=0.03)


def test_the_focal_spot_blurs_by_its_image():
    spot = POINT.but(focal_fwhm_mm=(3.0, 0.0), collimator_mm=400.0)
    sigma = 3.0 / 2.3548 * 600 / 400
    field = fluence_map(square(80), spot)
    assert field.at(40 - sigma, 0) == pytest.approx(0.841, abs=0.02)
    assert field.at(0, 41) == pytest.approx(0.0, abs=0.01)
    assert field.at(0, 39) == pytest.approx(1.0, abs=0.01)


def test_head_scatter_raises_the_output_with_the_field_and_reaches_past_the_edge():
    axis = [fluence_map(square(s), GENERIC).at(0, 0) for s in (40, 60, 100, 200, 400)]
    assert np.all(np.diff(axis) > 0)
    assert axis[2] == pytest.approx(1.0, abs=1e-3)
    outside = [fluence_map(square(100), GENERIC).at(x, 0) for x in (60, 80, 100)]
    assert np.all(np.diff(outside) < 0)
    assert outside[0] > GENERIC.jaw_transmission


def test_the_off_axis_table_is_followed_inside_an_open_field():
    m = BARE.but(horn_mm=(0.0, 100.0, 200.0), horn_fluence=(1.0, 1.05, 1.02), jaw_transmission=0.0)
    field = fluence_map(square(300), m)
    assert field.at(0, 100) == pytest.approx(1.05, abs=1e-3)
    assert field.at(-100, 0) == pytest.approx(1.05, abs=1e-3)


def test_a_symmetric_aperture_gives_a_symmetric_map():
    f = fluence_map(square(93.3), GENERIC, 1.2).fluence
    assert np.allclose(f, f[::-1], atol=1e-6)
    assert np.allclose(f, f[:, ::-1], atol=1e-6)
    assert np.allclose(f, f.T, atol=1e-6)


def test_a_closed_aperture_passes_nothing_through_an_ideal_machine():
    assert fluence_map(Aperture((10, 10), (-50, 50)), POINT).fluence.max() == 0.0
