from __future__ import annotations

import numpy as np
import pytest

import engine.evaluation.moving as moving
from engine.base.values import own_array
from engine.evaluation.moving import Moving, rest_of

RNG = np.random.default_rng(8)


def rows(n: int, beams: int = 4) -> tuple[np.ndarray, ...]:
    return tuple(own_array(RNG.random(n).astype(np.float32)) for _ in range(beams))


def direct(per_beam: dict[str, tuple[np.ndarray, ...]], weights: list[float]) -> dict[str, np.ndarray]:
    return {k: sum(w * r.astype(float) for w, r in zip(weights, own)) for k, own in per_beam.items()}


def taken(one: Moving, per_beam: dict[str, tuple[np.ndarray, ...]], weights: list[float]) -> dict[str, np.ndarray]:
    return one.each(per_beam, weights, lambda key, gy: gy.copy())


def assert_sums(one: Moving, per_beam: dict[str, tuple[np.ndarray, ...]], weights: list[float]) -> None:
    found, wanted = taken(one, per_beam, weights), direct(per_beam, weights)
    assert list(found) == list(per_beam)
    for key, gy in found.items():
        assert gy == pytest.approx(wanted[key], rel=2e-7, abs=1e-30)


def test_any_walk_of_weights_and_doses_gives_the_sums_themselves() -> None:
    per_beam, one = {"a": rows(300), "b": rows(40)}, Moving()
    weights = [1.0, 0.0, 2.5, 1e-3]
    for step in range(60):
        what = step % 6
        if what < 3:
            weights[step // 6 % 4] = float(RNG.random() * (RNG.random() > 0.2))
        elif what == 3:
            i = int(RNG.integers(4))
            per_beam = {k: (*own[:i], rows(len(own[0]), 1)[0], *own[i + 1 :]) for k, own in per_beam.items()}
        elif what == 4:
            weights = [float(w) for w in RNG.random(4)]
        assert_sums(one, per_beam, weights)
    assert_sums(one, {"b": rows(77), "a": rows(5), "c": rows(9)}, weights)
    assert_sums(one, {"b": rows(77, 2)}, weights[:2])
    assert taken(one, {}, weights) == {}


def test_a_long_play_does_not_creep() -> None:
    per_beam, one = {"a": rows(500)}, Moving()
    for _ in range(400):
        weights = [1.0, 1.0, float(10 ** RNG.uniform(-6, 6)), 1.0]
        taken(one, per_beam, weights)
    last = [1.0, 1.0, 0.5, 1.0]
    assert np.array_equal(taken(one, per_beam, last)["a"], taken(Moving(), per_beam, last)["a"])


def test_a_beam_that_moves_on_costs_no_sum_of_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[int] = []
    monkeypatch.setattr(moving, "rest_of", lambda own, weights, but: made.append(but) or rest_of(own, weights, but))
    per_beam, one = {"a": rows(50)}, Moving()
    for weight in (1.0, 2.0, 3.0, 4.0):
        taken(one, per_beam, [1.0, 1.0, weight, 1.0])
    assert made == [0, 2]
    for _ in range(3):
        own = per_beam["a"]
        taken(one, {"a": (*own[:2], rows(50, 1)[0], own[3])}, [1.0, 1.0, 4.0, 1.0])
    assert made == [0, 2]
    taken(one, per_beam, [1.0, 7.0, 4.0, 1.0])
    assert made == [0, 2, 1]
