"""Machines as values: whatever cannot be a machine is refused when it is made."""

import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine
from engine.beams.wedge import Wedge

POINT = load_machine("point-6")
WEDGE = Wedge("V", "virtual", 30, (-100, 100), transmission=(2.0, 0.5))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"name": ""}, "no name"),
        ({"spectrum_fluence": (0.0,) * 24}, "not all zero"),
        ({"spectrum_fluence": (1.0,)}, "one fluence per energy bin"),
        ({"spectrum_mev": ((1.0, 2.0), (1.5, 3.0)), "spectrum_fluence": (1.0, 1.0)}, "without overlap"),
        ({"field_limit_mm": 0.0}, "field limit"),
        ({"jaw_x_mm": (50.0, -50.0)}, "X jaws"),
        ({"focal_fwhm_mm": (30.0, 1.0)}, "focal spot"),
        ({"sad_mm": 20.0}, "source-axis distance"),
        ({"upper_jaws": "Z"}, "X or Y"),
        ({"upper_jaw_mm": 450.0, "lower_jaw_mm": 400.0}, "order along the beam"),
        ({"leaf_distance_mm": 990.0}, "order along the beam"),
        ({"extra_focal_distance_mm": 300.0}, "order along the beam"),
        ({"leaf_edges_mm": (-10.0, 0.0, 0.0, 10.0)}, "ascend"),
        ({"leaf_edges_mm": (-10.0, float("nan"), 10.0)}, "ascend"),
        ({"tongue_mm": 2.5}, "tongue"),
        ({"leaf_end_offset_mm": 9.0}, "leaf end offset"),
        ({"leaf_end_growth_mm": float("nan")}, "leaf end offset"),
        ({"monitor_backscatter": -0.1}, "monitor backscatter"),
        ({"contamination_range_mm": 0.0}, "contaminant electrons"),
        ({"calibration_field_mm": 900.0}, "calibration"),
        ({"calibration_depth_mm": -1.0}, "calibration"),
        ({"calibration_gy_per_mu": 1.0}, "calibration"),
        ({"wedges": (WEDGE, WEDGE)}, "two wedges have one name"),
    ],
)
def test_what_cannot_be_a_machine_is_refused(change, words):
    with pytest.raises(InputError, match=words) as caught:
        POINT.but(**change)
    assert caught.value.do


def test_leaf_pairs_and_mean_energy_follow_from_the_tables():
    assert POINT.leaf_pairs == 60
    assert POINT.but(leaf_edges_mm=()).leaf_pairs == 0
    one = POINT.but(spectrum_mev=((1.0, 1.5), (2.0, 2.5)), spectrum_fluence=(3.0, 1.0))
    assert one.mean_energy_mev() == pytest.approx(1.5)


def test_the_pair_named_upper_is_nearer_to_the_source():
    assert POINT.jaw_planes_mm == (POINT.lower_jaw_mm, POINT.upper_jaw_mm)
    assert POINT.but(upper_jaws="X").jaw_planes_mm == (POINT.upper_jaw_mm, POINT.lower_jaw_mm)


def test_a_beam_without_flattening_filter_is_called_so():
    assert POINT.energy == "6 MV"
    assert load_machine("generic-6-unflattened").energy == "6 MV FFF"


def test_wedges_are_found_by_name():
    machine = POINT.but(wedges=(WEDGE,))
    assert machine.wedge("V") is WEDGE
    assert machine.wedge("W") is machine.wedge("") is None
