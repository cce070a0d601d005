"""Gathers what is read before signing and draws its pictures, one in each turn of the event loop."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QImage

from app.core.context import Context
from app.panels.volume_findings import SKIN
from engine import compute
from engine.review.record import Picture

REVIEW, RADIOGRAPHS = "review", "sheet-radiographs"


class SheetMaker(QObject):
    """Follows the active draft while it is asked to; whatever it holds belongs to the plan it was asked for.

    Attributes
    ----------
    review : findings and list of pictures (engine.review.ask.Review), or None while they are gathered
    images, pictures : in the order of ``review.items``, to be shown and as they go on the record; () until all are drawn

    Signals
    -------
    reviewed() : `review` is new
    drawn() : `images` is complete
    drawing(number, count) : this picture is drawn next
    stopped() : somebody stopped it, or it failed; ``again`` takes it up
    """

    reviewed = Signal()
    drawn = Signal()
    drawing = Signal(int, int)
    stopped = Signal()

    def __init__(self, context: Context) -> None:
        # A child of what it follows: it goes with the window, and so does a turn that still waits.
        super().__init__(context.workspace)
        self._context = context
        self.review: Any = None
        self.images: tuple[QImage, ...] = ()
        self.pictures: tuple[Picture, ...] = ()
        self._asked = ""
        self._pictured: tuple[Any, ...] = ()
        self._made: list[tuple[QImage, Picture]] = []
        self._fresh: QImage | None = None
        self._radiographs: dict[str, Any] = {}
        self._waiting: set[str] = set()
        self._turn = QTimer(self, singleShot=True, interval=0)
        self._turn.timeout.connect(self._draw_next)
        context.jobs.result.connect(self._result)
        context.jobs.finished.connect(self._finished)

    def ask(self) -> bool:
        """Ask for the plan as it is now, once for each state of it; returns whether something new was asked."""
        workspace = self._context.workspace
        case, draft, stands = workspace.case, workspace.draft, workspace.standing
        if case is None or draft is None:
            self.forget()
            return False
        request = compute.request(
            "ReviewDraft",
            case=case,
            draft_key=draft.key,
            state=stands.state,
            doses=stands.doses,
            skin_mm=self._context.settings.get(SKIN),
        )
        if request.fingerprint == self._asked:
            return False
        self._asked = request.fingerprint
        self.review = None
        self._turn.stop()
        if self._plan() != self._pictured:
            self._drop_pictures()
        self._context.jobs.submit(REVIEW, [request])
        return True

    def again(self) -> None:
        """Ask once more after a stop."""
        self._asked = ""
        self.ask()

    def forget(self, radiographs: bool = False) -> None:
        """Drop what was gathered."""
        self.review, self._asked = None, ""
        self._turn.stop()
        self._waiting.clear()
        self._drop_pictures()
        if radiographs:
            self._radiographs.clear()

    def _drop_pictures(self) -> None:
        self.images, self.pictures, self._pictured, self._made = (), (), (), []

    def _plan(self) -> tuple[Any, ...]:
        """Return what the pictures are made from: an answer to a finding is not part of it."""
        workspace = self._context.workspace
        case, draft = workspace.case, workspace.draft
        assert case is not None
        assert draft is not None
        return case.but(answers=()).fingerprint, draft.key, tuple(d.fingerprint for d in workspace.standing.doses)

    def _result(self, kind: str, request: Any, value: Any) -> None:
        if kind == REVIEW and request.fingerprint == self._asked:
            self.review = value
            self.reviewed.emit()
            if value.now is not None and self._context.workspace.standing.state == "current":
                self._gather()
        elif kind == RADIOGRAPHS and request.fingerprint in self._waiting:
            self._radiographs[request.fingerprint] = value
            self._waiting.discard(request.fingerprint)
            if not self._waiting and self.review is not None:
                self._start()

    def _finished(self, kind: str, state: str) -> None:
        # A batch that a newer one replaced ends as cancelled too; then the newer one is at work.
        if state == "done" or self._context.jobs.busy(kind):
            return
        if (kind == REVIEW and self._asked and self.review is None) or (kind == RADIOGRAPHS and self._waiting):
            self._waiting.clear()
            self.stopped.emit()

    def _gather(self) -> None:
        if self.images:
            self.drawn.emit()
            return
        missing = [r for r in map(self._request, self.review.items) if r and r.fingerprint not in self._radiographs]
        self._waiting = {r.fingerprint for r in missing}
        if missing:
            self._context.jobs.submit(RADIOGRAPHS, missing)
        else:
            self._start()

    def _request(self, item: Any) -> Any:
        from app.report.beam_picture import radiograph_of

        workspace = self._context.workspace
        if item.kind != "beam" or workspace.case is None or workspace.draft is None:
            return None
        return radiograph_of(workspace.case, workspace.draft.beam(item.beam_key))

    def _start(self) -> None:
        self._made, self._fresh = [], None
        self._announce()

    def _announce(self) -> None:
        self.drawing.emit(len(self._made) + 1, len(self.review.items))
        self._turn.start()

    def _draw_next(self) -> None:
        from app.report.pictures import draw, encoded

        workspace, review = self._context.workspace, self.review
        case, draft = workspace.case, workspace.draft
        if review is None or case is None or draft is None:
            return
        item = review.items[len(self._made)]
        if self._fresh is not None:
            self._made.append((self._fresh, encoded(item, self._fresh)))
            self._fresh = None
            self._go_on()
            return
        request = self._request(item)
        shadow = self._radiographs.get(request.fingerprint) if request else None
        # Encoding waits for a turn of its own: drawing a beam's view alone takes most of what a turn may take.
        self._fresh = draw(item, case, draft, review.now, radiograph=shadow)
        self._turn.start()

    def _go_on(self) -> None:
        if len(self._made) < len(self.review.items):
            self._announce()
            return
        self._pictured = self._plan()
        self.images = tuple(image for image, _ in self._made)
        self.pictures = tuple(picture for _, picture in self._made)
        self.drawn.emit()
