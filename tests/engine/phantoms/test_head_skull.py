"""Skull, teeth and air spaces. Ranges of size and CT number: common practice."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms import Phantom
from tests.engine.phantoms.measures import numbers

pytestmark = pytest.mark.slow


def test_there_are_teeth_and_air_spaces(head_patient: Phantom) -> None:
    hu = head_patient.image.hu
    assert (hu > 1800).sum() * head_patient.image.grid.voxel_cm3 > 2.0
    body = head_patient.volume("Body").coverage.dense() == 255
    assert 20 < (body & (hu < -800)).sum() * head_patient.image.grid.voxel_cm3 < 300


def test_the_skull_closes_over_the_brain_with_two_tables(head_patient: Phantom) -> None:
    grid = head_patient.image.grid
    plane, column = grid.plane_at(60.0), round(float(grid.index((12.0, 0.0, 60.0))[2]))
    for line in (head_patient.image.hu[plane, :, column], head_patient.image.hu[plane, :, -1 - column]):
        bone = line > 300
        rise = np.flatnonzero(np.diff(bone.astype(int)) == 1)
        assert len(rise) >= 2, "bone in front and behind"
        front = line[rise[0] : rise[0] + 12]
        assert front.max() > 600


def test_no_bone_lies_in_the_brain(head_patient: Phantom) -> None:
    assert (numbers(head_patient, "Brain") > 250).mean() < 0.002
