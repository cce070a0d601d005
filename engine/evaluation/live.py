"""The plan alive under the hand: per-beam sample doses kept, so that a weight moves DVHs and goals in milliseconds.

Monitor units of beam i in one fraction = weight i times `scale`; total dose = fractions x sum of MU x (Gy per MU). The
scale makes what the normalisation names equal to the prescription. With normalisation "None" it is 100 MU per unit
weight.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError, UserError
from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, FrozenArray, Value, own_array
from engine.base.words import say
from engine.dose.dose import Dose
from engine.dose.threads import thread_count
from engine.evaluation import summing
from engine.evaluation.dvh import Dvh, Points, dvh_from, points_of
from engine.evaluation.goals import Goal, judge
from engine.evaluation.metrics import parse
from engine.evaluation.moving import MOVING, rest_of
from engine.evaluation.reading import READ
from engine.evaluation.samples import Samples, samples
from engine.space.grid import Grid, Point
from engine.space.point import NamedPoint
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

MU_PER_WEIGHT = 100.0
NOT_JUDGED = say("not judged")
_metric = lru_cache(maxsize=512)(parse)
GoalState = tuple[Goal, float | None, str]


class Prescribed(Protocol):
    """What of a prescription matters here."""

    @property
    def dose_gy(self) -> float: ...
    @property
    def fractions(self) -> int: ...
    @property
    def volume_key(self) -> str: ...
    @property
    def point(self) -> NamedPoint | None: ...


@dataclass(frozen=True, eq=False)
class LiveRequest(Value):
    """Beam doses in Gy per MU, all on one grid, and the volumes to watch.

    Names, colours and notes of volumes are let go, so that renaming one asks for nothing new.
    """

    doses: tuple[Dose, ...]
    volumes: tuple[Volume, ...]

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.doses:
            raise GeometryError("there is no beam dose to evaluate", do="Compute the dose of at least one beam.")
        if any(d.grid != self.doses[0].grid for d in self.doses):
            raise GeometryError("doses on different grids cannot be summed", do="Compute all beams on one grid.")
        plain = tuple(Volume(v.key, v.key, v.role, (0, 0, 0), v.coverage) for v in self.volumes)
        object.__setattr__(self, "volumes", plain)


def prepare(request: LiveRequest, report: Report = quiet) -> LiveBasis:
    """Gather every beam's dose at every volume's sample points; what was read for earlier requests is taken from there."""
    grid, gy = request.doses[0].grid, tuple(d.gy for d in request.doses)
    found: dict[str, Samples] = {}
    per_beam: dict[str, tuple[FrozenArray, ...]] = {}
    body_key = next((v.key for v in request.volumes if v.role == "EXTERNAL" and not v.coverage.is_empty), None)
    wanted = [v for v in request.volumes if not v.coverage.is_empty]
    for i, volume in enumerate(wanted):
        report(0.5 * i / len(wanted), "reading doses in the volumes")
        where = samples(volume.coverage, grid)
        if where.count:
            found[volume.key] = where

    def read(volume: Volume) -> tuple[FrozenArray, ...]:
        return tuple(READ.doses(dose, volume.coverage, found[volume.key]) for dose in request.doses)

    inside = [v for v in wanted if v.key in found]
    with ThreadPoolExecutor(max_workers=thread_count()) as pool:
        for i, (volume, rows) in enumerate(zip(inside, pool.map(read, inside))):
            report(0.5 + 0.4 * i / len(inside), "reading doses in the volumes")
            per_beam[volume.key] = rows
    report(0.9, "looking for the highest doses")
    body = next((v.coverage for v in request.volumes if v.key == body_key), None)
    mask = _body_mask(body, grid)
    tops = own_array(np.stack([READ.tops(dose, body, mask) for dose in request.doses]))
    report(1.0)
    quality = "quick" if any(d.quality == "quick" for d in request.doses) else "fine"
    return LiveBasis(request, grid, gy, quality, found, per_beam, body_key, mask, tops)


@lru_cache(maxsize=4)
def _body_mask(body: Coverage | None, grid: Grid) -> FrozenArray:
    return own_array(summing.inside_mask(body, grid))


@dataclass(frozen=True, eq=False)
class LiveBasis:
    """What does not depend on weights: sample points of each volume and every beam's dose there.

    Parameters
    ----------
    request : the request it answers
    grid, gy, quality : of the beam doses
    samples, per_beam : by volume key; of each beam float32 (samples,). Empty volumes and those outside the dose grid are
        absent
    body_key : key of the body, or None
    mask : bool, dose voxels whose centre lies in the body (all without a body)
    tops : highest dose of each block of voxels, beam by beam
    """

    request: LiveRequest
    grid: Grid
    gy: tuple[FrozenArray, ...]
    quality: str
    samples: Mapping[str, Samples]
    per_beam: Mapping[str, tuple[FrozenArray, ...]]
    body_key: str | None
    mask: FrozenArray
    tops: FrozenArray
    _planes: summing.Cuts = field(default_factory=OrderedDict)

    @property
    def inputs(self) -> Fingerprint:
        """Fingerprint of the request; not asked while a hand is followed, because it hashes whole doses."""
        return self.request.fingerprint

    def evaluate(
        self,
        weights: Sequence[float],
        normalisation: str,
        prescription: Prescribed | None,
        isocentre_mm: Point | None = None,
        goals: Sequence[Goal] = (),
    ) -> PlanNow:
        """Return the plan for these weights; never fails on a plan that has no dose where it is asked for.

        Raises
        ------
        GeometryError
            If there is not one weight, not negative, for each beam.
        """
        if len(weights) != len(self.gy) or not all(0 <= w < np.inf for w in weights):
            raise GeometryError(
                say(
                    "{count} beams need as many weights that are not negative, not {weights}",
                    count=len(self.gy),
                    weights=list(weights),
                )
            )
        fractions = prescription.fractions if prescription else 1
        unit = tuple(float(w) * fractions for w in weights)
        # One sum serves normalisation and histograms: a dose that is scaled has the same curve, scaled.
        points = MOVING.each(self.per_beam, unit, lambda key, gy: points_of(gy, self.samples[key]))
        scale, reason = self._scale(unit, points, normalisation, prescription, isocentre_mm)
        factors = tuple(u * (scale or 0.0) for u in unit)
        mu = tuple(float(w) * (scale or 0.0) for w in weights)
        dvhs = {key: dvh_from(p, self.samples[key], scale or 0.0) for key, p in points.items()}
        if self.body_key in dvhs:
            dvhs[self.body_key] = self._to_the_top(dvhs[self.body_key], factors)
        prescribed = prescription.dose_gy if prescription else None
        # Without monitor units nothing is reached: an organ that would get 0 Gy is no goal met.
        states = tuple(judged(goal, dvhs if scale is not None else {}, prescribed) for goal in goals)
        return PlanNow(self, mu, factors, dvhs, states, scale, reason, fractions, prescribed)

    def doses_in(self, key: str, factors: Sequence[float]) -> NDArray[np.float32]:
        """Return the summed dose at a volume's sample points, (n,)."""
        return rest_of(self.per_beam[key], factors).astype(np.float32)

    def point(self, point_mm: Point, factors: Sequence[float]) -> tuple[float, ...]:
        """Return each beam's dose at a point; zero outside the grid's faces."""
        from engine.evaluation.sampling_kernels import gather

        if not self.grid.contains(point_mm):
            return (0.0,) * len(self.gy)
        at = np.clip(self.grid.index(point_mm), 0, np.array(self.grid.shape) - 1.0).astype(np.float32)[None]
        out = np.empty(1, dtype=np.float32)
        shares = []
        for gy, factor in zip(self.gy, factors, strict=True):
            gather(gy, at, out)
            shares.append(float(out[0]) * factor)
        return tuple(shares)

    def _to_the_top(self, dvh: Dvh, factors: Sequence[float]) -> Dvh:
        """Return the histogram of the body up to its highest voxel, for its samples lie far apart."""
        top = summing.highest(self.gy, factors, self.tops, self.mask)
        if top is None or top[1] <= dvh.max_gy:
            return dvh
        dose = dvh.dose_gy.copy()
        dose[-1] = top[1]
        return dvh.but(dose_gy=own_array(dose))

    def _scale(
        self,
        unit: Sequence[float],
        points: Mapping[str, Points],
        normalisation: str,
        prescription: Prescribed | None,
        isocentre_mm: Point | None,
    ) -> tuple[float | None, str]:
        if normalisation == "None":
            return MU_PER_WEIGHT, ""
        if not any(u > 0 for u in unit):
            return None, say("Every beam has weight zero.")
        if prescription is None:
            return None, say("There is no prescription to normalise to.")
        if normalisation == "Isocentre":
            if isocentre_mm is None:
                return None, say("There is no isocentre to normalise at.")
            reached = sum(self.point(isocentre_mm, unit))
            where = say("the isocentre")
        elif normalisation == "Point":
            point = prescription.point
            if point is None:
                return None, say("There is no point to normalise at.")
            where = say("the point {point}", point=point.words)
            if not self.grid.contains(point.place_mm):
                return None, say("The point {point} lies outside the dose grid.", point=point.words)
            reached = sum(self.point(point.place_mm, unit))
        else:
            key = prescription.volume_key
            if key not in self.samples:
                return None, say("The prescribed volume is empty or lies outside the dose grid.")
            metric = _metric(f"{normalisation}[Gy]")
            reached = metric.value(dvh_from(points[key], self.samples[key]), accept_partial=True)
            where = say("the prescribed volume ({normalisation})", normalisation=normalisation)
        if not reached > 0 or not np.isfinite(prescription.dose_gy / reached):
            return None, say("The beams give no dose to {where}.", where=where)
        return prescription.dose_gy / reached, ""


def judged(goal: Goal, dvhs: Mapping[str, Dvh], prescribed_gy: float | None) -> GoalState:
    """Return (goal, what is reached or None, how it is judged) from the DVHs by volume key."""
    dvh = dvhs.get(goal.volume_key)
    if dvh is None:
        return goal, None, NOT_JUDGED
    try:
        value = _metric(goal.metric).value(dvh, prescribed_gy)
    except UserError:
        return goal, None, NOT_JUDGED
    return goal, value, judge(goal, value)


@dataclass(frozen=True, eq=False)
class PlanNow:
    """A plan at its present weights.

    Parameters
    ----------
    mu : monitor units of each beam in one fraction
    factors : monitor units of each beam over all fractions: what its Gy per MU are multiplied by
    dvhs : by volume key
    goals : (goal, value or None, "met" / "within tolerance" / "missed" / "not judged")
    scale : MU per unit weight, or None with a plain `reason`; then all doses are zero
    fractions, prescribed_gy : as prescribed (1 and None without a prescription)
    """

    basis: LiveBasis
    mu: tuple[float, ...]
    factors: tuple[float, ...]
    dvhs: Mapping[str, Dvh]
    goals: tuple[GoalState, ...]
    scale: float | None
    reason: str
    fractions: int
    prescribed_gy: float | None
    _kept: dict[str, Dose] = field(default_factory=dict)

    def plane(self, axis: str, position_mm: float) -> summing.Plane:
        """Return (dose in Gy (rows, columns), row positions, column positions in mm) of a plane across z, y or x."""
        return summing.plane_sum(self.basis.gy, self.factors, self.basis.grid, axis, position_mm, self.basis._planes)

    def dose(self) -> Dose:
        """Return the total dose on the whole grid, summed when first asked for."""
        if "total" not in self._kept:
            total = own_array(summing.whole_sum(self.basis.gy, self.factors))
            self._kept["total"] = Dose(total, self.basis.grid, "", self.basis.quality)
        return self._kept["total"]

    def point(self, point_mm: Point) -> tuple[float, ...]:
        """Return each beam's dose in Gy at a point, over all fractions."""
        return self.basis.point(point_mm, self.factors)

    def along(self, start_mm: Point, end_mm: Point, count: int) -> NDArray[np.float64]:
        """Return the total dose in Gy at `count` even steps of a straight line, ends included; nan outside the grid."""
        from engine.evaluation.sampling_kernels import gather

        grid = self.basis.grid
        low, high = (np.asarray(b) for b in grid.bounds_mm)
        points = np.linspace(start_mm, end_mm, count)
        at = np.clip(grid.index(points), 0, np.array(grid.shape) - 1.0).astype(np.float32)
        total, part = np.zeros(count), np.empty(count, dtype=np.float32)
        for gy, factor in zip(self.basis.gy, self.factors, strict=True):
            gather(gy, at, part)
            total += factor * part
        total[((points < low) | (points > high)).any(axis=1)] = np.nan
        return total

    def hottest(self) -> tuple[Point, float] | None:
        """Return place and dose of the highest voxel in the body (in the grid without a body), None without any."""
        found = summing.highest(self.basis.gy, self.factors, self.basis.tops, self.basis.mask)
        if found is None:
            return None
        (k, r, c), gy = found
        x, y, z = self.basis.grid.point((float(k), float(r), float(c)))
        return (float(x), float(y), float(z)), gy

    def hottest_in(self, volume_key: str) -> tuple[Point, float] | None:
        """Return place and dose of the highest sample of a volume, None if the volume has no samples."""
        where = self.basis.samples.get(volume_key)
        if where is None:
            return None
        dose = self.basis.doses_in(volume_key, self.factors)
        i = int(np.argmax(dose))
        x, y, z = self.basis.grid.point(where.index[i].astype(np.float64))
        return (float(x), float(y), float(z)), float(dose[i])

    def coverage_by_slice(self, volume_key: str, percent: float = 98.0) -> tuple[tuple[int, float], ...]:
        """Return (image plane, least dose in Gy in the hottest `percent` of the volume's slab there) for each plane."""
        where = self.basis.samples.get(volume_key)
        if where is None:
            return ()
        dose = self.basis.doses_in(volume_key, self.factors)
        out = []
        for plane, a, b in zip(where.planes, where.offsets, where.offsets[1:]):
            if b <= a:
                continue
            order = np.argsort(dose[a:b])
            part, share = dose[a:b][order], where.share[a:b][order].astype(np.float64)
            below = (np.cumsum(share) - 0.5 * share) / share.sum()
            out.append((plane, float(np.interp(1 - percent / 100.0, below, part))))
        return tuple(out)


def warm_up() -> None:
    """Compile (or load from the cache) every serial kernel that the screen thread will call."""
    from engine.evaluation.isodose import lines
    from engine.volumes.coverage import Coverage

    grid = Grid((0.0, 0.0, 0.0), (5.0, 5.0, 5.0), (6, 6, 6))
    gy = own_array(np.linspace(0, 1, 216, dtype=np.float32).reshape(grid.shape))
    volumes = []
    for key, spacing, size in (("small", 5.0, 6), ("large", 0.4, 60)):
        image = Grid((2.5, 2.5, 2.5), (spacing,) * 3, (size,) * 3)
        data = np.full(image.shape, 255, dtype=np.uint8)
        data[:, 0] = 100
        volumes.append(Volume(key, key, "OAR", (0, 0, 0), Coverage.from_dense(image, data)))
    basis = prepare(LiveRequest((Dose(gy, grid), Dose(gy, grid)), tuple(volumes)))
    plan = basis.evaluate((1.0, 1.0), "None", None)
    plan.dose()
    plan.hottest()
    plan.hottest_in("large")
    plan.point((5.0, 5.0, 5.0))
    plan.along((5.0, 5.0, 5.0), (9.0, 9.0, 9.0), 4)
    plan.dvhs["large"].curve(50)
    for axis in "zyx":
        plane, _, _ = plan.plane(axis, 7.0)
        lines(plane, (20.0, 50.0))
