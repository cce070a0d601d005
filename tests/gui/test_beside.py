"""Another draft beside the active one, and the difference of the two."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPointF

from app.views.difference_layer import LESS, MORE, _coloured, on_points
from app.views.dose_planes import DosePlane
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def two(qtbot, bare_window, stub):
    """Weigh with two drafts that have a dose; the second, active one weighs the posterior beam more."""
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    station = bare_window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    station.desk.draft.duplicate_draft()
    station.desk.beams.set_weight("p", 3.0)
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    return station


def lay(qtbot, station) -> None:
    panel = station.drafts
    panel.beside.setCurrentIndex(1)
    panel.beside.activated.emit(1)
    qtbot.waitUntil(lambda: station.beside.other.now is not None, timeout=60000)


def test_a_draft_is_laid_beside_without_computing_anything(qtbot, two, stub):
    asked = len(stub.asked)
    lay(qtbot, two)
    assert len(stub.asked) == asked
    other, mine = two.beside.other.now, two.desk.follower.now
    assert other.mu[0] == pytest.approx(other.mu[1])
    assert mine.mu[1] == pytest.approx(3 * mine.mu[0])
    assert two.left() is None, "in a narrow window it stands inside the first stage"
    assert two.beside.widget.width() == pytest.approx(two.context.stage.view_of("z").width(), abs=60)
    assert two.beside.stage.isVisible()


def test_views_are_linked(qtbot, two):
    lay(qtbot, two)
    first, second = two.context.stage, two.beside.stage
    first.walk("z", 2)
    assert second.view_of("z").index == first.view_of("z").index
    second.zoom(second.view_of("z"), 1.5, QPointF(50, 50))
    assert first.cameras["z"] is second.cameras["z"]
    assert first.cameras["z"].zoom == pytest.approx(1.5)


def test_the_difference_shows_where_there_is_more_and_less(qtbot, two):
    lay(qtbot, two)
    two.drafts.difference.setChecked(True)
    layer = two.beside.difference
    assert layer in two.context.stage.layers
    percent, v_mm, u_mm = layer._plane(two.context.stage.view_of("z"))
    column = int(np.argmin(np.abs(u_mm)))
    front, back = (percent[int(np.argmin(np.abs(v_mm - y))), column] for y in (-40.0, 40.0))
    assert front < -1 < 1 < back  # head first supine: the posterior beam enters at high y
    two.drafts.difference.setChecked(False)
    assert layer not in two.context.stage.layers


def test_where_no_colour_is_drawn_words_say_that_there_is_no_difference(qtbot, two, monkeypatch):
    lay(qtbot, two)
    two.drafts.difference.setChecked(True)
    layer, view, drawn = two.beside.difference, two.context.stage.view_of("z"), []
    says = layer.says
    monkeypatch.setattr(layer, "says", lambda percent: drawn.append(says(percent)) or drawn[-1])
    view.grab()
    assert drawn[-1] == "strongest at 20 %"
    two.desk.beams.set_weight("p", 1.005)  # a little more than in the other draft
    view.grab()
    assert drawn[-1] == "no difference of 1 % or more in this plane"
    two.desk.beams.set_weight("p", 1.0)
    view.grab()
    assert drawn[-1] == "no difference in this plane"


def test_another_grid_is_read_between_its_points():
    """A dose linear in both directions comes back exactly; beyond the outermost points nothing is known."""
    v, u = np.arange(-10, 11, 2.5), np.arange(-8, 9, 2.0)
    plane = DosePlane((3 + 0.2 * v[:, None] + 0.5 * u[None, :]).astype(np.float32), v, u)
    at_v, at_u = np.array([-9.3, 0.1, 10.0, 10.4]), np.array([-8.5, -8.0, 3.7])
    found = on_points(plane, at_v, at_u)
    assert found[:3, 1:] == pytest.approx(3 + 0.2 * at_v[:3, None] + 0.5 * at_u[None, 1:], abs=1e-5)
    assert np.isnan(found[3]).all()
    assert np.isnan(found[:, 0]).all()


def test_the_difference_says_how_grids_are_brought_together(qtbot, two):
    lay(qtbot, two)
    layer, view = two.beside.difference, two.context.stage.view_of("z")
    assert layer.how(view) == "one dose grid"
    two.desk.draft.compute_on(4.0)
    qtbot.waitUntil(lambda: two.desk.follower.state == "current", timeout=60000)
    assert "linearly" in layer.how(view)


def test_the_difference_is_clear_where_the_drafts_agree():
    pixels = _coloured(np.array([[0.0, 0.5, 30.0, -30.0]], dtype=np.float32))
    assert pixels[0, 0, 3] == pixels[0, 1, 3] == 0
    assert pixels[0, 2, 3] == pixels[0, 3, 3] > 100
    assert pixels[0, 2, 2] > pixels[0, 2, 0]  # orange: more red than blue
    assert pixels[0, 3, 0] > pixels[0, 3, 2]
    assert LESS != MORE


def test_two_large_pictures_share_a_narrow_window(qtbot, two):
    stage = two.context.stage
    lay(qtbot, two)
    assert stage.strip.isHidden()
    assert not stage.view_of("x").isVisible()
    two.context.go("aim")
    assert stage.strip.isVisible()
    assert stage.view_of("x").isVisible()
    two.context.go("weigh")
    assert stage.strip.isHidden()
    two.beside.choose("")
    assert stage.strip.isVisible()
    assert not two.beside.widget.isVisible()


def test_the_histogram_shows_both_drafts_and_says_which_is_which(qtbot, two):
    plot, ghosts = two.dvh, two.desk.follower.ghost
    plot.resize(420, 260)
    assert ghosts is not None
    lay(qtbot, two)
    other, mine = two.beside.other.now, two.desk.follower.now
    names = plot._drafts()
    assert names == (two.context.workspace.draft.name, two.beside.other.draft.name)
    assert {c.key for c in plot._ghosts} == {"body", "ptv", "cord"}
    cord = next(c for c in plot._ghosts if c.key == "cord")
    assert cord.gy[-1] == pytest.approx(other.dvhs["cord"].max_gy), "the other draft stands where the ghosts stood"
    gy = mine.dvhs["cord"].d_gy(40.0)
    shares = [100 * now.dvhs["cord"].v_share(gy) for now in (mine, other)]
    doses = [now.dvhs["cord"].d_gy(40.0) for now in (mine, other)]
    first, second = plot.words_at(plot._at(gy, 40.0)).split("\n")
    assert first == f"SpinalCord, {gy:.1f} Gy or more: {names[0]} {shares[0]:.1f} %, {names[1]} {shares[1]:.1f} %"
    assert second == f"hottest 40.0 %, at least: {names[0]} {doses[0]:.1f} Gy, {names[1]} {doses[1]:.1f} Gy"
    away = plot._at(other.dvhs["cord"].d_gy(70.0), 70.0)
    assert plot.words_at(away).startswith("SpinalCord"), "a dashed curve is read out as well"
    two.drafts.beside.setCurrentIndex(0)
    two.drafts.beside.activated.emit(0)
    assert plot._drafts() == ()
    assert plot._ghost_of is ghosts


def test_a_weight_under_the_hand_leaves_the_other_draft_as_it_is(qtbot, two):
    lay(qtbot, two)
    two.dvh.grab()
    other, ground, told = two.beside.other.now, two.dvh._kept[1].cacheKey(), []
    two.beside.other.changed.connect(lambda: told.append(1))
    two.desk.beams.set_weight("p", 2.9)
    two.dvh.grab()
    assert two.beside.other.now is other
    assert not told
    assert two.dvh._kept[1].cacheKey() == ground, "axes and dashed curves are not drawn again"


def test_both_drafts_in_the_differential_form(qtbot, two):
    lay(qtbot, two)
    two.dvh.resize(420, 260)
    two.dvh_box.differential.trigger()
    plot, names = two.dvh, two.dvh._drafts()
    curve = next(c for c in plot._ghosts if c.key == "cord")
    i = int(np.argmax(curve.amount))
    words = plot.words_at(plot._at(curve.gy[i], curve.amount[i]))
    assert words.startswith("SpinalCord, per Gy at ")
    assert f"{names[1]} {curve.amount[i]:.1f} %" in words
    assert names[0] in words


def test_a_wide_window_keeps_the_small_pictures(qtbot, two):
    two.context.stage.window().resize(2200, 1200)
    lay(qtbot, two)
    assert two.left() is two.beside.widget
    assert two.context.stage.view_of("x").isVisible()
    assert two.context.stage.strip.isVisible()


def test_the_curves_keep_their_share_beside_another_draft_and_are_never_cut_off(qtbot, two):
    two.show_balance(True)
    two.context.stage.window().resize(2560, 1440)
    lay(qtbot, two)
    assert two.left() is not None

    def shared():
        # 0.31 where the ledger's heads leave it; it was 0.2.
        return two.below.width() < 1400 and 0.26 < two.dvh_box.width() / two.below.width() < 0.34

    qtbot.waitUntil(shared)
    two.show_balance(True)
    assert shared()
    two.show_balance(False)
    for sizes in ([100, 2000, 0], [1, 5000, 0]):
        two.below.setSizes(sizes)
        assert two.dvh.geometry().right() <= two.dvh_box.width()


def test_choosing_none_or_removing_the_draft_ends_it(qtbot, two):
    lay(qtbot, two)
    two.drafts.beside.setCurrentIndex(0)
    two.drafts.beside.activated.emit(0)
    assert two.left() is None
    lay(qtbot, two)
    two.context.workspace.undo_stack.undo()
    two.context.workspace.undo_stack.undo()
    assert two.beside.other.key == ""
    assert two.left() is None


def test_a_draft_without_dose_says_what_to_do(qtbot, two):
    first = two.context.workspace.draft.key
    two.desk.draft.new_draft()
    new = two.context.workspace.draft.key
    two.context.workspace.activate(draft=first)
    two.beside.choose(new)
    assert "no dose yet" in two.beside.other.words()
