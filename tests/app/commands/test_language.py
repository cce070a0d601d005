"""What a command prints for people is in their language; what it writes for programs never is."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest
from PySide6.QtCore import QCoreApplication

from app.__main__ import main
from engine.store.case_file import CaseFile
from tests.support.brackets import Brackets, bare_words
from tests.support.cases import planned_case


@pytest.fixture
def brackets(qapp):
    """The language of brackets."""
    translator = Brackets()
    assert QCoreApplication.installTranslator(translator)
    yield translator
    QCoreApplication.removeTranslator(translator)


@pytest.fixture
def case_file(tmp_path):
    """A case with a plan and no dose."""
    path = tmp_path / "case.halfshade"
    CaseFile.create(path, planned_case(), "created", "").close()
    return path


def test_findings_are_printed_in_the_persons_language(brackets, case_file, capsys):
    assert main(["check", "--case", str(case_file)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert "⟦stop⟧ ⟦No dose has been computed.⟧" in lines
    names = {v.name for v in planned_case().volumes}
    assert all(line.startswith("⟦") and not bare_words(line, names) for line in lines)


def test_json_stays_as_programs_know_it(brackets, case_file, capsys):
    assert main(["check", "--case", str(case_file), "--json", "-"]) == 0
    text = capsys.readouterr().out
    assert "⟦" not in text
    data = json.loads(text)
    assert "No dose has been computed." in [f["evidence"] for f in data["findings"]]
    assert data["dose"] == "none"


def test_a_refusal_and_the_help_are_in_the_persons_language(brackets, case_file, capsys):
    assert main(["check", "--case", str(case_file), "--draft", "X"]) == 1
    assert "⟦there is no draft 'X'⟧. ⟦Use one of 'Draft 1'.⟧" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main(["check", "--help"])
    said = " ".join(capsys.readouterr().out.split())
    assert "⟦which draft (the last)⟧" in said
    assert "⟦Research and education. Not a medical device." in said


def test_a_screen_that_lacks_a_letter_gets_the_sentence_all_the_same(case_file):
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    missing = case_file.with_name("größe.halfshade")
    command = [sys.executable, "-m", "app", "check", "--case", str(missing)]
    said = subprocess.run(command, capture_output=True, env=environment, check=False)
    assert said.returncode == 1
    assert b"Traceback" not in said.stderr
    assert rb"gr\xf6" in said.stderr
