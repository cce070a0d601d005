"""Pictures that are signed: a target shows on the slice of its lowest coverage, even where it fills less than half."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from PySide6.QtGui import QColor, QPainterPath

from app.report import chart_pictures, plane_picture
from app.report.beam_picture import draw_beam
from app.views.dose_planes import LevelLines
from engine.case import edits
from engine.review.sheet import Item
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


def _of_colour(image, wanted):
    rgb = QColor(*wanted)
    return sum(image.pixelColor(x, y) == rgb for x in range(image.width() - 190) for y in range(60, image.height()))


@pytest.mark.parametrize("share", [255, 60, 0])
def test_a_target_is_drawn_as_far_as_it_is_there(qapp, monkeypatch, share):
    monkeypatch.setattr(plane_picture, "_draw_dose", lambda *_: [])
    case = planned_case()
    target = case.volume("ptv")
    colour = (255, 0, 255)
    plane = target.coverage.planes[0]
    data = np.zeros(target.coverage.grid.shape[1:], dtype=np.uint8)
    rows, columns = (n // 2 for n in data.shape)
    data[rows - 3 : rows + 3, columns - 3 : columns + 3] = share
    case = edits.with_volume(case, target.but(coverage=target.coverage.with_slice(plane, data), colour=colour))
    grid = target.coverage.grid
    item = Item("plane", "Lowest coverage", "z", grid.point((plane, rows, columns)))
    image = plane_picture.draw_plane(item, case, case.drafts[0], None, 960, 720)
    assert (_of_colour(image, colour) > 20) == (share > 0)


def test_isodose_lines_and_their_labels_keep_to_the_body_as_on_the_stage():
    body = QPainterPath()
    body.addRect(-10, -10, 20, 20)
    out_and_in = np.array([(60.0, 0.0), (30.0, 0.0), (5.0, 0.0), (0.0, 0.0)])
    level = LevelLines(50.0, 30.0, QPainterPath(), [out_and_in])
    assert body.contains(plane_picture._label_place(level, body))
    assert plane_picture._label_place(LevelLines(10.0, 6.0, QPainterPath(), [out_and_in[:2]]), body) is None
    assert plane_picture._label_place(level, QPainterPath()) == level.anchor_mm


def test_an_organ_with_the_same_border_does_not_hide_a_target(qapp, monkeypatch):
    monkeypatch.setattr(plane_picture, "_draw_dose", lambda *_: [])
    case, magenta = planned_case(), (255, 0, 255)
    target = case.volume("ptv").but(colour=magenta)
    case = edits.with_volume(
        edits.with_volume(case, target), target.but(key="o", name="Around", role="OAR", colour=(0, 255, 0))
    )
    grid = target.coverage.grid
    middle = target.coverage.planes[len(target.coverage.planes) // 2]
    item = Item("plane", "Middle", "z", grid.point((middle, grid.shape[1] // 2, grid.shape[2] // 2)))
    image = plane_picture.draw_plane(item, case, case.drafts[0], None, 960, 720)
    assert _of_colour(image, magenta) > 20


@pytest.mark.parametrize("name", ["PTV_6000_boost_left_upper_lobe_phase50", "M" * 64])
@pytest.mark.parametrize("kind", ["plane", "dvh", "goals"])
def test_long_names_stay_inside_the_picture(qapp, monkeypatch, kind, name):
    monkeypatch.setattr(plane_picture, "_draw_dose", lambda *_: [])
    case = planned_case()
    case = edits.with_volume(case, case.volume("ptv").but(name=name))
    draft = case.drafts[0]
    goals = tuple((g.but(volume_key="ptv"), 1.0, "met") for g in draft.goals)
    dvh = SimpleNamespace(max_gy=70.0, curve=lambda n: (np.linspace(0, 70, n), np.linspace(100, 0, n)))
    now = SimpleNamespace(scale=1.0, dvhs={"ptv": dvh}, goals=goals)
    item = Item(kind, "Middle", "z", (0.0, 0.0, 0.0))
    draw = {"plane": plane_picture.draw_plane, "dvh": chart_pictures.draw_dvh, "goals": chart_pictures.draw_goals}[kind]
    image = draw(item, case, draft, now, 960, 720)
    ground = image.pixelColor(image.width() - 1, image.height() - 1)
    edge = [image.pixelColor(x, y) for x in range(image.width() - 6, image.width()) for y in range(60, image.height())]
    assert all(c == ground for c in edge)


@pytest.mark.parametrize("kind", ["plane", "dvh", "goals", "beam"])
@pytest.mark.parametrize(
    "letters", ["PTV_6000_boost_left_upper_lobe_{}_phase50_replanned_after_20_fractions", "W" * 40 + "{}" + "W" * 22]
)
def test_names_as_long_as_a_file_may_hold_are_written_whole(qapp, monkeypatch, kind, letters):
    """Two names that differ in their middle alone give two pictures, however little room there is."""
    monkeypatch.setattr(plane_picture, "_draw_dose", lambda *_: [])
    case = planned_case()
    draft, pictures = case.drafts[0], []
    seen = SimpleNamespace(image=np.zeros((8, 8), np.float32))
    for middle in "bd":
        name = letters.format(middle)[:64]
        named = edits.with_volume(case, case.volume("ptv").but(name=name))
        dvh = SimpleNamespace(max_gy=70.0, curve=lambda n: (np.linspace(0, 70, n), np.linspace(100, 0, n)))
        now = SimpleNamespace(
            scale=1.0, dvhs={"ptv": dvh}, goals=tuple((g.but(volume_key="ptv"), 1.0, "met") for g in draft.goals)
        )
        item = Item(kind, "Title", "z", (0.0, 0.0, 0.0), beam_key=draft.beams[0].key)
        if kind == "beam":
            pictures.append(draw_beam(item, named, draft, 960, 720, seen))
        else:
            draw = {"plane": plane_picture.draw_plane, "dvh": chart_pictures.draw_dvh, "goals": chart_pictures.draw_goals}
            pictures.append(draw[kind](item, named, draft, now, 960, 720))
    assert pictures[0] != pictures[1]


@pytest.mark.parametrize("kind", ["plane", "dvh", "goals"])
def test_many_long_names_stay_on_the_picture(qapp, monkeypatch, kind):
    """The picture with one name more differs from that without it: the last one is on it too."""
    monkeypatch.setattr(plane_picture, "_draw_dose", lambda *_: [10.0, 50.0, 95.0])
    case, goal = planned_case(), planned_case().drafts[0].goals[0]
    target, pictures, goals, dvhs = case.volume("ptv"), [], [], {}
    dvh = SimpleNamespace(max_gy=70.0, curve=lambda n: (np.linspace(0, 70, n), np.linspace(100, 0, n)))
    draw = {"plane": plane_picture.draw_plane, "dvh": chart_pictures.draw_dvh, "goals": chart_pictures.draw_goals}[kind]
    for n in range(35):
        name = f"Organ_at_risk_with_quite_a_long_name_that_takes_two_lines_{n:02d}"
        case = edits.with_volume(case, target.but(key=f"o{n}", name=name, role="OAR"))
        goals.append((goal.but(volume_key=f"o{n}"), 1.0, "met"))
        dvhs[f"o{n}"] = dvh
        if n in (33, 34):
            now = SimpleNamespace(scale=1.0, dvhs=dict(dvhs), goals=tuple(goals))
            pictures.append(draw(Item(kind, "Title", "z", (0.0, 0.0, 0.0)), case, case.drafts[0], now, 960, 720))
    low = [y for y in range(400, 720) if any(pictures[0].pixel(x, y) != pictures[1].pixel(x, y) for x in range(0, 960, 2))]
    assert low
    assert max(low) < 712
