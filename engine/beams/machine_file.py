"""Reads a machine of one photon beam quality from a TOML file.

All lengths are mm; positions and widths of jaws and leaves are at the isocentre plane. Keys of a machine file
(those marked * must be there; every other part of the model is off when its key is missing):

``name`` *, ``description``, ``source``
    The name beams refer to, one line about it, and how its values are known.
``nominal_mv`` *, ``sad_mm``
    Accelerating potential the beam is called by, and distance from focal spot to isocentre (1000).
``spectrum`` *
    File in assets/physics/spectra (or beside the machine file): photon fluence per energy bin on the axis.
``[limits]`` ``field_mm``, ``jaw_x_mm``, ``jaw_y_mm``
    Largest half width of a field (200); range of the jaws, [lowest X1, highest X2] (default: the field limit).
``[leaves]`` ``widths`` , ``travel_mm``, ``min_gap_mm``, ``transmission``, ``end_offset_mm``
    ``widths`` is a list of [count, width] from -Y to +Y, centred on the axis; no list, no leaves. How far a leaf
    reaches across the axis, the smallest gap of opposed leaves, the mean transmission under leaves, and how far the
    radiation edge lies behind the nominal tip of each leaf (rounded leaf ends).
``[jaws]`` ``transmission``
    Share of the fluence that passes the jaws.
``[focal_spot]`` ``fwhm_mm``, ``collimator_mm``
    Full width at half maximum of the Gaussian focal spot ([X, Y], 0 = a point), and the distance from the spot to the
    edge that forms the penumbra.
``[extra_focal]`` ``share``, ``fwhm_mm``, ``distance_mm``
    Photons scattered in the head: their share of the in-air energy fluence on the axis of the reference field
    (100 x 100 mm), and the width and distance from the spot of the Gaussian plane they seem to come from.
``[off_axis]`` ``radius_mm`` + ``fluence``, ``angle_deg`` + ``attenuation``
    Planar energy fluence relative to the axis against radius, and attenuation coefficient in water relative to the
    axis against the angle from the axis.
``[contamination]`` ``share``, ``depth_mm``, ``spread_mm``, ``range_mm``, ``distance_mm``
    Electrons and soft photons from the head: their dose at the surface as a share of the dose maximum for a wide
    field, the depth in water over which it falls to 1/e, and the Gaussian width (sigma, at the isocentre plane) of the
    blur of the aperture that makes it grow with the field; the depth beyond which there is nothing (30); and the
    distance from the focal spot of the place they diverge from, by which they fall with distance (0).

With everything switched off the source is ideal: a point, flat planar fluence, one spectrum, edges that pass nothing.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np

import assets
from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.machine import Machine


def shipped_machines() -> tuple[str, ...]:
    """Return the names of the machine files that come with the program."""
    return tuple(sorted(p.stem for p in assets.path("machines").glob("*.toml")))


def load_machine(name_or_path: str) -> Machine:
    """Load a shipped machine by name, or a machine file by path (anything that ends in .toml).

    Raises
    ------
    InputError
        If there is no such machine, or the file cannot be read, lacks a key, has an unknown one or a wrong value.
    """
    path = Path(name_or_path) if name_or_path.endswith(".toml") else assets.path(f"machines/{name_or_path}.toml")
    if not path.is_file():
        raise InputError(
            say("there is no machine {name_or_path!r}", name_or_path=name_or_path),
            do=say("Use one of {shipped_machines}, or a .toml file.", shipped_machines=", ".join(shipped_machines())),
        )
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise InputError(
            say("the machine file is not valid TOML: {error}", error=str(error)), str(path), "Correct the file."
        ) from error
    return machine_from(document, path)


_KEYS: dict[str, dict[str, str]] = {
    "": {"name": "name", "description": "description", "source": "source", "nominal_mv": "nominal_mv", "sad_mm": "sad_mm"},
    "limits": {"field_mm": "field_limit_mm", "jaw_x_mm": "jaw_x_mm", "jaw_y_mm": "jaw_y_mm"},
    "leaves": {
        "travel_mm": "leaf_travel_mm",
        "min_gap_mm": "min_leaf_gap_mm",
        "transmission": "leaf_transmission",
        "end_offset_mm": "leaf_end_offset_mm",
    },
    "jaws": {"transmission": "jaw_transmission"},
    "focal_spot": {"fwhm_mm": "focal_fwhm_mm", "collimator_mm": "collimator_mm"},
    "extra_focal": {
        "share": "extra_focal_share",
        "fwhm_mm": "extra_focal_fwhm_mm",
        "distance_mm": "extra_focal_distance_mm",
    },
    "off_axis": {
        "radius_mm": "horn_mm",
        "fluence": "horn_fluence",
        "angle_deg": "softening_deg",
        "attenuation": "softening_mu",
    },
    "contamination": {
        "share": "contamination_share",
        "depth_mm": "contamination_depth_mm",
        "spread_mm": "contamination_spread_mm",
        "range_mm": "contamination_range_mm",
        "distance_mm": "contamination_distance_mm",
    },
}
_ELSEWHERE = {("", "spectrum"), ("leaves", "widths")}
_TEXT, _PAIR, _LIST = ("name", "description", "source"), ("jaw_x_mm", "jaw_y_mm", "focal_fwhm_mm"), ("horn", "soft")


def machine_from(document: dict[str, Any], path: Path) -> Machine:
    """Return the machine a parsed machine file describes; `path` is where it was read, for messages and spectra."""
    fields: dict[str, Any] = {"sad_mm": 1000.0, "description": ""}
    for section, body in (("", document), *((k, v) for k, v in document.items() if isinstance(v, dict))):
        known = _KEYS.get(section)
        if known is None:
            raise InputError(
                say("unknown section [{section}]", section=section),
                str(path),
                say("Known: {keys}.", keys=", ".join(k for k in _KEYS if k)),
            )
        for key, value in body.items():
            if (isinstance(value, dict) and section == "") or (section, key) in _ELSEWHERE:
                continue
            if key not in known:
                raise InputError(
                    say("unknown key {key!r} in [{section}]", key=key, section=section or "top"),
                    str(path),
                    say("Known: {known}.", known=", ".join(known)),
                )
            fields[known[key]] = _value(known[key], value, f"{section}.{key}".lstrip("."), path)
    for key in ("name", "nominal_mv", "spectrum"):
        if key not in document:
            raise InputError(say("the key {key!r} is missing", key=key), str(path), "Add it.")
    limit = fields.get("field_limit_mm", 200.0)
    fields.setdefault("jaw_x_mm", (-limit, limit))
    fields.setdefault("jaw_y_mm", (-limit, limit))
    fields["spectrum_mev"], fields["spectrum_fluence"] = read_spectrum(str(document["spectrum"]), path.parent)
    fields["leaf_edges_mm"] = _leaf_edges(document.get("leaves", {}).get("widths", []), path)
    return Machine(**fields)


def _value(field: str, value: Any, key: str, path: Path) -> Any:
    if field in _TEXT:
        if isinstance(value, str):
            return value
    elif field in _PAIR or field.startswith(_LIST):
        numbers = isinstance(value, list) and all(isinstance(v, (int, float)) and not isinstance(v, bool) for v in value)
        if numbers and (field not in _PAIR or len(value) == 2):
            return tuple(float(v) for v in value)
    elif isinstance(value, (int, float)) and not isinstance(value, bool) and np.isfinite(value):
        return float(value)
    raise InputError(say("{key} cannot be {value!r}", key=key, value=value), str(path), "Correct the machine file.")


def _leaf_edges(widths: Any, path: Path) -> tuple[float, ...]:
    try:
        steps = np.concatenate([np.full(int(n), float(w)) for n, w in widths]) if widths else np.empty(0)
    except (TypeError, ValueError):
        raise InputError("leaves.widths must be a list of [count, width]", str(path), "Correct the file.") from None
    if steps.size == 0:
        return ()
    edges = np.concatenate([[0.0], np.cumsum(steps)]) - steps.sum() / 2
    return tuple(float(e) for e in edges)


def read_spectrum(name: str, beside: Path) -> tuple[tuple[tuple[float, float], ...], tuple[float, ...]]:
    """Return bins ((low, high) in MeV, ...) and photons per bin of a spectrum file.

    The file is a table with the columns E_low_MeV, E_high_MeV and relative_fluence, searched beside the machine file
    first, then among the shipped spectra.
    """
    from engine.base.sources import read_table

    places = (beside / name, assets.path(f"physics/spectra/{name}"))
    path = next((p for p in places if p.is_file()), None)
    if path is None:
        raise InputError(
            say("there is no spectrum file {name!r}", name=name), str(beside), "Put it beside the machine file."
        )
    table = read_table(path)
    try:
        low, high, fluence = table["E_low_MeV"], table["E_high_MeV"], table["relative_fluence"]
    except ValueError:
        raise InputError(
            "a spectrum needs the columns E_low_MeV, E_high_MeV and relative_fluence", str(path), "Correct the file."
        ) from None
    return tuple(zip(low.tolist(), high.tolist())), tuple(fluence.tolist())
