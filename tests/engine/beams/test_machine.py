"""Machines as values: whatever cannot be a machine is refused when it is made."""

import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine

POINT = load_machine("point-6")


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
