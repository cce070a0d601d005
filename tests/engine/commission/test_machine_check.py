"""Every problem of a machine file is named, once, with its place."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine, shipped_machines
from engine.commission.machine_check import check_machine, parts_of, unusual

GOOD = 'name = "mine"\nnominal_mv = 6\nspectrum = "spectrum_6mv.csv"\nsource = "test"\n'


def check(tmp_path, text):
    path = tmp_path / "mine.toml"
    path.write_text(text)
    return check_machine(str(path))


@pytest.mark.parametrize("name", shipped_machines())
def test_machines_that_come_along_are_accepted(name):
    assert check_machine(name).problems == ()


def test_a_good_file(tmp_path):
    found = check(tmp_path, GOOD)
    assert found.problems == found.warnings == ()
    assert not any(on for _, on in found.parts)


PROBLEMS = {
    "no TOML": ("name = [", ["not valid TOML"]),
    "empty": ("", ["'name' is missing", "'nominal_mv' is missing", "'spectrum' is missing"]),
    "text for a number": (GOOD.replace("= 6", '= "six"'), ["nominal_mv cannot be 'six'"]),
    "spectrum that is not there": (GOOD.replace("spectrum_6mv", "gone"), ["gone.csv"]),
    "unknown section": (GOOD + "[collimators]\nx = 1\n", ["unknown section [collimators]"]),
    "two wrong keys": (GOOD + '[jaws]\ntransmission = 2\nupper = "Z"\n', ["jaw transmission", "upper jaws"]),
    "two wrong sections": (GOOD + "[focal_spot]\nfwhm_mm = [1.0]\n[jaws]\nwidth = 1\n", ["fwhm_mm", "'width'"]),
    "half a table": (GOOD + "[off_axis]\nradius_mm = [0.0, 100.0]\n", ["off-axis fluence table"]),
    "a table that does not start at the axis": (
        GOOD + "[off_axis]\nradius_mm = [10.0, 100.0]\nfluence = [1.0, 1.0]\n",
        ["off-axis fluence table"],
    ),
    "leaves of no width": (GOOD + "[leaves]\nwidths = [[40, -5.0]]\n", ["leaf boundaries must ascend"]),
    "sections at odds": (GOOD + "[extra_focal]\nshare = 0.05\ndistance_mm = 390\n", ["order along the beam"]),
    "a section that is none": (GOOD + "jaws = 3\n", ["jaws"]),
}  # fmt: skip


@pytest.mark.parametrize("case", PROBLEMS)
def test_every_problem_is_named_once(case, tmp_path):
    text, words = PROBLEMS[case]
    found = check(tmp_path, text)
    assert len(found.problems) == len(words)
    for word in words:
        assert sum(word in p for p in found.problems) == 1
    assert all("\n" not in p for p in found.problems)


def test_unusual_values_are_warned_of_and_nothing_more(tmp_path):
    found = check(tmp_path, GOOD + "[focal_spot]\nfwhm_mm = [7.0, 2.0]\n[jaws]\ntransmission = 0.05\n")
    assert found.problems == ()
    assert len(found.warnings) == 2
    assert all("[memory]" in w for w in found.warnings)
    assert "focal spot X" in found.warnings[0]


def test_a_spectrum_of_another_beam_is_unusual():
    machine = load_machine("point-10").but(nominal_mv=6.0)
    assert any("mean photon energy" in w for w in unusual(machine))
    assert any("highest photon energy" in w for w in unusual(machine))


def test_a_file_without_source_and_a_short_horn_are_told():
    m = load_machine("generic-6")
    assert unusual(m) == ()
    assert any("how its values are known" in w for w in unusual(m.but(source="")))
    assert any("ends at 100 mm" in w for w in unusual(m.but(horn_mm=(0.0, 100.0), horn_fluence=(1.0, 1.02))))


def test_parts_of_an_ideal_and_a_whole_machine():
    assert [name for name, on in parts_of(load_machine("point-6")) if on] == ["leaves"]
    assert [name for name, on in parts_of(load_machine("generic-6").but(wedges=())) if not on] == ["wedges"]


def test_no_file():
    with pytest.raises(InputError, match="no machine file"):
        check_machine("gone.toml")
