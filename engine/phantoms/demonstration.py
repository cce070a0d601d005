"""Ask for a demonstration patient by name, as a job."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.progress import Report, quiet
from engine.base.values import Value
from engine.base.words import say
from engine.phantoms.phantom import Phantom


@dataclass(frozen=True, eq=False)
class MakeDemonstration(Value):
    """Ask for a synthetic patient: "thorax", "head" or "pelvis"."""

    name: str


def make_demonstration(request: MakeDemonstration, report: Report = quiet) -> Phantom:
    """Make the patient a request names.

    Raises
    ------
    InputError
        If there is no demonstration of that name.
    """
    from engine.phantoms import make

    report(0.0, say("Making the demonstration patient: {name}", name=request.name))
    return make(request.name, report)
