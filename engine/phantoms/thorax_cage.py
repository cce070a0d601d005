"""The chest wall: trunk with raised arms, muscle layers, spine, ribs, sternum and shoulder girdle."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.phantoms.bones import Spine, Vertebra, paint_bone, paint_spine
from engine.phantoms.canvas import Canvas, Region, soft_min
from engine.phantoms.solids import Field, Loft, Tube, tube

COUCH_TOP_MM = 106.0

TRUNK = Loft.of(
    z=(-290, -150, -100, -40, 10, 50, 80, 105, 125, 250),
    x=0.0,
    y=(-4, -5, -6, -6, -2, 4, 12, 20, 20, 16),
    a=(158, 162, 166, 168, 168, 166, 152, 114, 76, 63),
    b=(106, 111, 115, 114, 108, 97, 87, 77, 66, 59),
    back=(113, 113, 113, 113, 109, 102, 92, 80, 70, 62),
    power=(2.3, 2.3, 2.35, 2.4, 2.45, 2.5, 2.4, 2.2, 2.0, 2.0),
)
CAVITY = Loft.of(
    z=(-200, -150, -100, -50, -10, 25, 55, 78, 92, 99),
    x=0.0,
    y=(-5, -5, -6, -5, 0, 6, 12, 18, 22, 24),
    a=(131, 134, 133, 128, 119, 106, 86, 62, 38, 14),
    b=(84, 92, 94, 90, 80, 64, 46, 31, 20, 8),
    back=(76, 80, 84, 84, 79, 71, 59, 45, 30, 12),
    power=(2.2, 2.2, 2.25, 2.25, 2.25, 2.2, 2.1, 2.0, 2.0, 2.0),
)
LEVELS = ("L1", "T12", "T11", "T10", "T9", "T8", "T7", "T6", "T5", "T4", "T3", "T2", "T1", "C7", "C6", "C5")
_HEIGHTS = (-203.0, -172.0, -143.0, -115.5, -89.5, -64.5, -41.0, -18.5, 3.5, 25.0, 46.0, 66.5, 86.5, 105.0, 122.5, 139.5)
_SPINE_Y = (24.0, 29.0, 33.5, 37.0, 39.5, 41.0, 41.5, 41.0, 39.5, 37.0, 33.5, 30.0, 26.5, 23.0, 20.0, 18.0)


def column() -> list[Vertebra]:
    """Return the vertebrae from L1 up to C5, smaller and more tilted towards the neck."""
    out = []
    for i, (z, y) in enumerate(zip(_HEIGHTS, _SPINE_Y)):
        t = i / (len(LEVELS) - 1)
        tilt = float(np.rad2deg(np.arctan(np.interp(z, (-200, -40, 20, 140), (-0.17, -0.02, 0.14, 0.28)))))
        half = (21.0 - 8.5 * t, 17.0 - 8.0 * t, 12.6 - 5.6 * t)
        neck = z > 100
        spinous = (20.0, 6.0) if LEVELS[i] == "L1" else (22.0 - 6 * t, 16.0 - 6 * t)
        transverse = (9.0, 2.0, 0.0) if neck else (17.0, 13.0, 3.0)
        out.append(Vertebra((0.0, y, z), half, -tilt, (9.5 if not neck else 11.0, 8.0), spinous, transverse))
    return out


def spine_y(z_mm: float) -> float:
    """Return the y of the middle of the vertebral bodies at a height."""
    return float(np.interp(z_mm, _HEIGHTS, _SPINE_Y))


Line = NDArray[np.float64]


@dataclass(frozen=True)
class Cage:
    """What `paint_cage` made: the body, the space inside the ribs, the bones of the spine and ribs, canal and cord."""

    body: Region
    cavity: Region
    spine: Spine
    ribs: Region


def paint_cage(canvas: Canvas) -> Cage:
    """Paint everything outside the pleura."""
    body = _body(canvas)
    box = body.box
    canvas.paint(body, 25.0)
    fat = 11.0 + 2.5 * canvas.texture(box, 70.0, 11) + 6.0 * _flank(canvas, body)
    canvas.paint(body.moved(-1.8), -98 + 5 * canvas.texture(box, 14.0, 12))
    flesh = Region(box, body.distance + np.maximum(fat, 4.0))
    canvas.paint(flesh, 50 + 5 * canvas.texture(box, 16.0, 13))
    cavity = canvas.loft(CAVITY, rough=(1.2, 55.0, 14), pad_mm=34.0)
    _fascia(canvas, flesh, cavity)
    spine = paint_spine(canvas, column(), (5.4, 3.9), -190.0)
    ribs = _ribs(canvas)
    _girdle(canvas, cavity)
    _sternum(canvas)
    return Cage(body, cavity, spine, ribs)


def _body(canvas: Canvas) -> Region:
    arms = []
    for side in (-1.0, 1.0):
        line = ((side * 118, 22, 40), (side * 150, 18, 84), (side * 176, 6, 122), (side * 189, -6, 195))
        arms.append(tube(line, (44, 52, 47, 44), 6))
    reach = canvas.tubes(arms, reach_mm=40.0)
    trunk = canvas.loft(TRUNK, pad_mm=60.0)
    body = canvas.union([trunk, reach], soft_mm=34.0)
    x, y, z = canvas.axes(body.box)
    pecs = 5.0 * np.exp(-(((np.abs(x) - 70) / 46) ** 2) - ((z - 5) / 50) ** 2) * np.clip(-y / 60, 0, 1)
    furrow = 4.0 * np.exp(-((x / 14) ** 2)) * np.clip(y / 60, 0, 1) - 3.0 * np.exp(-((x / 16) ** 2)) * np.clip(
        -y / 60, 0, 1
    )
    uneven = 1.6 * canvas.texture(body.box, 60.0, 10)
    skin = body.distance + np.asarray(furrow - pecs, dtype=np.float32) + uneven
    table = y - np.float32(COUCH_TOP_MM - 0.5)
    return Region(body.box, -soft_min(-skin, np.broadcast_to(-table, skin.shape), 9.0))


def _flank(canvas: Canvas, body: Region) -> Field:
    x, y, z = canvas.axes(body.box)
    low = np.clip((-60 - z) / 120, 0, 1)
    front = np.exp(-(((y + 60) / 60) ** 2))
    return np.asarray(low * front + 0.5 * np.exp(-(((np.abs(x) - 150) / 40) ** 2)) * np.ones_like(y), dtype=np.float32)


def _fascia(canvas: Canvas, flesh: Region, cavity: Region) -> None:
    """Thin sheets of fat between the muscle layers, at some distances from the ribs."""
    box = cavity.box
    wobble = canvas.texture(box, 34.0, 15)
    skin = canvas.on(flesh, box)
    within = np.clip(-skin / 3.0, 0, 1)
    z = canvas.axes(box)[2]
    within = within * np.clip((84 - z) / 25, 0, 1)
    for i, (depth, sway, half, hu) in enumerate(
        ((16.0, 3.0, 0.8, -70.0), (26.0, 6.0, 1.1, -75.0), (38.0, 8.0, 0.8, -60.0))
    ):
        gaps = np.clip(0.5 + 1.1 * canvas.texture(box, (38.0, 38.0, 60.0), 60 + i), 0, 1)
        sheet = np.abs(cavity.distance - depth - sway * wobble) - half
        canvas.paint(Region(box, np.asarray(sheet, dtype=np.float32)), hu, 1.8, np.asarray(within * gaps, dtype=np.float32))
    grain = canvas.texture(flesh.box, (9.0, 9.0, 40.0), 16)
    marbling = np.clip((grain - 1.5) / 0.6, 0, 1) * np.clip(-flesh.distance / 4, 0, 1)
    part = canvas.hu[flesh.box]
    part -= np.where(part > 20, np.float32(90.0), np.float32(0.0)) * marbling.astype(np.float32)
    axilla = canvas.union([canvas.ellipsoid((s * 138, 0, 46), (17, 26, 34), rough=(4.0, 18.0, 17)) for s in (-1.0, 1.0)])
    canvas.paint(canvas.common(axilla, flesh), -95.0, 2.0)
    for side in (-1.0, 1.0):
        nodes = [
            canvas.ellipsoid((side * (132 + dx), dy, 40 + dz), (4.5, 6.5, 5.0), (0, 0, 30))
            for dx, dy, dz in ((0, -6, 0), (6, 8, 14), (-3, 14, -12))
        ]
        canvas.paint(canvas.union(nodes), 38.0)
        run = ((side * 20, -8, 92), (side * 70, -14, 88), (side * 118, 4, 66), (side * 160, 6, 100), (side * 182, 0, 170))
        canvas.paint(
            canvas.tubes([tube(run, (6.5, 6, 5.5, 4.5, 4)), tube(np.array(run) + (0, -11, -4), (6, 6, 6, 5, 4))]), 42.0
        )


def rib_lines() -> list[tuple[int, float, Line, Line]]:
    """Return (number, side, line of the rib's middle, line of its cartilage) for ribs 1 to 12 on both sides."""
    heads = dict(zip(LEVELS[1:13][::-1], range(1, 13)))
    out = []
    for level, number in heads.items():
        z0 = _HEIGHTS[LEVELS.index(level)] + (5.0 if number < 11 else 2.0)
        if number <= 7:
            last, fall = 152.0 - 2.0 * number, 26.0 + 9.0 * number
        elif number <= 10:
            last, fall = 138.0 - 8.0 * (number - 7), 92.0 - 5 * (number - 7)
        else:
            last, fall = (105.0, 66.0) if number == 11 else (70.0, 38.0)
        angle = np.linspace(19.0, last, 26)
        s = (angle - 19.0) / (last - 19.0)
        z = z0 - fall * s**1.15
        for side in (-1.0, 1.0):
            top = np.minimum(z, 93.0)
            line = CAVITY.surface(side * angle, top, 5.2)
            line[:, 2] = z + 2.0 * np.sin(3.0 * s + number + side)
            head = np.array(((side * 17.0, spine_y(z0) + 8.0, z0 + 1.0), (side * 25.0, spine_y(z0) + 17.0, z0 + 1.0)))
            line = np.concatenate((head, line[1:]))
            tip = line[-1]
            if number <= 10:
                target_z = 28.0 - 17.0 * (number - 1) if number <= 7 else -88.0 - 6.0 * (number - 7)
                reach = 19.0 if number < 7 else 13.0 + 6.0 * (number - 7)
                end = np.array((side * reach, CAVITY.surface(180.0, target_z, 7.0)[1] + (0 if number < 8 else 5), target_z))
                middle = CAVITY.surface(side * (last + 180.0) / 2, min(tip[2], target_z) - (2 if number > 3 else -4), 6.0)
                cartilage = np.stack((tip, middle, end))
            else:
                cartilage = np.stack((tip, tip + (0.0, -4.0, -2.0), tip + (0.0, -7.0, -3.0)))
            out.append((number, side, line, cartilage))
    return out


def _ribs(canvas: Canvas) -> Region:
    bones: list[Tube] = []
    cartilage: list[Tube] = []
    for number, _, line, gristle in rib_lines():
        r = 3.6 if 2 < number < 11 else 3.1
        bones.append(tube(line, np.linspace(1.0, 1.12, len(line)) * r, 3))
        if number <= 10:
            cartilage.append(tube(gristle, (r + 0.4, 4.0, 3.6), 8))
    soft = canvas.tubes(cartilage, (1.0, 1.0, 1.5), rough=(0.4, 10.0, 19))
    canvas.paint(soft, 105 + 20 * canvas.texture(soft.box, 5.0, 20))
    canvas.paint(Region(soft.box, np.abs(soft.distance) - np.float32(0.35)), 260.0, 1.2, 0.7)
    ribs = canvas.tubes(bones, (1.0, 1.0, 1.7), rough=(0.35, 9.0, 18))
    paint_bone(canvas, ribs, 1.25, 1080.0, 165.0, 21)
    return ribs


def _sternum(canvas: Canvas) -> None:
    def front(z: float) -> float:
        return float(CAVITY.surface(180.0, z, 7.5)[1])

    top = canvas.loft(
        Loft.of((8, 20, 36, 46), 0.0, [front(z) for z in (8, 20, 36, 46)], (17, 22, 29, 24), (5.5, 6, 6.5, 5.5), 2.4)
    )
    z = (-92, -80, -50, -20, 5)
    blade = canvas.loft(Loft.of(z, 0.0, [front(h) for h in z], (8, 17, 17.5, 15, 14), (4, 5.2, 5.4, 5.2, 5), 2.5))
    xiphoid = canvas.tubes(
        [tube(((0, front(-92), -92), (0, front(-100) + 2, -106), (0, front(-110) + 5, -116)), (4.5, 3.5, 2.0))], (1.6, 1, 1)
    )
    canvas.paint(xiphoid, 150.0)
    paint_bone(canvas, canvas.union([top, blade]), 1.3, 720.0, 135.0, 24)


def _girdle(canvas: Canvas, cavity: Region) -> None:
    """Scapulae that slide on the ribs, clavicles, and upper arms raised beside the head."""
    bones = []
    for side in (-1.0, 1.0):
        mask = canvas.ellipsoid((side * 108, 62, 30), (34, 60, 78), (0.0, side * 24.0, side * -22.0), 2.6)
        conform = canvas.on(cavity, mask.box)
        plate = Region(mask.box, np.asarray(np.abs(conform - 22.0) - 1.9, dtype=np.float32))
        plate = canvas.common(plate, mask)
        border = tube(((side * 122, 66, -40), (side * 140, 46, 0), (side * 148, 30, 48)), (3.0, 4.0, 6.5))
        keel = tube(
            ((side * 86, 88, 44), (side * 114, 80, 66), (side * 142, 58, 96), (side * 156, 34, 112)), (2.5, 3.5, 4.5, 5.5)
        )
        socket = canvas.ellipsoid((side * 147, 24, 76), (7, 14, 17), (0.0, side * -35.0, side * 20.0))
        neck = tube(((side * 128, 52, 58), (side * 146, 26, 76)), (5.5, 8.5), 1)
        hook = tube(((side * 140, 20, 84), (side * 132, 4, 92), (side * 136, -8, 88)), (6, 5.5, 4.5))
        bones.append(canvas.union([plate, canvas.tubes([border, keel, neck, hook]), socket], soft_mm=3.0))
        clavicle = tube(
            ((side * 22, -32, 45), (side * 55, -37, 66), (side * 92, -8, 94), (side * 128, 16, 112), (side * 150, 26, 116)),
            (8.0, 5.8, 5.2, 5.6, 5.0),
        )
        bones.append(canvas.tubes([clavicle], rough=(0.5, 12.0, 27)))
        shaft = tube(
            ((side * 160, 17, 88), (side * 171, 9, 112), (side * 180, 2, 140), (side * 187, -5, 176)), (19, 17, 12.5, 11.0)
        )
        bones.append(
            canvas.union([canvas.ellipsoid((side * 163, 16, 84), (21, 22, 22)), canvas.tubes([shaft])], soft_mm=5.0)
        )
    for i, bone in enumerate(bones):
        thick = (1.3, 1.6, 2.2)[i % 3]
        paint_bone(canvas, bone, thick, (900.0, 1150.0, 1150.0)[i % 3], (170.0, 200.0, 120.0)[i % 3], 30 + 7 * i)
