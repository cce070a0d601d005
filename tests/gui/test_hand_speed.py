"""The paths that the counts of a hand are made on lead to the target."""

from __future__ import annotations

import pytest

from engine.case import edits
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, small_case
from tests.support.hand_speed import drawn, every_slice, every_third, one_ball

pytestmark = pytest.mark.gui


@pytest.mark.parametrize(("way", "dice", "strokes"), [(every_slice, 0.93, 9), (every_third, 0.9, 4), (one_ball, 0.93, 0)])
def test_a_target_is_drawn_in_few_movements(bare_window, way, dice, strokes):
    truth = ball(GRID, (0.0, 0.0, 0.0), 23.0)
    case = small_case().but(drafts=())
    case = case.but(volumes=tuple(v for v in case.volumes if v.key != "ptv"))
    case = edits.with_volume(case, Volume("target", "GTV", "GTV", (230, 90, 80), truth.but(tiles=())))
    desk = drawn(bare_window, case, truth, way)
    assert desk.dice() > dice
    assert desk.strokes == strokes
    assert desk.strokes + desk.clicks + desk.keys <= 30
