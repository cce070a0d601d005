"""Fits a machine's beam model to measured curves, with the real dose engine as the model.

Gauss-Newton with bounds in three stages: depth doses give the spectrum and the contamination, output factors the head
scatter, profiles the off-axis fluence, softening, focal spot, leaf ends and transmission; then the stages once more, for
each moves the others a little. Derivatives are differences of the engine's own doses. Every parameter is pulled towards
the start machine with its usual spread, so what the data leave open stays where it was, and is told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import lsq_linear

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value
from engine.base.words import Words, listed, say
from engine.beams.machine import Machine
from engine.commission.curves import Curve
from engine.commission.forward import Line, model_lines
from engine.commission.judge import LIMITS, CurveJudgement, judge, scale_of
from engine.commission.parameters import Parameter, built, parameters_for
from engine.commission.shapes import maximum
from engine.dose.request import PHYSICS_VERSION

Floats = NDArray[np.float64]

STAGES = (say("depth doses"), say("output factors"), say("profiles"))
_ROUNDS, _STEPS, _STEPS_AGAIN = 2, 4, 2
_SETTLED, _GAIN = 0.03, 0.01
_POINTS_AT_MOST = 40
_MV = 0.5


@dataclass(frozen=True, eq=False)
class FitRequest(Value):
    """A beam model for measured curves, from a start machine.

    Parameters
    ----------
    curves : of one beam; see ``measured.read_folder``
    name : of the fitted machine
    """

    curves: tuple[Curve, ...]
    start: Machine
    name: str
    physics_version: int = PHYSICS_VERSION


@dataclass(frozen=True, eq=False)
class Fitted(Value):
    """One fitted number.

    Parameters
    ----------
    sd : its standard deviation by data and pull together
    determined : whether the data, not the pull towards the start, tell it
    at_bound : whether it would go further if it might
    """

    key: str
    words: str
    unit: str
    start: float
    value: float
    sd: float
    determined: bool
    at_bound: bool


@dataclass(frozen=True, eq=False)
class Fit(Value):
    """The fitted machine and how it stands to the data.

    Parameters
    ----------
    before, after : every curve judged with the start machine and with the fitted one
    untold : what the data could not tell, in sentences
    """

    machine: Machine
    parameters: tuple[Fitted, ...]
    before: tuple[CurveJudgement, ...]
    after: tuple[CurveJudgement, ...]
    untold: tuple[str, ...]

    def rates(self, judged: str = "after") -> dict[str, tuple[int, int]]:
        """Return (passed, points) for every region that has points."""
        curves: tuple[CurveJudgement, ...] = getattr(self, judged)
        sums = {name: tuple(np.sum([j.count(name) for j in curves], axis=0)) for name in LIMITS}
        return {name: (int(a), int(b)) for name, (a, b) in sums.items() if b}


def fit(request: FitRequest, report: Report = quiet) -> Fit:
    """Fit a machine.

    Raises
    ------
    InputError
        If there is no curve, the curves are of another energy than the start machine, or of fields it does not have.
    """
    start, curves = request.start, request.curves
    if not curves:
        raise InputError("there are no measured curves", do="Bring depth doses and profiles.")
    said = {c.energy_mv for c in curves if c.energy_mv}
    if any(abs(e - start.nominal_mv) > _MV for e in said):
        raise InputError(
            say("the curves are of {energy:g} MV, the start machine {name} of {mv:g} MV",
                energy=max(said), name=start.name, mv=start.nominal_mv),
            do="Choose a start machine of that energy.",
        )  # fmt: skip
    parameters, silent = parameters_for(start, curves)
    values = {p.key: p.start for p in parameters}
    before = _judged(start, curves, part(report, 0.0, 0.05))
    spread: dict[str, tuple[float, bool]] = {}
    slopes: dict[int, Floats] = {}
    for n in range(_ROUNDS):
        for stage, name in enumerate(STAGES):
            mine = tuple(p for p in parameters if p.stage == stage)
            seen = tuple(c for c in curves if any(p.sees(c) for p in mine))
            if not mine or not seen:
                continue
            k = n * len(STAGES) + stage
            share = part(report, 0.05 + 0.9 * k / (_ROUNDS * len(STAGES)), 0.05 + 0.9 * (k + 1) / (_ROUNDS * len(STAGES)))
            steps = _STEPS if n == 0 else _STEPS_AGAIN
            told, slopes[stage] = _stage(start, parameters, mine, seen, values, steps, name, slopes.get(stage), share)
            spread |= told
    machine = built(start, parameters, values).but(name=request.name)
    after = _judged(machine, curves, part(report, 0.95, 1.0))
    fitted = tuple(_fitted(p, values[p.key], *spread[p.key]) for p in parameters if p.key in spread)
    open_ones = [f.words for f in fitted if not f.determined and not f.at_bound]
    weak = (
        say(
            "Hardly told by these data, or only together with another, and so near the start: {what}.",
            what=listed(open_ones),
        ),
    )
    held = tuple(
        say("At the end of its range ({value:.3g} {unit}), so the start machine does not suit this beam: {what}.",
            what=f.words, value=f.value, unit=f.unit)
        for f in fitted
        if f.at_bound
    )  # fmt: skip
    report(1.0)
    return Fit(machine, fitted, before, after, (*silent, *(weak if open_ones else ()), *held))


def _fitted(p: Parameter, value: float, sd: float, at_bound: bool) -> Fitted:
    return Fitted(p.key, p.words, p.unit, p.start, value, sd, sd < 0.5 * p.loose, at_bound)


def _judged(machine: Machine, curves: tuple[Curve, ...], report: Report) -> tuple[CurveJudgement, ...]:
    lines = model_lines(machine, curves, report)
    return tuple(judge(c, li.position_mm, li.dose, machine.sad_mm) for c, li in zip(curves, lines, strict=True))


def _stage(
    start: Machine,
    every: tuple[Parameter, ...],
    mine: tuple[Parameter, ...],
    curves: tuple[Curve, ...],
    values: dict[str, float],
    steps: int,
    name: Words,
    slopes: Floats | None,
    report: Report,
) -> tuple[dict[str, tuple[float, bool]], Floats]:
    """Improve the values of one stage in place; return the spread of each, whether it stands at a bound, and the slopes.

    Slopes found before serve again: in the second round the values move so little that the slopes hold.
    """
    fresh = slopes is None
    loose = np.array([p.loose for p in mine])
    first = np.array([p.start for p in mine])
    low, high = np.array([p.low for p in mine]), np.array([p.high for p in mine])

    def at(v: Floats, seen: Sequence[Curve], share: Report) -> list[Floats]:
        machine = built(start, every, values | {p.key: float(x) for p, x in zip(mine, v, strict=True)})
        lines = model_lines(machine, seen, share)
        return [residual(c, li, start.sad_mm) for c, li in zip(seen, lines, strict=True)]

    def cost(r: Floats, v: Floats) -> float:
        return float(r @ r + (((v - first) / loose) ** 2).sum())

    now = np.array([values[p.key] for p in mine])
    pieces = at(now, curves, part(report, 0.0, 0.1))
    here = np.concatenate(pieces)
    jacobian = np.zeros((here.size, len(mine))) if slopes is None else slopes
    for step in range(steps):
        share = part(report, 0.1 + 0.9 * step / steps, 0.1 + 0.9 * (step + 1) / steps)
        share(0.0, say("{stage}: step {n}", stage=name, n=step + 1))
        if fresh:
            jacobian = _derivatives(mine, now, curves, pieces, at, part(share, 0.0, 0.9))
        rows = np.vstack([jacobian, np.diag(1 / loose)])
        wish = np.concatenate([-here, (first - now) / loose])
        move = lsq_linear(
            rows, wish, (np.maximum(low - now, -2 * loose) - 1e-9, np.minimum(high - now, 2 * loose) + 1e-9)
        ).x
        best, found = cost(here, now), None
        for half in (1.0, 0.5, 0.25):
            trial = np.clip(now + half * move, low, high)
            tried = at(trial, curves, part(share, 0.9, 1.0))
            if cost(np.concatenate(tried), trial) < best:
                found = trial, tried
                break
        if found is None:
            break
        moved = float(np.abs((found[0] - now) / loose).max())
        foreseen = best - cost(here + jacobian @ (found[0] - now), found[0])
        now, pieces = found
        here = np.concatenate(pieces)
        # Slopes that foresaw what the step brought serve again; making them is most of the work.
        fresh = step == 0 and slopes is None and not 0.8 * foreseen <= best - cost(here, now) <= 1.2 * foreseen
        if moved < _SETTLED or 1 - cost(here, now) / best < _GAIN:
            break
    values |= {p.key: float(x) for p, x in zip(mine, now, strict=True)}
    excess = max(1.0, float(here @ here) / max(here.size - len(mine), 1))
    covariance = np.linalg.inv(jacobian.T @ jacobian / excess + np.diag(loose**-2.0))
    sd = np.sqrt(np.diag(covariance))
    edge = (now <= low + 1e-6 * loose) | (now >= high - 1e-6 * loose)
    # Zero is a bound of nature for shares and widths, not a sign of a wrong start.
    edge &= ~((now <= low) & (low == 0.0))
    return {p.key: (float(s), bool(e)) for p, s, e in zip(mine, sd, edge, strict=True)}, jacobian


def _derivatives(mine, now, curves, base, at, report: Report) -> Floats:  # type: ignore[no-untyped-def]
    """Return the change of every residual with every parameter; a curve that does not see one is not computed."""
    sizes = np.cumsum([0, *(b.size for b in base)])
    out = np.zeros((sizes[-1], len(mine)))
    for n, p in enumerate(mine):
        share = part(report, n / len(mine), (n + 1) / len(mine))
        share(0.0, p.words)
        seen = [i for i, c in enumerate(curves) if p.sees(c)]
        h = p.step if now[n] + p.step <= p.high else -p.step
        there = now.copy()
        there[n] += h
        for i, r in zip(seen, at(there, [curves[i] for i in seen], share), strict=True):
            out[sizes[i] : sizes[i + 1], n] = (r - base[i]) / h
    return out


def residual(curve: Curve, line: Line, sad_mm: float) -> Floats:
    """Return (model - measured) over what a good measurement and a good engine may differ by, point by point.

    0.5 % of the dose; 0.4 % of the maximum outside the field; where the dose is steep, also what half a millimetre makes.
    A scan of many points counts as one of 40, for its errors go together.
    """
    x, d = np.asarray(curve.position_mm), np.asarray(curve.value)
    model = np.interp(x, line.position_mm, line.dose)
    scale = scale_of(curve, model, sad_mm)
    if curve.kind == "output":
        allowed = 0.004 * d
    else:
        fine = line.dose * scale
        slope = np.abs(np.interp(x, line.position_mm, np.gradient(fine, line.position_mm)))
        top = (
            maximum(line.position_mm, fine)[1]
            if curve.kind == "depth-dose"
            else float(np.interp(0.0, line.position_mm, fine))
        )
        # Along a depth dose the fall is gentle; only the build-up is a matter of position.
        steep = np.maximum(slope - 0.008 * top, 0.0)
        allowed = np.hypot(np.maximum(0.005 * d, 0.004 * top * (curve.kind == "profile") * (d < 0.3 * top)), 0.5 * steep)
        allowed = np.maximum(allowed, 0.001 * top)
    crowd = max(1.0, x.size / _POINTS_AT_MOST) ** 0.5
    return np.asarray((model * scale - d) / (allowed * crowd))
