import numpy as np
import pytest

import engine.beams.machine_file as module
from engine.base.errors import InputError
from engine.beams.machine_file import load_machine, shipped_machines

PLAIN = 'name = "bench"\nnominal_mv = 6\nspectrum = "spectrum_6mv.csv"\n'


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
        (PLAIN.replace("nominal_mv = 6", "nominal_mv = 6000"), "MV"),
        (PLAIN.replace("spectrum_6mv", "no_such"), "no spectrum file"),
        (PLAIN + "[leaves]\nwidths = [[2, -5]]\n", "ascend"),
        (PLAIN + '[leaves]\nwidths = "many"\n', "widths"),
        (PLAIN + "[off_axis]\nradius_mm = [0, 50]\nfluence = [1.0]\n", "off-axis fluence"),
        (PLAIN + "[off_axis]\nangle_deg = [0, 5]\nattenuation = [1.2, 1.3]\n", "off-axis attenuation"),
        (PLAIN + "[focal_spot]\nfwhm_mm = [2.0]\n", "fwhm_mm"),
        (PLAIN + "[jaws]\nlower_mm = 1200\n", "order along the beam"),
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
