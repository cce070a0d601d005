"""What holds for every demonstration patient."""

from __future__ import annotations

from importlib import import_module

import numpy as np
import pytest

from engine.base.errors import Cancelled, InputError
from engine.phantoms import NAMES, Phantom, make
from engine.space.grid import Grid
from engine.volumes.volume import tg263_form

pytestmark = pytest.mark.slow

OUTSIDE = ("Body", "CouchSurface", "Headrest", "KneeRest")


def share_inside(phantom: Phantom, name: str, of: str) -> float:
    """Return how much of a volume lies inside another one, 0..1."""
    a = phantom.volume(name).coverage
    b = {t.plane: t for t in phantom.volume(of).coverage.tiles}
    inside = total = 0.0
    for t in a.tiles:
        alpha = t.alpha.astype(np.float64)
        total += alpha.sum()
        if t.plane in b:
            o = b[t.plane]
            page = np.zeros(phantom.image.grid.shape[1:])
            page[o.row : o.row + o.alpha.shape[0], o.column : o.column + o.alpha.shape[1]] = o.alpha
            inside += np.minimum(alpha, page[t.row : t.row + alpha.shape[0], t.column : t.column + alpha.shape[1]]).sum()
    return inside / total


def test_image_is_a_whole_scan(patient: Phantom) -> None:
    image = patient.image
    assert image.hu.dtype == np.dtype("<i2")
    assert image.grid.shape[1:] == (512, 512)
    assert image.grid.shape[0] >= 100
    assert image.grid.spacing_mm[2] == 3.0
    assert 0.85 <= image.grid.spacing_mm[0] == image.grid.spacing_mm[1] <= 1.0
    assert image.patient_position == "HFS"
    assert image.hu.min() >= -1024
    assert image.hu.max() <= 3071


def test_it_says_that_nobody_was_imaged(patient: Phantom) -> None:
    assert patient.name in NAMES
    assert patient.patient_name.startswith("Demonstration^")
    assert patient.patient_id.startswith("HALFSHADE-")
    assert "ynthetic" in patient.note
    assert "not a medical device" in patient.note
    assert "ynthetic" in patient.image.description


def test_volumes_have_one_body_and_good_names(patient: Phantom) -> None:
    names = [v.name for v in patient.volumes]
    assert len(set(names)) == len(names)
    assert len({v.key for v in patient.volumes}) == len(names)
    assert all(tg263_form(n) for n in names)
    assert all(v.coverage.grid == patient.image.grid for v in patient.volumes)
    assert [v.name for v in patient.volumes if v.role == "EXTERNAL"] == ["Body"]
    assert {"CTV", "PTV"} <= set(names)
    assert not any(v.coverage.is_empty for v in patient.volumes)


def test_all_that_belongs_to_the_patient_lies_inside_the_body(patient: Phantom) -> None:
    for volume in patient.volumes:
        if volume.role not in ("EXTERNAL", "SUPPORT"):
            assert share_inside(patient, volume.name, "Body") > 0.995, volume.name


def test_supports_lie_outside_the_body(patient: Phantom) -> None:
    supports = [v.name for v in patient.volumes if v.role == "SUPPORT"]
    assert "CouchSurface" in supports
    for name in supports:
        assert share_inside(patient, name, "Body") < 0.002, name
    lowest = max(t.row + t.alpha.shape[0] for t in patient.volume("Body").coverage.tiles)
    highest = min(t.row for t in patient.volume("CouchSurface").coverage.tiles)
    assert highest >= lowest - 1


def test_body_is_tissue_and_the_room_is_air(patient: Phantom) -> None:
    body = patient.volume("Body").coverage.dense()
    hu = patient.image.hu
    solid = hu[body == 255]
    assert (solid > -300).mean() > 0.7
    support = sum(v.coverage.dense().astype(np.int32) for v in patient.volumes if v.role == "SUPPORT")
    air = hu[(body == 0) & (support == 0)]
    assert np.median(air) == pytest.approx(-996, abs=4)
    assert (air < -800).mean() > 0.99


def test_the_skin_of_the_image_is_that_of_the_volume(patient: Phantom) -> None:
    body = patient.volume("Body").coverage
    hu = patient.image.hu
    for tile in body.tiles[8:-8:16]:
        row = tile.alpha.shape[0] // 2
        inside = np.flatnonzero(tile.alpha[row] > 127) + tile.column
        dense = np.flatnonzero(hu[tile.plane, tile.row + row] > -480)
        dense = dense[(dense >= inside[0] - 4) & (dense <= inside[-1] + 4)]
        assert abs(int(dense[0]) - int(inside[0])) <= 1
        assert abs(int(dense[-1]) - int(inside[-1])) <= 1


def test_targets_are_nested(patient: Phantom) -> None:
    inner = next(v.name for v in patient.volumes if v.name in ("GTV", "Prostate"))
    assert share_inside(patient, inner, "PTV") > 0.999
    assert share_inside(patient, "CTV", "PTV") > 0.999
    assert share_inside(patient, inner, "CTV") > 0.99


def test_left_is_left(patient: Phantom) -> None:
    pairs = 0
    for volume in patient.volumes:
        if volume.name.endswith(("_L", "_R")):
            centre = volume.coverage.centroid_mm()
            assert centre is not None
            assert (centre[0] > 0) == volume.name.endswith("_L"), volume.name
            pairs += 1
    assert pairs >= 2 or patient.name == "thorax"


def test_noise_is_that_of_a_scanner(patient: Phantom) -> None:
    grid = patient.image.grid
    name = {"thorax": "Heart", "head": "Brainstem", "pelvis": "Bladder"}[patient.name]
    x, y, z = patient.volume(name).coverage.centroid_mm() or (0.0, 0.0, 0.0)
    k, r, c = (round(v) for v in grid.index((x, y, z)))
    patch = patient.image.hu[k - 1 : k + 2, r - 5 : r + 6, c - 5 : c + 6].astype(np.float64)
    assert 2.5 < patch.std() < 16
    left, right = patch[:, :, :-1] - patch.mean(), patch[:, :, 1:] - patch.mean()
    assert (left * right).mean() / patch.var() > 0.25, "neighbouring pixels of a CT are correlated"


def test_plan_hint_fits_the_volumes(patient: Phantom) -> None:
    plan, names = patient.plan, {v.name for v in patient.volumes}
    assert plan.target in names
    assert {g.volume for g in plan.goals} <= names
    assert 10 < plan.prescription_gy < 90
    assert len(plan.gantry_deg) == len(plan.weights) == len(plan.couch_deg) == len(plan.collimator_deg) >= 3
    for goal in plan.goals:
        assert goal.comparator in ("<=", ">=")
        assert goal.priority in (1, 2, 3)
        assert "[" in goal.source, "how a limit is known is told in brackets"


@pytest.fixture
def coarse(monkeypatch) -> None:
    """Patients of large pixels, for what does not depend on size."""
    for name in NAMES:
        module = import_module(f"engine.phantoms.patient_{name}")
        planes, rows, columns = module.GRID.shape
        x, y, z = module.GRID.spacing_mm
        grid = Grid(module.GRID.origin_mm, (4 * x, 4 * y, z), (planes, rows // 4, columns // 4))
        monkeypatch.setattr(module, "GRID", grid)


def test_twice_the_same(coarse: None) -> None:
    first, second = make("pelvis"), make("pelvis")
    assert first.image.grid.shape[1:] == (128, 128)
    assert first.fingerprint == second.fingerprint
    assert first.image.fingerprint == second.image.fingerprint


def test_unknown_names_are_refused() -> None:
    with pytest.raises(InputError, match="no demonstration patient 'knee'"):
        make("knee")


@pytest.mark.parametrize("name", NAMES)
def test_making_can_be_stopped(name: str, coarse: None) -> None:
    seen: list[float] = []

    def stop(fraction: float, words: str = "") -> None:
        seen.append(fraction)
        if len(seen) == 3:
            raise Cancelled

    with pytest.raises(Cancelled):
        make(name, stop)
    assert seen == sorted(seen)
