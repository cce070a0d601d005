"""Penumbra: a slit between leaves against measurements of a fine leaf design, and the trends that must hold."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise

import numpy as np

from engine.base.values import own_array
from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from engine.image.density import Density
from engine.space.grid import Grid
from tests.reference.table import band, held
from tests.support.dose import beam, dose, water

SUBJECT = "Small fields, leaves and penumbra, typical beams"
SOURCE = "J. Appl. Clin. Med. Phys. 12(3) (2011) 142, Table 2 (fine leaves: a lower bound)"


def width_mm(x, d):
    """Return the mean distance of 80 and 20 per cent of the middle's dose over both edges."""
    d = d / np.interp(x[np.argmax(d)], x, d)
    top = int(np.argmax(d))
    right = np.interp([-0.8, -0.2], -d[top:], x[top:])
    left = np.interp([0.2, 0.8], d[: top + 1], x[: top + 1])
    return float(((right[1] - right[0]) + (left[1] - left[0])) / 2)


@lru_cache
def slit(off_mm, machine="generic-6"):
    """Return x and the profiles at 15 and 100 mm depth of a slit 10 x 60 mm at a distance from the axis."""
    shape = (70, 130, 60)
    grid = Grid((off_mm * 1.05 - 29.5, 0.5, -34.5), (1.0, 1.0, 1.0), shape)
    density = Density(own_array(np.ones(shape, np.float32)), grid)
    edges = load_machine(machine).leaf_edges_mm
    leaves = tuple(
        (off_mm - 5, off_mm + 5) if low >= -30 and high <= 30 else (off_mm, off_mm) for low, high in pairwise(edges)
    )
    one = beam(Aperture((off_mm - 20, off_mm + 20), (-30.0, 30.0), edges, leaves))
    gy = dose(density, one, machine).gy[34:36].mean(axis=0)
    return grid.x_mm, gy[14:16].mean(axis=0), gy[99:101].mean(axis=0)


def test_slit_at_depth_and_off_axis():
    x, shallow, deep = slit(0.0)
    widths = [width_mm(x, shallow), width_mm(x, deep)]
    # Generic leaves are no finer than those measured; two millimetres is the agreed limit for penumbrae.
    held(
        SUBJECT,
        "penumbra 80-20 % of a 1 cm slit, 1.5 and 10 cm deep, 6 MV",
        widths,
        [1.7, 3.7],
        tol=2.0,
        source=SOURCE,
        known="read",
        unit=" mm",
        digits=1,
        at=["1.5 cm", "10 cm"],
    )
    assert widths[0] < widths[1]
    far = [width_mm(slit(off)[0], slit(off)[2]) for off in (40.0, 80.0, 120.0)]
    held(
        SUBJECT,
        "the same at 4, 8, 12 cm off axis less that on the axis, 10 cm deep",
        np.array(far) - widths[1],
        [0.0, 0.0, 0.0],
        tol=0.5,
        source=SOURCE,
        known="read",
        unit=" mm",
        digits=2,
        at=["4 cm", "8 cm", "12 cm"],
    )


@lru_cache
def edge(side, machine):
    result = dose(water((side * 1.2 + 60, 210.0, side * 1.2 + 60), 2.0), beam(side), machine)
    k = result.gy.shape[0] // 2
    x, rows = result.grid.x_mm, result.gy[k - 1 : k + 1].mean(axis=0)
    out = []
    for depth in (15, 100, 200):
        row = rows[depth // 2] / rows[depth // 2][k - 1 : k + 1].mean()
        right = np.interp([-0.8, -0.2], -row[k:], x[k:])
        out.append(float(right[1] - right[0]))
    return out


def test_open_fields():
    six, ten = edge(100.0, "generic-6"), edge(100.0, "generic-10")
    band(
        SUBJECT,
        "penumbra 80-20 % of 10 x 10 cm jaws at the maximum, 6 MV",
        six[0],
        3.0,
        5.0,
        source="small-detector papers",
        unit=" mm",
        digits=1,
    )
    band(SUBJECT, "the same 10 cm deep", six[1], 5.0, 8.0, source="small-detector papers", unit=" mm", digits=1)
    band(
        SUBJECT,
        "10 MV less 6 MV, 10 cm deep",
        ten[1] - six[1],
        0.0,
        1.5,
        source="small-detector papers",
        unit=" mm",
        digits=1,
    )
    # Common practice: it widens with depth and with the field.
    assert six[0] < six[1] < six[2]
    assert edge(60.0, "generic-6")[1] < six[1]
