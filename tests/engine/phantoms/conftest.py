"""Each demonstration patient is made once for all tests."""

from __future__ import annotations

import functools

import pytest

from engine.phantoms import NAMES, Phantom, make


@functools.cache
def made(name: str) -> Phantom:
    """Return a patient, made at the first call."""
    return make(name)


@pytest.fixture(scope="session", params=NAMES)
def patient(request: pytest.FixtureRequest) -> Phantom:
    """Every demonstration patient in turn."""
    return made(request.param)


@pytest.fixture(scope="session")
def thorax_patient() -> Phantom:
    """The chest."""
    return made("thorax")


@pytest.fixture(scope="session")
def head_patient() -> Phantom:
    """The head."""
    return made("head")


@pytest.fixture(scope="session")
def pelvis_patient() -> Phantom:
    """The pelvis."""
    return made("pelvis")
