"""RT Plans as others would read them."""

from __future__ import annotations

import pydicom
import pytest

from engine.base.errors import InputError
from engine.case import edits
from engine.dicom.common import save_file
from engine.dicom.plan_file import Approval, plan_dataset, plan_uid
from engine.dicom.structure_file import structures_uid
from tests.support.dicom_files import checker_errors, planned_case

MU = (100.1, 99.3, 120.0)


def written(case, tmp_path, mu=MU, approval=None, ssd=()):
    save_file(plan_dataset(case, case.drafts[0], mu, approval, ssd), tmp_path / "RP.dcm")
    return tmp_path / "RP.dcm"


def test_what_the_file_says(tmp_path):
    case = planned_case()
    d = pydicom.dcmread(written(case, tmp_path, ssd=(950.125, None, 900)))
    assert (d.RTPlanLabel, d.RTPlanGeometry, d.ApprovalStatus) == ("Three fields", "PATIENT", "UNAPPROVED")
    assert d.ReferencedStructureSetSequence[0].ReferencedSOPInstanceUID == structures_uid(case)
    (reference,) = d.DoseReferenceSequence
    assert (float(reference.TargetPrescriptionDose), reference.ReferencedROINumber) == (60.0, 2)
    (group,) = d.FractionGroupSequence
    assert (group.NumberOfFractionsPlanned, group.NumberOfBeams) == (30, 3)
    assert [float(b.BeamMeterset) for b in group.ReferencedBeamSequence] == list(MU)
    assert d.PatientSetupSequence[0].PatientPosition == "HFS"
    beam = d.BeamSequence[1]
    assert (beam.BeamType, beam.RadiationType, beam.PrimaryDosimeterUnit) == ("STATIC", "PHOTON", "MU")
    assert (beam.TreatmentMachineName, float(beam.SourceAxisDistance)) == ("generic-6", 1000.0)
    first, last = beam.ControlPointSequence
    assert (float(first.GantryAngle), float(first.BeamLimitingDeviceAngle), float(first.PatientSupportAngle)) == (
        120.5,
        10,
        350,
    )
    assert [float(v) for v in first.IsocenterPosition] == [1.5, -2.25, 3.125]
    assert float(first.NominalBeamEnergy) == 6
    assert (float(first.CumulativeMetersetWeight), float(last.CumulativeMetersetWeight)) == (0, 1)
    assert "SourceToSurfaceDistance" not in first
    assert float(d.BeamSequence[0].ControlPointSequence[0].SourceToSurfaceDistance) == pytest.approx(950.12, abs=0.01)


def test_jaws_and_leaves_go_bank_by_bank(tmp_path):
    """Leaf positions: the first bank 1..N, then the second; boundaries N + 1 (DICOM PS3.3 C.8.8.14, read)."""
    case = planned_case()
    aperture = case.drafts[0].beams[0].aperture
    beam = pydicom.dcmread(written(case, tmp_path)).BeamSequence[0]
    found = {p.RTBeamLimitingDeviceType: p for p in beam.ControlPointSequence[0].BeamLimitingDevicePositionSequence}
    assert [float(v) for v in found["ASYMX"].LeafJawPositions] == [-25.5, 27]
    assert [float(v) for v in found["ASYMY"].LeafJawPositions] == [-30, 31.125]
    leaves = [float(v) for v in found["MLCX"].LeafJawPositions]
    assert leaves[: len(leaves) // 2] == pytest.approx([a for a, _ in aperture.leaves_mm])
    assert leaves[len(leaves) // 2 :] == pytest.approx([b for _, b in aperture.leaves_mm])
    device = beam.BeamLimitingDeviceSequence[2]
    assert [float(v) for v in device.LeafPositionBoundaries] == list(aperture.leaf_edges_mm)
    assert device.NumberOfLeafJawPairs == len(aperture.leaves_mm)


def test_approval_only_when_told(tmp_path):
    case = planned_case()
    d = pydicom.dcmread(written(case, tmp_path, approval=Approval("Dr. Roe", "2026-03-01T14:05:00")))
    assert (d.ApprovalStatus, d.ReviewDate, d.ReviewTime, str(d.ReviewerName)) == (
        "APPROVED", "20260301", "140500", "Dr. Roe",
    )  # fmt: skip
    for bad in (
        Approval("", "2026-03-01T14:05:00"),
        Approval("Dr. Roe", "yesterday"),
        Approval("a\\b", "2026-03-01T14:05"),
    ):
        with pytest.raises(InputError):
            plan_dataset(case, case.drafts[0], MU, bad)


@pytest.mark.parametrize("approval", [None, Approval("Dr. Roe", "2026-03-01T14:05:00")])
@pytest.mark.parametrize("leaves", [True, False])
def test_the_outside_checker_finds_no_error(tmp_path, approval, leaves):
    case = planned_case()
    if not leaves:
        draft = case.drafts[0]
        open_field = draft.beams[0].aperture.but(leaf_edges_mm=(), leaves_mm=())
        for beam in draft.beams:
            draft = edits.with_beam(draft, beam.but(aperture=open_field))
        case = edits.with_draft(case, draft)
    assert checker_errors([written(case, tmp_path, approval=approval, ssd=(950.0, None, 900))], tmp_path) == []


def test_what_cannot_be_a_plan_is_refused():
    case = planned_case()
    draft = case.drafts[0]
    with pytest.raises(InputError, match="no prescription"):
        plan_dataset(case, draft.but(prescription=None), MU)
    with pytest.raises(InputError, match="no beams"):
        plan_dataset(case, draft.but(beams=(), weights=()), ())
    with pytest.raises(InputError, match="2 monitor unit values for 3 beams"):
        plan_dataset(case, draft, MU[:2])
    for bad in (-1.0, float("nan"), float("inf")):
        with pytest.raises(InputError, match="monitor units cannot"):
            plan_dataset(case, draft, (bad, 1, 1))


def test_long_names_are_cut_to_the_standard_and_kept_elsewhere(tmp_path):
    case = planned_case()
    machine = case.machines[0].but(name="a machine with a long name")
    draft = case.drafts[0].but(name="a draft whose name is far too long")
    draft = draft.but(beams=tuple(b.but(machine=machine.name) for b in draft.beams))
    case = edits.with_draft(edits.with_machine(case, machine), draft)
    d = pydicom.dcmread(written(case, tmp_path))
    assert (d.RTPlanLabel, d.RTPlanName) == ("a draft whose na", draft.name)
    assert len(d.BeamSequence[0].TreatmentMachineName) <= 16
    assert d.BeamSequence[0].ManufacturerModelName == machine.name


def test_the_identifier_follows_the_content():
    case = planned_case()
    draft = case.drafts[0]
    one = plan_uid(case, draft, MU, None)
    assert one == plan_uid(planned_case(), draft, MU, None)
    others = {
        plan_uid(case, draft, (1, 2, 3), None),
        plan_uid(case, draft, MU, Approval("Dr. Roe", "2026-03-01T14:05:00")),
        plan_uid(case, draft.but(name="x"), MU, None),
    }
    assert len(others | {one}) == 4
