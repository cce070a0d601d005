"""RT Structure Sets as others would read them."""

from __future__ import annotations

import numpy as np
import pydicom
import pytest

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.case import edits
from engine.case.case import Case
from engine.case.release import released
from engine.dicom.common import save_file
from engine.dicom.structure_file import structures_dataset, structures_uid
from engine.dicom.structures import ReadStructures, read_structures
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Contour, Volume
from tests.support.cases import GRID
from tests.support.dicom_files import checker_errors, planned_case


def written(case, tmp_path, name="RS.dcm"):
    save_file(structures_dataset(case, "Label"), tmp_path / name)
    return tmp_path / name


def ring_case() -> Case:
    """A case with a ring (a hole in the middle) on three planes."""
    case = planned_case()
    y, x = np.meshgrid(GRID.y_mm, GRID.x_mm, indexing="ij")
    r = np.hypot(x, y)
    dense = np.zeros(GRID.shape, bool)
    dense[5:8] = (r < 40) & (r > 20)
    return edits.with_volume(case, Volume("ring", "Ring", "PRV", (1, 2, 3), Coverage.from_dense(GRID, dense), note="made"))


def test_what_the_file_says(tmp_path):
    case = edits.with_volume(planned_case(), planned_case().volumes[2].but(density_g_cm3=1.05))
    d = pydicom.dcmread(written(case, tmp_path))
    assert d.Modality == "RTSTRUCT"
    assert d.SOPInstanceUID == structures_uid(case)
    assert [r.ROIName for r in d.StructureSetROISequence] == ["Body", "PTV", "SpinalCord"]
    assert [o.RTROIInterpretedType for o in d.RTROIObservationsSequence] == ["EXTERNAL", "PTV", "ORGAN"]
    assert {r.ReferencedFrameOfReferenceUID for r in d.StructureSetROISequence} == {case.image.frame_of_reference_uid}
    assert list(d.ROIContourSequence[1].ROIDisplayColor) == list(case.volumes[1].colour)
    fact = d.RTROIObservationsSequence[2].ROIPhysicalPropertiesSequence[0]
    assert (fact.ROIPhysicalProperty, float(fact.ROIPhysicalPropertyValue)) == ("REL_MASS_DENSITY", 1.05)
    for contour in d.ROIContourSequence[1].ContourSequence:
        z = float(contour.ContourData[2])
        plane = case.image.grid.plane_at(z)
        assert contour.ContourImageSequence[0].ReferencedSOPInstanceUID == case.image.sop_uids[plane]
        assert len(contour.ContourData) == 3 * contour.NumberOfContourPoints


def test_no_decimal_string_is_longer_than_sixteen(tmp_path):
    raw = written(ring_case(), tmp_path).read_bytes()
    longest = max(len(t) for t in raw.split(b"\\") if t.replace(b".", b"").replace(b"-", b"").isdigit())
    assert longest <= 16


def test_a_hole_leaves_as_a_keyhole(tmp_path):
    case = ring_case()
    path = written(case, tmp_path)
    contours = pydicom.dcmread(path).ROIContourSequence[3].ContourSequence
    assert len(contours) == 3
    assert {c.ContourGeometricType for c in contours} == {"CLOSED_PLANAR"}
    ring = read_structures(ReadStructures(str(path), case.image)).volumes[3]
    wanted = case.volumes[3]
    assert ring.coverage.volume_cm3 == pytest.approx(wanted.coverage.volume_cm3, rel=0.01)
    middle = ring.coverage.slice(6)[21, 21]
    assert middle == 0
    assert (ring.role, ring.note) == ("PRV", "made")


def test_contours_that_came_in_leave_as_they_came(tmp_path):
    case = planned_case()
    points = np.array([(-10.123456789, -10, 0), (20.1, -10.00000001, 0), (1e-05, 12.3456789012345, 0)])
    volume = Volume("v", "As it came", "OAR", (9, 9, 9), Coverage(GRID), original=(Contour(frozen_array(points)),))
    first = written(edits.with_volume(case, volume), tmp_path)
    came = read_structures(ReadStructures(str(first), case.image)).volumes[3]
    assert np.allclose(came.original[0].points_mm, points, atol=1e-9)
    second = written(case.but(volumes=(came,)), tmp_path, "second.dcm")
    again = read_structures(ReadStructures(str(second), case.image)).volumes[0]
    assert np.array_equal(again.original[0].points_mm, came.original[0].points_mm)
    edited = came.with_coverage(came.coverage)
    assert edited.original == ()


def test_nested_contours_that_came_in_say_how_they_were_read(tmp_path):
    case = planned_case()
    outer = np.array([(-20, -20, 0), (20, -20, 0), (20, 20, 0), (-20, 20, 0)], dtype=float)
    loops = (Contour(frozen_array(outer)), Contour(frozen_array(outer * (0.5, 0.5, 1))))
    volume = Volume("v", "Nested", "OAR", (9, 9, 9), Coverage(GRID), original=loops)
    path = written(edits.with_volume(case, volume), tmp_path)
    contours = pydicom.dcmread(path).ROIContourSequence[3].ContourSequence
    assert {c.ContourGeometricType for c in contours} == {"CLOSEDPLANAR_XOR"}
    back = read_structures(ReadStructures(str(path), case.image)).volumes[3]
    assert back.coverage.volume_cm3 == pytest.approx((40 * 40 - 20 * 20) * 5 / 1000, rel=0.01)


def test_the_outside_checker_finds_no_error(tmp_path):
    assert checker_errors([written(ring_case(), tmp_path)], tmp_path) == []


def test_an_empty_volume_is_written_without_contours(tmp_path):
    case = planned_case()
    case = edits.with_volume(case, Volume("e", "Empty", "OTHER", (1, 1, 1), Coverage(GRID)))
    path = written(case, tmp_path)
    assert "ContourSequence" not in pydicom.dcmread(path).ROIContourSequence[3]
    assert read_structures(ReadStructures(str(path), case.image)).volumes[3].coverage.is_empty
    assert checker_errors([path], tmp_path) == []


def test_an_image_that_was_never_dicom_is_refused():
    with pytest.raises(InputError, match="never DICOM"):
        structures_dataset(planned_case(identified=False))


def test_the_identifier_follows_the_content():
    case = planned_case()
    assert structures_uid(case) == structures_uid(planned_case())
    renamed = edits.with_volume(case, case.volumes[1].but(name="PTV_60"))
    assert structures_uid(renamed) != structures_uid(case)


def test_released_volumes_leave_approved_and_others_without_a_word(tmp_path):
    case = planned_case()
    handed = released(case, "Example^Dana", "2026-03-04T10:20:30+00:00")
    path = written(handed, tmp_path)
    d = pydicom.dcmread(path)
    assert (d.ApprovalStatus, str(d.ReviewerName), d.ReviewDate) == ("APPROVED", "Example^Dana", "20260304")
    assert d.ReviewTime.startswith("102030")
    assert checker_errors([path], tmp_path) == []
    assert structures_uid(handed) != structures_uid(case)
    moved = edits.with_volume(handed, handed.volume("ptv").but(name="PTV_60"))
    assert "ApprovalStatus" not in pydicom.dcmread(written(moved, tmp_path, "moved.dcm"))
    assert "ApprovalStatus" not in pydicom.dcmread(written(case, tmp_path, "work.dcm"))
