"""Glands of the face. Ranges of size and CT number: common practice."""

from __future__ import annotations

import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import gap_mm, in_range, median_in_range, numbers

pytestmark = pytest.mark.slow


def test_parotid_glands_are_fatty_and_free_of_bone(head_patient: Phantom) -> None:
    assert not in_range(head_patient, (("Parotid_L", 12, 35), ("Parotid_R", 12, 35)))
    assert not median_in_range(head_patient, (("Parotid_L", -30, 30), ("Parotid_R", -30, 30)))
    for name in ("Parotid_L", "Parotid_R"):
        assert (numbers(head_patient, name) > 250).mean() < 0.01
    assert gap_mm(head_patient, "Parotid_L", "Parotid_R") > 60
