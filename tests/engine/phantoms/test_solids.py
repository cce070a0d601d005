"""Distance fields against closed forms, and the laws of noise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.phantoms.solids import Loft, noise, rotation, superellipsoid, tube, tubes_distance


def axes(n: int = 41, half: float = 40.0) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    line = np.linspace(-half, half, n, dtype=np.float32)
    return line.reshape(1, 1, -1), line.reshape(1, -1, 1), line.reshape(-1, 1, 1)


def test_ball_distance_is_exact() -> None:
    x, y, z = axes()
    true = np.sqrt(x**2 + y**2 + z**2) - 20
    assert np.abs(superellipsoid(x, y, z, (20, 20, 20)) - np.maximum(true, -20)).max() < 0.05


@given(st.floats(8, 30), st.floats(8, 30), st.floats(8, 30), st.floats(2, 4))
def test_superellipsoid_vanishes_on_its_surface(a: float, b: float, c: float, power: float) -> None:
    t = np.linspace(0.2, 1.3, 5)
    u = np.stack((np.cos(t), np.sin(t) * 0.7, np.sin(t) * 0.714), axis=-1)
    u /= (np.abs(u) ** power).sum(axis=-1, keepdims=True) ** (1 / power)
    p = (u * (a, b, c)).astype(np.float32)
    assert np.abs(superellipsoid(p[:, 0], p[:, 1], p[:, 2], (a, b, c), power)).max() < 1e-3


def test_capsule_distance_is_exact_within_reach() -> None:
    x, y, z = axes()
    got = tubes_distance([tube(((-10, 0, 0), (10, 0, 0)), 6.0, 1)], x, y, z, reach_mm=10.0)
    true = np.hypot(np.hypot(np.maximum(np.abs(x) - 10, 0), y), z) - 6
    near = true < 9
    assert np.abs(got - true)[near].max() < 1e-4
    assert (got[true > 14] > 9).all()


def test_stretched_tube_is_wider_along_the_stretch() -> None:
    x, y, z = axes()
    got = tubes_distance([tube(((-30, 0, 0), (30, 0, 0)), 6.0, 1)], x, y, z, (1, 1, 2)) < 0
    assert got[:, 20, 20].sum() == pytest.approx(2 * got[20, :, 20].sum(), abs=1)


def test_tube_passes_through_its_points_with_its_radii() -> None:
    points = ((0, 0, 0), (10, 4, 0), (20, 0, 6))
    made = tube(points, (2, 5, 3), 6)
    for p, r in zip(points, (2, 5, 3)):
        at = np.linalg.norm(made.points_mm - p, axis=1)
        assert at.min() < 1e-9
        assert made.radius_mm[at.argmin()] == pytest.approx(r)


def test_loft_of_circles_is_a_cylinder_and_its_surface_lies_on_it() -> None:
    x, y, z = axes()
    loft = Loft.of((-30, 30), 0.0, 0.0, (15, 15), (15, 15))
    true = np.maximum(np.hypot(x, y) - 15, np.abs(z) - 30)
    assert np.abs(loft.distance(x, y, z) - np.maximum(true, -15)).max() < 0.05
    for angle, axis in ((0, (0, 1)), (90, (1, 0)), (180, (0, -1)), (-90, (-1, 0))):
        p = loft.surface((angle,), (5.0,), 2.0)[0]
        assert p == pytest.approx((17 * axis[0], 17 * axis[1], 5.0), abs=1e-9)


@given(st.floats(-180, 180), st.floats(1.5, 4))
def test_loft_surface_has_no_distance(angle: float, power: float) -> None:
    loft = Loft.of((-30, 30), (1, 4), (0, -3), (25, 15), (12, 18), power, (20, 10), (14, 9))
    p = loft.surface((angle,), (7.0,))[0].astype(np.float32).reshape(3, 1, 1, 1)
    assert abs(loft.distance(p[0], p[1], p[2]).item()) < 0.02


def test_noise_is_the_same_wherever_it_is_asked_for() -> None:
    x, y, z = axes(21)
    whole = noise(x, y, z, 12.0, 3)
    part = noise(x[:, :, 5:9], y[:, 2:5], z[7:], 12.0, 3)
    assert np.abs(whole[7:, 2:5, 5:9] - part).max() < 1e-5
    assert np.abs(whole - noise(x, y, z, 12.0, 4)).max() > 0.5


def test_noise_has_unit_spread_and_is_smooth() -> None:
    x, y, z = axes(81, 200.0)
    values = noise(x, y, z, 15.0, 9)
    assert values.std() == pytest.approx(1.0, abs=0.1)
    assert abs(values.mean()) < 0.1
    x, y, z = axes(81, 40.0)
    assert np.abs(np.diff(noise(x, y, z, 15.0, 9), axis=2)).max() < 0.6, "steps of one millimetre are small"


def test_rotation_keeps_lengths_and_turns_right_handed() -> None:
    matrix = rotation(20, -35, 70)
    assert np.abs(matrix @ matrix.T - np.eye(3)).max() < 1e-6
    assert rotation(0, 0, 90) @ np.array((1, 0, 0)) == pytest.approx((0, 1, 0), abs=1e-6)
