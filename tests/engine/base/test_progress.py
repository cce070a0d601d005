"""Progress of a part covers its share of the whole, and stopping passes through."""

import pytest

from engine.base.errors import Cancelled
from engine.base.progress import part, quiet


def test_a_part_maps_into_its_share():
    seen = []
    inner = part(lambda f, words="": seen.append((round(f, 6), words)), 0.5, 0.7)
    inner(0.0, "a")
    part(inner, 0.5, 1.0)(1.0, "b")
    assert seen == [(0.5, "a"), (0.7, "b")]
    quiet(0.5)


def test_stopping_reaches_the_computation():
    def stop(fraction, words=""):
        raise Cancelled

    with pytest.raises(Cancelled):
        part(stop, 0, 1)(0.1)
