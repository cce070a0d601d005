"""Bones of the pelvis. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import centre, in_range, median_in_range, numbers

pytestmark = pytest.mark.slow


def test_femoral_heads(pelvis_patient: Phantom) -> None:
    assert not in_range(pelvis_patient, (("Femur_Head_L", 45, 90), ("Femur_Head_R", 45, 90)))
    assert not median_in_range(pelvis_patient, (("Femur_Head_L", 200, 600), ("Femur_Head_R", 200, 600)))
    apart = centre(pelvis_patient, "Femur_Head_L") - centre(pelvis_patient, "Femur_Head_R")
    assert 150 < apart[0] < 210
    assert np.abs(apart[1:]).max() < 5


def test_heads_have_a_hard_shell_around_marrow(pelvis_patient: Phantom) -> None:
    hu = numbers(pelvis_patient, "Femur_Head_L")
    assert (hu > 700).mean() > 0.05
    assert (hu < 500).mean() > 0.4
