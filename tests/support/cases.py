"""Small cases for tests: a water cylinder with a target and an organ, no physics needed."""

from __future__ import annotations

import numpy as np

from engine.base.values import Value, frozen_array, own_array
from engine.beams.beam import Aperture, Beam
from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.case.case import Case, Patient, Prescription
from engine.case.requests import dose_requests
from engine.dose.dose import Dose
from engine.evaluation.goals import Goal
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

GRID = Grid((-63.0, -63.0, -45.0), (3.0, 3.0, 5.0), (19, 43, 43))


def ball(grid: Grid, centre_mm: tuple[float, float, float], radius_mm: float) -> Coverage:
    """Return a ball with a linear edge one pixel wide."""
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    distance = radius_mm - np.sqrt((x - centre_mm[0]) ** 2 + (y - centre_mm[1]) ** 2 + (z - centre_mm[2]) ** 2)
    share = np.clip(distance / grid.spacing_mm[0] + 0.5, 0, 1)
    return Coverage.from_dense(grid, np.rint(255 * share).astype(np.uint8))


def tube(grid: Grid, centre_mm: tuple[float, float], radius_mm: float) -> Coverage:
    """Return a cylinder along z through all planes."""
    y, x = np.meshgrid(grid.y_mm, grid.x_mm, indexing="ij")
    share = np.clip((radius_mm - np.hypot(x - centre_mm[0], y - centre_mm[1])) / grid.spacing_mm[0] + 0.5, 0, 1)
    disc = np.rint(255 * share).astype(np.uint8)
    return Coverage.from_dense(grid, np.broadcast_to(disc, grid.shape))


def small_case() -> Case:
    """Return a case without beams: Body, PTV in the middle, SpinalCord behind it, a prescription and two goals."""
    body = tube(GRID, (0, 0), 55)
    hu = np.where(body.dense() > 127, 0, -1000).astype("<i2")
    image = CtImage(own_array(hu), GRID, "HFS", description="test cylinder")
    case = Case(Patient("Test^Cylinder", "T-1", synthetic=True), image)
    for key, name, role, coverage in (
        ("body", "Body", "EXTERNAL", body),
        ("ptv", "PTV", "PTV", ball(GRID, (0, 0, 0), 20)),
        ("cord", "SpinalCord", "OAR", tube(GRID, (0, 35), 6)),
    ):
        case = edits.with_volume(case, Volume(key, name, role, edits.next_colour(case), coverage))
    draft = edits.new_draft(case).but(
        key="draft",
        prescription=Prescription(60, 30, "ptv"),
        goals=(Goal("ptv", "D95%[%]", ">=", 95, 1), Goal("cord", "Max[Gy]", "<=", 45, 0)),
    )
    return edits.with_draft(case, draft)


def flat_dose(grid: Grid, gy: float, inputs: str = "") -> Dose:
    """Return the same dose everywhere."""
    return Dose(frozen_array(np.full(grid.shape, gy, dtype=np.float32)), grid, inputs)


def planned_case() -> Case:
    """Return the small case with two opposed beams of point-6 that show the whole target."""
    case = edits.with_machine(small_case(), load_machine("point-6"))
    square = Aperture((-32, 32), (-32, 32))
    draft = case.drafts[0].but(goals=(Goal("ptv", "D95%[%]", ">=", 95, 1), Goal("cord", "Max[Gy]", "<=", 70)))
    for key, name, gantry in (("a", "AP", 0), ("p", "PA", 180)):
        draft = edits.with_beam(draft, Beam(key, name, "point-6", (0, 0, 0), gantry, 0, 0, square))
    return edits.with_draft(case, draft)


def flat_results(case: Case, quality: str = "fine", gy_per_mu: float = 0.01) -> dict[str, Value]:
    """Return a flat dose for every beam of the last draft, by the fingerprint of its request."""
    requests = dose_requests(case, case.drafts[-1], quality)
    return {r.fingerprint: flat_dose(r.grid, gy_per_mu, r.fingerprint).but(quality=quality) for r in requests}
