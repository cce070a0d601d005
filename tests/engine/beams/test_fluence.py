from math import erf

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine.beams.beam import Aperture
from engine.beams.fluence import fluence_map, monitor_output, transmission
from engine.beams.machine_file import load_machine

POINT = load_machine("point-6")
GENERIC = load_machine("generic-6")
BARE = GENERIC.but(horn_mm=(), horn_fluence=(), extra_focal_share=0.0, contamination_share=0.0, monitor_backscatter=0.0)


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
    machine = BARE.but(leaf_transmission=0.0, jaw_transmission=0.0, leaf_end_growth_mm=0.0)
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
    spot = POINT.but(focal_fwhm_mm=(3.0, 0.0), upper_jaw_mm=400.0, lower_jaw_mm=400.0)
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


def test_turning_the_jaw_pairs_over_turns_the_map():
    f = fluence_map(Aperture((-40, 20), (-10, 55)), GENERIC, 1.2).fluence
    turned = fluence_map(Aperture((-10, 55), (-40, 20)), GENERIC.but(upper_jaws="X"), 1.2).fluence
    assert np.allclose(f, turned.T, atol=1e-6)


def test_rounded_ends_give_more_the_further_off_axis():
    machine = POINT.but(leaf_end_offset_mm=0.3, leaf_end_growth_mm=0.1)
    x = np.arange(-150.0, 151.0)
    gaps = tuple((50.0, 100.0) for _ in range(60))
    width = transmission(
        Aperture((-150, 150), (-100, 100), machine.leaf_edges_mm, gaps), machine, x, np.zeros(1), 1.0
    ).sum()
    assert width == pytest.approx(50 + 2 * 0.3 + 0.1 * (0.5**2 + 1.0**2))


def test_jaws_and_leaves_blur_by_their_own_distance():
    m = POINT.but(focal_fwhm_mm=(2.5, 2.5), upper_jaw_mm=250.0, lower_jaw_mm=400.0, leaf_distance_mm=500.0)
    sigma = 2.5 / 2.3548
    jaws = fluence_map(square(80), m)
    gaps = ((-40.0, 40.0),) * 60
    with_leaves = fluence_map(leaves(m, gaps), m)
    for at_edge, plane in (
        (lambda d: jaws.at(0, 40 + d), 250),
        (lambda d: jaws.at(40 + d, 0), 400),
        (lambda d: with_leaves.at(40 + d, 0), 500),
    ):
        reach = sigma * (1000 - plane) / plane
        assert at_edge(0) == pytest.approx(0.5, abs=2e-3)
        assert at_edge(-reach) == pytest.approx(0.841, abs=0.02)
        assert at_edge(reach) == pytest.approx(0.159, abs=0.02)


@given(st.floats(-3.0, 3.0))
def test_the_edge_further_in_rules_and_nothing_jumps_as_the_other_passes_it(beyond):
    m = POINT.but(focal_fwhm_mm=(2.0, 2.0))
    gaps = ((-40.0, 40.0),) * 60
    one, next_one = (
        fluence_map(Aperture((-60, 40 + beyond + d), (-100, 100), m.leaf_edges_mm, gaps), m) for d in (0.0, 0.02)
    )
    for x in (37.0, 39.0, 40.0, 41.0):
        assert 0 <= next_one.at(x, 0) - one.at(x, 0) < 0.01


def sc(machine, x_mm, y_mm):
    aperture = Aperture((-x_mm / 2, x_mm / 2), (-y_mm / 2, y_mm / 2))
    bare = machine.but(jaw_transmission=0.0)
    return fluence_map(aperture, bare).at(0, 0)


def test_a_long_field_on_the_upper_jaws_gives_more():
    # Higgins et al. Med. Phys. 16 (1989) 800: 2 % or more once length/width exceeds 3 (abstract); the pair nearer to the
    # source hides more of the head, so a narrow upper pair costs more than a narrow lower one.
    upper_long = sc(GENERIC, 50.0, 200.0) / sc(GENERIC, 200.0, 50.0)
    assert 1.015 < upper_long < 1.035
    assert sc(GENERIC.but(upper_jaws="X"), 50.0, 200.0) / sc(GENERIC.but(upper_jaws="X"), 200.0, 50.0) < 0.985
    assert sc(GENERIC, 50.0, 300.0) / sc(GENERIC, 300.0, 50.0) > upper_long
    one_plane = GENERIC.but(upper_jaw_mm=400.0, lower_jaw_mm=400.0, monitor_backscatter=0.0)
    assert sc(one_plane, 50.0, 200.0) == pytest.approx(sc(one_plane, 200.0, 50.0), rel=1e-5)


def test_head_scatter_alone_is_the_closed_form():
    m = BARE.but(extra_focal_share=0.05, extra_focal_fwhm_mm=40.0, jaw_transmission=0.0)

    def view(side):
        sigma = 40.0 / 2.354820045
        out = 1.0
        for plane in (m.upper_jaw_mm, m.lower_jaw_mm):
            seen = side / 2 * plane / 1000 * (1000 - m.extra_focal_distance_mm) / (1000 - plane)
            out *= erf(seen / sigma / np.sqrt(2))
        return out

    for side in (30.0, 70.0, 220.0):
        assert sc(m, side, side) == pytest.approx(0.95 + 0.05 * view(side) / view(100.0), rel=2e-5)


def test_leaves_hide_the_head_as_jaws_at_their_place_would():
    m = BARE.but(extra_focal_share=0.05, jaw_transmission=0.0, leaf_transmission=0.0, leaf_end_offset_mm=0.0)
    m = m.but(leaf_end_growth_mm=0.0, tongue_mm=0.0)
    gaps = tuple((-30.0, 30.0) if 20 <= n < 40 else (-90.0, -90.0) for n in range(60))
    shaped = fluence_map(Aperture((-200, 200), (-200, 200), m.leaf_edges_mm, gaps), m)
    as_jaws = m.but(upper_jaw_mm=500.0, lower_jaw_mm=500.0)
    ratio = np.array([shaped.at(x, y) for x, y in ((0, 0), (20, -30), (-25, 45), (60, 0))])
    # The reference view differs with the planes; shapes must not.
    alone = fluence_map(Aperture((-30, 30), (-50, 50)), as_jaws)
    other = np.array([alone.at(x, y) for x, y in ((0, 0), (20, -30), (-25, 45), (60, 0))])
    scatter, scatter_as_jaws = ratio - 0.95 * (ratio > 0.5), other - 0.95 * (other > 0.5)
    assert scatter / scatter[0] == pytest.approx(scatter_as_jaws / scatter_as_jaws[0], rel=2e-3)


def test_points_off_axis_see_their_own_part_of_the_head():
    lop_sided = fluence_map(Aperture((-100, 20), (-50, 50)), BARE.but(extra_focal_share=0.05))
    scatter = np.array([lop_sided.at(x, 0) - 0.95 for x in (-85, -40, 0)])
    assert scatter[1] > scatter[2]
    assert scatter[1] > scatter[0]


@given(st.floats(20.0, 380.0), st.floats(20.0, 380.0))
def test_output_is_continuous_in_the_jaws(x, y):
    # Narrower jaws begin to hide the focal spot itself, and output falls fast.
    a, b = sc(GENERIC, x, y), sc(GENERIC, x + 0.5, y + 0.5)
    assert -1e-7 < b - a < 1.5e-3


def test_back_scatter_follows_the_covered_area_linearly():
    m = GENERIC.but(monitor_backscatter=0.05)

    def back(x, y):
        return 1 / monitor_output(Aperture((-x / 2, x / 2), (-y / 2, y / 2)), m)

    assert monitor_output(square(100), m) == 1.0
    assert monitor_output(square(100), GENERIC.but(monitor_backscatter=0.0)) == 1.0
    steps = [back(200.0, y) for y in (50.0, 150.0, 250.0, 350.0)]
    assert np.diff(steps) == pytest.approx([steps[1] - steps[0]] * 3)
    assert steps[0] > steps[-1]
    # The upper pair throws back more than the lower one.
    assert back(200.0, 50.0) > back(50.0, 200.0)


def test_the_sides_of_leaves_shade_only_where_the_neighbour_is_closed():
    m = POINT.but(tongue_mm=1.0)
    gaps = tuple((-30.0, 30.0) if n == 30 else (0.0, 30.0) if n == 31 else (-90.0, -90.0) for n in range(60))
    x, y = np.arange(-100.0, 101.0), np.arange(-20.0, 20.1, 0.1)
    passed = transmission(leaves(m, gaps), m, x, y, 0.1)
    plain = transmission(leaves(m, gaps), m.but(tongue_mm=0.0), x, y, 0.1)
    low, middle, high = m.leaf_edges_mm[30:33]
    lost = (plain - passed) > 0.5
    column = {side: y[lost[:, np.argmin(np.abs(x - side))]] for side in (-15.0, 15.0)}
    # On the left only pair 30 is open: both its sides shade. On the right 30 and 31 are open side by side.
    assert np.all((np.abs(column[-15.0] - low - 0.5) < 0.6) | (np.abs(column[-15.0] - middle + 0.5) < 0.6))
    assert np.all((np.abs(column[15.0] - low - 0.5) < 0.6) | (np.abs(column[15.0] - high + 0.5) < 0.6))
    assert len(column[-15.0]) == pytest.approx(20, abs=2)
    assert len(column[15.0]) == pytest.approx(20, abs=2)
    assert passed.min() >= 0


def test_contaminants_follow_the_aperture_and_the_output():
    soft = [fluence_map(square(s), GENERIC).contamination for s in (50, 100, 200, 400)]
    middle = [f[f.shape[0] // 2, f.shape[1] // 2] for f in soft]
    assert np.all(np.diff(middle) > 0)
    assert middle[-1] == pytest.approx(monitor_output(square(400), GENERIC), rel=0.02)
    # The core of the contaminants is what small fields keep.
    small = [fluence_map(square(50), GENERIC.but(contamination_core_share=c)).contamination.max() for c in (0.0, 0.5)]
    assert small[1] > 2 * small[0]


def test_a_closed_aperture_passes_nothing_through_an_ideal_machine():
    assert fluence_map(Aperture((10, 10), (-50, 50)), POINT).fluence.max() == 0.0


leaf_gaps = st.tuples(st.floats(-60, 60), st.floats(0, 60)).map(lambda g: (g[0], g[0] + g[1]))
SLIT = tuple((-40.0, 40.0) if n == 30 else (0.0, 0.0) for n in range(60))


@settings(deadline=None, max_examples=20)
@given(st.lists(leaf_gaps, min_size=60, max_size=60), *(st.floats(0, 60),) * 4, st.floats(0, 2))
@example(list(SLIT), 15.5, 20.0, 4.5, 7.5, 0.0)
def test_no_aperture_gives_less_than_nothing_or_more_anywhere_than_the_jaws_alone(gaps, x1, x2, y1, y2, blur):
    jaws = (-x1, x2), (-y1, y2)
    field = fluence_map(Aperture(*jaws, GENERIC.leaf_edges_mm, tuple(gaps)), GENERIC, blur)
    alone = fluence_map(Aperture(*jaws), GENERIC, blur)
    assert field.step_mm == alone.step_mm
    for behind, by_jaws in ((field.fluence, alone.fluence), (field.contamination, alone.contamination)):
        assert np.all(np.isfinite(behind))
        assert behind.min() >= 0
        assert np.all(behind <= by_jaws + 1e-6)
