"""Offscreen Qt, the engine's own thread settings, preferences kept away from the person's own."""

from __future__ import annotations

import os

import pytest

# Test modules import numpy first: without this its BLAS would start a pool of its own in every process, and pools of two
# test processes on two processors hold each other up for several times what they compute.
import engine  # noqa: F401

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session", autouse=True)
def own_settings(tmp_path_factory):
    """Keep preferences of the test run out of the home folder."""
    home = tmp_path_factory.mktemp("settings")
    os.environ["XDG_CONFIG_HOME"] = str(home)
    return home


@pytest.fixture(scope="session")
def demonstrations(tmp_path_factory):
    """Demonstration patients, made once for all processes of this run."""
    from tests.support.demonstrations import Demonstrations

    base = tmp_path_factory.getbasetemp()
    # A worker of pytest-xdist has a folder of its own inside the run's.
    kept = Demonstrations(base.parent if "PYTEST_XDIST_WORKER" in os.environ else base)
    yield kept
    kept.forget()
