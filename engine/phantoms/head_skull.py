"""The head's outside and bones: skin, skull, face bones, teeth, sinuses, neck spine."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.phantoms.bones import Spine, Vertebra, paint_bone, paint_spine
from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.solids import Field, Loft, Tube, superellipsoid, tube

SIDES = (-1.0, 1.0)
_NECK = (  # (y, z, half width, half depth, half height): C3 to T3
    (10.0, -70.0, 9.5, 7.6, 6.6),
    (8.5, -87.0, 9.8, 7.8, 6.6),
    (9.0, -104.0, 10.2, 8.0, 6.7),
    (12.0, -121.0, 11.0, 8.2, 6.9),
    (17.0, -139.0, 12.0, 8.5, 7.2),
    (23.5, -158.0, 13.0, 9.0, 7.8),
    (31.0, -178.0, 13.5, 9.6, 8.2),
    (38.0, -199.0, 14.0, 10.0, 8.6),
)


@dataclass(frozen=True)
class Frame:
    """Body, skull cavity, and the neck's spine."""

    body: Region
    cavity: Region
    skull: Region
    spine: Spine


def shape_cavity(canvas: Canvas) -> Region:
    """Return the space inside the skull: vault on three fossae, open towards the canal below."""

    def vault(x: Field, y: Field, z: Field) -> Field:
        wide = 1.0 + 0.0011 * y
        dome = superellipsoid(x / wide, y - np.float32(0.0), z - np.float32(38.0), (66.5, 84.0, 79.0), 2.25)
        roofs = np.exp(-(((np.abs(x) - 30) / 17) ** 2) - ((y + 60) / 24) ** 2)
        floor = 26.0 + 8.0 * roofs - 10.0 * np.clip((y + 36) / 26, 0, 1)
        return np.asarray(np.maximum(dome, floor - z), dtype=np.float32)

    top = canvas.solid(vault, (-92, -112, -26), (92, 112, 142), 4.0)
    temporal = [canvas.ellipsoid((s * 42, -18, 26), (23, 35, 27), (0.0, 0.0, s * -12.0), 2.2, pad_mm=22.0) for s in SIDES]
    behind = canvas.ellipsoid((0, 45, 6), (55, 38, 33), (-12.0, 0.0, 0.0), 2.2, pad_mm=22.0)
    throat = canvas.tubes([tube(((0, 14, 14), (0, 16, -8), (0, 24, -30)), (16, 14, 13.5))], reach_mm=16.0)
    sella = canvas.ellipsoid((0, -20, 19), (9, 6.5, 7))
    raw = canvas.union([canvas.union([top, *temporal, behind], 9.0), throat, sella], 4.0)
    ridge = canvas.tubes(
        [tube(((s * 15, -3, 12), (s * 36, 8, 14), (s * 66, 20, 13)), (4.0, 5.5, 8.0)) for s in SIDES], reach_mm=9.0
    )
    raw = canvas.without(raw, ridge, soft_mm=4.0)
    _, _, z = canvas.axes(raw.box)
    cut = np.maximum(raw.distance, np.asarray(-29.0 - z, dtype=np.float32))
    return Region(raw.box, cut + 0.9 * canvas.texture(raw.box, 45.0, 400))


def paint_frame(canvas: Canvas) -> Frame:
    """Paint skin, fat, skull, face bones and neck spine."""
    cavity = shape_cavity(canvas)
    body = _body(canvas, cavity)
    canvas.paint(body, 28.0)
    canvas.paint(body.moved(-1.7), -96 + 6 * canvas.texture(body.box, 10.0, 402))
    flesh = _flesh(canvas, body)
    canvas.paint(flesh, 52 + 5 * canvas.texture(flesh.box, 14.0, 404))
    skull = _skull(canvas, cavity)
    _face_bones(canvas)
    spine = _neck_spine(canvas)
    return Frame(body, cavity, skull, spine)


def _body(canvas: Canvas, cavity: Region) -> Region:
    scalp = cavity.moved(11.0)
    face = canvas.loft(
        Loft.of(
            z=(-103, -97, -84, -55, -15, 15, 48, 62),
            x=0.0,
            y=(-66, -60, -45, -32, -28, -26, -20, -20),
            a=(10, 26, 46, 63, 72, 74, 71, 55),
            b=(24, 35, 51, 64, 68, 72, 73, 60),
            back=(22, 40, 62, 62, 58, 52, 48, 40),
            power=(2.0, 2.1, 2.2, 2.3, 2.4, 2.3, 2.2, 2.0),
        ),
        pad_mm=20.0,
    )
    neck = canvas.loft(
        Loft.of(
            z=(-215, -190, -172, -155, -130, -95, -60, -20, 10),
            x=0.0,
            y=(20, 19, 18, 16, 14, 16, 24, 36, 40),
            a=(195, 168, 126, 84, 62, 59, 60, 60, 50),
            b=(96, 88, 80, 70, 61, 57, 58, 54, 44),
            back=(88, 84, 78, 68, 58, 52, 50, 52, 46),
            power=(2.4, 2.4, 2.2, 2.1, 2.0, 2.0, 2.1, 2.1, 2.0),
        ),
        pad_mm=20.0,
    )
    nose = canvas.tubes(
        [
            tube(((0, -92, 24), (0, -98, 8), (0, -105, -10), (0, -106, -18)), (7, 9, 12, 12)),
            *(tube(((s * 4, -96, -20), (s * 12, -97, -18)), (11, 7), 1) for s in SIDES),
        ],
        reach_mm=16.0,
    )
    lips = canvas.tubes(
        [tube(((-22, -92, -50), (0, -98, h), (22, -92, -50)), (4, 6, 4)) for h in (-45, -54)], reach_mm=12.0
    )
    brow = canvas.tubes([tube(((-36, -85, 30), (0, -92, 32), (36, -85, 30)), (8, 9, 8))], reach_mm=14.0)
    body = canvas.union([canvas.union([scalp, face, neck], 16.0), nose, lips, brow], 9.0)
    ears = [
        canvas.ellipsoid((s * 76, 14, -2), (5.0, 16, 28), (-14.0, s * 12.0, s * 24.0), 2.4, (0.9, 9.0, 401)) for s in SIDES
    ]
    hollow = [canvas.ellipsoid((s * 80.5, 10, -2), (3.2, 8, 14), (-14.0, s * 12.0, s * 24.0)) for s in SIDES]
    eyes = canvas.union([canvas.ellipsoid((s * 33, -99, 9), (14, 6, 8)) for s in SIDES])
    body = canvas.without(canvas.union([body, *ears], 6.0), canvas.union(hollow), soft_mm=2.0)
    body = canvas.without(body, eyes, soft_mm=7.0)
    meatus = canvas.tubes([tube(((s * 54, 4, 1), (s * 68, 5, 0), (s * 90, 8, -1)), (3.4, 3.6, 4.4)) for s in SIDES])
    nostril = canvas.tubes(
        [tube(((s * 7, -101, -32), (s * 7, -100, -20), (s * 6, -90, -16)), (3.4, 3.6, 3.0)) for s in SIDES]
    )
    body = canvas.without(body, canvas.union([meatus, nostril]))
    return Region(body.box, body.distance + 0.8 * canvas.texture(body.box, 40.0, 403))


def _flesh(canvas: Canvas, body: Region) -> Region:
    """The muscles of neck, jaw and temple, with the fat between them left out."""
    _, y, z = canvas.axes(body.box)
    fat = 6.0 + 3.0 * np.clip((-120 - z) / 40, 0, 1) + 5.0 * np.clip((y - 30) / 30, 0, 1) * np.exp(-(((z + 110) / 40) ** 2))
    deep = body.distance + np.asarray(fat, dtype=np.float32) + 1.3 * canvas.texture(body.box, 22.0, 405)
    trunk = canvas.loft(
        Loft.of(
            z=(-215, -170, -130, -95, -60, -25),
            x=0.0,
            y=(20, 20, 16, 18, 26, 38),
            a=(190, 124, 58, 52, 52, 50),
            b=(88, 74, 54, 48, 36, 26),
            back=(86, 74, 56, 48, 46, 42),
            power=(2.4, 2.2, 2.0, 2.0, 2.1, 2.2),
        )
    )
    floor = canvas.ellipsoid((0, -52, -76), (40, 40, 20), rough=(2.0, 18.0, 406))
    cheeks = [canvas.ellipsoid((s * 56, -30, -42), (9, 19, 33), (12.0, s * 8.0, 0.0), 2.2) for s in SIDES]
    temples = [canvas.ellipsoid((s * 67, -34, 24), (9.5, 32, 36), (0.0, s * -8.0, s * -12.0), 2.2) for s in SIDES]
    inner = [canvas.ellipsoid((s * 30, -26, -26), (15, 17, 27), rough=(1.5, 14.0, 407)) for s in SIDES]
    around = canvas.union([canvas.tubes([tube(((-20, -88, -50), (0, -93, -50), (20, -88, -50)), (6, 6, 6))], (1, 1, 2.0))])
    flesh = canvas.union([trunk, floor, *cheeks, *temples, *inner, around], 6.0)
    seams = np.abs(canvas.texture(flesh.box, (15.0, 15.0, 60.0), 408)) * 6.5 - 0.45
    flesh = Region(flesh.box, np.maximum(flesh.distance + 0.8 * canvas.texture(flesh.box, 14.0, 409), -seams))
    return canvas.common(flesh, Region(body.box, deep))


def _skull(canvas: Canvas, cavity: Region) -> Region:
    _, y, z = canvas.axes(cavity.box)
    uneven = canvas.texture(cavity.box, 30.0, 420)
    thick = 3.6 + 2.6 * np.clip((z - 5) / 30, 0, 1) + 1.4 * np.clip(y / 60, 0, 1) + 0.7 * uneven
    shell = Region(cavity.box, np.maximum(cavity.distance - thick.astype(np.float32), -cavity.distance))
    shell = canvas.without(shell, canvas.ellipsoid((0, 25, -34), (14.5, 16, 16)))
    petrous = canvas.tubes(
        [tube(((s * 17, -4, 3), (s * 36, 6, 5), (s * 58, 14, 4)), (6, 8.5, 10)) for s in SIDES], rough=(1.0, 9.0, 421)
    )
    mastoid = canvas.union(
        [canvas.ellipsoid((s * 57, 20, -14), (11, 14, 21), (-15.0, 0.0, 0.0), rough=(1.0, 12.0, 422)) for s in SIDES]
    )
    clivus = canvas.tubes([tube(((0, -13, 14), (0, -6, -4), (0, 5, -25)), (7.5, 8.0, 5.0))], (1.5, 1.0, 1.0))
    sphenoid = canvas.ellipsoid((0, -30, 12), (17, 15, 11), power=2.6)
    wings = canvas.tubes([tube(((s * 12, -36, 22), (s * 32, -42, 27), (s * 56, -40, 33)), (3.0, 2.4, 2.2)) for s in SIDES])
    base = canvas.union([petrous, mastoid, clivus, sphenoid, wings], 3.0)
    base = canvas.without(base, cavity)
    bone = canvas.union([shell, base])
    paint_bone(canvas, bone, 1.9, 1150.0, 330.0, 424, 70.0)
    cells = canvas.texture(mastoid.box, 5.0, 430)
    airy = Region(mastoid.box, np.maximum(mastoid.distance + 2.2, 0.9 - 2.2 * np.abs(cells)))
    canvas.paint(canvas.without(airy, cavity, 2.5), -840.0, 1.3)
    canals = canvas.union([canvas.ellipsoid((s * 41, 1, 5), (3.2, 3.2, 3.2)) for s in SIDES])
    canvas.paint(canals, 420.0, 1.6)
    canvas.paint(canvas.union([canvas.ellipsoid((s * 51, 1, 3), (3.5, 6, 6)) for s in SIDES]), -900.0)
    meatus = canvas.tubes([tube(((s * 52, 3, 1), (s * 64, 4.5, 0), (s * 76, 6, 0)), (3.2, 3.4, 3.6)) for s in SIDES])
    canvas.paint(meatus, -985.0)
    return bone


def _arc(half_width: float, front: float, back: float, z: float, count: int) -> np.ndarray:
    t = np.linspace(-1, 1, count)
    bow = np.sign(t) * np.abs(t) ** 0.8
    return np.stack(
        (half_width * np.sin(bow * np.pi / 2), back + (front - back) * np.cos(t * np.pi / 2) ** 0.8, np.full(count, z)), -1
    )


def _face_bones(canvas: Canvas) -> None:
    jaw = [
        tube(
            (
                (s * 51, -10, -8),
                (s * 51, -16, -34),
                (s * 47, -22, -62),
                (s * 41, -42, -76),
                (s * 27, -70, -82),
                (0, -84, -83),
            ),
            (4.2, 4.2, 5.0, 5.6, 5.8, 6.5),
        )
        for s in SIDES
    ]
    ridge = [tube(((s * 46, -36, -22), (s * 46, -34, -50)), (2.6, 4.5), 1) for s in SIDES]
    lower = canvas.tubes([*jaw, *ridge], (1.0, 1.0, 1.7), (0.6, 12.0, 440))
    paint_bone(canvas, lower, 2.2, 1350.0, 260.0, 441)
    upper = canvas.tubes([tube(_arc(25, -84, -36, -32, 9), 5.2, 4)], (1.0, 1.0, 1.5), (0.5, 10.0, 445))
    palate = canvas.ellipsoid((0, -54, -26), (24, 28, 2.6), power=2.5)
    cheek = [
        tube(
            ((s * 44, -62, -10), (s * 55, -56, -6), (s * 66, -36, -2), (s * 66, -16, 0), (s * 59, -2, 2)),
            (6.5, 5.5, 3.0, 2.8, 4.0),
        )
        for s in SIDES
    ]
    rim = []
    for s in SIDES:
        t = np.linspace(0, 2 * np.pi, 14)
        ring = np.stack(
            (s * (33 + 20 * np.cos(t)), -80 + 9 * np.abs(np.cos(t)) + 3 * (np.cos(t) > 0), 10 + 18 * np.sin(t)), -1
        )
        rim.append(tube(ring, 2.7, 3))
        rim.append(tube(((s * 8, -88, 22), (s * 6, -94, 12), (s * 5, -100, 2)), (3.0, 2.0, 1.4)))
        rim.append(tube(((s * 13, -22, 0), (s * 16, -20, -20), (s * 17, -18, -36)), (3.5, 2.4, 1.8)))
        rim.append(tube(((s * 12, -88, 0), (s * 16, -84, -20), (s * 14, -86, -32)), (2.6, 3.0, 4.0)))
    walls = []
    for s in SIDES:
        cone = canvas.union([_orbit(canvas, s)])
        shell = Region(cone.box, np.maximum(cone.distance - 1.5, -cone.distance))
        _, y, _ = canvas.axes(shell.box)
        walls.append(Region(shell.box, np.maximum(shell.distance, np.asarray(-76.0 - y, dtype=np.float32))))
        sinus = canvas.ellipsoid((s * 27, -54, -15), (14, 19, 17), power=2.2, rough=(1.0, 14.0, 447))
        walls.append(Region(sinus.box, np.maximum(sinus.distance - 1.4, -sinus.distance)))
    paint_bone(
        canvas,
        canvas.union([upper, palate, canvas.tubes([*cheek, *rim], rough=(0.4, 8.0, 446)), *walls]),
        1.6,
        1000.0,
        260.0,
        448,
    )
    _teeth(canvas)
    hyoid = canvas.tubes([tube(((-19, -22, -96), (-12, -40, -99), (0, -45, -99), (12, -40, -99), (19, -22, -96)), 2.6)])
    paint_bone(canvas, hyoid, 1.0, 700.0, 250.0, 455)
    collar = [
        tube(((s * 14, -44, -214), (s * 40, -38, -200), (s * 84, -10, -184), (s * 132, 8, -182)), (8, 6, 5.5, 6))
        for s in SIDES
    ]
    rib = [
        tube(((s * 18, 30, -156), (s * 44, 36, -160), (s * 56, 8, -178), (s * 40, -24, -200)), (3.2, 3.4, 4, 4))
        for s in SIDES
    ]
    second = [tube(((s * 18, 38, -176), (s * 54, 48, -182), (s * 74, 14, -206)), 3.4) for s in SIDES]
    paint_bone(canvas, canvas.tubes([*collar, *rib, *second]), 1.5, 1050.0, 180.0, 456)


def _orbit(canvas: Canvas, side: float) -> Region:
    funnel = tube(
        ((side * 33, -82, 10), (side * 30, -66, 11), (side * 23, -50, 13), (side * 15, -37, 16)), (17.5, 15.5, 9.5, 3.0)
    )
    return canvas.tubes([funnel])


def _teeth(canvas: Canvas) -> None:
    roots: list[Tube] = []
    crowns: list[Tube] = []
    for arc, up in ((_arc(24, -86, -40, -42, 15), 1.0), (_arc(23, -84, -38, -52, 15), -1.0)):
        for i, p in enumerate(arc[:-1]):
            q = 0.5 * (p + arc[i + 1])
            big = 3.6 if abs(i - 6.5) > 3 else 2.6
            crowns.append(Tube(np.array((q, q + (0, 0, 3.5 * up))), np.array((big, big))))
            roots.append(Tube(np.array((q + (0, 0, 4 * up), q + (0, 1, 14 * up))), np.array((big * 0.75, 1.2))))
    gums = canvas.tubes(roots)
    canvas.paint(gums.moved(1.2), 750.0)
    canvas.paint(gums, 1500.0)
    enamel = canvas.tubes(crowns)
    canvas.paint(enamel, 2350.0)
    canvas.paint(enamel.moved(-1.5), 1700.0)
    canvas.paint(gums.moved(-1.2), 500.0, 1.0, 0.4)


def _neck_spine(canvas: Canvas) -> Spine:
    column = []
    for i, (y, z, a, b, h) in enumerate(_NECK):
        tilt = float(np.interp(z, (-199, -158, -104, -70), (-20, -20, -4, 8)))
        back = 14.0 + (12.0 if i >= 4 else 2.0 * i)
        column.append(Vertebra((0.0, y, z), (a, b, h), -tilt, (11.0, 7.4), (back, 5.0 + i), (8.0, 1.0, -1.0), 2.3))
    axis = Vertebra((0.0, 11.5, -53.0), (9.0, 7.2, 7.4), 8.0, (11.5, 8.0), (16.0, 6.0), (7.0, 1.0, -2.0), 2.2)
    spine = paint_spine(canvas, [*column[::-1], axis], (6.2, 4.0), None, 460)
    parts = [tube(((0, 11, -50), (0, 9.5, -42), (0, 8.5, -33)), (5.2, 4.8, 4.2))]
    ring = []
    for s in SIDES:
        ring.append(tube(((0, 1.5, -36), (s * 12, 4, -36), (s * 19, 12, -36)), (3.4, 3.4, 5.5)))
        ring.append(tube(((s * 19, 12, -36), (s * 18, 24, -37), (s * 12, 36, -38), (0, 42, -38)), (5.5, 4.0, 3.0, 3.4)))
        ring.append(tube(((s * 19, 14, -36), (s * 36, 17, -37)), (4.5, 3.2), 1))
        parts.append(tube(((s * 17, 13, -28), (s * 18, 14, -46)), (6.5, 6.5), 1))
    atlas = canvas.tubes([*ring, *parts], rough=(0.4, 8.0, 470))
    paint_bone(canvas, atlas, 1.6, 900.0, 300.0, 471)
    joints = canvas.union([canvas.ellipsoid((s * 18, 14, h), (7, 7, 0.9)) for s in SIDES for h in (-28.5, -44.5)])
    canvas.paint(joints, 70.0)
    top = (0.0, 25.0, -50.0)
    canal = canvas.tubes([tube(((0, 24, -28), (0, 24.5, -38), top), (10.5, 10.0, 8.0))], (1.3, 1.0, 1.0))
    canvas.paint(canvas.without(canal, atlas, 0.5), 14.0)
    cord = canvas.tubes([tube(((0, 23.5, -29), (0, 24, -38), top), (5.0, 4.6, 4.0))], (1.35, 1.0, 1.0))
    canvas.paint(cord, 40.0)
    return Spine(spine.bone, canvas.union([spine.canal, canal]), canvas.union([spine.cord, cord], 2.0))
