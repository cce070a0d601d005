"""Heart, windpipe and gullet. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import centre, gap_mm, in_range, median_in_range, numbers

pytestmark = pytest.mark.slow


def test_sizes_and_numbers(thorax_patient: Phantom) -> None:
    assert not in_range(thorax_patient, (("Heart", 500, 800), ("Esophagus", 20, 60), ("Trachea", 20, 60)))
    assert not median_in_range(thorax_patient, (("Heart", 35, 60), ("Esophagus", 25, 60)))


def test_the_heart_points_to_the_left_and_has_fat_on_it(thorax_patient: Phantom) -> None:
    assert centre(thorax_patient, "Heart")[0] > 5
    assert 0.01 < (numbers(thorax_patient, "Heart") < -40).mean() < 0.25


def test_the_windpipe_is_air_within_a_wall_in_front_of_the_gullet(thorax_patient: Phantom) -> None:
    assert np.percentile(numbers(thorax_patient, "Trachea"), 40) < -900
    assert centre(thorax_patient, "Trachea")[1] < centre(thorax_patient, "Esophagus")[1]
    assert gap_mm(thorax_patient, "Trachea", "Esophagus") < 6
    assert gap_mm(thorax_patient, "Esophagus", "SpinalCord") > 15
    assert (numbers(thorax_patient, "Esophagus") > 250).mean() < 0.002, "no bone in the gullet"
