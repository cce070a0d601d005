"""The demonstration patient of the chest: a spiculated tumour of the right lower lobe beside the spine."""

from __future__ import annotations

import numpy as np
from scipy.ndimage import label

from engine.base.progress import Report, part, quiet
from engine.base.words import say
from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.finish import make_volumes, paint_couch, scan
from engine.phantoms.goals import NOTE, thorax_plan
from engine.phantoms.phantom import Phantom
from engine.phantoms.solids import Field, noise, tube
from engine.phantoms.thorax_cage import COUCH_TOP_MM, Cage, paint_cage
from engine.phantoms.thorax_organs import paint_middle, shape_diaphragm, shape_heart, shape_middle
from engine.phantoms.trees import grow_tree, scatter
from engine.space.grid import Grid

PLANES, SPACING = 112, (0.9765625, 0.9765625, 3.0)
GRID = Grid((-249.51171875, -249.51171875, -186.0), SPACING, (PLANES, 512, 512))
TUMOUR_MM = (-50.0, 46.0, -38.0)


def thorax(report: Report = quiet) -> Phantom:
    """Return the chest patient; the same every time (on one machine, to the last bit).

    Raises
    ------
    Cancelled
        If `report` asks to stop.
    """
    canvas = Canvas(GRID, report, 110, say("building the chest wall"))
    cage = paint_cage(canvas)
    canvas.words = say("building the lungs")
    heart = shape_heart(canvas)
    middle = shape_middle(canvas, heart, cage)
    belly = shape_diaphragm(canvas)
    lungs = _lungs(canvas, cage, middle, belly)
    for i, lung in enumerate(lungs):
        _paint_lung(canvas, lung, i)
    canvas.words = say("building the organs")
    organs = paint_middle(canvas, cage, heart, middle, belly)
    canvas.words = say("building the tumour")
    gtv = _tumour(canvas, lungs[1])
    ctv = canvas.without(canvas.grown(gtv, 6.0), canvas.union([cage.spine.bone, cage.ribs]), 0.0)
    ptv = canvas.grown(gtv, 6.0 + 7.0)
    couch = paint_couch(canvas, COUCH_TOP_MM)
    image = scan(canvas, cage.body, 11.0, 7001, "Synthetic chest, arms up (demonstration)", part(report, 0.9, 0.98))
    report(0.98, "collecting the volumes")
    both = canvas.without(canvas.union(lungs), gtv)
    volumes = make_volumes(
        "thorax",
        canvas,
        (
            ("GTV", "GTV", gtv),
            ("CTV", "CTV", ctv),
            ("PTV", "PTV", ptv),
            ("SpinalCord", "OAR", cage.spine.cord),
            ("Lung_L", "OAR", lungs[0]),
            ("Lung_R", "OAR", lungs[1]),
            ("Lungs-GTV", "OAR", both),
            ("Heart", "OAR", heart),
            ("Esophagus", "OAR", organs.gullet),
            ("Trachea", "OAR", organs.trachea),
            ("Body", "EXTERNAL", cage.body),
            ("CouchSurface", "SUPPORT", couch),
        ),
    )
    return Phantom("thorax", "Demonstration^Thorax", "HALFSHADE-THORAX", "M", NOTE, image, volumes, thorax_plan())


def _lungs(canvas: Canvas, cage: Cage, middle: Region, belly: Region) -> tuple[Region, Region]:
    """Return the left and the right lung: the cavity less what lies between and below."""
    space = canvas.without(canvas.without(cage.cavity, middle, soft_mm=6.0), belly, soft_mm=5.0)
    space = canvas.without(space, cage.spine.bone, 1.2)
    x, _, _ = canvas.axes(space.box)
    out = []
    for side in (1.0, -1.0):
        half = np.maximum(space.distance, np.asarray(2.0 - side * x, dtype=np.float32))
        out.append(_main_piece(Region(space.box, half)))
    return out[0], out[1]


def _main_piece(region: Region) -> Region:
    """Cut away crumbs that do not hang together with the largest piece."""
    mask = region.distance < 0.6
    names, count = label(mask)
    if count < 2:
        return region
    sizes = np.bincount(names.ravel())
    sizes[0] = 0
    crumbs = mask & (names != sizes.argmax())
    return Region(region.box, np.where(crumbs, np.float32(3.0), region.distance))


def _paint_lung(canvas: Canvas, lung: Region, index: int) -> None:
    _, y, z = canvas.axes(lung.box)
    side = 1.0 if index == 0 else -1.0
    seed = 200 + 20 * index
    tissue = (
        -822
        + 0.38 * y
        + 0.06 * (-z)
        + 12 * canvas.texture(lung.box, 30.0, seed)
        + 9 * canvas.texture(lung.box, 5.0, seed + 1)
    )
    canvas.paint(lung, np.asarray(tissue, dtype=np.float32))
    hilum = (side * 46.0, 2.0, -24.0)
    arteries = grow_tree(hilum, scatter(canvas, lung, 800, 4.0, seed + 2), 0.68, 2.7, 7.5, seed + 3)
    veins = grow_tree((side * 44.0, -4.0, -48.0), scatter(canvas, lung, 560, 5.0, seed + 4), 0.64, 2.7, 6.5, seed + 5)
    region = canvas.tubes([*arteries, *veins], reach_mm=2.5)
    canvas.paint(canvas.common(region, lung), 35.0, 1.1)
    airways = grow_tree((side * 50.0, 8.0, -34.0), scatter(canvas, lung, 46, 14.0, seed + 6), 1.0, 2.9, 3.6, seed + 7)
    tree = canvas.common(canvas.tubes(airways, reach_mm=2.5), lung)
    canvas.paint(tree.moved(0.8), -420.0, 1.2)
    canvas.paint(tree, -965.0)
    _fissures(canvas, lung, index, seed)


def _fissures(canvas: Canvas, lung: Region, index: int, seed: int) -> None:
    x, y, z = canvas.axes(lung.box)
    wave = 5.0 * noise(x, y, z, 50.0, seed + 8)
    oblique = np.abs((z + 30.0) * 0.62 - (y - 6.0) * 0.78 + wave)
    sheets = oblique
    if index == 1:
        front = ((z + 30.0) * 0.62 - (y - 6.0) * 0.78) > 0
        sheets = np.minimum(sheets, np.where(front, np.abs(z + 34 + 0.06 * (x + 60) + wave), 50.0))
    canvas.paint(canvas.common(Region(lung.box, np.asarray(sheets - 0.4, dtype=np.float32)), lung), -560.0, 1.5, 0.6)


def _tumour(canvas: Canvas, lung: Region) -> Region:
    """Paint an uneven mass with spicules that touches the pleura by the spine; return its gross volume."""
    main = canvas.ellipsoid(TUMOUR_MM, (15.5, 17.0, 18.5), (10.0, 15.0, 25.0), rough=(2.6, 13.0, 300))
    lobule = canvas.ellipsoid((-60.0, 38.0, -28.0), (9.5, 9.0, 10.0), rough=(1.8, 10.0, 301))
    mass = canvas.common(canvas.union([main, lobule], 6.0), lung.moved(0.4))
    rng = np.random.default_rng(302)
    spikes = []
    for _ in range(34):
        way = rng.normal(0, 1, 3)
        way /= np.linalg.norm(way)
        start = np.array(TUMOUR_MM) + 11.0 * way
        reach = rng.uniform(11.0, 22.0)
        bend = start + 0.5 * reach * way + rng.normal(0, 1.4, 3)
        spikes.append(tube((start, bend, start + reach * way), (2.6, 1.5, 0.5), 5))
    tails = canvas.common(canvas.tubes(spikes, reach_mm=3.0), lung)
    halo = mass.moved(5.0)
    haze: Field = np.clip(1 - (halo.distance + 5) / 5, 0, 1).astype(np.float32)
    canvas.paint(canvas.common(halo, lung), -610.0, 6.0, 0.45 * haze)
    canvas.paint(tails, 0.0, 1.2)
    canvas.paint(mass, 38 + 6 * canvas.texture(mass.box, 8.0, 303), 1.3)
    core = canvas.ellipsoid((-48, 47, -40), (6.5, 7, 8), rough=(1.5, 8.0, 304))
    canvas.paint(core, 22.0, 4.0)
    return mass
