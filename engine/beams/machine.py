"""A treatment machine of one photon beam quality, read from TOML."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

import assets
from engine.base.errors import InputError
from engine.base.values import Value


@dataclass(frozen=True, eq=False)
class Machine(Value):
    """Limits, leaves and beam model of one machine at one photon energy. Lengths in mm at the isocentre plane."""

    name: str
    description: str
    nominal_mv: float
    sad_mm: float
    spectrum_mev: tuple[tuple[float, float], ...]
    spectrum_fluence: tuple[float, ...]
    leaf_edges_mm: tuple[float, ...]
    field_limit_mm: float = 200.0
    source: str = ""


def shipped_machines() -> tuple[str, ...]:
    """Return the names of the machine files that come with the program."""
    return tuple(sorted(p.stem for p in assets.path("machines").glob("*.toml")))


def load_machine(name_or_path: str) -> Machine:
    """Load a shipped machine by name, or a machine file by path (anything that ends in .toml)."""
    path = Path(name_or_path) if name_or_path.endswith(".toml") else assets.path(f"machines/{name_or_path}.toml")
    if not path.is_file():
        raise InputError(
            f"there is no machine {name_or_path!r}", do=f"Use one of {', '.join(shipped_machines())}, or a .toml file."
        )
    with path.open("rb") as stream:
        tomllib.load(stream)
    raise NotImplementedError
