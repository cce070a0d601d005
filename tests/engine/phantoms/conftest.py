"""Each demonstration patient is made once for all tests."""

from __future__ import annotations

import pytest

from engine.phantoms import NAMES, Phantom
from tests.support.demonstrations import Demonstrations


@pytest.fixture(scope="session", params=NAMES)
def patient(request: pytest.FixtureRequest, demonstrations: Demonstrations) -> Phantom:
    """Every demonstration patient in turn."""
    return demonstrations.made(request.param)


@pytest.fixture(scope="session")
def thorax_patient(demonstrations: Demonstrations) -> Phantom:
    """The chest."""
    return demonstrations.made("thorax")


@pytest.fixture(scope="session")
def head_patient(demonstrations: Demonstrations) -> Phantom:
    """The head."""
    return demonstrations.made("head")


@pytest.fixture(scope="session")
def pelvis_patient(demonstrations: Demonstrations) -> Phantom:
    """The pelvis."""
    return demonstrations.made("pelvis")
