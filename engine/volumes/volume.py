"""A named volume: what it is called, what it is for, where it is."""

from __future__ import annotations

import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from engine.base.errors import InputError
from engine.base.values import FrozenArray, Value
from engine.base.words import say
from engine.volumes.coverage import Coverage
from engine.volumes.recipe import Recipe

ROLES = ("GTV", "CTV", "ITV", "PTV", "OAR", "PRV", "EXTERNAL", "SUPPORT", "BOLUS", "AVOIDANCE", "OTHER")
TARGET_ROLES = ("GTV", "CTV", "ITV", "PTV")

# A qualitative set that stays apart for the common colour-vision deficiencies (after Okabe and Ito, public domain,
# and lighter or darker steps of the same hues), then a paler step of each; given out in the order of creation, never by
# organ.
_FULL = (
    (230, 159, 0), (86, 180, 233), (0, 158, 115), (240, 228, 66), (204, 121, 167), (213, 94, 0), (95, 135, 255),
    (160, 215, 160), (255, 190, 140), (175, 150, 230), (120, 205, 205), (200, 200, 200),
)  # fmt: skip
_PALE = tuple((128 + r // 2, 128 + g // 2, 128 + b // 2) for r, g, b in _FULL)
COLOURS: tuple[tuple[int, int, int], ...] = _FULL + _PALE


def new_key() -> str:
    """Return a short random key: the identity of a volume, beam or draft, whatever it is called."""
    return secrets.token_hex(4)


@dataclass(frozen=True, eq=False)
class Contour(Value):
    """One closed line as it came in: `points_mm` float64 (n, 3) in patient axes, and the decimal strings they were
    written as ("" if unknown), so that what nobody touched leaves as it came."""

    LATER: ClassVar[Mapping[str, int]] = {"text": 2}

    points_mm: FrozenArray
    text: str = ""


@dataclass(frozen=True, eq=False)
class Volume(Value):
    """A named 3-D region.

    Parameters
    ----------
    key : identity, see ``new_key``
    name : shown name, TG-263 form wanted (a finding says when it is not)
    role : one of ROLES (ICRU 50/62/83 and DICOM interpreted types)
    colour : (red, green, blue), 0..255
    coverage : where it is
    density_g_cm3 : mass density that replaces the CT's inside the volume, or None
    original : contours as they came from an RT Structure Set, kept until the volume is edited; else ()
    note : how it was made ("interpolated", "margin 5 mm of GTV")
    recipe : what it is derived from, or None; whether it is current is for ``engine.case.derived`` to compare
    """

    LATER: ClassVar[Mapping[str, int]] = {"recipe": 2}

    key: str
    name: str
    role: str
    colour: tuple[int, int, int]
    coverage: Coverage
    density_g_cm3: float | None = None
    original: tuple[Contour, ...] = ()
    note: str = ""
    recipe: Recipe | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.role not in ROLES:
            raise InputError(say("role {role!r} is not one of {roles}", role=self.role, roles=", ".join(ROLES)), self.name)
        if not self.name.strip() or len(self.name) > 64:
            raise InputError("a volume's name needs 1 to 64 characters", repr(self.name))
        if self.density_g_cm3 is not None and not 0 <= self.density_g_cm3 <= 25:
            raise InputError(
                say("a density of {density_g_cm3} g/cm³ is not between 0 and 25", density_g_cm3=self.density_g_cm3),
                self.name,
            )

    @property
    def is_target(self) -> bool:
        """Whether the role is one that is to be treated."""
        return self.role in TARGET_ROLES

    def with_coverage(self, coverage: Coverage, note: str | None = None) -> Volume:
        """Return the volume with new coverage; contours that came in and a recipe no longer hold and are let go."""
        return self.but(coverage=coverage, original=(), recipe=None, note=self.note if note is None else note)


def tg263_form(name: str) -> bool:
    """Whether a name has the form AAPM TG-263 asks for: at most 16 characters out of letters, digits, _ - + ! ~ ^ ."""
    return bool(re.fullmatch(r"[A-Za-z_][A-Za-z0-9_.+!^~-]{0,15}", name))
