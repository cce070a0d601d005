"""Arcs: every control point is fitted as a beam of its angle would be."""

from __future__ import annotations

import pytest

from engine.base.errors import Cancelled, InputError
from engine.beams.arcs import span_deg
from engine.beams.arrange import new_beam
from engine.beams.conform import Margins, conform
from engine.beams.conformal_arc import ArcRequest, make_arc
from engine.beams.machine_file import load_machine
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((80, 60, 60), (2.0, 2.0, 3.0))
EGG = coverage_of(GRID, lambda x, y, z: (x / 30) ** 2 + (y / 15) ** 2 + (z / 20) ** 2 <= 1)
MACHINE = load_machine("generic-6")
MARGINS = (4.0, 4.0, 6.0, 6.0)
BEAM = new_beam("Arc", MACHINE.name, (0.0, 0.0, 0.0), 0.0, collimator_deg=10.0)


def ask(**fields) -> ArcRequest:
    given = {"target": EGG, "start_deg": 350.0, "stop_deg": 80.0, "rotation": "CW", "spacing_deg": 30.0} | fields
    return ArcRequest(BEAM, machine=MACHINE, margins_mm=MARGINS, patient_position="HFS", **given)


def test_leaves_follow_the_shadow() -> None:
    made = make_arc(ask()).beam
    assert [p.gantry_deg for p in made.points] == [350, 20, 50, 80]
    assert [p.cumulative_weight for p in made.points] == pytest.approx([0, 1 / 3, 2 / 3, 1])
    for point in made.points:
        assert point.aperture == conform(BEAM.but(gantry_deg=point.gantry_deg), EGG, MACHINE, Margins(*MARGINS))
    first, last = made.points[0].aperture, made.points[-1].aperture
    assert first.x_mm[1] - first.x_mm[0] > last.x_mm[1] - last.x_mm[0] + 20


def test_a_full_turn_backwards_and_one_aperture_that_stays() -> None:
    made = make_arc(ask(target=None, start_deg=179.0, stop_deg=181.0, rotation="CC", spacing_deg=4.0)).beam
    assert span_deg(made) == pytest.approx(358)
    assert made.apertures == (BEAM.aperture,)


def test_an_arc_can_be_made_of_an_arc() -> None:
    once = make_arc(ask()).beam
    again = make_arc(ask().but(beam=once)).beam
    assert again == once


def test_it_can_be_stopped_and_refuses_nonsense() -> None:
    def stop(fraction: float, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        make_arc(ask(), stop)
    with pytest.raises(InputError):
        make_arc(ask(rotation="left"))
    with pytest.raises(InputError):
        make_arc(ask(spacing_deg=0.0))
