"""Says at once, while one aims and weighs, what the checks of Sign would find wrong with the beams."""

from __future__ import annotations

import logging
from typing import Any

from PySide6.QtCore import QObject, QTimer

from app.core.context import Context
from app.core.language import translated
from engine.base.errors import UserError
from engine.case.requests import Standing

log = logging.getLogger("halfshade.watch")
REST_MS = 250  # the hand must rest: a beam that is being dragged past the patient is no mistake
TOPIC = "case/plan"
TOLD = ("isocentre-outside", "target-outside-aperture", "zero-weight")


class PlanWatch(QObject):
    """Looks at the active draft when it has changed; the gravest finding stands in the message strip until it is mended."""

    def __init__(self, context: Context, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._active = False
        self._told = ""
        self._soon = QTimer(self, singleShot=True, interval=REST_MS)
        self._soon.timeout.connect(self.look)
        context.workspace.case_changed.connect(self._later)
        context.workspace.active_changed.connect(self._later)

    def set_active(self, active: bool) -> None:
        """Begin or cease to look."""
        self._active = active
        self._later()
        if not active:
            self._soon.stop()
            self._say("", "")

    def look(self) -> None:
        """Look now."""
        finding = next(iter(self._findings()), None)
        self._say(translated(finding.evidence) if finding else "", finding.beam_key if finding else "")

    def _later(self, *_: object) -> None:
        if self._active:
            self._soon.start()

    def _say(self, words: str, beam_key: str) -> None:
        if words == self._told:
            return
        self._told = words
        messages = self._context.messages
        if words:
            show = lambda: self._context.workspace.activate(beam=beam_key)  # noqa: E731
            messages.warning(words, self.tr("Show the beam"), show, TOPIC, follows=True)
        else:
            messages.settle(TOPIC)

    def _findings(self) -> list[Any]:
        case, draft = self._context.workspace.case, self._context.workspace.draft
        if case is None or draft is None or not draft.beams:
            return []
        from engine.review import checks_plan
        from engine.review.finding import SEVERITIES, Facts

        facts = Facts(case, draft, Standing("none"), None)
        try:
            found = [f for check in (checks_plan.isocentre, checks_plan.apertures, checks_plan.beams) for f in check(facts)]
        except UserError as error:
            log.info("not looked at: %s", error)
            return []
        return sorted((f for f in found if f.code in TOLD), key=lambda f: SEVERITIES.index(f.severity))
