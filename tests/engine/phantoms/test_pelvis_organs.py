"""Soft organs of the pelvis. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import in_range, median_in_range, numbers

pytestmark = pytest.mark.slow


def test_sizes_and_numbers(pelvis_patient: Phantom) -> None:
    sizes = (
        ("Prostate", 35, 60), ("SeminalVes", 5, 18), ("Bladder", 150, 300), ("Rectum", 60, 100), ("PenileBulb", 3, 8),
        ("Bowel_Small", 100, 600),
    )  # fmt: skip
    assert not in_range(pelvis_patient, sizes)
    assert not median_in_range(pelvis_patient, (("Bladder", -5, 15), ("Prostate", 33, 55), ("PenileBulb", 35, 55)))


def test_rectum_holds_gas_within_a_wall(pelvis_patient: Phantom) -> None:
    hu = numbers(pelvis_patient, "Rectum")
    assert 0.02 < (hu < -700).mean() < 0.3
    assert (np.abs(hu - 35) < 35).mean() > 0.5


def test_rectum_is_one_piece_from_the_first_to_the_last_plane(pelvis_patient: Phantom) -> None:
    planes = pelvis_patient.volume("Rectum").coverage.planes
    assert list(planes) == list(range(planes[0], planes[-1] + 1))
