import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine
from engine.dose.request import DoseRequest
from tests.support.dose import beam, water

DENSITY = water((80.0, 80.0, 80.0), 8.0)
POINT = load_machine("point-6")


def request(**more):
    return DoseRequest(DENSITY, beam(60).nameless(), POINT, DENSITY.grid, **more)


@pytest.mark.parametrize("wrong", [{"quality": "best"}, {"method": "pencil-beam"}, {"report_to": "bone"}])
def test_unknown_choices_are_refused(wrong):
    with pytest.raises(InputError):
        request(**wrong)


def test_everything_that_changes_dose_changes_the_fingerprint():
    base = request().fingerprint
    assert request().fingerprint == base
    assert request(tables="other").fingerprint != base
    assert request(physics_version=99).fingerprint != base
    assert request(report_to="water").fingerprint != base
    for field, value in (("beam", beam(61)), ("machine", POINT.but(jaw_transmission=0.01))):
        assert request().but(**{field: value}).fingerprint != base


def test_names_and_keys_do_not():
    named = beam(60).but(key="k1", name="left lateral")
    assert request().but(beam=named.nameless()).fingerprint == request().fingerprint
