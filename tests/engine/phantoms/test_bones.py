"""Bones: hard outside, soft inside; a spine whose cord is free."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms.bones import Vertebra, paint_bone, paint_spine, vertebra_body
from engine.phantoms.canvas import Canvas
from engine.space.grid import Grid


def small() -> Canvas:
    return Canvas(Grid((-60.0, -40.0, -60.0), (1.0, 1.0, 3.0), (41, 121, 121)))


def bone(z: float) -> Vertebra:
    return Vertebra((0.0, 0.0, z), (18.0, 14.0, 12.0), 0.0, (10.0, 8.0), (18.0, 10.0), (14.0, 6.0, 2.0))


def test_cortex_around_marrow() -> None:
    canvas = small()
    region = canvas.ellipsoid((0, 20, 0), (20, 20, 30))
    paint_bone(canvas, region, 2.0)
    deep, skin = region.distance < -5, (region.distance < -0.7) & (region.distance > -1.2)
    part = canvas.hu[region.box]
    assert 120 < part[deep].mean() < 260
    assert part[skin].mean() > 700


def test_body_has_its_size_and_leans_as_told() -> None:
    canvas = small()
    volume = canvas.coverage(vertebra_body(canvas, bone(0.0))).volume_cm3
    assert volume == pytest.approx(4 * 18 * 14 * 24 * 0.8 / 1000, rel=0.25)
    v = Vertebra((0.0, 0.0, 0.0), (18.0, 14.0, 12.0), 30.0, (10.0, 8.0), (18.0, 10.0), (14.0, 6.0, 2.0))
    assert v.place(0, 14, 0)[2] > 0, "leaning forward lifts the back"


def test_spine_has_canal_with_cord_inside_the_arches() -> None:
    canvas = small()
    canvas.paint(canvas.loft_box((0, 20, 0), (58, 58, 59), 2.0), 50.0)
    spine = paint_spine(canvas, [bone(z) for z in (-60.0, -30.0, 0.0, 30.0, 60.0)], (5.0, 4.0))
    cord = canvas.coverage(spine.cord).dense() == 255
    assert 30 < np.median(canvas.hu[cord]) < 50
    assert not (cord & (canvas.coverage(spine.bone).dense() > 200)).any()
    canal = canvas.coverage(spine.canal).dense() > 250
    assert (canal | ~cord).all(), "the cord lies in the canal"
