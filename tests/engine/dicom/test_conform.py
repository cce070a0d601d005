"""The check of written files finds what is spoilt."""

from __future__ import annotations

import pydicom
import pytest
from pydicom.dataelem import RawDataElement

from engine.dicom.common import reading
from engine.dicom.conform import TYPE_1, problems_of, problems_of_set
from engine.dicom.export import ExportCase, export_case
from tests.support.dicom_files import ct_folder, planned_case, spoil, uneven_dose

MU = (100.1, 99.3, 120.0)


@pytest.fixture
def exported(tmp_path):
    case = planned_case()
    export_case(ExportCase(case, "draft", uneven_dose(case), MU, str(tmp_path)))
    return tmp_path, case


def problems(folder, case):
    return problems_of_set(folder / "RS.dcm", folder / "RP.dcm", folder / "RD.dcm", case.image)


def test_good_files_have_no_problem(exported, tmp_path):
    assert problems(*exported) == ()
    ct_folder(tmp_path / "ct")
    with reading():
        assert problems_of(pydicom.dcmread(tmp_path / "ct" / "CT001.dcm")) == ()


@pytest.mark.parametrize(
    ("name", "change", "words"),
    [
        ("RS", lambda d: setattr(d, "StructureSetLabel", ""), "StructureSetLabel is missing or empty"),
        ("RS", lambda d: d.StructureSetROISequence[0].__delattr__("ROINumber"), "StructureSetROISequence/ROINumber"),
        ("RS", lambda d: d.StructureSetROISequence.pop(), "region that does not exist"),
        ("RS", lambda d: setattr(d.StructureSetROISequence[1], "ROINumber", 1), "share a number"),
        (
            "RS",
            lambda d: setattr(d.ROIContourSequence[0].ContourSequence[0], "NumberOfContourPoints", 7),
            "number of points is wrong",
        ),
        (
            "RS",
            lambda d: setattr(
                d.ROIContourSequence[0].ContourSequence[0].ContourImageSequence[0], "ReferencedSOPInstanceUID", "1.2"
            ),
            "slice that does not exist",
        ),
        ("RP", lambda d: d.BeamSequence[0].__delattr__("SourceAxisDistance"), "SourceAxisDistance"),
        ("RP", lambda d: setattr(d.BeamSequence[1], "BeamNumber", 1), "two beams share a number"),
        ("RP", lambda d: d.BeamSequence[0].ControlPointSequence.pop(), "control points"),
        ("RP", lambda d: d.BeamSequence[0].ControlPointSequence[0].__delattr__("GantryAngle"), "GantryAngle"),
        ("RP", lambda d: d.BeamSequence[0].BeamLimitingDeviceSequence.pop(), "do not fit their devices"),
        ("RP", lambda d: setattr(d, "ApprovalStatus", "APPROVED"), "ReviewerName is missing"),
        (
            "RP",
            lambda d: setattr(d.ReferencedStructureSetSequence[0], "ReferencedSOPInstanceUID", "1.2"),
            "RP: does not refer to this structure set",
        ),
        ("RP", lambda d: setattr(d.DoseReferenceSequence[0], "ReferencedROINumber", 9), "prescribes to a region"),
        ("RP", lambda d: setattr(d, "FrameOfReferenceUID", "1.2"), "frames of reference differ"),
        ("RD", lambda d: d.__delattr__("DoseGridScaling"), "DoseGridScaling"),
        ("RD", lambda d: setattr(d.ReferencedRTPlanSequence[0], "ReferencedSOPInstanceUID", "1.2"), "RD: does not refer"),
        ("RD", lambda d: setattr(d, "StudyInstanceUID", "1.2"), "RD: belongs to another study"),
        ("RD", lambda d: setattr(d, "PatientID", "other"), "RD: PatientID differs"),
        ("RD", lambda d: d.__delattr__("PatientBirthDate"), "PatientBirthDate is missing"),
    ],
)
def test_what_is_spoilt_is_found(exported, name, change, words):
    folder, case = exported
    spoil(folder / f"{name}.dcm", change)
    assert any(words in p for p in problems(folder, case)), problems(folder, case)


def test_a_long_decimal_is_found(exported):
    folder, _ = exported
    d = pydicom.dcmread(folder / "RS.dcm")
    contour = d.ROIContourSequence[0].ContourSequence[0]
    tag = contour.get_item("ContourData").tag
    text = b"\\".join([b"1.00000000000000001"] * 3) + b" "
    contour[tag] = RawDataElement(tag, "DS", len(text), text, 0, True, True)
    contour.NumberOfContourPoints = 1
    with reading():
        assert problems_of(d) == ("ContourData holds a decimal string of more than 16 characters",)


def test_a_malformed_identifier_is_found(exported):
    folder, case = exported
    path = folder / "RS.dcm"
    old = pydicom.dcmread(path).StructureSetROISequence[0].ReferencedFrameOfReferenceUID.encode()
    path.write_bytes(path.read_bytes().replace(old, b"x" * len(old)))
    assert any("malformed identifier" in p for p in problems(folder, case))


def test_tables_name_attributes_that_exist():
    for paths in TYPE_1.values():
        for path in paths:
            for keyword in path.split("/"):
                assert pydicom.datadict.tag_for_keyword(keyword) is not None, keyword
