"""Numbers on the axes of the DVH: apart from one another and inside the plot, however absurd the dose."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QWidget

from app.core.tokens import SMALL_PX, tabular
from app.report.chart_pictures import draw_dvh
from app.views.dvh_axes import GAP_PX, left_px, number, numbers, written
from app.views.dvh_curves import round_top
from app.views.dvh_words import DvhWords
from engine.case import edits
from engine.review.sheet import Item
from tests.gui.test_weigh import weigh  # noqa: F401  (a fixture)

pytestmark = pytest.mark.gui


@pytest.fixture
def metrics(qapp):
    return QFontMetricsF(tabular(QFont(), SMALL_PX))


@pytest.mark.parametrize("top", [0.003, 0.7, 72.7, 880.0, 1300.0, 9_900.0, 1_092_000.0, 9.9e9])
@pytest.mark.parametrize("room", [150.0, 380.0, 1200.0])
def test_numbers_of_the_dose_axis_do_not_touch(metrics, top, room):
    scale = round_top(top)
    values = numbers(scale)
    at = [46.0 + v / scale[0] * room for v in values]
    boxes = written(values, at, 46.0 + room + 10, metrics)
    assert 0 in boxes  # the axis begins with a number
    assert len(boxes) >= 2
    for a, b in pairwise(boxes.values()):
        assert b.left() - a.right() >= GAP_PX
    for i, box in boxes.items():
        assert box.right() <= 46.0 + room + 10
        assert metrics.horizontalAdvance(number(values[i])) <= box.width()
        assert float(number(values[i])) == pytest.approx(values[i])
        assert "e" not in number(values[i])


def test_numbers_of_the_volume_axis_do_not_touch_its_title(metrics):
    assert left_px((100.0, 20.0), metrics) == left_px((5.0, 1.0), metrics)  # the plot stands still
    widest = metrics.horizontalAdvance("20000")
    assert left_px((20000.0, 5000.0), metrics) >= widest + 20


def test_volumes_are_read_out_in_plain_digits():
    words = DvhWords("Body", True, 0.0, "Gy")
    assert words.amount(19355.2) == "19355 cm³"
    assert words.amount(30.123) == "30.1 cm³"
    assert words.amount(0.04567) == "0.0457 cm³"


def test_an_absurd_weight_leaves_the_plot_readable(qtbot, weigh):  # noqa: F811
    plot, desk = weigh.dvh, weigh.desk
    assert isinstance(plot, QWidget)
    desk.draft.normalise("None")
    for beam in weigh.context.workspace.draft.beams:
        desk.beams.set_weight(beam.key, 99_999.0)
    qtbot.waitUntil(lambda: plot._top_gy > 1000, timeout=60000)
    plot.set_in_cm3(True)
    area = plot._area()
    assert area.left() >= 48
    assert not plot.grab().isNull()


def test_long_names_get_room_where_the_plot_is_wide(weigh):  # noqa: F811
    plot, workspace = weigh.dvh, weigh.context.workspace
    plot.resize(900, 300)
    short = plot._area().width()
    case = workspace.case
    name = "PTV_6000_boost_left_upper_lobe"
    workspace.edit("name", edits.with_volume(case, case.volume("ptv").but(name=name)))
    assert plot._area().width() < short
    metrics = QFontMetricsF(tabular(plot.font(), SMALL_PX))
    assert plot.width() - plot._area().right() >= metrics.horizontalAdvance(name) + 28
    workspace.edit("name", edits.with_volume(case, case.volume("ptv").but(name="x" * 64)))
    assert plot._area().width() > 600
    plot.resize(300, 300)
    assert plot.width() - plot._area().right() < 20


def test_without_a_prescription_words_stand_in_place_of_curves_at_nothing(weigh):  # noqa: F811
    plot, workspace = weigh.dvh, weigh.context.workspace
    assert plot._curves
    assert plot.empty_words() == ""
    workspace.edit_draft("Bare", workspace.draft.but(prescription=None))
    words = "There is no prescription to normalise to. Give volume and dose under Prescription."
    assert plot.empty_words() == words
    assert plot._curves == plot._marks == []
    assert weigh.state_line() == "no dose"
    assert weigh.goals.model.counts()["met"] == 0
    assert not plot.grab().isNull()
    picture = draw_dvh(Item("dvh", "DVH"), workspace.case, workspace.draft, weigh.desk.follower.now, 400, 300)
    grey = [picture.pixelColor(x, y) for x in range(400) for y in range(60, 300)]
    assert all(abs(c.red() - c.blue()) < 40 for c in grey)  # words alone, no curve in a volume's colour
    workspace.undo_stack.undo()
    assert plot._curves
    assert plot.empty_words() == ""
