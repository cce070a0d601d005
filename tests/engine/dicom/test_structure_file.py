"""RT Structure Sets as others would read them."""

from __future__ import annotations

import numpy as np
import pydicom
import pytest
from pydicom.charset import default_encoding
from pydicom.dataelem import RawDataElement
from pydicom.tag import Tag
from scipy.spatial import cKDTree

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.case import edits
from engine.case.case import Case
from engine.case.release import released
from engine.dicom.common import save_file
from engine.dicom.structure_file import structures_dataset, structures_uid
from engine.dicom.structures import ReadStructures, read_structures
from engine.store.case_file import CaseFile
from engine.volumes.coverage import Coverage
from engine.volumes.outline import tile_outlines
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
    # The checker is older than this term of C.8.8.6, and finds nothing else.
    assert {e.rpartition(" of attribute ")[0].rpartition(": ")[2] for e in checker_errors([path], tmp_path)} <= {
        "Error - Unrecognized enumerated value <CLOSEDPLANAR_XOR> for value 1"
    }
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


def contour_bytes(path, roi):
    """Return the very bytes of a region's Contour Data, item by item."""
    items = pydicom.dcmread(path).ROIContourSequence[roi].ContourSequence
    return [item.get_item("ContourData").value for item in items]


STYLES = {
    "two decimals": lambda v: f"{v:.2f}",
    "six decimals": lambda v: f"{v:.6f}",
    "padded": lambda v: f" {v:.3f} ",
    "signed": lambda v: f"{v:+.3f}",
    "powers of ten": lambda v: f"{v:.8e}",
    "as long as allowed": lambda v: f"{v:.16f}"[:16],
}


@pytest.mark.parametrize("style", STYLES)
def test_contour_data_of_any_style_leave_byte_by_byte(tmp_path, style):
    case = planned_case()
    path = written(case, tmp_path)
    d = pydicom.dcmread(path)
    for item in d.ROIContourSequence[1].ContourSequence:
        numbers = [float(v) / 3 if i % 3 < 2 else float(v) for i, v in enumerate(item.ContourData)]
        text = "\\".join(map(STYLES[style], numbers)).encode()
        text += b" " * (len(text) % 2)
        item[0x30060050] = RawDataElement(Tag(0x30060050), "DS", len(text), text, 0, True, True)
        item.set_original_encoding(True, True, default_encoding)
    d.save_as(path)
    came = read_structures(ReadStructures(str(path), case.image))
    CaseFile.create(tmp_path / "kept.halfshade", case.but(volumes=came.volumes)).close()
    with CaseFile.open(tmp_path / "kept.halfshade") as file:
        again = written(file.case(), tmp_path, "again.dcm")
    if style == "padded":  # blanks around the whole have no meaning and go
        assert [t.strip() for t in contour_bytes(again, 1)] == [t.strip() for t in contour_bytes(path, 1)]
    else:
        assert contour_bytes(again, 1) == contour_bytes(path, 1)
    assert checker_errors([again], tmp_path) == []


def test_numbers_longer_than_allowed_leave_shorter(tmp_path):
    case = planned_case()
    points = np.array([(-10.123456789012345, -10, 0), (20, -10, 0), (1, 12, 0)])
    line = Contour(frozen_array(points), "\\".join(f"{v:.15f}" for v in points.ravel()))
    volume = Volume("v", "Long", "OAR", (9, 9, 9), Coverage(GRID), original=(line,))
    path = written(edits.with_volume(case, volume), tmp_path)
    (text,) = contour_bytes(path, 3)
    assert max(map(len, text.strip().split(b"\\"))) <= 16
    assert np.array(text.split(b"\\"), dtype=float) == pytest.approx(points.ravel(), abs=1e-10)


def shapes() -> dict[str, np.ndarray]:
    """Smooth shapes as coverage of one slice, by subsampling each pixel, on GRID."""
    n = 16
    step = (np.arange(n) + 0.5) / n - 0.5
    rows = (np.arange(GRID.shape[1])[:, None] + step).ravel()
    columns = (np.arange(GRID.shape[2])[:, None] + step).ravel()
    y, x = np.meshgrid(rows - 20.3, columns - 19.6, indexing="ij")
    r = np.hypot(x, y)
    made = {
        "disc": r < 12.3,
        "ellipse": (x / 14.2) ** 2 + (y / 8.4) ** 2 < 1,
        "ring": (r < 15.1) & (r > 7.2),
        "lobes": r < 11 + 2 * np.cos(3 * np.arctan2(y, x)),
    }
    return {
        name: np.round(255 * m.reshape(GRID.shape[1], n, GRID.shape[2], n).mean(axis=(1, 3))).astype(np.uint8)
        for name, m in made.items()
    }


@pytest.mark.parametrize("name", ["disc", "ellipse", "ring", "lobes"])
def test_lines_come_back_within_a_twentieth_of_a_pixel(tmp_path, name):
    """Coverage -> file -> coverage: the outline seen afterwards against the one seen before."""
    case = planned_case()
    dense = np.zeros(GRID.shape, np.uint8)
    dense[5:8] = shapes()[name]
    before = Coverage.from_dense(GRID, dense)
    path = written(edits.with_volume(case, Volume("v", "Shape", "OTHER", (9, 9, 9), before)), tmp_path)
    after = read_structures(ReadStructures(str(path), case.image)).volumes[3].coverage
    assert after.planes == before.planes
    tree = cKDTree(fine(tile_outlines(before.tile(6))))
    assert tree.query(fine(tile_outlines(after.tile(6))))[0].max() < 0.05
    # Chords lie inside a curve: h^2 / (6 R^2) of the area for a step h of about a pixel and radii from 8 pixels on.
    assert after.volume_cm3 == pytest.approx(before.volume_cm3, rel=0.003)


def fine(loops):
    """Return points along closed lines, a hundredth of a pixel apart or less."""
    share = np.linspace(0, 1, 150, endpoint=False)[:, None, None]
    return np.concatenate([(p + share * (np.roll(p, -1, axis=0) - p)).reshape(-1, 2) for p in loops])
