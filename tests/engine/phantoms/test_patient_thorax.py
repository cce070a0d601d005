"""The chest as a whole. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import centre, cm3, gap_mm, in_range, median_in_range, numbers

pytestmark = pytest.mark.slow


def test_sizes_and_numbers(thorax_patient: Phantom) -> None:
    assert not in_range(thorax_patient, (("Lung_L", 1200, 2800), ("Lung_R", 1200, 2800), ("GTV", 10, 60)))
    assert not median_in_range(thorax_patient, (("GTV", 20, 55), ("Lung_L", -880, -780), ("Lung_R", -880, -780)))


def test_the_tumour_lies_beside_the_spine_on_the_right(thorax_patient: Phantom) -> None:
    assert centre(thorax_patient, "GTV")[0] < 0
    assert 10 < gap_mm(thorax_patient, "GTV", "SpinalCord") < 50
    assert cm3(thorax_patient, "Lung_R") > cm3(thorax_patient, "Lung_L"), "the heart takes room from the left lung"


def test_the_tumour_is_spiculated(thorax_patient: Phantom) -> None:
    gtv = thorax_patient.volume("GTV").coverage.dense() > 127
    grid = thorax_patient.image.grid
    points = grid.point(np.argwhere(gtv).astype(float))
    radius = np.linalg.norm(points - points.mean(axis=0), axis=1).max()
    ball = (3 * gtv.sum() * grid.voxel_cm3 * 1000 / (4 * np.pi)) ** (1 / 3)
    assert radius > 1.2 * ball, "no ball"
    ring = (
        (thorax_patient.volume("PTV").coverage.dense() > 127)
        & ~gtv
        & (thorax_patient.volume("Lung_R").coverage.dense() == 255)
    )
    assert (thorax_patient.image.hu[ring] > -350).mean() > 0.03, "strands run from the mass into the lung"


def test_lungs_less_tumour_is_what_it_says(thorax_patient: Phantom) -> None:
    both, gtv = thorax_patient.volume("Lungs-GTV").coverage, thorax_patient.volume("GTV").coverage
    assert not ((both.dense() > 200) & (gtv.dense() > 200)).any()
    left, right = (thorax_patient.volume(n).coverage.dense() for n in ("Lung_L", "Lung_R"))
    assert not ((left > 127) & (right > 127)).any()
    expected = cm3(thorax_patient, "Lung_L") + cm3(thorax_patient, "Lung_R") - cm3(thorax_patient, "GTV")
    assert both.volume_cm3 == pytest.approx(expected, rel=0.01)


def test_lung_holds_vessels_and_airways(thorax_patient: Phantom) -> None:
    hu = numbers(thorax_patient, "Lung_R")
    assert 0.01 < (hu > -300).mean() < 0.12
    assert (hu < -940).any()
