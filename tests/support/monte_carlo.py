"""Photons and electrons followed one by one through layers of water of any density: the judge inside lung.

Inside low density electrons carry energy out of small fields, so collision kerma is no judge there. The events are
those of the kernel factory (free-electron Compton, pair, photoelectric; electrons on a ladder of energies with
sampled deflections); what is new is geometry: layers of density, a point source, and no kernel, no density scaling and
no cone anywhere. ``python -m tests.support.monte_carlo`` writes tests/reference/data/monte_carlo_slabs.csv.

One ray along the axis stands for all rays of a square field: layers look the same from everywhere beside the axis, so
dose on the axis is what one ray leaves within the field's width (widening with the distance), summed over all rays.
The turn of off-axis rays (3 degrees at the edge of a 100 mm field) is left out, which changes less than 0.2 %.
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

import numpy as np
from numba import njit

import assets
from engine.beams.machine_file import load_machine
from engine.dose.kernel_factory import transport as mc
from engine.dose.kernel_factory.events import MC2, anywhere, emission_cosine, knock_on, turn
from engine.dose.kernel_factory.water import (
    CUT_ELECTRON_MEV,
    CUT_KNOCK_ON_MEV,
    CUT_PHOTON_MEV,
    CUT_RADIATION_MEV,
    read_water,
)
from engine.dose.source import spectrum

SSD_CM = 100.0
BIN_CM = 1.0
DEPTH_CM = 25.0
FIELDS_CM = (1.0, 2.0, 3.0, 5.0, 10.0)
# Layers from the surface down: (cm, g/cm3), the last reaches to DEPTH_CM. Air is left out: its steps would be too long.
PHANTOMS = {
    "water": ((25.0, 1.0),),
    "lung slab": ((5.0, 1.0), (10.0, 0.26), (10.0, 1.0)),
    "tumour slab": ((3.0, 1.0), (6.0, 0.26), (3.0, 1.0), (6.0, 0.26), (7.0, 1.0)),
    "bone slab": ((3.0, 1.0), (2.0, 1.85), (20.0, 1.0)),
}
_STEP_CM = 0.05
_PHOTON, _ELECTRON, _POSITRON = 0, 1, 2
_PUSH, _EVENT = mc._push, mc._photon_event
_CUTS = CUT_ELECTRON_MEV, CUT_KNOCK_ON_MEV, CUT_PHOTON_MEV, CUT_RADIATION_MEV


@njit(cache=True, nogil=True)
def _density(edges, density, z):  # type: ignore[no-untyped-def]
    if z < 0.0 or z >= edges[-1]:
        return 0.0
    for n in range(density.size):
        if z < edges[n]:
            return density[n]
    return 0.0


@njit(cache=True, nogil=True)
def _score(out, fields, x, y, z, energy):  # type: ignore[no-untyped-def]
    layer = int(z / BIN_CM)
    if z < 0.0 or layer >= out.shape[0]:
        return
    grown = (SSD_CM + z) / SSD_CM
    far = max(abs(x), abs(y)) / grown
    for n in range(fields.size):
        if far < 0.5 * fields[n]:
            out[layer, n] += energy


@njit(cache=True, nogil=True)
def _way_cm(edges, density, z, up, mass):  # type: ignore[no-untyped-def]
    """Return how far (cm) a path of `mass` (g/cm2) from depth z leads, each layer at its own density; up is its cosine.

    A step that kept the density of where it began would carry soft tissue into lung: 2 % in the first centimetre.
    """
    if abs(up) < 1e-9:
        return mass / max(_density(edges, density, z), 1e-9)
    gone = 0.0
    n = 0
    while n < density.size - 1 and (z >= edges[n] if up > 0 else z > edges[n]):
        n += 1
    while True:
        border = edges[n] if up > 0 else (edges[n - 1] if n > 0 else 0.0)
        room = (border - z) / up
        if mass <= room * density[n]:
            return gone + mass / density[n]
        gone += room
        mass -= room * density[n]
        z = border
        n += 1 if up > 0 else -1
        if n < 0 or n >= density.size:
            return gone + mass


@njit(cache=True, nogil=True)
def _electron(data, out, fields, edges, density, stack, top, kind, energy, x, y, z, way):  # type: ignore[no-untyped-def]
    cut_electron, cut_knock, _, cut_shine = _CUTS
    quantiles, photons = data.deflection.shape[1] - 1, data.radiation.shape[1] - 1
    while energy > cut_electron:
        rho = _density(edges, density, z)
        if rho == 0.0:
            return top
        k = min(int((np.log(energy) - data.rung_start) * data.rung_scale), len(data.path_cm) - 1)
        if energy <= data.rung_mev[k] * (1.0 + 1e-12) and k > 0:
            k -= 1
        rung = min(k + 1, len(data.rung_mev) - 1)
        if energy < 0.2 and data.range_cm[rung] / rho < 0.01:
            break
        width = data.rung_mev[k + 1] - data.rung_mev[k]
        part, event, to_rung = (energy - data.rung_mev[k]) / width, False, True
        knock, shine = data.knock_on_cm[k], data.radiate_cm[k]
        if knock + shine > 0.0:
            flight = -np.log(1.0 - random.random()) / (knock + shine) / data.path_cm[k]
            if flight < part:
                part, event, to_rung = flight, True, False
        longest = _STEP_CM * rho / data.path_cm[k]
        if longest < part:
            part, event, to_rung = longest, False, False
        mass, loss = part * data.path_cm[k], part * width
        hinge, scored = random.random(), random.random()
        if scored < hinge:
            far = _way_cm(edges, density, z, way[2], scored * mass)
            _score(out, fields, x + way[0] * far, y + way[1] * far, z + way[2] * far, loss)
        far = _way_cm(edges, density, z, way[2], hinge * mass)
        x, y, z = x + way[0] * far, y + way[1] * far, z + way[2] * far
        if part >= 1.0 or random.random() < part:
            at = (random.random() ** (1.0 / 3.0)) * quantiles
            j = min(int(at), quantiles - 1)
            bend = data.deflection[k, j] + (at - j) * (data.deflection[k, j + 1] - data.deflection[k, j])
            way = turn(way, 1.0 - bend, 2.0 * np.pi * random.random())
        if scored >= hinge:
            far = _way_cm(edges, density, z, way[2], (scored - hinge) * mass)
            _score(out, fields, x + way[0] * far, y + way[1] * far, z + way[2] * far, loss)
        far = _way_cm(edges, density, z, way[2], (1.0 - hinge) * mass)
        x, y, z = x + way[0] * far, y + way[1] * far, z + way[2] * far
        if to_rung:
            energy = data.rung_mev[k]
            continue
        energy -= loss
        if not event:
            continue
        azimuth = 2.0 * np.pi * random.random()
        if random.random() * (knock + shine) < knock:
            if energy > 2.0 * cut_knock:
                given, cosine, own = knock_on(energy, cut_knock)
                top = _PUSH(stack, top, _ELECTRON, 0, given, x, y, z, turn(way, cosine, azimuth))
                way = turn(way, own, azimuth + np.pi)
                energy -= given
        elif energy > 2.0 * cut_shine:
            at = random.random() * photons
            j = min(int(at), photons - 1)
            share = data.radiation[k, j] + (at - j) * (data.radiation[k, j + 1] - data.radiation[k, j])
            emitted = cut_shine * (energy / cut_shine) ** share
            top = _PUSH(stack, top, _PHOTON, 0, emitted, x, y, z, turn(way, emission_cosine(energy + MC2), azimuth))
            energy -= emitted
    _score(out, fields, x, y, z, energy)
    if kind == _POSITRON:
        w = anywhere()
        top = _PUSH(stack, top, _PHOTON, 0, MC2, x, y, z, w)
        top = _PUSH(stack, top, _PHOTON, 0, MC2, x, y, z, (-w[0], -w[1], -w[2]))
    return top


@njit(cache=True, nogil=True)
def _histories(data, energies, chances, fields, edges, density, count, seed):  # type: ignore[no-untyped-def]
    """Return energy (MeV) left in each layer within each field, by `count` photons along +z from z = 0."""
    random.seed(seed)
    out = np.zeros((int(edges[-1] / BIN_CM + 0.5), fields.size))
    stack = np.zeros((4096, 9))
    heaviest = density.max()
    for _ in range(count):
        first = energies[min(np.searchsorted(chances, random.random()), energies.size - 1)]
        top = _PUSH(stack, 0, _PHOTON, 0, first, 0.0, 0.0, 0.0, (0.0, 0.0, 1.0))
        while top > 0:
            top -= 1
            kind, energy = int(stack[top, 0]), stack[top, 2]
            x, y, z = stack[top, 3], stack[top, 4], stack[top, 5]
            way = (stack[top, 6], stack[top, 7], stack[top, 8])
            if kind != _PHOTON:
                top = _electron(data, out, fields, edges, density, stack, top, kind, energy, x, y, z, way)
                continue
            if energy <= CUT_PHOTON_MEV:
                _score(out, fields, x, y, z, energy)
                continue
            at = (np.log(energy) - data.photon_start) * data.photon_scale
            i = min(int(at), len(data.mu_cm) - 2)
            mu = (data.mu_cm[i] + (at - i) * (data.mu_cm[i + 1] - data.mu_cm[i])) * heaviest
            # Flights through the heaviest layer everywhere; most events in light layers are refused (delta tracking).
            while True:
                flight = -np.log(1.0 - random.random()) / mu
                x, y, z = x + way[0] * flight, y + way[1] * flight, z + way[2] * flight
                rho = _density(edges, density, z)
                if rho == 0.0:
                    break
                if random.random() * heaviest < rho:
                    top = _EVENT(data, stack, top, 0, energy, x, y, z, way)
                    break
    return out


@njit(cache=True, nogil=True)
def _electrons(data, fields, edges, density, energy, count, seed):  # type: ignore[no-untyped-def]
    random.seed(seed)
    out = np.zeros((int(edges[-1] / BIN_CM + 0.5), fields.size))
    stack = np.zeros((4096, 9))
    for _ in range(count):
        top = _electron(data, out, fields, edges, density, stack, 0, _ELECTRON, energy, 0.0, 0.0, 0.0, (0.0, 0.0, 1.0))
        while top > 0:
            top -= 1
            if int(stack[top, 0]) != _PHOTON:
                way = (stack[top, 6], stack[top, 7], stack[top, 8])
                x, y, z = stack[top, 3], stack[top, 4], stack[top, 5]
                kind = int(stack[top, 0])
                top = _electron(data, out, fields, edges, density, stack, top, kind, stack[top, 2], x, y, z, way)
    return out


def electron_energy(layers, energy_mev: float, count: int, seed: int):  # type: ignore[no-untyped-def]
    """Return MeV per electron left in each centimetre of wide layers by electrons along +z, without photons they make."""
    edges, density = np.cumsum([t for t, _ in layers]), np.array([d for _, d in layers])
    data = read_water(assets.path("physics"))
    return _electrons(data, np.array([1e9]), edges, density, energy_mev, count, seed)[:, 0] / count


def axis_dose(layers, machine: str, count: int, seed: int, relative=None):  # type: ignore[no-untyped-def]
    """Return depths (cm), dose on the axis per unit energy fluence at the surface (cm2/g, bins x fields).

    `relative` gives how a density attenuates compared with water of that density (the engine's own rule).
    """
    beam = spectrum(load_machine(machine))
    photons = beam.energy_fluence / beam.energy_mev
    photons = photons / photons.sum()
    edges = np.cumsum([t for t, _ in layers])
    mass = np.array([d for _, d in layers])
    density = mass * (1.0 if relative is None else relative(mass))
    fields = np.array(FIELDS_CM)
    data = read_water(assets.path("physics"))
    energy = _histories(data, beam.energy_mev, np.cumsum(photons), fields, edges, density, count, seed)
    depth = BIN_CM * (np.arange(energy.shape[0]) + 0.5)
    mean = float(photons @ beam.energy_mev)
    own = mass[np.minimum(np.searchsorted(edges, depth), mass.size - 1)]
    return depth, energy / (count * mean * BIN_CM * own[:, None]) * (SSD_CM / (SSD_CM + depth))[:, None] ** 2


def main(count: int, only: tuple[str, ...] = (), batches: int = 10) -> None:
    """Write the table, or the rows of some phantoms ("point-10 lung slab"); statistics from the spread of the batches."""
    from engine.dose.medium import rule

    path = Path(__file__).parents[1] / "reference" / "data" / "monte_carlo_slabs.csv"
    head = [
        "# title: Dose on the axis of square fields in layers of water and of density-scaled water, point-6 and point-10",
        "# author: computed here by tests/support/monte_carlo.py",
        "# year: 2026",
        "# known: computed",
        f"# {count * batches} photons per phantom; SSD 100 cm, field at the surface, bins of {BIN_CM} cm; cm2/g per unit",
        "# energy fluence at the surface; error_percent is one standard deviation.",
        "machine,phantom,field_cm,depth_cm,dose_cm2_g,error_percent",
    ]
    rows: dict[tuple[str, str], list[str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines()[len(head) :]:
        rows.setdefault(tuple(line.split(",")[:2]), []).append(line)  # type: ignore[arg-type]
    for machine in ("point-6", "point-10"):
        relative = rule(load_machine(machine)).relative_attenuation
        for name, layers in PHANTOMS.items():
            if only and f"{machine} {name}" not in only:
                continue
            runs = np.stack([axis_dose(layers, machine, count, 100 + n, relative)[1] for n in range(batches)])
            depth = axis_dose(layers, machine, 1, 1)[0]
            mean, error = runs.mean(axis=0), runs.std(axis=0, ddof=1) / np.sqrt(batches)
            rows[machine, name] = [
                f"{machine},{name},{field:g},{z:.3f},{d:.5g},{100 * e / d:.2f}"
                for n, field in enumerate(FIELDS_CM)
                for z, d, e in zip(depth, mean[:, n], error[:, n])
            ]
            print(machine, name, f"{100 * (error / mean).mean():.2f} %", flush=True)
            body = [line for some in rows.values() for line in some]
            path.write_text("\n".join(head + body) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400_000, tuple(sys.argv[2:]))
