"""Checks a machine file: every problem with its place, and values outside what is usual."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

import assets
from engine.base.errors import InputError, UserError
from engine.base.values import Value
from engine.base.words import as_words, say
from engine.beams.machine import Machine
from engine.beams.machine_file import load_machine, machine_from, shipped_machines

_GOOD = "point-6"
_TOP = ("name", "description", "source", "nominal_mv", "sad_mm", "spectrum")
_NEEDED = ("name", "nominal_mv", "spectrum")


@dataclass(frozen=True, eq=False)
class MachineFindings(Value):
    """What was found in a machine file.

    Parameters
    ----------
    problems : why it is refused, one sentence each; empty if it is accepted
    warnings : values that are allowed but unusual
    parts : (part of the model, whether the file switches it on)
    """

    problems: tuple[str, ...]
    warnings: tuple[str, ...]
    parts: tuple[tuple[str, bool], ...]


def check_machine(name_or_path: str) -> MachineFindings:
    """Check a machine file, or a machine that comes with the program.

    Raises
    ------
    InputError
        If there is no such file.
    """
    path = Path(name_or_path) if name_or_path.endswith(".toml") else assets.path(f"machines/{name_or_path}.toml")
    if not path.is_file():
        raise InputError(
            say("there is no machine file {name!r}", name=name_or_path),
            do=say("Use one of {names}, or a .toml file.", names=", ".join(shipped_machines())),
        )
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        what = say("the machine file is not valid TOML: {error}", error=str(error))
        return MachineFindings((str(InputError(what, str(path), say("Correct the file."))),), (), ())
    problems = problems_in(document, path)
    if problems:
        return MachineFindings(problems, (), ())
    machine = load_machine(name_or_path)
    return MachineFindings((), tuple(w for w in unusual(machine)), parts_of(machine))


def problems_in(document: dict[str, Any], path: Path) -> tuple[str, ...]:
    """Return why a parsed machine file is refused: each sentence once, in the order of the file.

    The reader stops at the first fault. So every section, and in a faulty section every key, is also read alone in an
    otherwise good machine.
    """
    whole = _refusal(document, path)
    if whole is None:
        return ()
    good = _good()
    if isinstance(document.get("name"), str) and document["name"]:
        good["name"] = document["name"]
    found: list[str] = []
    for key in _NEEDED:
        if key not in document:
            without = {k: v for k, v in document.items() if k in _TOP}
            found.append(_refusal(without, path) or "")
            # The reader names one missing key at a time; with it filled in, the next one is named.
            document = {**document, key: good[key]}
    for section, body in document.items():
        alone = {**good, section: body}
        if _refusal(alone, path) is None:
            continue
        parts = []
        if isinstance(body, dict):
            parts = [_refusal({**good, section: {key: value}}, path) for key, value in body.items()]
            # Tables of two lists refuse each other's absence; only together they say what is wrong.
            if sum(p is not None for p in parts) > 1 and len(set(parts)) == 1:
                parts = []
        told = [p for p in parts if p is not None and not _only_alone(p, alone, path)]
        found += told or [_refusal(alone, path) or ""]
    found = [f for f in dict.fromkeys(found) if f]
    return tuple(found or [whole])


def _only_alone(problem: str, section: dict[str, Any], path: Path) -> bool:
    """Whether a key is refused only because its companions are missing."""
    return problem != _refusal(section, path) and "must start at 0" in problem


def _good() -> dict[str, Any]:
    return tomllib.loads(assets.path(f"machines/{_GOOD}.toml").read_text(encoding="utf-8"))


def _refusal(document: dict[str, Any], path: Path) -> str | None:
    try:
        machine_from(document, path)
    except UserError as error:
        return say("{reason}", reason=error)
    except (TypeError, ValueError, KeyError, AttributeError) as error:
        wrong = InputError(say("it cannot be read ({error})", error=str(error)), str(path), "Correct the file.")
        return say("{reason}", reason=wrong)
    return None


def parts_of(m: Machine) -> tuple[tuple[str, bool], ...]:
    """Return which parts of the model a machine switches on."""
    return (
        (say("leaves"), bool(m.leaf_edges_mm)),
        (say("transmission of jaws"), m.jaw_transmission > 0),
        (say("transmission of leaves"), m.leaf_transmission > 0),
        (say("focal spot"), max(m.focal_fwhm_mm) > 0),
        (say("head scatter"), m.extra_focal_share > 0),
        (say("back-scatter to the monitor"), m.monitor_backscatter > 0),
        (say("off-axis fluence"), bool(m.horn_mm)),
        (say("off-axis softening"), bool(m.softening_deg)),
        (say("contamination"), m.contamination_share > 0),
        (say("wedges"), bool(m.wedges)),
    )


@dataclass(frozen=True)
class _Band:
    """A number of a machine, the range that is usual, and whether it is judged at all."""

    words: str
    of: Callable[[Machine], float]
    low: float
    high: float
    when: Callable[[Machine], bool] = lambda m: True


def _at(x: tuple[float, ...], y: tuple[float, ...], at: float) -> float:
    return float(np.interp(at, x, y)) if x else 1.0


# Recalled from commissioning papers and surveys of C-arm accelerators [memory]: a reason to look again, never to refuse.
_BANDS = (
    _Band("mean photon energy over nominal potential (MeV/MV)", lambda m: m.mean_energy_mev() / m.nominal_mv, 0.2, 0.42),
    _Band("highest photon energy over nominal potential (MeV/MV)", lambda m: _endpoint(m) / m.nominal_mv, 0.85, 1.12),
    _Band("distance from source to axis (mm)", lambda m: m.sad_mm, 800, 1000),
    _Band("focal spot X (mm)", lambda m: m.focal_fwhm_mm[0], 0.5, 4, lambda m: m.focal_fwhm_mm[0] > 0),
    _Band("focal spot Y (mm)", lambda m: m.focal_fwhm_mm[1], 0.5, 4, lambda m: m.focal_fwhm_mm[1] > 0),
    _Band("transmission of jaws", lambda m: m.jaw_transmission, 0.0005, 0.012, lambda m: m.jaw_transmission > 0),
    _Band("transmission of leaves", lambda m: m.leaf_transmission, 0.0001, 0.03, lambda m: m.leaf_transmission > 0),
    _Band("leaf end offset (mm)", lambda m: m.leaf_end_offset_mm, 0, 1.5, lambda m: bool(m.leaf_edges_mm)),
    _Band("share of head scatter", lambda m: m.extra_focal_share, 0.01, 0.12, lambda m: m.extra_focal_share > 0),
    _Band("width of head scatter (mm)", lambda m: m.extra_focal_fwhm_mm, 15, 120, lambda m: m.extra_focal_share > 0),
    _Band("back-scatter to the monitor", lambda m: m.monitor_backscatter, 0, 0.05),
    _Band("fluence at 150 mm", lambda m: _at(m.horn_mm, m.horn_fluence, 150), 0.4, 1.12, lambda m: bool(m.horn_mm)),
    _Band("attenuation at 8 degrees", lambda m: _at(m.softening_deg, m.softening_mu, 8), 0.98, 1.2,
          lambda m: bool(m.softening_deg)),
    _Band("contamination at the surface", lambda m: m.contamination_share, 0.02, 0.45, lambda m: m.contamination_share > 0),
    _Band("depth of contamination (mm)", lambda m: m.contamination_depth_mm, 2, 20, lambda m: m.contamination_share > 0),
    _Band("half width of the leaf bank over the field limit", lambda m: m.leaf_edges_mm[-1] / m.field_limit_mm, 0.5, 1.05,
          lambda m: bool(m.leaf_edges_mm)),
    _Band("calibration (Gy/MU)", lambda m: m.calibration_gy_per_mu, 0.005, 0.015),
)  # fmt: skip


def _endpoint(m: Machine) -> float:
    """Return the upper end of the highest bin that holds photons."""
    return max(hi for (_, hi), n in zip(m.spectrum_mev, m.spectrum_fluence, strict=True) if n > 0)


def unusual(m: Machine) -> tuple[str, ...]:
    """Return a sentence for every value outside what is usual, and for what is missing in the file's words."""
    found: list[str] = []
    for band in _BANDS:
        if not band.when(m):
            continue
        value = band.of(m)
        if not band.low <= value <= band.high:
            found.append(
                say("{words} is {value:.4g}; usual is {low:g} to {high:g} [memory]. Make sure it is meant.",
                    words=as_words(band.words), value=value, low=band.low, high=band.high)
            )  # fmt: skip
    if not m.source:
        found.append(say("It does not say how its values are known. Add the key 'source'."))
    reach = max(m.horn_mm, default=0.0)
    corner = m.field_limit_mm * 2**0.5
    if m.horn_mm and reach < 0.95 * corner:
        found.append(
            say("off-axis fluence ends at {reach:g} mm, before field corners at {corner:.0f} mm; constant beyond.",
                reach=reach, corner=corner)
        )  # fmt: skip
    return tuple(found)
