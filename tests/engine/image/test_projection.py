from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import Cancelled, InputError
from engine.base.values import own_array
from engine.beams.arrange import new_beam
from engine.beams.beam import Aperture
from engine.image.ct import CtImage
from engine.image.projection import WATER_PER_MM, Radiograph, View, attenuation_table, radiograph, ray_paths
from engine.space.frames import beam_from_patient, project
from tests.support.phantoms import grid_of, image_of, water_box

AXIS = np.array([0.0])


@pytest.mark.parametrize("gantry", [0.0, 90.0, 180.0, 37.0])
def test_water_path_on_the_axis_is_exact(gantry: float) -> None:
    """A cube of water of 200 mm turned by the gantry: chord 200 / max(|cos|, |sin|) through the centre."""
    path = ray_paths(water_box(margin_mm=0.0), View((0.0, 0.0, 0.0), gantry, 0.0, 0.0), 1000.0, AXIS, AXIS)
    a = np.deg2rad(gantry)
    chord = 200 / max(abs(np.cos(a)), abs(np.sin(a)))
    assert path[0, 0] == pytest.approx(WATER_PER_MM * chord, rel=1e-4)


def test_divergence_and_half_density() -> None:
    grid = grid_of((400, 100, 400), 5.0)
    image = image_of(grid, -500)
    x = np.array([-150.0, 0.0, 150.0])
    path = ray_paths(image, View((0.0, 0.0, 0.0), 0.0, 0.0, 0.0), 1000.0, x, AXIS)
    slant = np.sqrt(1000**2 + 150**2) / 1000
    assert path[0] == pytest.approx(0.5 * WATER_PER_MM * 100 * np.array([slant, 1, slant]), rel=1e-4)


@pytest.mark.parametrize("position", ["HFS", "HFP", "FFS", "FFP"])
@pytest.mark.parametrize(("gantry", "collimator", "couch"), [(0, 0, 0), (90, 0, 0), (40, 25, 0), (300, 0, 20)])
def test_a_bead_shows_where_it_projects(position: str, gantry: float, collimator: float, couch: float) -> None:
    grid = grid_of((120, 120, 120), (2.0, 2.0, 3.0))
    hu = np.full(grid.shape, -1000, dtype="<i2")
    hu[28, 20, 41] = 3000
    image = CtImage(own_array(hu), grid, position)
    b = new_beam("b", "m", (4.0, 3.0, -5.0), gantry, None, collimator, couch)
    found = radiograph(Radiograph(image, b, 1000.0, 160.0, 1.0))
    r, c = np.unravel_index(int(np.argmax(found.image)), found.image.shape)
    x0, x1, y0, y1 = found.extent_mm
    seen = (x0 + (c + 0.5) * (x1 - x0) / found.image.shape[1], y0 + (r + 0.5) * (y1 - y0) / found.image.shape[0])
    bead = grid.point((28.0, 20.0, 41.0))
    wanted = project(bead, b.isocentre_mm, beam_from_patient(position, gantry, collimator, couch), 1000.0)
    assert seen == pytest.approx(tuple(wanted), abs=2.0)


def test_bone_weight_lifts_bone_only() -> None:
    plain, lifted = attenuation_table(0.0), attenuation_table(2.0)
    assert (plain[: 1024 + 100] == lifted[: 1024 + 100]).all()
    assert lifted[1024 + 1100] == pytest.approx(WATER_PER_MM * (2.1 + 2.0))
    assert plain[1024] == pytest.approx(WATER_PER_MM)
    assert plain[0] == 0


def test_result_is_grey_with_its_extent_and_request() -> None:
    request = Radiograph(water_box((100, 100, 100), 4.0), View((0.0, 0.0, 0.0), 20.0, 0.0, 0.0), 1000.0, 200.0, 2.0)
    found = radiograph(request)
    assert found.inputs == request.fingerprint
    assert found.image.shape == (100, 100)
    assert found.image.dtype == np.float32
    assert found.image.min() == 0
    assert found.image.max() <= 1
    assert found.image[50, 50] > 0.5
    assert found.extent_mm == (-100, 100, -100, 100)


def test_only_direction_and_isocentre_matter() -> None:
    image = water_box((50, 50, 50), 5.0)
    b = new_beam("b", "m", (0.0, 0.0, 0.0), 30.0)
    other = b.but(name="c", key="k", aperture=Aperture((-1.0, 1.0), (-2.0, 2.0)))
    assert Radiograph(image, b).fingerprint == Radiograph(image, other).fingerprint
    assert Radiograph(image, b).fingerprint != Radiograph(image, b.but(gantry_deg=31.0)).fingerprint


def test_nothing_in_sight_bad_sizes_and_cancel() -> None:
    image = water_box((50, 50, 50), 5.0)
    away = radiograph(Radiograph(image, View((900.0, 0.0, 0.0), 0.0, 0.0, 0.0), 1000.0, 100.0, 2.0))
    assert not away.image.any()
    for change in ({"pixel_mm": 0.0}, {"size_mm": 1e6}, {"sad_mm": 10.0}, {"bone": -1.0}):
        with pytest.raises(InputError):
            Radiograph(image, View((0.0, 0.0, 0.0), 0.0, 0.0, 0.0), **change)

    def stop(fraction: float, words: str = "") -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        radiograph(Radiograph(image, View((0.0, 0.0, 0.0), 0.0, 0.0, 0.0)), stop)
