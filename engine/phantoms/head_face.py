"""Soft parts and air of face and neck: sinuses, nose, mouth, throat, glands, vessels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.head_skull import SIDES
from engine.phantoms.solids import tube

AIR = -985.0


@dataclass(frozen=True)
class Face:
    """Glands that are spared where possible: left, right."""

    parotids: tuple[Region, Region]


def paint_face(canvas: Canvas, body: Region) -> Face:
    """Paint the soft parts of face and neck; bones are there already."""
    _air(canvas)
    _throat(canvas)
    _neck(canvas, body)
    out = []
    for s in (1.0, -1.0):
        outer = canvas.ellipsoid((s * 57, 2, -34), (11.5, 18, 28), (-8.0, s * 8.0, s * 14.0), 2.2, (1.6, 11.0, 600))
        deep = canvas.ellipsoid((s * 47, 4, -32), (10, 10, 18), rough=(1.0, 9.0, 601))
        gland = canvas.common(canvas.union([outer, deep], 5.0), body.moved(-4.0))
        bone = Region(gland.box, np.where(canvas.hu[gland.box] > 180, np.float32(-2.0), np.float32(2.0)))
        gland = canvas.without(gland, bone, 0.5)
        canvas.paint(gland, 4 + 22 * canvas.texture(gland.box, 4.0, 602), 1.3)
        canvas.paint(canvas.tubes([tube(((s * 54, 4, -12), (s * 53, 3, -36), (s * 48, 2, -62)), (2.0, 2.2, 2.2))]), 42.0)
        under = canvas.ellipsoid((s * 31, -40, -84), (8, 15, 10), (0.0, 0.0, s * 20.0), rough=(0.8, 8.0, 603))
        bone = Region(under.box, np.where(canvas.hu[under.box] > 180, np.float32(-2.0), np.float32(2.0)))
        canvas.paint(canvas.without(under, bone, 0.5), 38.0)
        out.append(gland)
    return Face((out[0], out[1]))


def _air(canvas: Canvas) -> None:
    for i, s in enumerate(SIDES):
        antrum = canvas.ellipsoid((s * 27, -54, -15), (14, 19, 17), power=2.2, rough=(1.0, 14.0, 447))
        canvas.paint(antrum.moved(-0.2), 35.0)
        canvas.paint(antrum.moved(-1.6 - 0.5 * (i == 0)), AIR)
        cells = canvas.ellipsoid((s * 8.5, -55, 10), (6.8, 21, 11.5), power=2.6)
        walls = np.abs(canvas.texture(cells.box, 9.0, 610 + i)) * 4.5 - 0.45
        canvas.paint(cells, 180.0)
        canvas.paint(Region(cells.box, np.maximum(cells.distance + 0.9, -walls)), -880.0, 1.3)
        frontal = canvas.ellipsoid((s * 10, -84.5, 33), (9, 3.8, 10), (12.0, 0.0, 0.0), rough=(1.2, 9.0, 612))
        canvas.paint(frontal.moved(1.4), 900.0)
        canvas.paint(frontal, -930.0)
        nose = canvas.ellipsoid((s * 6.2, -58, -9), (5.6, 37, 17), (0.0, s * 6.0, 0.0), 2.6)
        canvas.paint(nose.moved(1.2), 60.0)
        canvas.paint(nose, AIR)
        for z, r in ((0.0, 2.2), (-8.0, 3.0), (-18.0, 3.6)):
            shelf = canvas.tubes(
                [tube(((s * 9, -78, z), (s * 7.5, -56, z - 1), (s * 8, -32, z - 2)), (r * 0.7, r, r * 0.6))],
                (1.0, 1.0, 1.3),
            )
            canvas.paint(shelf, 46.0)
            canvas.paint(shelf.moved(-1.6), 160.0, 1.5)
        sphenoid = canvas.ellipsoid((s * 7, -31, 11.5), (6.2, 10.5, 8), power=2.4, rough=(0.7, 8.0, 613))
        canvas.paint(sphenoid, AIR)
    septum = canvas.ellipsoid((0.4, -60, -6), (1.1, 36, 20), (0.0, 2.0, 1.0), 3.0)
    canvas.paint(septum, 140.0)


def _throat(canvas: Canvas) -> None:
    tongue = canvas.ellipsoid((0, -54, -53), (23, 31, 21), rough=(1.2, 14.0, 620))
    soft = Region(tongue.box, np.where(canvas.hu[tongue.box] > 180, np.float32(-2.0), np.float32(2.0)))
    tongue = canvas.without(tongue, soft, 0.6)
    canvas.paint(tongue, 54 + 7 * canvas.texture(tongue.box, 7.0, 621))
    canvas.paint(
        canvas.tubes([tube(((-16, -58, -33), (0, -62, -31.5), (16, -58, -33)), (0.8, 1.6, 0.8))], (1.0, 6.0, 1.0)), AIR
    )
    wall = tube(
        ((0, -13, 0), (0, -10, -18), (0, -11, -40), (0, -13, -62), (0, -17, -86), (0, -20, -104)),
        (7.0, 7.5, 8.0, 8.5, 9.5, 9.0),
    )
    throat = canvas.tubes([wall], (1.7, 1.0, 1.0), (0.8, 12.0, 622))
    bone = Region(throat.box, np.where(canvas.hu[throat.box] > 250, np.float32(-2.0), np.float32(2.0)))
    canvas.paint(canvas.without(throat.moved(3.0), bone), 48.0)
    canvas.paint(canvas.without(throat.moved(-1.0), bone, 2.5), AIR)
    palate = canvas.tubes([tube(((0, -30, -27), (0, -20, -32), (0, -17, -44)), (4.0, 4.5, 3.0))], (2.6, 1.0, 1.0))
    canvas.paint(palate, 50.0)
    flap = canvas.tubes([tube(((0, -29, -90), (0, -26, -82), (0, -23, -76)), (2.2, 1.8, 1.2))], (4.0, 1.0, 1.0))
    canvas.paint(flap, 55.0)
    shield = canvas.tubes(
        [tube(((s * 16, -14, -112), (s * 14, -30, -113), (0, -40, -112)), (2.0, 2.2, 2.4)) for s in SIDES], (1.0, 1.0, 5.0)
    )
    ringed = canvas.tubes([tube(((-9, -16, -126), (0, -8, -124), (9, -16, -126)), (2.4, 3.4, 2.4))], (1.0, 1.0, 3.0))
    canvas.paint(canvas.tubes([tube(((0, -20, -100), (0, -21, -126)), (12, 11), 1)]), 48.0)
    canvas.paint(shield, 190.0)
    canvas.paint(ringed, 210.0)
    airway = canvas.tubes(
        [
            tube(
                ((0, -19, -98), (0, -24, -106), (0, -24, -114), (0, -22, -126), (0, -18, -150), (0, -10, -215)),
                (7.5, 4.5, 3.2, 7.0, 8.6, 8.8),
            )
        ]
    )
    canvas.paint(airway.moved(1.5), 45.0)
    canvas.paint(airway, AIR)
    gullet = canvas.tubes([tube(((0, -4, -122), (2, -2, -150), (4, 8, -215)), (4.4, 5, 5.4))], (1.6, 1.0, 1.0))
    canvas.paint(canvas.without(gullet, airway, 1.5), 40.0)


def _neck(canvas: Canvas, body: Region) -> None:
    for s in SIDES:
        sheath = canvas.tubes(
            [
                tube(
                    ((s * 27, 2, -40), (s * 30, -4, -75), (s * 32, -8, -110), (s * 30, -6, -150), (s * 26, 0, -180)),
                    (9, 12, 12.5, 11, 9),
                )
            ],
            rough=(1.5, 12.0, 640),
        )
        bone = Region(sheath.box, np.where(canvas.hu[sheath.box] > 180, np.float32(-2.0), np.float32(2.0)))
        canvas.paint(canvas.without(sheath, bone, 1.0), -85.0, 1.4)
        carotid = tube(
            ((s * 24, 0, -20), (s * 25, -3, -60), (s * 26, -8, -90), (s * 26, -7, -130), (s * 22, 0, -215)),
            (2.6, 3, 4.2, 3.8, 4),
        )
        jugular = tube(
            ((s * 30, 6, -20), (s * 33, 2, -60), (s * 37, -8, -100), (s * 36, -9, -140), (s * 32, -12, -215)),
            (4.5, 5, 6.5, 6.5, 7),
        )
        canvas.paint(canvas.tubes([carotid, jugular]), 43.0)
        nodes = canvas.union(
            [canvas.ellipsoid(p, (3.0, 4.0, 5.0)) for p in ((s * 36, 2, -70), (s * 40, 4, -88), (s * 42, 10, -116))]
        )
        canvas.paint(nodes, 35.0, 1.3)
        strap = canvas.tubes(
            [tube(((s * 57, 24, -24), (s * 50, 12, -70), (s * 37, -15, -130), (s * 15, -40, -196)), (6.5, 7.5, 7.5, 6))],
            (1.0, 1.5, 1.0),
            (0.8, 14.0, 641),
        )
        strap = canvas.common(strap, body.moved(-3.5))
        canvas.paint(strap.moved(1.2), -70.0, 1.5)
        canvas.paint(strap, 56.0)
        lobe = canvas.ellipsoid((s * 17, -16, -150), (8.5, 10, 22), (6.0, 0.0, 0.0), rough=(0.8, 10.0, 642))
        canvas.paint(lobe, 102.0)
        lung = canvas.ellipsoid((s * 42, 26, -212), (30, 32, 44), rough=(1.2, 20.0, 643))
        bone = Region(lung.box, np.where(canvas.hu[lung.box] > 180, np.float32(-2.0), np.float32(2.0)))
        canvas.paint(canvas.without(lung, bone, 2.0), -815 + 14 * canvas.texture(lung.box, 5.0, 644))
