"""Laws that any dose must keep: symmetry, turning, the grid's phase, oblique entry, places off the centre, energy."""

from __future__ import annotations

import numpy as np

from engine.base.values import own_array
from engine.dose.dose import weighted_sum
from engine.image.density import Density
from engine.space.grid import Grid
from engine.space.sampling import trilinear
from tests.reference.table import law
from tests.support.dose import beam, dose, phantom_grid, slabs, water

SUBJECT = "Laws"


def at(result, points):
    return trilinear(result.gy.astype(np.float64), result.grid, np.asarray(points, float))


def test_dose_is_proportional_to_monitor_units():
    one = dose(water((160.0, 160.0, 160.0), 4.0), beam(60.0))
    two, three = weighted_sum([one], [200.0]), weighted_sum([one, one], [150.0, 150.0])
    wrong = np.abs(3 * two.gy - 2 * three.gy).max() / three.gy.max()
    law(SUBJECT, "dose is proportional to monitor units", 100 * float(wrong), 0.001, digits=4)


def test_symmetry():
    gy = dose(water((240.0, 240.0, 240.0), 4.0), beam(100.0), "generic-6").gy.astype(np.float64)
    top = gy.max()
    law(
        SUBJECT,
        "left-right, head-foot difference of a symmetric field, of the maximum",
        100 * float(max(np.abs(gy - gy[:, :, ::-1]).max(), np.abs(gy - gy[::-1]).max()) / top),
        0.1,
    )
    # Cones that lean to two axes alike step along one of them, so edges differ by the rounding of their lines.
    flat = dose(water((240.0, 240.0, 240.0), 4.0), beam(100.0)).gy.astype(np.float64)
    law(
        SUBJECT,
        "difference after exchanging the two transverse axes, of the maximum",
        100 * float(np.abs(flat - flat.transpose(2, 1, 0)).max() / flat.max()),
        1.0,
    )


def test_turning_the_gantry_about_a_cylinder():
    grid = Grid((-118.5, -118.5, -88.5), (3.0, 3.0, 3.0), (60, 80, 80))
    sub = (np.arange(8) + 0.5) / 8 - 0.5
    x = (grid.x_mm[:, None] + 3 * sub).ravel()
    share = (x[None, :] ** 2 + x[:, None] ** 2 <= 100.0**2).reshape(80, 8, 80, 8).mean(axis=(1, 3))
    body = Density(own_array(np.broadcast_to(np.maximum(share, 0.00121), grid.shape).astype(np.float32)), grid)
    depth = np.array([-80.0, -50.0, 0.0, 50.0])
    curves = []
    for gantry in (0.0, 17.0, 30.0, 45.0, 60.0, 90.0, 211.0):
        g = np.deg2rad(gantry)
        # Towards the source: (sin g, -cos g) in patient x, y; negative `depth` lies before the centre.
        points = [(-d * np.sin(g), d * np.cos(g), 0.0) for d in depth]
        curves.append(at(dose(body, beam(60.0, gantry_deg=gantry)), points))
    spread = np.ptp(curves, axis=0) / np.mean(curves, axis=0)
    law(SUBJECT, "spread over seven gantry angles on a cylinder, 2 to 15 cm deep", 100 * float(spread.max()), 1.0)


def test_patient_position_and_gantry_can_be_exchanged():
    # Supine from above is prone from below; feet first mirrors left and right at the gantry.
    def one(position, gantry):
        return dose(water((160.0, 160.0, 160.0), 4.0, position), beam(60.0, (0.0, 80.0, 0.0), gantry_deg=gantry)).gy

    reference = one("HFS", 90.0).astype(np.float64)
    others = [one("HFP", 270.0), one("FFS", 270.0), one("FFP", 90.0)]
    wrong = max(np.abs(o - reference).max() for o in others) / reference.max()
    law(SUBJECT, "the same beam in the four positions on the couch", 100 * float(wrong), 0.1)


def test_the_phase_and_size_of_the_grid():
    body = water((120.0, 160.0, 120.0), 2.0)
    points = [(0.0, d, 0.0) for d in (50.0, 100.0)]
    found = []
    for spacing in (1.0, 2.0, 2.5, 3.0, 5.0):
        for shift in (0.0, 0.5) if spacing > 1 else (0.0,):
            off = shift * spacing
            n = [
                int((s - 2) / spacing) - 1 for s in (120.0 if spacing > 1 else 50.0, 160.0, 120.0 if spacing > 1 else 50.0)
            ]
            first = (-(n[0] - 1) * spacing / 2 + off, spacing / 2 + off, -(n[2] - 1) * spacing / 2 + off)
            if spacing == 1.0:
                # A fine grid over the field alone in a phantom of its own size.
                own = water((50.0, 160.0, 50.0), 1.0)
                narrow = at(dose(own, beam(30.0)), points)
                wide = at(dose(water((50.0, 160.0, 50.0), 2.0), beam(30.0)), points)
                found.append(narrow / wide * at(dose(body, beam(30.0)), points))
                continue
            grid = Grid(first, (spacing,) * 3, (n[2], n[1], n[0]))
            found.append(at(dose(body, beam(30.0), grid=grid), points))
    middle = np.median(found, axis=0)
    law(
        SUBJECT,
        "axis of a 3 cm field with grids of 1, 2, 2.5, 3, 5 mm in two phases",
        100 * float(np.abs(np.array(found) / middle - 1).max()),
        0.5,
    )
    bigger = [
        at(
            dose(
                water((240.0, 200.0, 240.0), 4.0),
                beam(100.0),
                grid=Grid((-117.5 + o, 2.5 + o, -117.5 + o), (s,) * 3, (round(230 / s), round(190 / s), round(230 / s))),
            ),
            points,
        )
        for s, o in ((5.0, 0.0), (5.0, 1.7), (4.0, 0.0), (4.0, 2.0), (2.5, 0.6))
    ]
    law(
        SUBJECT,
        "axis of a 10 cm field with grids of 2.5, 4, 5 mm in five phases",
        100 * float((np.ptp(bigger, axis=0) / np.mean(bigger, axis=0)).max() / 2),
        0.5,
    )


def test_oblique_entry():
    # A beam from 45 degrees on a flat surface, against a beam from 0 on a phantom whose surface is cut at 45 degrees.
    h, half = 2.5, 100.0
    flat = water((2 * half + 160, 160.0, 160.0), h)
    isocentre = (0.0, 0.0, 0.0)
    oblique = dose(flat, beam(60.0, isocentre, gantry_deg=45.0), "point-6")
    grid = phantom_grid((200.0, 280.0, 160.0), h)
    grid = Grid((grid.origin_mm[0], grid.origin_mm[1] - 100.0, grid.origin_mm[2]), grid.spacing_mm, grid.shape)
    sub = (np.arange(8) + 0.5) / 8 - 0.5
    x, y = (grid.x_mm[:, None] + h * sub).ravel(), (grid.y_mm[:, None] + h * sub).ravel()
    inside = (y[:, None] > -x[None, :]).reshape(grid.shape[1], 8, grid.shape[2], 8).mean(axis=(1, 3))
    cut = Density(own_array(np.broadcast_to(np.maximum(inside, 0.00121), grid.shape).astype(np.float32)), grid)
    straight = dose(cut, beam(60.0, isocentre), "point-6")
    a = np.deg2rad(45.0)
    depth, side = np.array([35.0, 60.0, 90.0]), np.array([-15.0, 0.0, 15.0])
    d, s = (v.ravel() for v in np.meshgrid(depth, side))
    found = at(oblique, np.stack([-d * np.sin(a) + s * np.cos(a), d * np.cos(a) + s * np.sin(a), 0 * d], axis=1))
    wanted = at(straight, np.stack([s, d, 0 * d], axis=1))
    law(
        SUBJECT,
        "45° on a flat surface against a phantom cut at 45°, inside the field",
        100 * float(np.abs(found / wanted - 1).max()),
        1.5,
    )


def test_a_phantom_off_the_middle_of_its_image():
    small = water((120.0, 120.0, 120.0), 4.0)
    shape = (55, 50, 60)
    grid = Grid(
        (small.grid.origin_mm[0] - 80.0, small.grid.origin_mm[1] - 40.0, small.grid.origin_mm[2] - 20.0),
        small.grid.spacing_mm,
        shape,
    )
    rho = np.full(shape, 0.00121, np.float32)
    rho[5:35, 10:40, 20:50] = 1.0
    inside = dose(Density(own_array(rho), grid), beam(50.0), grid=small.grid).gy.astype(np.float64)
    alone = dose(small, beam(50.0)).gy.astype(np.float64)
    # Air about it sends a little back and takes a little away.
    law(
        SUBJECT,
        "a phantom off the middle of an image of air against the phantom alone, of the maximum",
        100 * float(np.abs(inside - alone)[1:-1, 1:-1, 1:-1].max() / alone.max()),
        0.3,
    )


def along_axis(density, side, machine="point-6"):
    line = Grid((0.0, 1.25, 0.0), (2.5, 2.5, 2.5), (1, 116, 1))
    return line.y_mm, np.log(dose(density, beam(side), machine, grid=line).gy[0, :, 0].astype(np.float64))


def off_parabola(side):
    worst = 0.0
    for machine in ("point-6", "point-10"):
        y, d = along_axis(water((300.0, 300.0, 300.0), 2.5), side, machine)
        for n in np.flatnonzero((y > 35) & (y < 270)):
            near = slice(n - 6, n + 7)
            worst = max(worst, abs(d[n] - np.polyfit(y[near] - y[n], d[near], 2)[-1]))
    return 100 * float(worst)


def test_the_axis_is_smooth():
    wide = max(off_parabola(side) for side in (40.0, 47.0, 60.0, 100.0, 200.0))
    law(SUBJECT, "axis of 4, 4.7, 6, 10 and 20 cm fields off a parabola through 3 cm of it, 6 and 10 MV", wide, 0.2)
    # Scatter comes to the axis of a narrow field along few cones at a time.
    law(SUBJECT, "the same, 3 cm field", off_parabola(30.0), 0.4)


def test_borders_do_not_ring():
    # Ringing is what changes sign from voxel to voxel three times in a row; a border alone bends the curve once.
    worst = 0.0
    for layers in ([(50.0, 1.0), (100.0, 0.26)], [(30.0, 1.0), (20.0, 1.85)], [(50.0, 1.0), (30.0, 0.00121)]):
        y, d = along_axis(slabs(layers, (300.0, 300.0, 300.0), 2.5), 50.0)
        r = (d[1:-1] - (d[:-2] + d[2:]) / 2)[y[1:-1] > 20]
        for a in range(r.size - 3):
            four = r[a : a + 4]
            if np.all(four[:-1] * four[1:] < 0):
                worst = max(worst, float(np.abs(four).min()))
    law(SUBJECT, "ringing at the borders of lung, bone and air, voxel to voxel", 100 * worst, 0.2, digits=3)
