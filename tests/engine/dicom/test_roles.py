"""Roles and interpreted types."""

from __future__ import annotations

import pytest

from engine.dicom.roles import has_role, role_of_type, type_of_role
from engine.volumes.volume import ROLES


@pytest.mark.parametrize("role", ROLES)
def test_every_role_comes_back(role):
    assert role_of_type(type_of_role(role), role) == role


@pytest.mark.parametrize(
    ("interpreted", "role"),
    [
        ("ORGAN", "OAR"),
        ("PTV", "PTV"),
        ("FIXATION", "SUPPORT"),
        ("external", "EXTERNAL"),
        ("CAVITY", "OTHER"),
        ("", "OTHER"),
    ],
)
def test_types_of_others(interpreted, role):
    assert role_of_type(interpreted) == role
    assert has_role(interpreted) is (role != "OTHER")


def test_a_label_never_overrules_the_type():
    assert role_of_type("ORGAN", "PTV") == "OAR"
    assert role_of_type("CTV", "ITV") == "ITV"
