from __future__ import annotations

import numpy as np
import pydicom
import pytest

from engine.base.errors import InputError
from engine.case.case import Patient
from engine.dicom.second_files import write_mr
from tests.support.second import ramp


def test_files_name_their_frame_and_are_marked_synthetic(tmp_path):
    uids = write_mr(ramp(), Patient("A", "1", synthetic=True), tmp_path)
    first = pydicom.dcmread(tmp_path / "MR001.dcm")
    assert first.FrameOfReferenceUID == "1.2.3.9"
    assert first.SOPInstanceUID == uids[0]
    assert first.PatientComments.startswith("Synthetic")
    assert np.array_equal(first.pixel_array, ramp().values[0])


def test_float_values_are_not_written(tmp_path):
    with pytest.raises(InputError, match="whole"):
        write_mr(ramp().but(values=_floats()), Patient(), tmp_path)


def _floats():
    values = ramp().values.astype("<f4")
    values.flags.writeable = False
    return values
