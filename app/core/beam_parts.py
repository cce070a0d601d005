"""Which opening or control point of each beam is shown, and so is the one that edits change."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from engine.beams.beam import Beam


class ShownParts(QObject):
    """Remembers the shown part by beam, and whether the next click on a plane puts the isocentre there.

    Signals
    -------
    part_changed() : another opening or control point is shown
    placing_changed(how) : "awaited": the next click puts the isocentre; "placed": it did; "left": it does not any more
    """

    part_changed = Signal()
    placing_changed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shown: dict[str, int] = {}
        self.placing = False

    def leave_placing(self) -> None:
        """Let the next click be a click like any other."""
        self._end_placing("left")

    def _end_placing(self, how: str) -> None:
        if self.placing:
            self.placing = False
            self.placing_changed.emit(how)

    def part_of(self, beam: Beam) -> int:
        """Return which opening or control point of a beam is shown."""
        from engine.beams.parts import part_count

        return min(self._shown.get(beam.key, 0), part_count(beam) - 1) if beam.points else 0

    def show_part(self, key: str, n: int) -> None:
        """Show another opening or control point of a beam."""
        if self._shown.get(key, 0) != n:
            self._shown[key] = n
            self.part_changed.emit()

    def seen(self, beam: Beam) -> Beam:
        """Return a still beam as the shown part of a beam stands."""
        from engine.beams.parts import part

        if not beam.points:
            return beam
        gantry_deg, aperture = part(beam, self.part_of(beam))
        return beam.but(points=(), rotation="", gantry_deg=gantry_deg, aperture=aperture)
