"""Walking a folder full of anything."""

from __future__ import annotations

import pydicom
import pytest

from engine.base.errors import Cancelled, InputError
from engine.base.progress import quiet
from engine.dicom.common import reading
from engine.dicom.headers import read_header, scan_folder
from tests.support.dicom_files import ct_folder, spoil


def test_sub_folders_and_any_names_are_read(tmp_path):
    ct_folder(tmp_path / "a" / "b")
    (tmp_path / "a" / "b" / "CT001.dcm").rename(tmp_path / "no extension")
    (tmp_path / "a" / "b" / "CT002.dcm").rename(tmp_path / "a" / "picture.jpg")
    scan = scan_folder(str(tmp_path), quiet)
    assert len(scan.headers) == 4
    assert {h.name for h in scan.headers} >= {"no extension"}
    assert scan.others == 0


def test_junk_is_counted_and_damage_is_named(tmp_path):
    ct_folder(tmp_path)
    (tmp_path / "notes.txt").write_text("hello")
    (tmp_path / "empty").write_bytes(b"")
    (tmp_path / "short").write_bytes(b"\x08\x00")
    (tmp_path / "only the preamble").write_bytes(b"\0" * 128 + b"DICM")
    whole = (tmp_path / "CT001.dcm").read_bytes()
    (tmp_path / "CT001.dcm").write_bytes(whole[:200])
    scan = scan_folder(str(tmp_path), quiet)
    assert len(scan.headers) == 3
    assert scan.others == 3
    assert set(scan.damaged) == {"only the preamble", "CT001.dcm"}


def test_a_dicomdir_is_no_image(tmp_path):
    ct_folder(tmp_path)

    def change(d):
        d.SOPClassUID = d.file_meta.MediaStorageSOPClassUID = "1.2.840.10008.1.3.10"

    spoil(tmp_path / "CT001.dcm", change)
    (tmp_path / "CT001.dcm").rename(tmp_path / "DICOMDIR")
    scan = scan_folder(str(tmp_path), quiet)
    assert (len(scan.headers), scan.others) == (3, 1)


def test_a_file_without_preamble_is_read(tmp_path):
    ct_folder(tmp_path)
    path = tmp_path / "CT001.dcm"
    d = pydicom.dcmread(path)
    d.preamble = None
    del d.file_meta
    d.save_as(path, implicit_vr=True, little_endian=True, enforce_file_format=False)
    with reading():
        header = read_header(str(path), "x")
    assert header is not None
    assert header.text("Modality") == "CT"
    assert header.syntax == "1.2.840.10008.1.2"


def test_malformed_numbers_are_as_good_as_missing(tmp_path):
    ct_folder(tmp_path)
    path = tmp_path / "CT001.dcm"
    path.write_bytes(path.read_bytes().replace(b"-5\\7.5\\-20", b"-5\\x.y\\-20"))
    with reading():
        header = read_header(str(path), "x")
    assert header is not None
    assert "ImagePositionPatient" not in header.numbers


@pytest.mark.parametrize(("make", "words"), [(None, "no such folder"), ("file", "not a folder"), ("empty", "is empty")])
def test_what_is_no_folder_of_files_is_refused(tmp_path, make, words):
    target = tmp_path / "x"
    if make == "file":
        target.write_text("x")
    elif make == "empty":
        (target / "deeper").mkdir(parents=True)
    with pytest.raises(InputError, match=words):
        scan_folder(str(target), quiet)


def test_it_can_be_stopped(tmp_path):
    ct_folder(tmp_path)

    def stop(fraction, words=""):
        raise Cancelled

    with pytest.raises(Cancelled):
        scan_folder(str(tmp_path), stop)
