"""The beam without flattening filter: softer, steadier across, with less head scatter."""

from __future__ import annotations

import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.dose.kernels import load_points
from engine.dose.source import release
from tests.reference.table import band, between
from tests.support.dose import at_depth, axis, axis_in_water, beam, dose, water

SUBJECT = "Unflattened beam"
NAME = "generic-6-unflattened"
ABSTRACT = "Dalaryd et al., abstract"


def test_depth_dose_and_quality():
    flat, bare = axis_in_water(100.0, "generic-6"), axis_in_water(100.0, NAME)
    ratio = at_depth(bare, 200) / at_depth(bare, 100)
    assert ratio < at_depth(flat, 200) / at_depth(flat, 100)
    band(SUBJECT, "PDD20,10", ratio, 0.536, 0.560, source="Kerns et al. surveys")
    band(
        SUBJECT,
        "PDD(10), 10 cm field",
        100 * at_depth(bare, 100) / bare[1].max(),
        62.5,
        64.9,
        source="Kerns et al. surveys",
        unit=" %",
        digits=1,
    )
    doses = [
        at_depth(axis(dose(water((400.0, 320.0, 400.0), 4.0), beam(100.0, (0.0, d, 0.0)), NAME)), d) for d in (100.0, 200.0)
    ]
    band(SUBJECT, "TPR20,10", doses[1] / doses[0], 0.62, 0.645, source="TRS-398 users' data")


def test_head_scatter():
    share = load_machine(NAME).extra_focal_share / load_machine("generic-6").extra_focal_share
    between(
        SUBJECT,
        "head scatter to that of the flattened beam, less one",
        100 * share - 100,
        -40.0,
        -24.0,
        source=f"{ABSTRACT}: -32 % (range own)",
        known="read",
        unit=" %",
        digits=0,
    )


def test_spectrum_is_nearly_the_same_across():
    def change(name):
        table = release(load_machine(name), load_points().primary_share)
        tangents = table.tangent_step * np.arange(table.terma_cm2_g.shape[1])
        return float(np.interp(0.2, tangents, table.terma_cm2_g[0]) / table.terma_cm2_g[0, 0] - 1)

    assert change(NAME) < 0.2 * change("generic-6")
    between(
        SUBJECT,
        "change of attenuation 20 cm off axis",
        100 * change(NAME),
        0.0,
        3.0,
        source=f"{ABSTRACT}: nearly the same spectrum (range own)",
        known="read",
        unit=" %",
        digits=1,
    )
    assert change("generic-6") == pytest.approx(0.14, abs=0.03)
