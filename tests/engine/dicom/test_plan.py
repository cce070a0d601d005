"""RT Plans read, and what cannot be computed refused in words."""

from __future__ import annotations

import pydicom
import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.dicom.common import save_file
from engine.dicom.conform import problems_of
from engine.dicom.plan import read_plan
from engine.dicom.plan_file import Approval, plan_dataset
from engine.space.point import NamedPoint
from tests.support.dicom_files import checker_errors, planned_case, spoil

MU = (100.1, 99.3, 120.0)


@pytest.fixture
def path(tmp_path):
    case = planned_case()
    approval = Approval("Dr. Roe", "2026-03-01T14:05:00")
    save_file(plan_dataset(case, case.drafts[0], MU, approval), tmp_path / "RP.dcm")
    return tmp_path / "RP.dcm"


def test_what_was_written_is_read_back(path):
    case = planned_case()
    plan = read_plan(path)
    assert [b.nameless() for b in plan.beams] == [b.nameless() for b in case.drafts[0].beams]
    assert [b.name for b in plan.beams] == ["Field 0", "Field 1", "Field 2"]
    assert plan.mu == MU
    assert plan.factors == pytest.approx([30 * m for m in MU])
    assert (plan.fractions, plan.prescription_gy, plan.prescription_roi) == (30, 60.0, 2)
    assert plan.isocentre_mm == (1.5, -2.25, 3.125)
    assert (plan.nominal_mv, plan.sad_mm) == ((6.0,) * 3, (1000.0,) * 3)
    assert (plan.patient_position, plan.label) == ("HFS", "Three fields")
    assert (plan.approval, plan.reviewer, plan.reviewed_at) == ("APPROVED", "Dr. Roe", "2026-03-01T14:05:00")
    assert plan.patient == case.patient
    assert plan.frame_of_reference_uid == case.image.frame_of_reference_uid
    assert plan.notes == ()


def test_another_machine_can_be_asked_for(path):
    assert {b.machine for b in read_plan(path, "point-6").beams} == {"point-6"}


def test_a_long_machine_name_comes_back_whole(tmp_path):
    case = planned_case()
    machine = case.machines[0].but(name="a machine with a long name")
    draft = case.drafts[0].but(beams=tuple(b.but(machine=machine.name) for b in case.drafts[0].beams))
    case = edits.with_draft(edits.with_machine(case, machine), draft)
    save_file(plan_dataset(case, draft, MU), tmp_path / "RP.dcm")
    assert read_plan(tmp_path / "RP.dcm").beams[0].machine == machine.name


def beam(change):
    return lambda d: change(d.BeamSequence[1])


def point(k, change):
    return beam(lambda b: change(b.ControlPointSequence[k]))


def setting(keyword, value):
    return lambda d: setattr(d, keyword, value)


def other_device(b):
    b.ControlPointSequence[0].BeamLimitingDevicePositionSequence[2].RTBeamLimitingDeviceType = "MLCY"


def no_jaws(d):
    for b in d.BeamSequence:
        del b.ControlPointSequence[0].BeamLimitingDevicePositionSequence[:2]


def no_device_positions(d):
    del d.BeamSequence[1].ControlPointSequence[0].BeamLimitingDevicePositionSequence


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (point(1, setting("GantryAngle", 200)), "gantry angle changes from 120.5 to 200 without saying"),
        (point(0, setting("GantryRotationDirection", "CW")), "gantry turns, but the file does not say how far"),
        (point(1, setting("BeamLimitingDeviceAngle", 50)), "collimator angle changes"),
        (point(1, setting("NominalBeamEnergy", 10)), "energy changes from 6 to 10"),
        (beam(setting("RadiationType", "ELECTRON")), "radiation is electron, not photons"),
        (beam(setting("RadiationType", "PROTON")), "radiation is proton"),
        (beam(setting("NumberOfWedges", 2)), "carries 2 wedges, and 0 are described"),
        (beam(setting("NumberOfBlocks", 1)), "carries a block"),
        (beam(setting("NumberOfBoli", 1)), "carries 1 boluses, and 0 are named"),
        (beam(setting("NumberOfCompensators", 1)), "carries a compensator"),
        (beam(setting("PrimaryDosimeterUnit", "MINUTE")), "in MINUTE, not in monitor units"),
        (beam(setting("FinalCumulativeMetersetWeight", 3)), "meterset weights run from 0.0 to 1.0, final 3.0"),
        (point(0, setting("TableTopPitchAngle", 2.0)), "table pitch is 2 degrees"),
        (point(0, setting("TableTopEccentricAngle", 5)), "eccentric angle is 5 degrees"),
        (point(0, lambda p: p.__delattr__("IsocenterPosition")), "isocentre is missing"),
        (point(0, lambda p: p.__delattr__("GantryAngle")), "gantry angle is missing"),
        (point(0, lambda p: p.__delattr__("PatientSupportAngle")), "couch angle is missing"),
        (beam(lambda b: b.ControlPointSequence.pop()), "1 control points"),
        (beam(other_device), "shaped by MLCY"),
        (no_device_positions, "X jaw positions are missing"),
        (beam(lambda b: setattr(b.BeamLimitingDeviceSequence[2], "LeafPositionBoundaries", [0, 1])), "do not fit 2 leaf"),
        (lambda d: d.FractionGroupSequence[0].ReferencedBeamSequence[1].__delattr__("BeamMeterset"), "monitor units"),
        (lambda d: d.FractionGroupSequence[0].__delattr__("NumberOfFractionsPlanned"), "number of fractions is missing"),
        (lambda d: d.FractionGroupSequence.append(d.FractionGroupSequence[0]), "2 fraction groups"),
        (lambda d: d.__delattr__("BeamSequence"), "no treatment beam"),
        (lambda d: setattr(d.PatientSetupSequence[0], "PatientPosition", "SITTING"), "patient position is SITTING"),
    ],
)  # fmt: skip
def test_what_is_not_computed_is_refused_in_words(path, change, words):
    spoil(path, change)
    with pytest.raises(InputError, match=words) as caught:
        read_plan(path)
    assert caught.value.do
    assert "RP.dcm" in caught.value.where


def test_a_crossed_aperture_is_refused(path):
    spoil(path, point(0, lambda p: setattr(p.BeamLimitingDevicePositionSequence[0], "LeafJawPositions", [30, -30])))
    with pytest.raises(InputError, match="jaws cross"):
        read_plan(path)


def test_set_up_fields_are_left_out_and_said(path):
    spoil(path, beam(setting("TreatmentDeliveryType", "SETUP")))
    plan = read_plan(path)
    assert [b.name for b in plan.beams] == ["Field 0", "Field 2"]
    assert plan.mu == (MU[0], MU[2])
    assert any("Field 1" in n for n in plan.notes)


def test_a_machine_without_jaws_opens_to_its_leaves(path):
    spoil(path, no_jaws)
    plan = read_plan(path)
    leaves = plan.beams[0].aperture.leaves_mm
    assert plan.beams[0].aperture.x_mm == (min(a for a, _ in leaves), max(b for _, b in leaves))
    assert plan.beams[0].aperture.y_mm == (-200.0, 200.0)
    assert plan.notes


def test_symmetric_jaws_and_a_still_dynamic_beam_are_read(path):
    def change(d):
        for b in d.BeamSequence:
            b.BeamType = "DYNAMIC"
            for item in b.ControlPointSequence[0].BeamLimitingDevicePositionSequence[:2]:
                item.RTBeamLimitingDeviceType = item.RTBeamLimitingDeviceType[-1]

    spoil(path, change)
    assert read_plan(path).beams[0].aperture.x_mm == (-25.5, 27.0)


def test_weights_that_end_at_another_number_are_fine(path):
    def change(b):
        b.FinalCumulativeMetersetWeight = 100
        b.ControlPointSequence[1].CumulativeMetersetWeight = 100

    spoil(path, beam(change))
    assert read_plan(path).mu == MU


@pytest.mark.parametrize("keep", [0.3, 0.9])
def test_a_cut_off_file_is_refused(path, keep):
    raw = path.read_bytes()
    path.write_bytes(raw[: int(keep * len(raw))])
    with pytest.raises(InputError):
        read_plan(path)


def test_an_unflattened_beam_says_so_and_is_read_so(tmp_path):
    # PS3.3 C.8.8.14, Primary Fluence Mode Sequence.
    case = planned_case()
    machine = load_machine("generic-6-unflattened")
    draft = case.drafts[0].but(beams=(case.drafts[0].beams[0].but(machine=machine.name), *case.drafts[0].beams[1:]))
    case = edits.with_draft(edits.with_machine(case, machine), draft)
    save_file(plan_dataset(case, draft, MU), tmp_path / "RP.dcm")
    assert read_plan(tmp_path / "RP.dcm").flattened == (False, True, True)
    assert checker_errors([tmp_path / "RP.dcm"], tmp_path) == []


def at_point(case, place_mm=(1.5, -20.125, 3.0625)):
    prescription = case.drafts[0].prescription.but(point=NamedPoint("Where I want it", place_mm))
    return edits.with_draft(case, case.drafts[0].but(normalisation="Point", prescription=prescription))


def test_the_point_a_plan_is_normalised_to_goes_and_comes(tmp_path):
    case = at_point(planned_case())
    save_file(plan_dataset(case, case.drafts[0], MU), tmp_path / "RP.dcm")
    d = pydicom.dcmread(tmp_path / "RP.dcm")
    volume, there = d.DoseReferenceSequence
    assert (volume.DoseReferenceStructureType, volume.ReferencedROINumber) == ("VOLUME", 2)
    assert (there.DoseReferenceStructureType, there.DoseReferenceType) == ("COORDINATES", "TARGET")
    assert [float(v) for v in there.DoseReferencePointCoordinates] == [1.5, -20.125, 3.0625]
    assert float(there.TargetPrescriptionDose) == 60
    assert there.DoseReferenceUID != volume.DoseReferenceUID
    assert problems_of(d) == ()
    assert checker_errors([tmp_path / "RP.dcm"], tmp_path) == []
    plan = read_plan(tmp_path / "RP.dcm")
    assert plan.prescription_point == case.drafts[0].prescription.point
    assert (plan.prescription_gy, plan.prescription_roi, plan.notes) == (60, 2, ())


def test_a_plan_normalised_otherwise_writes_no_point(path, tmp_path):
    assert read_plan(path).prescription_point is None
    case = at_point(planned_case())
    case = edits.with_draft(case, case.drafts[0].but(normalisation="D95%"))
    save_file(plan_dataset(case, case.drafts[0], MU), tmp_path / "D95.dcm")
    assert read_plan(tmp_path / "D95.dcm").prescription_point is None


@pytest.mark.parametrize("there", [None, [1.0, 2.0], [1e9, 0, 0]])
def test_a_point_without_usable_coordinates_is_left_out_and_said(path, there):
    def change(d):
        d.DoseReferenceSequence[0].DoseReferenceStructureType = "COORDINATES"
        if there is not None:
            d.DoseReferenceSequence[0].DoseReferencePointCoordinates = there

    spoil(path, change)
    plan = read_plan(path)
    assert plan.prescription_point is None
    assert any("has no usable coordinates; left out" in n for n in plan.notes)
