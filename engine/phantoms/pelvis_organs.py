"""The organs of the pelvis: prostate, seminal vesicles, bladder, rectum, bulb, bowel, vessels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.pelvis_frame import SIDES, Frame
from engine.phantoms.solids import Loft, Tube, tube

GUT_GAS_HU = -940.0


@dataclass(frozen=True)
class Organs:
    """True regions of the organs."""

    prostate: Region
    vesicles: Region
    bladder: Region
    rectum: Region
    bulb: Region
    bowel: Region
    sigmoid: Region


def paint_organs(canvas: Canvas, frame: Frame) -> Organs:
    """Paint the organs into the fat of the hollow."""
    _vessels(canvas, frame)
    bowel, sigmoid = _bowel(canvas, frame)
    bladder = canvas.loft(
        Loft.of(
            z=(20, 24, 32, 48, 66, 80, 90, 95),
            x=(0, 0, 0, 1, 2, 2, 1, 0),
            y=(-14, -14, -15, -20, -26, -30, -32, -32),
            a=(7, 17, 30, 42, 46, 41, 28, 8),
            b=(7, 15, 24, 31, 32, 27, 18, 6),
            back=(7, 16, 25, 33, 35, 30, 20, 6),
            power=2.15,
        ),
        rough=(1.5, 34.0, 800),
    )
    prostate = canvas.union(
        [
            canvas.ellipsoid((0, -1, 1), (25.5, 18.5, 21), power=2.15, rough=(1.0, 20.0, 801)),
            canvas.ellipsoid((0, -3, -14), (16, 14, 11)),
        ],
        8.0,
    )
    rectum = canvas.tubes(
        [
            tube(
                (
                    (0, 37, -42),
                    (0, 31, -28),
                    (0, 29.5, -10),
                    (1, 31, 12),
                    (2, 38, 36),
                    (3, 47, 58),
                    (8, 44, 78),
                    (20, 34, 90),
                ),
                (9.5, 10.5, 12.8, 14.0, 15.0, 15.0, 13.5, 12.0),
            ),
        ],
        (1.22, 1.0, 1.0),
        (1.2, 22.0, 802),
    )
    rectum = canvas.without(rectum, frame.bones, 2.0, 2.0)
    prostate = canvas.without(prostate, rectum, 1.6, 3.0)
    bladder = canvas.without(bladder, prostate, 0.3, 2.0)
    vesicles = canvas.tubes(
        [
            tube(((s * 3, 12, 22), (s * 12, 16, 28), (s * 23, 18, 34), (s * 33, 20, 41)), (3.6, 5.6, 6.0, 4.0))
            for s in SIDES
        ],
        (1.0, 1.0, 1.15),
        (1.1, 8.0, 803),
    )
    for other in (prostate, bladder, rectum):
        vesicles = canvas.without(vesicles, other, 0.7, 1.5)
    bulb = canvas.ellipsoid((0, 2, -47), (11, 10.5, 9.5), (-20.0, 0.0, 0.0), rough=(0.6, 9.0, 804))
    _paint_floor(canvas)
    canvas.paint(bladder.moved(2.2), -88.0, 1.5, 0.7)
    canvas.paint(bladder, 34.0)
    urine = bladder.moved(-2.8)
    canvas.paint(urine, 5 + 1.0 * canvas.texture(urine.box, 20.0, 805))
    canvas.paint(prostate, 41 + 3 * canvas.texture(prostate.box, 9.0, 806))
    core = canvas.ellipsoid((0, -4, 5), (14, 10, 14), rough=(1.0, 12.0, 807))
    canvas.paint(canvas.common(core, prostate.moved(-3)), 46 + 5 * canvas.texture(core.box, 6.0, 808), 3.0)
    specks = canvas.union([canvas.ellipsoid(p, (1.4, 1.2, 1.8)) for p in ((4, 3, 2), (-6, 4, -4), (1, 2, 8))])
    canvas.paint(specks, 310.0, 1.4)
    canvas.paint(vesicles, 33.0, 1.3)
    canvas.paint(bulb, 45.0, 1.3)
    _paint_rectum(canvas, rectum)
    return Organs(prostate, vesicles, bladder, rectum, bulb, bowel, sigmoid)


def _paint_floor(canvas: Canvas) -> None:
    sheet = canvas.ellipsoid((0, -4, -31), (32, 22, 4.5), (-14.0, 0.0, 0.0))
    canvas.paint(sheet, 47.0, 2.0)
    sphincter = canvas.tubes([tube(((0, 36, -24), (0, 40, -44), (0, 47, -62)), (13.5, 14, 12))], rough=(0.8, 14.0, 820))
    canvas.paint(sphincter, 52.0)
    crura = [tube(((s * 9, -6, -46), (s * 22, -12, -50), (s * 34, -2, -56)), (5, 5, 4)) for s in SIDES]
    bodies = tube(
        ((0, 0, -48), (0, -24, -58), (0, -56, -50), (0, -88, -52), (0, -108, -74), (0, -111, -100)), (9, 8, 10, 12, 11, 11)
    )
    canvas.paint(canvas.tubes([*crura, bodies], rough=(0.6, 10.0, 821)), 44.0)
    testes = canvas.union([canvas.ellipsoid((s * 14, -76, -86), (10.5, 13, 19), rough=(0.5, 10.0, 822)) for s in SIDES])
    canvas.paint(testes.moved(3.0), 5.0)
    canvas.paint(testes, 36.0)
    cords = [
        tube(((s * 52, -62, 46), (s * 36, -76, 20), (s * 22, -82, -20), (s * 15, -78, -66)), (4.0, 4.8, 5.0, 5.0))
        for s in SIDES
    ]
    cords = [Tube(c.points_mm, c.radius_mm * 0.8) for c in cords]
    canvas.paint(canvas.tubes(cords), 15.0, 2.0, 0.8)


def _paint_rectum(canvas: Canvas, rectum: Region) -> None:
    canvas.paint(rectum.moved(1.6), -80.0, 1.5, 0.4)
    canvas.paint(rectum, 40.0)
    inside = rectum.moved(-3.4)
    canvas.paint(inside, 18 + 26 * canvas.texture(inside.box, 5.0, 830), 1.3)
    pockets = [
        canvas.ellipsoid((1, 27, 8), (8, 5.5, 15), rough=(1.2, 8.0, 831)),
        canvas.ellipsoid((4, 42, 60), (8, 6, 9), rough=(1.2, 8.0, 832)),
        canvas.ellipsoid((0, 28, -14), (4.5, 3.5, 6)),
    ]
    canvas.paint(canvas.common(canvas.union(pockets), inside.moved(-0.5)), GUT_GAS_HU)


def _bowel(canvas: Canvas, frame: Frame) -> tuple[Region, Region]:
    space = canvas.without(frame.hollow.moved(-5.0), frame.bones, 4.0)
    path = ((20, 34, 90), (40, 14, 98), (34, -18, 108), (56, -34, 122), (82, -18, 140), (92, 6, 170), (98, 4, 210))
    sigmoid = canvas.tubes([tube(path, (12, 12, 13, 14, 14, 14, 15))], (1.0, 1.0, 1.15), (2.4, 13.0, 850))
    sigmoid = canvas.common(sigmoid, space)
    caecum = canvas.union(
        [
            canvas.ellipsoid((-84, -20, 136), (24, 25, 28), rough=(2.2, 16.0, 851)),
            canvas.tubes([tube(((-84, -18, 150), (-92, -8, 180), (-96, -4, 210)), (22, 20, 20))], rough=(2.4, 15.0, 852)),
        ],
        8.0,
    )
    caecum = canvas.common(caecum, space)
    large = canvas.union([sigmoid, caecum])
    loops: list[Region] = []
    rng = np.random.default_rng(853)
    for start in (
        (-40, -50, 112),
        (6, -56, 116),
        (-8, -30, 134),
        (-46, -44, 150),
        (14, -58, 152),
        (42, -56, 168),
        (-10, -34, 178),
        (-38, -56, 190),
        (20, -20, 196),
    ):
        turn = rng.uniform(0, 2 * np.pi)
        points = [np.array(start, dtype=float)]
        for _ in range(4):
            turn += rng.uniform(0.7, 1.7)
            points.append(points[-1] + (19 * np.cos(turn), 13 * np.sin(turn), rng.uniform(-9, 11)))
        loops.append(canvas.tubes([tube(np.array(points), rng.uniform(9.5, 13.0), 6)], rough=(1.8, 10.0, 854 + len(loops))))
    taken = canvas.union([large, canvas.ellipsoid((2, -28, 62), (50, 38, 38))])
    done: list[Region] = []
    for i, loop in enumerate(loops):
        loop = canvas.without(canvas.common(loop, space), taken, 1.6, 2.0)
        if done:
            loop = canvas.without(loop, canvas.union(done), 1.2, 2.0)
        done.append(loop)
        canvas.paint(loop, 42.0)
        lumen = loop.moved(-2.4)
        canvas.paint(lumen, 22 + 9 * canvas.texture(lumen.box, 8.0, 870 + i), 1.4)
        if i % 3 != 1:
            _, y, _ = canvas.axes(lumen.box)
            level = y - np.float32(start_level(loop, canvas))
            canvas.paint(
                Region(lumen.box, np.maximum(lumen.distance, np.broadcast_to(level, lumen.distance.shape))), GUT_GAS_HU
            )
    small = canvas.union(done)
    canvas.paint(large, 40.0)
    lumen = large.moved(-2.8)
    stool = canvas.texture(lumen.box, 5.5, 890)
    canvas.paint(lumen, np.asarray(8 + 45 * stool - 420 * np.clip(stool - 0.9, 0, 1.2), dtype=np.float32), 1.3)
    _, y, z = canvas.axes(lumen.box)
    gas = np.maximum(lumen.distance, np.asarray(y + 26.0 + 0.0 * z, dtype=np.float32))
    canvas.paint(Region(lumen.box, gas), GUT_GAS_HU)
    return small, sigmoid


def start_level(loop: Region, canvas: Canvas) -> float:
    """Return the height of the fluid level of a loop: most of it lies below (behind) the gas."""
    inside = np.flatnonzero((loop.distance < -2).any(axis=(0, 2)))
    if inside.size == 0:
        return -1e3
    y = canvas.axes(loop.box)[1].ravel()
    return float(y[inside[0]] + 0.3 * (y[inside[-1]] - y[inside[0]]))


def _vessels(canvas: Canvas, frame: Frame) -> None:
    lines = []
    for s in SIDES:
        lines.append(
            tube(
                (
                    (s * 10, -22, 210),
                    (s * 22, -18, 165),
                    (s * 44, -18, 125),
                    (s * 58, -40, 80),
                    (s * 62, -62, 40),
                    (s * 62, -68, 0),
                    (s * 68, -58, -60),
                    (s * 78, -44, -170),
                ),
                (6, 5.8, 5.2, 5, 4.8, 4.6, 4.2, 4),
            )
        )
        lines.append(
            tube(
                (
                    (s * 16, -8, 210),
                    (s * 28, -6, 160),
                    (s * 48, -8, 122),
                    (s * 56, -32, 78),
                    (s * 52, -58, 38),
                    (s * 52, -64, 0),
                    (s * 62, -52, -60),
                    (s * 76, -38, -170),
                ),
                (8, 7.5, 7, 6.5, 6.4, 6.4, 6, 5),
            )
        )
        lines.append(tube(((s * 44, -14, 125), (s * 48, 12, 104), (s * 46, 30, 80), (s * 44, 36, 50)), (4.2, 4, 3.5, 2.5)))
        lines.append(tube(((s * 46, -4, 122), (s * 50, 20, 102), (s * 48, 36, 78)), (5, 4.6, 3.6)))
        lines.append(tube(((s * 47, 8, 90), (s * 45, -12, 55), (s * 42, -26, 30)), (2.2, 2.0, 1.8)))
        lines.append(tube(((s * 30, 20, 205), (s * 40, 0, 140), (s * 48, 26, 80), (s * 38, 20, 48), (s * 20, 4, 40)), 2.2))
        lines.append(tube(((s * 24, 10, -6), (s * 26, 8, 12), (s * 34, 12, 28)), (3.0, 3.0, 2.5)))
        lines.append(tube(((s * 82, -50, -60), (s * 98, -38, -110), (s * 104, -28, -170)), 3.0))
    region = canvas.tubes(lines, rough=(0.4, 14.0, 900))
    sheath = canvas.without(region.moved(3.2), frame.bones, 1.0)
    canvas.paint(sheath, -90.0, 1.6, 0.8)
    canvas.paint(region, 43.0)
    spots = (
        (54, -54, 62),
        (50, -22, 100),
        (-56, -48, 66),
        (-52, -20, 98),
        (46, 20, 64),
        (-46, 18, 66),
        (70, -74, 8),
        (-72, -74, 6),
    )
    canvas.paint(canvas.union([canvas.ellipsoid(p, (3.0, 4.2, 5.0)) for p in spots]), 32.0, 1.4)
    plaque = canvas.union([canvas.ellipsoid(p, (1.2, 2.6, 3.0)) for p in ((26, -18, 158), (-49, -22, 116), (66, -62, 36))])
    canvas.paint(plaque, 600.0, 1.2)
