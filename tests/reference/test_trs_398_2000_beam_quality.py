"""The two measures of beam quality, each from its own set-up, and the relation between them (IAEA TRS-398)."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest

from engine.dose.hand_check import tpr_20_10
from tests.reference.table import band, held
from tests.support.dose import at_depth, axis, beam, dose, water

SUBJECT = "Beam quality"
TRS = "IAEA TRS-398 (2000) 6.3.1"
PHANTOM = (400.0, 320.0, 400.0)


@lru_cache
def measures(machine):
    """Return TPR20,10 at a fixed distance of the point, and D(20)/D(10) at SSD 100 cm."""
    doses = [at_depth(axis(dose(water(PHANTOM, 4.0), beam(100.0, (0.0, d, 0.0)), machine)), d) for d in (100.0, 200.0)]
    curve = axis(dose(water(PHANTOM, 4.0), beam(100.0), machine))
    return doses[1] / doses[0], at_depth(curve, 200) / at_depth(curve, 100)


MACHINES = ("point-6", "point-10", "generic-6", "generic-10")


def test_worked_values_of_the_relation():
    assert [tpr_20_10(r) for r in (0.570, 0.575, 0.580, 0.635)] == pytest.approx([0.662, 0.669, 0.675, 0.745], abs=0.001)


def test_relation_between_the_two_measures():
    tpr, ratio = (np.array(v) for v in zip(*(measures(m) for m in MACHINES), strict=True))
    wanted = np.array([tpr_20_10(r) for r in ratio])
    band(
        SUBJECT,
        "TPR20,10 against the relation from PDD20,10, four beams",
        tpr,
        wanted - 0.005,
        wanted + 0.005,
        source=TRS,
        at=MACHINES,
    )


def test_ideal_six_megavolts():
    own = "separate photon transport, Mohan 1985 spectrum"
    held(SUBJECT, "TPR20,10, point-6", measures("point-6")[0], 0.669, tol=0.005, source=own, known="read, computed")
    held(SUBJECT, "PDD20,10, point-6", measures("point-6")[1], 0.576, tol=0.003, source=own, known="read, computed")


def test_one_centres_beams():
    # Another machine than ours: within what clinical beams of one name differ.
    source = "study of TPR20,10 by a geometric series, abstract"
    held(SUBJECT, "TPR20,10, generic-6", measures("generic-6")[0], 0.683, tol=0.02, source=source, known="read")
    held(SUBJECT, "TPR20,10, generic-10", measures("generic-10")[0], 0.742, tol=0.015, source=source, known="read")


def test_plausible_clinical_range():
    names = ("generic-6", "generic-10")
    tpr, ratio = (np.array(v) for v in zip(*(measures(m) for m in names), strict=True))
    band(SUBJECT, "clinical TPR20,10", tpr, [0.655, 0.725], [0.685, 0.750], source="TRS-398 users' data", at=names)
    band(SUBJECT, "clinical PDD20,10", ratio, [0.565, 0.622], [0.585, 0.642], source="site-visit surveys", at=names)
