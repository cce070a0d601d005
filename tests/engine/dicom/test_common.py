"""Identifiers, decimal strings, dates and names."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydicom import config
from pydicom.dataelem import DataElement
from pydicom.uid import UID

from engine.base.errors import InputError
from engine.dicom import common


def test_identifiers_repeat_and_differ_and_are_valid():
    one = common.uid_of("a", "b")
    assert one == common.uid_of("a", "b")
    assert len({one, common.uid_of("ab", ""), common.uid_of("a", "c"), common.uid_of("ab")}) == 4
    assert UID(one).is_valid
    assert len(one) <= 64


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12))
def test_decimal_strings_fit_and_stay_close(value):
    text = common.ds_text(value)
    assert len(text) <= 16
    assert float(text) == pytest.approx(value, rel=1e-8, abs=1e-12)


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_what_is_no_number_is_refused(bad):
    with pytest.raises(InputError):
        common.ds_text(bad)


def test_dates_and_moments():
    assert common.da_text("2026-03-01") == "20260301"
    assert common.da_text("") == ""
    assert common.date_and_time("2026-03-01T14:05:09+01:00", "review") == ("20260301", "140509")
    assert common.date_and_time("2026-03-01 14:05", "review") == ("20260301", "140500")
    for bad in ("1 March", "20261301", "2026-03-41"):
        with pytest.raises(InputError):
            common.da_text(bad)
    for bad in ("", "2026-03-01", "2026-03-01T25:00:00"):
        with pytest.raises(InputError):
            common.date_and_time(bad, "review")


@pytest.mark.parametrize("bad", ["a\\b", "x" * 65, "a=b=c=d", "line\nbreak"])
def test_names_the_standard_forbids_are_refused(bad):
    with pytest.raises(InputError):
        common.pn_text(bad, "reviewer")


def test_validation_modes_are_restored():
    before = (config.settings.reading_validation_mode, config.settings.writing_validation_mode)
    with common.reading():
        assert config.settings.reading_validation_mode == config.IGNORE
    with common.writing():
        assert config.settings.writing_validation_mode == config.RAISE
    assert before == (config.settings.reading_validation_mode, config.settings.writing_validation_mode)


def test_a_value_that_cannot_be_written_leaves_no_file(tmp_path):
    dataset = common.new_file(common.CT_STORAGE, common.uid_of("x"))
    dataset["Rows"] = DataElement(0x00280010, "US", 70000, validation_mode=config.IGNORE)
    with pytest.raises(InputError):
        common.save_file(dataset, tmp_path / "x.dcm")
    assert list(tmp_path.iterdir()) == []


def test_a_forbidden_value_is_refused_while_building():
    @common.writing()
    def build():
        dataset = common.new_file(common.CT_STORAGE, common.uid_of("x"))
        dataset.Rows = 70000

    with pytest.raises(InputError, match="cannot be written"):
        build()


def test_a_missing_or_foreign_file_is_named(tmp_path):
    with common.reading(), pytest.raises(InputError, match="no such file"):
        common.read_file(tmp_path / "none.dcm", common.PLAN_STORAGE, "RT Plan")
    junk = tmp_path / "junk.dcm"
    junk.write_text("hello")
    with common.reading(), pytest.raises(InputError, match=r"junk\.dcm: this is not a DICOM file"):
        common.read_file(junk, common.PLAN_STORAGE, "RT Plan")
