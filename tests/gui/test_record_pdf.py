"""The record as PDF: complete or not there, and every picture, number and answer in it."""

from __future__ import annotations

import re

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage

from app.report import record_pdf
from app.report.paper import png
from app.report.record_pdf import write_pdf
from engine.base.errors import StoreError
from engine.base.values import frozen_array
from engine.review import record as records
from engine.review.record import Picture, seal
from tests.gui.test_decision import statement
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


def picture(title, colour="navy", size=(960, 720)):
    image = QImage(*size, QImage.Format.Format_RGB32)
    image.fill(QColor(colour))
    return Picture(title, "somewhere", frozen_array(np.frombuffer(png(image), dtype=np.uint8)))


@pytest.fixture
def sealed(qapp, monkeypatch):
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)

    def make(**changes):
        return seal(statement(**changes), "correct horse", ())

    return make


def pages(path):
    """Count the page objects (ISO 32000-1, 7.7.3.3: every page is a dictionary of /Type /Page)."""
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", path.read_bytes()))


def test_the_file_is_a_whole_pdf_with_two_pictures_a_page(sealed, tmp_path):
    shown = tuple(picture(f"Picture {i}") for i in range(5))
    path = tmp_path / "record.pdf"
    write_pdf(path, planned_case(), sealed(seen=tuple(p.title for p in shown)), shown)
    data = path.read_bytes()
    assert data.startswith(b"%PDF-")
    assert data.rstrip().endswith(b"%%EOF")
    assert pages(path) == 1 + 3
    assert list(tmp_path.iterdir()) == [path]


def test_long_lists_go_on_over_pages(sealed, tmp_path):
    short, long = tmp_path / "short.pdf", tmp_path / "long.pdf"
    write_pdf(short, planned_case(), sealed(), ())
    findings = tuple((f"hot-spot/{i}", "Found something at some place. " * 6, "It may stay. " * 10) for i in range(60))
    write_pdf(long, planned_case(), sealed(findings=findings, comment="A comment. " * 200), ())
    assert pages(long) >= pages(short) + 3


def test_what_is_written_stays_inside_the_page(sealed, tmp_path, monkeypatch):
    """Every line and picture ends above the foot line and right of the margin, whatever its length."""
    ends = []
    original = record_pdf._Pages.line

    def watched(self, *args, **kwargs):
        original(self, *args, **kwargs)
        ends.append(self.y)

    monkeypatch.setattr(record_pdf._Pages, "line", watched)
    findings = tuple((f"code/{i}", "word " * (5 * i), "reason " * i) for i in range(40))
    write_pdf(tmp_path / "r.pdf", planned_case(), sealed(findings=findings), (picture("Tall", size=(720, 960)),))
    assert max(ends) <= record_pdf.HEIGHT - record_pdf.MARGIN - 42


def test_it_names_reviewer_decision_findings_and_what_was_opened(sealed, tmp_path, monkeypatch):
    said = []
    for name in ("line", "pair"):
        original = getattr(record_pdf._Pages, name)
        monkeypatch.setattr(
            record_pdf._Pages,
            name,
            lambda self, *a, _o=original, **k: (said.append(" ".join(map(str, a[:2]))), _o(self, *a, **k)),
        )
    record = sealed(
        numbers=(("Prescription", "60 Gy in 30 fractions to PTV"),),
        findings=(("hot-spot/max", "It is 118 %.", "Small. (A. Reviewer)"),),
        comment="As discussed.",
        seen=("One",),
    )
    write_pdf(tmp_path / "r.pdf", planned_case(), record, (picture("One"), picture("Two")))
    text = "\n".join(said)
    for words in ("APPROVED", "A. Reviewer, physician", "As discussed.", "60 Gy in 30 fractions to PTV", "It is 118 %.",
                  "Small. (A. Reviewer)", "1 of 2 were opened", record.public_key, record.signature):  # fmt: skip
        assert words in text


def test_a_folder_that_is_not_there_is_told_and_nothing_is_left(sealed, tmp_path):
    with pytest.raises(StoreError, match="cannot be written"):
        write_pdf(tmp_path / "missing" / "record.pdf", planned_case(), sealed(), ())


def test_an_earlier_file_survives_a_failure(sealed, tmp_path, monkeypatch):
    path = tmp_path / "record.pdf"
    path.write_bytes(b"earlier")

    def broken(self, image):
        raise RuntimeError("stopped half-way")

    monkeypatch.setattr(record_pdf._Pages, "image", broken)
    with pytest.raises(RuntimeError):
        write_pdf(path, planned_case(), sealed(), (picture("One"),))
    assert path.read_bytes() == b"earlier"
    assert list(tmp_path.iterdir()) == [path]


def test_the_rule_of_end_slices_is_printed(sealed, tmp_path, monkeypatch):
    lines = []
    write = record_pdf._Pages.line
    monkeypatch.setattr(
        record_pdf._Pages, "line", lambda self, text, *a, **k: (lines.append(text), write(self, text, *a, **k))
    )
    write_pdf(tmp_path / "record.pdf", planned_case(), sealed(), ())
    assert any("half a slice spacing to both sides" in text for text in lines)
