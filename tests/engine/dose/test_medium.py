import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.base.values import own_array
from engine.beams.machine_file import load_machine
from engine.dose.medium import AIR_G_CM3, medium_of, rule, to_report
from engine.image.density import Density
from engine.space.grid import Grid
from tests.support.dose import water

POINT = load_machine("point-6")


def lump(spacing_mm, low=6, high=18, density=1.0):
    grid = Grid((0.0, 0.0, 0.0), (spacing_mm,) * 3, (24, 24, 24))
    rho = np.full(grid.shape, AIR_G_CM3, dtype=np.float32)
    rho[low:high, low:high, low:high] = density
    return Density(own_array(rho), grid)


def fine_g_cm3(medium):
    return medium.water * np.float32(medium.step_g_cm3)


@pytest.mark.parametrize("spacing", [0.7, 1.0, 2.5, 4.0])
def test_both_grids_hold_all_matter_and_its_mass(spacing):
    density = lump(spacing)
    medium = medium_of(density, POINT)
    mass = float((density.g_cm3 - AIR_G_CM3).sum(dtype=np.float64)) * density.grid.voxel_cm3
    for rho, grid in ((fine_g_cm3(medium), medium.grid), (medium.coarse_g_cm3, medium.coarse)):
        air = AIR_G_CM3 * float(rule(POINT).relative_attenuation(AIR_G_CM3))
        assert float((rho - air).sum(dtype=np.float64)) * grid.voxel_cm3 == pytest.approx(mass, rel=2e-3)


def test_the_fine_grid_keeps_the_image_s_voxels_where_they_are_wide():
    density = lump(2.5)
    medium = medium_of(density, POINT)
    assert medium.grid.spacing_mm == density.grid.spacing_mm
    assert set(np.unique(fine_g_cm3(medium).round(6))) == {np.float32(1.0).round(6), fine_g_cm3(medium).min().round(6)}


def test_air_lies_all_around():
    medium = medium_of(water((100.0, 100.0, 100.0), 5.0), POINT)
    for rho in (fine_g_cm3(medium), medium.coarse_g_cm3):
        for axis in range(3):
            assert np.take(rho, 0, axis).max() < 0.01
            assert np.take(rho, -1, axis).max() < 0.01


@pytest.mark.parametrize("densest", [1.0, 1.85, 2.7, 7.9, 19.3])
def test_steps_of_density_are_fine_and_meet_water(densest):
    density = lump(2.5, density=densest)
    rho = density.g_cm3.copy()
    rho[6:12] = np.minimum(rho[6:12], 1.0)
    medium = medium_of(Density(own_array(rho), density.grid), POINT)
    found = np.unique(fine_g_cm3(medium))
    relative = rule(POINT).relative_attenuation(np.array([AIR_G_CM3, 1.0, densest], np.float32))
    wanted = np.unique(np.array([AIR_G_CM3, 1.0, densest]) * relative)
    assert found == pytest.approx(wanted, abs=wanted.max() / 65534)
    assert np.float32(1.0) in found


def test_it_is_remembered_for_the_next_beam():
    density = lump(2.5)
    assert medium_of(density, POINT) is medium_of(density, POINT)


def test_a_patient_of_air_has_a_medium_too():
    grid = Grid((0.0, 0.0, 0.0), (5.0, 5.0, 5.0), (8, 8, 8))
    medium = medium_of(Density(own_array(np.full(grid.shape, AIR_G_CM3, np.float32)), grid), POINT)
    assert fine_g_cm3(medium).max() < 0.01


def test_water_is_reported_as_it_is_and_bone_higher_as_water():
    soft, hard = lump(2.5), lump(2.5, density=1.85)
    at = (12, 12, 12)
    assert to_report(soft, soft.grid, POINT, "medium")[at] == pytest.approx(1.0, abs=1e-3)
    medium, as_water = (to_report(hard, hard.grid, POINT, to)[at] for to in ("medium", "water"))
    # Water over cortical bone: stopping-power ratio about 1.11 (NIST ESTAR, 1 to 2 MeV).
    assert as_water / medium == pytest.approx(1.11, abs=0.01)


def test_a_dose_grid_beside_the_image_is_refused():
    with pytest.raises(GeometryError, match="outside"):
        to_report(lump(2.5), Grid((500.0, 0.0, 0.0), (5.0, 5.0, 5.0), (4, 4, 4)), POINT, "medium")
