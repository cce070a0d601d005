"""The command line as a script of the practice calls it: exit codes, JSON keys, one sentence for each mistake."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from app.__main__ import COMMANDS, main
from app.core.caution import PLAIN
from engine.dicom.ct_files import write_ct
from engine.dicom.dose import read_dose
from engine.store.case_file import CaseFile
from tests.support.cases import planned_case

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A CT folder, a case file with two beams, and its exported RT objects."""
    folder = tmp_path_factory.mktemp("made")
    case = planned_case()
    image = write_ct(case.image, case.patient, folder / "ct")
    case = case.but(image=image)
    CaseFile.create(folder / "case.halfshade", case).close()
    assert main(["export", "--case", str(folder / "case.halfshade"), "--out", str(folder / "rt")]) == 0
    return folder


def run_json(capsys, *arguments):
    code = main([*map(str, arguments), "--json", "-"])
    return code, json.loads(capsys.readouterr().out)


def test_dose_of_the_case_equals_dose_of_its_exported_plan(made, tmp_path, capsys):
    one, two = tmp_path / "one.dcm", tmp_path / "two.dcm"
    code, data = run_json(capsys, "dose", "--case", made / "case.halfshade", "--out", one, "--grid-mm", "5")
    assert code == 0
    assert [b["machine"] for b in data["beams"]] == ["point-6", "point-6"]
    arguments = ("--ct", made / "ct", "--plan", made / "rt" / "RP.dcm", "--structures", made / "rt" / "RS.dcm")
    code, _ = run_json(capsys, "dose", *arguments, "--out", two, "--grid-mm", "5")
    assert code == 0
    a, b = read_dose(one), read_dose(two)
    assert a.gy.max() == pytest.approx(data["max_gy"], rel=1e-6)
    # Contours round the body edge a little; inside, the dose is the same.
    inner = (slice(4, -4), slice(6, -6), slice(6, -6))
    assert a.gy.shape == b.gy.shape
    assert np.abs(a.gy - b.gy)[inner].max() < 0.01 * a.gy.max()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["one.dcm", "two.dcm"]


def test_evaluate_judges_the_goals_of_a_file(made, tmp_path, capsys):
    goals = tmp_path / "goals.toml"
    head, row = 'name = "G"\n', '[[goals]]\nvolume = "{}"\nmetric = "{}"\nlimit = "{}"\n'
    rows = [row.format("ptv", "Max[Gy]", ">= 1 Gy"), row.format("Heart", "Mean[Gy]", "<= 26 Gy")]
    goals.write_text(head + "".join(rows))
    arguments = ["--dose", made / "rt" / "RD.dcm", "--structures", made / "rt" / "RS.dcm", "--ct", made / "ct"]
    code, data = run_json(capsys, "evaluate", *arguments, "--goals", goals)
    assert code == 0
    assert [(g["volume"], g["state"]) for g in data["goals"]] == [("PTV", "met"), ("Heart", "not judged")]
    assert main(["evaluate", *map(str, arguments), "--goals", str(goals)]) == 0
    said = capsys.readouterr().out
    assert "PTV Max[Gy] ≥ 1: " in said
    assert "Heart Mean[Gy] ≤ 26: not judged, there is no such volume" in said
    goals.write_text(head + row.format("PTV", "Max[Gx]", ">= 1 Gy"))
    assert main(["evaluate", *map(str, arguments), "--goals", str(goals)]) == 1
    assert f"{goals}, line 4: Max[Gx]: at character 5" in capsys.readouterr().err


def test_evaluate_gives_the_agreed_keys(made, capsys):
    arguments = ("--dose", made / "rt" / "RD.dcm", "--structures", made / "rt" / "RS.dcm", "--ct", made / "ct")
    code, data = run_json(capsys, "evaluate", *arguments, "--metric", "PTV:V57Gy[%]", "--prescription-gy", "60")
    assert code == 0
    ptv = data["volumes"]["PTV"]
    assert {"volume_cm3", "min_gy", "max_gy", "mean_gy", "median_gy", "d_gy"} <= set(ptv)
    assert {"2", "50", "95", "98"} <= set(ptv["d_gy"])
    assert ptv["d_gy"]["95"] == pytest.approx(60, rel=0.01)  # the plan is normalised to it
    assert ptv["volume_cm3"] == pytest.approx(33.5, rel=0.05)


def test_intake_writes_a_case_with_the_body_and_lists_what_it_found(made, tmp_path, capsys):
    path = tmp_path / "new.halfshade"
    code, data = run_json(capsys, "intake", made / "ct", "--case", path)
    assert code == 0
    assert [s["accepted"] for s in data["series"]] == [True]
    with CaseFile.open(path) as file:
        assert file.case().body.coverage.volume_cm3 == pytest.approx(planned_case().body.coverage.volume_cm3, rel=0.05)
    assert main(["intake", str(made / "ct"), "--case", str(path)]) == 1
    assert "exists already" in capsys.readouterr().err


def test_check_reports_findings_and_a_missing_dose_is_one_of_them(made, capsys):
    code, data = run_json(capsys, "check", "--case", made / "case.halfshade")
    assert code == 0
    found = {f["code"]: f for f in data["findings"]}
    assert found["dose-none"]["severity"] == "stop"
    assert found["dose-none"]["open"]
    code, data = run_json(capsys, "check", "--case", made / "case.halfshade", "--compute")
    assert data["dose"] == "current"
    assert "dose-none" not in {f["code"] for f in data["findings"]}


def test_seal_verify_of_an_unsigned_case_says_so(made, capsys):
    code, data = run_json(capsys, "seal", "verify", made / "case.halfshade")
    assert code == 1
    assert data["intact"]
    assert data["records"] == []


MISTAKES = {
    "no such case": (["check", "--case", "gone.halfshade"], "no such case file"),
    "a case that is none": (["check", "--case", "junk"], "not a Halfshade case"),
    "an empty folder": (["intake", "empty", "--case", "x.halfshade"], "empty"),
    "a missing folder": (["intake", "gone", "--case", "x.halfshade"], "gone"),
    "a plan that is none": (["dose", "--ct", "CT", "--plan", "junk", "--out", "x.dcm"], "junk"),
    "a CT without plan": (["dose", "--ct", "CT", "--out", "x.dcm"], "--ct needs --plan"),
    "a plan beside a case": (["dose", "--case", "CASE", "--plan", "RD", "--out", "x.dcm"], "--plan has no meaning"),
    "a draft beside a CT": (["dose", "--ct", "CT", "--plan", "RD", "--draft", "A", "--out", "x.dcm"], "--draft has no"),
    "a grid out of range": (["dose", "--case", "CASE", "--out", "x.dcm", "--grid-mm", "0.1"], "between 1 and 10"),
    "an unknown machine": (["dose", "--case", "CASE", "--out", "x.dcm", "--machine", "none"], "no machine"),
    "an unknown draft": (["dose", "--case", "CASE", "--draft", "D9", "--out", "x.dcm"], "no draft"),
    "an output folder that is not there": (["dose", "--case", "CASE", "--out", "gone/x.dcm"], "does not exist"),
    "a metric without volume": (["evaluate", "--dose", "RD", "--structures", "RS", "--metric", "Max[Gy]"], "VOLUME:METRIC"),
    "a metric without unit": (["evaluate", "--dose", "RD", "--structures", "RS", "--metric", "PTV:V20"], "V20"),
    "goals that are no file": (["evaluate", "--dose", "RD", "--structures", "RS", "--goals", "none.toml"], "none.toml"),
    "a volume that is not there": (["evaluate", "--dose", "RD", "--structures", "RS", "--metric", "Nose:Max[Gy]"], "Nose"),
    "a dose that is none": (["evaluate", "--dose", "RS", "--structures", "RS"], "RS.dcm"),
    "an unknown demonstration": (["demo", "--patient", "knee", "--out", "d"], "knee"),
}  # fmt: skip


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_gives_one_sentence_code_1_and_leaves_nothing(mistake, made, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "junk").write_text("hello")
    (tmp_path / "empty").mkdir()
    before = sorted(p.name for p in tmp_path.iterdir())
    named = {"CT": made / "ct", "CASE": made / "case.halfshade", "RD": made / "rt/RD.dcm", "RS": made / "rt/RS.dcm"}
    arguments, words = MISTAKES[mistake]
    assert main([str(named.get(a, a)) for a in arguments]) == 1
    out, err = capsys.readouterr()
    assert words in err
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in out + err
    assert sorted(p.name for p in tmp_path.iterdir()) == before


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself_with_the_caution(name, capsys):
    with pytest.raises(SystemExit) as stop:
        main([name, "--help"])
    assert stop.value.code == 0
    assert " ".join(PLAIN.split()[:8]) in " ".join(capsys.readouterr().out.split())


def test_verifying_seals_explains_itself_with_the_caution(capsys):
    with pytest.raises(SystemExit):
        main(["seal", "verify", "--help"])
    assert PLAIN in " ".join(capsys.readouterr().out.split())


def test_a_mistyped_command_is_told_instead_of_opening_a_window(capsys):
    assert main(["evalute"]) == 2
    said = capsys.readouterr().err
    assert "'evalute'" in said
    assert "evaluate" in said


def test_what_is_asked_of_a_dose_is_printed_and_so_is_why_it_cannot_be_told(made, capsys):
    arguments = ["evaluate", "--dose", str(made / "rt" / "RD.dcm"), "--structures", str(made / "rt" / "RS.dcm")]
    _, data = run_json(capsys, *arguments, "--metric", "PTV:V20Gy[%]")
    assert main([*arguments, "--metric", "PTV:V20Gy[%]", "--metric", "PTV:D95%[%]"]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if line.startswith("PTV: ")]
    assert f"V20Gy[%] = {data['volumes']['PTV']['metrics']['V20Gy[%]']:.2f}" in lines[0]
    assert "D95%[%] cannot be told" in lines[0]
    assert "relative to the prescription" in lines[1]


def test_wrong_usage_is_code_2():
    with pytest.raises(SystemExit) as stop:
        main(["dose"])
    assert stop.value.code == 2


def test_the_window_is_not_loaded_for_a_command():
    code = "import sys; from app.__main__ import main; main(['check', '--case', 'x']); print('app.window' in sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"
