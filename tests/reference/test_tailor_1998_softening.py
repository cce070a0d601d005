"""Off-axis softening: the attenuation that the source model really applies, by angle."""

from __future__ import annotations

import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.dose.kernels import load_points
from engine.dose.source import release
from tests.reference.table import band, between

SUBJECT = "Profiles and softening, typical beams"


def attenuation(name, angle_deg):
    """Return the mean attenuation of energy fluence at an angle relative to the axis, from the table that dose uses."""
    table = release(load_machine(name), load_points().primary_share)
    tangents = table.tangent_step * np.arange(table.terma_cm2_g.shape[1])
    surface = [np.interp(np.tan(np.deg2rad(a)), tangents, table.terma_cm2_g[0]) for a in (angle_deg, 0.0)]
    return float(surface[0] / surface[1])


def test_the_relation():
    found = [attenuation("generic-6", a) for a in (3, 5, 10, 15)]
    wanted = np.array([1.021, 1.048, 1.126, 1.164])
    band(
        SUBJECT,
        "attenuation at 3, 5, 10, 15 degrees over the axis, 6 MV",
        found,
        wanted - 0.005,
        wanted + 0.005,
        source="Tailor et al., Med. Phys. 25 (1998) 662",
        at=["3°", "5°", "10°", "15°"],
    )


@pytest.mark.parametrize("name", ["generic-6"])
def test_change_by_centimetre(name):
    slope = 100 * (attenuation(name, np.rad2deg(np.arctan(0.10))) - 1) / 10
    between(
        SUBJECT,
        f"softening per cm off axis up to 10 cm, {name}",
        slope,
        0.35,
        0.65,
        source="Bjärngard and Shackford, abstract: about 0.5 % at 6 MV (range own)",
        known="read",
        unit=" %/cm",
        digits=2,
    )
