"""Named points: what cannot be a place cannot be built."""

import math

import pytest

from engine.base.errors import InputError
from engine.space.point import NamedPoint


def test_a_point_tells_its_name_and_place():
    point = NamedPoint("Marker 1", (1, -2.26, 30))
    assert point.place_mm == (1.0, -2.26, 30.0)
    assert str(point.words) == "Marker 1 (x 1.0, y -2.3, z 30.0 mm)"
    assert point == NamedPoint("Marker 1", (1.0, -2.26, 30.0))


@pytest.mark.parametrize("place", [(1, 2), (1, 2, math.nan), (1, 2, math.inf), (0, 0, 10001), ()])
def test_what_is_no_place_is_refused(place):
    with pytest.raises(InputError, match="three numbers"):
        NamedPoint("A", place)


@pytest.mark.parametrize("name", ["", "  ", "n" * 65])
def test_a_point_needs_a_name(name):
    with pytest.raises(InputError, match="name"):
        NamedPoint(name, (0, 0, 0))
