"""How a volume follows from others: an operation, its parents and its numbers, and which parents it was made from."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.errors import InputError
from engine.base.values import Fingerprint, Value
from engine.base.words import say

# The operations whose outcome depends on volumes and numbers alone, with how many parents and numbers they take.
FOLLOWING: dict[str, tuple[int, int]] = {
    "margin": (1, 6),
    "ring": (1, 2),
    "ring inside": (2, 2),
    "move": (1, 6),
    "smooth": (1, 1),
    "smooth through": (1, 1),
    "fill holes": (1, 1),
    "fill cavities": (1, 1),
    "remove islands": (1, 1),
    "keep largest": (1, 0),
    "union": (2, 0),
    "intersection": (2, 0),
    "subtract": (2, 0),
    "either alone": (2, 0),
    "keep inside": (2, 1),
    "keep outside": (2, 1),
}


@dataclass(frozen=True, eq=False)
class Recipe(Value):
    """What a derived volume is made of.

    Parameters
    ----------
    what : a key of FOLLOWING; the same words as in ``engine.volumes.shape``
    parents : keys of the volumes it is made from, A first
    numbers : of the operation, in its own units
    made_from : fingerprints of the parents' coverages it was last made from; () before the first time

    Raises
    ------
    InputError
        If no volume can follow by `what`, or parents or numbers are not as many as it takes.
    """

    what: str
    parents: tuple[str, ...]
    numbers: tuple[float, ...] = ()
    made_from: tuple[Fingerprint, ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.what not in FOLLOWING:
            raise InputError(say("no volume can follow another by {what!r}", what=self.what), "recipe")
        parents, numbers = FOLLOWING[self.what]
        if len(self.parents) != parents or len(set(self.parents)) != parents:
            raise InputError(say("it is made from {count} different volumes", count=parents), self.what)
        if len(self.numbers) != numbers:
            raise InputError(
                say("it needs {wanted} numbers, not {count}", wanted=numbers, count=len(self.numbers)),
                self.what,
                "Write one number for each, apart by spaces.",
            )

    def with_numbers(self, numbers: tuple[float, ...]) -> Recipe:
        """Return the recipe with other numbers, not yet made; one number stands for all six of a margin.

        Raises
        ------
        InputError
            If the numbers are not as many as the operation takes.
        """
        wanted = FOLLOWING[self.what][1]
        if self.what == "margin" and len(numbers) == 1:
            numbers = numbers * wanted
        return self.but(numbers=numbers, made_from=())


def words_of(recipe: Recipe, names: tuple[str, ...]) -> str:
    """Return the recipe in words, with the names of its parents."""
    a, b = names[0], names[-1]
    n = recipe.numbers
    first, last = (n[0], n[-1]) if n else (0.0, 0.0)
    if recipe.what == "margin":
        if len(set(n)) == 1:
            return say("{a} with {first:+g} mm", a=a, first=first)
        left, right, front, back, feet, head = n
        return say(
            "{a} with left {left:g}, right {right:g}, anterior {front:g}, posterior {back:g}, inferior {feet:g}, "
            "superior {head:g} mm",
            a=a, left=left, right=right, front=front, back=back, feet=feet, head=head,
        )  # fmt: skip
    return {
        "ring": say("ring of {last:g} mm, {first:g} mm around {a}", a=a, first=first, last=last),
        "ring inside": say("ring of {last:g} mm, {first:g} mm around {a}, inside {b}", a=a, b=b, first=first, last=last),
        "move": say("{a} moved by {way} mm, turned by {turns} degrees", a=a, way=_listed(n[:3]), turns=_listed(n[3:])),
        "smooth through": say("{a} smoothed over {first:g} mm through its slices", a=a, first=first),
        "fill cavities": say("{a} without cavities", a=a),
        "keep largest": say("the largest piece of {a}", a=a),
        "either alone": say("{a} or {b}, not both", a=a, b=b),
        "smooth": say("{a} smoothed over {first:g} mm", a=a, first=first),
        "fill holes": say("{a} without holes", a=a),
        "remove islands": say("{a} without islands", a=a),
        "union": say("{a} or {b}", a=a, b=b),
        "intersection": say("{a} and {b} at once", a=a, b=b),
        "subtract": say("{a} without {b}", a=a, b=b),
        "keep inside": say("{a} inside {b} by {first:g} mm", a=a, b=b, first=first),
        "keep outside": say("{a} away from {b} by {first:g} mm", a=a, b=b, first=first),
    }[recipe.what]


def _listed(numbers: tuple[float, ...]) -> str:
    return ", ".join(f"{n:g}" for n in numbers)
