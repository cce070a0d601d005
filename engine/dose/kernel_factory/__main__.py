"""``python -m engine.dose.kernel_factory``: make the physics tables and the point kernels anew."""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import assets
from engine.base.errors import UserError
from engine.dose.kernel_factory.run import COMPONENTS, ENERGIES_MEV, Kernels, make_kernels, provenance, write_kernels
from engine.dose.kernel_factory.tables import write_tables
from engine.dose.kernel_factory.water import read_water


def parser() -> argparse.ArgumentParser:
    """Return the command's arguments."""
    out = argparse.ArgumentParser(
        prog="python -m engine.dose.kernel_factory",
        description="Make the shipped physics tables (NIST data) and the point kernels (Monte Carlo). For research and "
        "education; not a medical device. Needs the extra halfshade[kernels] unless --kernels-only is given.",
    )
    out.add_argument("--histories", type=int, default=1_000_000, help="photons per energy (default 1000000)")
    out.add_argument("--seed", type=int, default=20, help="start of the random numbers (default 20)")
    out.add_argument("--workers", type=int, default=1, help="threads (default 1); the result does not depend on it")
    out.add_argument("--out", type=Path, default=assets.path("."), help="folder that gets physics/ and kernels/")
    only = out.add_mutually_exclusive_group()
    only.add_argument("--tables-only", action="store_true", help="write the tables, make no kernels")
    only.add_argument("--kernels-only", action="store_true", help="use the tables as they are")
    return out


def summary(kernels: Kernels) -> str:
    """Return the shares by energy with their statistical error, for reading."""
    lines = ["energy_mev  " + "  ".join(f"{name:>18}" for name in COMPONENTS)]
    for energy, row, error in zip(kernels.energy_mev, kernels.totals(), kernels.share_error):
        lines.append(f"{energy:10.3g}  " + "  ".join(f"{s:.4f} +- {e:.4f}".rjust(18) for s, e in zip(row, error)))
    return "\n".join(lines)


def main(arguments: list[str]) -> int:
    """Write tables and kernels as asked; return the exit code."""
    asked = parser().parse_args(arguments)

    def report(fraction: float, words: str = "") -> None:
        print(f"{100 * fraction:5.1f} %  {words}", file=sys.stderr, flush=True)

    try:
        if not asked.kernels_only:
            write_tables(asked.out / "physics", report)
        if not asked.tables_only:
            physics = asked.out / "physics"
            water = read_water(physics if (physics / "photons_water.csv").is_file() else assets.path("physics"))
            began = time.perf_counter()
            kernels = make_kernels(water, asked.histories, asked.seed, ENERGIES_MEV, asked.workers, report)
            command = f"python -m engine.dose.kernel_factory --histories {asked.histories} --seed {asked.seed}"
            write_kernels(asked.out / "kernels" / "water_points.npz", kernels, provenance(command, asked.seed))
            print(summary(kernels))
            print(f"{time.perf_counter() - began:.0f} s")
    except UserError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
