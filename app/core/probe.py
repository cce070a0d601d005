"""What is to be said about one point: each beam's dose and depths, and the volumes the point lies in."""

from __future__ import annotations

from dataclasses import dataclass

from app.core.plan_follow import PlanFollower
from engine.base.errors import UserError
from engine.case.requests import patient_density
from engine.space.frames import source_mm

Point = tuple[float, float, float]


@dataclass(frozen=True)
class BeamShare:
    """One beam at the point; depths are None where they cannot be traced."""

    name: str
    gy: float
    percent: float
    depth_mm: float | None
    water_mm: float | None


@dataclass(frozen=True)
class Probe:
    """Everything about one point. `percent` of the prescription (None without one); volumes with their coverage."""

    point_mm: Point
    gy: float
    percent: float | None
    shares: tuple[BeamShare, ...]
    volumes: tuple[tuple[str, tuple[int, int, int], float], ...]
    old: bool


def probe(follower: PlanFollower, point_mm: Point) -> Probe | None:
    """Return what the follower's plan says about a point, or None without a case."""
    case = follower.workspace.case
    if case is None:
        return None
    volumes = tuple((v.name, v.colour, share) for v in case.volumes if (share := _share(v.coverage, point_mm)) > 0)
    now, draft = follower.now, follower.shown_draft
    if now is None or draft is None:
        return Probe(point_mm, 0.0, None, (), volumes, False)
    doses = now.point(point_mm)
    total = float(sum(doses))
    shares = []
    for beam, gy in zip(draft.beams, doses, strict=True):
        depth, water = _depths(follower, beam, point_mm)
        shares.append(BeamShare(beam.name, float(gy), 100.0 * gy / total if total > 0 else 0.0, depth, water))
    percent = 100.0 * total / now.prescribed_gy if now.prescribed_gy else None
    return Probe(point_mm, total, percent, tuple(shares), volumes, follower.is_old)


def _share(coverage: object, point_mm: Point) -> float:
    grid = coverage.grid  # type: ignore[attr-defined]
    if not grid.contains(point_mm):
        return 0.0
    k, r, c = (round(float(v)) for v in grid.index(point_mm))
    tile = coverage.tile(k)  # type: ignore[attr-defined]
    if tile is None or not (0 <= r - tile.row < tile.alpha.shape[0] and 0 <= c - tile.column < tile.alpha.shape[1]):
        return 0.0
    return float(tile.alpha[r - tile.row, c - tile.column]) / 255.0


def _depths(follower: PlanFollower, beam: object, point_mm: Point) -> tuple[float | None, float | None]:
    from engine.dose.depth import depth_mm, water_equivalent_depth_mm

    case = follower.workspace.case
    if case is None:
        return None, None
    try:
        density = patient_density(case, beam.bolus).resolve()  # type: ignore[attr-defined]
        sad_mm = case.machine(beam.machine).sad_mm  # type: ignore[attr-defined]
        source = source_mm(
            beam.isocentre_mm, case.image.patient_position, beam.gantry_deg, beam.couch_deg, sad_mm,  # type: ignore[attr-defined]
        )  # fmt: skip
        at = (float(source[0]), float(source[1]), float(source[2]))
        return depth_mm(density, point_mm, at), water_equivalent_depth_mm(density, point_mm, at)
    except UserError:
        return None, None
