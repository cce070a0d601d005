"""Dose-volume curves and indices of solids whose answers have a closed form, on grids as they are used.

The forms: of a sphere of radius w in a dose D0 + g z the share with u = (D - D0)/(g w) or more is (2 - 3u + u^3)/4; of
a cylinder across (arccos u - u sqrt(1 - u^2))/pi; of a cone with the hot tip (1 - t)^3; of a shell about a point source
((k/D)^1.5 - r1^3)/(r2^3 - r1^3). Slices are 1 to 2 mm, the dose grid 1.5 mm, pixels are weighted by what is inside.
"""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.values import frozen_array
from engine.evaluation.dvh import Dvh, dvh_of
from engine.evaluation.indices import homogeneity, indices_of_volumes, target_indices
from engine.evaluation.live import LiveRequest, prepare
from engine.evaluation.radiobiology import geud
from engine.evaluation.samples import doses_at, samples
from tests.reference.table import held
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of

SUBJECT = "Dose-volume curves and indices"
SOURCE = "closed form of the solid in its dose"


def ball(radius, spacing=(1.0, 1.0, 2.0)):
    return coverage_of(grid_of((2 * radius + 8,) * 3, spacing), lambda x, y, z: x * x + y * y + z * z <= radius**2)


def cone():
    return coverage_of(grid_of((50, 50, 40), 1.0), lambda x, y, z: x * x + y * y <= (20 * (20 - z) / 40) ** 2)


def tube():
    return coverage_of(grid_of((50, 50, 40), (1, 1, 2)), lambda x, y, z: x * x + y * y + 0 * z <= 400)


def shell():
    return coverage_of(grid_of((88, 88, 88), 1.0), lambda x, y, z: np.abs(np.sqrt(x * x + y * y + z * z) - 30) <= 10)


def slab():
    return coverage_of(grid_of((20, 60, 20), (1, 1, 2)), lambda x, y, z: np.abs(y) + 0 * (x + z) <= 30)


# name: solid, dose, cm3, {percent: Gy}, mean, {Gy: share}, homogeneity
CASES = {
    "sphere of 25 mm, linear through the slices": (
        lambda: ball(25), lambda x, y, z: 50 + 0.4 * z, 65.4498,
        {98: 41.6808, 95: 42.7070, 50: 50, 5: 57.2930, 2: 58.3192}, 50, {55: 0.15625, 47.5: 0.683594}, None,
    ),
    "cylinder of 20 mm, linear across": (
        tube, lambda x, y, z: 50 + 0.5 * x, 50.2655,
        {98: 41.0466, 95: 41.9462, 50: 50, 5: 58.0538, 2: 58.9534}, 50, {}, None,
    ),
    "cone, tip hot": (
        cone, lambda x, y, z: 40 + z, 16.7552,
        {98: 20.2685, 95: 20.6781, 50: 28.2520, 5: 45.2639, 2: 49.1423}, 30, {}, None,
    ),
    "cone, tip cold": (
        cone, lambda x, y, z: 40 - z, 16.7552,
        {98: 30.8577, 95: 34.7361, 50: 51.7480, 5: 59.3219, 2: 59.7315}, 50, {}, None,
    ),
    "sphere of 20 mm, exponential": (
        lambda: ball(20), lambda x, y, z: 40 * np.exp(-0.05 * z), 33.5103,
        {98: 17.4084, 50: 40, 2: 91.9095}, 44.1455, {60: 0.212566}, None,
    ),
    "shell about a point source": (
        shell, lambda x, y, z: 20000 / np.maximum(x * x + y * y + z * z, 100), 234.5723,
        {98: 12.6480, 95: 12.8784, 50: 18.3440, 5: 40.9337, 2: 45.8177}, 21.4286, {20: 98.9509 / 234.5723}, None,
    ),
    "sphere of 20 mm, Gaussian": (
        lambda: ball(20, (1.0, 1.0, 1.0)), lambda x, y, z: 60 * np.exp(-(x * x + y * y + z * z) / 450), 33.5103,
        {98: 24.9618, 95: 25.4150, 50: 34.2737, 5: 53.1811, 2: 56.1963}, 36.1866, {}, None,
    ),
    "slab along the gradient": (
        slab, lambda x, y, z: 60 + 0.1 * y, 24.0, {98: 57.12, 50: 60, 2: 62.88}, 60, {}, 0.0960,
    ),
    "sphere of 20 mm, parabolic": (
        lambda: ball(20), lambda x, y, z: 60 * (1 - 0.1 * (x * x + y * y + z * z) / 400), 33.5103,
        {98: 54.0803, 95: 54.2017, 50: 56.2202, 2: 59.5579}, 56.4, {}, 0.097432,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_curves(name: str) -> None:
    solid, field, cm3, doses, mean, shares, even = CASES[name]
    dose = dose_of(field, 96.0, 1.5)
    where = samples(solid(), dose.grid)
    dvh = dvh_of(doses_at(dose.gy, where), where)
    known = {"source": SOURCE, "known": "exact"}
    held(SUBJECT, f"volume, {name}", dvh.volume_cm3, cm3, rel=0.01, unit=" cm³", **known)
    wanted = np.array([*doses.values(), mean])
    held(
        SUBJECT, f"doses, {name}", [*(dvh.d_gy(v) for v in doses), dvh.mean_gy], wanted,
        tol=np.maximum(0.1, 0.01 * wanted), unit=" Gy", at=[*(f"D{v}%" for v in doses), "mean"], **known,
    )  # fmt: skip
    if shares:
        found = [100 * dvh.v_share(gy) for gy in shares]
        at = [f"V{gy}Gy" for gy in shares]
        held(SUBJECT, f"shares, {name}", found, [100 * s for s in shares.values()], tol=0.5, unit=" %", at=at, **known)
    if even is not None:
        # The steps of the slabs at the poles make D98 of a sphere 0.1 Gy low, which is 1.5 % of this small difference.
        held(SUBJECT, f"homogeneity, {name}", homogeneity(dvh), even, tol=0.002, digits=4, **known)


def test_differential_curve() -> None:
    dose = dose_of(lambda x, y, z: 50 + 0.4 * z, 80, 2)
    where = samples(ball(25, (1.0, 1.0, 1.0)), dose.grid)
    gy, density = dvh_of(doses_at(dose.gy, where), where).differential(60)
    u = (gy - 50) / 10
    inside = np.abs(u) < 0.9
    held(
        SUBJECT, "differential curve, sphere in a linear gradient", density[inside], (7.5 * (1 - u**2))[inside],
        tol=0.15, unit=" %/Gy", at=[f"{g:.1f} Gy" for g in gy[inside]], source="dv/du = 3(1 - u²)/4", known="exact",
    )  # fmt: skip


def histogram(doses, below, mean) -> Dvh:
    return Dvh(frozen_array(np.array(doses, float)), frozen_array(np.array(below, float)), 1.0, 1.0, mean)


@pytest.mark.parametrize(
    ("name", "dvh", "exponents", "wanted"),
    [
        (
            "uniform spread 0 to 60 Gy", histogram([0, 60], [0, 1], 30),
            (1, 2, 4, 8, 12), (30, 34.6410, 40.1244, 45.5901, 48.4532),
        ),
        (
            "25 % at 30 Gy, 75 % at 10 Gy", histogram([10, 10, 30, 30], [0, 0.75, 0.75, 1], 15),
            (1, 2, 4, 12), (15, 17.3205, 21.4070, 26.7270),
        ),
        ("uniform spread 50 to 60 Gy", histogram([50, 60], [0, 1], 55), (-1,), (54.8481,)),
    ],
)  # fmt: skip
def test_generalised_mean(name, dvh, exponents, wanted) -> None:
    held(
        SUBJECT, f"gEUD, {name}", [geud(dvh, a) for a in exponents], wanted, tol=1e-4, unit=" Gy", digits=4,
        at=[f"a = {a}" for a in exponents], source="mean of D^a to the power of 1/a", known="exact",
    )  # fmt: skip


def sphere_cm3(radius_mm: float) -> float:
    return 4 / 3 * np.pi * radius_mm**3 / 1000


# What two balls of 20 mm share whose centres are 4 mm apart: the lens pi (2r - d)^2 (d^2 + 4 d r) / (12 d).
LENS_CM3 = np.pi * 36**2 * (16 + 320) / 48 / 1000


@pytest.mark.parametrize(
    ("name", "volumes", "wanted"),
    [
        ("target 20 mm, isodose 22 mm, half 30 mm", tuple(map(sphere_cm3, (20, 22, 20, 30))), {
            "conformity_rtog": 1.331, "coverage": 1, "conformity_paddick": 0.751315, "gradient": 2.535687, "r50": 3.375}),
        ("target 20 mm, isodose 18 mm", tuple(map(sphere_cm3, (20, 18, 18, 25))), {
            "conformity_rtog": 0.729, "coverage": 0.729, "selectivity": 1, "conformity_paddick": 0.729}),
        ("target 20 mm, isodose 20 mm, 4 mm beside", (sphere_cm3(20), sphere_cm3(20), LENS_CM3, sphere_cm3(30)), {
            "conformity_rtog": 1, "coverage": 0.8505, "conformity_paddick": 0.723350}),
    ],
)  # fmt: skip
def test_spheres(name, volumes, wanted) -> None:
    found = indices_of_volumes(*volumes)
    held(
        SUBJECT, f"indices by formula, {name}", [found[k] or np.nan for k in wanted], list(wanted.values()),
        tol=2e-5, digits=5, at=list(wanted), source="volumes of spheres", known="exact",
    )  # fmt: skip


def indices_of(field):
    target, dose = ball(20, (1.0, 1.0, 1.0)), dose_of(field, 80, 2)
    dvh = prepare(LiveRequest((dose,), (as_volume(target, "ptv", "PTV"),))).evaluate((0.01,), "None", None).dvhs["ptv"]
    return target_indices(dvh, dose, None, 60.0)


def test_indices_read_from_a_dose() -> None:
    known = {"source": "volumes of spheres", "known": "exact"}
    found = indices_of(lambda x, y, z: np.maximum(60 - 30 / 8 * (np.sqrt(x * x + y * y + z * z) - 22), 0))
    got = [found.conformity_rtog, found.coverage, found.conformity_paddick, found.gradient, found.r50]
    names = ["RTOG", "coverage", "Paddick", "gradient", "R50"]
    wanted = [1.331, 1, 0.751315, 2.535687, 3.375]
    held(SUBJECT, "indices of a dose, isodose around the target", got, wanted, rel=0.01, at=names, **known)
    found = indices_of(lambda x, y, z: np.maximum(100 - 2 * np.sqrt((x - 4) ** 2 + y * y + z * z), 0))
    got = [found.conformity_rtog, found.coverage, found.conformity_paddick]
    held(SUBJECT, "indices of a dose, isodose 4 mm beside", got, [1, 0.8505, 0.723350], rel=0.01, at=names[:3], **known)
