"""Closed forms of gamma (derived from the definition of Low et al. 1998)."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import GeometryError, InputError
from engine.evaluation.gamma import compare
from tests.support.shapes import dose_of


def inner(result, rim: int = 4) -> np.ndarray:
    return result.gamma[rim:-rim, rim:-rim, rim:-rim]


def test_the_same_dose_gives_zero() -> None:
    dose = dose_of(lambda x, y, z: 50 + x + 0.5 * y - 0.2 * z, 40, 2)
    result = compare(dose, dose)
    assert result.pass_percent == 100
    assert np.nanmax(result.gamma) == pytest.approx(0, abs=1e-5)
    assert result.max_difference_gy == pytest.approx(0, abs=1e-4)


def test_offset_of_the_criterion_gives_one() -> None:
    flat, more = dose_of(lambda x, y, z: 50 + 0 * x, 30, 2), dose_of(lambda x, y, z: 51.5 + 0 * x, 30, 2)
    result = compare(flat, more, 3, 3)
    assert result.gamma == pytest.approx(1, abs=1e-4)
    assert result.pass_percent == 100
    assert result.max_difference_gy == pytest.approx(1.5, abs=1e-4)
    assert compare(flat, dose_of(lambda x, y, z: 51.6 + 0 * x, 30, 2), 3, 3).pass_percent == 0


@pytest.mark.parametrize("direction", [(1, 0, 0), (0, 0, 1), (0.6, 0.8, 0), (1 / 3, 2 / 3, 2 / 3)])
@pytest.mark.parametrize(("shift", "steep"), [(1.0, 5.0), (2.0, 1.0), (0.5, 2.0)])
def test_shift_along_a_straight_gradient(direction: tuple[float, float, float], shift: float, steep: float) -> None:
    """s G/dD / sqrt(1 + (G DTA/dD)^2): 1 mm, 5 %/mm, 3 %/3 mm gives 0.327."""
    a, b, c = direction

    def field(offset: float):
        return lambda x, y, z: 300 + steep * (a * x + b * y + c * z - offset)

    reference, evaluated = dose_of(field(0), 40, 2), dose_of(field(shift), 40, 2)
    percent = 100 * 3 / float(reference.gy.max())
    result = compare(reference, evaluated, percent, 3.0, 0)
    wanted = shift * steep / 3 / np.sqrt(1 + steep**2)
    assert inner(result) == pytest.approx(wanted, abs=0.001)
    if (shift, steep) == (1.0, 5.0):
        assert wanted == pytest.approx(0.327, abs=0.0005)


def test_shifted_step_edge_gives_shift_over_distance() -> None:
    """A step between two voxels, seen half a voxel away from the interpolated edge."""
    spacing = 1.0

    def field(edge: float):
        return lambda x, y, z: np.where(x < edge, 100.0, 10.0) + 0 * y

    reference, evaluated = dose_of(field(0), 24, spacing), dose_of(field(2), 24, spacing)
    result = compare(reference, evaluated, 3, 3, 0)
    row = result.gamma[12, 12]
    x = reference.grid.x_mm
    # The first low voxel of the reference finds its dose where the evaluated ramp ends, 2 mm on.
    first_low = int(np.argmax(x > 0))
    assert row[first_low] == pytest.approx(2 / 3, abs=0.01)
    assert row[:first_low] == pytest.approx(0, abs=1e-5)
    assert row[-4:] == pytest.approx(0, abs=1e-5)


def test_local_is_stricter_in_the_tail_and_threshold_leaves_it_out() -> None:
    reference = dose_of(lambda x, y, z: np.where(x < 0, 100.0, 20.0) + 0 * y, 24, 2)
    evaluated = dose_of(lambda x, y, z: np.where(x < 0, 100.0, 21.0) + 0 * y, 24, 2)
    assert compare(reference, evaluated, 2, 2, 10).pass_percent == 100
    assert compare(reference, evaluated, 2, 2, 10, local=True).pass_percent < 70
    assert compare(reference, evaluated, 2, 2, 50, local=True).judged == reference.gy.size / 2


def test_other_grids_and_voxels_outside() -> None:
    reference = dose_of(lambda x, y, z: 40 + 0.5 * x + 0 * y, 40, 2)
    smaller = dose_of(lambda x, y, z: 40 + 0.5 * x + 0 * y, 20, 2.5)
    result = compare(reference, smaller)
    assert result.outside > 0
    assert result.judged + result.outside == reference.gy.size
    assert result.gamma_mean < 0.35


def test_the_evaluated_dose_is_not_continued_beyond_its_grid() -> None:
    """A reference voxel at the rim whose dose lies only beyond the evaluated grid finds no agreement there."""
    reference = dose_of(lambda x, y, z: 100 + 2 * x + 0 * y, 20, 2)
    evaluated = dose_of(lambda x, y, z: 100 + 2 * (x - 1.5) + 0 * y, 20, 2)
    row = compare(reference, evaluated, 1, 3, 0).gamma[5, 5]
    allowed = 0.01 * float(reference.gy.max())
    straight = 1.5 * 2 / allowed / np.sqrt(1 + (2 * 3 / allowed) ** 2)
    assert row[4] == pytest.approx(straight, abs=0.001)
    # Interpolation holds the last value over the half voxel to the face; nothing lies beyond.
    assert row[-1] > straight + 0.3


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_against_a_search_of_every_place_near(seed: int) -> None:
    """Bent doses on different grids: every point within the ceiling's reach on a lattice of 0.1 mm, trilinear."""
    from scipy.ndimage import map_coordinates

    rng = np.random.default_rng(seed)
    a, b, c = rng.uniform(0.05, 0.2, 3)

    def field(shift: float, scale: float):
        return lambda x, y, z: scale * (60 + 25 * np.sin(a * (x - shift)) * np.cos(b * y) + 10 * np.sin(c * z + 1))

    reference, evaluated = dose_of(field(0, 1), 20, 2.5), dose_of(field(1.2, 1.025), 45, 1.5)
    result = compare(reference, evaluated, 2, 2, 0)
    step = np.arange(-4.0, 4.01, 0.1)
    offsets = np.stack(np.meshgrid(step, step, step, indexing="ij"), axis=-1).reshape(-1, 3)
    offsets = offsets[np.linalg.norm(offsets, axis=1) <= 4]
    allowed = 0.02 * float(reference.gy.max())
    close = offsets[np.abs(offsets).max(axis=1) <= 0.5001] / 5
    for k, r, i in rng.integers(0, 8, (12, 3)):
        here = reference.grid.point((float(k), float(r), float(i)))

        def scores(at_mm, here=here, wanted=float(reference.gy[k, r, i])):
            at = evaluated.grid.index(here + at_mm)
            dose = map_coordinates(evaluated.gy.astype(np.float64), at.T, order=1)
            return (at_mm**2).sum(axis=1) / 4 + ((dose - wanted) / allowed) ** 2

        coarse = scores(offsets)
        best = min(coarse.min(), *(scores(offsets[n] + close).min() for n in np.argsort(coarse)[:20]))
        assert result.gamma[k, r, i] == pytest.approx(min(2.0, float(np.sqrt(best))), abs=0.01)


def test_rim_voxels_are_counted() -> None:
    dose = dose_of(lambda x, y, z: 50 + 0 * x, 20, 2)
    result = compare(dose, dose, 2, 2)
    assert result.judged == 1000
    assert result.near_edge == 1000 - 8**3
    assert result.outside == 0


def test_place_and_sign_of_the_largest_difference() -> None:
    reference = dose_of(lambda x, y, z: 50 + 0 * x, 20, 2)
    evaluated = dose_of(lambda x, y, z: np.where((x == 3) & (y == -5) & (z == 7), 40.0, 50.0), 20, 2)
    result = compare(reference, evaluated)
    assert result.max_difference_gy == pytest.approx(-10)
    assert result.max_difference_at_mm == pytest.approx((3, -5, 7))


@pytest.mark.parametrize("shift", [0.4, 1.0, 1.7])
def test_the_reference_is_not_resampled_whatever_the_grids(shift: float) -> None:
    """A straight gradient on 1.3 mm voxels against the same shifted on 3.1 mm: linear, so the closed form holds."""
    reference = dose_of(lambda x, y, z: 200 + 3 * x + 0 * y, 26, 1.3)
    evaluated = dose_of(lambda x, y, z: 200 + 3 * (x - shift) + 0 * y, 62, 3.1)
    result = compare(reference, evaluated, 2, 2, 0)
    allowed = 0.02 * float(reference.gy.max())
    assert result.gamma == pytest.approx(shift * 3 / allowed / np.sqrt(1 + (3 * 2 / allowed) ** 2), abs=0.001)


def test_refusals() -> None:
    dose = dose_of(lambda x, y, z: 1 + 0 * x, 8, 2)
    for wrong in ((0, 2, 10), (2, -1, 10), (2, 2, 100), (float("nan"), 2, 10)):
        with pytest.raises(InputError, match="gamma with") as told:
            compare(dose, dose, *wrong)
        assert "above 0" in str(told.value)
    with pytest.raises(GeometryError, match="zero"):
        compare(dose_of(lambda x, y, z: 0 * x, 8, 2), dose)
