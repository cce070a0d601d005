"""Proposals: where the isocentre lies and from where beams come."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from engine.base.errors import EmptyVolume, InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.machine import Machine
from engine.space.grid import Point
from engine.volumes.coverage import Coverage
from engine.volumes.volume import new_key

# Gantry angles of arrangements of the trade (common practice), IEC 61217.
ARRANGEMENTS: dict[str, tuple[float, ...]] = {
    say("One beam"): (0.0,),
    say("Opposed, anterior and posterior"): (0.0, 180.0),
    say("Opposed, lateral"): (90.0, 270.0),
    say("Three beams, anterior and posterior obliques"): (0.0, 120.0, 240.0),
    say("Box of four"): (0.0, 90.0, 180.0, 270.0),
    say("Five, evenly spaced"): (0.0, 72.0, 144.0, 216.0, 288.0),
    say("Seven, evenly spaced"): (0.0, 51.0, 103.0, 154.0, 206.0, 257.0, 309.0),
    say("Nine, evenly spaced"): (0.0, 40.0, 80.0, 120.0, 160.0, 200.0, 240.0, 280.0, 320.0),
}


def isocentre_of(coverages: Coverage | Sequence[Coverage]) -> Point:
    """Return the centre of mass of one or more volumes (overlaps count twice), rounded to 0.1 mm.

    Raises
    ------
    EmptyVolume
        If nothing is painted.
    """
    parts = (coverages,) if isinstance(coverages, Coverage) else tuple(coverages)
    held = [(c.volume_cm3, c.centroid_mm()) for c in parts]
    masses = [(m, p) for m, p in held if p is not None]
    if not masses:
        raise EmptyVolume("there is no target to put the isocentre in", do="Paint the target first.")
    centre = np.average([p for _, p in masses], axis=0, weights=[m for m, _ in masses])
    return tuple(round(float(v), 1) for v in centre)  # type: ignore[return-value]


def evenly(n: int, start_deg: float = 0.0) -> tuple[float, ...]:
    """Return n gantry angles spread evenly over the full circle, from `start_deg`, rounded to whole degrees.

    An odd number has no two beams that enter where another leaves.
    """
    if not 1 <= n <= 36:
        raise InputError(say("{n} beams cannot be spread", n=n), do="Give 1 to 36.")
    return tuple(float(round(start_deg + 360.0 * i / n) % 360) for i in range(n))


def fan(n: int, span_deg: float = 90.0, tilt_deg: float = 40.0) -> tuple[tuple[float, float], ...]:
    """Return n (gantry, couch) angles out of one plane: the couch turned evenly over a span about 0, the gantry tilted
    from the vertical, to the side that the couch's foot end turns away from; at couch 0 to the patient's left.

    Raises
    ------
    InputError
        If n is not 2 to 15, or an angle not between 1 and 180 (span) or 89 degrees (tilt).
    """
    if not (2 <= n <= 15 and 1 <= span_deg <= 180 and 1 <= tilt_deg <= 89):
        raise InputError(say("{n} beams cannot be spread", n=n), do="Give 2 to 15.")
    couches = [round(-span_deg / 2 + span_deg * i / (n - 1), 1) for i in range(n)]
    # Anticlockwise from above (couch above 0) the foot end, which is away from the gantry, goes to +X: gantry to -X.
    return tuple(((360.0 - tilt_deg) if couch > 0 else tilt_deg, couch % 360.0) for couch in couches)


def opposed(gantry_deg: float) -> tuple[float, float]:
    """Return a gantry angle and the one opposite."""
    return gantry_deg % 360.0, (gantry_deg + 180.0) % 360.0


def new_beam(
    name: str,
    machine: str,
    isocentre_mm: Point,
    gantry_deg: float,
    aperture: Aperture | None = None,
    collimator_deg: float = 0.0,
    couch_deg: float = 0.0,
) -> Beam:
    """Return a beam with a fresh key; without an aperture it opens 100 x 100 mm, to be conformed."""
    opening = Aperture((-50.0, 50.0), (-50.0, 50.0)) if aperture is None else aperture
    return Beam(new_key(), name, machine, isocentre_mm, gantry_deg, collimator_deg, couch_deg, opening)


def toe_kept(beam: Beam, machine: Machine) -> Beam:
    """Return an opposed beam whose wedge has its toe on the same side of the patient, where it can stand so.

    From the other side the device's X is turned over and its Y is not: an angle a from +Y becomes -a, the collimator's
    own turn included.
    """
    wedge = machine.wedge(beam.wedge)
    turned = round(-beam.wedge_orientation_deg - 2 * beam.collimator_deg, 3) % 360
    return beam.but(wedge_orientation_deg=turned) if wedge and turned in wedge.orientations_deg else beam


def mirrored(beam: Beam, machine: Machine) -> Beam:
    """Return a still beam mirrored in the vertical plane through the isocentre along the patient: gantry, collimator and
    couch angle and the aperture's X change sides, and so does the wedge where it can stand so. The key is a new one."""
    a = beam.aperture
    leaves = tuple((-high, -low) for low, high in a.leaves_mm)
    aperture = a.but(x_mm=(-a.x_mm[1], -a.x_mm[0]), leaves_mm=leaves)
    turned = round(-beam.wedge_orientation_deg, 3) % 360
    wedge = machine.wedge(beam.wedge)
    return beam.but(
        key=new_key(),
        gantry_deg=-beam.gantry_deg,
        collimator_deg=-beam.collimator_deg,
        couch_deg=-beam.couch_deg,
        aperture=aperture,
        points=(),
        rotation="",
        wedge_orientation_deg=turned if wedge and turned in wedge.orientations_deg else beam.wedge_orientation_deg,
    )
