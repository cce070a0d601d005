"""``halfshade machine``: what it prints and writes, and one sentence for each mistake."""

from __future__ import annotations

import json

import numpy as np
import pytest

from app.__main__ import main
from app.core.caution import PLAIN
from engine.beams.machine_file import load_machine
from engine.commission.curves import text_of
from engine.commission.measured import read_folder
from tests.support.hidden_machine import measured, output, profile

HIDDEN = load_machine("generic-6").but(extra_focal_share=0.07)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Output factors of a machine with more head scatter, and one profile."""
    path = tmp_path_factory.mktemp("measured")
    for curve in measured(HIDDEN, (output(40.0, 60.0, 100.0, depth=30.0), profile(40.0, 30.0)), noise=0.001):
        (path / f"{curve.title}.csv").write_text(text_of(curve, "simulated"))
    return path


def test_show_gives_tables_curves_and_plots(tmp_path, capsys):
    out = tmp_path / "data"
    arguments = ["machine", "show", "point-6", "--fields", "50,100", "--out", str(out), "--json", str(tmp_path / "m.json")]
    assert main(arguments) == 0
    words = capsys.readouterr().out
    assert "TPR20,10" in words
    assert "Penumbra" in words
    data = json.loads((tmp_path / "m.json").read_text())
    assert [f["field_mm"] for f in data["fields"]] == [50, 100]
    assert data["quality"]["tpr_20_10"] == pytest.approx(0.669, abs=0.006)
    assert data["fields"][1]["scp"] == 1
    read = read_folder(out)
    assert len(read.curves) == 2 + 2 * 2 * 4 + 1
    assert read.notes == ()
    plots = {p.stem for p in out.glob("*.png")}
    assert {"depth-doses", "build-up", "output-factors", "spectrum", "profiles-x-d100"} <= plots
    assert set(data["files"]) == {p.name for p in out.iterdir()}


def test_report_holds_the_beam_against_published_values(capsys, tmp_path):
    from engine import compute
    from engine.commission.beam_data import BeamDataRequest, beam_data

    small = beam_data(BeamDataRequest(load_machine("point-6"), (50.0, 100.0), (100.0,)))
    before = compute.TABLE["BeamDataRequest"]
    compute.TABLE["BeamDataRequest"] = lambda request, report: small
    try:
        assert main(["machine", "show", "point-6", "--report", "--json", str(tmp_path / "r.json")]) == 0
    finally:
        compute.TABLE["BeamDataRequest"] = before
    words = capsys.readouterr().out
    assert "Med. Phys. 12, 592-597" in words
    assert "published values are met" in words
    checks = json.loads((tmp_path / "r.json").read_text())["checks"]
    assert all(c["within"] is None for c in checks if c["known"] == "memory")
    assert all(c["within"] is True for c in checks if c["known"] != "memory")


def test_check_accepts_and_refuses(tmp_path, capsys):
    assert main(["machine", "check", "generic-6"]) == 0
    assert "accepted" in capsys.readouterr().out
    bad = tmp_path / "bad.toml"
    bad.write_text('name = "bad"\nnominal_mv = 6\nspectrum = "spectrum_6mv.csv"\n[jaws]\ntransmission = 2\nwidth = 3\n')
    assert main(["machine", "check", str(bad), "--json", "-"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert not data["accepted"]
    assert len(data["problems"]) == 2


@pytest.mark.slow
def test_fit_writes_a_machine_that_loads_with_its_provenance(folder, tmp_path, capsys):
    out = tmp_path / "mine.toml"
    assert main(["machine", "fit", str(folder), "--out", str(out), "--json", str(tmp_path / "f.json")]) == 0
    words = capsys.readouterr().out
    assert "share of head scatter" in words
    assert "The spectrum stays that of the start" in words
    machine = load_machine(str(out))
    assert machine.name == "mine"
    assert "starting from generic-6" in machine.source
    assert machine.extra_focal_share == pytest.approx(0.07, abs=0.02)
    assert np.mean(machine.spectrum_mev) == pytest.approx(np.mean(HIDDEN.spectrum_mev))
    data = json.loads((tmp_path / "f.json").read_text())
    assert data["within_limits"]
    assert data["pass_rates"]["output factor"]["percent"] == 100
    assert {"mine.toml", "mine-spectrum.csv", "mine-plots"} <= {p.name for p in tmp_path.iterdir()}
    assert (tmp_path / "mine-plots" / "output-d30.png").stat().st_size > 5000
    assert main(["machine", "check", str(out)]) == 0


def test_a_model_that_misses_says_so_and_which_curve(folder, tmp_path, capsys, monkeypatch):
    from engine import compute
    from engine.commission.fit import Fit, Fitted
    from engine.commission.judge import judge

    def wrong(request, report):
        curve = next(c for c in request.curves if c.kind == "output")
        judged = (judge(curve, np.asarray(curve.position_mm), np.array([0.8, 0.9, 1.0])),)
        value = Fitted("extra_focal_share", "share of head scatter", "", 0.04, 0.2, 0.01, True, True)
        return Fit(request.start.but(name=request.name), (value,), judged, judged, ("a word",))

    monkeypatch.setitem(compute.TABLE, "FitRequest", wrong)
    assert main(["machine", "fit", str(folder), "--json", str(tmp_path / "f.json")]) == 0
    words = capsys.readouterr().out
    assert "THE MODEL DOES NOT KEEP THE LIMITS: output factor" in words
    assert "Outside most: output" in words
    assert "at the end of its range" in words
    data = json.loads((tmp_path / "f.json").read_text())
    assert not data["within_limits"]
    assert not data["start_suits"]


MISTAKES = {
    "no such machine": (["show", "gone"], "no machine 'gone'"),
    "fields in words": (["show", "point-6", "--fields", "small"], "small"),
    "fields in cm": (["show", "point-6", "--fields", "4,10"], "from 10"),
    "no such file": (["check", "gone.toml"], "gone.toml"),
    "no folder": (["fit", "gone"], "no such folder"),
    "empty folder": (["fit", "empty"], "no measured curves"),
    "a curve without header": (["fit", "headless"], "lacks 'kind'"),
    "no energy": (["fit", "nameless"], "energy"),
    "an energy without machine": (["fit", "odd"], "no generic machine of 23 MV"),
    "another energy than the start": (["fit", "odd", "--start", "generic-6"], "23 MV"),
    "an output that is no TOML": (["fit", "odd", "--out", "x.txt"], "x.txt"),
    "an output that is there": (["fit", "odd", "--out", "have.toml"], "exists already"),
    "an output folder that is not there": (["fit", "odd", "--out", "gone/x.toml"], "gone/x.toml"),
}  # fmt: skip
BODY = "position_mm,value\n40,0.9\n60,0.95\n100,1\n"


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_gives_one_sentence_code_1_and_leaves_nothing(mistake, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    head = "# kind: output\n# ssd_mm: 900\n# depth_mm: 100\n"
    for name, text in (("headless", BODY), ("nameless", head + BODY), ("odd", head + "# energy_mv: 23\n" + BODY)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.csv").write_text(text)
    (tmp_path / "empty").mkdir()
    (tmp_path / "have.toml").write_text("")
    before = sorted(p.name for p in tmp_path.iterdir())
    arguments, words = MISTAKES[mistake]
    assert main(["machine", *arguments]) == 1
    out, err = capsys.readouterr()
    assert words in err
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in out + err
    assert sorted(p.name for p in tmp_path.iterdir()) == before


@pytest.mark.parametrize("what", ["show", "check", "fit"])
def test_every_choice_explains_itself_with_the_caution(what, capsys):
    with pytest.raises(SystemExit) as stop:
        main(["machine", what, "--help"])
    assert stop.value.code == 0
    words = " ".join(capsys.readouterr().out.split())
    assert " ".join(PLAIN.split()[:8]) in words
    assert ("# kind: profile" in words) == (what == "fit")


def test_the_example_in_the_help_can_be_read(tmp_path):
    from app.commands.machine_fit import EPILOG

    head = [line.strip() for line in EPILOG.splitlines() if line.startswith("  # ")]
    body = [f"{x},{100 if abs(x) < 55 else 2}" for x in range(-80, 81, 2)]
    (tmp_path / "a.csv").write_text("\n".join([*head, "position_mm,value", *body]))
    curve = read_folder(tmp_path).curves[0]
    assert (curve.kind, curve.axis, curve.depth_mm, curve.detector_mm) == ("profile", "x", 100, 0.8)
