from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import Cancelled, GeometryError, InputError
from engine.dose.dose import weighted_sum
from engine.evaluation.dvh import dvh_of
from engine.evaluation.goals import Goal
from engine.evaluation.live import NOT_JUDGED, LiveRequest, prepare, warm_up
from engine.evaluation.samples import doses_at, samples
from engine.space.point import NamedPoint
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of

IMAGE = grid_of((60, 60, 60), (1.0, 1.0, 2.0))
PTV = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + y * y + z * z <= 225), "ptv", "PTV")
BODY = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + y * y <= 784), "body", "EXTERNAL")
CORD = as_volume(coverage_of(IMAGE, lambda x, y, z: x * x + (y - 22) ** 2 <= 16), "cord")
EMPTY = as_volume(Coverage(IMAGE), "empty")
DOSES = (
    dose_of(lambda x, y, z: 0.01 * np.exp(-0.01 * (y + 30)) / (1 + np.exp((np.abs(x) - 18) / 2)), 64, 2, "a"),
    dose_of(lambda x, y, z: 0.01 * np.exp(-0.01 * (x + 30)) / (1 + np.exp((np.abs(y) - 18) / 2)), 64, 2, "b"),
    dose_of(lambda x, y, z: 0.008 + 0 * x, 64, 2, "c"),
)
REQUEST = LiveRequest(DOSES, (PTV, BODY, CORD, EMPTY))
BASIS = prepare(REQUEST)


@dataclass(frozen=True)
class Wish:
    dose_gy: float = 60.0
    fractions: int = 30
    volume_key: str = "ptv"
    point: NamedPoint | None = None


THERE = NamedPoint("Marker", (4.0, -7.5, 11.0))
WISH = Wish(point=THERE)
CENTRE = (0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("normalisation", "reached"),
    [
        ("D95%", lambda p: p.dvhs["ptv"].d_gy(95)),
        ("D50%", lambda p: p.dvhs["ptv"].d_gy(50)),
        ("D98%", lambda p: p.dvhs["ptv"].d_gy(98)),
        ("D2%", lambda p: p.dvhs["ptv"].d_gy(2)),
        ("Max", lambda p: p.dvhs["ptv"].max_gy),
        ("Mean", lambda p: p.dvhs["ptv"].mean_gy),
        ("Isocentre", lambda p: sum(p.point(CENTRE))),
        ("Point", lambda p: sum(p.point(THERE.place_mm))),
    ],
)
def test_normalisation_meets_the_prescription(normalisation: str, reached) -> None:
    plan = BASIS.evaluate((1, 0.5, 0.2), normalisation, WISH, CENTRE)
    assert reached(plan) == pytest.approx(60, rel=1e-6)
    assert plan.mu == pytest.approx([w * plan.scale for w in (1, 0.5, 0.2)])
    assert plan.factors == pytest.approx([30 * m for m in plan.mu])
    assert plan.reason == ""


def test_dose_along_a_line_is_that_of_its_points() -> None:
    plan = BASIS.evaluate((1, 0.5, 0.2), "D50%", WISH, CENTRE)
    start, end = (-10.0, 4.0, 3.0), (14.0, -8.0, 9.0)
    found = plan.along(start, end, 5)
    for gy, t in zip(found, np.linspace(0, 1, 5), strict=True):
        place = tuple(a + t * (b - a) for a, b in zip(start, end, strict=True))
        assert gy == pytest.approx(sum(plan.point(place)), rel=1e-5)
    assert np.isnan(plan.along(start, (1e4, 0.0, 0.0), 3)[-1])


def test_without_normalisation_a_weight_is_a_hundred_monitor_units() -> None:
    plan = BASIS.evaluate((1, 0.5, 0), "None", WISH)
    assert plan.mu == (100, 50, 0)
    assert plan.factors == (3000, 1500, 0)
    alone = BASIS.evaluate((1, 0.5, 0), "None", None)
    assert alone.factors == (100, 50, 0)
    assert alone.prescribed_gy is None


@settings(max_examples=20, deadline=None)
@given(st.lists(st.floats(0.01, 10), min_size=3, max_size=3), st.floats(0.1, 10))
def test_only_ratios_of_weights_matter(weights: list[float], factor: float) -> None:
    one, other = (BASIS.evaluate(w, "D95%", WISH) for w in (weights, [factor * w for w in weights]))
    assert one.mu == pytest.approx(other.mu, rel=1e-5)
    assert one.dvhs["cord"].max_gy == pytest.approx(other.dvhs["cord"].max_gy, rel=1e-5)


def test_live_numbers_are_those_of_the_summed_dose() -> None:
    plan = BASIS.evaluate((1, 0.7, 0.3), "D95%", WISH)
    total = weighted_sum(DOSES, plan.factors)
    assert plan.dose().gy == pytest.approx(total.gy, rel=1e-5)
    for volume in (PTV, CORD):
        where = samples(volume.coverage, total.grid)
        out = doses_at(total.gy, where)
        direct, live = dvh_of(out, where), plan.dvhs[volume.key]
        for v in (98, 95, 50, 2):
            assert live.d_gy(v) == pytest.approx(direct.d_gy(v), rel=1e-4)
        assert live.mean_gy == pytest.approx(direct.mean_gy, rel=1e-5)


def test_planes_are_cuts_of_the_sum() -> None:
    plan = BASIS.evaluate((1, 0.7, 0.3), "D95%", WISH)
    dose, grid = plan.dose(), plan.dose().grid
    k, r, c = 10, 12, 20
    cuts = {
        "z": (grid.z_mm[k], dose.gy[k], grid.y_mm, grid.x_mm),
        "y": (grid.y_mm[r], dose.gy[:, r], grid.z_mm, grid.x_mm),
        "x": (grid.x_mm[c], dose.gy[:, :, c], grid.z_mm, grid.y_mm),
    }
    for axis, (position, wanted, rows, columns) in cuts.items():
        plane, row_mm, column_mm = plan.plane(axis, position)
        assert plane == pytest.approx(wanted, rel=1e-5)
        assert (row_mm == rows).all()
        assert (column_mm == columns).all()
    half = plan.plane("z", (grid.z_mm[k] + grid.z_mm[k + 1]) / 2)[0]
    assert half == pytest.approx((dose.gy[k] + dose.gy[k + 1]) / 2, rel=1e-5)
    assert not plan.plane("x", 500.0)[0].any()
    assert plan.plane("y", grid.y_mm[0] - 0.9)[0] == pytest.approx(dose.gy[:, 0], rel=1e-5)
    with pytest.raises(InputError):
        plan.plane("q", 0.0)


def test_point_gives_each_beam_its_share() -> None:
    plan = BASIS.evaluate((1, 0.7, 0), "D95%", WISH)
    place = (3.0, -4.0, 5.0)
    k, r, c = BASIS.grid.index(place).astype(int)
    shares = plan.point(place)
    assert shares[2] == 0
    assert shares[0] == pytest.approx(plan.factors[0] * DOSES[0].gy[k, r, c], rel=0.05)
    assert plan.point((1e4, 0, 0)) == (0, 0, 0)


def test_hottest_voxel_is_that_of_the_body() -> None:
    rng = np.random.default_rng(3)
    for _ in range(12):
        plan = BASIS.evaluate(rng.random(3) * (rng.random(3) > 0.3) + 1e-3, "D95%", WISH)
        place, gy = plan.hottest()
        inside = np.where(BASIS.mask, plan.dose().gy, -1)
        assert gy == pytest.approx(inside.max(), rel=1e-6)
        k, r, c = np.rint(BASIS.grid.index(place)).astype(int)
        assert inside[k, r, c] == pytest.approx(gy, rel=1e-6)
        assert plan.dvhs["body"].max_gy >= gy * (1 - 1e-6)


def test_coverage_by_slice_falls_to_the_cold_end() -> None:
    cold = dose_of(lambda x, y, z: 50 + 0.3 * z + 0 * x, 64, 2)
    plan = prepare(LiveRequest((cold,), (PTV,))).evaluate((0.01,), "None", None)
    slices = plan.coverage_by_slice("ptv")
    assert tuple(k for k, _ in slices) == PTV.coverage.planes
    for plane, gy in slices:
        assert gy == pytest.approx(50 + 0.3 * (IMAGE.z_mm[plane] - 0.98), abs=0.05)
    assert plan.coverage_by_slice("nobody") == ()


def test_hottest_in_a_volume() -> None:
    plan = BASIS.evaluate((1, 1, 1), "D95%", WISH)
    place, gy = plan.hottest_in("cord")
    assert gy == pytest.approx(plan.dvhs["cord"].max_gy, rel=1e-5)
    assert np.hypot(place[0], place[1] - 22) < 4.7
    assert plan.hottest_in("empty") is None


@pytest.mark.parametrize(
    ("weights", "normalisation", "wish", "iso", "word"),
    [
        ((0, 0, 0), "D95%", WISH, CENTRE, "weight zero"),
        ((1, 1, 1), "D95%", None, CENTRE, "no prescription"),
        ((1, 1, 1), "D95%", Wish(volume_key="empty"), CENTRE, "empty"),
        ((1, 1, 1), "Mean", Wish(volume_key="gone"), CENTRE, "empty"),
        ((1, 1, 1), "Isocentre", WISH, None, "no isocentre"),
        ((1, 1, 1), "Isocentre", WISH, (900.0, 0.0, 0.0), "no dose"),
        ((1, 1, 1), "Point", Wish(), CENTRE, "no point"),
        ((1, 1, 1), "Point", Wish(point=NamedPoint("A", (900, 0, 0))), CENTRE, "A (x 900.0, y 0.0, z 0.0 mm) lies out"),
    ],
)
def test_undefined_scale_is_zero_dose_with_a_reason(weights, normalisation, wish, iso, word) -> None:
    goals = (Goal("ptv", "D95%[%]", ">=", 95), Goal("cord", "Max[Gy]", "<=", 45))
    plan = BASIS.evaluate(weights, normalisation, wish, iso, goals)
    assert plan.scale is None
    assert word in plan.reason
    assert plan.mu == (0, 0, 0)
    assert plan.dvhs["ptv"].max_gy == 0
    assert not plan.dose().gy.any()
    assert not plan.plane("z", 0.0)[0].any()
    assert [(value, state) for _, value, state in plan.goals] == [(None, "not judged")] * 2


def test_beam_that_misses_the_target() -> None:
    aside = dose_of(lambda x, y, z: np.where(x > 20, 0.01, 0.0) + 0 * y, 64, 2)
    basis = prepare(LiveRequest((aside,), (PTV, BODY)))
    for normalisation in ("D95%", "D50%", "Mean"):
        plan = basis.evaluate((1,), normalisation, WISH)
        assert plan.scale is None
        assert "no dose" in plan.reason
        assert plan.hottest() is not None


def test_a_point_that_no_beam_reaches_has_no_dose_to_normalise_at() -> None:
    aside = dose_of(lambda x, y, z: np.where(x > 20, 0.01, 0.0) + 0 * y, 64, 2)
    plan = prepare(LiveRequest((aside,), (PTV, BODY))).evaluate((1,), "Point", WISH)
    assert plan.scale is None
    assert plan.reason == "The beams give no dose to the point Marker (x 4.0, y -7.5, z 11.0 mm)."


def test_goals_are_judged_or_left_open() -> None:
    goals = (
        Goal("ptv", "D95%[%]", ">=", 100),
        Goal("ptv", "D98%[%]", ">=", 100, tolerance=20),
        Goal("cord", "Mean[Gy]", "<=", 0.1),
        Goal("empty", "Mean[Gy]", "<=", 1),
        Goal("cord", "D900cc[Gy]", "<=", 1),
        Goal("cord", "nonsense", "<=", 1),
    )
    plan = BASIS.evaluate((1, 1, 1), "D95%", WISH, CENTRE, goals)
    assert [s for _, _, s in plan.goals] == ["met", "within tolerance", "missed", NOT_JUDGED, NOT_JUDGED, NOT_JUDGED]
    assert plan.goals[0][1] == pytest.approx(100, abs=1e-3)
    assert plan.goals[3][1] is None


def test_refusals() -> None:
    with pytest.raises(GeometryError):
        BASIS.evaluate((1, 1), "D95%", WISH)
    with pytest.raises(GeometryError):
        BASIS.evaluate((1, 1, float("nan")), "D95%", WISH)
    with pytest.raises(GeometryError):
        BASIS.evaluate((1, 1, -1), "D95%", WISH)
    with pytest.raises(GeometryError):
        LiveRequest((), (PTV,))
    with pytest.raises(GeometryError, match="grids"):
        LiveRequest((DOSES[0], dose_of(lambda x, y, z: 0 * x, 32, 2)), (PTV,))


def test_renaming_asks_for_nothing_new_and_editing_does() -> None:
    renamed = LiveRequest(DOSES, (PTV.but(name="PTV_High", colour=(1, 2, 3), note="x"), BODY, CORD, EMPTY))
    assert renamed.fingerprint == REQUEST.fingerprint == BASIS.inputs
    assert LiveRequest(DOSES, (PTV.with_coverage(CORD.coverage), BODY, CORD, EMPTY)).fingerprint != REQUEST.fingerprint


def test_can_be_cancelled() -> None:
    def stop(fraction: float, words: str = "") -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        prepare(REQUEST, stop)


def test_no_volumes_at_all_and_warm_up() -> None:
    plan = prepare(LiveRequest(DOSES, ())).evaluate((1, 1, 1), "None", None)
    assert plan.dvhs == {}
    assert plan.hottest()[1] > 0
    warm_up()
