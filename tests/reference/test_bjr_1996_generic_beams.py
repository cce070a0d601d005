"""The typical machines against typical beam data: output in air that was read, and bands known from memory."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from engine.base.sources import read_table
from engine.beams.machine_file import load_machine
from tests.reference.table import band, held
from tests.support.dose import at_depth, axis_in_water, square
from tests.support.head import output_in_air

SUBJECT = "Depth dose and output, typical beams"
DATA = Path(__file__).parent / "data"
SURVEY = "BJR Suppl. 25 (1996) and site-visit surveys"


@pytest.mark.parametrize(("machine", "energy"), [("generic-6", 6), ("generic-10", 10)])
def test_percentage_depth_dose_within_its_band(machine, energy):
    table = read_table(DATA / f"bjr_1996_pdd_{energy}mv.csv")
    field, depth, pdd, width = (table[c] for c in ("field_cm", "depth_cm", "pdd_percent", "band_plus_minus"))
    curves = {f: axis_in_water(10 * f, machine) for f in set(field)}
    # The maximum falls between voxels of 4 mm, which lowers it by up to 0.2 %.
    found = np.array([100 * at_depth(curves[f], 10 * d) / curves[f][1].max() for f, d in zip(field, depth)])
    names = [f"{f:g} cm field, {d:g} cm deep" for f, d in zip(field, depth)]
    band(
        SUBJECT,
        f"percentage depth dose, {machine}",
        found,
        pdd - width - 0.1,
        pdd + width + 0.1,
        source=SURVEY,
        unit=" %",
        digits=1,
        at=names,
    )


@pytest.mark.parametrize(("machine", "column"), [("generic-6", "Sc_6MV"), ("generic-10", "Sc_10MV")])
def test_output_in_air(machine, column):
    table, m = read_table(DATA / "collimator_scatter_2023.csv"), load_machine(machine)
    found = np.array([output_in_air(square(10 * f), m) for f in table["field_cm"]]) / output_in_air(square(100), m)
    names = [f"{f:g} cm" for f in table["field_cm"]]
    held(
        SUBJECT,
        f"collimator scatter factor, 4 to 20 cm, {machine}",
        found,
        table[column],
        tol=0.010,
        source="Adv. Radiother. Nucl. Med. 1(1) (2023) 29, Table 2",
        known="read",
        at=names,
    )


@pytest.mark.parametrize(
    ("machine", "wanted"),
    [
        ("generic-6", {50: 0.950, 150: 1.031, 200: 1.053, 300: 1.080}),
        ("generic-10", {50: 0.950, 150: 1.030, 200: 1.049}),
    ],
)
def test_total_output_at_the_maximum(machine, wanted):
    reference = axis_in_water(100, machine)[1].max()
    found = [axis_in_water(f, machine)[1].max() / reference for f in wanted]
    value = np.array(list(wanted.values()))
    band(
        SUBJECT,
        f"total output factor at the maximum, {machine}",
        found,
        value - 0.012,
        value + 0.012,
        source="site-visit surveys",
        at=[f"{f / 10:g} cm" for f in wanted],
    )


def test_total_output_at_ten_centimetres():
    found = [
        at_depth(axis_in_water(f, "generic-6"), 100) / at_depth(axis_in_water(100, "generic-6"), 100) for f in (50, 200)
    ]
    held(
        SUBJECT,
        "total output factor at 10 cm, 5 and 20 cm, generic-6",
        found,
        [0.903, 1.091],
        rel=0.015,
        source="Sc read (one linac) times Sp computed",
        known="read, computed",
        at=["5 cm", "20 cm"],
    )
