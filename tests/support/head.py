"""Output in air of a machine, on the axis."""

from __future__ import annotations

from engine.beams.beam import Aperture
from engine.beams.fluence import fluence_map
from engine.beams.machine import Machine


def output_in_air(aperture: Aperture, machine: Machine) -> float:
    """Return the energy fluence on the axis per monitor unit (any scale common to a machine's apertures)."""
    return fluence_map(aperture, machine).at(0.0, 0.0)
