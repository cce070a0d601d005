"""Monitor units by hand: the worked examples, and the engine's own factors in the same formulas."""

from __future__ import annotations

from itertools import pairwise

import pytest

from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from engine.dose import hand_check as hand
from tests.reference.table import held, law
from tests.support.dose import at_depth, axis, beam, dose, water

SUBJECT = "Monitor units and distances"
NOTES = "AAPM TG-71 (2014); inputs from lecture notes after Khan's textbook"


def say(check, found, expected, known="exact", source="arithmetic", **more):
    held(SUBJECT, check, found, expected, source=source, known=known, **more)


def test_example_a_fixed_distance():
    mu = hand.mu_fixed_ssd(2.0, 1.020, 1.010, 0.651, 1000, 15)
    say(
        "example A, 15 x 15 cm at SSD 100 cm, 10 cm deep",
        mu,
        298.2,
        tol=0.1,
        unit=" MU",
        digits=1,
        known="read, computed",
        source=NOTES,
    )
    given = 2.0 / 0.651
    assert given == pytest.approx(3.072, abs=0.0005)


def test_example_b_other_distance():
    side = hand.equivalent_square_mm(126, 129)
    factor = hand.mayneord(53, 15, 1000, 1010)
    mu = hand.mu_fixed_ssd(2.0, 1.010, 1.005, 0.864 * factor, 1010, 15)
    say(
        "example B, 12.6 x 12.9 cm at SSD 101 cm, 5.3 cm deep",
        mu,
        232.4,
        tol=0.1,
        unit=" MU",
        digits=1,
        known="read, computed",
        source=NOTES,
    )
    assert (side / 10, factor) == (pytest.approx(12.75, abs=0.01), pytest.approx(1.00070, abs=2e-5))
    assert hand.inverse_square(1015, 1025) == pytest.approx(0.98058, abs=1e-5)


def test_arithmetic_of_distances():
    found = [hand.mayneord(100, 15, 1000, 1200), hand.mayneord(200, 25, 1000, 1200), hand.mayneord(50, 25, 1000, 900)]
    assert found == pytest.approx([1.0259, 1.0494, 0.9949], abs=1e-4)
    found = [hand.inverse_square(1015, 1000), hand.inverse_square(1000, 1100), hand.inverse_square(1000, 2000)]
    assert found == pytest.approx([1.0302, 0.8264, 0.2500], abs=1e-4)


def hand_mu(jaws, ssd, depth, machine="point-6", normalised=100.0):
    t = hand.water_tables(load_machine(machine))
    setting = hand.equivalent_square_mm(*jaws)
    at_point = setting * (ssd + depth) / 1000
    return hand.mu_isocentric(
        1.0,
        t.sc(setting),
        t.sp(at_point, normalised),
        t.tpr(at_point, depth, normalised),
        ssd + depth,
        normalised,
        gy_per_mu=t.reference_gy_per_mu(normalised),
    )


@pytest.mark.parametrize("machine", ["point-6", "generic-6", "generic-10"])
def test_the_engine_against_the_hand(machine):
    # Squares and a rectangle away from the reference set-up; the tables know only squares at SSD 100 cm.
    cases = [((80.0, 80.0), 900.0, 100.0), ((60.0, 150.0), 950.0, 60.0), ((120.0, 120.0), 850.0, 150.0)]
    found = []
    for (x, y), ssd, depth in cases:
        one = beam(Aperture((-x / 2, x / 2), (-y / 2, y / 2)), (0.0, 1000.0 - ssd, 0.0))
        found.append(
            hand_mu((x, y), ssd, depth, machine)
            * at_depth(axis(dose(water((320.0, 280.0, 320.0), 4.0), one, machine)), depth)
        )
    say(
        f"engine's dose at the hand's monitor units for 1 Gy, {machine}",
        found,
        [1.0] * 3,
        rel=0.02,
        known="common practice",
        source="MU check within 2 %",
        unit=" Gy",
        at=["8 x 8", "6 x 15", "12 x 12 cm"],
    )


def test_blocking_inside_fixed_jaws_is_no_change_in_air():
    # The point source has no head scatter: a blocked field gives, on the axis, what jaws of the same opening give.
    machine = load_machine("point-6")
    edges = machine.leaf_edges_mm
    leaves = tuple((-30.0, 30.0) if low >= -30 and high <= 30 else (60.0, 60.0) for low, high in pairwise(edges))
    blocked = dose(water((240.0, 240.0, 240.0), 4.0), beam(Aperture((-100.0, 100.0), (-100.0, 100.0), edges, leaves)))
    plain = dose(water((240.0, 240.0, 240.0), 4.0), beam(60.0))
    ratio = at_depth(axis(blocked), 100.0) / at_depth(axis(plain), 100.0)
    law(SUBJECT, "blocking inside fixed jaws: only the irradiated field counts for phantom scatter", 100 * (ratio - 1), 0.3)


def test_inverse_square_of_the_engine():
    # Behind a given depth of water the dose of a field of fixed width there follows the distance alone: TPR's meaning.
    doses = [
        at_depth(
            axis(dose(water((320.0, 240.0, 320.0), 4.0), beam(100.0 * 1000 / far, (0.0, 1000.0 - far + 100.0, 0.0)))), 100.0
        )
        for far in (900.0, 1000.0, 1200.0)
    ]
    law(
        SUBJECT,
        "dose times distance squared, same width and depth at 90, 100, 120 cm",
        100 * (doses[2] * 1.44 / (doses[0] * 0.81) - 1),
        0.6,
    )
