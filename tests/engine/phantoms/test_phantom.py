"""The value a demonstration patient is."""

from __future__ import annotations

import pytest

from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.phantoms.goals import thorax_plan
from engine.phantoms.phantom import Phantom, key_of
from tests.support.phantoms import ball, water_box


def test_volumes_are_found_by_name_and_the_value_has_a_fingerprint() -> None:
    image: CtImage = water_box((60.0, 60.0, 60.0), 5.0)
    target = ball(image.grid, 15.0)
    phantom = Phantom("thorax", "Demonstration^Box", "BOX", "O", "synthetic", image, (target,), thorax_plan())
    assert phantom.volume("PTV") is target
    with pytest.raises(StopIteration):
        phantom.volume("Heart")
    other = phantom.but(image=image.but(hu=own_array(image.hu + 1)))
    assert phantom.fingerprint != other.fingerprint
    assert phantom.but() == phantom


def test_keys_depend_on_both_names() -> None:
    assert key_of("head", "GTV") == key_of("head", "GTV")
    assert len({key_of(a, b) for a in ("head", "thorax") for b in ("GTV", "PTV")}) == 4
    assert len(key_of("head", "GTV")) == 8
