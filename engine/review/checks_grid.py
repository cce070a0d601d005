"""Whether the grid that dose is computed on holds what the beams irradiate."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from engine.base.words import Words, listed, say
from engine.beams.beam import Aperture, Beam
from engine.beams.delivery import stills
from engine.case.requests import dose_grid
from engine.dose.fan import window_of
from engine.review.finding import Facts, Finding
from engine.space.frames import beam_from_patient, project
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage

# Places on a face of the grid are looked at this far apart.
_PITCH_MM = 4.0
_HALF = 128
# By axis x, y, z of the patient: its lower and its upper end.
_SIDES = ((say("right"), say("left")), (say("front"), say("back")), (say("foot"), say("head")))


def dose_grid_holds_beams(facts: Facts) -> Iterator[Finding]:
    """Yield beams whose isocentre lies beyond the dose grid, and beams that leave it while still inside the body.

    The grid is the body's, cut at the image: where a scan ends within the body, what a beam irradiates beyond is not
    computed, nor is what scatters back from there.
    """
    body = facts.case.body
    grid = dose_grid(facts.case, facts.draft.dose_spacing_mm)
    rule = say("The dose grid holds the isocentre, and all of the body that the beams pass.")
    sides = body_at_sides(body.coverage, grid) if body is not None and not body.coverage.is_empty else {}
    for beam in facts.draft.beams:
        if not grid.contains(beam.isocentre_mm):
            x, y, z = beam.isocentre_mm
            words = say(
                "The isocentre of {beam}, at x {x:.0f}, y {y:.0f}, z {z:.0f} mm, lies beyond the dose grid.",
                beam=beam.name,
                x=x,
                y=y,
                z=z,
            )
            yield Finding(
                "isocentre-beyond-grid", "stop", rule, words, beam.key, beam_key=beam.key, point_mm=beam.isocentre_mm
            )
        sad_mm, position = facts.case.machine(beam.machine).sad_mm, facts.case.image.patient_position
        passed = {side: through(points, beam, sad_mm, position) for side, points in sides.items()}
        passed = {side: points for side, points in passed.items() if len(points)}
        if passed:
            words = say(
                "{beam} passes the {sides} end of the dose grid inside the body; no dose is known beyond.",
                beam=beam.name,
                sides=listed(list(passed)),
            )
            middle = np.concatenate(list(passed.values())).mean(axis=0)
            point = (float(middle[0]), float(middle[1]), float(middle[2]))
            yield Finding("beam-leaves-grid", "warn", rule, words, beam.key, beam_key=beam.key, point_mm=point)


def body_at_sides(body: Coverage, box: Grid) -> dict[Words, NDArray[np.float64]]:
    """Return points (n, 3) of the body on each side of the image where it touches that side and the grid ends there."""
    image, held = body.grid, body.bounds_mm()
    found = {}
    for axis, names in enumerate(_SIDES):
        for end, name in enumerate(names):
            face_mm = image.bounds_mm[end][axis]
            near = abs(box.bounds_mm[end][axis] - face_mm) <= box.spacing_mm[axis]
            if held is None or not near or abs(held[end][axis] - face_mm) > 0.01:
                continue
            points = _on_face(body, axis, 0 if end == 0 else image.shape[2 - axis] - 1)
            points[:, axis] = face_mm
            if len(points):
                found[name] = points
    return found


def _on_face(body: Coverage, axis: int, layer: int) -> NDArray[np.float64]:
    """Return the middles (n, 3) of body pixels in one outermost layer across an axis of the patient, some mm apart."""
    grid, across = body.grid, 2 - axis
    flat = body.slice(layer)[None] if across == 0 else np.take(body.dense(), [layer], axis=across)
    index = np.argwhere(flat >= _HALF)
    index[:, across] = layer
    for n in range(3):
        if n != across:
            index = index[index[:, n] % max(1, round(_PITCH_MM / grid.spacing_mm[2 - n])) == 0]
    return grid.point(index.astype(np.float64))


def through(points_mm: NDArray[np.float64], beam: Beam, sad_mm: float, patient_position: str) -> NDArray[np.float64]:
    """Return those of some points (n, 3) that see the source through an open aperture of the beam."""
    seen = np.zeros(len(points_mm), dtype=bool)
    for still in stills(beam):
        to_beam = beam_from_patient(patient_position, still.gantry_deg, beam.collimator_deg, beam.couch_deg)
        at = project(points_mm, beam.isocentre_mm, to_beam, sad_mm)
        for _, aperture in still.openings:
            seen |= _open(aperture, at)
    return points_mm[seen]


def _open(aperture: Aperture, at: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return which places (n, 2) of the isocentre plane lie in the box about what an aperture leaves open."""
    window = window_of([aperture])
    if window is None:
        return np.zeros(len(at), dtype=bool)
    (x1, x2), (y1, y2) = window.x_mm, window.y_mm
    return np.asarray((at[:, 0] > x1) & (at[:, 0] < x2) & (at[:, 1] > y1) & (at[:, 1] < y2))
