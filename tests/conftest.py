"""Offscreen Qt, fixed seeds, settings kept away from the person's own."""

from __future__ import annotations

import os

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session", autouse=True)
def own_settings(tmp_path_factory):
    """Keep preferences of the test run out of the home folder."""
    home = tmp_path_factory.mktemp("settings")
    os.environ["XDG_CONFIG_HOME"] = str(home)
    return home
