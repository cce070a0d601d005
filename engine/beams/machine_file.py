"""Reads a machine of one photon beam quality from a TOML file.

All lengths are mm; positions and widths of jaws and leaves are at the isocentre plane. Keys of a machine file
(those marked * must be there; every other part of the model is off when its key is missing):

``name`` *, ``description``, ``source``
    The name beams refer to, one line about it, and how its values are known.
``nominal_mv`` *, ``sad_mm``, ``flattened``
    Accelerating potential the beam is called by, distance from focal spot to isocentre (1000), and whether a flattening
    filter is in the beam (true): only what it is called follows from it (6 MV, 6 MV FFF), the curves say what it does.
``spectrum`` *
    File in assets/physics/spectra (or beside the machine file): photon fluence per energy bin on the axis.
``[limits]`` ``field_mm``, ``jaw_x_mm``, ``jaw_y_mm``
    Largest half width of a field (200); range of the jaws, [lowest X1, highest X2] (default: the field limit).
``[leaves]`` ``widths``, ``distance_mm``, ``travel_mm``, ``span_mm``, ``min_gap_mm``, ``transmission``,
``end_offset_mm``, ``end_growth_mm``, ``tongue_mm``
    ``widths`` is a list of [count, width] from -Y to +Y, centred on the axis; no list, no leaves. Distance from the
    focal spot to the middle of the leaves (500); how far a leaf reaches across the axis; how far two leaves of one bank
    may be apart (0 = any); the smallest gap of opposed leaves; the mean transmission under leaves; how far the
    radiation edge lies behind the nominal tip of each leaf (rounded leaf ends), and how much that grows at 100 mm from
    the axis (with the square of the distance); how far the side of a leaf reaches into an opening beside it (tongue or
    groove, seen wherever the neighbour is open).
``[jaws]`` ``transmission``, ``upper``, ``upper_mm``, ``lower_mm``
    Share of the fluence that passes the jaws; which pair is nearer to the source ("Y" or "X", default "Y"); distance
    from the focal spot to the edge of the upper (280) and the lower pair (400).
``[monitor]`` ``backscatter``
    Share of the monitor's signal that closed upper jaws throw back. It is linear in the area the jaws cover: that of the
    lower pair counts only where the upper is open, less by the square of the distances. More open jaws, more dose per MU.
``[focal_spot]`` ``fwhm_mm``
    Full width at half maximum of the Gaussian focal spot, [X, Y], 0 = a point. Jaws and leaves form their penumbra each
    at its own distance.
``[extra_focal]`` ``share``, ``fwhm_mm``, ``distance_mm``
    Photons scattered in the head: their share of the in-air energy fluence on the axis of the reference field
    (100 x 100 mm), and the width and distance from the spot of the Gaussian plane they seem to come from. Every point
    sees its own part of that plane through jaws and leaves.
``[off_axis]`` ``radius_mm`` + ``fluence``, ``angle_deg`` + ``attenuation``
    Planar energy fluence relative to the axis against radius, and attenuation coefficient in water relative to the
    axis against the angle from the axis.
``[contamination]`` ``share``, ``depth_mm``, ``spread_mm``, ``range_mm``, ``distance_mm``, ``core_share``, ``core_mm``
    Electrons and soft photons from the head: their dose at the surface as a share of the dose maximum for a wide
    field, the depth in water over which it falls to 1/e, and the Gaussian width (sigma, at the isocentre plane) of the
    blur of the aperture that makes it grow with the field; the depth beyond which there is nothing (30); and the
    distance from the focal spot of the place they diverge from, by which they fall with distance (0). Of the share a
    part (0) may be blurred less, by a width of its own (20): what small fields keep.
``[calibration]`` ``depth_mm``, ``ssd_mm``, ``field_mm``, ``gy_per_mu``
    What one monitor unit is: Gy (0.01) at this depth ("maximum" or mm) on the axis in water, at this distance from source
    to surface (that of the isocentre), with a square field of this size at the isocentre plane (100).
``[envelope]`` ``head_distance_mm``, ``head_radius_mm``, ``couch_width_mm``, ``couch_thickness_mm``
    What may touch, see ``clearance``: from the isocentre to the face of the head (400), the head as a cylinder about the
    beam axis (380), the couch top (530 by 80). The values in brackets are typical sizes, not verified: measure yours.
``[[wedges]]`` ``name`` *, ``kind`` *, ``angle_deg`` *, ``position_mm`` *, ``orientations_deg``, ``field_mm``,
``material``, ``density_g_cm3``, ``thickness_mm``, ``transmission``
    One table a wedge, see ``wedge.Wedge``: "physical" with its material, density and thickness against position, which
    absorbs and hardens, or "virtual" with its transmission against position. The wedge factor is computed.

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
from engine.beams.wedge import Wedge


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


# Section -> key of the file -> field of Machine.
KEYS: dict[str, dict[str, str]] = {
    "": {
        "name": "name",
        "description": "description",
        "source": "source",
        "nominal_mv": "nominal_mv",
        "sad_mm": "sad_mm",
        "flattened": "flattened",
    },
    "limits": {"field_mm": "field_limit_mm", "jaw_x_mm": "jaw_x_mm", "jaw_y_mm": "jaw_y_mm"},
    "leaves": {
        "travel_mm": "leaf_travel_mm",
        "min_gap_mm": "min_leaf_gap_mm",
        "transmission": "leaf_transmission",
        "end_offset_mm": "leaf_end_offset_mm",
        "end_growth_mm": "leaf_end_growth_mm",
        "tongue_mm": "tongue_mm",
        "span_mm": "leaf_span_mm",
        "distance_mm": "leaf_distance_mm",
    },
    "jaws": {
        "transmission": "jaw_transmission",
        "upper": "upper_jaws",
        "upper_mm": "upper_jaw_mm",
        "lower_mm": "lower_jaw_mm",
    },
    "monitor": {"backscatter": "monitor_backscatter"},
    "focal_spot": {"fwhm_mm": "focal_fwhm_mm"},
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
        "core_share": "contamination_core_share",
        "core_mm": "contamination_core_mm",
    },
    "envelope": {
        "head_distance_mm": "head_distance_mm",
        "head_radius_mm": "head_radius_mm",
        "couch_width_mm": "couch_width_mm",
        "couch_thickness_mm": "couch_thickness_mm",
    },
    "calibration": {
        "depth_mm": "calibration_depth_mm",
        "ssd_mm": "calibration_ssd_mm",
        "field_mm": "calibration_field_mm",
        "gy_per_mu": "calibration_gy_per_mu",
    },
}
_WEDGE_TEXT = ("name", "kind", "material")
_WEDGE_NUMBERS = ("angle_deg", "density_g_cm3")
_WEDGE_LISTS = ("position_mm", "thickness_mm", "transmission", "orientations_deg", "field_mm")
_WEDGE_NEEDS = ("name", "kind", "angle_deg", "position_mm")
_ELSEWHERE = {("", "spectrum"), ("", "wedges"), ("leaves", "widths")}
_TEXT, _LIST = ("name", "description", "source", "upper_jaws"), ("horn", "soft")
_PAIR = ("jaw_x_mm", "jaw_y_mm", "focal_fwhm_mm")


def machine_from(document: dict[str, Any], path: Path) -> Machine:
    """Return the machine a parsed machine file describes; `path` is where it was read, for messages and spectra."""
    fields: dict[str, Any] = {"sad_mm": 1000.0, "description": ""}
    for section, body in (("", document), *((k, v) for k, v in document.items() if isinstance(v, dict) and k != "wedges")):
        known = KEYS.get(section)
        if known is None:
            raise InputError(
                say("unknown section [{section}]", section=section),
                str(path),
                say("Known: {keys}.", keys=", ".join(k for k in KEYS if k)),
            )
        for key, value in body.items():
            if (isinstance(value, dict) and section == "") or (section, key) in _ELSEWHERE:
                continue
            if key not in known:
                raise InputError(
                    say("unknown key {key!r} in [{section}]", key=key, section=section or say("top")),
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
    fields.setdefault("calibration_ssd_mm", fields["sad_mm"])
    fields["wedges"] = _wedges(document.get("wedges", []), path)
    fields["spectrum_mev"], fields["spectrum_fluence"] = read_spectrum(str(document["spectrum"]), path.parent)
    fields["leaf_edges_mm"] = _leaf_edges(document.get("leaves", {}).get("widths", []), path)
    return Machine(**fields)


def _wedges(tables: Any, path: Path) -> tuple[Wedge, ...]:
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        raise InputError("wedges must be written as [[wedges]], one table each", str(path), "Correct the machine file.")
    known = (*_WEDGE_TEXT, *_WEDGE_NUMBERS, *_WEDGE_LISTS)
    out = []
    for table in tables:
        for key in table:
            if key not in known:
                raise InputError(
                    say("unknown key {key!r} in [{section}]", key=key, section="[wedges]"),
                    str(path),
                    say("Known: {known}.", known=", ".join(known)),
                )
        for key in _WEDGE_NEEDS:
            if key not in table:
                raise InputError(say("a wedge lacks the key {key!r}", key=key), str(path), "Add it.")
        out.append(Wedge(**{key: _wedge_value(key, value, path) for key, value in table.items()}))
    return tuple(out)


def _wedge_value(key: str, value: Any, path: Path) -> Any:
    if key in _WEDGE_TEXT:
        if isinstance(value, str):
            return value
    elif key in _WEDGE_NUMBERS:
        if _number(value):
            return float(value)
    elif isinstance(value, list) and all(_number(v) for v in value) and (key != "field_mm" or len(value) == 2):
        return tuple(float(v) for v in value)
    raise InputError(
        say("{key} cannot be {value!r}", key=f"wedges.{key}", value=value), str(path), "Correct the machine file."
    )


def _number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and bool(np.isfinite(value))


def _value(field: str, value: Any, key: str, path: Path) -> Any:
    if field == "flattened":
        if isinstance(value, bool):
            return value
    elif field in _TEXT:
        if isinstance(value, str):
            return value
    elif field in _PAIR or field.startswith(_LIST):
        if isinstance(value, list) and all(_number(v) for v in value) and (field not in _PAIR or len(value) == 2):
            return tuple(float(v) for v in value)
    elif field == "calibration_depth_mm" and isinstance(value, str):
        if value == "maximum":
            return 0.0
    elif field == "calibration_depth_mm" and _number(value) and value <= 0:
        pass
    elif _number(value):
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
