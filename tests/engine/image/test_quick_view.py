"""The radiograph that follows the hand: against chords worked out, against the fine one, and on odd images."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.image.projection import WATER_PER_MM, Radiograph, View, ray_paths
from engine.image.quick_view import CoarseRequest, coarse_box, quick_paths, quick_view
from engine.space.frames import beam_from_patient, project
from tests.support.phantoms import grid_of, image_of, water_box

AT = (np.arange(32) + 0.5) * 6.0 - 96.0


@pytest.mark.parametrize("gantry", [0.0, 30.0, 90.0, 135.0, 180.0, 270.0])
def test_water_path_on_the_axis(gantry: float) -> None:
    """A cube of water of 200 mm: chord 200 / max(|cos|, |sin|) through the centre, to 1 %."""
    box = coarse_box(CoarseRequest(water_box(margin_mm=20.0), bone=0.0))
    path = quick_paths(box, View((0.0, 0.0, 0.0), gantry, 0.0, 0.0), 1000.0, 3.0, 3)[1, 1]
    a = np.deg2rad(gantry)
    assert path == pytest.approx(WATER_PER_MM * 200 / max(abs(np.cos(a)), abs(np.sin(a))), rel=0.01)


@pytest.mark.parametrize("angles", [(0, 0, 0), (37, 10, 0), (90, 0, 20), (60, 80, 85), (270, 0, 90)])
def test_as_the_fine_one(angles: tuple[float, float, float]) -> None:
    grid = grid_of((240, 200, 160), 4.0)
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    hu = 200.0 * np.sin(x / 40) * np.cos(y / 50) * np.cos(z / 45) - 20
    hu[np.hypot(x / 110, np.hypot(y / 90, z / 70)) > 1] = -1000
    image = CtImage(own_array(hu.astype("<i2")), grid, "HFS")
    view = View((5.0, -4.0, 3.0), *angles)
    fine = ray_paths(image, view, 1000.0, AT, AT, 1.0)
    quick = quick_paths(coarse_box(CoarseRequest(image)), view, 1000.0, 192.0, 32)
    assert np.abs(quick - fine).mean() < 0.02 * fine.max()


@pytest.mark.parametrize("position", ["HFS", "HFP", "FFS", "FFP"])
def test_a_bead_shows_where_it_projects(position: str) -> None:
    grid = grid_of((120, 120, 120), (2.0, 2.0, 3.0))
    hu = np.full(grid.shape, -1000, dtype="<i2")
    hu[28, 20, 41] = 3000
    view = View((4.0, 3.0, -5.0), 40.0, 25.0, 10.0)
    paths = quick_paths(coarse_box(CoarseRequest(CtImage(own_array(hu), grid, position))), view, 1000.0, 160.0, 160)
    r, c = np.unravel_index(int(np.argmax(paths)), paths.shape)
    wanted = project(
        grid.point((28.0, 20.0, 41.0)), view.isocentre_mm, beam_from_patient(position, 40.0, 25.0, 10.0), 1000.0
    )
    assert (c + 0.5 - 80, r + 0.5 - 80) == pytest.approx(tuple(wanted), abs=2.5)


def test_air_and_a_single_slice_are_no_trouble() -> None:
    view = View((0.0, 0.0, 0.0), 0.0, 0.0, 0.0)
    air = coarse_box(CoarseRequest(image_of(grid_of((60, 60, 60), 5.0), -1000)))
    assert not quick_paths(air, view, 1000.0, 100.0, 16).any()
    slab = image_of(grid_of((300, 300, 2.0), (1.0, 1.0, 2.0)), 0)
    assert np.isfinite(quick_paths(coarse_box(CoarseRequest(slab)), view, 1000.0, 100.0, 16)).all()


def test_a_far_isocentre_sees_nothing() -> None:
    box = coarse_box(CoarseRequest(water_box()))
    assert not quick_paths(box, View((5000.0, 0.0, 0.0), 0.0, 0.0, 0.0), 1000.0, 100.0, 8).any()


def test_the_picture_answers_the_request() -> None:
    image = water_box()
    request = Radiograph(image, View((0.0, 0.0, 0.0), 0.0, 0.0, 0.0), 1000.0, 300.0, 1.25)
    made = quick_view(coarse_box(CoarseRequest(image)), request, 64)
    assert made.inputs == request.fingerprint
    assert made.extent_mm == (-150.0, 150.0, -150.0, 150.0)
    assert 0.0 <= made.image.min() < made.image.max() <= 1.0


def test_kernels_loaded_ahead_are_those_that_are_used() -> None:
    """What the screen thread calls must not compile anew."""
    from engine.image import quick_view as module
    from engine.image.quick_kernels import sum_rays

    module.warm_up()
    before = len(sum_rays.signatures)
    quick_paths(coarse_box(CoarseRequest(water_box())), View((0.0, 0.0, 0.0), 0.0, 0.0, 0.0), 1000.0, 90.0, 8)
    assert len(sum_rays.signatures) == before
