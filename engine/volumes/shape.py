"""Operations on a volume and its quality, as requests that run beside the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.base.errors import GeometryError, InputError
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
    other : the second volume of "union", "intersection", "subtract", "keep inside" and "keep outside"
    image : for "threshold"
    numbers : "margin": left, right, anterior, posterior, inferior, superior mm (all >= 0 grows, all <= 0 shrinks);
        "ring": gap mm, width mm; "smooth": width mm; "fill holes": largest hole cm2, 0 for every hole;
        "remove islands": smallest piece cm3 to keep, 0 for only the largest; "keep inside", "keep outside": gap mm;
        "threshold": lowest and highest HU; "copy slice": from plane, to plane
    """

    what: str
    coverage: Coverage
    other: Coverage | None = None
    image: CtImage | None = None
    numbers: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Shaped(Value):
    """What an operation made; `inputs` is the fingerprint of its request."""

    coverage: Coverage
    inputs: Fingerprint


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
    return Shaped(do(request, report), request.fingerprint)


def check_volumes(request: CheckVolumes, report: Report = quiet) -> tuple[Evidence, ...]:
    """Return the evidence found in each volume, in order, and then that of the pairs they are in."""
    limits = replace(DEFAULT_LIMITS, skin_mm=request.skin_mm)
    n = len(request.volumes)
    seen: list[Evidence] = []
    for i, volume in enumerate(request.volumes):
        report(0.8 * i / n, say("Looking at {volume}", volume=volume.name))
        seen += quality(volume, request.body, limits)
    every = request.among or request.volumes
    return (*seen, *overlaps(every, limits, report=part(report, 0.8, 1.0), touched=request.volumes))


def _margin(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes import margins

    left, right, ant, post, inf, sup = r.numbers
    six = (left, right, ant, post, inf, sup)
    if all(m >= 0 for m in six):
        return margins.grow(r.coverage, six, report)
    if all(m <= 0 for m in six):
        return margins.shrink(r.coverage, (-left, -right, -ant, -post, -inf, -sup), report)
    raise GeometryError(
        say("margins {six} mm grow and shrink at once", six=six), "margin", "Do it in two steps: first widen, then narrow."
    )


def _ring(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes import margins

    gap, width = r.numbers
    if gap < 0 or width <= 0:
        raise GeometryError("a ring needs a gap of 0 or more and a width above 0", "ring", "Give it such numbers.")
    inner = margins.grow(r.coverage, (gap,) * 6, part(report, 0.0, 0.5)) if gap else r.coverage
    return margins.subtract(margins.grow(r.coverage, (gap + width,) * 6, part(report, 0.5, 1.0)), inner)


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


def _fill_holes(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import fill_holes

    return fill_holes(r.coverage, r.numbers[0] or float("inf"), report)


def _remove_islands(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import remove_islands

    return remove_islands(r.coverage, r.numbers[0] or None, report)


def _copy_slice(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import copy_slice

    return copy_slice(r.coverage, int(r.numbers[0]), int(r.numbers[1]))


def _threshold(r: ShapeVolume, report: Report) -> Coverage:
    from engine.volumes.tidy import threshold_in

    if r.image is None:
        raise InputError("it needs the image", r.what)
    return threshold_in(r.image, r.coverage, r.numbers[0], r.numbers[1])


OPERATIONS: dict[str, Callable[[ShapeVolume, Report], Coverage]] = {
    "interpolate": _interpolate,
    "copy slice": _copy_slice,
    "smooth": _smooth,
    "fill holes": _fill_holes,
    "remove islands": _remove_islands,
    "margin": _margin,
    "ring": _ring,
    "union": _combined("union"),
    "intersection": _combined("intersection"),
    "subtract": _combined("subtract"),
    "keep inside": _kept("keep_inside"),
    "keep outside": _kept("keep_outside"),
    "threshold": _threshold,
}
NUMBERS = {
    "copy slice": 2,
    "smooth": 1,
    "fill holes": 1,
    "remove islands": 1,
    "margin": 6,
    "ring": 2,
    "keep inside": 1,
    "keep outside": 1,
    "threshold": 2,
}
NEED_OTHER = ("union", "intersection", "subtract", "keep inside", "keep outside")
