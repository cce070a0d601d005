"""The demonstration patients by name."""

from __future__ import annotations

from engine.base.errors import InputError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.phantoms.phantom import Phantom

NAMES = ("thorax", "head", "pelvis")


def make(name: str, report: Report = quiet) -> Phantom:
    """Return a demonstration patient by name.

    Parameters
    ----------
    name : one of NAMES

    Raises
    ------
    InputError
        If there is no patient of that name.
    Cancelled
        If `report` asks to stop.
    """
    # Each patient's module compiles or loads numerical libraries: only the one asked for is imported.
    if name == "thorax":
        from engine.phantoms.patient_thorax import thorax as build
    elif name == "head":
        from engine.phantoms.patient_head import head as build
    elif name == "pelvis":
        from engine.phantoms.patient_pelvis import pelvis as build
    else:
        raise InputError(
            say("there is no demonstration patient {name!r}", name=name),
            do=say("Use one of {names}.", names=", ".join(NAMES)),
        )
    return build(report)


def thorax(report: Report = quiet) -> Phantom:
    """Return the patient with a lung tumour beside the spine."""
    return make("thorax", report)


def head(report: Report = quiet) -> Phantom:
    """Return the patient with a mass between brainstem and optic pathway."""
    return make("head", report)


def pelvis(report: Report = quiet) -> Phantom:
    """Return the patient with a cancer of the prostate."""
    return make("pelvis", report)
