"""The demonstration patient of the pelvis: prostate between bladder and rectum."""

from __future__ import annotations

import numpy as np

from engine.base.progress import Report, part, quiet
from engine.base.words import say
from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.finish import make_volumes, paint_couch, scan
from engine.phantoms.goals import NOTE, pelvis_plan
from engine.phantoms.pelvis_frame import COUCH_TOP_MM, paint_frame
from engine.phantoms.pelvis_organs import paint_organs
from engine.phantoms.phantom import Phantom
from engine.space.grid import Grid

PLANES, PIXEL_MM = 114, 0.9765625
GRID = Grid((-249.51171875, -249.51171875, -150.0), (PIXEL_MM, PIXEL_MM, 3.0), (PLANES, 512, 512))


def pelvis(report: Report = quiet) -> Phantom:
    """Return the pelvis patient; the same every time (on one machine, to the last bit).

    Raises
    ------
    Cancelled
        If `report` asks to stop.
    """
    canvas = Canvas(GRID, report, 100, say("building muscles and bones"))
    frame = paint_frame(canvas)
    canvas.words = say("building the organs")
    organs = paint_organs(canvas, frame)
    couch = paint_couch(canvas, COUCH_TOP_MM)
    block = canvas.loft_box((0.0, 94.0, -160.0), (180.0, 17.6, 46.0), 10.0)
    rest = canvas.without(block, frame.body, 0.6)
    canvas.paint(rest, -950 + 8 * canvas.texture(rest.box, 6.0, 910))
    near = Region(
        organs.vesicles.box, np.maximum(organs.vesicles.distance, canvas.axes(organs.vesicles.box)[2] - np.float32(34.0))
    )
    ctv = canvas.union([organs.prostate, near])
    ptv = canvas.grown(ctv, 7.0)
    image = scan(canvas, frame.body, 12.0, 7003, "Synthetic pelvis, bladder full (demonstration)", part(report, 0.9, 0.98))
    report(0.98, "collecting the volumes")
    volumes = make_volumes(
        "pelvis",
        canvas,
        (
            ("Prostate", "CTV", organs.prostate),
            ("CTV", "CTV", ctv),
            ("PTV", "PTV", ptv),
            ("SeminalVes", "OAR", organs.vesicles),
            ("Rectum", "OAR", organs.rectum),
            ("Bladder", "OAR", organs.bladder),
            ("Femur_Head_L", "OAR", frame.heads[0]),
            ("Femur_Head_R", "OAR", frame.heads[1]),
            ("PenileBulb", "OAR", organs.bulb),
            ("Bowel_Small", "OAR", organs.bowel),
            ("Colon_Sigmoid", "OAR", organs.sigmoid),
            ("Body", "EXTERNAL", frame.body),
            ("CouchSurface", "SUPPORT", couch),
            ("KneeRest", "SUPPORT", rest),
        ),
    )
    return Phantom("pelvis", "Demonstration^Pelvis", "HALFSHADE-PELVIS", "M", NOTE, image, volumes, pelvis_plan())
