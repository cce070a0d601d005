"""What the source of a beam sees, remembered: its radiograph and the projected outlines of volumes.

While the beam turns a radiograph is made at once from a coarse box of the image; the fine one is a job.
"""

from __future__ import annotations

from collections import OrderedDict
from functools import lru_cache
from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core import warm
from app.core.jobs import JobRunner
from engine.base.values import Value
from engine.beams.beam import Aperture, Beam
from engine.case.case import Case
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

KIND = "radiograph"
COARSE = "coarse image"
KEPT = 24
OUTLINES_KEPT = 400
SIZE_MM = 400.0
PIXEL_MM = 1.25
QUICK_PIXELS = 256
_NO_APERTURE = Aperture((0.0, 0.0), (0.0, 0.0))


@lru_cache(maxsize=128)
def _middle(coverage: Coverage) -> tuple[float, float, float] | None:
    return coverage.centroid_mm()


def _seen(beam: Beam) -> Beam:
    """Return the beam without what does not change the view: name, machine, aperture."""
    return beam.nameless().but(machine="", aperture=_NO_APERTURE)


class BeamPictures(QObject):
    """Signals: changed() when a radiograph has come."""

    changed = Signal()

    def __init__(self, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._pictures: OrderedDict[str, Any] = OrderedDict()
        self._box: Any = None
        self._near: tuple[Any, tuple[float, ...]] | None = None
        self._asked: tuple[Any, Any] | None = None
        self._quick: Any = None
        self._wish: Value | None = None
        self._outlines: OrderedDict[tuple[Any, ...], list[Any]] = OrderedDict()
        jobs.result.connect(self._on_result)
        jobs.finished.connect(self._on_finished)

    def want(self, case: Case, beam: Beam) -> None:
        """Have the radiograph of a beam made; while one is being made, the latest wish waits."""
        request = self._request(case, beam)
        self._wish = None
        self._want_box(case)
        if request.fingerprint in self._pictures:
            return
        if self._jobs.busy(KIND):
            self._wish = request
        else:
            self._jobs.submit(KIND, [request])

    def hold(self) -> None:
        """Stop making a fine radiograph: the beam turns on, and both want the processor."""
        self._wish = None
        self._jobs.cancel(KIND)

    def radiograph(self, case: Case, beam: Beam) -> Any:
        """Return the radiograph of a beam: the fine one, else a quick one, or None until the coarse box is there."""
        request = self._request(case, beam)
        fine = self._pictures.get(request.fingerprint)
        if fine is not None:
            return fine
        if warm.pending(warm.VIEWS) or self._box is None or self._box.inputs != self._box_request(case).fingerprint:
            return None
        if self._quick is None or self._quick.inputs != request.fingerprint:
            from engine.image.quick_view import quick_view

            self._quick = quick_view(self._box, request, QUICK_PIXELS)
        return self._quick

    def is_current(self, case: Case, beam: Beam) -> bool:
        """Whether ``radiograph`` is the fine one."""
        return self._request(case, beam).fingerprint in self._pictures

    def outlines(self, case: Case, beam: Beam, volume: Volume, quick: bool = False) -> list[Any]:
        """Return the outlines of a volume seen from the source: (n, 2) mm at the isocentre plane, device axes.

        `quick` takes what is there, or makes something to 1 mm at once.
        """
        from engine.beams.conform import project_volume

        if volume.coverage.is_empty or warm.pending(warm.VIEWS):
            return []
        key = self._outlines_key(case, beam, volume)
        position, sad_mm = key[-2:]
        found = self._outlines.get(key)
        if found is None:
            if quick:
                return project_volume(volume.coverage, beam, sad_mm, position, quick=True)
            found = project_volume(volume.coverage, beam, sad_mm, position, smooth=True)
            self._outlines[key] = found
            if len(self._outlines) > OUTLINES_KEPT:
                self._outlines.popitem(last=False)
        return found

    def has_outlines(self, case: Case, beam: Beam, volume: Volume) -> bool:
        """Whether ``outlines`` has nothing to make for them to be fine."""
        empty = volume.coverage.is_empty or warm.pending(warm.VIEWS)
        return empty or self._outlines_key(case, beam, volume) in self._outlines

    @staticmethod
    def _outlines_key(case: Case, beam: Beam, volume: Volume) -> tuple[Any, ...]:
        way = beam.isocentre_mm, beam.gantry_deg, beam.collimator_deg, beam.couch_deg
        return (volume.coverage.fingerprint, *way, case.image.patient_position, case.machine(beam.machine).sad_mm)

    @staticmethod
    def far_to_near(case: Case, beam: Beam) -> list[Volume]:
        """Return the painted volumes of a case by the distance of their middles from the source, the farthest first."""
        from engine.space.frames import beam_from_patient

        axis = beam_from_patient(case.image.patient_position, beam.gantry_deg, 0.0, beam.couch_deg)[2]
        middles = [(v, _middle(v.coverage)) for v in case.volumes]
        return [v for v, at in sorted(((v, m) for v, m in middles if m), key=lambda vm: float(axis @ vm[1]))]

    def near_angles(self, case: Case, beam: Beam) -> tuple[float, ...]:
        """Return the gantry angles, 10 degrees apart, at which the head would come near to body or couch."""
        from engine.beams.clearance import near_angles

        body = case.body
        if body is None or body.coverage.is_empty:
            return ()
        key = (body.coverage, beam.isocentre_mm, beam.couch_deg, beam.machine, case.image.patient_position)
        if self._near is None or self._near[0] != key:
            machine = case.machine(beam.machine)
            found = near_angles(beam.isocentre_mm, beam.couch_deg, body.coverage, machine, case.image.patient_position)
            self._near = (key, found)
        return self._near[1]

    def _want_box(self, case: Case) -> None:
        request = self._box_request(case)
        if self._box is None or self._box.inputs != request.fingerprint:
            self._jobs.submit(COARSE, [request])

    def _box_request(self, case: Case) -> Value:
        from engine.image.quick_view import CoarseRequest

        if self._asked is None or self._asked[0] is not case.image:
            self._asked = (case.image, CoarseRequest(case.image))
        return self._asked[1]

    def _request(self, case: Case, beam: Beam) -> Any:
        from engine.image.projection import Radiograph

        return Radiograph(case.image, _seen(beam), case.machine(beam.machine).sad_mm, SIZE_MM, PIXEL_MM)

    def _on_result(self, kind: str, request: Value, value: Any) -> None:
        if kind == COARSE:
            self._box = value
            self.changed.emit()
        if kind != KIND:
            return
        self._pictures[request.fingerprint] = value
        while len(self._pictures) > KEPT:
            self._pictures.popitem(last=False)
        self.changed.emit()

    def _on_finished(self, kind: str, state: str) -> None:
        if kind == KIND and self._wish is not None:
            wish, self._wish = self._wish, None
            self._jobs.submit(KIND, [wish])
