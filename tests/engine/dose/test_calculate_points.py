"""Dose of beams with control points: openings one after another, leaves that move, arcs."""

import numpy as np
import pytest

from engine.base.errors import Cancelled, InputError
from engine.base.values import own_array
from engine.beams.arcs import with_arc
from engine.beams.beam import Aperture, ControlPoint
from engine.beams.machine_file import load_machine
from engine.beams.segments import Segment, with_segments
from engine.dose.calculate import calculate
from engine.dose.request import DoseRequest
from engine.image.density import Density
from engine.space.grid import Grid
from engine.space.sampling import trilinear
from tests.support.dose import beam, dose, water
from tests.support.phantoms import disc_share, grid_of

BOX = water((160.0, 160.0, 160.0), 5.0)
GENERIC = load_machine("generic-6")
POINT = load_machine("point-6")
WIDE, SMALL = Aperture((-40, 40), (-40, 40)), Aperture((-15, 25), (-20, 10))


def gy(one, machine=POINT, density=BOX):
    return calculate(DoseRequest(density, one, machine, density.grid)).gy


def unlike(a, b):
    return float(np.abs(a - b).max() / b.max())


def test_two_halves_of_one_opening_are_that_opening():
    plain = beam(80)
    a = plain.aperture
    halves = plain.but(points=(ControlPoint(0, 0, a), ControlPoint(0.5, 0, a), ControlPoint(1, 0, a)))
    assert np.array_equal(gy(halves), gy(plain))


@pytest.mark.parametrize("machine", [POINT, GENERIC], ids=lambda m: m.name)
def test_openings_add_up_to_the_doses_of_each(machine):
    # Each opening with its own head scatter and output per monitor unit; transport is linear in fluence.
    both = with_segments(beam(WIDE), [Segment(0.7, WIDE), Segment(0.3, SMALL)])
    apart = 0.7 * gy(beam(WIDE), machine) + 0.3 * gy(beam(SMALL), machine)
    # The cells of a small field alone are finer.
    difference = np.abs(gy(both, machine) - apart) / apart.max()
    assert float(np.sqrt(np.mean(difference**2))) < 0.004
    assert unlike(gy(both, machine)[:, 4:, :], apart[:, 4:, :]) < 0.04


def test_the_order_of_openings_does_not_matter():
    one = with_segments(beam(WIDE), [Segment(0.7, WIDE), Segment(0.3, SMALL)])
    other = with_segments(beam(WIDE), [Segment(0.3, SMALL), Segment(0.7, WIDE)])
    assert unlike(gy(one), gy(other)) < 1e-6


def test_a_gap_that_sweeps_gives_an_even_field():
    # A slit of 20 mm that crosses 60 mm: inside, every point is seen for a third of the time.
    edges = POINT.leaf_edges_mm or GENERIC.leaf_edges_mm
    pairs = len(edges) - 1

    def slit(at):
        return Aperture((-60, 60), (-30, 30), edges, ((at - 10.0, at + 10.0),) * pairs)

    sweep = beam(slit(-40)).but(points=(ControlPoint(0, 0, slit(-40)), ControlPoint(1, 0, slit(40))))
    row = trilinear(gy(sweep, GENERIC), BOX.grid, np.array([(x, 60.0, 0.0) for x in (-20.0, -10.0, 0.0, 10.0, 20.0)]))
    assert np.ptp(row) / row.mean() < 0.03


def test_an_arc_that_hardly_turns_is_a_still_beam():
    still = beam(80, gantry_deg=40)
    arc = with_arc(still, (39.99, 40.01), (still.aperture, still.aperture), "CW")
    assert unlike(gy(arc), gy(still)) < 1e-5


def test_both_ways_round_are_the_same_dose():
    one = with_arc(beam(60), (300, 60), (WIDE, SMALL), "CW")
    other = with_arc(beam(60), (60, 300), (SMALL, WIDE), "CC")
    assert unlike(gy(one), gy(other)) < 1e-5


def test_a_full_turn_about_a_cylinder_is_the_same_all_round():
    grid = grid_of((204.0, 204.0, 100.0), 4.0)
    share = disc_share(grid, 80.0)
    rho = np.broadcast_to(share, grid.shape).astype(np.float32)
    body = Density(own_array(rho), grid, "HFS")
    arc = with_arc(beam(60, isocentre_mm=(0.0, 0.0, 0.0)), (0, 0), (beam(60).aperture,) * 2, "CW")
    found = gy(arc, POINT, body)
    angles = np.radians(np.arange(0, 360, 15.0))
    for radius, tolerance in ((20.0, 0.01), (40.0, 0.015), (60.0, 0.02)):
        ring = np.column_stack((radius * np.cos(angles), radius * np.sin(angles), np.zeros(angles.size)))
        seen = trilinear(found, grid, ring)
        assert np.ptp(seen) / seen.mean() < tolerance


def test_an_arc_can_be_cancelled_between_its_angles():
    arc = with_arc(beam(60), (0, 90), (WIDE, WIDE), "CW")

    def stop(fraction, words):
        if fraction > 0.3:
            raise Cancelled

    with pytest.raises(Cancelled):
        calculate(DoseRequest(BOX, arc, POINT, BOX.grid), stop)


def test_every_opening_must_be_one_the_machine_can_give():
    wrong = with_segments(beam(WIDE), [Segment(1, WIDE), Segment(1, Aperture((-900, 0), (-10, 10)))])
    with pytest.raises(InputError, match="jaws stand at -900"):
        dose(BOX, wrong)


def test_a_wedge_stands_in_every_opening():
    name = GENERIC.wedges[0].name
    made = with_segments(beam(WIDE), [Segment(0.5, WIDE), Segment(0.5, SMALL)]).but(wedge=name)
    apart = 0.5 * gy(beam(WIDE).but(wedge=name), GENERIC) + 0.5 * gy(beam(SMALL).but(wedge=name), GENERIC)
    points = [(0.0, 60.0, 0.0), (5.0, 60.0, -5.0), (30.0, 60.0, 25.0)]
    here, there = (trilinear(d, BOX.grid, np.array(points)) for d in (gy(made, GENERIC), apart))
    assert here == pytest.approx(there, rel=0.01)


def test_a_grid_of_one_voxel_reads_the_same():
    arc = with_arc(beam(60), (0, 20), (WIDE, WIDE), "CW")
    one = Grid((2.5, 62.5, 2.5), (5.0, 5.0, 5.0), (1, 1, 1))
    whole = trilinear(gy(arc), BOX.grid, np.array([one.origin_mm]))[0]
    assert float(calculate(DoseRequest(BOX, arc, POINT, one)).gy[0, 0, 0]) == pytest.approx(float(whole), rel=2e-3)
