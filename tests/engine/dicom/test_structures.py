"""Volumes from RT Structure Sets, good and hostile."""

from __future__ import annotations

import numpy as np
import pydicom
import pytest
from pydicom.charset import default_encoding
from pydicom.dataelem import RawDataElement
from pydicom.tag import Tag

from engine import compute
from engine.base.errors import InputError
from engine.dicom.common import save_file
from engine.dicom.structure_file import structures_dataset
from engine.dicom.structures import ReadStructures, read_structures
from engine.space.point import NamedPoint
from tests.support.dicom_files import ct_folder, planned_case, spoil


@pytest.fixture
def case():
    return planned_case()


@pytest.fixture
def path(case, tmp_path):
    save_file(structures_dataset(case, "Label"), tmp_path / "RS.dcm")
    return tmp_path / "RS.dcm"


def read(path, case):
    return read_structures(ReadStructures(str(path), case.image))


def same_planes(got, want):
    """Whether planes agree but for those at the ends where a volume is too faint to have an outline."""
    solid = {t.plane for t in want.tiles if t.alpha.max() == 255}
    return solid <= set(got.planes) <= set(want.planes)


def test_volumes_come_back(case, path):
    found = compute.run(ReadStructures(str(path), case.image))
    assert [v.name for v in found] == ["Body", "PTV", "SpinalCord"]
    assert found.notes == ()
    assert found.numbers == (1, 2, 3)
    assert found.patient == case.patient
    for got, want in zip(found, case.volumes):
        assert (got.role, got.colour) == (want.role, want.colour)
        assert same_planes(got.coverage, want.coverage)
        assert got.original
        a, b = got.coverage.dense().astype(int), want.coverage.dense().astype(int)
        inside, outside = b == 255, b == 0
        assert (a[inside] > 200).all()
        assert (a[outside] < 60).all()
        assert got.coverage.centroid_mm() == pytest.approx(want.coverage.centroid_mm(), abs=0.05)


def test_without_an_image_a_grid_is_made(case, path):
    found = read_structures(ReadStructures(str(path)))
    assert found.grid.spacing_mm == (1.0, 1.0, 5.0)
    ptv = found.volumes[1].coverage
    assert ptv.centroid_mm() == pytest.approx((0, 0, 0), abs=0.05)
    on_image = read(path, case).volumes[1].coverage.volume_cm3
    assert ptv.volume_cm3 == pytest.approx(on_image, rel=0.005)


def test_another_frame_of_reference_is_refused(case, path):
    other = case.image.but(frame_of_reference_uid="1.2.3")
    with pytest.raises(InputError, match="another frame of reference"):
        read_structures(ReadStructures(str(path), other))
    with pytest.raises(InputError, match="no frame of reference"):
        read_structures(ReadStructures(str(path), case.image.but(frame_of_reference_uid="")))


def test_one_region_of_another_frame_is_left_out_and_said(case, path):
    spoil(path, lambda d: setattr(d.StructureSetROISequence[2], "ReferencedFrameOfReferenceUID", "1.2.3"))
    found = read(path, case)
    assert len(found) == 2
    assert any("SpinalCord" in n and "another frame" in n for n in found.notes)


def shifted(roi, dz, only=None):
    def change(d):
        for i, c in enumerate(d.ROIContourSequence[roi].ContourSequence):
            if only is None or i == only:
                data = np.array(c.ContourData, dtype=float).reshape(-1, 3)
                c.ContourData = (data + (0, 0, dz)).ravel().round(3).tolist()

    return change


def test_contours_off_plane_are_left_out_with_the_place(case, path):
    spoil(path, shifted(1, 1.3, only=2))
    found = read(path, case)
    assert [v.name for v in found] == ["Body", "SpinalCord"]
    assert any("PTV" in n and "1.30 mm" in n for n in found.notes)


def test_contours_slightly_off_plane_belong_to_it(case, path):
    spoil(path, shifted(1, 0.3))
    found = read(path, case)
    assert len(found) == 3
    assert same_planes(found.volumes[1].coverage, case.volumes[1].coverage)
    assert found.volumes[1].original[0].points_mm[0, 2] % 5 == pytest.approx(0.3), "what came in is kept"


def test_if_nothing_fits_it_is_refused(case, path):
    def change(d):
        for k in range(3):
            shifted(k, 1.3)(d)

    spoil(path, change)
    with pytest.raises(InputError, match="none of its volumes fits"):
        read(path, case)


def test_contours_beyond_the_image_are_said(case, path):
    def change(d):
        shifted(1, 70)(d)
        c = d.ROIContourSequence[2].ContourSequence[0]
        c.ContourData = [0, 0, 500, 1, 0, 500, 0, 1, 500]
        c.NumberOfContourPoints = 3

    spoil(path, change)
    found = read(path, case)
    assert [v.name for v in found] == ["Body", "SpinalCord"]
    assert any("PTV" in n and "above or below" in n for n in found.notes)
    assert any("SpinalCord: 1 contours" in n for n in found.notes)


def test_a_volume_cut_by_the_image_says_how_much(case, path):
    def change(d):
        for c in d.ROIContourSequence[1].ContourSequence:
            data = np.array(c.ContourData, dtype=float).reshape(-1, 3)
            c.ContourData = (data + (60, 0, 0)).ravel().round(3).tolist()

    spoil(path, change)
    assert any("PTV" in n and "cut off" in n for n in read(path, case).notes)


def test_points_are_not_regions(case, path):
    def change(d):
        for c in d.ROIContourSequence[2].ContourSequence:
            c.ContourGeometricType = "POINT"
            c.ContourData, c.NumberOfContourPoints = [0, 0, 0], 1

    spoil(path, change)
    found = read(path, case)
    assert [v.name for v in found] == ["Body", "PTV"]
    assert found.points == (NamedPoint("SpinalCord", (0, 0, 0), "ORGAN"),), "many contours of one place are one point"


@pytest.mark.parametrize(
    ("data", "count", "words"),
    [([0, 0, 0, 1], 1, "no list of x, y, z"), ([0, 0, 0, 1, 0, 0], 3, "says it has 3 points and has 2")],
)
def test_broken_contours_are_refused(case, path, data, count, words):
    def change(d):
        c = d.ROIContourSequence[1].ContourSequence[0]
        c.ContourData, c.NumberOfContourPoints = data, count

    spoil(path, change)
    with pytest.raises(InputError, match=words):
        read(path, case)


def test_text_in_a_contour_is_refused(case, path):
    raw = path.read_bytes()
    first = pydicom.dcmread(path).ROIContourSequence[0].ContourSequence[0].ContourData[0]
    path.write_bytes(raw.replace(str(first).encode(), b"x" * len(str(first)), 1))
    with pytest.raises(InputError, match="not a number"):
        read(path, case)


def test_two_regions_of_one_number_are_refused(case, path):
    spoil(path, lambda d: setattr(d.StructureSetROISequence[1], "ROINumber", 1))
    with pytest.raises(InputError, match="share the number 1"):
        read(path, case)


def test_two_regions_of_one_name_are_fine(case, path):
    spoil(path, lambda d: setattr(d.StructureSetROISequence[1], "ROIName", "Body"))
    assert [v.name for v in read(path, case)] == ["Body", "Body", "SpinalCord"]


def test_density_overrides_come_in_and_others_are_said(case, path):
    def change(d):
        for k, kind in ((1, "REL_MASS_DENSITY"), (2, "REL_ELEC_DENSITY")):
            fact = pydicom.Dataset()
            fact.ROIPhysicalProperty, fact.ROIPhysicalPropertyValue = kind, 1.2
            d.RTROIObservationsSequence[k].ROIPhysicalPropertiesSequence = [fact]

    spoil(path, change)
    found = read(path, case)
    assert [v.density_g_cm3 for v in found] == [None, 1.2, None]
    assert any("REL_ELEC_DENSITY" in n for n in found.notes)


def test_missing_observations_and_colours_are_no_obstacle(case, path):
    def change(d):
        del d.RTROIObservationsSequence
        for item in d.ROIContourSequence:
            del item.ROIDisplayColor

    spoil(path, change)
    found = read(path, case)
    assert {v.role for v in found} == {"OTHER"}
    assert len({v.colour for v in found}) == 3


def test_a_ct_is_not_a_structure_set(case, tmp_path):
    ct_folder(tmp_path)
    with pytest.raises(InputError, match="CT Image Storage, not a RT Structure Set"):
        read(tmp_path / "CT001.dcm", case)


@pytest.mark.parametrize("keep", [0.2, 0.6, 0.95])
def test_a_cut_off_file_is_refused(case, path, keep):
    raw = path.read_bytes()
    path.write_bytes(raw[: int(keep * len(raw))])
    with pytest.raises(InputError):
        read(path, case)


def loop(z, half=20.0, way=1):
    """A square of corners (n, 3), clockwise or not."""
    return (np.array([(-1, -1, 0), (1, -1, 0), (1, 1, 0), (-1, 1, 0)], float) * half + (0, 0, z))[::way]


def drawn(roi, *loops, kind="CLOSED_PLANAR"):
    """Put other contours in the place of a region's."""

    def change(d):
        found = []
        for points in loops:
            c = pydicom.Dataset()
            c.ContourGeometricType = kind
            c.NumberOfContourPoints, c.ContourData = len(points), np.asarray(points, float).ravel().tolist()
            found.append(c)
        d.ROIContourSequence[roi].ContourSequence = found

    return change


def spinal(path, case):
    return next(v for v in read(path, case) if v.name == "SpinalCord")


def plane(case, z):
    return case.image.grid.plane_at(z)


FULL_CM3, INNER_CM3 = 40 * 40 * 5 / 1000, 20 * 20 * 5 / 1000


@pytest.mark.parametrize("way", [1, -1])
@pytest.mark.parametrize("inner_way", [1, -1])
@pytest.mark.parametrize("kind", ["CLOSED_PLANAR", "CLOSEDPLANAR_XOR"])
def test_which_way_lines_run_means_nothing(case, path, way, inner_way, kind):
    spoil(path, drawn(2, loop(0, way=way), loop(0, 10, inner_way), kind=kind))
    assert spinal(path, case).coverage.volume_cm3 == pytest.approx(FULL_CM3 - INNER_CM3, rel=1e-3)


def test_a_keyhole_is_a_hole(case, path):
    outer, inner = loop(0), loop(0, 10)
    spoil(path, drawn(2, np.concatenate((outer, outer[:1], inner[:1], inner[::-1], outer[:1]))))
    assert spinal(path, case).coverage.volume_cm3 == pytest.approx(FULL_CM3 - INNER_CM3, rel=1e-3)


def test_closing_and_doubled_points_add_nothing(case, path):
    points = np.repeat(loop(0), 3, axis=0)
    spoil(path, drawn(2, np.concatenate((points, points[:1]))))
    assert spinal(path, case).coverage.volume_cm3 == pytest.approx(FULL_CM3, rel=1e-3)


def test_a_contour_that_is_there_twice_counts_once_and_not_as_nothing(case, path):
    spoil(path, drawn(2, loop(0), loop(5), loop(0)))
    found = read(path, case)
    assert any(n == "SpinalCord: 1 contour is there twice; it counts once" for n in found.notes)
    cord = spinal(path, case)
    assert cord.coverage.volume_cm3 == pytest.approx(2 * FULL_CM3, rel=1e-3)
    assert len(cord.original) == 2
    spoil(path, drawn(2, loop(0), loop(0), loop(5), kind="CLOSEDPLANAR_XOR"))
    assert spinal(path, case).coverage.planes == (plane(case, 5),), "by its own definition an XOR contour undoes its twin"


def test_contours_at_several_heights_of_one_slice_do_not_undo_each_other(case, path):
    spoil(path, drawn(2, loop(0.1), loop(-0.3, 10), loop(0.5, 15), loop(5)))
    found = read(path, case)
    assert any("SpinalCord: 1 slice holds contours at several heights" in n for n in found.notes)
    assert spinal(path, case).coverage.volume_cm3 == pytest.approx(2 * FULL_CM3, rel=1e-3)


def test_missing_slices_stay_missing(case, path):
    spoil(path, drawn(2, loop(-5), loop(5)))
    assert spinal(path, case).coverage.planes == (plane(case, -5), plane(case, 5))


def test_contours_of_fewer_than_three_points_are_told(case, path):
    spoil(path, drawn(2, loop(0), loop(5)[:2], loop(0)[:1]))
    assert any("SpinalCord: 2 contours of fewer than three points" in n for n in read(path, case).notes)
    assert spinal(path, case).coverage.planes == (plane(case, 0),)


@pytest.mark.parametrize("number", ["nan", "inf", "-1e999", "1" * 80, "12,5", "1 2"])
def test_numbers_that_are_none_are_refused(case, path, number):
    text = "\\".join([number, *("0" for _ in range(8))]).encode()
    text += b" " * (len(text) % 2)

    def change(d):
        contour = d.ROIContourSequence[2].ContourSequence[0]
        contour.NumberOfContourPoints = 3
        contour[0x30060050] = RawDataElement(Tag(0x30060050), "DS", len(text), text, 0, True, True)
        contour.set_original_encoding(True, True, default_encoding)

    spoil(path, change)
    with pytest.raises(InputError, match=r"not a number|no list of x, y, z"):
        read(path, case)


def test_open_lines_are_left_out_and_said(case, path):
    spoil(path, drawn(2, [(0, 0, 0), (9, 9, 0)], kind="OPEN_PLANAR"))
    assert read(path, case).notes == ("SpinalCord: points and open lines are not regions; left out",)


def test_a_marker_with_an_outline_is_a_region(case, path):
    spoil(path, lambda d: setattr(d.RTROIObservationsSequence[2], "RTROIInterpretedType", "MARKER"))
    assert (spinal(path, case).role, spinal(path, case).coverage.is_empty) == ("OTHER", False)


def test_an_unknown_type_is_told(case, path):
    spoil(path, lambda d: setattr(d.RTROIObservationsSequence[2], "RTROIInterpretedType", "CAVITY"))
    found = read(path, case)
    assert any("SpinalCord: its type CAVITY has no role here" in n for n in found.notes)
    assert found.volumes[2].role == "OTHER"


@pytest.mark.parametrize(("name", "shown"), [("  ", "ROI 3"), ("", "ROI 3"), ("A\nb", "A b")])
def test_names_that_are_none(case, path, name, shown):
    spoil(path, lambda d: setattr(d.StructureSetROISequence[2], "ROIName", name))
    assert read(path, case).volumes[2].name == shown


@pytest.mark.filterwarnings("ignore:The value length")
def test_a_name_too_long_is_cut_and_told(case, path):
    spoil(path, lambda d: setattr(d.StructureSetROISequence[2], "ROIName", "x" * 70))
    found = read(path, case)
    assert found.volumes[2].name == "x" * 64
    assert any("longer than 64 characters" in n for n in found.notes)


def test_a_region_without_a_frame_lies_in_the_only_one_of_the_file(case, path):
    spoil(path, lambda d: delattr(d.StructureSetROISequence[2], "ReferencedFrameOfReferenceUID"))
    assert len(read(path, case)) == 3


def test_a_set_drawn_on_another_series_of_the_frame_is_told(case, path):
    series = "ReferencedFrameOfReferenceSequence", "RTReferencedStudySequence", "RTReferencedSeriesSequence"

    def change(d):
        for name in series:
            d = getattr(d, name)[0]
        d.SeriesInstanceUID = "1.2.3"

    spoil(path, change)
    found = read(path, case)
    assert len(found) == 3
    assert any("another series of the same frame" in n for n in found.notes)


@pytest.mark.parametrize("far", [1e5, 1e15])
def test_a_point_far_away_costs_one_volume_and_no_memory(case, path, far):
    points = loop(0)
    points[2, :2] = far
    spoil(path, drawn(2, points, loop(5)))
    found = read(path, case)
    assert [v.name for v in found] == ["Body", "PTV"]
    assert any("SpinalCord" in n and "m away from the image" in n for n in found.notes)
    with pytest.raises(InputError, match="m apart"):
        read_structures(ReadStructures(str(path)))
