"""Volumes and the form of names."""

import pytest

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Contour, Volume, new_key, tg263_form
from tests.support.solids import cube_grid, sphere

BALL = sphere(cube_grid(12), 8)


@pytest.mark.parametrize("name", ["Lung_L", "PTV!", "PTV-03", "PTV_50.4Gy", "zPTVopt", "PTV^Boost1", "A" * 16, "Lung~_L"])
def test_good_names(name):
    assert tg263_form(name)


@pytest.mark.parametrize("name", ["left lung", "A" * 17, "", "3rd", "Lunge_ä", "a/b", "Lung_L\n"])
def test_names_of_another_form(name):
    assert not tg263_form(name)


@pytest.mark.parametrize("change", [{"role": "ORGAN"}, {"name": "  "}, {"name": "x" * 65}, {"density_g_cm3": -1}])
def test_bad_volumes_cannot_exist(change):
    with pytest.raises(InputError):
        Volume("k", "Heart", "OAR", (1, 2, 3), BALL).but(**change)


def test_edited_volumes_let_go_of_their_original_contours():
    came_in = Volume("k", "Heart", "OAR", (1, 2, 3), BALL, original=(Contour(frozen_array([[0.0, 0, 0]])),), note="read")
    edited = came_in.with_coverage(Coverage(BALL.grid))
    assert edited.original == ()
    assert edited.note == "read"
    assert came_in.with_coverage(BALL, "margin 5 mm").note == "margin 5 mm"
    assert not came_in.is_target
    assert came_in.but(role="PTV").is_target
    assert new_key() != new_key()


def test_contours_from_before_their_text_was_kept_stay_the_same():
    bare = Contour(frozen_array([[0.0, 0, 0]]))
    assert "text" not in bare.content()[1]
    assert bare.but(text="0\\0\\0").fingerprint != bare.fingerprint
