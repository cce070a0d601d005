"""The compiled passes against the recursion written out with the exponential itself, in double precision."""

import numpy as np
import pytest

from engine.dose.passes import CHUNK, LONG, sweep, sweeps

RNG = np.random.default_rng(11)


def written_out(rho, source, upward, moves, weights, shares, attenuation_steps, forms):
    nk, nj, ni = rho.shape
    deposit = np.zeros(rho.shape)
    j, i = np.meshgrid(np.arange(nj), np.arange(ni), indexing="ij")
    for c in range(len(weights)):
        lines = np.zeros((2, nj, ni))
        for n in range(nk):
            k = n if upward else nk - 1 - n
            for axis, move in zip((1, 2), moves[c, n]):
                lines = np.roll(lines, move, axis=axis)
                edge = [slice(None)] * 3
                edge[axis] = slice(0, move) if move > 0 else slice(lines.shape[axis] + move, None)
                if move:
                    lines[tuple(edge)] = 0.0
            weight = weights[c, 0]
            if forms.size:
                x, y, t = (f[0] + f[1] * k + f[2] * j + f[3] * i for f in forms)
                weight = weights[c, 0] + weights[c, 1] * x / t + weights[c, 2] * y / t
            for m in range(2):
                x = attenuation_steps[c, m] * rho[k].astype(float)
                own = shares[c, m] * weight * source[k]
                let_go = lines[m] * -np.expm1(-x) + own * (1 + np.expm1(-x) / x)
                lines[m] += own - let_go
                deposit[k] += let_go
    return deposit


@pytest.mark.parametrize("upward", [True, False])
@pytest.mark.parametrize("kind", ["long", "thin and leaning"])
@pytest.mark.parametrize("ends", [(1,), (2,), (3,), (2, 4), (2, 3, 7), (5, 7)])
def test_any_teams_carry_what_the_recursion_says(kind, ends, upward):
    shape, cones = (5, 46, 47), ends[-1]
    assert shape[1] * shape[2] > CHUNK
    rho, source = (RNG.uniform(0.05, 1.6, shape).astype(np.float32) for _ in range(2))
    moves = RNG.integers(-1, 2, (cones, shape[0], 2))
    moves[:, 0] = 0
    long = kind == "long"
    # All of a team are alike in shares and steps, and without forms in the weight.
    team = np.searchsorted(ends, np.arange(cones), side="right")
    shares = np.stack([[1.4, -0.4], [0.7, 0.3], [0.2, 0.8]])[team]
    steps = (np.stack([[2.0, 3.0], [0.4, 5.0], [1.0, 0.1]]) if long else np.array([[0.05, 0.3], [0.1, 0.02], [0.2, 0.3]]))[
        team
    ]
    weights = np.column_stack([0.3 + 0.1 * (team if long else np.arange(cones)), RNG.uniform(-1, 1, (cones, 2))])
    forms = np.empty((0, 4)) if long else np.array([[-90.0, 1, 2, 4], [-80.0, -2, 4, 1], [900.0, 3, 1, -1]])
    deposit = np.zeros(rho.size, np.float32)
    room = np.empty((cones, 2, shape[1] * shape[2] + 2 * shape[0] * (shape[2] + 1)), np.float32)
    strength = (a.astype(np.float32) for a in (weights, shares, steps / (LONG if long else 1.0)))
    order = np.arange(cones), np.array(ends), moves
    sweep(rho.reshape(-1), source.reshape(-1), deposit, shape, upward, long, *order, *strength, forms, room)
    wanted = written_out(rho, source, upward, moves, weights, shares, steps, forms)
    assert deposit.reshape(shape) == pytest.approx(wanted, rel=2e-3, abs=1e-3 * np.abs(wanted).max())


def test_several_batches_at_once_carry_what_one_after_the_other_does():
    shape, cones = (6, 20, 21), 7
    rho, source = (RNG.uniform(0.05, 1.6, shape).astype(np.float32).reshape(-1) for _ in range(2))
    moves = RNG.integers(-1, 2, (cones, shape[0], 2))
    moves[:, 0] = 0
    strength = [
        np.tile(np.array(row, np.float32), (cones, 1)) for row in ([0.3, 0.0, 0.0], [0.7, 0.3], [0.4 / LONG, 5.0 / LONG])
    ]
    forms, room = np.empty((0, 4)), np.empty((4, 2, shape[1] * shape[2] + 2 * shape[0] * (shape[2] + 1)), np.float32)
    batches = [(True, [5, 1, 2], [1, 3]), (False, [0, 3, 4, 6], [4]), (False, [2], [1])]
    one, other = (np.zeros(rho.size, np.float32) for _ in range(2))
    for upward, some, ends in batches:
        sweep(rho, source, one, shape, upward, True, np.array(some), np.array(ends), moves, *strength, forms, room)
    flat = np.array([c for _, some, _ in batches for c in some]), np.array([e for *_, ends in batches for e in ends])
    told = np.array([(upward, len(some), len(ends)) for upward, some, ends in batches], np.int64)
    sweeps(rho, source, other, shape, told, True, *flat, moves, *strength, forms, room)
    assert one.any()
    assert np.array_equal(one, other)
