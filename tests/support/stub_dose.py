"""A stand-in for transport that remembers what it was asked: a broad beam that fades with depth, in milliseconds."""

from __future__ import annotations

import threading
from typing import Any

import numpy as np

from engine.base.progress import Report, quiet
from engine.base.values import own_array
from engine.dose.dose import Dose
from engine.dose.request import DoseRequest
from engine.space.frames import beam_from_patient


class StubDose:
    """Answers DoseRequests; `asked` holds them in order. While `gate` is clear the next one waits (or is cancelled)."""

    def __init__(self) -> None:
        self.asked: list[DoseRequest] = []
        self.gate = threading.Event()
        self.gate.set()
        self.error: Exception | None = None

    @property
    def qualities(self) -> list[str]:
        """Quality of each request asked so far."""
        return [r.quality for r in self.asked]

    def __call__(self, request: DoseRequest, report: Report = quiet) -> Dose:
        self.asked.append(request)
        if self.error is not None:
            raise self.error
        while not self.gate.wait(0.005):
            report(0.5, "waiting")
        report(1.0)
        return beam_dose(request)


def beam_dose(request: Any) -> Dose:
    """Return 0.01 Gy per MU on the axis at the isocentre, falling 0.4 % per mm, inside the jaws."""
    beam, grid = request.beam, request.grid
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    to_beam = beam_from_patient("HFS", beam.gantry_deg, beam.collimator_deg, beam.couch_deg)
    p = np.stack([x, y, z], axis=-1) - beam.isocentre_mm
    b = p @ to_beam.T
    inside = np.ones(grid.shape)
    for axis, (lo, hi) in enumerate((beam.aperture.x_mm, beam.aperture.y_mm)):
        inside *= 1 / (1 + np.exp((lo - b[..., axis]) / 2)) / (1 + np.exp((b[..., axis] - hi) / 2))
    gy = 0.01 * np.exp(0.004 * b[..., 2]) * inside
    return Dose(own_array(gy.astype(np.float32)), grid, request.fingerprint, request.quality)
