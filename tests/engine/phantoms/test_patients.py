"""What the three patients are made of. Ranges of organ size and CT number: common practice unless said."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom

pytestmark = pytest.mark.slow


def cm3(phantom: Phantom, name: str) -> float:
    return phantom.volume(name).coverage.volume_cm3


def numbers(phantom: Phantom, name: str) -> np.ndarray:
    return phantom.image.hu[phantom.volume(name).coverage.dense() == 255]


def centre(phantom: Phantom, name: str) -> np.ndarray:
    return np.array(phantom.volume(name).coverage.centroid_mm())


def gap_mm(phantom: Phantom, a: str, b: str) -> float:
    """Return the least distance between the voxels of two volumes."""
    from scipy.spatial import cKDTree

    grid = phantom.image.grid
    p, q = (grid.point(np.argwhere(phantom.volume(n).coverage.dense() > 127).astype(float)) for n in (a, b))
    return float(cKDTree(p).query(q)[0].min())


SIZES = (
    ("thorax", "Lung_L", 1200, 2800), ("thorax", "Lung_R", 1200, 2800), ("thorax", "Heart", 500, 800),
    ("thorax", "GTV", 10, 60), ("thorax", "Esophagus", 20, 60), ("thorax", "SpinalCord", 10, 40), ("thorax", "Trachea", 20, 60),
    ("head", "Brain", 1200, 1500), ("head", "Brainstem", 20, 32), ("head", "Eye_L", 7, 9), ("head", "Eye_R", 7, 9),
    ("head", "Lens_L", 0.1, 0.35), ("head", "Lens_R", 0.1, 0.35), ("head", "OpticNrv_L", 0.4, 1.2),
    ("head", "OpticNrv_R", 0.4, 1.2), ("head", "OpticChiasm", 0.2, 1.0), ("head", "Parotid_L", 12, 35),
    ("head", "Parotid_R", 12, 35), ("head", "Pituitary", 0.2, 0.8), ("head", "GTV", 4, 20),
    ("pelvis", "Prostate", 35, 60), ("pelvis", "SeminalVes", 5, 18), ("pelvis", "Bladder", 150, 300),
    ("pelvis", "Rectum", 60, 100), ("pelvis", "Femur_Head_L", 45, 90), ("pelvis", "Femur_Head_R", 45, 90),
    ("pelvis", "PenileBulb", 3, 8), ("pelvis", "Bowel_Small", 100, 600),
)  # fmt: skip


@pytest.mark.parametrize(("site", "name", "least", "most"), SIZES)
def test_organs_have_the_size_of_organs(
    site: str, name: str, least: float, most: float, request: pytest.FixtureRequest
) -> None:
    phantom = request.getfixturevalue(f"{site}_patient")
    assert least <= cm3(phantom, name) <= most


TISSUES = (
    ("thorax", "Heart", 35, 60), ("thorax", "GTV", 20, 55), ("thorax", "SpinalCord", 30, 50), ("thorax", "Lung_L", -880, -780),
    ("head", "Brainstem", 26, 36), ("head", "Brain", 24, 40), ("head", "Eye_L", 4, 25), ("head", "Eye_R", 4, 25),
    ("head", "Lens_L", 70, 120), ("head", "SpinalCord", 30, 50), ("head", "OpticChiasm", 28, 50), ("head", "GTV", 45, 65),
    ("pelvis", "Bladder", -5, 15), ("pelvis", "Prostate", 33, 55), ("pelvis", "Femur_Head_L", 200, 600),
    ("pelvis", "PenileBulb", 35, 55),
)  # fmt: skip


@pytest.mark.parametrize(("site", "name", "least", "most"), TISSUES)
def test_organs_have_the_numbers_of_their_tissue(
    site: str, name: str, least: float, most: float, request: pytest.FixtureRequest
) -> None:
    phantom = request.getfixturevalue(f"{site}_patient")
    assert least <= np.median(numbers(phantom, name)) <= most


def test_chest_tumour_lies_beside_the_spine_on_the_right(thorax_patient: Phantom) -> None:
    assert centre(thorax_patient, "GTV")[0] < 0
    assert 10 < gap_mm(thorax_patient, "GTV", "SpinalCord") < 50
    assert centre(thorax_patient, "Heart")[0] > 0, "the heart points to the left"
    assert cm3(thorax_patient, "Lung_R") > cm3(thorax_patient, "Lung_L"), "the heart takes room from the left lung"


def test_lungs_less_tumour_is_what_it_says(thorax_patient: Phantom) -> None:
    both, gtv = thorax_patient.volume("Lungs-GTV").coverage, thorax_patient.volume("GTV").coverage
    assert not ((both.dense() > 200) & (gtv.dense() > 200)).any()
    left, right = (thorax_patient.volume(n).coverage.dense() for n in ("Lung_L", "Lung_R"))
    assert not ((left > 127) & (right > 127)).any()
    assert both.volume_cm3 == pytest.approx(
        cm3(thorax_patient, "Lung_L") + cm3(thorax_patient, "Lung_R") - cm3(thorax_patient, "GTV"), rel=0.01
    )


def test_lung_holds_vessels_and_airways(thorax_patient: Phantom) -> None:
    hu = numbers(thorax_patient, "Lung_R")
    assert 0.01 < (hu > -300).mean() < 0.12
    assert (hu < -940).any()


def test_head_lesion_presses_on_stem_and_sight(head_patient: Phantom) -> None:
    assert centre(head_patient, "GTV")[0] > 0
    assert gap_mm(head_patient, "GTV", "Brainstem") < 10
    assert gap_mm(head_patient, "GTV", "OpticChiasm") < 15


def test_optic_pathway_hangs_together(head_patient: Phantom) -> None:
    for side in ("L", "R"):
        assert gap_mm(head_patient, f"OpticNrv_{side}", f"Eye_{side}") < 3.2
        assert gap_mm(head_patient, f"OpticNrv_{side}", "OpticChiasm") < 3.2
    assert centre(head_patient, "Eye_L")[1] < centre(head_patient, "OpticChiasm")[1] < centre(head_patient, "Brainstem")[1]


def test_head_has_teeth_skull_and_air(head_patient: Phantom) -> None:
    hu = head_patient.image.hu
    assert (hu > 1800).sum() * head_patient.image.grid.voxel_cm3 > 2.0
    body = head_patient.volume("Body").coverage.dense() == 255
    assert 20 < (body & (hu < -800)).sum() * head_patient.image.grid.voxel_cm3 < 300


def test_prostate_lies_between_bladder_and_rectum(pelvis_patient: Phantom) -> None:
    prostate, bladder, rectum = (centre(pelvis_patient, n) for n in ("Prostate", "Bladder", "Rectum"))
    assert prostate[1] < rectum[1], "the rectum lies behind"
    assert bladder[2] > prostate[2], "the bladder lies above"
    assert gap_mm(pelvis_patient, "Prostate", "Rectum") < 6
    assert gap_mm(pelvis_patient, "Prostate", "Bladder") < 5
    apart = centre(pelvis_patient, "Femur_Head_L") - centre(pelvis_patient, "Femur_Head_R")
    assert 150 < apart[0] < 210


def test_organs_do_not_share_room(pelvis_patient: Phantom) -> None:
    names = ("Prostate", "SeminalVes", "Rectum", "Bladder", "Femur_Head_L", "Femur_Head_R", "PenileBulb", "Bowel_Small")
    seen = np.zeros(pelvis_patient.image.grid.shape, dtype=np.uint8)
    for name in names:
        seen += pelvis_patient.volume(name).coverage.dense() > 160
    assert seen.max() == 1


def test_rectum_holds_gas_within_a_wall(pelvis_patient: Phantom) -> None:
    hu = numbers(pelvis_patient, "Rectum")
    assert 0.02 < (hu < -700).mean() < 0.3
    assert (np.abs(hu - 35) < 35).mean() > 0.5
