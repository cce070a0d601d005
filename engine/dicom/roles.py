"""Roles of volumes <-> RT ROI Interpreted Types (PS3.3 C.8.8.8)."""

from __future__ import annotations

_TYPE_OF_ROLE = {
    "GTV": "GTV",
    "CTV": "CTV",
    "ITV": "CTV",
    "PTV": "PTV",
    "OAR": "ORGAN",
    "PRV": "AVOIDANCE",
    "EXTERNAL": "EXTERNAL",
    "SUPPORT": "SUPPORT",
    "BOLUS": "BOLUS",
    "AVOIDANCE": "AVOIDANCE",
    "OTHER": "",
}
_ROLE_OF_TYPE = {
    "GTV": "GTV",
    "CTV": "CTV",
    "PTV": "PTV",
    "ORGAN": "OAR",
    "EXTERNAL": "EXTERNAL",
    "SUPPORT": "SUPPORT",
    "FIXATION": "SUPPORT",
    "BOLUS": "BOLUS",
    "AVOIDANCE": "AVOIDANCE",
}
NOT_REGIONS = ("MARKER", "ISOCENTER", "REGISTRATION")


def type_of_role(role: str) -> str:
    """Return the interpreted type to write; ITV and PRV have none of their own and are told apart by the label."""
    return _TYPE_OF_ROLE[role]


def role_of_type(interpreted: str, label: str = "") -> str:
    """Return the role of an interpreted type. A label that names a role of that type decides between its roles."""
    interpreted, label = interpreted.strip().upper(), label.strip().upper()
    if label in _TYPE_OF_ROLE and _TYPE_OF_ROLE[label] == interpreted:
        return label
    return _ROLE_OF_TYPE.get(interpreted, "OTHER")


def has_role(interpreted: str) -> bool:
    """Whether an interpreted type has a role of its own; others come in as OTHER."""
    return interpreted.strip().upper() in _ROLE_OF_TYPE
