"""Published beam data that a machine's computed data are held against: check, source, expected, found."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

import assets
from engine.base.sources import Source, Table, read_table
from engine.base.values import Value
from engine.base.words import Words, say, template
from engine.beams.machine import Machine
from engine.beams.machine_file import read_spectrum
from engine.commission.beam_data import BeamData

FOLDER = "physics/published"
REFERENCE_SPECTRUM = "spectrum_6mv.csv"
_UNFLATTENED_BELOW = 0.95
_MV = 0.5


@dataclass(frozen=True, eq=False)
class PublishedCheck(Value):
    """One published value beside what was computed.

    Parameters
    ----------
    counts : whether the source was read or computed, so that the check can pass or fail; a value from memory cannot
    within : whether the found value lies within the band
    """

    name: str
    source: Source
    expected: float
    band: float
    found: float

    @property
    def counts(self) -> bool:
        """Whether it can pass or fail."""
        return self.source.known != "memory"

    @property
    def within(self) -> bool:
        """Whether the found value lies within the band."""
        return abs(self.found - self.expected) <= self.band * (1 + 1e-9)


@lru_cache(maxsize=1)
def published_tables() -> tuple[Table, ...]:
    """Return the tables that come with the program, by file name."""
    return tuple(read_table(p) for p in sorted(assets.path(FOLDER).glob("*.csv")))


def published_checks(machine: Machine, data: BeamData) -> tuple[PublishedCheck, ...]:
    """Return every published value that applies to a machine and was computed for it, in the order of the tables."""
    kinds = kinds_of(machine)
    checks = []
    for table in published_tables():
        columns = [table[c] for c in ("mv", "field_mm", "depth_mm", "expected", "band")]
        for quantity, applies, mv, side, depth, expected, band in zip(
            table.text("quantity"), table.text("applies"), *columns, strict=True
        ):
            if applies not in kinds or (np.isfinite(mv) and abs(mv - machine.nominal_mv) > _MV):
                continue
            found = found_in(data, quantity, float(side), float(depth))
            if found is not None and np.isfinite(found):
                name = named(quantity, float(side), float(depth))
                checks.append(PublishedCheck(name, table.source, float(expected), float(band), found))
    return tuple(checks)


def fields_of(machine: Machine) -> tuple[float, ...]:
    """Return the field sides that the published values of a machine ask for."""
    kinds, found = kinds_of(machine), set()
    for table in published_tables():
        for applies, mv, side in zip(table.text("applies"), table["mv"], table["field_mm"], strict=True):
            if applies in kinds and not abs(mv - machine.nominal_mv) > _MV and np.isfinite(side):
                found.add(float(side))
    return tuple(sorted(s for s in found if s <= 2 * machine.field_limit_mm))


def kinds_of(machine: Machine) -> frozenset[str]:
    """Return what a machine is, as far as published data ask: any, spectrum, ideal, flattened, unflattened."""
    kinds = {"any"}
    same = (machine.spectrum_mev, machine.spectrum_fluence) == read_spectrum(REFERENCE_SPECTRUM, assets.path("."))
    head = bool(machine.extra_focal_share or machine.horn_mm or machine.contamination_share)
    if same:
        kinds.add("spectrum")
        if not head:
            kinds.add("ideal")
    if head:
        at_100 = float(np.interp(100.0, machine.horn_mm, machine.horn_fluence)) if machine.horn_mm else 1.0
        kinds.add("unflattened" if at_100 < _UNFLATTENED_BELOW else "flattened")
    return frozenset(kinds)


def found_in(data: BeamData, quantity: str, field_mm: float, depth_mm: float) -> float | None:
    """Return a quantity of the computed data; None where it was not computed."""
    if quantity == "trs_398":
        return data.number("tpr_20_10") - (1.2661 * data.number("pdd_20_10") - 0.0595)
    if quantity in dict(data.quality) and (not np.isfinite(field_mm) or quantity != "surface_percent"):
        return data.number(quantity)
    row = data.field(field_mm)
    if quantity in ("penumbra_x_mm", "flatness_percent"):
        key = "penumbra_mm" if quantity.startswith("penumbra") else quantity
        hit = [p for p in data.profiles if (p.field_mm, p.axis, p.depth_mm) == (field_mm, "x", depth_mm)]
        return float(getattr(hit[0], key)) if hit else None
    if row is None:
        return None
    if quantity in ("pdd", "depth_ratio"):
        percents = dict(row.pdd_percent)
        if depth_mm not in percents:
            return None
        return percents[depth_mm] if quantity == "pdd" else percents[depth_mm] / percents[100.0]
    return float(getattr(row, quantity)) if hasattr(row, quantity) else None


_NAMES = {
    "depth_ratio": template("D({depth:g} mm)/D(100 mm), field {side:g} mm"),
    "sp": template("phantom scatter factor at 100 mm, field {side:g} mm"),
    "sc": template("output in air, field {side:g} mm"),
    "scp_max": template("output at the maximum, field {side:g} mm"),
    "pdd": template("PDD({depth:g} mm), field {side:g} mm (%)"),
    "surface_percent": template("surface dose, field {side:g} mm (%)"),
    "tpr_20_10": template("TPR20,10"),
    "pdd_20_10": template("PDD20/PDD10"),
    "trs_398": template("TPR20,10 less 1.2661 PDD20,10 - 0.0595"),
    "d_max_mm": template("depth of the maximum, field {side:g} mm (mm)"),
    "hvl_water_mm": template("half-value layer in water (mm)"),
    "mean_energy_mev": template("mean photon energy (MeV)"),
    "mean_energy_by_energy_mev": template("mean energy by energy fluence (MeV)"),
    "penumbra_x_mm": template("penumbra 80-20 % along X at {depth:g} mm, field {side:g} mm (mm)"),
    "flatness_percent": template("flatness at {depth:g} mm, field {side:g} mm (%)"),
    "leaf_transmission_percent": template("dose under leaves at 100 mm (%)"),
    "jaw_transmission_percent": template("fluence under jaws (%)"),
}


def named(quantity: str, field_mm: float, depth_mm: float) -> Words:
    """Return a published quantity in words."""
    return say(_NAMES[quantity], side=field_mm, depth=depth_mm)
