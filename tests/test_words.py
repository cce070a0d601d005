"""Every sentence for people can be translated: templates with values, all of them in the file translators start from."""

from __future__ import annotations

import ast
import re
import string
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import PySide6
import pytest
from PySide6.QtCore import QCoreApplication

from app.core import language
from engine.base.words import listed, say, say_count, told
from engine.volumes.volume import ROLES
from tests.engine.review.test_checks import TRIPS, found
from tests.support import translations as t
from tests.support.brackets import bare_words
from tests.support.cases import planned_case

SENTENCE = re.compile(r"[A-Za-z]{2,} +[a-z(]")

# Words that are not told to people but kept: content of files and records, sources of numbers, names of data.
KEPT = {
    "engine/base/sources.py",  # how a number is known
    "engine/commission/machine_text.py",  # text of machine files
    "engine/dicom/common.py",  # notes inside DICOM files
    "engine/dicom/ct_files.py",
    "engine/evaluation/indices.py",  # formulas of the JSON
    "engine/image/density.py",  # the source of the default curve
    "engine/phantoms/finish.py",  # notes of the synthetic patients
    "engine/phantoms/goals.py",
    "engine/review/record.py",  # the bytes that are signed
    "engine/review/statement.py",  # numbers as they are signed
    "engine/store/case_file.py",  # SQL
    "engine/store/migrate.py",
}
CODES = {
    "copy slice", "fill holes", "remove islands", "keep inside", "keep outside",  # operations on volumes
    "ring inside", "smooth through", "fill cavities", "keep largest", "either alone", "ct range",
    "must start at 0",  # part of a message that is looked for
    "out of date", "plan changed", "dose changed", "other draft",  # states; the screens have sentences for them
    "ct series", "dose series", "plan series", "structures series", "dose reference",  # parts of identifiers
    "study date", "study description",  # names of scanner facts
    "Quick dose, not for approval",  # a comment inside an RT Dose
    "Synthetic head (demonstration)", "Synthetic pelvis, bladder full (demonstration)",  # names of images
    "Synthetic chest, arms up (demonstration)",
    "each slice fills the slab of one plane spacing about its plane; dose trilinear between voxel centres",  # JSON
}  # fmt: skip


def test_the_source_file_of_translations_is_up_to_date():
    written, wanted = texts_in(t.FILE.read_text(encoding="utf-8")), texts_in(t.document(t.collect()))
    assert written == wanted, f"run: python -m tests.support.translations; it differs in {sorted(written ^ wanted)}"


def texts_in(document: str) -> set[tuple[str, str, str]]:
    """Return (context, source, whether number plays a part) of a translation file; where a text stands does not count."""
    return {
        (context.findtext("name") or "", message.findtext("source") or "", message.get("numerus", ""))
        for context in ElementTree.fromstring(document).iter("context")
        for message in context.iter("message")
    }


def test_every_text_can_be_read_from_the_source():
    assert t.collect().unreadable == [], "a text for people is a literal where it is made"


def test_words_for_people_are_no_joined_strings():
    joined = []
    for path, tree in t.sources():
        if not path.startswith(("engine/", "app/commands/")):
            continue
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call):
                continue
            for word in (w for given in t.words_of(node) for w in t.alternatives(given)):
                added = isinstance(word, ast.BinOp) and isinstance(word.op, (ast.Add, ast.Mod))
                if (isinstance(word, ast.JoinedStr) and has_words(word)) or (added and any(map(has_words, ast.walk(word)))):
                    joined.append(f"{path}:{word.lineno}: {ast.unparse(word)}")
    assert not joined, "use say(template, name=value):\n" + "\n".join(joined)


def has_words(node: ast.AST) -> bool:
    """Whether a string (formatted or not) holds letters of its own."""
    if isinstance(node, ast.JoinedStr):
        return any(isinstance(v, ast.Constant) and any(map(str.isalpha, str(v.value))) for v in node.values)
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and any(map(str.isalpha, node.value))


def test_no_sentence_of_the_engine_stands_outside_a_template():
    known = {source for context, source in t.collect().texts if context == t.WORDS}
    known |= {text.one for text in t.collect().texts.values()}
    loose = []
    for path, tree in t.sources():
        if not path.startswith("engine/") or path in KEPT:
            continue
        for node in bugs_left_out(tree):
            if isinstance(node, ast.JoinedStr):
                text = " ".join(str(v.value) for v in node.values if isinstance(v, ast.Constant))
            else:
                text = t.literal(node) or ""
            if SENTENCE.search(text) and text not in known | CODES:
                loose.append(f"{path}:{node.lineno}: {ast.unparse(node)}")
    assert not loose, "use say(template, name=value):\n" + "\n".join(loose)


def bugs_left_out(node: ast.AST):
    """Walk without doc strings, parts of formatted strings, and what is said by exceptions that are our own bugs."""
    yield node
    if isinstance(node, ast.JoinedStr):
        return
    for child in ast.iter_child_nodes(node):
        bug = isinstance(child, ast.Call) and t.callee(child) in t.BUGS
        remark = isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant)
        if not bug and not remark:
            yield from bugs_left_out(child)


def test_fields_of_every_template_have_values():
    wrong = []
    for path, tree in t.sources():
        for node in ast.walk(tree):
            if not (isinstance(node, ast.Call) and t.callee(node) in ("say", "say_count")):
                continue
            count = 2 if t.callee(node) == "say_count" else 1
            given = {k.arg for k in node.keywords} | ({"count"} if count == 2 else set())
            for template in map(t.literal, node.args[:count]):
                if template is None or None in given:
                    continue
                asked = {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}
                if not asked <= given or (count == 1 and asked != given):
                    wrong.append(f"{path}:{node.lineno}: {template!r} is given {sorted(map(str, given))}")
                if "%n" in template or "%Ln" in template:
                    wrong.append(f"{path}:{node.lineno}: %n has a meaning of its own in Qt")
    assert not wrong, "\n".join(wrong)


def test_words_among_the_values_are_told_through_say_too():
    plain = []
    for path, tree in t.sources():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and t.callee(node) in ("say", "say_count"):
                for value in (v for k in node.keywords for v in t.alternatives(k.value)):
                    text = t.literal(value) or ""
                    if not text.startswith("[") and len(re.findall("[^\\W\\d_]", text)) > 1:
                        plain.append(f"{path}:{node.lineno}: {ast.unparse(value)}")
    assert not plain, "a plain string among the values is a name and never translated:\n" + "\n".join(plain)


@pytest.mark.parametrize("code", TRIPS)
def test_every_finding_is_told_in_another_language(code):
    known = {source for context, source in t.collect().texts if context == t.WORDS}
    case = TRIPS[code](planned_case())
    names = {v.name for v in case.volumes} | {b.name for d in case.drafts for b in d.beams} | {d.name for d in case.drafts}
    names |= {m.name for m in case.machines} | {*ROLES, case.curve.name, "mm", "Gy", "HU", "MU", "cm³", "Mean", "EXTERNAL"}
    names |= {g.metric for d in case.drafts for g in d.goals}
    for finding in found(case):
        for words in (finding.rule, finding.evidence):
            shown = told(words, lambda template, count: f"⟦{template}⟧" if template in known else template)
            assert not bare_words(shown, names), f"{finding.code}: {shown}"


def compiled(folder: Path, words: dict[tuple[str, str], tuple[str, ...]]) -> None:
    """Compile a German translation of some texts with Qt's own tool."""
    root = ElementTree.fromstring(t.FILE.read_text(encoding="utf-8"))
    root.set("language", "de_DE")
    for context in root.iter("context"):
        for message in context.iter("message"):
            forms = words.get((context.findtext("name") or "", message.findtext("source") or ""))
            translation = message.find("translation")
            if forms is None or translation is None:
                continue
            del translation.attrib["type"]
            if message.get("numerus"):
                translation.clear()
                for form in forms:
                    ElementTree.SubElement(translation, "numerusform").text = form
            else:
                translation.text = forms[0]
    (folder / "halfshade_de.ts").write_text(ElementTree.tostring(root, encoding="unicode"), encoding="utf-8")
    tool = Path(PySide6.__file__).parent / ("lrelease.exe" if sys.platform == "win32" else "lrelease")
    made = subprocess.run([tool, "-silent", folder / "halfshade_de.ts"], capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stderr


@pytest.fixture
def german(tmp_path, qapp):
    """A German translation of a few texts, installed."""
    many = "{count} slices between painted ones hold nothing"
    compiled(
        tmp_path,
        {
            ("Words", "beam {name}"): ("Feld {name}",),
            ("Words", many): ("{count} Schicht dazwischen ist leer", "{count} Schichten dazwischen sind leer"),
            ("Rail", "Stations"): ("Stationen",),
        },
    )
    assert language.install(tmp_path, ("de-AT",))
    yield
    QCoreApplication.removeTranslator(language._loaded.pop())


def test_a_compiled_translation_is_loaded_for_the_language_of_the_system(german):
    assert language.translated(say("beam {name}", name="7")) == "Feld 7"
    one, many = "{count} slice between painted ones holds nothing", "{count} slices between painted ones hold nothing"
    assert language.translated(say_count(one, many, 1)) == "1 Schicht dazwischen ist leer"
    assert language.translated(say_count(one, many, 3)) == "3 Schichten dazwischen sind leer"
    assert language.translated(listed([say("beam {name}", name="A"), "B"])) == "Feld A, B"
    assert language.translated(say("there is no draft {name!r}", name="X")) == "there is no draft 'X'"


def test_nothing_is_loaded_where_no_translation_is_there(tmp_path):
    assert not language.install(tmp_path)
    assert not language.install(tmp_path / "missing", ("de",))
    (tmp_path / "halfshade_de.qm").write_bytes(b"no translation")
    assert not language.install(tmp_path, ("de",))
    assert not language.install(tmp_path, ("en-GB", "de"))
    asked = "import sys, app.__main__ as m; m.install(m.assets.path('translations')); print('PySide6' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True, cwd=t.ROOT)
    assert said.stdout.strip() == "False"
