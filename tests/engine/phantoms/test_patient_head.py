"""The head as a whole. Ranges of size and CT number: common practice."""

from __future__ import annotations

import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import centre, gap_mm, in_range, median_in_range

pytestmark = pytest.mark.slow


def test_sizes_and_numbers(head_patient: Phantom) -> None:
    assert not in_range(head_patient, (("GTV", 4, 20), ("CTV", 6, 35), ("SpinalCord", 6, 20)))
    assert not median_in_range(head_patient, (("GTV", 45, 65), ("SpinalCord", 30, 50)))


def test_the_lesion_is_on_the_left_near_stem_and_sight(head_patient: Phantom) -> None:
    assert centre(head_patient, "GTV")[0] > 0
    assert gap_mm(head_patient, "GTV", "Brainstem") < 10
    assert gap_mm(head_patient, "GTV", "OpticChiasm") < 15
