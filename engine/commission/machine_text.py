"""Writes a machine as the text of a machine file, and its spectrum as the text of a spectrum file."""

from __future__ import annotations

import dataclasses
import math
from itertools import pairwise
from typing import Any

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.machine import Machine
from engine.beams.machine_file import KEYS


def machine_text(machine: Machine, spectrum_file: str) -> str:
    """Return the TOML of a machine; `spectrum_file` is the name of its spectrum beside it.

    Every number is written so that reading gives the same one. A value that the reader would fill in by itself is left
    out only in sections that hold nothing else.

    Raises
    ------
    InputError
        If the machine holds something that a machine file cannot say.
    """
    plain = {f.name: f.default for f in dataclasses.fields(Machine)}
    lines = [f"{key} = {_value(getattr(machine, field))}" for key, field in KEYS[""].items()]
    lines.append(f"spectrum = {_value(spectrum_file)}")
    for section, keys in KEYS.items():
        if not section:
            continue
        body = [f"widths = {_widths(machine)}"] if section == "leaves" and machine.leaf_edges_mm else []
        values = {key: getattr(machine, field) for key, field in keys.items()}
        differs = any(getattr(machine, field) != plain[field] for field in keys.values())
        if not body and not differs and section != "limits":
            continue
        body += [f"{key} = {_said(section, key, value)}" for key, value in values.items() if value != ()]
        lines += ["", f"[{section}]", *body]
    for wedge in machine.wedges:
        lines += ["", "[[wedges]]"]
        for field in dataclasses.fields(wedge):
            value = getattr(wedge, field.name)
            if value not in ((), ""):
                lines.append(f"{field.name} = {_value(value)}")
    return "\n".join(lines) + "\n"


def spectrum_text(machine: Machine, title: str, known: str = "own", notes: tuple[str, ...] = ()) -> str:
    """Return the photon spectrum of a machine as the text of a spectrum file."""
    lines = [f"# title: {title}", f"# known: {known}", *(f"# {n}" for n in notes)]
    lines += [
        "# relative_fluence: photons per bin (sum 1), NOT per MeV; take as uniform inside the bin. Energies in MeV.",
        "E_low_MeV,E_high_MeV,E_mid_MeV,relative_fluence",
    ]
    whole = math.fsum(machine.spectrum_fluence)
    for (low, high), photons in zip(machine.spectrum_mev, machine.spectrum_fluence, strict=True):
        lines.append(f"{low!r},{high!r},{(low + high) / 2!r},{photons / whole:.9e}")
    return "\n".join(lines) + "\n"


def _said(section: str, key: str, value: Any) -> str:
    if (section, key) == ("calibration", "depth_mm") and value == 0.0:
        return '"maximum"'
    return _value(value)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + "".join(_ESCAPES.get(c, c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}") for c in value) + '"'
    if isinstance(value, (int, float)):
        if not math.isfinite(value):
            raise InputError(say("a machine file cannot hold {value}", value=value))
        return repr(value)
    if isinstance(value, tuple):
        return "[" + ", ".join(_value(v) for v in value) + "]"
    raise InputError(say("a machine file cannot hold {value!r}", value=value))


_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def _widths(machine: Machine) -> str:
    """Return the leaf widths as [count, width] runs; boundaries must lie about the axis, as the file says them."""
    edges = machine.leaf_edges_mm
    if abs(edges[0] + edges[-1]) > 1e-6:
        raise InputError("leaves that are not centred on the axis cannot be written to a machine file")
    runs: list[list[float]] = []
    for low, high in pairwise(edges):
        width = round(high - low, 9)
        if runs and runs[-1][1] == width:
            runs[-1][0] += 1
        else:
            runs.append([1, width])
    return "[" + ", ".join(f"[{int(n)}, {w!r}]" for n, w in runs) + "]"
