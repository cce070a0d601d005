"""A case leaves as DICOM whole, checked and repeatable, or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pydicom
import pytest

from engine import compute
from engine.base.errors import Cancelled, UserError
from engine.case import edits
from engine.dicom import export
from engine.dicom.dose import STEP, read_dose
from engine.dicom.export import ExportCase, export_case, surface_distance_mm
from engine.dicom.plan import read_plan
from engine.dicom.read_ct import OpenSeries, open_series
from engine.dicom.structures import ReadStructures, read_structures
from tests.support.dicom_files import checker_errors, planned_case, uneven_dose

MU = (100.1, 99.3, 120.0)
SIGNED = {"approved": True, "reviewer": "Dr. Roe", "reviewed_at": "2026-03-01T14:05:00"}


def request(folder, case=None, **more):
    case = case or planned_case()
    return ExportCase(case, "draft", uneven_dose(case), MU, str(folder), **more)


def test_three_files_come_out_and_read_back(tmp_path):
    case = planned_case()
    paths = compute.run(request(tmp_path / "rt", **SIGNED))
    assert [os.path.basename(p) for p in paths] == ["RS.dcm", "RP.dcm", "RD.dcm"]
    assert sorted(os.listdir(tmp_path / "rt")) == ["RD.dcm", "RP.dcm", "RS.dcm"]
    plan = read_plan(paths[1])
    assert (plan.approval, plan.mu) == ("APPROVED", MU)
    assert np.allclose(read_dose(paths[2]).gy, uneven_dose(case).gy, atol=64 * STEP)
    assert [v.name for v in read_structures(ReadStructures(paths[0], case.image))] == ["Body", "PTV", "SpinalCord"]


def test_unsigned_leaves_unapproved(tmp_path):
    assert read_plan(export_case(request(tmp_path))[1]).approval == "UNAPPROVED"


def test_an_image_that_was_never_dicom_is_written_too(tmp_path):
    paths = export_case(request(tmp_path, planned_case(identified=False)))
    opened = open_series(OpenSeries(str(tmp_path / "ct")))
    found = read_structures(ReadStructures(paths[0], opened.image))
    assert len(found) == 3
    assert np.array_equal(opened.image.hu, planned_case().image.hu)


def test_the_outside_checker_finds_no_error(tmp_path):
    paths = export_case(request(tmp_path / "rt", planned_case(identified=False), **SIGNED))
    assert checker_errors([*paths, tmp_path / "rt" / "ct" / "CT001.dcm"], tmp_path) == []


def test_the_same_case_gives_the_same_bytes(tmp_path):
    a, b = export_case(request(tmp_path / "a", **SIGNED)), export_case(request(tmp_path / "b", **SIGNED))
    for one, two in zip(a, b):
        assert Path(one).read_bytes() == Path(two).read_bytes()
    c = export_case(request(tmp_path / "c"))
    uids = [pydicom.dcmread(p[1]).SOPInstanceUID for p in (a, c)]
    assert uids[0] != uids[1]
    assert pydicom.dcmread(a[0]).SOPInstanceUID == pydicom.dcmread(c[0]).SOPInstanceUID


def test_all_patient_positions_keep_left_front_and_head(tmp_path):
    """A volume at the patient's left front head end stays there through files, whatever the position on the couch."""
    for position in ("HFS", "HFP", "FFS", "FFP"):
        case = planned_case(identified=False)
        dense = np.zeros(case.image.grid.shape, bool)
        dense[-4:-2, 8:12, 30:36] = True
        mark = case.volumes[1].but(coverage=case.volumes[1].coverage.from_dense(case.image.grid, dense))
        case = edits.with_volume(case.but(image=case.image.but(patient_position=position)), mark)
        folder = tmp_path / position
        paths = export_case(request(folder, case))
        image = open_series(OpenSeries(str(folder / "ct"))).image
        assert image.patient_position == position == read_plan(paths[1]).patient_position
        found = read_structures(ReadStructures(paths[0], image)).volumes[1]
        x, y, z = found.coverage.centroid_mm()
        assert (x, y, z) == pytest.approx(mark.coverage.centroid_mm(), abs=0.05)
        assert x > 0, "left"
        assert y < 0, "front"
        assert z > 0, "head"


def test_the_surface_distance_is_that_of_the_cylinder():
    """A cylinder of 55 mm about (0, 0): from gantry 0 the skin lies 55 - 2.25 before the isocentre at y = -2.25."""
    case = planned_case()
    beam = case.drafts[0].beams[0].but(couch_deg=0)
    beam = beam.but(isocentre_mm=(0.0, -2.25, 0.0))
    assert surface_distance_mm(case, beam) == pytest.approx(1000 - (55 - 2.25), abs=1.6)
    assert surface_distance_mm(case.but(volumes=case.volumes[1:]), beam) is None
    assert surface_distance_mm(case, beam.but(isocentre_mm=(200.0, 0.0, 0.0))) is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"approved": True}, "needs a reviewer and a date"),
        ({"approved": True, "reviewer": "Dr. Roe", "reviewed_at": "soon"}, "not a date and time"),
        ({"mu": (1.0, 2.0)}, "2 monitor unit values"),
        ({"draft_key": "gone"}, "no longer in the case"),
        ({"names": ("a.dcm", "a.dcm", "b.dcm")}, "not three file names"),
        ({"names": ("../a.dcm", "c.dcm", "b.dcm")}, "not three file names"),
    ],
)
def test_what_cannot_be_exported_is_refused_and_leaves_nothing(tmp_path, change, words):
    with pytest.raises(UserError, match=words):
        export_case(request(tmp_path / "rt").but(**change))
    assert not list(tmp_path.rglob("*.dcm"))


def test_a_quick_dose_is_never_approved(tmp_path):
    quick = uneven_dose(planned_case()).but(quality="quick")
    with pytest.raises(UserError, match="only a quick one"):
        export_case(request(tmp_path, **SIGNED).but(dose=quick))
    export_case(request(tmp_path).but(dose=quick))
    assert "Quick" in pydicom.dcmread(tmp_path / "RD.dcm").DoseComment


def test_a_full_disk_leaves_the_earlier_export_whole(tmp_path, monkeypatch):
    first = export_case(request(tmp_path))
    before = {p: Path(p).read_bytes() for p in first}
    real = export.save_file

    def failing(dataset, path):
        real(dataset, path)
        if dataset.Modality == "RTDOSE":
            path.unlink()
            raise UserError("the file cannot be written (No space left on device)", str(path))

    monkeypatch.setattr(export, "save_file", failing)
    with pytest.raises(UserError, match="No space"):
        export_case(request(tmp_path, **SIGNED))
    assert {p: Path(p).read_bytes() for p in first} == before
    assert len(os.listdir(tmp_path)) == 3


def test_a_rename_that_fails_puts_everything_back(tmp_path, monkeypatch):
    first = export_case(request(tmp_path))
    before = {p: Path(p).read_bytes() for p in first}
    real = os.replace

    def failing(source, target):
        if str(target).endswith("RD.dcm") and ".dcm" in str(source) and os.path.basename(source).startswith("."):
            monkeypatch.setattr(os, "replace", real)
            raise PermissionError(13, "Permission denied")
        real(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(UserError, match="cannot get its name"):
        export_case(request(tmp_path, **SIGNED))
    assert {p: Path(p).read_bytes() for p in first} == before
    assert len(os.listdir(tmp_path)) == 3


def test_a_file_that_reads_back_otherwise_is_caught(tmp_path, monkeypatch):
    real = export.save_file

    def forgetful(dataset, path):
        if dataset.Modality == "RTPLAN":
            del dataset.BeamSequence[0].SourceAxisDistance
        real(dataset, path)

    monkeypatch.setattr(export, "save_file", forgetful)
    with pytest.raises(UserError, match="do not conform"):
        export_case(request(tmp_path))
    assert os.listdir(tmp_path) == []


def test_stopping_leaves_nothing(tmp_path):
    def stop(fraction, words=""):
        if fraction > 0.85:
            raise Cancelled

    with pytest.raises(Cancelled):
        export_case(request(tmp_path, planned_case(identified=False)), stop)
    assert os.listdir(tmp_path) == []


def test_a_folder_that_is_a_file_is_refused(tmp_path):
    (tmp_path / "x").write_text("x")
    with pytest.raises(UserError, match="cannot be made"):
        export_case(request(tmp_path / "x"))
