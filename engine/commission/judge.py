"""Measured curves against a model, point by point, by the limits of AAPM MPPG 5.

Limits (AAPM Medical Physics Practice Guideline 5.b, 2022, summary table, read): high dose 2 % with one parameter changed,
penumbra 2 mm, low-dose tail 3 % of the maximum up to 50 mm from the edge. The guideline has no number for the build-up;
2 mm or 10 % is Venselaar et al., Radiother. Oncol. 60 (2001) 191 (read in a secondary text). Which points belong to the
penumbra: where the model falls by 1 % of the axis and more per mm [common practice].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.values import FrozenArray, Value, frozen_array
from engine.base.words import say
from engine.commission.curves import Curve
from engine.commission.shapes import maximum

Floats = NDArray[np.float64]

BEYOND, BUILD_UP, HIGH, PENUMBRA, TAIL, OUTPUT = (
    *(say("beyond the maximum"), say("build-up"), say("high dose")),
    *(say("penumbra"), say("low-dose tail"), say("output factor")),
)
# region -> (limit in percent, limit in mm); a point passes if it keeps one of them.
LIMITS: dict[str, tuple[float, float]] = {
    BEYOND: (2.0, 0.0),
    BUILD_UP: (10.0, 2.0),
    HIGH: (2.0, 0.0),
    PENUMBRA: (0.0, 2.0),
    TAIL: (3.0, 0.0),
    OUTPUT: (2.0, 0.0),
}
_STEEP_PER_MM = 0.01
_TAIL_MM = 50.0


@dataclass(frozen=True, eq=False)
class CurveJudgement(Value):
    """One measured curve beside the model.

    Parameters
    ----------
    model : the model at the measured positions, scaled to the measured values
    difference_percent : model less measured; local, but of the axis or field maximum in the tail
    distance_mm : to where the model has the measured dose, in steep regions; nan elsewhere
    region : (n,) index into the names of LIMITS; -1 where no limit applies
    passed : (n,)
    """

    curve: Curve
    model: FrozenArray
    difference_percent: FrozenArray
    distance_mm: FrozenArray
    region: FrozenArray
    passed: FrozenArray

    def count(self, name: str) -> tuple[int, int]:
        """Return how many points of a region pass, and how many there are."""
        here = self.region == list(LIMITS).index(name)
        return int(self.passed[here].sum()), int(here.sum())

    @property
    def worst_percent(self) -> float:
        """Largest difference by amount outside steep regions; 0 without such points."""
        flat = np.isnan(self.distance_mm) & (self.region >= 0)
        return float(np.abs(self.difference_percent[flat]).max()) if flat.any() else 0.0


def judge(curve: Curve, fine_position: Floats, fine_model: Floats, sad_mm: float = 1000.0) -> CurveJudgement:
    """Judge a curve.

    Parameters
    ----------
    fine_position, fine_model : the model on closely spaced positions that cover the curve; for output, at its positions
    """
    x, d = np.asarray(curve.position_mm), np.asarray(curve.value)
    model = np.interp(x, fine_position, fine_model)
    scale = scale_of(curve, model, sad_mm)
    model, fine = model * scale, fine_model * scale
    difference = 100 * (model - d) / np.maximum(d, 1e-12)
    distance = np.full(x.size, np.nan)
    names = list(LIMITS)
    region = np.full(x.size, names.index(OUTPUT))
    if curve.kind == "depth-dose":
        top = maximum(fine_position, fine)[0]
        region = np.where(x < top, names.index(BUILD_UP), names.index(BEYOND))
        distance = np.where(x < top, _distances(x, d, fine_position, fine), np.nan)
    elif curve.kind == "profile":
        axis = float(np.interp(0.0, fine_position, fine))
        slope = np.abs(np.gradient(fine, fine_position)) / axis
        steep = np.interp(x, fine_position, slope) >= _STEEP_PER_MM
        edge = _edge(fine_position, slope)
        outside = np.abs(x) > edge
        region = np.where(steep, names.index(PENUMBRA), np.where(outside, names.index(TAIL), names.index(HIGH)))
        region = np.where(np.abs(x) > edge + _TAIL_MM, -1, region)
        difference = np.where(outside & ~steep, 100 * (model - d) / axis, difference)
        distance = np.where(steep, _distances(x, d, fine_position, fine), np.nan)
    limits = np.array([LIMITS[n] for n in names] + [(np.inf, np.inf)])
    percent, mm = limits[region, 0], limits[region, 1]
    passed = np.where(percent > 0, np.abs(difference) <= percent, False)
    passed |= (mm > 0) & np.nan_to_num(np.abs(distance) <= mm, nan=False).astype(bool)
    return CurveJudgement(
        curve,
        frozen_array(model),
        frozen_array(difference),
        frozen_array(distance),
        frozen_array(region),
        frozen_array(passed),
    )


def scale_of(curve: Curve, model: Floats, sad_mm: float = 1000.0) -> float:
    """Return the factor that brings a model to the measured scale: least squares where dose is high and slopes gentle."""
    x, d = np.asarray(curve.position_mm), np.asarray(curve.value)
    if curve.kind == "depth-dose":
        use = x >= x[int(np.argmax(d))] + 10.0
    elif curve.kind == "profile":
        use = np.abs(x) <= 0.6 * curve.edge_mm(sad_mm)
    else:
        use = np.ones(x.size, dtype=bool)
    if not use.any():
        use = d >= 0.5 * d.max()
    m, t = model[use], d[use]
    if curve.kind == "profile":
        return float((m @ t) / (m @ m))
    # Relative residuals, so that the deep end of a depth dose counts as much as its top.
    ratio = t / np.maximum(m, 1e-12)
    return float(ratio.sum() / (ratio.size if ratio.size else 1))


def _edge(x: Floats, slope: Floats) -> float:
    """Return how far from the axis the model falls fastest: the edge, whatever the dose beside it."""
    return float(abs(x[int(np.argmax(slope))]))


def _distances(x: Floats, d: Floats, fine_x: Floats, fine: Floats) -> Floats:
    """Return the distance from each point to the nearest place where the model has its dose; nan if it never has."""
    out = np.full(x.size, np.nan)
    for n, (at, level) in enumerate(zip(x, d, strict=True)):
        sign = fine >= level
        cross = np.flatnonzero(sign[1:] != sign[:-1])
        if cross.size == 0:
            continue
        share = (level - fine[cross]) / (fine[cross + 1] - fine[cross])
        places = fine_x[cross] + share * (fine_x[cross + 1] - fine_x[cross])
        out[n] = places[np.argmin(np.abs(places - at))] - at
    return out
