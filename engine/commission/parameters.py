"""What is fitted of a machine: few numbers, each with what it does, its bounds, and how far it may wander unasked.

The spectrum has two: energies stretched as another accelerating potential does, and a filter of aluminium added in
front (or taken away), photons x exp(-mu_Al t), the form by which a flattening filter hardens (attenuation term of Ali and
Rogers, Phys. Med. Biol. 57 (2012) 31). More cannot be told from depth doses.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np

from engine.base.words import Words, say
from engine.beams.machine import Machine
from engine.commission.curves import Curve
from engine.dose.attenuation import mu_rho_cm2_g

ALUMINIUM_G_CM3 = 2.699
# Tailor et al., Med. Phys. 25 (1998) 662 [memory]: where a start machine has no softening, this shape is scaled.
_GENERIC_DEG = (0.0, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 12.0, 15.0)
_GENERIC_MU = (1.0, 1.0037, 1.0109, 1.0210, 1.0478, 1.0793, 1.1259, 1.1498, 1.1637)
KNOTS_MM = (25.0, 50.0, 75.0, 100.0, 150.0, 200.0, 280.0)


@dataclass(frozen=True)
class Parameter:
    """One number of a machine that is fitted.

    Parameters
    ----------
    key : name in the result
    words, unit : what it is
    stage : 0 depth dose, 1 output, 2 profile
    start : value at the start machine
    low, high : bounds
    loose : standard deviation of the pull towards the start; what the data leave open stays there
    step : for derivatives
    apply : (machine, value) -> machine
    sees : whether a curve depends on it
    """

    key: str
    words: Words
    unit: str
    stage: int
    start: float
    low: float
    high: float
    loose: float
    step: float
    apply: Callable[[Machine, float], Machine]
    sees: Callable[[Curve], bool]


def built(start: Machine, parameters: tuple[Parameter, ...], values: dict[str, float]) -> Machine:
    """Return the start machine with parameters at values."""
    out = start
    for p in parameters:
        out = p.apply(out, values[p.key])
    return out


def _depth(curve: Curve) -> bool:
    return curve.kind == "depth-dose"


def _output(curve: Curve) -> bool:
    return curve.kind == "output"


def _profile(curve: Curve, axis: str = "", edges: str = "") -> bool:
    return curve.kind == "profile" and axis in ("", curve.axis) and edges in ("", curve.edges)


def stretched(machine: Machine, factor: float) -> Machine:
    """Return a machine whose photons have `factor` times the energy."""
    return machine.but(spectrum_mev=tuple((lo * factor, hi * factor) for lo, hi in machine.spectrum_mev))


def filtered(machine: Machine, aluminium_cm: float) -> Machine:
    """Return a machine behind a filter of aluminium; a negative one takes filtration away."""
    middle = np.clip(np.array(machine.spectrum_mev).mean(axis=1), 0.05, 24.0)
    fluence = np.array(machine.spectrum_fluence)
    mu = mu_rho_cm2_g("aluminium", middle) * ALUMINIUM_G_CM3
    # Relative to the mean, so that numbers stay near one: the scale means nothing.
    mean = float(np.average(mu, weights=fluence))
    factor = np.exp(np.clip(-(mu - mean) * aluminium_cm, -30.0, 30.0))
    after = fluence * factor
    return machine.but(spectrum_fluence=tuple(float(v) for v in after / after.sum()))


def _field(name: str, machine: Machine, value: float) -> Machine:
    return machine.but(**{name: float(value)})


def _spot(axis: int, machine: Machine, value: float) -> Machine:
    spot = list(machine.focal_fwhm_mm)
    spot[axis] = float(value)
    return machine.but(focal_fwhm_mm=tuple(spot))


def softened(machine: Machine, scale: float) -> Machine:
    """Return a machine whose off-axis softening is `scale` times as strong."""
    angle, mu = machine.softening_deg or _GENERIC_DEG, machine.softening_mu or _GENERIC_MU
    return machine.but(softening_deg=angle, softening_mu=tuple(1.0 + scale * (v - 1.0) for v in mu))


def horned(knot: int, radii: tuple[float, ...], machine: Machine, logarithm: float) -> Machine:
    """Return a machine whose off-axis fluence is multiplied by a tent about one radius (the last one holds outward)."""
    table = machine.horn_mm or (0.0, 400.0)
    fluence = machine.horn_fluence or (1.0, 1.0)
    x = np.unique(np.concatenate([table, (0.0, *radii)]))
    tent = np.zeros(len(radii) + 1)
    tent[knot + 1] = logarithm
    y = np.interp(x, table, fluence) * np.exp(np.interp(x, (0.0, *radii), tent))
    return machine.but(horn_mm=tuple(float(v) for v in x), horn_fluence=tuple(float(v) for v in y))


def parameters_for(start: Machine, curves: tuple[Curve, ...]) -> tuple[tuple[Parameter, ...], tuple[Words, ...]]:
    """Return what the measured curves can tell of a machine, and a sentence for everything they cannot."""
    found: list[Parameter] = []
    silent: list[Words] = []
    _spectrum(start, curves, found, silent)
    _head_scatter(start, curves, found, silent)
    _profiles(start, curves, found, silent)
    return tuple(found), tuple(silent)


def _spectrum(start: Machine, curves: tuple[Curve, ...], found: list[Parameter], silent: list[Words]) -> None:
    deep = [c for c in curves if _depth(c)]
    if any(c.position_mm[-1] >= 150 for c in deep):
        found += [
            Parameter("filter_al_cm", say("added filtration, aluminium"), "cm", 0, 0.0, -5.0, 7.0, 3.0, 0.5, filtered,
                      _depth),
            Parameter("energy_factor", say("energies, relative to the start"), "", 0, 1.0, 0.88, 1.12, 0.05, 0.01,
                      stretched, _depth),
        ]  # fmt: skip
    else:
        silent.append(say("The spectrum stays that of the start: no depth dose reaches 150 mm."))
    early = [c for c in deep if (np.asarray(c.position_mm) < 10).sum() >= 3]
    if not early:
        silent.append(
            say("Contamination stays that of the start: no depth dose has three points within 10 mm of the surface.")
        )
        return
    on = start.contamination_share > 0
    share, depth = (start.contamination_share, start.contamination_depth_mm) if on else (0.15, 6.0)
    found += [
        Parameter("contamination_share", say("contamination at the surface"), "", 0, share, 0.0, 0.6, 0.12, 0.02,
                  partial(_field, "contamination_share"), _depth),
        Parameter("contamination_depth_mm", say("depth of contamination"), "mm", 0, depth, 1.5, 25.0, 3.0, 0.5,
                  partial(_field, "contamination_depth_mm"), _depth),
    ]  # fmt: skip
    sides = [max(c.field_mm) for c in early]
    if max(sides) >= 1.5 * min(sides):
        spread = start.contamination_spread_mm if on else 70.0
        found.append(
            Parameter("contamination_spread_mm", say("spread of contamination"), "mm", 0, spread, 15.0, 250.0, 25.0, 4.0,
                      partial(_field, "contamination_spread_mm"), _depth)
        )  # fmt: skip
    else:
        silent.append(say("How contamination grows with the field stays that of the start: build-up of one field only."))


def _head_scatter(start: Machine, curves: tuple[Curve, ...], found: list[Parameter], silent: list[Words]) -> None:
    sides = sorted({float(s) for c in curves if _output(c) for s in c.position_mm})
    if len(sides) < 3 or sides[-1] < 1.8 * sides[0]:
        silent.append(say("Head scatter stays that of the start: output factors of three and more fields are needed."))
        return
    share = start.extra_focal_share or 0.04
    found.append(
        Parameter("extra_focal_share", say("share of head scatter"), "", 1, share, 0.0, 0.2, 0.03, 0.008,
                  partial(_field, "extra_focal_share"), _output)
    )  # fmt: skip
    if len(sides) >= 5 and sides[0] <= 80 and sides[-1] >= 150:
        found.append(
            Parameter("extra_focal_fwhm_mm", say("width of head scatter"), "mm", 1, start.extra_focal_fwhm_mm, 10.0, 150.0,
                      20.0, 6.0, partial(_field, "extra_focal_fwhm_mm"), _output)
        )  # fmt: skip
    else:
        silent.append(say("The width of head scatter stays that of the start: five fields from 80 to 150 mm are needed."))


def _profiles(start: Machine, curves: tuple[Curve, ...], found: list[Parameter], silent: list[Words]) -> None:
    profiles = [c for c in curves if _profile(c)]
    if not profiles:
        silent.append(say("Off-axis fluence, softening, focal spot and transmission stay those of the start: no profiles."))
        return
    inside = max(_reach_inside(c, start.sad_mm) for c in profiles)
    radii = tuple(r for r in KNOTS_MM if r <= inside + 5.0)
    for n, radius in enumerate(radii):
        before = radii[n - 1] if n else 0.0
        found.append(
            Parameter(f"horn_{radius:g}", say("fluence at {radius:g} mm, logarithm of the change", radius=radius), "", 2,
                      0.0, -1.0, 0.5, 0.05, 0.01, partial(horned, n, radii), partial(_wider, before, start.sad_mm))
        )  # fmt: skip
    wide = [c for c in profiles if _reach_inside(c, start.sad_mm) >= 70]
    depths = [c.depth_mm for c in wide]
    if depths and max(depths) >= 3 * max(min(depths), 1.0):
        found.append(
            Parameter("softening", say("off-axis softening, relative to the start"), "", 2,
                      1.0 if start.softening_deg else 0.0, -0.5, 2.5, 0.5, 0.25, softened,
                      partial(_wider, 40.0, start.sad_mm))
        )  # fmt: skip
    else:
        silent.append(say("Softening stays that of the start: wide profiles at a shallow and a deep place are needed."))
    for n, axis in enumerate(("x", "y")):
        if any(_resolves_edge(c, start.sad_mm) for c in profiles if c.axis == axis):
            found.append(
                Parameter(f"focal_{axis}_mm", say("focal spot along {axis}", axis=axis.upper()), "mm", 2,
                          start.focal_fwhm_mm[n] or 1.0, 0.1, 6.0, 0.8, 0.3, partial(_spot, n),
                          partial(_profile, axis=axis))
            )  # fmt: skip
        else:
            silent.append(say("The focal spot along {axis} stays that of the start: no profile resolves an edge there.",
                              axis=axis.upper()))  # fmt: skip
    for edges, name, words, high in (
        ("jaws", "jaw_transmission", say("transmission of jaws"), 0.03),
        ("leaves", "leaf_transmission", say("transmission of leaves"), 0.08),
    ):
        here = [c for c in profiles if c.edges == edges]
        if edges == "leaves" and any(_resolves_edge(c, start.sad_mm) for c in here if c.axis == "x"):
            found.append(
                Parameter("leaf_end_offset_mm", say("leaf end offset"), "mm", 2, start.leaf_end_offset_mm, 0.0, 2.0, 0.3,
                          0.15, partial(_field, "leaf_end_offset_mm"), partial(_profile, axis="x", edges="leaves"))
            )  # fmt: skip
        if any(_has_tail(c, start.sad_mm) for c in here):
            found.append(
                Parameter(name, words, "", 2, getattr(start, name), 0.0, high, 0.004, 0.002, partial(_field, name),
                          partial(_profile, edges=edges))
            )  # fmt: skip
        elif here:
            silent.append(say("{part} stays that of the start: no profile reaches 30 mm beyond an edge.", part=words))


def _reach_inside(curve: Curve, sad_mm: float) -> float:
    """Return how far from the axis, at the isocentre plane, a profile shows the open field."""
    scale = sad_mm / (curve.ssd_mm + curve.depth_mm)
    edge = curve.edge_mm(sad_mm)
    return float(min(np.abs(curve.position_mm).max(), edge - 8.0)) * scale


def _wider(radius_mm: float, sad_mm: float, curve: Curve) -> bool:
    return _profile(curve) and _reach_inside(curve, sad_mm) > radius_mm


def _resolves_edge(curve: Curve, sad_mm: float) -> bool:
    position = np.abs(np.asarray(curve.position_mm)) - curve.edge_mm(sad_mm)
    return int((np.abs(position) < 5.0).sum()) >= 3


def _has_tail(curve: Curve, sad_mm: float) -> bool:
    return bool(np.abs(curve.position_mm).max() >= curve.edge_mm(sad_mm) + 30.0)
