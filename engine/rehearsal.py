"""What the hand will ask for, done once on a small cylinder of water, so that its kernels are compiled beforehand.

A kernel is compiled when it is first called, for the kinds of arrays it is called with; each takes from a tenth of a second
to more than one. So each part of the work is rehearsed through the very functions the screens call. Parts named in BESIDE
run on the compute thread alone: for them it is enough that the kernels lie on disk.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import lru_cache
from hashlib import blake2b
from pathlib import Path

import numba
import numpy as np
from llvmlite.binding import get_host_cpu_name

from engine.base import kernel_store
from engine.base.values import own_array
from engine.case import edits
from engine.case.case import Case, Patient, Prescription
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

GRID = Grid((-45.0, -45.0, -30.0), (3.0, 3.0, 5.0), (13, 31, 31))
MACHINE = "generic-6"
BODY_MM, LUNG_MM, TARGET_MM, BONE_MM = 42.0, 17.0, 12.0, 6.0


def outlines() -> None:
    """Read the lines around a volume on every kind of plane."""
    from engine.volumes.outline import outlines, section, tile_outlines

    target = _coverage("target")
    tile_outlines(target.tiles[0])
    outlines(section(target, "x", 15), 0, 0)


def painting() -> None:
    """Draw with every tool."""
    from engine.volumes import ball, paint, region

    paint.warm_up()
    ball.warm_up()
    region.warm_up()


def plans() -> None:
    """Weigh a plan and read it wherever it can be read."""
    from engine.dose.dose import Dose
    from engine.evaluation import indices, live

    live.warm_up()
    gy = own_array(np.linspace(0, 2, np.prod(GRID.shape), dtype=np.float32).reshape(GRID.shape))
    indices.volume_above(Dose(gy, GRID), None, (1.0,))


def views() -> None:
    """Look at a second image, from the source of a beam and into the room; fit leaves."""
    from engine.beams import conform
    from engine.image import quick_view, second_image
    from engine.volumes import shell

    second_image.warm_up()
    conform.warm_up()
    quick_view.warm_up()
    shell.warm_up()


def shapes() -> None:
    """Do every operation on volumes, look for what is wrong with them and compare two."""
    from engine.volumes.crossing import crossings
    from engine.volumes.likeness import CompareVolumes, compare_volumes
    from engine.volumes.outer import FindBody, find_body
    from engine.volumes.region import GrowRegion, grow_region
    from engine.volumes.seeds import FindInside, find_inside
    from engine.volumes.shape import CheckVolumes, ShapeVolume, check_volumes, shape_volume

    case = _water()
    body, target, lung = map(_coverage, ("body", "target", "lung"))
    for what, numbers in OPERATIONS:
        shape_volume(ShapeVolume(what, target, lung, case.image, numbers))
    find_body(FindBody(case.image))
    find_inside(FindInside("lungs", case.image, body, -400.0))
    find_inside(FindInside("bone", case.image, body, 200.0))
    grow_region(GrowRegion(case.image, (6, 14, 14), (-50.0, 50.0, 4.0, 200.0, 100.0), target))
    check_volumes(CheckVolumes(case.volumes, case.body))
    compare_volumes(CompareVolumes(target, lung))
    crossings([np.array(((0.0, 0.0), (5.0, 5.0), (5.0, 0.0), (0.0, 5.0)))])


OPERATIONS: tuple[tuple[str, tuple[float, ...]], ...] = (
    ("interpolate", ()),
    ("copy slice", (6, 7)),
    ("smooth", (4.0,)),
    ("smooth through", (4.0,)),
    ("fill holes", (0.0,)),
    ("fill cavities", (0.0,)),
    ("remove islands", (0.1,)),
    ("margin", (4.0, 4.0, 4.0, 4.0, 4.0, 4.0)),
    ("margin", (5.0, 3.0, -2.0, 4.0, -3.0, 4.0)),
    ("margin", (-3.0, -3.0, -3.0, -3.0, -3.0, -3.0)),
    ("move", (2.0, 1.0, 3.0, 5.0, 3.0, 2.0)),
    ("ring", (2.0, 4.0)),
    ("ring inside", (2.0, 4.0)),
    ("union", ()),
    ("intersection", ()),
    ("subtract", ()),
    ("either alone", ()),
    ("keep inside", (2.0,)),
    ("keep outside", (2.0,)),
    ("threshold", (-50.0, 50.0)),
    ("ct range", (-50.0, 50.0)),
)


def doses() -> None:
    """Compute the dose of a plan, balance its weights, see a radiograph, make an arc and find a collimator angle."""
    from engine.beams.collimator import CollimatorRequest, best_collimator
    from engine.beams.conformal_arc import ArcRequest, make_arc
    from engine.case.requests import dose_requests
    from engine.dose.calculate import calculate
    from engine.image.projection import Radiograph, radiograph
    from engine.optimise.balance import BalanceRequest, balance

    case = _planned()
    draft, target = case.drafts[0], _coverage("target")
    beam, machine = draft.beams[0], case.machines[0]
    margins = (5.0, 5.0, 5.0, 5.0)
    make_arc(ArcRequest(beam, target, machine, margins, "HFS", 340.0, 20.0, "CW"))
    best_collimator(CollimatorRequest(beam, target, machine, margins, "HFS"))
    radiograph(Radiograph(case.image, beam, machine.sad_mm, 80.0, 5.0))
    for quality in ("quick", "fine"):
        made = tuple(calculate(r) for r in dose_requests(case, draft, quality))
    balance(BalanceRequest(made, case.volumes, draft.goals, draft.weights))


# What is done on the screen thread and must be at hand in this process, and what is done beside it, in the order of need.
# Two lines of work, so that two processors share them.
SCREEN: dict[str, Callable[[], None]] = {"outlines": outlines, "painting": painting, "plans": plans, "views": views}
BESIDE: dict[str, Callable[[], None]] = {"shapes": shapes, "doses": doses}
LINES: tuple[tuple[str, ...], ...] = (("outlines", "shapes", "views"), ("painting", "plans", "doses"))


def rehearse(part: str) -> None:
    """Do a part of the work, named in SCREEN or BESIDE, once."""
    (SCREEN | BESIDE)[part]()


def is_done() -> bool:
    """Return whether all parts were rehearsed on this machine with the kernels as they are now."""
    return kernel_store.is_marked(_mark())


def note_done() -> None:
    """Remember that all parts were rehearsed."""
    kernel_store.mark(_mark())


def _mark() -> str:
    """Return a name for what was rehearsed, by which compiler and for which processor (home folders are shared)."""
    made_of = (Path(__file__).read_text(encoding="utf-8"), numba.__version__, sys.version, get_host_cpu_name())
    return f"rehearsed-{blake2b(repr(made_of).encode(), digest_size=8).hexdigest()}"


@lru_cache(maxsize=1)
def _water() -> Case:
    """Return a case of a cylinder of water with lungs, a bone and a target with a hole, one slice left out."""
    z, y, x = np.meshgrid(GRID.z_mm, GRID.y_mm, GRID.x_mm, indexing="ij")
    far = np.hypot(x, y)
    lungs = np.hypot(np.abs(x) - 22.0, y) < LUNG_MM
    bone = np.hypot(x, y - 28.0) < BONE_MM
    hu = np.where(far < BODY_MM, 0, -1000) - 800 * lungs + 700 * bone
    image = CtImage(own_array(hu.astype("<i2")), GRID, "HFS", description="rehearsal")
    case = Case(Patient("Rehearsal", synthetic=True), image)
    share = np.clip((TARGET_MM - np.sqrt(x**2 + y**2 + z**2)) / 3.0 + 0.5, 0.0, 1.0) - (np.hypot(x, y) < 3.0)
    share[GRID.shape[0] // 2 - 1] = 0.0
    for key, role, held in (
        ("body", "EXTERNAL", np.clip((BODY_MM - far) / 3.0 + 0.5, 0.0, 1.0)),
        ("lung", "OAR", lungs & (x > 0)),
        ("target", "PTV", share),
    ):
        data = np.rint(255 * np.clip(held, 0.0, 1.0)).astype(np.uint8)
        case = edits.with_volume(case, Volume(key, key, role, edits.next_colour(case), Coverage.from_dense(GRID, data)))
    return case


def _coverage(key: str) -> Coverage:
    return next(v.coverage for v in _water().volumes if v.key == key)


def _planned() -> Case:
    """Return the cylinder with an open beam, one with a wedge and an arc of a machine that shows every part of a source."""
    from engine.beams.arcs import arc_angles, with_arc
    from engine.beams.beam import Aperture, Beam
    from engine.beams.conform import conform
    from engine.beams.machine_file import load_machine
    from engine.evaluation.goals import Goal

    machine = load_machine(MACHINE)
    case = edits.with_machine(_water(), machine)
    target = _coverage("target")
    goals = (
        Goal("target", "D95%[Gy]", ">=", 95, 1),
        Goal("target", "Max[Gy]", "<=", 9),
        Goal("lung", "Mean[Gy]", "<=", 0.1),
    )
    draft = edits.new_draft(case).but(prescription=Prescription(60, 30, "target"), goals=goals)
    for gantry, wedge in ((0.0, ""), (75.0, "W30"), (180.0, "V30"), (300.0, "")):
        beam = Beam(f"g{gantry:g}", "", machine.name, (0.0, 0.0, 0.0), gantry, 10.0, 0.0, Aperture((-20, 20), (-20, 20)))
        beam = beam.but(aperture=conform(beam, target, machine, 5.0), wedge=wedge)
        if gantry == 300.0:
            angles = arc_angles(300.0, 320.0, "CW", 10.0)
            beam = with_arc(beam, angles, [beam.aperture] * len(angles), "CW")
        draft = edits.with_beam(draft, beam)
    return edits.with_draft(case, draft)
