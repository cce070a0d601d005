"""Names after AAPM TG-263: a shipped list, suggestions while typing, and the role a name implies."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache

import assets
from engine.base.sources import read_table

# DICOM interpreted types of the list that have a role of another name here; every other type that is no role is OTHER.
_ROLE_OF_TYPE = {
    "ORGAN": "OAR",
    "PTV": "PTV",
    "CTV": "CTV",
    "GTV": "GTV",
    "EXTERNAL": "EXTERNAL",
    "AVOIDANCE": "AVOIDANCE",
    "BOLUS": "BOLUS",
}


# What people write for a side, and the word of it in the meanings.
_SIDES = {"l": "left", "lt": "left", "r": "right", "rt": "right"}
_SIDE_WORDS = {**_SIDES, "left": "left", "right": "right"}
_LEAST_ALIKE = 0.72  # of the letters; below that a suggestion would be a guess


@dataclass(frozen=True)
class StandardName:
    """One name of the list: what it is called, the role it implies, where it belongs, what it means."""

    name: str
    role: str
    region: str
    meaning: str


@cache
def names() -> tuple[StandardName, ...]:
    """Return the shipped list, by name."""
    table = read_table(assets.path("goals/tg263_names.csv"))
    columns = (
        table.text("primary_name"),
        table.text("suggested_dicom_interpreted_type"),
        table.text("anatomic_group"),
        table.text("description_own_words"),
    )
    found = [StandardName(n, _implied(n) or _ROLE_OF_TYPE.get(t, "OTHER"), g, d) for n, t, g, d in zip(*columns)]
    return tuple(sorted(found, key=lambda s: s.name.lower()))


def known(name: str) -> bool:
    """Whether a name stands in the list, letter case aside (TG-263 wants names unique whatever the case)."""
    return name.strip().lower() in _by_lower()


def built_from_list(name: str) -> bool:
    """Whether a name stands in the list or is built from it: a target, a PRV, a helper volume, "Lungs-GTV", "Brain~"."""
    parts = name.strip().partition("^")[0].replace("~", "").split("-")
    return all(known(part) or _implied(part.strip()) is not None for part in parts)


def side_of(name: str) -> str:
    """Return the side a name says, "left" or "right", or "" where it says none or both."""
    said = {_SIDE_WORDS[p] for p in re.split(r"[^a-z0-9]+", name.lower()) if p in _SIDE_WORDS}
    return said.pop() if len(said) == 1 else ""


def nearest(name: str) -> str:
    """Return the name of the list most like another one, or "" where none is much like it; a side is kept."""
    side, letters = side_of(name), _letters(name)
    by_words = [n for n in suggestions(name, 3) if side_of(n) == side] if len(letters) > 2 else []
    if by_words:
        return by_words[0]
    alike = [(SequenceMatcher(None, letters, _letters(s.name)).ratio(), s.name) for s in names() if side_of(s.name) == side]
    best = max(alike, default=(0.0, ""))
    return best[1] if best[0] >= _LEAST_ALIKE else ""


def _letters(name: str) -> str:
    """Return the letters of a name without its side."""
    return "".join(p for p in re.split(r"[^a-z]+", name.lower()) if p and p not in _SIDE_WORDS)


def suggestions(prefix: str, limit: int = 12) -> tuple[str, ...]:
    """Return names for what was typed: those that start with it, those with a part that does, then by words and side.

    "left lung", "lung lt" and "Lung_L" all find Lung_L.
    """
    wanted = prefix.strip().lower()
    if not wanted:
        return ()
    typed = [_SIDES.get(w, w) for w in re.split(r"[^a-z0-9]+", wanted) if w]

    def rank(s: StandardName) -> int:
        low = s.name.lower()
        if low.startswith(wanted):
            return 0
        if any(p.startswith(wanted) for p in low.split("_")):
            return 1
        parts = [_SIDES.get(p, p) for p in low.split("_")]
        words = [*parts, *re.split(r"[^a-z0-9]+", s.meaning.lower())]
        return 2 if typed and all(any(w.startswith(t) for w in words if w) for t in typed) else 3

    ranked = sorted((rank(s), s.name.lower(), s.name) for s in names())
    return tuple(name for r, _, name in ranked if r < 3)[:limit]


def role_of(name: str, otherwise: str = "OAR") -> str:
    """Return the role a name implies: by its TG-263 form (target type, PRV part), by the list, else `otherwise`."""
    implied = _implied(name.strip())
    if implied:
        return implied
    found = _by_lower().get(name.strip().lower())
    return found.role if found else otherwise


def _implied(name: str) -> str | None:
    # "Lungs-GTV" is lung: a target type counts only at the start. A leading z or _ marks a helper volume.
    target = re.match(r"(I?)(GTV|CTV|ITV|PTV)(?![a-z]{4,})", name, re.IGNORECASE)
    if target:
        # IGTV and ICTV hold the movement of a GTV or CTV (ICRU 62 internal target).
        return "ITV" if target.group(1) else target.group(2).upper()
    if re.search(r"_PRV(\d{1,2}|x{1,2})?(_|$)", name):
        return "PRV"
    if re.match(r"z[A-Z]|_", name):
        return "OTHER"
    low = name.lower()
    if low in ("body", "external"):
        return "EXTERNAL"
    if low.startswith("couch"):
        return "SUPPORT"
    return "BOLUS" if low.startswith("bolus") else None


@cache
def _by_lower() -> dict[str, StandardName]:
    return {s.name.lower(): s for s in names()}
