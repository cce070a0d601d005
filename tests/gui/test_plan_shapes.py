"""The numbers behind ring, aperture, histogram and cells, without a screen."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF

from app.core.what_changed import in_one_line, what_changed
from app.models.numbers import shown, typed
from app.views import ring_shape
from app.views.aperture_shape import Grip, grip_at, open_boxes, wedge_triangle
from app.views.dvh_curves import round_top
from app.views.ring_shape import Ring
from engine.beams.beam import Aperture
from engine.case import edits
from tests.support.cases import planned_case

angles = st.floats(0, 359.9)
places = st.tuples(st.floats(-300, 900), st.floats(-300, 900))


@given(angles, places, st.sampled_from(["HFS", "HFP", "FFS", "FFP"]))
def test_an_angle_put_on_the_ring_is_read_back(angle, eye, position):
    ring = Ring.around(600, 500, QPointF(*eye), position)
    rim = ring.at(angle, 1.0)
    assert ring.on_rim(rim, 1e-6)
    assert ring.share_of(ring.at(angle, 0.7)) == pytest.approx(0.7)
    assert (ring.angle_of(rim) - angle + 180) % 360 == pytest.approx(180, abs=1e-6)


@pytest.mark.parametrize(
    ("position", "zero", "ninety"),
    [  # axial slice seen from the feet: patient left is right on screen; worked from IEC 61217 and the definitions
        ("HFS", (0, -1), (1, 0)),
        ("HFP", (0, 1), (-1, 0)),
        ("FFS", (0, -1), (-1, 0)),
        ("FFP", (0, 1), (1, 0)),
    ],
)
def test_gantry_zero_is_above_the_couch_whatever_the_patient_lies_on(position, zero, ninety):
    assert ring_shape.screen_sense(position) == (pytest.approx(zero), pytest.approx(ninety))


@given(st.floats(0, 50), st.floats(0.1, 50), st.floats(0.3, 0.9))
def test_a_weight_put_on_a_spoke_is_read_back(weight, full, hub):
    share = ring_shape.share_of_weight(min(weight, full), full, hub)
    assert hub <= share <= 1
    assert ring_shape.weight_of_share(share, full, hub) == pytest.approx(min(weight, full), abs=1e-9)


@given(angles, places, st.floats(230, 2000), st.floats(230, 2000))
def test_spokes_keep_to_a_band_along_the_ring_and_the_ring_leaves_room_for_the_letters(angle, eye, width, height):
    ring = Ring.around(width, height, QPointF(*eye), "HFS")
    rim, hub = ring.at(angle, 1.0), ring.at(angle, ring.hub(angle))
    assert abs(rim.x() - width / 2) <= width / 2 - 51.9
    assert abs(rim.y() - height / 2) <= height / 2 - 43.9
    assert math.dist((rim.x(), rim.y()), (hub.x(), hub.y())) <= ring.band + 1e-6
    out = ring.outwards(rim)
    assert not ring.on_rim(rim + out * 20, 10)
    assert ring.on_rim(rim + out * 5, 10)


def test_all_weights_zero_still_give_the_rim_a_meaning():
    assert ring_shape.full_weight((0.0, 0.0)) > 0
    assert ring_shape.full_weight(()) > 0


LEAVES = Aperture((-30, 30), (-20, 20), (-20, -10, 0, 10, 20), ((-5, 5), (-40, 40), (3, 3), (-25, 10)))


def test_open_boxes_are_what_leaves_and_jaws_both_let_through():
    assert open_boxes(LEAVES) == [(-5, -20, 5, -10), (-30, -10, 30, 0), (-25, 10, 10, 20)]
    assert open_boxes(Aperture((-5, 5), (-4, 4))) == [(-5, -4, 5, 4)]
    assert open_boxes(Aperture((5, 5), (-4, 4))) == []


def test_what_lies_nearest_is_gripped():
    assert grip_at(LEAVES, -4, -14, 2) == Grip("leaf", 0, 0)
    assert grip_at(LEAVES, 29, 5, 2) == Grip("x", 1)
    assert grip_at(LEAVES, 0, 21, 2) == Grip("y", 1)
    assert grip_at(LEAVES, 0, -5, 2) is None
    assert grip_at(LEAVES, -40, -5, 2) is None  # a tip behind the jaw cannot be seen


@given(st.floats(0.001, 1e5))
def test_axis_tops_are_round_and_not_far_above(value):
    top, step = round_top(value)
    assert top >= value * (1 - 1e-9)
    assert top <= value * 1.5
    assert 3 <= top / step <= 9


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", 12),
        ("12,5", 12.5),
        ("−3", -3),
        (" 7.0 mm", 7),
        ("1e3", None),
        ("7 cm", None),
        ("", None),
        ("nan", None),
        ("--2", None),
    ],
)
def test_numbers_as_people_type_them(text, value):
    assert typed(text, ("mm",)) == value


@given(st.floats(-1e4, 1e4))
def test_what_is_shown_can_be_typed_again(value):
    assert typed(shown(value, 3)) == pytest.approx(value, abs=6e-4)
    assert not shown(value, 3).endswith(".")


def test_what_changed_names_beams_and_parts():
    case = planned_case()
    before = case.drafts[0]
    turned = edits.with_beam(before, before.beam("a").but(gantry_deg=10, couch_deg=5))
    assert what_changed(case, before, case, turned) == ["AP gantry and couch changed"]
    assert what_changed(case, before, case, edits.without_beam(before, "p")) == ["PA removed"]
    moved = turned
    for beam in before.beams:
        moved = edits.with_beam(moved, before.beam(beam.key).but(isocentre_mm=(1.0, 2.0, 3.0)))
    assert what_changed(case, before, case, moved) == ["isocentre of all beams changed"]
    assert what_changed(case, before, case, before.but(weights=(2, 3))) == []
    body = case.body
    dense = edits.with_volume(case, body.but(density_g_cm3=1.1))
    assert what_changed(case, before, dense, before) == ["density override changed"]
    assert in_one_line(["a", "b", "c", "d", "e"]) == "a, b, c and 2 more"


def test_the_picture_of_a_radiograph_stands_with_y_upwards():
    from app.views.beam_view import _grey

    data = np.zeros((10, 12), dtype=np.float32)
    data[:3] = 1.0  # the lowest y
    image = _grey(data)
    assert image.pixelColor(5, 9).lightness() > 150 > image.pixelColor(5, 0).lightness()


@pytest.mark.parametrize(("angle", "toe", "heel"), [(0, (0, 40), (0, -30)), (180, (0, -30), (0, 40)),
                                                    (90, (-20, 0), (50, 0)), (270, (50, 0), (-20, 0))])  # fmt: skip
def test_the_wedge_beside_the_field_has_its_point_at_the_toe(angle, toe, heel):
    beam = planned_case().drafts[0].beams[0].but(aperture=Aperture((-20, 50), (-30, 40)))
    assert wedge_triangle(beam) == []
    point, *base = wedge_triangle(beam.but(wedge="W30", wedge_orientation_deg=angle))
    along = 1 if angle in (0, 180) else 0
    assert point[along] == toe[along]
    assert {corner[along] for corner in base} == {heel[along]}
    assert all(x > 50 or y > 40 for x, y in (point, *base))
