"""While kernels are made ready the screen thread calls none: what needs them is left out, said or done later."""

from __future__ import annotations

import pytest

from app.core import warm
from app.start import show_again
from app.views.outline_paths import OutlinePaths
from engine.case.second_images import with_second_image
from tests.support.cases import flat_results, planned_case
from tests.support.second import ramp

pytestmark = pytest.mark.gui


@pytest.fixture
def waiting(monkeypatch):
    parts = {warm.OUTLINES, warm.PAINTING, warm.PLANS, warm.VIEWS, warm.SHAPES}
    monkeypatch.setattr(warm, "_pending", parts)
    return parts


def test_a_stroke_is_refused_in_words_until_the_tools_are_ready(window, hand, waiting):
    before = window.context.workspace.case
    hand.key("h")
    hand.drag((-40, 0), (-30, -20), (-20, 0), (-40, 0))
    assert window.context.workspace.case is before
    assert "made ready" in window.strip.text.text()
    waiting.clear()
    hand.drag((-40, 0), (-30, -20), (-20, 0), (-40, 0))
    assert window.context.workspace.case is not before


def test_outlines_wait_on_the_stage_but_never_where_something_is_signed(window, waiting):
    coverage = window.context.workspace.volume.coverage
    paths = OutlinePaths()
    assert paths.path(coverage, "z", 9).isEmpty()
    assert not OutlinePaths(complete=True).path(coverage, "z", 9).isEmpty()
    waiting.clear()
    assert not paths.path(coverage, "z", 9).isEmpty()


def test_a_plan_with_its_doses_is_read_as_soon_as_it_can_be(window, qtbot, stub, waiting):
    case = planned_case()
    window.context.workspace.open(case, flat_results(case))
    window.go("weigh")
    follower = window.station.desk.follower
    qtbot.waitUntil(lambda: bool(follower._bases))
    assert follower.now is None
    state = window.station.state
    assert "in a moment" in state.words.text()
    assert not state.compute.isVisible()
    waiting.clear()
    show_again(window)
    assert follower.state == "current"
    assert "Fine dose." in state.words.text()


def test_a_second_image_and_what_the_source_sees_wait(window, stub, waiting):
    case = planned_case()
    window.context.workspace.open(case)
    window.context.workspace.edit("second", with_second_image(case, ramp()))
    window.go("aim")
    pictures, beam = window.station.desk.pictures, case.drafts[0].beams[0]
    layer, view = window.second._layer, window.stage.view_of("z")
    assert window.second.shown
    assert not layer.shown_in(view)
    assert pictures.outlines(case, beam, case.volume("ptv")) == []
    waiting.clear()
    assert layer.shown_in(view)
    assert pictures.outlines(case, beam, case.volume("ptv"))


def test_volumes_are_looked_at_once_that_can_be_done(window, waiting):
    checks = window.station.checks
    checks._ask()
    assert checks._asked == (None, None)
    waiting.clear()
    checks._ask()
    assert checks._asked[0] is not None
