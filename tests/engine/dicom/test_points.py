"""Named points in RT Structure Sets: what was written is read back, and others find a point where they look for one."""

from __future__ import annotations

import pydicom
import pytest

from engine.dicom.common import save_file
from engine.dicom.conform import problems_of
from engine.dicom.points import MOST, points_of
from engine.dicom.structure_file import roi_numbers, structures_dataset, structures_uid
from engine.dicom.structures import ReadStructures, read_structures
from engine.space.point import NamedPoint
from tests.engine.dicom.test_structures import drawn
from tests.support.dicom_files import checker_errors, planned_case, spoil

POINTS = (NamedPoint("BB", (1.5, -2.125, 3.0625), "MARKER"), NamedPoint("Iso", (0, 0, -7), "ISOCENTER"))


@pytest.fixture
def case():
    return planned_case().but(points=POINTS)


@pytest.fixture
def path(case, tmp_path):
    save_file(structures_dataset(case, "Label"), tmp_path / "RS.dcm")
    return tmp_path / "RS.dcm"


def test_points_go_and_come(case, path):
    found = read_structures(ReadStructures(str(path), case.image))
    assert found.points == POINTS
    assert [v.name for v in found.volumes] == [v.name for v in case.volumes]
    assert found.notes == ()


def test_points_stand_behind_the_volumes_and_the_file_conforms(case, path, tmp_path):
    d = pydicom.dcmread(path)
    numbers = [int(r.ROINumber) for r in d.StructureSetROISequence]
    assert numbers == [*roi_numbers(case).values(), 4, 5]
    contour = d.ROIContourSequence[3].ContourSequence[0]
    assert (contour.ContourGeometricType, contour.NumberOfContourPoints) == ("POINT", 1)
    assert [float(v) for v in contour.ContourData] == [1.5, -2.125, 3.0625]
    assert [o.RTROIInterpretedType for o in d.RTROIObservationsSequence][3:] == ["MARKER", "ISOCENTER"]
    assert problems_of(d) == ()
    assert checker_errors([path], tmp_path) == []


def test_a_set_with_points_is_another_one_and_without_has_the_identifier_it_had(case):
    plain = planned_case()
    assert structures_uid(case) != structures_uid(plain)
    assert structures_uid(plain.but(points=())) == structures_uid(plain)


def test_what_a_region_calls_itself_need_not_be_a_kind_of_point(tmp_path):
    case = planned_case().but(points=(NamedPoint("A", (0, 0, 0), "ORGAN"), NamedPoint("B", (0, 0, 5))))
    save_file(structures_dataset(case), tmp_path / "RS.dcm")
    d = pydicom.dcmread(tmp_path / "RS.dcm")
    assert [o.RTROIInterpretedType for o in d.RTROIObservationsSequence][3:] == ["MARKER", "MARKER"]


def test_points_of_one_region_are_numbered_within_the_length_of_a_name():
    notes: list[str] = []
    found = points_of("n" * 64, "MARKER", [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 0.0, 0.0)], notes)
    assert [p.name for p in found] == ["n" * 62 + " 1", "n" * 62 + " 2"]
    assert points_of("A", "", [(float(i), 0.0, 0.0) for i in range(MOST + 1)], notes) == ()
    assert len(notes) == 1


# sets of others


def drawn_on(tmp_path):
    """Write the set of a case without points."""
    save_file(structures_dataset(planned_case(), "Label"), tmp_path / "RS.dcm")
    return tmp_path / "RS.dcm"


def test_a_region_of_one_point_becomes_a_named_point(tmp_path):
    case, path = planned_case(), drawn_on(tmp_path)

    def change(d):
        drawn(2, [(1, -2, 3.25)], kind="POINT")(d)
        d.RTROIObservationsSequence[2].RTROIInterpretedType = "MARKER"

    spoil(path, change)
    found = read_structures(ReadStructures(str(path), case.image))
    assert found.points == (NamedPoint("SpinalCord", (1, -2, 3.25), "MARKER"),)
    assert [v.name for v in found.volumes] == ["Body", "PTV"]
    assert found.notes == ()


def test_a_cloud_of_points_is_no_list_of_markers(tmp_path):
    case, path = planned_case(), drawn_on(tmp_path)
    spoil(path, drawn(2, *([(i, 0, 0)] for i in range(21)), kind="POINT"))
    found = read_structures(ReadStructures(str(path), case.image))
    assert found.points == ()
    assert found.notes == ("SpinalCord: 21 points are no markers; left out",)


def test_several_points_of_a_region_are_told_apart_and_what_is_no_place_is_said(tmp_path):
    case, path = planned_case(), drawn_on(tmp_path)
    spoil(path, drawn(2, [(1, -2, 3.25)], [(1e6, 0, 0)], [(4, 5, 6)], kind="POINT"))
    found = read_structures(ReadStructures(str(path), case.image))
    assert [(p.name, p.place_mm) for p in found.points] == [("SpinalCord 1", (1, -2, 3.25)), ("SpinalCord 3", (4, 5, 6))]
    assert found.notes == ("SpinalCord: its place is not three numbers within 10 m; left out",)
