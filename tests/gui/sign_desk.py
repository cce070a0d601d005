"""What the tests of Sign share: a window over a kept case with a flat dose, and the hands of a reviewer."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.window import Window
from engine.base.values import own_array
from engine.case import edits
from engine.case.case import Case
from engine.evaluation.goals import Goal
from engine.image.projection import RadiographResult
from engine.store.case_file import CaseFile
from tests.support.cases import flat_results, planned_case

PASSPHRASE = "correct horse"
LONG_MS = 30000


def stub_radiograph(request: Any, report: Any = None) -> RadiographResult:
    """Answer with a grey that brightens with y (its first row is the lowest y)."""
    half = request.size_mm / 2
    ramp = np.linspace(0, 1, 16, dtype=np.float32)[:, None] * np.ones((1, 16), dtype=np.float32)
    return RadiographResult(own_array(ramp), (-half, half, -half, half), request.fingerprint)


def missed_case() -> Case:
    """Return the planned case with a goal that a flat dose misses: one finding to answer."""
    case = planned_case()
    draft = case.drafts[0]
    return edits.with_draft(case, draft.but(goals=(*draft.goals, Goal("cord", "Mean[Gy]", "<=", 45))))


def kept(path: Path) -> Path:
    """Write the case with its fine dose to a file."""
    case = missed_case()
    file = CaseFile.create(path, case, "created", "")
    file.put_results(tuple(flat_results(case).values()))
    file.close()
    return path


class Reviewer:
    """Reads and decides with mouse and keys."""

    def __init__(self, window: Window, qtbot: Any) -> None:
        self.window, self.qtbot = window, qtbot

    @property
    def station(self) -> Any:
        return self.window.shelf.get("sign")

    @property
    def form(self) -> Any:
        return self.station.decision

    def enter(self) -> None:
        self.window.go("sign")
        self.wait_for_pictures()

    def wait_for_pictures(self) -> None:
        maker = self.station.maker
        self.qtbot.waitUntil(lambda: bool(maker.images) and maker.review is not None, timeout=LONG_MS)

    def open_all(self) -> int:
        """Open the first picture and go on with the arrow key to the last; returns how many there are."""
        sheet = self.station.sheet
        count = len(self.station.maker.images)
        QTest.mouseClick(sheet._thumbs[0], Qt.MouseButton.LeftButton)
        for _ in range(count - 1):
            sheet.after.click()
        sheet.back.click()
        return count

    def name(self, name: str = "A. Reviewer") -> None:
        self.form.reviewer.clear()
        QTest.keyClicks(self.form.reviewer, name)

    def answer_all(self) -> None:
        """Answer each open warning with a reason, Enter after each."""
        while True:
            case, findings = self.window.context.workspace.case, self.station.findings
            given = {a.finding for a in case.answers}
            key = next((k for k in findings.answer_buttons if k not in given), None)
            if key is None:
                return
            findings.answer_buttons[key].click()
            QTest.keyClicks(findings.reasons[key], "It is a test case.")
            QTest.keyClick(findings.reasons[key], Qt.Key.Key_Return)
            self.wait_for_pictures()

    def type_passphrase(self, words: str = PASSPHRASE) -> None:
        self.form.passphrase.clear()
        QTest.keyClicks(self.form.passphrase, words)

    def approve_and_seal(self, passphrase: str = PASSPHRASE) -> Any:
        """Seal an approval of what has been read and answered; returns the record."""
        self.form.approve.click()
        self.type_passphrase(passphrase)
        assert self.form.seal.isEnabled(), self.form.hint.text()
        with self.qtbot.waitSignal(self.window.keeper.signed, timeout=LONG_MS) as got:
            self.form.seal.click()
        return got.args[0]
