from dataclasses import replace

import numpy as np
import pytest
from scipy.ndimage import map_coordinates

from engine.base.errors import GeometryError
from engine.beams.beam import Aperture
from engine.beams.fluence import fluence_map
from engine.beams.machine_file import load_machine
from engine.dose.attenuation import mu_rho_no_coherent_cm2_g
from engine.dose.fan import NOWHERE, window_of
from engine.dose.sight import sight_of
from engine.dose.source import release
from engine.dose.terma import released, trace
from engine.space.frames import source_mm
from tests.support.dose import beam, slabs, water

POINT = load_machine("point-6")
ONE_ENERGY = POINT.but(spectrum_mev=((1.24, 1.26),), spectrum_fluence=(1.0,))
ANGLES = [(0.0, 0.0), (37.0, 0.0), (90.0, 20.0), (211.0, 330.0)]
NOTHING = np.empty(0)


def release_of(box, one, machine=ONE_ENERGY, window=NOWHERE, share=0.5, curve=NOTHING, change=lambda field: field):
    sight = sight_of(one, "HFS", 1000.0)
    table = release(machine, lambda e: np.full_like(e, share))
    depths = trace(box.g_cm3, box.grid, box.grid, sight)
    field = change(fluence_map(one.aperture, machine, 0.7))
    return released(box.g_cm3, box.grid, depths, sight, table, field, window, curve)


@pytest.mark.parametrize(("gantry", "couch"), ANGLES)
def test_traced_depth_is_the_length_in_a_box_of_water(gantry, couch):
    box = water((160.0, 160.0, 160.0), 4.0)
    one = beam(60, (5.0, 80.0, 3.0), gantry, 30.0, couch)
    sight = sight_of(one, "HFS", 1000.0)
    rays = trace(box.g_cm3, box.grid, box.grid, sight)
    source = source_mm(one.isocentre_mm, "HFS", gantry, couch, 1000.0)
    lo, hi = (np.array(v) for v in box.grid.bounds_mm)
    rng = np.random.default_rng(1)
    for point in lo + 10 + rng.random((40, 3)) * (hi - lo - 20):
        b = sight.to_device @ (point - one.isocentre_mm)
        t = 1000.0 - b[2]
        way = point - source
        with np.errstate(divide="ignore"):
            entry = np.max(np.minimum((lo - source) / way, (hi - source) / way))
        truth = (1 - entry) * np.linalg.norm(way) / 10
        at = (np.array((b[1] / t, b[0] / t, t)) - np.array(rays.first)[[1, 0, 2]]) / np.array(rays.step)[[1, 0, 2]]
        assert map_coordinates(rays.depth_g_cm2, at[:, None], order=1)[0] == pytest.approx(truth, abs=0.12)


def test_one_energy_releases_exp_over_square():
    # T = mu exp(-mu d) (SAD / r)^2 for a point source of one energy: closed form.
    box = water((120.0, 200.0, 120.0), 4.0)
    out = release_of(box, beam(100))
    mu = float(mu_rho_no_coherent_cm2_g("water", 1.25))
    for x, depth in ((2.0, 22.0), (2.0, 182.0), (30.0, 102.0)):
        i, j = round((x - box.grid.origin_mm[0]) / 4), round((depth - box.grid.origin_mm[1]) / 4)
        k = box.grid.shape[0] // 2
        point = box.grid.point((k, j, i))
        r = np.linalg.norm(point - (0, -1000, 0))
        secant = r / (1000 + point[1])
        truth = mu * np.exp(-mu * point[1] * secant / 10) * (1000 / (1000 + point[1])) ** 2 * secant
        assert (out.primary + out.scatter)[k, j, i] == pytest.approx(truth, rel=1.5e-3)
        assert out.primary[k, j, i] == pytest.approx(out.scatter[k, j, i])


def test_what_the_fan_follows_is_not_released_here():
    box = water((200.0, 80.0, 200.0), 4.0)
    one = beam(40)
    window = window_of([one.aperture])
    out = release_of(box, one, ONE_ENERGY.but(jaw_transmission=0.02), window.numbers())
    middle = box.grid.shape[0] // 2
    assert out.primary[middle, 5, middle] == 0.0
    assert out.primary[middle, 5, 0] > 0
    assert out.scatter[middle, 5, middle] > out.scatter[middle, 5, 0] > 0


def test_lung_attenuates_by_its_mass():
    box = slabs([(48, 1.0), (100, 0.25)], (80.0, 240.0, 80.0), 4.0)
    rays = trace(box.g_cm3, box.grid, box.grid, sight_of(beam(60), "HFS", 1000.0))
    at = [round(-f / s) for f, s in zip(rays.first[:2], rays.step[:2], strict=True)]
    end = round((1000.0 + 200.0 - rays.first[2]) / rays.step[2])
    assert rays.depth_g_cm2[at[1], at[0], end] == pytest.approx(4.8 + 2.5 + 5.2, abs=0.05)


def test_the_collimator_turns_the_field_the_iec_way():
    box = water((240.0, 40.0, 240.0), 8.0)
    out = release_of(box, beam(Aperture((20.0, 80.0), (-10.0, 10.0)), collimator_deg=90.0), POINT, share=0.0)
    # Collimator +X lies along gantry +Y at 90 degrees: towards the head of a head-first patient.
    k, _, i = np.unravel_index(int(np.argmax(out.scatter)), box.grid.shape)
    assert 20 < box.grid.z_mm[k] < 84
    assert abs(box.grid.x_mm[i]) < 12


def test_a_source_inside_the_patient_is_refused():
    box = water((200.0, 200.0, 200.0), 8.0)
    with pytest.raises(GeometryError, match="source"):
        trace(box.g_cm3, box.grid, box.grid, sight_of(beam(100, (0.0, 1050.0, 0.0)), "HFS", 1000.0))


def test_hardening_counts_as_water_ahead_of_the_voxel():
    box = water((120.0, 200.0, 120.0), 4.0)
    plain = release_of(box, beam(100), POINT).primary
    hard = lambda field: replace(field, hardening_g_cm2=np.full_like(field.fluence, 4.0))  # noqa: E731
    behind = release_of(box, beam(100), POINT, change=hard).primary
    k, i = box.grid.shape[0] // 2, box.grid.shape[2] // 2
    # 4 cm of water ahead at the same place: the release of a voxel 4 cm (10 voxels) deeper, nearer to the source.
    inverse_square = ((1000 + box.grid.y_mm[10:]) / (1000 + box.grid.y_mm[:-10])) ** 2
    assert behind[k, :-10, i] == pytest.approx(plain[k, 10:, i] * inverse_square, rel=1e-3)


def test_a_curve_of_contaminants_is_read_by_depth_and_falls_with_distance():
    box = water((80.0, 60.0, 80.0), 4.0)
    curve = np.concatenate([[0.1, 200.0], np.linspace(1.0, 0.0, 21)])
    even = lambda field: replace(field, contamination=np.ones_like(field.fluence))  # noqa: E731
    got = release_of(box, beam(60), POINT, curve=curve, change=even).contamination
    k, i = box.grid.shape[0] // 2, box.grid.shape[2] // 2
    depth = box.grid.y_mm / 10
    wanted = np.clip(1 - depth / 2, 0, None) * (800 / (800 + box.grid.y_mm)) ** 2
    assert got[k, :, i] == pytest.approx(wanted, abs=2e-3)
    assert np.all(got[k, depth > 2.05, i] == 0)
    assert release_of(box, beam(60), POINT).contamination.size == 0
