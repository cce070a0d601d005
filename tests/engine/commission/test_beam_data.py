"""Beam data of an ideal machine against published transport, and how the numbers hang together."""

from __future__ import annotations

import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.commission.beam_data import (
    BeamDataRequest,
    beam_data,
    half_value_layer_mm,
    leaf_transmission,
    mean_energies_mev,
)
from engine.commission.published import published_checks

POINT = load_machine("point-6")


@pytest.fixture(scope="module")
def data():
    return beam_data(BeamDataRequest(POINT, (50.0, 100.0), (50.0, 100.0)))


def test_published_values_of_the_ideal_beam_are_met(data):
    checks = published_checks(POINT, data)
    counted = [c for c in checks if c.counts]
    assert len(counted) >= 8
    assert not [(c.name, c.expected, c.found) for c in counted if not c.within]


def test_half_value_layer_and_mean_energies():
    # 14.2 cm, 1.90 and 2.66 MeV: computed with the spectrum of Mohan et al. 1985 and NIST data.
    assert half_value_layer_mm(POINT) == pytest.approx(142, abs=1.5)
    assert mean_energies_mev(POINT) == pytest.approx((1.90, 2.66), abs=0.01)


def test_an_ideal_machine_has_no_output_in_air_and_shuts_wholly(data):
    row = data.field(50.0)
    assert row.sc == pytest.approx(1.0, abs=1e-4)
    assert row.scp == pytest.approx(row.sp, rel=1e-4)
    assert data.number("leaf_transmission_percent") < 0.3
    assert data.number("jaw_transmission_percent") == 0


def test_transmission_follows_the_machine():
    assert leaf_transmission(POINT.but(leaf_transmission=0.03)) == pytest.approx(0.03, abs=0.004)
    assert np.isnan(leaf_transmission(POINT.but(leaf_edges_mm=())))


def test_curves_and_rows_agree(data):
    curve = data.curve("depth-dose", 100.0)
    assert dict(data.field(100.0).pdd_percent)[100.0] == pytest.approx(
        float(np.interp(100.0, curve.position_mm, curve.value)), abs=0.05
    )
    kinds = [c.kind for c in data.curves]
    assert (kinds.count("depth-dose"), kinds.count("profile"), kinds.count("output")) == (2, 8, 1)
    for c in data.curves:
        assert np.all(np.diff(c.position_mm) > 0)
        assert c.energy_mv == 6
    deep = [p for p in data.profiles if (p.field_mm, p.axis) == (100.0, "x")]
    assert [p.width_mm for p in deep] == pytest.approx([105, 110], abs=0.8)
    assert deep[0].penumbra_mm < deep[1].penumbra_mm


def test_fields_beyond_the_machine_are_left_out():
    small = POINT.but(field_limit_mm=60.0)
    rows = beam_data(BeamDataRequest(small, (100.0, 300.0), (50.0,))).fields
    assert [r.field_mm for r in rows] == [100.0]
