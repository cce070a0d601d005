"""Measurements simulated from a machine that the fit does not know."""

from __future__ import annotations

import numpy as np

from engine.base.values import frozen_array
from engine.beams.machine import Machine
from engine.commission.curves import Curve
from engine.commission.forward import model_lines
from engine.commission.parameters import filtered, horned, softened


def altered(start: Machine) -> Machine:
    """Return a machine that differs from the start in every fitted respect."""
    m = filtered(start, 4.0)
    m = m.but(contamination_share=0.25, contamination_depth_mm=8.0, extra_focal_share=0.065)
    m = m.but(focal_fwhm_mm=(2.6, m.focal_fwhm_mm[1]), jaw_transmission=0.009)
    return horned(1, (25.0, 50.0), softened(m, 1.0), -0.025)


def depth_dose(side: float, deepest: float = 200.0, first: float = 1.0) -> Curve:
    """Return an empty depth dose, closely spaced in the build-up."""
    x = np.concatenate([np.arange(first, 20.0, 1.5), np.arange(20.0, deepest + 1, 6.0)])
    return Curve("depth-dose", frozen_array(x), frozen_array(x), (side, side), 1000.0, energy_mv=6.0, name=f"d{side:g}")


def profile(side: float, depth: float, axis: str = "x") -> Curve:
    """Return an empty profile, closely spaced at the edges."""
    edge = side / 2 * (1000.0 + depth) / 1000.0
    half = np.concatenate(
        [np.arange(0.0, edge - 10, 4.0), np.arange(edge - 10, edge + 10, 1.0), np.arange(edge + 10, edge + 46, 5.0)]
    )
    x = np.concatenate([-half[:0:-1], half])
    return Curve(
        "profile", frozen_array(x), frozen_array(x), (side, side), 1000.0, depth, axis, 6.0, name=f"p{axis}{depth:g}"
    )


def output(*sides: float, depth: float = 100.0) -> Curve:
    """Return an empty curve of output factors."""
    x = frozen_array(np.array(sides, dtype=float))
    return Curve("output", x, x, (0.0, 0.0), 1000.0, depth, energy_mv=6.0, name="output")


def measured(machine: Machine, curves: tuple[Curve, ...], noise: float = 0.003, seed: int = 7) -> tuple[Curve, ...]:
    """Return the curves with the machine's doses in percent and with relative noise; output factors with a third of it."""
    rng, out = np.random.default_rng(seed), []
    for curve, line in zip(curves, model_lines(machine, curves), strict=True):
        value = np.interp(curve.position_mm, line.position_mm, line.dose)
        here = noise / 3 if curve.kind == "output" else noise
        value = 100 * value / value.max() * (1 + here * rng.standard_normal(value.size))
        out.append(curve.with_values(np.maximum(value, 0.0)))
    return tuple(out)
