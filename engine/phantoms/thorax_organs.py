"""Inside the ribs: mediastinum, heart and vessels, airways, gullet, diaphragm and upper belly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.solids import Loft, tube
from engine.phantoms.thorax_cage import Cage, spine_y

BLOOD_HU, WALL_HU = 42.0, 50.0


@dataclass(frozen=True)
class Middle:
    """The organs between and below the lungs."""

    fat: Region
    heart: Region
    trachea: Region
    bronchi: Region
    gullet: Region
    belly: Region
    vessels: Region


def shape_heart(canvas: Canvas) -> Region:
    """Return the heart within its sac, its long axis down to the left and forward."""
    main = canvas.ellipsoid((17, -41, -72), (67, 46, 47), (0.0, 30.0, -27.0), 2.1, (2.0, 40.0, 101))
    atria = canvas.ellipsoid((-10, -24, -50), (40, 37, 36), (0.0, 10.0, 0.0), 2.0, (1.5, 40.0, 102))
    return canvas.union([main, atria], soft_mm=16.0)


def shape_middle(canvas: Canvas, heart: Region, cage: Cage) -> Region:
    """Return everything between the lungs: fat around heart, vessels, windpipe and spine, with smooth pleura."""
    back = Loft.of(
        z=(-205, -120, -60, 0, 40, 80, 110),
        x=(4, 5, 4, 2, 0, 0, 0),
        y=(50, 54, 56, 54, 46, 38, 36),
        a=(36, 31, 28, 26, 26, 27, 44),
        b=(46, 50, 50, 46, 46, 50, 60),
        back=(70, 70, 70, 70, 70, 70, 60),
        power=2.0,
    )
    front = Loft.of(
        z=(-125, -80, -20, 20, 60, 85, 105),
        x=(12, 8, 2, 0, 0, 0, 0),
        y=(-60, -60, -52, -40, -22, -8, 0),
        a=(30, 22, 11, 13, 30, 38, 40),
        b=(60, 60, 52, 44, 36, 36, 36),
        back=(56, 56, 52, 48, 48, 44, 40),
        power=2.0,
    )
    core = Loft.of(
        z=(-40, -15, 15, 45, 75, 105),
        x=(0, 0, 2, 0, 0, 0),
        y=(-10, -8, -4, 0, 4, 8),
        a=(34, 37, 40, 35, 30, 36),
        b=(36, 38, 36, 34, 34, 30),
        power=2.2,
    )
    wall = Loft.of((-205, 105), (6, 0), (-16, 0), (9, 9), (84, 70), 2.0)
    parts = [canvas.loft(loft, pad_mm=14.0) for loft in (back, front, core, wall)]
    return canvas.union([*parts, heart.moved(2.2)], soft_mm=11.0)


def shape_diaphragm(canvas: Canvas) -> Region:
    """Return what lies below the two domes."""
    right = canvas.ellipsoid((-60, -8, -206), (84, 92, 107), rough=(2.0, 60.0, 111))
    left = canvas.ellipsoid((64, -4, -210), (80, 90, 96), rough=(2.0, 60.0, 112))
    saddle = canvas.ellipsoid((4, -30, -206), (70, 70, 92))
    origin = canvas.ellipsoid((4, -96, -212), (126, 52, 100), rough=(2.0, 40.0, 113))
    return canvas.union([right, left, saddle, origin], soft_mm=14.0)


def paint_middle(canvas: Canvas, cage: Cage, heart: Region, middle: Region, belly: Region) -> Middle:
    """Paint the mediastinum and the belly; the lungs are painted before."""
    fat = canvas.common(middle, cage.cavity.moved(1.0))
    fat = canvas.without(fat, canvas.union([cage.spine.bone, cage.spine.canal]), 0.8)
    column_gap = canvas.solid(
        lambda x, y, z: np.hypot(x, (y - 72) * 0.8) - np.float32(30) + 0 * z, (-30, 40, -210), (30, 106, 150)
    )
    fat = canvas.without(fat, column_gap)
    canvas.paint(fat, -92 + 9 * canvas.texture(fat.box, 12.0, 120))
    _paint_belly(canvas, cage, belly)
    _paint_heart(canvas, heart)
    vessels = _paint_vessels(canvas)
    gullet = _paint_gullet(canvas)
    trachea, bronchi = _paint_airways(canvas)
    _paint_neck(canvas)
    return Middle(fat, heart, trachea, bronchi, gullet, belly, vessels)


def _paint_heart(canvas: Canvas, heart: Region) -> None:
    canvas.paint(heart, -85 + 12 * canvas.texture(heart.box, 10.0, 130))
    uneven = 3.4 + 1.5 * canvas.texture(heart.box, 22.0, 131)
    muscle = canvas.on(heart, heart.box) + np.maximum(uneven, 0.8)
    canvas.paint(Region(heart.box, np.abs(heart.distance + 0.6) - 0.7), 15.0, 1.4, 0.8)
    canvas.paint(Region(heart.box, muscle), 49 + 3 * canvas.texture(heart.box, 15.0, 132))
    pools = (
        ((34, -46, -84), (40, 20, 22), (0.0, 30.0, -28.0)),
        ((2, -62, -80), (38, 15, 27), (0.0, 26.0, -12.0)),
        ((-26, -38, -62), (19, 23, 25), (0.0, 0.0, 0.0)),
        ((4, -8, -50), (28, 14, 19), (0.0, 8.0, -8.0)),
    )
    for i, (centre, radii, turn) in enumerate(pools):
        pool = canvas.ellipsoid(centre, radii, turn, rough=(1.8, 24.0, 133 + i))
        canvas.paint(canvas.common(pool, Region(heart.box, muscle + 3)), BLOOD_HU - 3.0, 2.5)
    groove = canvas.tubes(
        [
            tube(((-22, -60, -42), (-40, -52, -66), (-34, -46, -92), (-4, -36, -108)), (4, 5, 5, 4)),
            tube(((14, -60, -38), (30, -74, -60), (50, -72, -84), (66, -66, -98)), (4.5, 4.5, 4, 3)),
            tube(((20, -14, -46), (44, -16, -60), (50, -24, -76)), (4, 4.5, 4)),
        ],
        rough=(0.8, 10.0, 139),
    )
    canvas.paint(canvas.common(groove, heart), -78.0, 1.6)
    arteries = [
        tube(((-22, -60, -42), (-40, -52, -66), (-34, -46, -92)), (1.6, 1.5, 1.2)),
        tube(((14, -60, -38), (30, -74, -60), (50, -72, -84)), (1.8, 1.5, 1.2)),
    ]
    canvas.paint(canvas.tubes(arteries), 40.0)
    canvas.paint(canvas.ellipsoid((31, -74, -60), (1.6, 1.3, 3.0)), 480.0)


def _paint_vessels(canvas: Canvas) -> Region:
    def down(x0: float, x1: float) -> list[tuple[float, float, float]]:
        return [
            (float(np.interp(z, (-205, 0), (x1, x0))), spine_y(z) - (22.0 if z > -120 else 26.0), z)
            for z in (-30, -80, -130, -205)
        ]

    aorta = tube(
        [
            (6, -30, -48),
            (-9, -42, -22),
            (-10, -40, 4),
            (-1, -26, 24),
            (13, -6, 31),
            (24, 14, 22),
            (26, 20, 0),
            *down(25, 4),
        ],
        (15, 16, 15.5, 14.5, 13.5, 13, 12.5, 12, 11.5, 11, 10.5),
    )
    cava = tube(
        [(-20, -30, -52), (-27, -30, -20), (-26, -28, 14), (-24, -27, 44), (-30, -20, 70), (-32, -10, 100)],
        (10, 9.5, 9, 8.5, 7.5, 6),
    )
    cross = tube([(-24, -27, 44), (4, -42, 46), (28, -32, 58), (36, -16, 80), (40, -8, 100)], (8, 6.5, 6.5, 6.5, 6.0))
    lower = tube([(-22, -20, -76), (-24, -8, -102), (-24, 2, -130), (-22, 2, -205)], (12, 12.5, 12.5, 11.5))
    trunk = tube([(16, -62, -50), (20, -56, -26), (24, -36, -9), (32, -14, -4), (50, 2, -8)], (14, 14, 13.5, 11.5, 9))
    right = tube([(22, -40, -10), (0, -20, -14), (-24, -16, -15), (-48, -10, -20)], (11.5, 11, 10.5, 9.5))
    heads = [
        tube([(-6, -30, 28), (-14, -24, 46), (-20, -16, 64), (-24, -6, 92)], (6.5, 6.5, 6, 5)),
        tube([(6, -16, 36), (12, -12, 60), (16, -6, 90), (20, -2, 140)], (4.5, 4.2, 4, 4)),
        tube([(16, -2, 36), (22, 4, 60), (30, 8, 84), (60, -4, 92)], (5.2, 5, 5, 4.5)),
        tube([(-24, -6, 92), (-26, -2, 115), (-27, 0, 150)], (5, 4, 4)),
        tube([(-24, -6, 90), (-44, -4, 94), (-70, -10, 90)], (5, 4.6, 4.4)),
        tube([(-36, -8, 100), (-38, -6, 150)], (6.5, 6.0), 1),
        tube([(40, -8, 100), (40, -6, 150)], (6.0, 5.5), 1),
    ]
    veins = [
        tube([(side * 56, 4 if side < 0 else 0, -50), (side * 34, -4, -50), (side * 14, -6, -50)], (6, 7, 8))
        for side in (-1.0, 1.0)
    ]
    azygos = tube(
        [(-9, spine_y(z) - 19, z) for z in (-180, -90, -20, 6)] + [(-16, 4, 14), (-24, -18, 14)], (3, 3.5, 4, 4.2, 4.5, 4.5)
    )
    everything = canvas.tubes([aorta, cava, cross, lower, trunk, right, *heads, *veins, azygos], rough=(0.7, 22.0, 140))
    canvas.paint(everything.moved(1.0), 46.0)
    canvas.paint(everything, BLOOD_HU + 2 * canvas.texture(everything.box, 20.0, 141))
    plaque = [
        canvas.ellipsoid(p, (3.2, 1.0, 2.8), (0, 0, a))
        for p, a in (((14, -19, 29), 30), ((36, 12, 8), 80), ((24, 31, -70), 0))
    ]
    canvas.paint(canvas.union(plaque), 520.0)
    nodes = [
        canvas.ellipsoid(p, (4.0, 2.6, 4.5))
        for p in ((-14, -16, 16), (12, 0, 12), (2, -8, -22), (-4, -56, 24), (-12, -2, 34))
    ]
    canvas.paint(canvas.union(nodes), 36.0, 1.3)
    return everything


GULLET = [
    (4, 4, 160),
    (5, 6, 110),
    (6, 14, 60),
    (6, 18, 20),
    (4, 17.5, -12),
    (6, 16, -45),
    (10, 12, -85),
    (20, 6, -112),
    (32, 2, -128),
]


def _paint_gullet(canvas: Canvas) -> Region:
    gullet = canvas.tubes([tube(GULLET, (4.4, 4.6, 5.6, 5.8, 5.8, 6.2, 6.8, 7.2, 7.5))], (1.45, 1.0, 1.0), (0.5, 16.0, 150))
    canvas.paint(gullet, 42.0)
    air = canvas.tubes(
        [
            tube([(6, 13.5, 62), (6.5, 16, 40), (6, 18, 20)], (1.0, 2.3, 0.8)),
            tube([(7, 15, -56), (8, 14, -66)], (0.8, 1.4)),
        ],
        (1.6, 1.0, 1.0),
    )
    canvas.paint(air, -850.0)
    return gullet


def _paint_airways(canvas: Canvas) -> tuple[Region, Region]:
    pipe = tube([(0, -14, 160), (0, -10, 120), (-1, -3, 70), (0, 2, 30), (0, 4, -2)], (8.2, 8.4, 8.8, 9.2, 9.6))
    rights = [
        tube([(-2, 4, 0), (-18, 5, -14), (-36, 4, -27)], (8.2, 7.4, 6.4)),
        tube([(-26, 5, -18), (-40, 3, -12), (-54, 2, -2)], (5.2, 4.6, 3.8)),
        tube([(-36, 4, -27), (-45, 6, -48), (-52, 12, -72)], (5.8, 5.0, 3.6)),
        tube([(-40, 4, -36), (-54, -14, -48)], (3.8, 3.0)),
    ]
    lefts = [
        tube([(2, 4, 0), (22, 7, -14), (43, 10, -29)], (7.2, 6.6, 6.0)),
        tube([(43, 10, -29), (56, 0, -26), (66, -8, -18)], (4.9, 4.3, 3.5)),
        tube([(43, 10, -29), (51, 15, -50), (58, 22, -72)], (5.2, 4.6, 3.4)),
    ]
    trachea = canvas.tubes([pipe], rough=(0.4, 14.0, 160))
    _, y, z = canvas.axes(trachea.box)
    ridge = np.clip((y - np.interp(z, (0, 70, 160), (10.5, 3.5, -8.0)).astype(np.float32)), -8, 8)
    trachea = Region(trachea.box, np.maximum(trachea.distance, np.asarray(ridge, dtype=np.float32)))
    bronchi = canvas.tubes([*rights, *lefts], rough=(0.3, 12.0, 161))
    both = canvas.union([trachea, bronchi], 3.0)
    canvas.paint(both.moved(1.7), 30.0)
    canvas.paint(both, -985.0)
    return trachea.moved(1.7), bronchi


def _paint_neck(canvas: Canvas) -> None:
    for side in (-1.0, 1.0):
        sheath = tube([(side * 24, -4, 98), (side * 30, -4, 118), (side * 33, -3, 150)], (7, 10.5, 11.5))
        canvas.paint(canvas.tubes([sheath], rough=(1.5, 14.0, 172)), -88.0, 1.5)
        canvas.paint(
            canvas.tubes(
                [
                    tube([(side * 22, -5, 95), (side * 26, -2, 118), (side * 28, 0, 155)], 4.0),
                    tube([(side * 36, -8, 98), (side * 36, -8, 150)], 5.5, 1),
                ]
            ),
            43.0,
        )
        strap = tube([(side * 14, -26, 66), (side * 26, -26, 100), (side * 42, -16, 155)], (5, 7, 9))
        rim = canvas.tubes([strap], (1.0, 1.0, 1.0), (0.8, 14.0, 173))
        canvas.paint(rim.moved(1.3), -60.0, 1.4)
        canvas.paint(rim, 55.0)
        canvas.paint(
            canvas.tubes([tube([(side * 22, 42, 100), (side * 24, 44, 155)], (15, 17), 1)]).moved(0.8), -45.0, 1.5, 0.8
        )
        canvas.paint(canvas.tubes([tube([(side * 22, 42, 100), (side * 24, 44, 155)], (15, 17), 1)]), 54.0)
        lobe = canvas.ellipsoid((side * 16, -15, 118), (8, 11, 21), (12.0, 0.0, side * 10.0), rough=(0.8, 12.0, 170))
        canvas.paint(lobe, 98.0)
    canvas.paint(canvas.ellipsoid((0, -24, 110), (13, 3.5, 6)), 95.0)


def _paint_belly(canvas: Canvas, cage: Cage, belly: Region) -> None:
    inside = canvas.common(belly, cage.cavity.moved(2.0))
    inside = canvas.without(inside, canvas.union([cage.spine.bone, cage.spine.canal]), 1.0)
    canvas.paint(inside, 45.0)
    cavity = canvas.without(inside.moved(-3.4), cage.spine.bone, 4.0)
    canvas.paint(cavity, -96 + 8 * canvas.texture(cavity.box, 14.0, 180))
    psoas = canvas.tubes([tube(((s * 17, 34, -150), (s * 26, 44, -205)), (6, 15), 1) for s in (-1.0, 1.0)], (1.0, 1.3, 1.0))
    canvas.paint(psoas, 52.0)
    crura = canvas.tubes(
        [
            tube(((-9, 4, -118), (-14, 8, -150), (-12, 12, -205)), (5, 6, 6)),
            tube(((11, 6, -118), (15, 8, -150), (13, 12, -205)), (4, 5, 5)),
        ]
    )
    canvas.paint(crura, 48.0)
    right = canvas.ellipsoid((-60, -8, -203), (84, 92, 108), rough=(1.0, 40.0, 181))
    lobe = canvas.ellipsoid((6, -48, -166), (62, 34, 44), (0.0, 18.0, 8.0), rough=(1.5, 30.0, 182))
    liver = canvas.common(canvas.union([right, lobe], 14.0), cavity)
    x, y, z = canvas.axes(liver.box)
    bare = np.hypot((x + 4) / 1.0, (y - 28) / 1.0) - 26.0
    liver = Region(liver.box, np.maximum(liver.distance, np.asarray(-bare + 0 * z, dtype=np.float32)))
    liver = canvas.without(liver, canvas.ellipsoid((-50, 62, -210), (36, 32, 46)), soft_mm=4.0)
    canvas.paint(liver, 58 + 2.5 * canvas.texture(liver.box, 18.0, 183))
    rng = np.random.default_rng(184)
    veins = []
    for end in ((-100, -30, -168), (-92, 24, -176), (-66, -52, -160), (-30, -58, -158), (-104, 4, -196), (-60, 40, -168)):
        bend = np.array(((-24, 0, -124), (-50, -6, -146), end), dtype=float)
        bend[1] += rng.normal(0, 6, 3)
        veins.append(tube(bend, (5.5, 3.8, 1.5)))
    canvas.paint(canvas.common(canvas.tubes(veins), liver), 40.0, 1.5)
    spleen = canvas.ellipsoid((98, 36, -164), (24, 42, 46), (8.0, -14.0, -30.0), 2.2, (2.5, 30.0, 185))
    stomach = canvas.union(
        [
            canvas.ellipsoid((56, -10, -148), (42, 36, 33), rough=(2.0, 30.0, 186)),
            canvas.ellipsoid((44, -42, -186), (46, 26, 32)),
        ],
        12.0,
    )
    stomach = canvas.without(canvas.without(canvas.common(stomach, cavity.moved(-1.5)), liver, 1.5), spleen, 2.0)
    canvas.paint(canvas.without(canvas.common(spleen, cavity.moved(-1.0)), stomach, 0.5), 51.0)
    canvas.paint(stomach, 42 + 4 * canvas.texture(stomach.box, 9.0, 187))
    lumen = stomach.moved(-4.0)
    canvas.paint(lumen, 22 + 14 * canvas.texture(lumen.box, 7.0, 188))
    x, y, z = canvas.axes(lumen.box)
    level = np.asarray(y + 34.0 + 0 * x + 0 * z, dtype=np.float32)
    canvas.paint(Region(lumen.box, np.maximum(lumen.distance, level)), -960.0)
    for side in (-1.0, 1.0):
        kidney = canvas.ellipsoid(
            (side * 54, 50, -208 + 4 * side), (26, 24, 40), (0.0, side * 10.0, 0.0), rough=(1.5, 20.0, 189)
        )
        kidney = canvas.common(kidney, cavity.moved(-4.0))
        canvas.paint(kidney, 33.0)
        adrenal = canvas.tubes(
            [tube(((side * 28, 24, -160), (side * 34, 34, -170), (side * 40, 42, -172)), (2.2, 2.6, 2.0))]
        )
        canvas.paint(canvas.common(adrenal, cavity), 25.0)
    colon = canvas.tubes(
        [tube(((100, -36, -205), (104, -20, -188), (88, -40, -176), (60, -70, -205)), (15, 16, 15, 16))],
        rough=(3.0, 16.0, 190),
    )
    colon = canvas.without(canvas.common(colon, cavity.moved(-2.0)), canvas.union([stomach, spleen]), 1.0)
    canvas.paint(colon, 38.0)
    gas = colon.moved(-2.6)
    canvas.paint(gas, -30 + 40 * canvas.texture(gas.box, 6.0, 191))
    x, y, z = canvas.axes(gas.box)
    canvas.paint(Region(gas.box, np.maximum(gas.distance, np.asarray(y + 34.0 + 0 * x + 0 * z, dtype=np.float32))), -930.0)
