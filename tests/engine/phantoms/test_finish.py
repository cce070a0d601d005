"""What the scanner adds: couch, noise, volumes."""

from __future__ import annotations

import numpy as np
import pytest

from engine.phantoms.canvas import Canvas
from engine.phantoms.finish import make_volumes, paint_couch, scan
from engine.space.grid import Grid


def small() -> Canvas:
    return Canvas(Grid((-125.0, -125.0, -15.0), (1.0, 1.0, 3.0), (11, 251, 251)))


def test_couch_is_a_thin_hard_shell_around_foam() -> None:
    canvas = small()
    couch = paint_couch(canvas, 60.0, 100.0, 40.0)
    line = canvas.hu[5, :, 125]
    inside = np.flatnonzero(line > 0)
    assert line[125 + 60 - 125 :].max() > 300
    assert inside[0] == pytest.approx(125 + 60, abs=1)
    assert line[125 + 80] < -850
    assert 10.0 > (line > -400).sum() > 2.0
    assert canvas.coverage(couch).volume_cm3 == pytest.approx(200 * 40 * 33 / 1000, rel=0.05)


def test_noise_grows_with_depth_and_leaves_the_mean() -> None:
    canvas = small()
    ball = canvas.loft_box((0, 0, 0), (110, 110, 300), 1.0)
    canvas.paint(ball, 40.0)
    image = scan(canvas, ball, 12.0, 3, "test")
    hu = image.hu.astype(float)
    middle, edge = hu[:, 105:146, 105:146], hu[:, 20:28, 40:210]
    assert middle.mean() == pytest.approx(40, abs=1)
    assert middle.std() == pytest.approx(12, rel=0.15)
    assert edge.std() < 0.85 * middle.std()
    assert image.description == "test"
    assert (image.hu == scan(canvas, ball, 12.0, 3, "test").hu).all()


def test_volumes_have_keys_that_depend_on_names_alone() -> None:
    canvas = small()
    parts = (
        ("PTV", "PTV", canvas.ellipsoid((0, 0, 0), (9, 9, 9))),
        ("Heart", "OAR", canvas.ellipsoid((30, 0, 0), (9, 9, 9))),
    )
    first, second = make_volumes("thorax", canvas, parts), make_volumes("thorax", canvas, parts[::-1])
    assert {v.name: v.key for v in first} == {v.name: v.key for v in second}
    assert first[0].key != make_volumes("head", canvas, parts)[0].key
