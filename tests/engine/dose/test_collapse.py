import numpy as np
import pytest

import engine.dose.threads as threads
from engine.base.errors import Cancelled
from engine.dose.collapse import Cones, transport

SHAPE = (21, 23, 25)
SPACING = (0.5, 0.4, 0.3)


def cones(directions, a=3.0, long_steps=True, **changes):
    d = np.atleast_2d(np.array(directions, dtype=float))
    d = d / np.linalg.norm(d, axis=1)[:, None]
    weights = np.zeros((len(d), 3))
    weights[:, 0] = 1 / len(d)
    values = {
        "directions": d,
        "weights": weights,
        "shares": np.tile([1.0, 0.0], (len(d), 1)),
        "attenuation_cm2_g": np.full((len(d), 2), a),
        "long_steps": long_steps,
    }
    return Cones(**(values | changes))


def run(rho, released, directions, a=3.0, forms=None, report=lambda f, w="": None, **changes):
    fields = (np.asarray(v, dtype=np.float32) for v in (rho, released))
    return transport(*fields, SPACING, cones(directions, a, **changes), forms, report)


def source(at=(10, 11, 12)):
    s = np.zeros(SHAPE)
    s[at] = 1.0
    return s


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize("long_steps", [True, False])
def test_along_an_axis_energy_falls_exponentially_and_only_ahead(axis, sign, long_steps):
    direction = np.zeros(3)
    direction[axis] = sign
    a = 1.3
    out = run(np.ones(SHAPE), source(), direction, a=a, long_steps=long_steps)
    line = np.moveaxis(out, axis, 0)[(slice(None), *[i for k, i in enumerate((10, 11, 12)) if k != axis])]
    line = line if sign > 0 else line[::-1]
    start = (10, 11, 12)[axis] if sign > 0 else SHAPE[axis] - 1 - (10, 11, 12)[axis]
    x = a * SPACING[axis]
    first = 1 - (1 - np.exp(-x)) / x
    n = np.arange(len(line) - start - 1)
    assert line[start] == pytest.approx(first, rel=2e-3)
    assert np.allclose(line[start + 1 :], (1 - first) * (1 - np.exp(-x)) * np.exp(-n * x), rtol=5e-3)
    assert out.sum() == pytest.approx(line.sum(), rel=1e-6)
    assert np.all(line[:start] == 0)


@pytest.mark.parametrize("direction", [(1, 0.3, 0.2), (-0.2, 1, 0.7), (0.4, -0.5, -1), (-1, -0.9, 0.8), (0.1, -1, 0.0)])
def test_energy_is_conserved_when_nothing_can_leave(direction):
    rho = np.ones(SHAPE)
    rho[10:] = 0.3
    out = run(rho, source(), direction, a=40.0)
    assert out.sum(dtype=np.float64) == pytest.approx(1.0, rel=1e-5)


def test_energy_that_leaves_is_gone_and_never_comes_back_on_the_other_side():
    s = source((10, 22, 12))
    out = run(np.ones(SHAPE), s, (0.2, 1.0, 0.9), a=0.05, long_steps=False)
    assert out.sum() < 0.1
    assert np.all(out[:, :20] == 0)
    side = run(np.ones(SHAPE), source((10, 3, 24)), (0.1, 1.0, 0.8), a=0.05, long_steps=False)
    assert np.all(side[:, :, :20] == 0)


def test_density_scales_the_way():
    rho = np.ones(SHAPE)
    thin = np.full(SHAPE, 0.5)
    a = run(rho, source((0, 11, 12)), (1, 0, 0), a=1.0)
    b = run(thin, source((0, 11, 12)), (1, 0, 0), a=2.0)
    assert np.allclose(a, b, atol=1e-7)


def test_a_vacuum_passes_energy_without_loss():
    rho = np.ones(SHAPE)
    rho[5:15] = 0.0
    out = run(rho, source((2, 11, 12)), (1, 0, 0), a=0.5)
    short = np.ones((11, *SHAPE[1:]))
    packed = run(short, source((2, 11, 12))[:11], (1, 0, 0), a=0.5)
    assert np.all(out[5:15] == 0)
    assert np.allclose(out[15:], packed[5:], rtol=1e-4)


def test_two_exponentials_can_set_in_slowly():
    out = run(
        np.ones(SHAPE),
        source((0, 11, 12)),
        (1, 0, 0),
        shares=np.array([[2.0, -1.0]]),
        attenuation_cm2_g=np.array([[1.0, 2.0]]),
    )
    line = out[:, 11, 12]
    assert np.all(line >= 0)
    # d/dr of 2 (1 - e^-r) - (1 - e^-2r) is 2 (e^-r - e^-2r), highest at ln 2 = 0.69 cm: between voxels 1 and 2.
    assert int(np.argmax(line)) in (1, 2)
    r = 0.5 * np.arange(1, 21)
    middle = 2 * (np.exp(-r) - np.exp(-2 * r)) * 0.5
    assert np.allclose(line[1:], middle, rtol=0.1, atol=2e-3)


def test_weights_lean_with_the_ray():
    forms = np.array([[-0.12, 0, 0, 0.01], [0.0, 0, 0, 0], [1.0, 0, 0, 0]])
    flat = np.ones(SHAPE)
    out = run(flat, flat, (1, 0, 0), a=40.0, forms=forms, weights=np.array([[1.0, 2.0, 0.0]]))
    p = -0.12 + 0.01 * np.arange(SHAPE[2])
    assert np.allclose(out[10, 11] / out[10, 11, 12], 1 + 2 * p, rtol=1e-4)


def test_it_is_linear_in_the_source():
    rng = np.random.default_rng(2)
    rho, s1, s2 = rng.random(SHAPE) + 0.2, rng.random(SHAPE), rng.random(SHAPE)
    ways = [(1, 0.4, 0.3), (-1, 0.2, 0.6), (0.1, 1, 0.3), (0.3, 0.2, -1)]
    a, b, c = (run(rho, s, ways) for s in (s1, s2, s1 + 2 * s2))
    assert np.allclose(a + 2 * b, c, rtol=1e-4)


def test_the_number_of_threads_changes_no_bit(monkeypatch):
    rng = np.random.default_rng(4)
    rho, s = rng.random(SHAPE) + 0.2, rng.random(SHAPE)
    ways = rng.normal(size=(40, 3))
    results = []
    for n in (1, 2, 3, 8):
        monkeypatch.setattr(threads, "thread_count", lambda n=n: n)
        results.append(run(rho, s, ways))
    assert all(np.array_equal(results[0], r) for r in results[1:])


def test_it_can_be_stopped():
    def stop(fraction, words=""):
        raise Cancelled

    with pytest.raises(Cancelled):
        run(np.ones(SHAPE), source(), [(1, 0, 0), (-1, 0, 0)], report=stop)
