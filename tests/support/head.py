"""Output in air of a machine, on the axis."""

from __future__ import annotations

from engine.beams import fluence
from engine.beams.beam import Aperture
from engine.beams.machine import Machine


def output_in_air(aperture: Aperture, machine: Machine) -> float:
    """Return the energy fluence on the axis per monitor unit (any scale common to a machine's apertures)."""
    monitor = getattr(fluence, "monitor_output", lambda *_: 1.0)
    return fluence.fluence_map(aperture, machine).at(0.0, 0.0) * monitor(aperture, machine)
