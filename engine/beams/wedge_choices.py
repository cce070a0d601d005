"""What wedges a beam could stand with."""

from __future__ import annotations

from engine.beams.beam import Beam
from engine.beams.limits import misfits
from engine.beams.machine import Machine


def wedge_choices(beam: Beam, machine: Machine) -> tuple[Beam, ...]:
    """Return the beam as it is, then without a wedge and with each wedge every way it may stand and covers the field.

    Of wedges of one angle that stand the same way the first of the machine's is taken: they differ in how they are made,
    not in what they are for. A beam that moves while it delivers has no choice.
    """
    if beam.points:
        return (beam,)
    found = {_way(beam, machine): beam}
    open_beam = beam.but(wedge="", wedge_orientation_deg=0.0)
    wanted = [open_beam] + [
        beam.but(wedge=wedge.name, wedge_orientation_deg=turn)
        for wedge in machine.wedges
        for turn in wedge.orientations_deg
    ]
    for other in wanted:
        if not any(misfit.code in _OF_WEDGES for misfit in misfits(other, machine)):
            found.setdefault(_way(other, machine), other)
    return tuple(found.values())


_OF_WEDGES = ("no-wedge", "wedge-orientation", "wedge-field")


def _way(beam: Beam, machine: Machine) -> tuple[float, float]:
    wedge = machine.wedge(beam.wedge)
    return (wedge.angle_deg, beam.wedge_orientation_deg % 360.0) if wedge is not None else (0.0, 0.0)
