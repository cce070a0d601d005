"""Tangential beams on a round body with a target at its side."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import EmptyVolume, GeometryError
from engine.beams.arrange import new_beam
from engine.beams.conform import Margins, conform
from engine.beams.machine_file import load_machine
from engine.beams.tangents import tangents
from engine.space.frames import beam_from_patient
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((300, 300, 60), (3.0, 3.0, 6.0))
MACHINE = load_machine("generic-6")
MARGINS = Margins(5.0, 5.0, 5.0, 5.0)
BODY = coverage_of(GRID, lambda x, y, z: np.hypot(x, y) < 140, fine=2)
LUNG = coverage_of(GRID, lambda x, y, z: np.hypot(x - 50, y) < 55, fine=2)
TARGET = coverage_of(GRID, lambda x, y, z: (np.hypot(x, y) < 135) & (x + 0 * y > 112) & (abs(z) < 25), fine=2)
ISOCENTRE = (120.0, 0.0, 0.0)


def made(position: str = "HFS", spare: Coverage | None = LUNG) -> tuple[float, float]:
    return tangents(TARGET, BODY, spare, ISOCENTRE, MACHINE, MARGINS, position)


@pytest.mark.parametrize("position", ["HFS", "HFP", "FFS", "FFP"])
@pytest.mark.parametrize("spare", [LUNG, None])
def test_they_run_along_the_side_and_their_deep_edges_are_parallel(position: str, spare: Coverage | None) -> None:
    """The target is a cap at the patient's left: beams come from front and back, whichever way the patient lies."""
    edges = []
    for gantry in made(position, spare):
        to_beam = beam_from_patient(position, gantry, 0.0, 0.0)
        assert abs(to_beam[2] @ (1, 0, 0)) < 0.2
        x_mm = conform(new_beam("b", MACHINE.name, ISOCENTRE, gantry), TARGET, MACHINE, MARGINS, position).x_mm
        deep = x_mm[1] if to_beam[0] @ (-1, 0, 0) > 0 else x_mm[0]
        edges.append(-to_beam[2] + to_beam[0] * deep / MACHINE.sad_mm)
    a, b = (e / np.linalg.norm(e) for e in edges)
    assert np.rad2deg(np.arccos(np.clip(-a @ b, -1, 1))) < 1.2


def test_less_lung_is_met_than_by_beams_turned_ten_degrees() -> None:
    from engine.beams.tangents import _points
    from engine.space.frames import project

    def within(gantry: float) -> int:
        a = conform(new_beam("b", MACHINE.name, ISOCENTRE, gantry), TARGET, MACHINE, MARGINS)
        x, y = project(_points(LUNG), ISOCENTRE, beam_from_patient("HFS", gantry, 0.0, 0.0), MACHINE.sad_mm).T
        return int(((x > a.x_mm[0]) & (x < a.x_mm[1]) & (y > a.y_mm[0]) & (y < a.y_mm[1])).sum())

    first = made()[0]
    assert within(first) <= min(within(first + 10), within(first - 10))
    assert max(within(first + 10), within(first - 10)) > 0


def test_what_cannot_be_arranged_is_refused() -> None:
    with pytest.raises(EmptyVolume):
        tangents(Coverage(GRID), BODY, None, ISOCENTRE, MACHINE, MARGINS, "HFS")
    ball = coverage_of(GRID, lambda x, y, z: np.hypot(np.hypot(x, y), z) < 20, fine=2)
    with pytest.raises(GeometryError):
        tangents(ball, BODY, None, (0.0, 0.0, 0.0), MACHINE, MARGINS, "HFS")
