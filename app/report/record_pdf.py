"""The sealed record as PDF: decision, numbers, findings, then every picture that was signed."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QMarginsF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFontMetricsF, QImage, QPageLayout, QPageSize, QPainter, QPdfWriter, QPen

from app.core.caution import caution
from app.report.paper import INK, QUIET, RULE, STATE_COLOURS, font
from engine.base.errors import StoreError
from engine.base.words import say
from engine.case.case import Case
from engine.review.record import Picture, Record

DPI = 150
WIDTH, HEIGHT, MARGIN = 1240, 1754, 80  # A4 at DPI
PICTURE_WIDTH = 880.0


class _Pages:
    """Writes downwards and turns the page when there is no room."""

    def __init__(self, writer: QPdfWriter, painter: QPainter, head: str, digest: str) -> None:
        self._writer, self.painter, self._head, self._digest = writer, painter, head, digest
        self.y, self._number = 0.0, 0
        self._start()

    def page(self) -> None:
        """Go on at the top of a page."""
        self._writer.newPage()
        self._start()

    def room(self, height: float) -> None:
        """Make sure `height` fits on the page."""
        if self.y + height > HEIGHT - MARGIN - 60:
            self.page()

    def line(self, text: str, px: float = 21, bold: bool = False, colour: object = INK, indent: float = 0.0) -> None:
        """Write a wrapped paragraph."""
        self.painter.setFont(font(px, bold))
        width = WIDTH - 2 * MARGIN - indent
        flags = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft)
        box = QFontMetricsF(self.painter.font(), self.painter.device()).boundingRect(QRectF(0, 0, width, 1e5), flags, text)
        self.room(box.height() + 8)
        self.painter.setFont(font(px, bold))  # a new page has set its own
        self.painter.setPen(colour)  # type: ignore[call-overload]
        self.painter.drawText(QRectF(MARGIN + indent, self.y, width, box.height() + 4), flags, text)
        self.y += box.height() + 8

    def pair(self, name: str, text: str) -> None:
        """Write a name and what belongs to it."""
        self.painter.setFont(font(19))
        left, width = 420.0, WIDTH - 2 * MARGIN - 430.0
        flags = int(Qt.TextFlag.TextWordWrap | Qt.TextFlag.TextWrapAnywhere | Qt.AlignmentFlag.AlignLeft)
        if " " in text:
            flags &= ~int(Qt.TextFlag.TextWrapAnywhere)
        metrics = QFontMetricsF(self.painter.font(), self.painter.device())
        a = metrics.boundingRect(QRectF(0, 0, left, 1e5), flags, name)
        b = metrics.boundingRect(QRectF(0, 0, width, 1e5), flags, text)
        height = max(a.height(), b.height())
        self.room(height + 10)
        self.painter.setFont(font(19))  # a new page has set its own
        self.painter.setPen(QUIET)
        self.painter.drawText(QRectF(MARGIN, self.y, left, height + 4), flags, name)
        self.painter.setPen(INK)
        self.painter.drawText(QRectF(MARGIN + 430, self.y, width, height + 4), flags, text)
        self.y += height + 10

    def gap(self, height: float = 18) -> None:
        """Leave room."""
        self.y += height

    def image(self, image: QImage) -> None:
        """Place a picture; two fit on a page."""
        width = PICTURE_WIDTH
        left = (WIDTH - width) / 2
        height = width * image.height() / image.width()
        self.room(height + 12)
        self.painter.drawImage(QRectF(left, self.y, width, height), image)
        self.painter.setPen(QPen(RULE, 1.5))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawRect(QRectF(left, self.y, width, height))
        self.y += height + 24

    def _start(self) -> None:
        self._number += 1
        self.y = MARGIN + 46.0
        self.painter.setFont(font(17))
        self.painter.setPen(QUIET)
        self.painter.drawText(QPointF(MARGIN, MARGIN), self._head)
        right = QRectF(MARGIN, MARGIN - 18, WIDTH - 2 * MARGIN, 24)
        self.painter.drawText(right, int(Qt.AlignmentFlag.AlignRight), str(self._number))
        self.painter.setPen(QPen(RULE, 1.5))
        self.painter.drawLine(QPointF(MARGIN, MARGIN + 16), QPointF(WIDTH - MARGIN, MARGIN + 16))
        self.painter.drawLine(QPointF(MARGIN, HEIGHT - MARGIN - 42), QPointF(WIDTH - MARGIN, HEIGHT - MARGIN - 42))
        self.painter.setFont(font(14))
        self.painter.setPen(QUIET)
        self.painter.drawText(QPointF(MARGIN, HEIGHT - MARGIN - 18), caution())
        self.painter.drawText(QPointF(MARGIN, HEIGHT - MARGIN + 4), self._digest)


def end_slices() -> str:
    """Return the rule by which volumes, and so all dose-volume numbers, count their slices."""
    return QCoreApplication.translate(
        "Record",
        "Volumes and dose-volume numbers: each slice fills half a slice spacing to both sides, also the first and the last;"
        " pixels count by the share of them that lies inside.",
    )


def write_pdf(path: Path, case: Case, record: Record, shown: Sequence[Picture]) -> None:
    """Write the record of a decision; complete or not at all.

    Raises
    ------
    StoreError
        If the file cannot be written.
    """
    tr = QCoreApplication.translate
    path = Path(path)
    temporary = path.with_name(f".{path.name}.part")
    statement = record.statement
    try:
        temporary.touch()
    except OSError as error:
        raise StoreError(
            say("the record cannot be written ({error})", error=str(error)),
            str(path),
            "Check the folder and the free space.",
        ) from error
    writer = QPdfWriter(str(temporary))
    writer.setResolution(DPI)
    writer.setPageLayout(
        QPageLayout(QPageSize(QSizeF(210, 297), QPageSize.Unit.Millimeter), QPageLayout.Orientation.Portrait, QMarginsF())
    )
    writer.setTitle(f"Halfshade record {record.fingerprint[:12]}")
    writer.setCreator(f"Halfshade {statement.program}")
    painter = QPainter()
    if not painter.begin(writer):
        raise StoreError("the record cannot be written", str(path), "Check the folder and the free space.")
    try:
        name = case.patient.name.replace("^", " ").strip()
        head = f"{name or '-'}  ·  {case.patient.patient_id or '-'}  ·  {statement.draft_name}"
        if case.patient.synthetic:
            head += "  ·  " + tr("Record", "synthetic patient")
        pages = _Pages(writer, painter, head, f"{tr('Record', 'Record')} {record.fingerprint}")
        colour = STATE_COLOURS["met" if statement.decision == "APPROVED" else "missed"]
        pages.line(f"{tr('Record', 'Decision')}: {statement.decision}", 40, True, colour)
        pages.line(f"{statement.reviewer}, {statement.role}, {statement.signed_at}", 23)
        if statement.comment:
            pages.line(statement.comment, 21)
        pages.gap()
        pages.line(tr("Record", "What was signed"), 26, True)
        for name, text in statement.numbers:
            pages.pair(name, text)
        pages.line(end_slices(), 16, colour=QUIET)
        pages.gap()
        pages.line(tr("Record", "Findings"), 26, True)
        for key, words, answer in statement.findings:
            pages.room(70)  # words and their answer stay together
            pages.line(words, 19)
            pages.line(f"{key}" + (f"   {tr('Record', 'Answer')}: {answer}" if answer else ""), 16, colour=QUIET, indent=20)
        if not statement.findings:
            pages.line(tr("Record", "None."), 19)
        pages.gap()
        pages.line(tr("Record", "Digests"), 26, True)
        for name, value in (
            (tr("Record", "Case"), statement.case),
            (tr("Record", "Draft"), statement.draft),
            (tr("Record", "Record before"), record.previous),
            (tr("Record", "Public key"), record.public_key),
            (tr("Record", "Signature"), record.signature),
            (tr("Record", "Program"), f"{statement.program}, physics {statement.physics_version}"),
        ):
            pages.pair(name, value)
        pages.page()
        pages.line(tr("Record", "Pictures"), 26, True)
        opened = sum(one.title in statement.seen for one in shown)
        pages.line(tr("Record", "{} of {} were opened at full size by the reviewer.").format(opened, len(shown)), 19)
        for one in shown:
            pages.image(QImage.fromData(one.png.tobytes(), "PNG"))
    except BaseException:
        painter.end()
        temporary.unlink(missing_ok=True)
        raise
    painter.end()
    try:
        if not temporary.read_bytes()[-16:].rstrip().endswith(b"%%EOF"):
            raise OSError(tr("Record", "it came out incomplete"))
        os.replace(temporary, path)
    except OSError as error:
        temporary.unlink(missing_ok=True)
        raise StoreError(
            say("the record cannot be written ({error})", error=str(error)),
            str(path),
            "Check the folder and the free space.",
        ) from error
