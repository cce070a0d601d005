"""A machine written and read again is the same machine."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine, machine_from, shipped_machines
from engine.beams.wedge import Wedge
from engine.commission.machine_text import machine_text, spectrum_text

POINT = load_machine("point-6")


def written(machine, folder):
    (folder / "m-spectrum.csv").write_text(spectrum_text(machine, "test"))
    (folder / "m.toml").write_text(machine_text(machine, "m-spectrum.csv"))
    return load_machine(str(folder / "m.toml"))


@pytest.mark.parametrize("name", shipped_machines())
def test_every_shipped_machine_comes_back(name, tmp_path):
    machine = load_machine(name)
    back = written(machine, tmp_path)
    whole = sum(machine.spectrum_fluence)
    assert back.spectrum_fluence == pytest.approx([v / whole for v in machine.spectrum_fluence], rel=1e-8)
    assert back.but(spectrum_fluence=machine.spectrum_fluence) == machine


def test_every_number_that_can_be_set_comes_back(tmp_path):
    machine = load_machine("generic-6").but(
        name="odd name", description='quotes " and \\ and\nlines', source="tab\there", jaw_x_mm=(-190.0, 195.0),
        upper_jaws="X", monitor_backscatter=0.0123, focal_fwhm_mm=(1 / 3, 2e-3), leaf_span_mm=145.0, tongue_mm=0.4,
        leaf_end_growth_mm=0.1, calibration_depth_mm=100.0, calibration_ssd_mm=900.0, calibration_gy_per_mu=0.0067,
        wedges=(Wedge("W30", "physical", 30.0, (-100.0, 100.0), (0.0, 180.0), "iron", 7.87, (2.0, 40.0)),
                Wedge("V30", "virtual", 30.0, (-100.0, 100.0), transmission=(1.0, 0.5))),
    )  # fmt: skip
    assert written(machine, tmp_path).but(spectrum_fluence=machine.spectrum_fluence) == machine


@settings(max_examples=50, deadline=None)
@given(st.text(max_size=40), st.floats(0.0, 0.99), st.floats(0.1, 300.0))
def test_any_text_and_any_float(text, share, spread):
    machine = POINT.but(description=text, contamination_share=share, contamination_spread_mm=spread)
    import tomllib

    import assets

    document = tomllib.loads(machine_text(machine, "spectrum_6mv.csv"))
    assert machine_from(document, assets.path("machines/x.toml")) == machine


def test_what_a_file_cannot_say_is_refused():
    with pytest.raises(InputError, match="centred"):
        machine_text(POINT.but(leaf_edges_mm=(0.0, 10.0, 20.0)), "s.csv")


def test_the_spectrum_sums_to_one():
    rows = [r for r in spectrum_text(POINT, "t").splitlines() if not r.startswith("#")][1:]
    assert np.sum([float(r.split(",")[3]) for r in rows]) == pytest.approx(1)
