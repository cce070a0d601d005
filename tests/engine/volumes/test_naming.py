"""TG-263 names."""

import pytest

from engine.volumes import naming
from engine.volumes.volume import ROLES, tg263_form


def test_the_list_is_in_order():
    listed = naming.names()
    assert len(listed) > 200
    assert len({s.name.lower() for s in listed}) == len(listed)
    assert {s.role for s in listed} <= set(ROLES)
    assert [s.name for s in listed if not tg263_form(s.name)] == []


def test_suggestions_start_with_what_was_typed():
    assert naming.suggestions("spin")[:2] == ("SpinalCanal", "SpinalCord")
    assert naming.suggestions("PAROT")[0] == "Parotid_L"
    assert "Glnd_Submand_L" in naming.suggestions("subm")
    assert naming.suggestions("  ") == ()
    assert naming.suggestions("qqqq") == ()
    assert len(naming.suggestions("l", 5)) == 5


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("PTV", "PTV"), ("PTV_High", "PTV"), ("PTV_50.4Gy", "PTV"), ("ptv2", "PTV"), ("GTVp", "GTV"), ("CTVn1", "CTV"),
        ("IGTV", "ITV"), ("ICTV", "ITV"), ("ITV", "ITV"), ("Lungs-GTV", "OAR"), ("SpinalCord_PRV05", "PRV"),
        ("OpticNrv_PRV03_L", "PRV"), ("Body", "EXTERNAL"), ("External", "EXTERNAL"), ("zPTVopt", "OTHER"),
        ("CouchSurface", "SUPPORT"), ("Bolus_05mm", "BOLUS"), ("Heart", "OAR"), (" heart ", "OAR"), ("Whatever", "OAR"),
        ("Markers", "OTHER"),
    ],
)  # fmt: skip
def test_roles_follow_names(name, role):
    assert naming.role_of(name) == role


def test_known_names():
    assert naming.known("Bladder")
    assert naming.known(" bladder")
    assert not naming.known("Blase")
    assert naming.role_of("Blase", "OTHER") == "OTHER"


@pytest.mark.parametrize("typed", ["left lung", "lung left", "lung l", "Lung_L", "lung lt"])
def test_a_side_is_found_however_it_is_written(typed):
    found = naming.suggestions(typed)
    assert found[0] == "Lung_L"
    assert "Lung_R" not in found


@pytest.mark.parametrize(
    ("name", "side"),
    [("Lung_L", "left"), ("lung rt", "right"), ("OpticNrv_PRV03_R", "right"), ("Left Kidney", "left"), ("Kidneys", ""),
     ("Lung_L-Lung_R", ""), ("A_LAD", ""), ("Rectum", "")],
)  # fmt: skip
def test_the_side_a_name_says(name, side):
    assert naming.side_of(name) == side


@pytest.mark.parametrize(
    ("name", "nearest"),
    [("Spinal Cord", "SpinalCord"), ("Hart", "Heart"), ("Parotis_L", "Parotid_L"), ("Kidny_R", "Kidney_R"), ("xx", ""),
     ("lung lt", "Lung_L"), ("Rectum2", "Rectum")],
)  # fmt: skip
def test_the_nearest_name_keeps_the_side(name, nearest):
    assert naming.nearest(name) == nearest


def test_names_built_from_the_list():
    assert naming.built_from_list("Lungs-GTV")
    assert naming.built_from_list("Brain~")
    assert naming.built_from_list("Heart^Exp")
    assert not naming.built_from_list("Lungs-Thing")
