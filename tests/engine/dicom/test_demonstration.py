"""A demonstration patient goes the road of every patient: files written, files read, nothing left behind."""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
import pytest

from engine import compute
from engine.base.errors import Cancelled, UserError
from engine.base.values import frozen_array
from engine.dicom import demonstration
from engine.dicom.demonstration import PlanDemonstration, plan_demonstration
from tests.engine.case.test_demonstration import phantom


@pytest.fixture
def scratch(tmp_path, monkeypatch) -> Path:
    """Temporary folders are made here, so that what stays is seen."""
    folder = tmp_path / "scratch"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def test_the_case_is_what_the_importer_read_from_files_of_its_own(scratch):
    made = phantom()
    case = plan_demonstration(PlanDemonstration(made))
    assert np.array_equal(case.image.hu, made.image.hu)
    assert len(set(case.image.sop_uids)) == made.image.grid.shape[0]
    assert case.image.series_uid
    assert case.image.frame_of_reference_uid
    assert case.patient.synthetic
    assert case.patient.name == made.patient_name
    assert all(v.coverage.grid == case.image.grid for v in case.volumes)
    assert len(case.drafts[0].beams) == 2
    assert list(scratch.iterdir()) == []


def test_kept_files_give_the_very_same_case(scratch, tmp_path):
    kept = plan_demonstration(PlanDemonstration(phantom(), str(tmp_path / "ct")))
    assert len(list((tmp_path / "ct").glob("*.dcm"))) == kept.image.grid.shape[0]
    assert kept == plan_demonstration(PlanDemonstration(phantom()))


@pytest.mark.parametrize("at", [0.1, 0.7])
def test_cancelled_while_writing_or_reading_nothing_stays(scratch, at):
    seen = []

    def report(fraction: float, words: str = "") -> None:
        seen.append(len(list(scratch.rglob("*.dcm"))))
        if fraction >= at:
            raise Cancelled

    with pytest.raises(Cancelled):
        plan_demonstration(PlanDemonstration(phantom()), report)
    assert max(seen) > 0
    assert list(scratch.iterdir()) == []


def test_files_that_are_read_back_otherwise_are_not_passed_off(scratch, monkeypatch):
    def other(request, report):
        read = compute.run(request, report)
        return read.but(image=read.image.but(hu=frozen_array(np.full_like(read.image.hu, 1))))

    monkeypatch.setattr(demonstration, "open_series", other)
    with pytest.raises(UserError, match="differs"):
        plan_demonstration(PlanDemonstration(phantom()))
    assert list(scratch.iterdir()) == []


def test_a_disk_without_room_is_said_in_words(monkeypatch, tmp_path):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "missing"))
    with pytest.raises(UserError, match="temporary folder"):
        plan_demonstration(PlanDemonstration(phantom()))
