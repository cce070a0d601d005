"""Brain, stem, eyes and optic pathway. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import centre, gap_mm, in_range, median_in_range, numbers

pytestmark = pytest.mark.slow


def test_sizes(head_patient: Phantom) -> None:
    sizes = (
        ("Brain", 1200, 1500), ("Brainstem", 20, 32), ("Eye_L", 7, 9), ("Eye_R", 7, 9), ("Lens_L", 0.1, 0.35),
        ("Lens_R", 0.1, 0.35), ("OpticNrv_L", 0.4, 1.2), ("OpticNrv_R", 0.4, 1.2), ("OpticChiasm", 0.2, 1.0),
        ("Pituitary", 0.2, 0.8),
    )  # fmt: skip
    assert not in_range(head_patient, sizes)


def test_numbers(head_patient: Phantom) -> None:
    tissues = (
        ("Brain", 24, 40), ("Brainstem", 26, 36), ("Eye_L", 4, 25), ("Eye_R", 4, 25), ("Lens_L", 70, 120),
        ("Lens_R", 70, 120), ("OpticChiasm", 28, 50), ("OpticNrv_L", 25, 50),
    )  # fmt: skip
    assert not median_in_range(head_patient, tissues)


def test_brain_shows_fluid_and_two_kinds_of_matter(head_patient: Phantom) -> None:
    hu = numbers(head_patient, "Brain")
    assert 0.03 < (hu < 15).mean() < 0.25
    assert np.percentile(hu, 75) - np.percentile(hu, 25) > 6


def test_optic_pathway_hangs_together(head_patient: Phantom) -> None:
    for side in ("L", "R"):
        assert gap_mm(head_patient, f"OpticNrv_{side}", f"Eye_{side}") < 3.2
        assert gap_mm(head_patient, f"OpticNrv_{side}", "OpticChiasm") < 3.2
        assert centre(head_patient, f"Lens_{side}")[1] < centre(head_patient, f"Eye_{side}")[1]
    assert centre(head_patient, "Eye_L")[1] < centre(head_patient, "OpticChiasm")[1] < centre(head_patient, "Brainstem")[1]
    assert gap_mm(head_patient, "Brainstem", "SpinalCord") < 3.5
