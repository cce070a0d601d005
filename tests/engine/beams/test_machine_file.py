import numpy as np
import pytest

import engine.beams.machine_file as module
from engine.base.errors import InputError
from engine.beams.machine_file import load_machine, shipped_machines

PLAIN = 'name = "bench"\nnominal_mv = 6\nspectrum = "spectrum_6mv.csv"\n'
WEDGE = """[[wedges]]
name = "V30"
kind = "virtual"
angle_deg = 30
position_mm = [-100, 100]
transmission = [1.5, 0.5]
"""


def write(tmp_path, text):
    path = tmp_path / "bench.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_every_shipped_machine_loads_under_its_own_name():
    assert {"generic-6", "generic-10", "point-6", "point-10"} <= set(shipped_machines())
    for name in shipped_machines():
        machine = load_machine(name)
        assert machine.name == name
        assert machine.sad_mm == 1000.0
        assert machine.leaf_edges_mm[0] == -machine.leaf_edges_mm[-1] == -machine.field_limit_mm
        assert np.all(np.diff(machine.leaf_edges_mm) > 0)
        assert machine.description
        assert machine.source


def test_point_machines_are_ideal():
    for name in ("point-6", "point-10"):
        m = load_machine(name)
        switches = (m.jaw_transmission, m.leaf_transmission, m.leaf_end_offset_mm, m.extra_focal_share)
        assert (*switches, m.contamination_share, *m.focal_fwhm_mm) == (0.0,) * 7
        assert m.horn_mm == m.softening_deg == ()


def test_spectra_have_the_mean_energies_their_sources_state():
    # The means that go with the bins of Mohan et al. 1985 and of the analytic 10 MV spectrum.
    assert load_machine("point-6").mean_energy_mev() == pytest.approx(1.8985, abs=1e-4)
    assert load_machine("point-10").mean_energy_mev() == pytest.approx(2.9032, abs=1e-4)


def test_a_file_with_only_the_needed_keys_is_an_ideal_machine_without_leaves(tmp_path):
    m = load_machine(write(tmp_path, PLAIN))
    assert m.leaf_pairs == 0
    assert m.focal_fwhm_mm == (0.0, 0.0)
    assert m.jaw_x_mm == (-200.0, 200.0)


def test_leaves_are_laid_out_about_the_axis(tmp_path):
    m = load_machine(write(tmp_path, PLAIN + "[leaves]\nwidths = [[2, 10], [4, 5.0], [1, 20]]\n"))
    assert m.leaf_edges_mm == (-30.0, -20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 30.0)


def test_an_edited_file_is_another_machine(tmp_path):
    a = load_machine(write(tmp_path, PLAIN))
    b = load_machine(write(tmp_path, PLAIN + "[jaws]\ntransmission = 0.002\n"))
    assert a != b
    assert a == load_machine(write(tmp_path, PLAIN))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (PLAIN + "[jaws]\ntransmission = 1.5\n", "transmission"),
        (PLAIN + "[jaws]\ntransmision = 0.1\n", "unknown key"),
        (PLAIN + "[shutters]\nangle = 3\n", "unknown section"),
        (PLAIN + "colour = 3\n", "unknown key"),
        (PLAIN.replace("nominal_mv = 6", ""), "nominal_mv"),
        (PLAIN.replace("nominal_mv = 6", "nominal_mv = true"), "nominal_mv"),
        (PLAIN.replace("nominal_mv = 6", "nominal_mv = nan"), "nominal_mv"),
        (PLAIN.replace("nominal_mv = 6", "nominal_mv = 6\nflattened = 1"), "flattened"),
        (PLAIN.replace("nominal_mv = 6", "nominal_mv = 6000"), "MV"),
        (PLAIN.replace("spectrum_6mv", "no_such"), "no spectrum file"),
        (PLAIN + "[leaves]\nwidths = [[2, -5]]\n", "ascend"),
        (PLAIN + '[leaves]\nwidths = "many"\n', "widths"),
        (PLAIN + "[off_axis]\nradius_mm = [0, 50]\nfluence = [1.0]\n", "off-axis fluence"),
        (PLAIN + "[off_axis]\nangle_deg = [0, 5]\nattenuation = [1.2, 1.3]\n", "off-axis attenuation"),
        (PLAIN + "[focal_spot]\nfwhm_mm = [2.0]\n", "fwhm_mm"),
        (PLAIN + "[jaws]\nlower_mm = 1200\n", "order along the beam"),
        (PLAIN + '[calibration]\ndepth_mm = "deep"\n', "depth_mm"),
        (PLAIN + "[calibration]\ndepth_mm = 0\n", "depth_mm"),
        (PLAIN + "[calibration]\ngy_per_mu = 0\n", "calibration"),
        (PLAIN + '[jaws]\nupper = "up"\n', "X or Y"),
        (PLAIN + "[jaws]\nupper = 3\n", "jaws.upper"),
        (PLAIN + "[jaws]\nlower_mm = 200\n", "order along the beam"),
        (PLAIN + "[leaves]\nwidths = [[2, 0]]\n", "ascend"),
        (PLAIN + "[leaves]\nwidths = [[40, 5]]\ntongue_mm = 3\n", "tongue"),
        (PLAIN + "[focal_spot]\ncollimator_mm = 450\n", "unknown key"),
        (PLAIN + "[wedges]\nname = 3\n", r"\[\[wedges\]\]"),
        ("wedges = 3\n" + PLAIN, r"\[\[wedges\]\]"),
        (PLAIN + '[[wedges]]\nname = "A"\n', "lacks the key 'kind'"),
        (PLAIN + WEDGE.replace("angle_deg", "angel_deg"), "unknown key 'angel_deg'"),
        (PLAIN + WEDGE.replace("[-100, 100]", "[-100, true]"), "position_mm"),
        (PLAIN + WEDGE.replace("[1.5, 0.5]", "[0.5, 1.5]"), "let less through"),
        (PLAIN + WEDGE + "field_mm = [100]\n", "field_mm"),
        (PLAIN + WEDGE + WEDGE, "one name"),
        ("name = [unfinished", "not valid TOML"),
    ],
)
def test_a_wrong_file_is_refused_in_words(tmp_path, text, words):
    with pytest.raises(InputError, match=words) as caught:
        load_machine(write(tmp_path, text))
    assert caught.value.do


def test_an_unknown_machine_is_refused_with_the_known_ones():
    with pytest.raises(InputError, match="generic-6"):
        load_machine("no-such-machine")


def test_a_spectrum_beside_the_machine_file_comes_first(tmp_path):
    head = "# title: two lines\n# known: own\nE_low_MeV,E_high_MeV,E_mid_MeV,relative_fluence\n"
    rows = head + "1.1,1.2,1.15,1\n1.3,1.4,1.35,1\n"
    (tmp_path / "cobalt.csv").write_text(rows, encoding="utf-8")
    m = load_machine(write(tmp_path, PLAIN.replace("spectrum_6mv.csv", "cobalt.csv")))
    assert m.mean_energy_mev() == pytest.approx(1.25)
    (tmp_path / "cobalt.csv").write_text(rows.replace("relative_fluence", "counts"), encoding="utf-8")
    with pytest.raises(InputError, match="columns"):
        load_machine(write(tmp_path, PLAIN.replace("spectrum_6mv.csv", "cobalt.csv")))


def test_the_module_text_names_every_key():
    text = module.__doc__ or ""
    for section, keys in module.KEYS.items():
        assert not section or f"[{section}]" in text
        for key in keys:
            assert f"``{key}``" in text, key


def test_wedges_and_calibration_are_read(tmp_path):
    text = PLAIN + "[calibration]\ndepth_mm = 100\nssd_mm = 900\ngy_per_mu = 0.008\n" + WEDGE
    m = load_machine(write(tmp_path, text))
    assert (m.calibration_depth_mm, m.calibration_ssd_mm, m.calibration_gy_per_mu) == (100.0, 900.0, 0.008)
    assert m.wedge("V30").transmission == (1.5, 0.5)
    plain = load_machine(write(tmp_path, PLAIN + '[calibration]\ndepth_mm = "maximum"\n'))
    assert plain.calibration_depth_mm == 0.0
    assert (
        load_machine(write(tmp_path, PLAIN.replace("nominal_mv = 6", "nominal_mv = 6\nsad_mm = 800"))).calibration_ssd_mm
        == 800
    )


def test_typical_machines_have_every_part_and_the_point_machines_none():
    for name in ("generic-6", "generic-10", "generic-6-unflattened"):
        m = load_machine(name)
        assert m.extra_focal_share > 0
        assert m.monitor_backscatter > 0
        assert m.contamination_share > 0
        assert m.tongue_mm > 0
        assert m.upper_jaw_mm < m.lower_jaw_mm < m.leaf_distance_mm
    assert {w.kind for w in load_machine("generic-6").wedges} == {"physical", "virtual"}
    assert load_machine("point-6").wedges == ()
    assert load_machine("point-6").tongue_mm == load_machine("point-6").monitor_backscatter == 0.0


def test_the_module_text_names_every_key_of_a_wedge():
    text = module.__doc__ or ""
    for key in (*module._WEDGE_TEXT, *module._WEDGE_NUMBERS, *module._WEDGE_LISTS):
        assert f"``{key}``" in text, key
