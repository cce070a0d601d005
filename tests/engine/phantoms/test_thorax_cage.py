"""The chest wall: ribs keep out of the lungs, the cord lies in its canal, levels follow each other."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from engine.phantoms import Phantom
from engine.phantoms.thorax_cage import CAVITY, TRUNK, column, rib_lines, spine_y
from tests.engine.phantoms.measures import cm3, numbers


def test_twelve_pairs_of_ribs_fall_forwards_outside_the_cavity() -> None:
    ribs = rib_lines()
    assert sorted((n, s) for n, s, *_ in ribs) == sorted((n, s) for n in range(1, 13) for s in (-1.0, 1.0))
    for number, side, line, _ in ribs:
        assert (side * line[2:, 0] > 0).all()
        assert line[-1, 2] < line[2, 2], f"rib {number} falls"
        flat = line[3:][line[3:, 2] < 90]
        outside = [CAVITY.distance(*(np.float32(v).reshape(1, 1, 1) for v in p), capped=False).item() for p in flat]
        assert not outside or min(outside) > 2.0
        within = [TRUNK.distance(*(np.float32(v).reshape(1, 1, 1) for v in p), capped=False).item() for p in line]
        assert max(within) < -4.0, f"rib {number} stays under the skin"


def test_vertebrae_follow_each_other_without_overlap() -> None:
    bones = column()
    for low, high in pairwise(bones):
        space = high.centre_mm[2] - low.centre_mm[2] - low.half_mm[2] - high.half_mm[2]
        assert 2.0 < space < 9.0, "a disc is some millimetres high"
        assert high.half_mm[0] <= low.half_mm[0]
    assert spine_y(-18.5) == pytest.approx(41.0)


@pytest.mark.slow
def test_ribs_do_not_cut_the_lungs(thorax_patient: Phantom) -> None:
    for name in ("Lung_L", "Lung_R"):
        assert (numbers(thorax_patient, name) > 350).mean() < 1e-4


@pytest.mark.slow
def test_the_cord_is_whole_and_free_of_bone(thorax_patient: Phantom) -> None:
    cord = thorax_patient.volume("SpinalCord").coverage
    assert list(cord.planes) == list(range(cord.planes[0], cord.planes[-1] + 1))
    assert 10 < cm3(thorax_patient, "SpinalCord") < 40
    assert 30 < np.median(numbers(thorax_patient, "SpinalCord")) < 50
    assert (numbers(thorax_patient, "SpinalCord") > 200).mean() < 0.005
