"""One line on how the dose stands: what is computed, what is old and why, and the button that helps."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from app.core import warm
from app.core.plan_follow import PlanFollower
from app.core.tokens import colour


class DoseState(QWidget):
    """Shows the follower's state with word and shape; Cancel, Compute and Accept.

    `beside` is a button of the station that stands in the same row while nothing is computed.
    """

    def __init__(self, follower: PlanFollower, beside: QPushButton | None = None) -> None:
        super().__init__()
        self._follower, self._beside = follower, beside
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setMinimumHeight(32)
        self.words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.words.setAccessibleName(self.tr("State of the dose"))
        self.cancel = QPushButton(self.tr("Cancel"))
        self.cancel.setToolTip(self.tr("Stop computing; the last dose stays, marked as old"))
        self.cancel.clicked.connect(follower.cancel)
        self.compute = QPushButton(self.tr("Compute dose"))
        self.compute.clicked.connect(follower.compute)
        self.accept = QPushButton(self.tr("Accept"))
        self.accept.setToolTip(self.tr("Let the thin lines of the plan before the change go"))
        self.accept.clicked.connect(follower.accept)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for widget in (self.words, self.accept, self.compute, self.cancel):
            row.addWidget(widget, 1 if widget is self.words else 0)
        if beside is not None:
            row.addWidget(beside)
        follower.now_changed.connect(self._show)
        follower.ghost_changed.connect(self._show)
        follower.busy_changed.connect(self._show)
        self._show()

    def _show(self, *_: object) -> None:
        f, asks = self._follower, self._follower.asks
        running, waits = asks.running, warm.pending(warm.PLANS)
        draft = f.workspace.draft
        beams = draft is not None and bool(draft.beams)
        self.cancel.setVisible(bool(running))
        self.compute.setVisible(
            not running
            and not waits
            and beams
            and f.state != "current"
            and (asks.halted or (f.state == "none" and not f.reading))
        )
        self.accept.setVisible(f.ghost is not None and f.now is not None and not f.is_old and f.trial is None)
        if self._beside is not None:
            self._beside.setVisible(not running and f.now is not None)
        shape, ink, words = self._words(running, beams)
        self.words.setText(f"<span style='color:{colour(ink).name()}'>{shape}</span>&nbsp; {words}")

    def _words(self, running: str, beams: bool) -> tuple[str, str, str]:
        f, asks = self._follower, self._follower.asks
        if asks.failure:
            return "▲", "bad", self.tr("No dose: {0}").format(asks.failure)
        if not beams:
            return "–", "quiet", self.tr("No beams yet.")
        if f.state == "current":
            if f.problem:
                return "▲", "warn", f.problem
            if f.trial is not None:
                return "◆", "accent", self.tr("Proposed weights. Thin lines: yours.")
            ghost = self.tr(" Thin lines: before the change.") if f.ghost is not None else ""
            return "●", "good", self.tr("Fine dose.") + ghost
        if f.state == "quick":
            if asks.halted:
                return "◐", "warn", self.tr("Quick dose only; computing was cancelled.")
            return "◐", "warn", f.problem or self.tr("Quick dose; the fine one follows.")
        if f.reading and not warm.pending(warm.PLANS):
            # What is there to be seen meanwhile stays marked with what is new since.
            shape = "○" if f.now is None else "▨"
            return (
                shape,
                "quiet" if f.now is None else "warn",
                self.tr("The dose is there; it is being read in the volumes…"),
            )
        if f.state == "out of date":
            return "▨", "warn", self.tr("Old dose: {0}.").format(f.reason)
        if warm.pending(warm.PLANS):
            return "○", "quiet", self.tr("The dose is shown in a moment.")
        return "○", "quiet", self.tr("Computing the first dose…") if running else self.tr("No dose yet.")
