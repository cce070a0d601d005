"""The caution that stands on every window, page and command's help."""

from app.core.language import translated
from engine.base.words import say

PLAIN = say(
    "Research and education. Not a medical device. Every plan must be checked by qualified, licensed staff under local "
    "rules before it is used for anything."
)


def caution() -> str:
    """Return the caution in the person's language."""
    return translated(PLAIN)
