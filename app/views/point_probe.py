"""The point probe: a small table on the large view: what reaches one point, through how much, and where it lies."""

from __future__ import annotations

from html import escape
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout

from app.core.plan_follow import PlanFollower
from app.core.probe import Probe, probe
from app.core.tokens import SMALL_PX, colour, tabular

Point = tuple[float, float, float]


class PointProbe(QFrame):
    """Follows the pointer while it is over the stage, else the shared cursor.

    ``set_pinned`` keeps it (P); holding Space over a view shows it for as long.
    """

    def __init__(self, stage: Any, follower: PlanFollower) -> None:
        super().__init__(stage)
        self.stage, self.follower = stage, follower
        self._pinned, self._held, self._active = False, False, False
        self._point: Point | None = None
        self.setObjectName("probe")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.table = QLabel(textFormat=Qt.TextFormat.RichText)
        self.table.setFont(tabular(self.font(), SMALL_PX))
        self.table.setAccessibleName(self.tr("Point probe"))
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(self.table)
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._show)
        stage.hovered.connect(self._hovered)
        follower.workspace.cursor_changed.connect(self._later)
        follower.now_changed.connect(self._later)
        for view in stage.views:
            view.installEventFilter(self)
        self.hide()

    @property
    def pinned(self) -> bool:
        """Whether it stays without Space being held."""
        return self._pinned

    def set_active(self, active: bool) -> None:
        """Say whether a station that has the probe is in front."""
        self._active = active
        self._held = False
        self._later()

    def set_pinned(self, pinned: bool) -> None:
        """Keep the probe on the stage, or put it away."""
        self._pinned = pinned
        self._later()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Space and self._active:
            if not event.isAutoRepeat():
                self._held = event.type() == QEvent.Type.KeyPress
                self._later()
            return event.type() in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease)
        return super().eventFilter(watched, event)

    def _hovered(self, point: Point | None) -> None:
        self._point = point
        self._later()

    def _later(self, *_: object) -> None:
        if self.isVisible() or self._pinned or self._held:
            self._soon.start()

    def _show(self) -> None:
        shown = self._active and (self._pinned or self._held) and self.stage.image is not None
        if not shown:
            self.hide()
            return
        point = self._point or self.follower.workspace.cursor_mm
        found = probe(self.follower, point)
        if found is None:
            self.hide()
            return
        self.table.setText(self._html(found))
        ink = colour("stage_text").name()
        self.setStyleSheet(
            f"#probe {{ background: {colour('stage_shade').name()}; border: 1px solid {colour('stage_quiet').name()};"
            f" border-radius: 4px; }} #probe QLabel {{ color: {ink}; background: transparent; }}"
        )
        self.adjustSize()
        main = self.stage.main
        corner = main.mapTo(self.stage, main.rect().bottomLeft())
        pointer = main.pointer
        low_left = pointer is not None and pointer.x() < self.width() + 40 and pointer.y() > main.height() / 2
        x = corner.x() + (main.width() - self.width() - 8 if low_left else 8)
        self.move(x, corner.y() - self.height() - 30)
        self.show()
        self.raise_()

    def _html(self, found: Probe) -> str:
        quiet = colour("stage_quiet").name()

        def row(*cells: str, head: bool = False) -> str:
            ink = f" style='color:{quiet}'" if head else ""
            first, rest = cells[0], "".join(f"<td align='right'{ink}>&nbsp;&nbsp;{c}</td>" for c in cells[1:])
            return f"<tr><td{ink}>{first}</td>{rest}</tr>"

        rows = []
        if found.shares:
            rows.append(
                row(
                    self.tr("at the point"), "Gy", "%", self.tr("depth mm"), self.tr("in water mm"), head=True,
                )
            )  # fmt: skip
            for s in found.shares:
                depth = "–" if s.depth_mm is None else f"{s.depth_mm:.0f}"
                water = "–" if s.water_mm is None else f"{s.water_mm:.0f}"
                rows.append(row(escape(s.name), f"{s.gy:.2f}", f"{s.percent:.0f}", depth, water))
            percent = "" if found.percent is None else self.tr("{0} % of prescr.").format(f"{found.percent:.1f}")
            rows.append(row(f"<b>{self.tr('together')}</b>", f"<b>{found.gy:.2f}</b>", "", percent, ""))
        else:
            rows.append(row(self.tr("no dose yet"), head=True))
        inside = ", ".join(
            f"<span style='color:rgb{c}'>■</span> {escape(n)}" + ("" if share > 0.995 else f" ({100 * share:.0f} %)")
            for n, c, share in found.volumes
        )
        words = inside or self.tr("in no volume")
        old = f"<br><span style='color:#e3b75f'>{self.tr('before the change')}</span>" if found.old else ""
        return f"<table cellspacing='0' cellpadding='1'>{''.join(rows)}</table><div>{words}{old}</div>"
