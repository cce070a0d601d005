"""The pelvis from outside to the bones: skin and thighs, muscles, hip bones, sacrum, femora."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.phantoms.bones import Spine, Vertebra, paint_bone, paint_spine
from engine.phantoms.canvas import Canvas, Region, soft_min
from engine.phantoms.solids import Field, Loft, tube

SIDES = (1.0, -1.0)
COUCH_TOP_MM = 112.0
HEAD_MM, HEAD_RADIUS_MM = (89.0, -2.0, 20.0), 23.8

TRUNK = Loft.of(
    z=(-86, -72, -45, -5, 40, 90, 140, 200, 280),
    x=0.0,
    y=(10, 8, 4, 2, 1, 0, 0, 0, 0),
    a=(120, 150, 176, 187, 186, 178, 170, 166, 166),
    b=(60, 80, 92, 100, 106, 110, 110, 108, 108),
    back=(70, 92, 106, 116, 119, 117, 113, 111, 111),
    power=(2.2, 2.3, 2.4, 2.4, 2.4, 2.35, 2.3, 2.3, 2.3),
)
HOLLOW = Loft.of(
    z=(-36, -22, 0, 30, 60, 100, 140, 200, 280),
    x=0.0,
    y=(12, 10, 4, 2, -2, -8, -14, -18, -18),
    a=(14, 25, 38, 50, 56, 84, 110, 122, 122),
    b=(24, 38, 42, 56, 74, 78, 74, 70, 70),
    back=(26, 40, 52, 66, 72, 62, 56, 50, 50),
    power=(2.0, 2.0, 2.0, 2.1, 2.2, 2.2, 2.2, 2.3, 2.3),
)
WING = Loft.of(
    z=(20, 55, 80, 110, 140, 172, 190),
    x=0.0,
    y=(10, 12, 10, 8, 6, 2, 0),
    a=(72, 90, 106, 122, 136, 140, 136),
    b=(84, 96, 108, 118, 124, 116, 104),
    back=(52, 58, 66, 72, 70, 64, 58),
    power=(1.7, 1.6, 1.5, 1.42, 1.45, 1.6, 1.7),
)


@dataclass(frozen=True)
class Frame:
    """Body, the space inside the bony ring, the bones, and the heads of the femora with their necks (left, right)."""

    body: Region
    hollow: Region
    bones: Region
    heads: tuple[Region, Region]


def paint_frame(canvas: Canvas) -> Frame:
    """Paint everything but the organs inside."""
    body = _body(canvas)
    canvas.paint(body, 26.0)
    canvas.paint(body.moved(-1.9), -100 + 6 * canvas.texture(body.box, 13.0, 702))
    _muscles(canvas, body)
    hollow = canvas.loft(HOLLOW, rough=(1.6, 40.0, 703))
    canvas.paint(hollow, -97 + 8 * canvas.texture(hollow.box, 12.0, 704))
    _inner_muscles(canvas, hollow)
    spine = _sacrum(canvas)
    hips = canvas.union([_hip(canvas, side) for side in SIDES])
    canvas.paint(canvas.ellipsoid((0, -52, -4), (3.4, 8, 16), (-24.0, 0.0, 0.0)), 75.0)
    femora = [_femur(canvas, side) for side in SIDES]
    bones = canvas.union([spine.bone, spine.canal, hips, *(f[0] for f in femora)])
    return Frame(body, hollow, bones, (femora[0][1], femora[1][1]))


def _body(canvas: Canvas) -> Region:
    trunk = canvas.loft(TRUNK, pad_mm=30.0)
    thighs = []
    for side in SIDES:
        loft = Loft.of(
            z=(-260, -130, -95, -60, -20, 20),
            x=tuple(side * v for v in (93, 95, 96, 97, 98, 96)),
            y=(4, 4, 5, 6, 6, 6),
            a=(83, 86, 89, 91, 88, 76),
            b=(86, 90, 93, 95, 92, 80),
            back=(88, 92, 97, 103, 104, 90),
            power=2.15,
        )
        thighs.append(canvas.loft(loft, pad_mm=24.0))
    body = canvas.union([trunk, canvas.union(thighs)], 16.0)
    sac = canvas.ellipsoid((0, -76, -82), (29, 27, 30), rough=(2.0, 22.0, 705), pad_mm=12.0)
    shaft = canvas.tubes([tube(((0, -84, -40), (0, -104, -58), (0, -110, -92)), (17, 15.5, 15))], reach_mm=14.0)
    body = canvas.union([body, sac, shaft], 9.0)
    x, y, z = canvas.axes(body.box)
    cleft = 22.0 * np.exp(-((x / 9) ** 2)) * np.clip((y - 60) / 30, 0, 1) * np.exp(-(((z + 5) / 62) ** 2))
    navel = 5.0 * np.exp(-((x / 9) ** 2) - ((z - 186) / 9) ** 2) * np.clip(-y / 60, 0, 1)
    skin = body.distance + np.asarray(cleft + navel, dtype=np.float32) + 1.6 * canvas.texture(body.box, 60.0, 706)
    table = np.broadcast_to(y - np.float32(COUCH_TOP_MM - 0.5), skin.shape)
    return Region(body.box, -soft_min(-skin, -table, 10.0))


def _muscles(canvas: Canvas, body: Region) -> None:
    x, y, z = canvas.axes(body.box)
    fat = 13.0 + 7.0 * np.clip((z - 20) / 60, 0, 1) * np.clip(-y / 60, 0, 1) + 9.0 * np.clip((y - 40) / 50, 0, 1)
    fat = fat + 6.0 * np.exp(-(((np.abs(x) - 165) / 40) ** 2)) * np.exp(-(((z - 60) / 70) ** 2))
    fat = np.asarray(fat, dtype=np.float32) + 2.2 * canvas.texture(body.box, 55.0, 710)
    seams = np.minimum(
        np.abs(canvas.texture(body.box, (34.0, 34.0, 110.0), 711)) * 13.0,
        np.abs(canvas.texture(body.box, (46.0, 46.0, 140.0), 712)) * 17.0,
    )
    flesh = np.maximum(body.distance + fat, 0.75 - seams)
    groin = np.hypot((np.abs(x) - 58) / 1.2, y + 62) - 13.0 + 0.0 * z
    pit = np.sqrt(((np.abs(x) - 28) / 0.9) ** 2 + ((y - 56) / 1.3) ** 2 + ((z + 32) / 1.5) ** 2) - 20.0
    front = np.hypot(x / 2.2, (y + 76) / 1.4) - 16.0 + 1.2 * np.clip(z - 10, 0, 60)
    space = np.minimum(np.minimum(groin + 0.35 * np.clip(z - 30, 0, 80), pit), front)
    region = Region(body.box, np.asarray(np.maximum(flesh, -space), dtype=np.float32))
    canvas.paint(region, 54 + 5 * canvas.texture(body.box, 15.0, 713), 1.5)


def _inner_muscles(canvas: Canvas, hollow: Region) -> None:
    for i, s in enumerate(SIDES):
        psoas = tube(
            (
                (s * 40, 6, 205),
                (s * 48, 0, 150),
                (s * 62, -16, 100),
                (s * 80, -38, 50),
                (s * 98, -34, 5),
                (s * 112, 4, -48),
            ),
            (23, 24, 22, 18, 15, 9),
        )
        iliacus = tube(((s * 98, 8, 175), (s * 92, 2, 130), (s * 86, -14, 85), (s * 88, -36, 48)), (12, 17, 17, 12))
        wall = canvas.ellipsoid((s * 53, 8, 8), (10, 31, 36), (0.0, s * -6.0, s * -10.0), 2.2, (1.0, 18.0, 720 + i))
        pear = tube(((s * 22, 66, 72), (s * 56, 60, 52), (s * 118, 28, 26)), (10, 13, 6))
        rectus = tube(((s * 30, -79, 205), (s * 30, -79, 110), (s * 20, -70, 45), (s * 10, -60, 14)), (8, 8, 7, 4))
        sling = tube(((s * 40, 6, 14), (s * 24, 14, -14), (s * 13, 30, -30)), (2.2, 2.6, 3.4))
        canvas.paint(canvas.tubes([psoas], rough=(0.8, 20.0, 722)).moved(0.9), -70.0, 1.5)
        canvas.paint(canvas.tubes([psoas, iliacus], rough=(0.8, 20.0, 722)), 56 + 0 * s)
        canvas.paint(canvas.union([wall, canvas.tubes([pear], rough=(0.8, 16.0, 723))]), 55.0)
        canvas.paint(canvas.tubes([rectus], (3.0, 1.0, 1.0)), 54.0)
        canvas.paint(canvas.tubes([sling], (1.0, 3.5, 1.6)), 50.0)


def _sacrum(canvas: Canvas) -> Spine:
    lumbar = [
        Vertebra((0.0, 10.0, 148.0), (25, 17.5, 13.5), 12.0, (12.0, 8.0), (18.0, 4.0), (20.0, 4.0, 2.0), 2.5),
        Vertebra((0.0, 3.0, 186.0), (24, 17.5, 14.0), 2.0, (11.5, 8.5), (22.0, 4.0), (19.0, 4.0, 0.0), 2.5),
    ]
    top = Vertebra((0.0, 26.0, 113.0), (25, 16, 12.0), 34.0, (14.0, 7.5), (10.0, 4.0), (12.0, 4.0, 0.0), 2.4)
    spine = paint_spine(canvas, [top, *lumbar], (4.0, 4.0), 400.0, 730)
    blocks = tube(((0, 33, 104), (0, 50, 84), (0, 64, 62), (0, 70, 40), (0, 66, 20)), (13, 11, 8.5, 6.5, 5.0))
    wings = [
        tube(((s * 24, 36, 112), (s * 34, 46, 98), (s * 28, 60, 72), (s * 17, 68, 48)), (12.5, 12.5, 8.5, 5.5))
        for s in SIDES
    ]
    crest = tube(((0, 54, 112), (0, 72, 88), (0, 82, 64), (0, 82, 42)), (4.5, 4.5, 4.0, 3.0))
    tail = tube(((0, 67, 26), (0, 64, 12), (0, 56, 0), (0, 47, -7)), (5.5, 4.5, 3.6, 2.4))
    mass = canvas.union(
        [
            canvas.tubes([blocks], (1.7, 1, 1)),
            canvas.tubes([*wings, crest], reach_mm=9.0),
            canvas.tubes([tail], (1.6, 1, 1)),
        ],
        7.0,
    )
    canal = canvas.tubes([tube(((0, 43, 116), (0, 61, 92), (0, 74, 66), (0, 77, 48)), (7, 6, 4.5, 2.5))], (1.7, 1, 1))
    holes = canvas.tubes(
        [
            tube(((s * 16, 32 + i, h + 4), (s * 17, 60 + 1.4 * i, h - 6)), 4.2 - 0.5 * k)
            for s in SIDES
            for k, (h, i) in enumerate(((98, 8), (78, 18), (58, 26)))
        ]
    )
    mass = canvas.without(canvas.without(mass, canal), holes, soft_mm=2.0)
    mass = canvas.without(mass, spine.bone, -1.0)
    paint_bone(canvas, mass, 1.4, 640.0, 175.0, 735, 40.0)
    canvas.paint(canal, 5.0)
    canvas.paint(holes, -60.0, 1.4, 0.8)
    nerves = canvas.tubes(
        [
            tube(((s * 17, 34 + i, h), (s * 26, 30 + i, h - 18), (s * 40, 46, 52)), 3.2)
            for s in SIDES
            for h, i in ((98, 8), (78, 18))
        ]
    )
    canvas.paint(nerves, 42.0, 1.4)
    return Spine(canvas.union([spine.bone, mass]), canvas.union([spine.canal, canal]), spine.cord)


def _hip(canvas: Canvas, side: float) -> Region:
    s = side
    surface = canvas.loft(WING, pad_mm=24.0)
    x, y, z = canvas.axes(surface.box)
    uneven = (
        3.4
        + 1.0 * canvas.texture(surface.box, 24.0, 740)
        + 3.0 * np.exp(-(((z - 168) / 14) ** 2))
        + 3.4 * np.clip((y - 30) / 20, 0, 1)
    )
    plate = np.abs(surface.distance) - np.asarray(uneven, dtype=np.float32)
    mask = canvas.ellipsoid((s * 86, 8, 106), (54, 66, 72), (0.0, s * 12.0, s * 38.0), 2.6)
    wing = canvas.common(Region(surface.box, plate), mask)
    wing = Region(wing.box, np.maximum(wing.distance, np.asarray(39.0 - s * x + 0 * z, dtype=np.float32)))
    hx, hy, hz = s * HEAD_MM[0], HEAD_MM[1], HEAD_MM[2]
    cup = canvas.ellipsoid((hx, hy, hz), (35.0, 34.0, 35.0))
    cx, cy, cz = canvas.axes(cup.box)
    facing = -(-s * 0.80 * (cx - hx) + 0.16 * (cy - hy) + 0.58 * (cz - hz)) - 1.0
    cup = Region(cup.box, np.maximum(cup.distance, facing.astype(np.float32)))
    pillar = tube(((s * 88, -6, 46), (s * 94, -6, 68), (s * 102, -8, 92)), (17, 13, 7))
    pillar2 = tube(((s * 76, 22, 34), (s * 66, 38, 66), (s * 52, 50, 90)), (13, 11, 9))
    spine_f = tube(((s * 90, -33, 56), (s * 92, -41, 88), (s * 107, -47, 128)), (7, 5.0, 5.5))
    ischium = tube(((s * 72, 20, 8), (s * 64, 25, -20), (s * 56, 17, -50), (s * 53, 10, -62)), (14, 11.5, 14, 11))
    spike = tube(((s * 62, 32, 12), (s * 50, 42, 8)), (6, 2.5), 1)
    ramus = tube(((s * 66, -22, 18), (s * 46, -40, 20), (s * 26, -52, 13), (s * 12, -54, 2)), (12, 8.0, 7.5, 9.0))
    lower = tube(((s * 10, -50, -14), (s * 18, -40, -32), (s * 34, -18, -50), (s * 52, 8, -60)), (7.5, 6.0, 5.5, 8))
    body = canvas.ellipsoid((s * 12.5, -52, -6), (9.5, 9.5, 18), (-24.0, 0.0, s * 12.0))
    bars = canvas.tubes([pillar, pillar2, spine_f, ischium, spike, ramus, lower], reach_mm=8.0)
    hip = canvas.union([wing, cup, bars, body], 6.0)
    hip = canvas.without(hip, canvas.ellipsoid((hx, hy, hz), (26.6, 26.6, 26.6)), soft_mm=1.0)
    xs, _, _ = canvas.axes(hip.box)
    hip = Region(
        hip.box,
        np.maximum(hip.distance, np.asarray(2.6 - s * xs, dtype=np.float32)) + 0.4 * canvas.texture(hip.box, 12.0, 741),
    )
    paint_bone(canvas, hip, 1.7, 980.0, 210.0, 742 + int(s > 0) * 10, 50.0)
    return hip


def _femur(canvas: Canvas, side: float) -> tuple[Region, Region]:
    s = side
    hx, hy, hz = s * HEAD_MM[0], HEAD_MM[1], HEAD_MM[2]
    ball = canvas.ellipsoid((hx, hy, hz), (HEAD_RADIUS_MM,) * 3, pad_mm=8.0)
    neck = canvas.tubes(
        [tube(((hx + s * 6, hy + 1, hz - 4), (s * 110, 4, 4), (s * 128, 8, -14)), (17.5, 15.0, 18))], reach_mm=9.0
    )
    great = canvas.ellipsoid((s * 140, 16, 0), (13, 19, 23), (-12.0, 0.0, 0.0), rough=(1.2, 14.0, 760), pad_mm=8.0)
    small = canvas.ellipsoid((s * 116, 22, -46), (9, 10, 14), pad_mm=8.0)
    shaft = canvas.tubes(
        [tube(((s * 132, 8, -18), (s * 130, 8, -50), (s * 125, 5, -100), (s * 117, 1, -175)), (20, 17, 14.8, 14))],
        reach_mm=9.0,
    )
    bone = canvas.union([ball, neck, great, small, shaft], 7.0)
    bone = Region(bone.box, bone.distance + 0.35 * canvas.texture(bone.box, 14.0, 761))
    _, _, z = canvas.axes(bone.box)
    low: Field = np.clip((-30 - z) / 40, 0, 1).astype(np.float32)
    canvas.paint(bone, 1100 + 250 * low)
    thick = 1.8 + 4.2 * low + 0.3 * canvas.texture(bone.box, 14.0, 762)
    grain = 60 * canvas.texture(bone.box, 4.0, 763) + 30 * canvas.texture(bone.box, 12.0, 764)
    canvas.paint(
        Region(bone.box, bone.distance + thick), np.asarray((250 + grain) * (1 - low) - 40 * low, dtype=np.float32), 1.6
    )
    dense = canvas.ellipsoid((hx, hy, hz + 5), (12, 12, 15))
    canvas.paint(canvas.common(dense, bone.moved(-2)), 400.0, 10.0, 0.7)
    head = canvas.union([ball, neck], 7.0)
    x, _, z = canvas.axes(head.box)
    end = (s * (x - s * 114) - 0.8 * (z - 2)) / 1.28
    head = canvas.common(
        Region(head.box, np.maximum(head.distance, np.asarray(end + 0 * head.distance, dtype=np.float32))), bone
    )
    return bone, head
