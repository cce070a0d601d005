"""What people get wrong in measured files: each gives one clear sentence."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.commission.measured import read_curve, read_folder

DEPTHS = "\n".join(f"{d},{100 * np.exp(-0.0045 * max(d - 15, 0)):.3f}" for d in range(0, 300, 10))


def profile(half=55.0, step=2.0, shift=0.0, scale=1.0):
    x = np.arange(-half - 30, half + 31, step)
    y = 100 / (1 + np.exp((np.abs(x) - half) / 1.5))
    return "\n".join(f"{scale * (a + shift):.4f},{b:.4f}" for a, b in zip(x, y, strict=True))


def file_of(kind="depth-dose", body=DEPTHS, columns="position_mm,value", **head):
    known = {"kind": kind, "field_mm": "100 x 100", "ssd_mm": "1000", "energy_mv": "6"}
    if kind == "profile":
        known |= {"depth_mm": "100", "axis": "x"}
    if kind == "output":
        known |= {"depth_mm": "100"}
        del known["field_mm"]
    known |= head
    lines = [f"# {k}: {v}" for k, v in known.items() if v is not None]
    return "\n".join([*lines, columns, body]) + "\n"


def read(tmp_path, text):
    path = tmp_path / "one.csv"
    path.write_text(text)
    return read_curve(path)


WRONG = {
    "no kind": (file_of(kind=None), "lacks 'kind'"),
    "unknown kind": (file_of("percent"), "kind cannot be 'percent'"),
    "no field": (file_of(field_mm=None), "lacks 'field_mm'"),
    "no distance": (file_of(ssd_mm=None), "lacks 'ssd_mm'"),
    "profile without depth": (file_of("profile", profile(), depth_mm=None), "lacks 'depth_mm'"),
    "profile without axis": (file_of("profile", profile(), axis=None), "lacks 'axis'"),
    "axis in words": (file_of("profile", profile(), axis="crossline"), "Use x or y"),
    "unknown key": (file_of(gantry="0"), "unknown key 'gantry'"),
    "field in words": (file_of(field_mm="ten"), "field_mm is 'ten'"),
    "field in cm": (file_of(field_mm="4 x 4"), "in cm"),
    "distance in cm": (file_of(ssd_mm="100"), "cm"),
    "distance no number": (file_of(ssd_mm="far"), "no number"),
    "no column names": (file_of(columns="0,47"), "column names"),
    "nothing below": (file_of(body=""), "0 point"),
    "empty file": ("", "no points"),
    "single point": (file_of(body="100,66.7"), "1 point"),
    "too few points": (file_of(body="0,50\n50,90\n100,60"), "needs 8"),
    "not a number": (file_of(body=DEPTHS + "\n300,lost"), "'300,lost'"),
    "decimal comma": (file_of(body="0,0;48,2\n1,0;57,1"), "decimal point"),
    "nan": (file_of(body=DEPTHS + "\n300,nan"), "finite"),
    "infinite": (file_of(body=DEPTHS + "\ninf,3"), "finite"),
    "negative dose": (file_of(body=DEPTHS + "\n300,-0.2"), "negative"),
    "position twice": (file_of(body=DEPTHS + "\n290,29"), "comes twice, in lines 35 and 36"),
    "unsorted": (file_of(body=DEPTHS + "\n145,55"), "turn back at 145"),
    "all zero": (file_of(body="\n".join(f"{d},0" for d in range(0, 300, 10))), "zero"),
    "depths in cm": (
        file_of(body="\n".join(f"{d / 10},{100 * np.exp(-0.0045 * max(d - 15, 0)):.3f}" for d in range(0, 310, 10))),
        "are these in cm",
    ),
    "depth of no tank": (file_of(body=DEPTHS + "\n900,2"), "in no tank"),
    "profile in cm": (file_of("profile", profile(scale=0.1)), "are these in cm"),
    "profile of another field": (file_of("profile", profile(), field_mm="200"), "Check field"),
    "profile off centre": (file_of("profile", profile(shift=9.0)), "off the axis"),
    "profile beside the axis": (file_of("profile", "\n".join(f"{x},{90 - x}" for x in range(10, 80, 5))), "cross the axis"),
    "profile without dose": (
        file_of("profile", "\n".join(f"{x},{abs(x)}" for x in range(-80, 81, 5))),
        "no dose on the axis",
    ),
    "output in cm": (file_of("output", "4,0.93\n10,1\n20,1.06\n40,1.1"), "are these in cm"),
    "output of no field": (file_of("output", "100,1\n900,1.2"), "not credible"),
}  # fmt: skip


@pytest.mark.parametrize("mistake", WRONG)
def test_a_mistake_gives_one_sentence_that_names_the_file(mistake, tmp_path):
    text, words = WRONG[mistake]
    with pytest.raises(InputError) as told:
        read(tmp_path, text)
    assert words in str(told.value)
    assert "one.csv" in str(told.value)
    assert "\n" not in str(told.value)


def test_binary_is_refused(tmp_path):
    (tmp_path / "one.csv").write_bytes(b"\xff\xfe\x00\x81")
    with pytest.raises(InputError, match="cannot be read"):
        read_curve(tmp_path / "one.csv")


def test_folders(tmp_path):
    with pytest.raises(InputError, match="no such folder"):
        read_folder(tmp_path / "gone")
    with pytest.raises(InputError, match="no measured curves"):
        read_folder(tmp_path)
    (tmp_path / "a.csv").write_text(file_of())
    (tmp_path / "b.csv").write_text(file_of(energy_mv="10", field_mm="200"))
    with pytest.raises(InputError, match="6 and 10 MV are mixed"):
        read_folder(tmp_path)
    (tmp_path / "b.csv").unlink()
    (tmp_path / "notes.txt").write_text("not read")
    assert len(read_folder(tmp_path).curves) == 1


def test_forms_that_are_understood(tmp_path):
    other = file_of(field_mm="100").replace(": ", " = ").replace("position_mm,value", "position_mm ; value")
    curve, notes = read(tmp_path, "\ufeff" + other.replace(",", "\t"))
    assert curve.field_mm == (100.0, 100.0)
    assert notes == ()
    backwards = "\n".join(reversed(DEPTHS.splitlines()))
    curve, _ = read(tmp_path, file_of(body=backwards))
    assert np.all(np.diff(curve.position_mm) > 0)


def test_points_above_the_water_are_left_out_and_told(tmp_path):
    curve, notes = read(tmp_path, file_of(body="-4,2\n-2,3\n" + DEPTHS))
    assert curve.position_mm[0] == 0
    assert "2 points above the water" in notes[0]


def test_a_small_shift_is_taken_out_and_told(tmp_path):
    curve, notes = read(tmp_path, file_of("profile", profile(shift=1.2)))
    assert abs(float(curve.position_mm.mean())) < 0.05
    assert "-1.20 mm" in notes[0]


def test_edges_off_their_place_and_uneven_halves_are_told(tmp_path):
    _, notes = read(tmp_path, file_of("profile", profile(half=57.5)))
    assert any("+2.5 mm" in n for n in notes)
    x = np.arange(-90, 91, 2.0)
    tilted = "\n".join(
        f"{a},{b * (1 + 0.0006 * a):.4f}" for a, b in zip(x, 100 / (1 + np.exp((abs(x) - 55) / 1.5)), strict=True)
    )
    _, notes = read(tmp_path, file_of("profile", tilted))
    assert any("halves differ" in n for n in notes)


def test_a_peaked_profile_below_half_at_its_edge_is_no_mistake(tmp_path):
    x = np.arange(-260, 261, 2.0)
    peaked = 100 * np.exp(-np.abs(x) / 250) / (1 + np.exp((np.abs(x) - 220) / 2))
    body = "\n".join(f"{a:g},{b:.4f}" for a, b in zip(x, peaked, strict=True))
    curve, notes = read(tmp_path, file_of("profile", body, field_mm="400 x 400"))
    assert curve.position_mm.size == x.size
    assert notes == ()
