"""The operations on a volume in groups: their words, what they ask for, and what they need."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

MM, DEGREES, HU = "mm", "\u00b0", "HU"


@dataclass(frozen=True)
class Number:
    """A number an operation asks for."""

    words: str
    value: float
    low: float
    high: float
    unit: str
    decimals: int = 1


@dataclass(frozen=True)
class Operation:
    """What the form shows for an operation.

    Parameters
    ----------
    other : words beside the second volume, "" if it takes none
    anywhere : words for doing without the second volume, "" if it needs one
    fresh : it offers a new volume first
    needs_shape : it is done to the active volume, which must hold something
    finds : it finds volumes of its own, so that the choice where to put them falls away
    """

    name: str
    words: str
    hint: str
    numbers: tuple[Number, ...] = ()
    other: str = ""
    anywhere: str = ""
    fresh: bool = False
    needs_shape: bool = True
    finds: bool = False


def _tr(text: str) -> str:
    return QCoreApplication.translate("VolumeOperations", text)


def groups() -> tuple[tuple[str, tuple[Operation, ...]], ...]:
    """Return (heading, operations) in the order they are offered."""
    return (
        (_tr("Slices"), _slices()),
        (_tr("Surface and pieces"), _surface()),
        (_tr("Size and place"), _size()),
        (_tr("With a second volume"), _two()),
        (_tr("From the CT"), _ct()),
    )


def _slices() -> tuple[Operation, ...]:
    return (
        Operation("interpolate", _tr("Fill missing slices"), _tr("Interpolates between the painted slices.")),
        Operation("copy above", _tr("Copy from the slice above"), _tr("Towards the head; replaces the slice shown.")),
        Operation("copy below", _tr("Copy from the slice below"), _tr("Towards the feet; replaces the slice shown.")),
        Operation("copy up", _tr("Copy to the slice above"),
                  _tr("Replaces the next one towards the head and goes there.")),
        Operation("copy down", _tr("Copy to the slice below"),
                  _tr("Replaces the next one towards the feet and goes there.")),
    )  # fmt: skip


def _surface() -> tuple[Operation, ...]:
    width = (Number(_tr("Width"), 2.0, 0.1, 20, MM),)
    return (
        Operation("smooth", _tr("Smooth each slice"), _tr("Rounds each line and keeps its area."), width),
        Operation("smooth through", _tr("Smooth in all directions"),
                  _tr("Rounds the surface through the slices too, in true mm, and keeps the volume."), width),
        Operation("fill holes", _tr("Fill holes in slices"), _tr("Closes holes within a slice; 0 closes all."),
                  (Number(_tr("Up to"), 0.0, 0, 500, "cm\u00b2"),)),
        Operation("fill cavities", _tr("Fill closed cavities"),
                  _tr("Fills what is closed in on every side, through the slices too; 0 fills all."),
                  (Number(_tr("Up to"), 0.0, 0, 1000, "cm\u00b3"),)),
        Operation("remove islands", _tr("Remove small pieces"),
                  _tr("Drops small separate pieces; 0 keeps only the largest."),
                  (Number(_tr("Smaller than"), 0.5, 0, 1000, "cm\u00b3"),)),
        Operation("keep largest", _tr("Keep the largest piece"), _tr("Drops every other separate piece.")),
    )  # fmt: skip


def _size() -> tuple[Operation, ...]:
    sides = (_tr("Left"), _tr("Right"), _tr("Anterior"), _tr("Posterior"), _tr("Inferior"), _tr("Superior"))
    ways = tuple(Number(w, 0.0, -500, 500, MM) for w in (_tr("To left"), _tr("To back"), _tr("To head")))
    turns = tuple(Number(w, 0.0, -180, 180, DEGREES) for w in (_tr("About x"), _tr("About y"), _tr("About z")))
    return (
        Operation("margin", _tr("Margin"), _tr("Grows by six distances; negative ones shrink."),
                  tuple(Number(s, 5.0, -100, 100, MM) for s in sides), fresh=True),
        Operation("ring", _tr("Ring"),
                  _tr("A shell around it from the gap on (negative: inside it), as thick as the width."),
                  (Number(_tr("Gap"), 3.0, -100, 100, MM), Number(_tr("Width"), 10.0, 0.5, 100, MM)),
                  _tr("Only inside"), _tr("Anywhere"), fresh=True),
        Operation("move", _tr("Move and turn"),
                  _tr("Moves it, after turning it about its centre: x points left, y to the back, z to the head."),
                  (*ways, *turns)),
    )  # fmt: skip


def _two() -> tuple[Operation, ...]:
    b = _tr("Volume B")
    gap = (Number(_tr("Gap"), 3.0, 0, 100, MM),)
    return (
        Operation("union", _tr("Combine: A or B"), _tr("What lies in either. A is the active volume."), (), b),
        Operation("intersection", _tr("Combine: A and B"), _tr("What lies in both. A is the active volume."), (), b),
        Operation("subtract", _tr("Combine: A without B"), _tr("What lies in A but not in B."), (), b),
        Operation("either alone", _tr("Combine: A or B, not both"), _tr("What lies in one of them only."), (), b),
        Operation("keep outside", _tr("Keep a gap to another"),
                  _tr("Keeps the part of A at least the gap away from B."), gap, b),
        Operation("keep inside", _tr("Keep inside another"), _tr("Keeps the part of A at least the gap inside B."), gap, b),
        Operation("skin", _tr("Keep a gap to the skin"), _tr("Keeps the part of A at least the gap inside the body."),
                  (Number(_tr("Gap"), 5.0, 0, 100, MM),)),
    )  # fmt: skip


def _ct() -> tuple[Operation, ...]:
    span = (Number(_tr("From"), -100, -1024, 3071, HU, 0), Number(_tr("To"), 200, -1024, 3071, HU, 0))
    return (
        Operation("body", _tr("Body outline"), _tr("Finds the patient's outline without the couch."),
                  (Number(_tr("Above"), -300, -1000, 500, HU, 0),), needs_shape=False),
        Operation("lungs", _tr("Lungs"),
                  _tr("Finds the left and the right lung without the airways: a start to correct by hand."),
                  (Number(_tr("Below"), -400, -900, -150, HU, 0),), needs_shape=False, finds=True),
        Operation("bone", _tr("Bone"), _tr("Finds what is dense inside the body: a start to correct by hand."),
                  (Number(_tr("Above"), 200, 50, 2000, HU, 0),), needs_shape=False, finds=True),
        Operation("ct range", _tr("CT-number range"),
                  _tr("Finds the pixels inside the range, in the whole image or inside a volume."),
                  span, _tr("Look inside"), _tr("The whole image"), fresh=True, needs_shape=False),
        Operation("threshold", _tr("Keep a CT-number range of A"), _tr("Keeps the pixels of A inside the range."), span),
    )  # fmt: skip
