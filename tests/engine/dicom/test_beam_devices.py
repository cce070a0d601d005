"""Wedges and boluses leave in the plan and come back, and what cannot be computed is refused."""

import pydicom
import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.dicom.beam_devices import with_boluses, with_wedge_of
from engine.dicom.common import save_file
from engine.dicom.plan import read_plan
from engine.dicom.plan_file import plan_dataset
from engine.dicom.structure_file import structures_dataset
from engine.dicom.structures import ReadStructures, read_structures
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball
from tests.support.dicom_files import checker_errors, planned_case, spoil

MU = (100.1, 99.3, 120.0)


def equipped():
    case = planned_case()
    sheet = Volume("sheet", "Bolus", "BOLUS", (1, 2, 3), ball(GRID, (0, -55, 0), 10), density_g_cm3=1.05)
    case = edits.with_bolus(edits.with_volume(case, sheet), "draft", "b1", "sheet")
    draft = case.drafts[0]
    for key, wedge, orientation in (("b0", "W30", 90.0), ("b2", "V45", 180.0)):
        draft = edits.with_beam(draft, draft.beam(key).but(wedge=wedge, wedge_orientation_deg=orientation))
    return edits.with_draft(case, draft)


@pytest.fixture
def case():
    return equipped()


@pytest.fixture
def path(tmp_path, case):
    save_file(plan_dataset(case, case.drafts[0], MU), tmp_path / "RP.dcm")
    return tmp_path / "RP.dcm"


def test_the_file_says_what_the_standard_asks(path):
    d = pydicom.dcmread(path)
    physical, plain, virtual = d.BeamSequence
    assert [b.NumberOfWedges for b in d.BeamSequence] == [1, 0, 1]
    assert [b.NumberOfBoli for b in d.BeamSequence] == [0, 1, 0]
    (wedge,) = physical.WedgeSequence
    assert (wedge.WedgeType, wedge.WedgeID, wedge.WedgeAngle, float(wedge.WedgeOrientation)) == ("STANDARD", "W30", 30, 90)
    assert virtual.WedgeSequence[0].WedgeType == "DYNAMIC"
    assert physical.ControlPointSequence[0].WedgePositionSequence[0].WedgePosition == "IN"
    assert "WedgeSequence" not in plain
    assert "WedgePositionSequence" not in plain.ControlPointSequence[0]
    assert plain.ReferencedBolusSequence[0].ReferencedROINumber == 4


def test_checkers_find_no_error(path, tmp_path):
    assert checker_errors([path], tmp_path) == []


def test_wedges_and_boluses_come_back(path, case, tmp_path):
    plan = read_plan(path)
    assert [(b.wedge, b.wedge_orientation_deg) for b in plan.beams] == [("W30", 90.0), ("", 0.0), ("V45", 180.0)]
    assert plan.bolus_rois == ((), (4,), ())
    save_file(structures_dataset(case), tmp_path / "RS.dcm")
    found = read_structures(ReadStructures(str(tmp_path / "RS.dcm"), case.image))
    beams = with_boluses(plan.beams, plan.bolus_rois, found.volumes, found.numbers)
    (key,) = beams[1].bolus
    back = next(v for v in found.volumes if v.key == key)
    assert (back.name, back.role, back.density_g_cm3) == ("Bolus", "BOLUS", 1.05)
    assert beams[0].bolus == beams[2].bolus == ()


def test_a_bolus_that_is_not_there_or_something_else_is_refused(path, case):
    plan = read_plan(path)
    with pytest.raises(InputError, match="ROI 4, is not in the structure set"):
        with_boluses(plan.beams, plan.bolus_rois, (), ())
    organ = case.volume("sheet").but(role="OAR")
    with pytest.raises(InputError, match="whose role is OAR"):
        with_boluses(plan.beams, plan.bolus_rois, (organ,), (4,))
    with pytest.raises(InputError, match="no longer in the case"):
        plan_dataset(edits.without_volume(case, "sheet"), case.drafts[0], MU)


def test_a_wedge_of_another_name_is_found_by_kind_and_angle(path):
    def rename(d):
        d.BeamSequence[0].WedgeSequence[0].WedgeID = "IN-30"
        d.BeamSequence[2].WedgeSequence[0].WedgeID = "V-44"
        d.BeamSequence[2].WedgeSequence[0].WedgeAngle = 44

    spoil(path, rename)
    plan, machine = read_plan(path), load_machine("generic-6")
    assert plan.wedges == (("physical", 30.0), ("", 0.0), ("virtual", 44.0))
    found = [with_wedge_of(b, w, machine) for b, w in zip(plan.beams, plan.wedges, strict=True)]
    assert [b.wedge for b, _ in found] == ["W30", "", "V-44"]
    assert [bool(note) for _, note in found] == [True, False, False]
    assert "IN-30" in found[0][1]
    assert with_wedge_of(plan.beams[0].but(wedge="W45"), ("physical", 30.0), machine) == (
        plan.beams[0].but(wedge="W45"),
        "",
    )


def wedge(change):
    return lambda d: change(d.BeamSequence[0].WedgeSequence[0])


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (wedge(lambda w: setattr(w, "WedgeType", "MOTORIZED")), "motorized, which is not computed"),
        (wedge(lambda w: delattr(w, "WedgeID")), "name of its wedge is missing"),
        (wedge(lambda w: delattr(w, "WedgeOrientation")), "orientation of its wedge is missing"),
        (lambda d: delattr(d.BeamSequence[0], "WedgeSequence"), "1 wedges, and 0 are described"),
        (lambda d: delattr(d.BeamSequence[1], "ReferencedBolusSequence"), "1 boluses, and 0 are named"),
        (
            lambda d: setattr(d.BeamSequence[0].ControlPointSequence[1].WedgePositionSequence[0], "WedgePosition", "OUT"),
            "moves in or out",
        ),
    ],
)  # fmt: skip
def test_what_is_not_computed_is_refused_in_words(path, change, words):
    spoil(path, change)
    with pytest.raises(InputError, match=words):
        read_plan(path)


def test_a_wedge_that_stays_out_is_no_wedge(path):
    def out(d):
        for point in d.BeamSequence[0].ControlPointSequence:
            point.WedgePositionSequence[0].WedgePosition = "OUT"

    spoil(path, out)
    assert read_plan(path).beams[0].wedge == ""


def test_a_wedge_the_machine_lacks_cannot_be_written(case):
    draft = case.drafts[0]
    lost = draft.but(beams=(draft.beams[0].but(wedge="W99"), *draft.beams[1:]))
    with pytest.raises(InputError, match="no wedge W99"):
        plan_dataset(case, lost, MU)
