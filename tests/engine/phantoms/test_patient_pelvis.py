"""The pelvis as a whole. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import centre, cm3, gap_mm

pytestmark = pytest.mark.slow


def test_prostate_lies_between_bladder_and_rectum(pelvis_patient: Phantom) -> None:
    prostate, bladder, rectum = (centre(pelvis_patient, n) for n in ("Prostate", "Bladder", "Rectum"))
    assert prostate[1] < rectum[1], "the rectum lies behind"
    assert bladder[2] > prostate[2], "the bladder lies above"
    assert gap_mm(pelvis_patient, "Prostate", "Rectum") < 6
    assert gap_mm(pelvis_patient, "Prostate", "Bladder") < 5


def test_target_takes_in_the_near_vesicles_only(pelvis_patient: Phantom) -> None:
    target, prostate = cm3(pelvis_patient, "CTV"), cm3(pelvis_patient, "Prostate")
    assert prostate < target < prostate + cm3(pelvis_patient, "SeminalVes")


def test_organs_do_not_share_room(pelvis_patient: Phantom) -> None:
    names = ("Prostate", "SeminalVes", "Rectum", "Bladder", "Femur_Head_L", "Femur_Head_R", "PenileBulb", "Bowel_Small")
    seen = np.zeros(pelvis_patient.image.grid.shape, dtype=np.uint8)
    for name in names:
        seen += pelvis_patient.volume(name).coverage.dense() > 160
    assert seen.max() == 1
