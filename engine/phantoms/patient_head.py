"""The demonstration patient of the head: a mass beside the sella, between pons and optic pathway."""

from __future__ import annotations

import numpy as np

from engine.base.progress import Report, part, quiet
from engine.base.words import say
from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.finish import make_volumes, paint_couch, scan
from engine.phantoms.goals import NOTE, head_plan
from engine.phantoms.head_brain import paint_brain, paint_lesion, paint_sight
from engine.phantoms.head_face import paint_face
from engine.phantoms.head_skull import paint_frame
from engine.phantoms.phantom import Phantom
from engine.phantoms.second import resonance_like
from engine.phantoms.solids import tube
from engine.space.grid import Grid

PLANES, PIXEL_MM = 112, 0.9
GRID = Grid((-229.95, -229.95, -189.0), (PIXEL_MM, PIXEL_MM, 3.0), (PLANES, 512, 512))
COUCH_TOP_MM = 124.0
MIDDLE_MM = (0.0, -12.0, 45.0)  # of the brain, about which the second image lies


def head(report: Report = quiet) -> Phantom:
    """Return the head patient; the same every time (on one machine, to the last bit).

    Raises
    ------
    Cancelled
        If `report` asks to stop.
    """
    canvas = Canvas(GRID, report, 150, say("building skull and face"))
    frame = paint_frame(canvas)
    face = paint_face(canvas, frame.body)
    canvas.words = say("building the brain")
    brain = paint_brain(canvas, frame)
    sight = paint_sight(canvas, frame.body)
    gtv = paint_lesion(canvas, brain, sight, frame)
    canvas.words = say("building the supports")
    couch = paint_couch(canvas, COUCH_TOP_MM)
    rest = _supports(canvas, frame.body)
    ctv = canvas.without(canvas.grown(gtv, 3.0), canvas.union([brain.stem, sight.chiasm]), 0.0)
    ptv = canvas.grown(gtv, 6.0)
    image = scan(canvas, frame.body, 5.0, 7002, "Synthetic head (demonstration)", part(report, 0.9, 0.98))
    report(0.98, "collecting the volumes")
    volumes = make_volumes(
        "head",
        canvas,
        (
            ("GTV", "GTV", gtv),
            ("CTV", "CTV", ctv),
            ("PTV", "PTV", ptv),
            ("Brainstem", "OAR", brain.stem),
            ("OpticChiasm", "OAR", sight.chiasm),
            ("OpticNrv_L", "OAR", sight.nerves[0]),
            ("OpticNrv_R", "OAR", sight.nerves[1]),
            ("Eye_L", "OAR", sight.eyes[0]),
            ("Eye_R", "OAR", sight.eyes[1]),
            ("Lens_L", "OAR", sight.lenses[0]),
            ("Lens_R", "OAR", sight.lenses[1]),
            ("Brain", "OAR", brain.whole),
            ("SpinalCord", "OAR", canvas.without(brain.cord, brain.stem)),
            ("Pituitary", "OAR", sight.pituitary),
            ("Parotid_L", "OAR", face.parotids[0]),
            ("Parotid_R", "OAR", face.parotids[1]),
            ("Body", "EXTERNAL", frame.body),
            ("CouchSurface", "SUPPORT", couch),
            ("Headrest", "SUPPORT", rest),
        ),
    )
    second = resonance_like(image, MIDDLE_MM, say("Synthetic: like an MR (demonstration)"))
    return Phantom("head", "Demonstration^Head", "HALFSHADE-HEAD", "F", NOTE, image, volumes, head_plan(), second)


def _supports(canvas: Canvas, body: Region) -> Region:
    """Paint a foam rest under head and neck and a thin mask over the face; return the rest."""
    block = canvas.loft_box((0.0, 84.0, -18.0), (86.0, 39.0, 112.0), 14.0)
    rest = canvas.without(block, body, 0.6)
    canvas.paint(rest, -925 + 8 * canvas.texture(rest.box, 6.0, 650))
    skin = Region(rest.box, np.maximum(rest.distance, -1.3 - rest.distance))
    canvas.paint(canvas.common(skin, Region(block.box, -1.5 - block.distance)), -700.0, 1.2)
    x, y, z = canvas.axes(body.box)
    edge = np.maximum(np.maximum(y - 24.0, z - 112.0), -98.0 - z)
    mesh = np.abs(body.distance - 3.4) - 0.7
    mask = Region(body.box, np.asarray(np.maximum(mesh, edge + 0 * x), dtype=np.float32))
    holes = np.clip(0.75 + 0.4 * canvas.texture(body.box, 6.0, 651), 0.3, 1.0)
    canvas.paint(mask, -560.0, 1.4, holes)
    rim = canvas.tubes(
        [tube(((s * 86, 26, -96), (s * 92, 26, 0), (s * 84, 26, 104)), 2.6) for s in (-1.0, 1.0)], (1.6, 1.0, 1.0)
    )
    canvas.paint(canvas.without(rim, body, 2.0), -420.0, 1.3)
    return rest
