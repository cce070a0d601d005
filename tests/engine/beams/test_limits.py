"""What a machine cannot do is said, once and with numbers; what it can do is not complained about."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import InputError
from engine.beams.beam import Aperture, Beam
from engine.beams.limits import misfits, refuse_nonsense
from engine.beams.machine_file import load_machine

M = load_machine("generic-6")


def beam(aperture=None, **more):
    shape = aperture or Aperture((-50, 50), (-50, 50))
    return Beam("b", "AP", "generic-6", (0, 0, 0), 0, 0, 0, shape, **more)


def leaves(gap, jaws=(-100, 100), others=(-40.0, 40.0)):
    gaps = tuple(gap if n == 30 else others for n in range(60))
    return Aperture(jaws, (-100, 100), M.leaf_edges_mm, gaps)


def codes(one, machine=M):
    return [m.code for m in misfits(one, machine)]


def test_ordinary_beams_fit():
    assert misfits(beam(), M) == ()
    assert misfits(beam(Aperture((-200, 200), (-200, 200))), M) == ()
    assert misfits(beam(leaves((-40.0, 40.0))), M) == ()
    assert misfits(beam(wedge="W30", wedge_orientation_deg=90), M) == ()


@pytest.mark.parametrize(
    ("one", "machine", "code"),
    [
        (beam(Aperture((-230, 50), (-50, 50))), M, "field-too-wide"),
        (beam(Aperture((30, 60), (-50, 50))), M.but(jaw_x_mm=(-200, 50)), "jaw-range"),
        (beam(Aperture((-50, 50), (-50, 50), (-50, 0, 50), ((-9, 9), (-9, 9)))), M, "leaf-layout"),
        (beam(leaves((-40.0, 40.0))), M.but(leaf_edges_mm=()), "leaf-layout"),
        (beam(leaves((160.0, 190.0), (-200, 200))), M, "leaf-travel"),
        (beam(leaves((-190.0, -160.0), (-200, 200))), M, "leaf-travel"),
        (beam(leaves((0.0, 2.0))), M.but(min_leaf_gap_mm=5.0), "leaf-gap"),
        (beam(leaves((-120.0, 120.0), (-150, 150))), M.but(leaf_span_mm=60.0), "leaf-span"),
        (beam(wedge="W99"), M, "no-wedge"),
        (beam(wedge="V30", wedge_orientation_deg=90), M, "wedge-orientation"),
        (beam(Aperture((-50, 50), (-150, 50)), wedge="W30"), M, "wedge-field"),
    ],
)
def test_each_limit_is_said_in_a_sentence_with_its_machine_or_wedge(one, machine, code):
    found = [m for m in misfits(one, machine) if m.code == code]
    assert len(found) == 1
    assert machine.name in found[0].words or "wedge" in found[0].words


def test_what_lies_across_the_wedge_may_be_longer():
    long_field = Aperture((-150, 150), (-50, 50))
    assert codes(beam(long_field, wedge="W30")) == []
    assert codes(beam(long_field, wedge="W30", wedge_orientation_deg=90)) == ["wedge-field"]


def test_leaves_under_the_jaws_are_not_asked():
    gaps = tuple((-40.0, 40.0) if 20 <= n < 40 else (190.0, 190.0) for n in range(60))
    hidden = Aperture((-50, 50), (-50, 50), M.leaf_edges_mm, gaps)
    assert codes(beam(hidden)) == []


def test_nonsense_is_refused_by_the_name_of_the_beam():
    with pytest.raises(InputError, match="beam AP: generic-6 has no wedge W99"):
        refuse_nonsense(beam(wedge="W99"), M)
    refuse_nonsense(beam(Aperture((-230, 50), (-50, 50))), M)


def test_only_nonsense_cannot_be_computed():
    assert [m.computable for m in misfits(beam(wedge="W99"), M)] == [False]
    assert [m.computable for m in misfits(beam(Aperture((-500, 50), (-50, 50))), M)] == [False]
    assert [m.computable for m in misfits(beam(Aperture((-230, 50), (-50, 50))), M)] == [True]


@given(st.tuples(*(st.floats(-600, 600),) * 4), st.sampled_from(["", "W30", "V60", "W99"]), st.floats(0, 359))
def test_every_beam_gets_an_answer(jaws, wedge, angle):
    shape = Aperture(tuple(sorted(jaws[:2])), tuple(sorted(jaws[2:])))
    for misfit in misfits(beam(shape, wedge=wedge, wedge_orientation_deg=angle), M):
        assert misfit.code
        assert not misfit.words.endswith(".")
