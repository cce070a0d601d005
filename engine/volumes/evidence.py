"""What can be seen of a volume: one Evidence each, the thresholds, the rule behind it and how grave it is.

Light on purpose: the screens sort and word evidence by it without loading compiled code.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.words import say

Point = tuple[float, float, float]

EMPTY = "volume-empty"
GAP = "volume-gap"
SINGLE = "volume-single-slice"
ISLAND = "volume-island"
HOLE = "volume-hole"
OUTSIDE = "volume-outside-body"
NEAR_SKIN = "target-near-skin"
OVERLAP = "volumes-overlap"
NAME = "volume-name"
SAME_NAME = "volume-name-twice"
JUMP = "volume-area-jump"
SAME_PLACE = "volume-twice"
SIDE = "volume-side"
SIZE = "volume-size"
SCAN_END = "volume-scan-end"
UNLISTED = "volume-name-unlisted"
CROSSING = "volume-lines-cross"

# What is told in passing; a target at the end of the scan is more than that.
_NOTES = frozenset((EMPTY, NAME, UNLISTED, HOLE, SIZE, SCAN_END))

RULES = {
    EMPTY: say("A volume in the list holds something or is removed."),
    GAP: say("A volume has no missing slice between its first and its last."),
    SINGLE: say("A volume reaches over more than one slice."),
    ISLAND: say("A volume has no stray piece apart from its main body."),
    HOLE: say("A volume has no hole that was not meant."),
    OUTSIDE: say("A target or organ lies inside the body outline."),
    NEAR_SKIN: say("A target keeps its distance from the skin, or the build-up there is dealt with."),
    OVERLAP: say(
        "Two organs share space only where one is part of the other; couch and bolus share none with what lies in the "
        "body, the couch none with the body, and a region to be spared none with a target."
    ),
    NAME: say("Names have the form AAPM TG-263 asks for."),
    SAME_NAME: say("Names are unique, whatever the letter case (AAPM TG-263)."),
    JUMP: say("The area of a volume changes smoothly from slice to slice."),
    SAME_PLACE: say("No volume is there twice."),
    SIDE: say("A volume lies on the side of the body that its name says."),
    SIZE: say("A volume has a size that its name lets expect; the range is from memory and only a hint."),
    SCAN_END: say("The scan reaches beyond a volume, so that nothing of it is missing."),
    UNLISTED: say("A name is one of AAPM TG-263, so that it means the same everywhere."),
    CROSSING: say("The lines a volume came in with do not cross, so that its inside is clear."),
}


@dataclass(frozen=True)
class Limits:
    """Thresholds (all common practice, none from a publication).

    Parameters
    ----------
    island_cm3 : a separate piece smaller than this, and smaller than island_share of the whole, is an island
    hole_cm2 : holes in a slice at least this large are told
    outside_cm3 : volume outside the body worth telling
    skin_mm : distance from the skin at which a target loses dose to build-up and fall-off
    overlap_cm3 : common volume worth telling
    jump : area ratio of neighbouring slices away from both ends
    jump_cm2 : smallest change of area that counts as a jump
    same_share : Dice coefficient from which two volumes are one place painted twice
    part_share : share of the smaller one from which it counts as part of the larger: an organ in an organ
    border_share : share of the smaller one up to which they only meet: both hold some of the pixels between them
    side_mm : how far beyond the middle of the body a volume may have its centre
    crossing_mm : lines that pass each other by no more are taken to touch
    """

    island_cm3: float = 0.5
    island_share: float = 0.05
    hole_cm2: float = 0.1
    outside_cm3: float = 0.1
    skin_mm: float = 5.0
    skin_cm3: float = 0.1
    overlap_cm3: float = 0.05
    jump: float = 2.0
    jump_cm2: float = 2.0
    same_share: float = 0.995
    part_share: float = 0.5
    border_share: float = 0.01
    side_mm: float = 3.0
    crossing_mm: float = 0.02


DEFAULT_LIMITS = Limits()


@dataclass(frozen=True)
class Evidence:
    """One thing seen.

    Parameters
    ----------
    code : one of the constants of this module
    volume_key : the volume it concerns
    planes : slices it concerns, ascending
    point_mm : a place to look at, or None
    number : how much, in the unit the words name; 0 where there is none
    words : one sentence without the volume's name
    other_key : the second volume of a pair, or ""
    """

    code: str
    volume_key: str
    planes: tuple[int, ...]
    point_mm: Point | None
    number: float
    words: str
    other_key: str = ""


def severity_of(code: str, target: bool) -> str:
    """Return how grave evidence is by itself: "warn" or "note"."""
    return "note" if code in _NOTES and not (code == SCAN_END and target) else "warn"
