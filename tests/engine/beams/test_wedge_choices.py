"""The wedges a beam could stand with: each angle each way once, only what covers the field."""

from __future__ import annotations

from engine.beams.beam import Aperture, Beam, ControlPoint
from engine.beams.limits import misfits
from engine.beams.machine_file import load_machine
from engine.beams.wedge_choices import wedge_choices

MACHINE = load_machine("generic-6")
BEAM = Beam("a", "A", "generic-6", (0, 0, 0), 0, 0, 0, Aperture((-40, 40), (-40, 40)))


def ways(beam: Beam) -> list[tuple[float, float]]:
    found = []
    for b in wedge_choices(beam, MACHINE):
        wedge = MACHINE.wedge(b.wedge)
        found.append((wedge.angle_deg, b.wedge_orientation_deg) if wedge else (0.0, 0.0))
    return found


def test_each_angle_each_way_once_and_the_open_beam_first() -> None:
    found = ways(BEAM)
    assert found[0] == (0, 0)
    assert len(found) == len(set(found)) == 1 + 4 * 4
    assert {turn for angle, turn in found if angle} == {0, 90, 180, 270}
    assert wedge_choices(BEAM, MACHINE)[0] is BEAM


def test_the_beam_as_it_is_comes_first_and_stays_as_it_is() -> None:
    virtual = BEAM.but(wedge="V30", wedge_orientation_deg=180.0)
    found = wedge_choices(virtual, MACHINE)
    assert found[0] is virtual
    assert len(found) == 17
    assert ways(virtual).count((30.0, 180.0)) == 1
    assert any(b.wedge == "" for b in found)


def test_what_does_not_cover_the_field_is_left_out() -> None:
    wide = BEAM.but(aperture=Aperture((-90, 90), (-40, 40)))
    found = wedge_choices(wide, MACHINE)
    assert not any(m.code == "wedge-field" for b in found for m in misfits(b, MACHINE))
    assert (60.0, 90.0) not in ways(wide)
    assert (45.0, 90.0) in ways(wide)


def test_no_choice_where_there_is_none() -> None:
    bare = load_machine("point-6")
    assert wedge_choices(BEAM.but(machine="point-6"), bare) == (BEAM.but(machine="point-6"),)
    turning = BEAM.but(points=(ControlPoint(0, 0, BEAM.aperture), ControlPoint(1, 90, BEAM.aperture)), rotation="CW")
    assert wedge_choices(turning, MACHINE) == (turning,)
