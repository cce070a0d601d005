"""The beam ring: every beam as a spoke around the axial slice, turned and weighted by hand."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPixmap

from app.core.beam_edits import BeamEdits
from app.core.tokens import DARK, colour
from app.views.layer import Layer
from app.views.places_layer import isocentre_of
from app.views.ring_arcs import end_at, ends_of, paint_near, paint_sector
from app.views.ring_shape import Ring, band_px, full_weight, half_axes, share_of_weight, snapped, weight_of_share
from app.views.ring_spokes import Grips, paint_offered, paint_rim, paint_spoke
from app.views.ring_words import paint_name
from engine.beams.beam import Beam
from engine.case.case import Draft

GRAB_PX = 11.0
CORNER_PX = 7.0
RIM_GRAB_PX = 12.0
HAND_STEADY_PX = 5.0  # a drag of less than this along one direction leaves the other value alone


def _tr(text: str) -> str:
    return QCoreApplication.translate("BeamRing", text)


class RingSignals(QObject):
    """Signals of the ring (a layer is no QObject): open_beam(key) on a double click on a spoke; arc_dragged(start, stop)
    when an end of the active arc was let go elsewhere."""

    open_beam = Signal(str)
    arc_dragged = Signal(float, float)


class BeamRingLayer(Layer):
    """Draws and edits the beams of the active draft on the axial view.

    Dragging the end of a spoke around turns the gantry in whole degrees, drawn to quarters and opposed beams (Shift:
    tenths, free); in or out changes the weight. The way the hand sets out decides between the two; Control means weight,
    Alt angle. A corner of the active spoke changes the field's width, an end of an arc where it begins or stops. A double
    click on the empty rim adds a beam there. A beam that was clicked is held: arrow keys turn it by 1 degree (Shift 5,
    Control 10), page keys the couch by 5, + and − change its weight.

    ``trial`` returns a draft whose weights are shown on trial: a diamond on each spoke marks where it would end.
    """

    z = 60
    live = True

    def __init__(self, edits: BeamEdits, near: Callable[[Any, Beam], tuple[float, ...]] | None = None) -> None:
        self.edits, self.near = edits, near
        self.trial: Callable[[], Draft | None] = lambda: None
        self.signals = RingSignals()
        self._held = ""
        self._from: tuple[QPointF, float, float, float] | None = None
        self._does = ""
        self._width_mm = 0.0
        self._hovered = ""
        self._keys = False
        self._arc: tuple[int, float, float] | None = None
        self._still: tuple[Any, list[Beam], QPixmap] = (None, [], QPixmap())

    def shown_in(self, view: Any) -> bool:
        wanted = self.stage.settings.get("stage/ring") and self._draft() is not None
        return view.axis == "z" and min(view.width(), view.height()) > 220 and wanted

    def ring(self, view: Any) -> Ring | None:
        """Return where the ring lies on a view."""
        draft, case = self._draft(), self.stage.workspace.case
        if case is None or draft is None:
            return None
        middle = view.project(isocentre_of(self.stage.workspace))
        return Ring.around(view.width(), view.height(), middle, case.image.patient_position)

    def spoke_end(self, view: Any, key: str, ring: Ring | None = None) -> QPointF:
        """Return where the end of a spoke lies on a view, whose ring need not be worked out where it is known."""
        draft, ring = self._draft(), ring or self.ring(view)
        assert draft is not None
        assert ring is not None
        i = [b.key for b in draft.beams].index(key)
        gantry_deg = draft.beams[i].gantry_deg
        return ring.at(gantry_deg, share_of_weight(draft.weights[i], self._full(draft), ring.hub(gantry_deg)))

    def margins_px(self, view: Any) -> tuple[float, float]:
        """Return what the fitted picture leaves free beside and above: the numbers, the rim and half of the band."""
        inside = 0.5 * band_px(view.width(), view.height())
        a, b = half_axes(view.width(), view.height())
        return view.width() / 2 - a + inside, view.height() / 2 - b + inside

    # -- drawing -------------------------------------------------------------------------------------------------

    def paint(self, painter: QPainter, view: Any) -> None:
        draft, ring = self._draft(), self.ring(view)
        if draft is None or ring is None:
            return
        if self.stage.painting:
            painter.setOpacity(0.25)
        active = self.stage.workspace.beam
        mine = active.key if active is not None else ""
        near = self.near(self.stage.workspace.case, active) if active is not None and self.near is not None else ()
        self._show_still(painter, view, ring, draft, mine, near)
        for i, beam in enumerate(draft.beams):
            if beam.key == mine:
                self._paint_beam(painter, view, ring, draft, i, True)
        for beam, share in self.offered_shares(ring):
            paint_offered(painter, ring, beam, share)

    def offered_shares(self, ring: Ring) -> list[tuple[Beam, float]]:
        """Return how far out the spokes would reach with the weights that are shown on trial; none while none are."""
        draft, offered = self._draft(), self.trial()
        if draft is None or offered is None or len(offered.weights) != len(draft.beams):
            return []
        full = self._full(draft)
        return [
            (beam, share_of_weight(weight, full, ring.hub(beam.gantry_deg)))
            for beam, weight in zip(draft.beams, offered.weights, strict=True)
        ]

    def _show_still(
        self, painter: QPainter, view: Any, ring: Ring, draft: Draft, mine: str, near: tuple[float, ...]
    ) -> None:
        """Draw the rim and all beams but the active one from a picture: they stand still while that one is dragged."""
        ratio, others = view.devicePixelRatioF(), [i for i, b in enumerate(draft.beams) if b.key != mine]
        told = sum(draft.weights) if any(self._is_told(draft.beams[i]) for i in others) else 0.0
        key = (
            ring, view.size(), ratio, view.scale, near, self._full(draft), self._hovered, self._held, told, others,
            [draft.weights[i] for i in others], painter.font(),
        )  # fmt: skip
        beams = [draft.beams[i] for i in others]
        kept = self._still
        if kept[0] != key or len(kept[1]) != len(beams) or any(a is not b for a, b in zip(kept[1], beams)):
            made = QPixmap(int(view.width() * ratio), int(view.height() * ratio))
            made.setDevicePixelRatio(ratio)
            made.fill(Qt.GlobalColor.transparent)
            inner = QPainter(made)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            inner.setFont(painter.font())
            paint_rim(inner, ring)
            paint_near(inner, ring, near, QColor(DARK.bad))
            for i in others:
                self._paint_beam(inner, view, ring, draft, i, False)
            inner.end()
            kept = self._still = (key, beams, made)
        painter.drawPixmap(0, 0, kept[2])

    def _paint_beam(self, painter: QPainter, view: Any, ring: Ring, draft: Draft, i: int, active: bool) -> None:
        beam = draft.beams[i]
        if beam.is_arc:
            ends = self._arc[1:] if active and self._arc is not None else ends_of(beam)
            paint_sector(painter, ring, *ends, beam.rotation, colour("stage_accent" if active else "stage_text"), active)
        share = share_of_weight(draft.weights[i], self._full(draft), ring.hub(beam.gantry_deg))
        grips = Grips(self._corners(view, beam.key, ring), self._keys) if active else None
        end = paint_spoke(painter, view, ring, beam, share, draft.weights[i] > 0, grips, beam.key == self._hovered)
        ink = colour("stage_accent" if active else "stage_text")
        paint_name(painter, view, ring, draft, beam, end, ink, active or self._is_told(beam))

    def _is_told(self, beam: Beam) -> bool:
        return beam.key in (self._held, self._hovered)

    # -- the hand ------------------------------------------------------------------------------------------------

    def hover(self, view: Any, event: QMouseEvent) -> str:
        key, ring = self._under(view, event.position()), self.ring(view)
        if key != self._hovered:
            self._hovered = key
            self.refresh(view)
        if key:
            return _tr("Drag around: gantry. In or out: weight. Shift: tenths of a degree. Double-click: beam's-eye view.")
        if ring is not None and ring.on_rim(event.position(), RIM_GRAB_PX):
            return _tr("Double-click: add a beam at {0}°").format(f"{snapped(ring.angle_of(event.position()), False):g}")
        return ""

    def press(self, view: Any, event: QMouseEvent) -> bool:
        draft, ring, active = self._draft(), self.ring(view), self.stage.workspace.beam
        if active is not None and ring is not None and self._press_active(view, ring, active, event.position()):
            return True
        key = self._under(view, event.position())
        self._keys = bool(key)
        if not key or draft is None or ring is None:
            return ring is not None and ring.on_rim(event.position(), RIM_GRAB_PX)
        self.stage.workspace.activate(beam=key)
        i = [b.key for b in draft.beams].index(key)
        self._from = (event.position(), draft.beams[i].gantry_deg, draft.weights[i], full_weight(draft.weights))
        self._held, self._does = key, ""
        self.refresh(view)
        return True

    def drag(self, view: Any, event: QMouseEvent) -> None:
        ring = self.ring(view)
        if not self._held or self._from is None or ring is None:
            return
        start, gantry_deg, weight, full = self._from
        if self._does in ("width", "arc"):
            self._drag_active(view, ring, event)
            return
        if not self._does:
            self._does = self._meant(ring, start, event, gantry_deg)
            if not self._does:
                return
        if self._does == "turn":
            turned = ring.angle_of(event.position()) - ring.angle_of(start) + gantry_deg
            self.edits.set_gantry(
                self._held,
                snapped(turned, bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier), self._others()),
                "gantry",
            )
        else:
            hub = ring.hub(gantry_deg)
            grown = ring.share_of(event.position()) - ring.share_of(start) + share_of_weight(weight, full, hub)
            self.edits.set_weight(self._held, round(weight_of_share(grown, full, hub), 3), "weight")

    def release(self, view: Any, event: QMouseEvent) -> None:
        if self._arc is not None:
            _, start_deg, stop_deg = self._arc
            self._arc = None
            self.signals.arc_dragged.emit(start_deg, stop_deg)
        self.stage.workspace.end_merge()
        self._held, self._from, self._does = "", None, ""
        self.refresh(view)

    def cancel(self) -> None:
        if self._held and self._from is not None and self._does:
            _, gantry_deg, weight, _ = self._from
            self._arc = None
            if self._does == "turn":
                self.edits.set_gantry(self._held, gantry_deg, "gantry")
            elif self._does == "width":
                self.edits.set_field(self._held, "x", self._width_mm, "width")
            elif self._does == "weigh":
                self.edits.set_weight(self._held, weight, "weight")
            self.stage.workspace.end_merge()
        self._held, self._from, self._does = "", None, ""
        self.refresh()

    def double_click(self, view: Any, event: QMouseEvent) -> bool:
        key, ring = self._under(view, event.position()), self.ring(view)
        if key:
            self.stage.workspace.activate(beam=key)
            self.signals.open_beam.emit(key)
            return True
        if ring is not None and ring.on_rim(event.position(), RIM_GRAB_PX):
            self.edits.add(snapped(ring.angle_of(event.position()), False))
            return True
        return False

    def case_changed(self, before: Any, after: Any) -> None:
        if before is None or after is None or before.drafts is not after.drafts:
            self.refresh(self.stage.view_of("z"))

    def key(self, view: Any, event: QKeyEvent) -> bool:
        """Turn or weigh the beam that was clicked; returns whether the key was one of these."""
        beam, draft = self.stage.workspace.beam, self.stage.workspace.draft
        if not self._keys or beam is None or draft is None or not self.shown_in(view):
            return False
        keys = event.modifiers()
        turns = {Qt.Key.Key_Left: -1.0, Qt.Key.Key_Right: 1.0}
        tilts = {Qt.Key.Key_PageUp: 5.0, Qt.Key.Key_PageDown: -5.0}
        weighs = {Qt.Key.Key_Plus: 1.05, Qt.Key.Key_Equal: 1.05, Qt.Key.Key_Minus: 1 / 1.05}
        if event.key() in turns:
            control, shift = keys & Qt.KeyboardModifier.ControlModifier, keys & Qt.KeyboardModifier.ShiftModifier
            step = 10.0 if control else 5.0 if shift else 1.0
            self.edits.set_gantry(beam.key, beam.gantry_deg + step * turns[Qt.Key(event.key())], "gantry keys")
        elif event.key() in tilts:
            turned = beam.couch_deg + tilts[Qt.Key(event.key())]
            self.edits.change(beam.key, _tr("Turn couch"), "couch keys", couch_deg=turned)
        elif event.key() in weighs:
            weight = draft.weights[draft.beams.index(beam)] * weighs[Qt.Key(event.key())]
            self.edits.set_weight(beam.key, round(weight, 3), "weight keys")
        elif event.key() == Qt.Key.Key_Escape:
            self._keys = False
            self.refresh(view)
        else:
            return False
        return True

    def _press_active(self, view: Any, ring: Ring, beam: Beam, at: QPointF) -> bool:
        """Take hold of an end of the active arc or a corner of the active spoke."""
        if beam.is_arc and (end := end_at(ring, beam, at)) is not None:
            self._arc, self._does = (end, *ends_of(beam)), "arc"
        elif min((hypot(at.x() - c.x(), at.y() - c.y()) for c in self._corners(view, beam.key)), default=99.0) <= CORNER_PX:
            self._does = "width"
        else:
            return False
        x1, x2 = self.edits.seen(beam).aperture.x_mm
        self._held, self._from, self._width_mm = beam.key, (at, beam.gantry_deg, 0.0, 1.0), x2 - x1
        return True

    def _drag_active(self, view: Any, ring: Ring, event: QMouseEvent) -> None:
        assert self._from is not None
        if self._arc is not None:
            end, *ends = self._arc
            ends[end] = snapped(
                ring.angle_of(event.position()), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            )
            self._arc = (end, ends[0], ends[1])
            self.refresh(view)
            return
        ux, uy = ring.direction(self._from[1])
        spoke = self.spoke_end(view, self._held)
        away = [abs(-(p.x() - spoke.x()) * uy + (p.y() - spoke.y()) * ux) for p in (event.position(), self._from[0])]
        width = max(0.0, self._width_mm + 2 * (away[0] - away[1]) / view.scale)
        self.edits.set_field(self._held, "x", float(round(width)), "width")

    def _corners(self, view: Any, key: str, ring: Ring | None = None) -> list[QPointF]:
        """Return the two corners of a spoke's end; none while it is too narrow to tell them from its dot."""
        draft, ring = self._draft(), ring or self.ring(view)
        beam = draft.beam(key) if draft is not None else None
        if ring is None or beam is None:
            return []
        ux, uy = ring.direction(beam.gantry_deg)
        x1, x2 = self.edits.seen(beam).aperture.x_mm
        half = min(max((x2 - x1) * view.scale, 8.0), 0.7 * ring.b) / 2
        end = self.spoke_end(view, key, ring)
        return [end + QPointF(-uy, ux) * (s * half) for s in (-1, 1)] if half > GRAB_PX + 4 else []

    def _others(self) -> list[float]:
        draft = self._draft()
        return [b.gantry_deg for b in draft.beams if b.key != self._held] if draft is not None else []

    # -- parts ---------------------------------------------------------------------------------------------------

    def _draft(self) -> Draft | None:
        workspace = self.stage.workspace
        if workspace.case is None:
            return None
        return workspace.draft or Draft("", "-")

    def _full(self, draft: Draft) -> float:
        return self._from[3] if self._from is not None else full_weight(draft.weights)

    def _under(self, view: Any, position: QPointF) -> str:
        draft, ring = self._draft(), self.ring(view)
        if draft is None or ring is None:
            return ""
        near = []
        for beam in draft.beams:
            end = self.spoke_end(view, beam.key, ring)
            near.append((hypot(position.x() - end.x(), position.y() - end.y()), beam.key))
        return min(near)[1] if near and min(near)[0] <= GRAB_PX else ""

    @staticmethod
    def _meant(ring: Ring, start: QPointF, event: QMouseEvent, gantry_deg: float) -> str:
        """Return "turn" or "weigh": which way the hand set out, or "" while it has hardly moved."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return "weigh"
        if event.modifiers() & Qt.KeyboardModifier.AltModifier:
            return "turn"
        moved = event.position() - start
        ux, uy = ring.direction(gantry_deg)
        out, around = abs(moved.x() * ux + moved.y() * uy), abs(-moved.x() * uy + moved.y() * ux)
        if max(out, around) < HAND_STEADY_PX:
            return ""
        return "turn" if around >= out else "weigh"
