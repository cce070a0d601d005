"""What was read of a dose is read once, by content, and the oldest goes first."""

import numpy as np

from engine.base.values import own_array
from engine.dose.dose import Dose
from engine.evaluation.reading import Reading
from engine.evaluation.samples import doses_at, samples
from engine.evaluation.summing import cut_of, inside_mask, tops_of
from tests.support.cases import GRID, ball

BALL = ball(GRID, (0, 0, 0), 20)
RNG = np.random.default_rng(3)


def some_dose():
    return Dose(own_array(RNG.random(GRID.shape).astype(np.float32)), GRID)


def test_points_and_tops_are_those_of_the_dose():
    dose, read = some_dose(), Reading()
    where, mask = samples(BALL, GRID), inside_mask(BALL, GRID)
    assert np.array_equal(read.doses(dose, BALL, where), doses_at(dose.gy, where))
    assert np.array_equal(read.tops(dose, BALL, mask), tops_of((dose.gy,), mask)[0])
    whole = inside_mask(None, GRID)
    assert np.array_equal(read.tops(dose, None, whole), tops_of((dose.gy,), whole)[0])


def test_planes_are_cut_once_and_each_for_itself():
    dose, other, read = some_dose(), some_dose(), Reading()
    for along in range(3):
        for at in (0.0, 2.25, 3.0):
            cut = read.cut(dose.gy, along, at)
            assert np.array_equal(cut, cut_of(dose.gy, along, at))
            low = int(at)
            between = (1 - (at - low)) * np.take(dose.gy, low, along) + (at - low) * np.take(dose.gy, low + 1, along)
            assert np.allclose(cut, between.reshape(-1), rtol=1e-6)
            assert read.cut(dose.gy, along, at) is cut
            assert not np.array_equal(read.cut(other.gy, along, at), cut)


def test_a_dose_is_read_once():
    dose, read, where = some_dose(), Reading(), samples(BALL, GRID)
    first = read.doses(dose, BALL, where)
    assert read.doses(dose.but(inputs="of another request"), BALL, where) is first
    assert read.doses(some_dose(), BALL, where) is not first


def test_a_dose_in_the_place_of_one_that_is_gone_is_read_for_itself():
    read, where = Reading(), samples(BALL, GRID)
    for _ in range(20):
        dose = some_dose()
        assert np.array_equal(read.doses(dose, BALL, where), doses_at(dose.gy, where))
        del dose


def test_what_was_not_asked_for_longest_goes_first():
    where = samples(BALL, GRID)
    size = 4 * where.count
    read, doses = Reading(int(2.5 * size)), [some_dose() for _ in range(3)]
    one, two = (read.doses(d, BALL, where) for d in doses[:2])
    assert read.doses(doses[0], BALL, where) is one
    read.doses(doses[2], BALL, where)
    assert read.doses(doses[0], BALL, where) is one
    again = read.doses(doses[1], BALL, where)
    assert again is not two
    assert np.array_equal(again, two)
