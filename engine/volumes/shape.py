"""Operations on a volume and its quality, as requests that run beside the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Fingerprint, Value
from engine.base.words import say
from engine.image.ct import CtImage
from engine.volumes.coverage import Coverage
from engine.volumes.evidence import DEFAULT_LIMITS, Evidence
from engine.volumes.quality import overlaps, quality
from engine.volumes.volume import Volume


@dataclass(frozen=True, eq=False)
class ShapeVolume(Value):
    """Ask for an operation on a volume.

    Parameters
    ----------
    what : a key of OPERATIONS
    coverage : of the volume it is done to
    other : the second volume of the operations in NEED_OTHER; of "ct range", where to look (None: everywhere)
    image : for "threshold" and "ct range"
    numbers : "margin": left, right, anterior, posterior, inferior, superior mm, positive ones grow, negative ones shrink
        (see ``extent.change`` for both at once); "ring", "ring inside": gap mm (negative: begins inside), width mm;
        "smooth", "smooth through": width mm; "fill holes": largest hole cm2, "fill cavities": largest cavity cm3, 0 for
        every one; "remove islands": smallest piece cm3 to keep, 0 for only the largest; "keep inside", "keep outside":
        gap mm; "threshold", "ct range": lowest and highest HU; "copy slice": from plane, to plane; "move": mm towards
        left, posterior, superior, then degrees about these axes (see ``move.moved``)
    """

    what: str
    coverage: Coverage
    other: Coverage | None = None
    image: CtImage | None = None
    numbers: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Shaped(Value):
    """What an operation made; `inputs` is the fingerprint of its request, `note` a sentence on what it could not do."""

    coverage: Coverage
    inputs: Fingerprint
    note: str = ""


@dataclass(frozen=True, eq=False)
class CheckVolumes(Value):
    """Ask for what is to be seen in volumes, each against the body and the others.

    Parameters
    ----------
    body : the body outline, or None; what is to be seen of itself is told only if it is among the volumes
    among : all volumes in their order, for the pairs that the volumes are in; () for no pairs but their own
    skin_mm : nearer to the skin than this, a target is told; 0 for never
    """

    volumes: tuple[Volume, ...]
    body: Volume | None = None
    among: tuple[Volume, ...] = ()
    skin_mm: float = DEFAULT_LIMITS.skin_mm

    def __post_init__(self) -> None:
        super().__post_init__()
        if not 0.0 <= self.skin_mm <= 100.0:
            raise InputError(
                say("a distance of {mm:g} mm to the skin is not between 0 and 100 mm", mm=self.skin_mm), "findings"
            )


def shape_volume(request: ShapeVolume, report: Report = quiet) -> Shaped:
    """Do the operation.

    Raises
    ------
    InputError
        If there is no such operation, or it lacks its second volume, its image or its numbers.
    GeometryError
        If a number is out of range.
    """
    do = OPERATIONS.get(request.what)
    if do is None:
        raise InputError(say("there is no operation {what!r}", what=request.what), "volume")
    if request.what in NEED_OTHER and request.other is None:
        raise InputError("it needs a second volume", request.what, "Choose one.")
    wanted = NUMBERS.get(request.what, 0)
    if len(request.numbers) != wanted:
        raise InputError(
            say("it needs {wanted} numbers, not {count}", wanted=wanted, count=len(request.numbers)), request.what
        )
    note = NOTES.get(request.what)
    return Shaped(do(request, report), request.fingerprint, note(request) if note is not None else "")


def check_volumes(request: CheckVolumes, report: Report = quiet) -> tuple[Evidence, ...]:
    """Return the evidence found in each volume, in order, and then that of the pairs they are in."""
    limits = replace(DEFAULT_LIMITS, skin_mm=request.skin_mm)
    n = len(request.volumes)
    seen: list[Evidence] = []
    for i, volume in enumerate(request.volumes):
        seen += quality(volume, request.body, limits, part(report, 0.8 * i / n, 0.8 * (i + 1) / n))
    every = request.among or request.volumes
    return (*seen, *overlaps(every, limits, report=part(report, 0.8, 1.0), touched=request.volumes))


def _margin(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes import extent

    return extent.change(r.coverage, _six(r), report)


def _ring(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes import extent

    return extent.ring(r.coverage, r.numbers[0], r.numbers[1], report)


def _ring_inside(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes import margins

    assert r.other is not None
    return margins.intersection(_ring(r, report), r.other)


def _move(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.move import moved

    return moved(r.coverage, _six(r), report)


def _six(r: ShapeVolume) -> tuple[float, float, float, float, float, float]:
    a, b, c, d, e, f = r.numbers
    return a, b, c, d, e, f


def _margin_note(r: ShapeVolume) -> str:
    from engine.volumes import extent

    return extent.cut_words(extent.cut_sides(r.coverage, _six(r)))


def _ring_note(r: ShapeVolume) -> str:
    from engine.volumes import extent

    return extent.cut_words(extent.cut_sides(r.coverage, (r.numbers[0] + r.numbers[1],) * 6))


def _move_note(r: ShapeVolume) -> str:
    from engine.volumes import extent, move

    return extent.cut_words(move.cut_when_moved(r.coverage, _six(r)))


def _combined(name: str) -> Callable[[ShapeVolume, Report], Coverage]:
    def do(r: ShapeVolume, report: Report) -> Coverage:
        from engine.volumes import margins

        assert r.other is not None
        made: Coverage = getattr(margins, name)(r.coverage, r.other)
        return made

    return do


def _kept(name: str) -> Callable[[ShapeVolume, Report], Coverage]:
    def do(r: ShapeVolume, report: Report) -> Coverage:
        from engine.volumes import margins

        assert r.other is not None
        made: Coverage = getattr(margins, name)(r.coverage, r.other, r.numbers[0], report)
        return made

    return do


def _interpolate(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.between import interpolate

    return interpolate(r.coverage, report)


def _smooth(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import smooth

    return smooth(r.coverage, r.numbers[0], report)


def _smooth_through(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.stack import smooth_through

    return smooth_through(r.coverage, r.numbers[0], report)


def _fill_cavities(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.stack import fill_cavities

    return fill_cavities(r.coverage, r.numbers[0] or float("inf"), report)


def _fill_holes(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import fill_holes

    return fill_holes(r.coverage, r.numbers[0] or float("inf"), report)


def _remove_islands(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import remove_islands

    return remove_islands(r.coverage, r.numbers[0] or None, report)


def _keep_largest(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import remove_islands

    return remove_islands(r.coverage, None, report)


def _copy_slice(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import copy_slice

    return copy_slice(r.coverage, int(r.numbers[0]), int(r.numbers[1]))


def _threshold(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import threshold_in

    if r.image is None:
        raise InputError("it needs the image", r.what)
    return threshold_in(r.image, r.coverage, r.numbers[0], r.numbers[1])


def _ct_range(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.seeds import in_range

    if r.image is None:
        raise InputError("it needs the image", r.what)
    return in_range(r.image, r.numbers[0], r.numbers[1], r.other, report)


OPERATIONS: dict[str, Callable[[ShapeVolume, Report], Coverage]] = {
    "interpolate": _interpolate,
    "copy slice": _copy_slice,
    "smooth": _smooth,
    "smooth through": _smooth_through,
    "fill holes": _fill_holes,
    "fill cavities": _fill_cavities,
    "remove islands": _remove_islands,
    "keep largest": _keep_largest,
    "margin": _margin,
    "move": _move,
    "ring": _ring,
    "ring inside": _ring_inside,
    "union": _combined("union"),
    "intersection": _combined("intersection"),
    "subtract": _combined("subtract"),
    "either alone": _combined("either_alone"),
    "keep inside": _kept("keep_inside"),
    "keep outside": _kept("keep_outside"),
    "threshold": _threshold,
    "ct range": _ct_range,
}
NOTES: dict[str, Callable[[ShapeVolume], str]] = {
    "margin": _margin_note,
    "ring": _ring_note,
    "ring inside": _ring_note,
    "move": _move_note,
}
NUMBERS = {
    "copy slice": 2,
    "smooth": 1,
    "smooth through": 1,
    "fill holes": 1,
    "fill cavities": 1,
    "remove islands": 1,
    "margin": 6,
    "move": 6,
    "ring": 2,
    "ring inside": 2,
    "keep inside": 1,
    "keep outside": 1,
    "threshold": 2,
    "ct range": 2,
}
NEED_OTHER = ("union", "intersection", "subtract", "either alone", "ring inside", "keep inside", "keep outside")
