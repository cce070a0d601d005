"""Wedges: profiles run from toe to heel, turn with the orientation, and nonsense is refused."""

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.beams.wedge import Wedge, toe_direction

STEEL = Wedge("W30", "physical", 30, (-100, 100), material="iron", density_g_cm3=7.87, thickness_mm=(2.0, 42.0))
VIRTUAL = Wedge("V30", "virtual", 30, (-100, 0, 100), transmission=(2.0, 1.0, 0.5))


def test_profiles_are_straight_in_thickness_and_in_the_logarithm_of_transmission():
    assert STEEL.profile_at(np.array([-300, -50, 0, 100, 300.0])) == pytest.approx([2, 12, 22, 42, 42])
    assert VIRTUAL.profile_at(np.array([-50.0, 50.0])) == pytest.approx([2**0.5, 2**-0.5])


@pytest.mark.parametrize(("angle", "toe"), [(0, (0, 1)), (90, (-1, 0)), (180, (0, -1)), (270, (1, 0)), (360, (0, 1))])
def test_the_toe_turns_counter_clockwise_seen_from_the_source(angle, toe):
    assert toe_direction(angle) == toe
    assert STEEL.along_mm(np.array(50.0 * toe[0]), np.array(50.0 * toe[1]), angle) == -50.0


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"name": " "}, "name"),
        ({"name": "a name of more than sixteen"}, "16 characters"),
        ({"kind": "magic"}, "neither physical nor virtual"),
        ({"angle_deg": 0.0}, "angle"),
        ({"orientations_deg": (45.0,)}, "orientations"),
        ({"orientations_deg": ()}, "orientations"),
        ({"thickness_mm": (2.0,)}, "two positions"),
        ({"position_mm": (100.0, -100.0)}, "ascend"),
        ({"thickness_mm": (40.0, 2.0)}, "thicker"),
        ({"thickness_mm": (0.0, 900.0)}, "0 to 200"),
        ({"thickness_mm": (float("nan"), 20.0)}, "0 to 200"),
        ({"material": "unobtainium"}, "physics tables"),
        ({"material": "iron", "density_g_cm3": 0.0}, "physics tables"),
        ({"transmission": (1.0, 0.5)}, "with a thickness each"),
        ({"field_mm": (0.0, 200.0)}, "field limits"),
        ({"kind": "virtual", "thickness_mm": (), "transmission": (0.5, 1.0)}, "let less through"),
        ({"kind": "virtual", "thickness_mm": (), "transmission": (1.0, 0.0)}, "transmission"),
    ],
)
def test_what_cannot_be_a_wedge_is_refused(change, words):
    with pytest.raises(InputError, match=words) as caught:
        STEEL.but(**change)
    assert caught.value.do
