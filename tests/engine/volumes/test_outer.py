"""The body and the couch."""

import numpy as np
import pytest

from engine import compute
from engine.base.errors import InputError
from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.outer import FindBody, couch_row, find_body, find_support, matter_box
from engine.volumes.paint import stamp

N, PX = 128, 4.0
GRID = Grid((-254.0, -254.0, 0.0), (PX, PX, 5.0), (10, N, N))
BACK = 88


def chest(couch="none", gap=0, noise=20.0, position="HFS", arms=False):
    """Return an oval chest with lungs, on a couch 26 cm wider, and the body's true shares."""
    body, lungs = np.zeros((N, N), np.uint8), np.zeros((N, N), np.uint8)
    stamp(body, 60.3, 64.2, (27.7, 42.6))
    for column in (45, 83):
        stamp(lungs, 58, column, (17, 12))
    hu = -1000 + body / 255 * 1040 - lungs / 255 * 790
    truth = np.repeat(body[None], GRID.shape[0], axis=0)
    if arms:
        arm = np.zeros((N, N), np.uint8)
        stamp(arm, 70, 14, (9, 7))
        hu = np.maximum(hu, -1000 + arm / 255 * 1040)
        truth = np.maximum(truth, arm)
    top = BACK + gap
    if couch == "slab":
        hu[top : top + 5, 10:118] = np.maximum(hu[top : top + 5, 10:118], -150)
    elif couch == "shell":
        hu[top + 1 : top + 9, 10:118] = -920
        hu[[top, top + 9], 10:118] = -100
    stack = np.repeat(hu[None], GRID.shape[0], axis=0) + np.random.default_rng(7).normal(0, noise, GRID.shape)
    if position == "HFP":
        stack, truth = stack[:, ::-1], truth[:, ::-1]
    image = CtImage(own_array(np.round(stack).astype("<i2")), GRID, position)
    return image, Coverage.from_dense(GRID, truth.copy())


def dice(a, b):
    p, q = a.dense().astype(float), b.dense().astype(float)
    return 2 * np.minimum(p, q).sum() / (p.sum() + q.sum())


@pytest.mark.parametrize("couch", ["none", "slab", "shell"])
@pytest.mark.parametrize("gap", [0, 4])
@pytest.mark.parametrize("position", ["HFS", "HFP"])
def test_the_body_is_found_without_the_couch(couch, gap, position):
    image, truth = chest(couch, gap, position=position)
    found = find_body(FindBody(image))
    assert found.planes == truth.planes
    assert found.volume_cm3 == pytest.approx(truth.volume_cm3, rel=0.01)
    assert dice(found, truth) > 0.99
    rows = np.flatnonzero(found.slice(5).any(axis=1))
    true_rows = np.flatnonzero(truth.slice(5).any(axis=1))
    assert abs(rows[0] - true_rows[0]) <= 1
    assert abs(rows[-1] - true_rows[-1]) <= 1


def test_lungs_are_filled():
    found = find_body(FindBody(chest("slab")[0]))
    assert found.slice(5)[58, 45] == 255
    assert found.slice(0)[58, 83] == 255


def test_the_rim_is_sub_pixel():
    image, truth = chest(noise=0)
    difference = np.abs(find_body(FindBody(image)).slice(3).astype(int) - truth.slice(3))
    assert np.percentile(difference[difference > 0], 50) < 12
    assert difference.max() < 40


def test_noise_is_borne():
    image, truth = chest("slab", noise=60)
    assert dice(find_body(FindBody(image)), truth) > 0.985


def test_an_arm_stays_and_a_marker_wire_goes():
    image, truth = chest("slab", arms=True)
    wired = image.hu.copy()
    wired[:, 20, 20] = 2000
    found = find_body(FindBody(image.but(hu=own_array(wired))))
    assert dice(found, truth) > 0.99
    assert not found.slice(5)[18:22, 18:22].any()


def test_the_couch_is_found_where_it_is():
    image, _ = chest("slab", 2)
    assert couch_row(FindBody(image)) == BACK + 2
    assert couch_row(FindBody(chest("none")[0])) is None
    body = find_body(FindBody(image))
    couch = find_support(image, body)
    assert couch.volume_cm3 == pytest.approx(5 * 108 * PX * PX * 50 / 1000, rel=0.02)
    shell, _ = chest("shell", 2)
    hollow = find_support(shell, find_body(FindBody(shell)))
    assert hollow.volume_cm3 == pytest.approx(2 * 108 * PX * PX * 50 / 1000, rel=0.05)
    assert find_support(chest("none")[0], body).is_empty


def test_air_alone_has_no_body():
    empty = CtImage(own_array(np.full(GRID.shape, -1000, "<i2")), GRID)
    with pytest.raises(InputError, match="no tissue"):
        find_body(FindBody(empty))


def test_reached_through_the_table_and_reports():
    seen = []
    found = compute.run(FindBody(chest()[0]), lambda f, w="": seen.append(f))
    assert not found.is_empty
    assert seen == sorted(seen)
    assert seen[-1] == pytest.approx(1)


def test_matter_is_the_box_of_all_that_is_denser_than_air():
    hu = np.full(GRID.shape, -1000, np.int16)
    hu[2:5, 20:40, 30:70] = -740
    hu[4, 60, 10] = 0
    found = matter_box(CtImage(own_array(hu), GRID))
    assert found.planes == (2, 3, 4)
    dense = found.dense()
    assert np.all(dense[2:5, 20:61, 10:70] == 255)
    assert dense.sum() == 255 * 3 * 41 * 60
    with pytest.raises(InputError, match="nothing in it is denser"):
        matter_box(CtImage(own_array(np.full(GRID.shape, -1000, np.int16)), GRID))
