"""Requests a case makes, and how results stand against them. Results never live inside the case."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import UserError
from engine.base.values import Fingerprint, Value, own_array
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.case.case import Case, Draft
from engine.dose.dose import Dose
from engine.dose.request import DoseRequest
from engine.image.ct import CtImage
from engine.image.density import Density, DensityCurve
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage

AIR_G_CM3 = 0.00121
# Of a bolus whose volume says nothing else: what flexible bolus is made to be [common practice].
BOLUS_G_CM3 = 1.0
QUICK_SPACING_MM = 5.0
_PAD_MM = 5.0


@dataclass(frozen=True, eq=False)
class PatientDensity(Value):
    """What the density of a patient is made from; cheap to compare, resolved only where transport runs.

    Parameters
    ----------
    inside : coverages whose union counts as matter (body, supports); outside it there is air. Empty: everywhere
    overrides : (coverage, g/cm3) in order; later ones win
    bolus : (coverage, g/cm3) of what lies on the patient for one beam: fills what `inside` leaves free
    """

    image: CtImage
    curve: DensityCurve
    inside: tuple[Coverage, ...] = ()
    overrides: tuple[tuple[Coverage, float], ...] = ()
    bolus: tuple[tuple[Coverage, float], ...] = ()

    def resolve(self) -> Density:
        """Return densities on the image's grid (remembered for the last two asked: with and without bolus)."""
        return _resolve(self)


@lru_cache(maxsize=2)
def _resolve(want: PatientDensity) -> Density:
    rho = want.curve.density(want.image.hu)
    share = _union(want.inside, rho.shape)
    if want.inside:
        rho[share == 0] = AIR_G_CM3
        edge = (share > 0) & (share < 255)
        part = share[edge].astype(np.float32) / 255.0
        rho[edge] = part * rho[edge] + (1 - part) * np.float32(AIR_G_CM3)
    for coverage, g_cm3 in want.bolus:
        _lay_on(rho, share, coverage, g_cm3)
    for coverage, g_cm3 in want.overrides:
        for t in coverage.tiles:
            r, c = t.alpha.shape
            patch = rho[t.plane, t.row : t.row + r, t.column : t.column + c]
            blend = t.alpha.astype(np.float32) / 255.0
            patch[...] = blend * np.float32(g_cm3) + (1 - blend) * patch
    return Density(own_array(rho), want.image.grid, want.image.patient_position)


def _union(coverages: tuple[Coverage, ...], shape: tuple[int, ...]) -> NDArray[np.uint8]:
    share = np.zeros(shape, dtype=np.uint8)
    for coverage in coverages:
        for t in coverage.tiles:
            r, c = t.alpha.shape
            view = share[t.plane, t.row : t.row + r, t.column : t.column + c]
            np.maximum(view, t.alpha, out=view)
    return share


def _lay_on(rho: NDArray[np.float32], share: NDArray[np.uint8], coverage: Coverage, g_cm3: float) -> None:
    """Fill what matter leaves free inside a coverage; a voxel that body and bolus share holds some of both."""
    for t in coverage.tiles:
        r, c = t.alpha.shape
        place = (t.plane, slice(t.row, t.row + r), slice(t.column, t.column + c))
        fill = np.minimum(t.alpha, 255 - share[place]).astype(np.float32) / 255.0
        free = 1 - share[place].astype(np.float32) / 255.0
        # What stands in the free part now is air outside a body, or the CT's own density without one.
        now = np.float32(AIR_G_CM3) if share.any() else rho[place]
        rho[place] += np.where(free > 0, fill * (np.float32(g_cm3) - now), 0)


def patient_density(case: Case, bolus: tuple[str, ...] = ()) -> PatientDensity:
    """Gather the density inputs of a case.

    Parameters
    ----------
    bolus : keys of the volumes of role BOLUS that lie on the patient; the others are air, whatever the CT shows there
    """
    body = case.body
    has_body = body is not None and not body.coverage.is_empty
    painted = [v for v in case.volumes if not v.coverage.is_empty]
    matter = tuple(v.coverage for v in painted if v.role in ("EXTERNAL", "SUPPORT"))
    overrides = tuple(
        (v.coverage, v.density_g_cm3) for v in case.volumes if v.density_g_cm3 is not None and v.role != "BOLUS"
    )
    laid = tuple(
        (v.coverage, BOLUS_G_CM3 if v.density_g_cm3 is None else v.density_g_cm3)
        for v in painted
        if v.role == "BOLUS" and v.key in bolus
    )
    return _density(case.image, case.curve, matter if has_body else (), overrides, laid)


# A hand that turns a beam asks sixty times a second; what it leaves alone stays the same object, hashed once.
_density = lru_cache(maxsize=4)(PatientDensity)


def dose_grid(case: Case, spacing_mm: float) -> Grid:
    """Return the dose grid of a case: the body's box (the image's without a body) and a rim, in steps of the spacing.

    Its voxels are anchored to the image origin, so a small change of the body does not shift every voxel.
    """
    body = case.body
    return _dose_grid(case.image.grid, body.coverage if body else None, spacing_mm)


@lru_cache(maxsize=8)
def _dose_grid(image: Grid, body: Coverage | None, spacing_mm: float) -> Grid:
    lo, hi = image.bounds_mm
    box = body.bounds_mm() if body else None
    if box:
        lo = tuple(max(a, b - _PAD_MM) for a, b in zip(lo, box[0], strict=True))  # type: ignore[assignment]
        hi = tuple(min(a, b + _PAD_MM) for a, b in zip(hi, box[1], strict=True))  # type: ignore[assignment]
    origin = image.bounds_mm[0]
    first = [int(np.floor((a - o) / spacing_mm + 1e-6)) for a, o in zip(lo, origin, strict=True)]
    last = [int(np.ceil((b - o) / spacing_mm - 1e-6)) for b, o in zip(hi, origin, strict=True)]
    start = tuple(o + (f + 0.5) * spacing_mm for o, f in zip(origin, first, strict=True))
    n = [max(1, b - a) for a, b in zip(first, last, strict=True)]
    return Grid(start, (spacing_mm,) * 3, (n[2], n[1], n[0]))  # type: ignore[arg-type]


def dose_requests(case: Case, draft: Draft, quality: str = "fine") -> tuple[DoseRequest, ...]:
    """Return one request per beam; weights, normalisation, prescription and names are not among its inputs."""
    return tuple(_each_request(case, draft, quality))


def _each_request(case: Case, draft: Draft, quality: str) -> Iterator[DoseRequest]:
    from engine.dose.kernels import tables_fingerprint

    density = {laid: patient_density(case, laid) for laid in {b.bolus for b in draft.beams}}
    spacing = draft.dose_spacing_mm if quality == "fine" else max(QUICK_SPACING_MM, draft.dose_spacing_mm)
    grid = dose_grid(case, spacing)
    tables = tables_fingerprint()
    for beam in draft.beams:
        yield _dose_request(density[beam.bolus], beam, case.machine(beam.machine), grid, quality, draft.report_to, tables)


@lru_cache(maxsize=128)
def _dose_request(
    density: PatientDensity, beam: Beam, machine: Machine, grid: Grid, quality: str, report_to: str, tables: Fingerprint
) -> DoseRequest:
    return DoseRequest(
        density=density,  # type: ignore[arg-type]
        beam=beam.nameless(),
        machine=machine,
        grid=grid,
        quality=quality,
        report_to=report_to,
        tables=tables,
    )


def needed_doses(case: Case) -> frozenset[Fingerprint]:
    """Return the fingerprints of the fine requests of all drafts: the doses worth keeping with the case."""
    found: set[Fingerprint] = set()
    for draft in case.drafts:
        with suppress(UserError):  # a draft that cannot be computed as it is needs no dose
            found |= {r.fingerprint for r in dose_requests(case, draft, "fine")}
    return frozenset(found)


@dataclass(frozen=True)
class Standing:
    """How stored doses stand against what the draft would ask now.

    state : "none" (nothing fits and nothing did), "quick", "current", "out of date" (older doses exist, none fits)
    doses : one per beam, all of one quality, when state is quick or current; else ()
    """

    state: str
    doses: tuple[Dose, ...] = ()


def standing(case: Case, draft: Draft, results: Mapping[Fingerprint, Value]) -> Standing:
    """Compare stored results with the requests of the present draft. Nobody sets this state; everybody asks."""
    if not draft.beams:
        return Standing("none")
    # The fine ones are all made, so that a beam nothing can be asked for is told of; of the quick ones as many as it takes.
    for requests, state in ((dose_requests(case, draft), "current"), (_each_request(case, draft, "quick"), "quick")):
        found = _held(requests, results)
        if found is not None:
            return Standing(state, found)
    return Standing("out of date" if any(isinstance(d, Dose) for d in results.values()) else "none")


def _held(requests: Iterable[DoseRequest], results: Mapping[Fingerprint, Value]) -> tuple[Dose, ...] | None:
    """Return the doses that answer the requests, or None as soon as one is missing."""
    found = []
    for request in requests:
        dose = results.get(request.fingerprint)
        if not isinstance(dose, Dose):
            return None
        found.append(dose)
    return tuple(found)
