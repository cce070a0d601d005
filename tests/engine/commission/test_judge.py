"""Limits by region: what passes, what fails, and where the regions lie."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import erf

from engine.base.values import frozen_array
from engine.commission.curves import Curve
from engine.commission.judge import LIMITS, judge, scale_of

FINE = np.arange(-120.0, 120.5, 0.5)
DEPTH = np.arange(0.0, 320.0, 0.5)


def shape(x, half=55.0, sigma=3.0, tail=3.0):
    return tail + (100 - tail) * (erf((half - np.abs(x)) / (sigma * np.sqrt(2))) + 1) / 2


def pdd(depth, mu=0.0045, top=15.0):
    return 100 * (1 - 0.6 * np.exp(-depth / 4.0)) * np.exp(-mu * (depth - top))


def profile(values=shape, x=None):
    x = np.arange(-100.0, 101.0, 2.0) if x is None else x
    return Curve("profile", frozen_array(x), frozen_array(values(x)), (100.0, 100.0), 1000.0, 100.0, "x", name="p")


def depth_dose(values=pdd):
    x = np.arange(0.0, 301.0, 3.0)
    return Curve("depth-dose", frozen_array(x), frozen_array(values(x)), (100.0, 100.0), 1000.0, name="d")


def failed(judged, region):
    good, count = judged.count(region)
    return count - good


@pytest.mark.parametrize("scale", [1.0, 7e-4, 250.0])
def test_the_same_curve_passes_everywhere_on_any_scale(scale):
    for curve, x, y in ((profile(), FINE, shape(FINE)), (depth_dose(), DEPTH, pdd(DEPTH))):
        judged = judge(curve, x, scale * y)
        assert judged.passed.all()
        assert np.abs(np.asarray(judged.model) / np.asarray(curve.value) - 1).max() < 0.01


def test_regions_of_a_profile():
    judged = judge(profile(), FINE, shape(FINE))
    x = np.asarray(judged.curve.position_mm)
    names = [list(LIMITS)[r] if r >= 0 else "" for r in judged.region]
    assert names[len(x) // 2] == "high dose"
    assert names[int(np.argmin(np.abs(x - 55)))] == "penumbra"
    assert names[int(np.argmin(np.abs(x - 80)))] == "low-dose tail"


def test_beyond_50_mm_from_the_edge_no_limit_applies():
    x = np.arange(-118.0, 119.0, 2.0)
    judged = judge(profile(x=x), FINE, shape(FINE))
    assert list(np.asarray(x)[judged.region == -1][-1:]) == [118.0]


def test_a_horn_three_percent_high_fails_only_in_the_high_dose():
    judged = judge(profile(), FINE, shape(FINE) * (1 + 0.03 * np.clip((np.abs(FINE) - 33) / 5, 0, 1)))
    assert failed(judged, "high dose") > 3
    assert failed(judged, "penumbra") == failed(judged, "low-dose tail") == 0


@pytest.mark.parametrize(("wider", "fails"), [(1.5, False), (2.6, True)])
def test_an_edge_is_judged_by_distance(wider, fails):
    judged = judge(profile(), FINE, shape(FINE, half=55 + wider))
    assert (failed(judged, "penumbra") > 0) == fails
    steep = np.abs(np.abs(np.asarray(judged.curve.position_mm)) - 55) < 2
    assert np.abs(np.asarray(judged.distance_mm)[steep]) == pytest.approx(wider, abs=0.1)


@pytest.mark.parametrize(("tail", "fails"), [(5.5, False), (6.5, True)])
def test_the_tail_is_judged_by_the_axis(tail, fails):
    judged = judge(profile(), FINE, shape(FINE, tail=tail))
    assert (failed(judged, "low-dose tail") > 0) == fails


def test_a_beam_too_soft_fails_beyond_the_maximum():
    assert failed(judge(depth_dose(), DEPTH, pdd(DEPTH, 0.0046)), "beyond the maximum") == 0
    assert failed(judge(depth_dose(), DEPTH, pdd(DEPTH, 0.0052)), "beyond the maximum") > 20


def test_the_build_up_passes_by_percent_or_by_distance():
    moved = judge(depth_dose(), DEPTH, pdd(np.maximum(DEPTH - 1.5, 0.0)))
    assert failed(moved, "build-up") <= 1  # the surface point itself has nowhere to move to
    wrong = judge(depth_dose(), DEPTH, pdd(np.maximum(DEPTH - 4.0, 0.0)))
    assert failed(wrong, "build-up") > 1


def test_output_factors():
    sides = np.array([40.0, 100.0, 200.0])
    curve = Curve("output", frozen_array(sides), frozen_array(np.array([0.93, 1.0, 1.06])), (0.0, 0.0), 900.0, 100.0)
    judged = judge(curve, sides, np.array([0.93, 1.0, 1.06]) * 5)
    assert judged.count("output factor") == (3, 3)
    assert judge(curve, sides, np.array([0.98, 1.0, 1.06])).count("output factor")[0] < 3


def test_scale_follows_the_plateau_not_the_tail():
    assert scale_of(profile(), 2 * shape(np.asarray(profile().position_mm), tail=30)) == pytest.approx(0.5, rel=1e-3)


def test_the_edge_of_a_peaked_profile_lies_where_it_falls_fastest():
    def peaked(x):
        return 100 * np.exp(-np.abs(x) / 70) * (erf((55 - np.abs(x)) / 4) + 1) / 2 + 2

    judged = judge(profile(peaked), FINE, peaked(FINE))
    names = [list(LIMITS)[r] if r >= 0 else "" for r in judged.region]
    x = np.asarray(judged.curve.position_mm)
    assert names[int(np.argmin(np.abs(x - 54)))] == "penumbra"
    assert names[int(np.argmin(np.abs(x - 76)))] == "low-dose tail"
    assert judged.passed.all()
