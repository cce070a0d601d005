"""``halfshade machine fit MEASURED_DIR``: a beam model for measured curves."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import Any

from app.commands.common import answer, progress, write_whole
from engine.base.errors import InputError
from engine.base.progress import part
from engine.base.words import say

EPILOG = """\
Measured data: one CSV file per curve in MEASURED_DIR. Header lines, then the column names, then one point a line:

  # kind: depth-dose          depth-dose, profile or output
  # field_mm: 100 x 100       X x Y at the isocentre plane (not for output)
  # ssd_mm: 1000
  # depth_mm: 100             for profile and output
  # axis: x                   for profile: x or y of the collimator
  # energy_mv: 6
  # edges: jaws               jaws or leaves: what forms the X edges
  # detector: ionisation chamber 0.1 cm3
  # detector_mm: 5            width along the scan; 0 if it is left out
  position_mm,value
  0,48.2
  1,57.9

Positions are mm: depth for a depth dose, place along the axis for a profile, side of the square field for output.
Values are doses or readings on any scale. Points are judged by the limits of AAPM MPPG 5: 2 % high dose and output,
2 mm penumbra, 3 % of the axis in the tail; build-up 2 mm or 10 %.
"""
WANTED_PERCENT = 95.0


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument("measured", metavar="MEASURED_DIR", help="folder of measured curves (CSV, see below)")
    parser.add_argument("--start", metavar="NAME|FILE.toml", help="machine to start from (generic of the same energy)")
    parser.add_argument("--out", metavar="FILE.toml", help="write the fitted machine, its spectrum and plots beside it")


def run(args: argparse.Namespace) -> int:
    """Fit, write and print; exit code 0 whether the limits are met or not, for the rates are the result."""
    from engine import compute
    from engine.beams.machine_file import load_machine
    from engine.commission.fit import FitRequest
    from engine.commission.measured import read_folder

    out = Path(args.out) if args.out else None
    if out is not None and (out.suffix != ".toml" or not out.parent.is_dir()):
        raise InputError(say("it is no .toml file in a folder that exists"), str(out), say("Name one."))
    measured = read_folder(args.measured)
    start = load_machine(args.start or _start_for(measured))
    name = out.stem if out is not None else f"{start.name}-fitted"
    report = progress()
    fit = compute.run(FitRequest(measured.curves, start, name), part(report, 0.0, 0.97))
    today = datetime.date.today().isoformat()
    machine = fit.machine.but(
        description=f"Beam model fitted to {len(measured.curves)} measured curves",
        source=(
            f"fitted by Halfshade on {today} to {len(measured.curves)} curves of {Path(args.measured).resolve().name}, "
            f"starting from {start.name}; what the curves do not tell is that of the start ({start.source})"
        ),
    )
    data = as_json(fit, machine, start, measured)
    files = _write(out, machine, fit, start) if out is not None else []
    report(1.0)
    answer(args, data | {"files": files}, _sentences(data, out, files))
    return 0


def _start_for(measured: Any) -> str:
    from engine.beams.machine_file import load_machine, shipped_machines

    energies = {c.energy_mv for c in measured.curves if c.energy_mv}
    if not energies:
        raise InputError(
            say("no curve says its energy"), say("measured data"), say("Add '# energy_mv: ...' or give --start.")
        )
    energy = energies.pop()
    for name in shipped_machines():
        if name.startswith("generic-") and name.count("-") == 1 and abs(load_machine(name).nominal_mv - energy) < 0.5:
            return name
    raise InputError(
        say("there is no generic machine of {energy:g} MV to start from", energy=energy), do=say("Give --start.")
    )


def as_json(fit: Any, machine: Any, start: Any, measured: Any) -> dict[str, Any]:
    """Return the fit as plain data."""
    from engine.commission.beam_data import half_value_layer_mm, mean_energies_mev

    rates = {when: _rates(fit.rates(when)) for when in ("before", "after")}
    return {
        "machine": machine.name,
        "start": start.name,
        "source": machine.source,
        "parameters": [
            {
                "key": p.key,
                "what": p.words,
                "unit": p.unit,
                "start": round(p.start, 6),
                "fitted": round(p.value, 6),
                "sd": round(p.sd, 6),
                "determined": p.determined,
                "at_bound": p.at_bound,
            }
            for p in fit.parameters
        ],
        "spectrum": {
            when: {"mean_energy_mev": round(mean_energies_mev(m)[0], 4), "hvl_water_mm": round(half_value_layer_mm(m), 2)}
            for when, m in (("start", start), ("fitted", machine))
        },
        "pass_rates_before": rates["before"],
        "pass_rates": rates["after"],
        "within_limits": all(r["percent"] >= WANTED_PERCENT for r in rates["after"].values()),
        "curves": [
            {
                "file": j.curve.name,
                "what": j.curve.title,
                "worst_percent": round(j.worst_percent, 3),
                "regions": _rates({n: j.count(n) for n in rates["after"] if j.count(n)[1]}),
            }
            for j in fit.after
        ],
        "untold": [str(u) for u in fit.untold],
        "notes": [str(n) for n in measured.notes],
    }


def _rates(counts: dict[str, tuple[int, int]]) -> dict[str, dict[str, Any]]:
    return {
        name: {"passed": a, "points": b, "percent": round(100 * a / b, 2), "limit": _limit(name)}
        for name, (a, b) in counts.items()
    }


def _limit(name: str) -> str:
    from engine.commission.judge import LIMITS

    percent, mm = LIMITS[name]
    return " or ".join([*([f"{percent:g} %"] if percent else []), *([f"{mm:g} mm"] if mm else [])])


def _write(out: Path, machine: Any, fit: Any, start: Any) -> list[str]:
    from app.report.curve_pictures import draw_chart
    from app.report.fit_pictures import fit_charts
    from app.report.offscreen import drawing
    from app.report.paper import png
    from engine.commission.machine_text import machine_text, spectrum_text

    spectrum = f"{out.stem}-spectrum.csv"
    note = machine.source
    write_whole(out.parent / spectrum, spectrum_text(machine, f"Photon spectrum of {machine.name}", notes=(note,)).encode())
    write_whole(out, machine_text(machine, spectrum).encode())
    plots = out.parent / f"{out.stem}-plots"
    plots.mkdir(exist_ok=True)
    names = [str(out), str(out.parent / spectrum)]
    with drawing():
        for name, chart in fit_charts(fit, start):
            write_whole(plots / f"{name}.png", png(draw_chart(chart)))
            names.append(str(plots / f"{name}.png"))
    return names


def _sentences(data: dict[str, Any], out: Path | None, files: list[str]) -> list[str]:
    lines = [
        *data["notes"],
        f"Fitted {data['machine']} to {len(data['curves'])} curves, starting from {data['start']}.",
        "",
    ]
    lines.append(f"{'parameter':44} {'start':>9} {'fitted':>9} {'sd':>8}")
    for p in data["parameters"]:
        marks = ("" if p["determined"] else "  hardly told") + ("  at the end of its range" if p["at_bound"] else "")
        what = f"{p['what']} ({p['unit']})" if p["unit"] else p["what"]
        lines.append(f"{what:44} {p['start']:9.4f} {p['fitted']:9.4f} {p['sd']:8.4f}{marks}")
    a, b = data["spectrum"]["start"], data["spectrum"]["fitted"]
    lines.append(
        f"Spectrum: mean energy {a['mean_energy_mev']:.2f} -> {b['mean_energy_mev']:.2f} MeV, half-value layer in water "
        f"{a['hvl_water_mm']:.0f} -> {b['hvl_water_mm']:.0f} mm."
    )
    lines += ["", f"{'points within the limit':24} {'limit':>14} {'before':>16} {'after':>16}"]
    for name, r in data["pass_rates"].items():
        b = data["pass_rates_before"].get(name, {"passed": 0, "points": 0, "percent": 0.0})
        cells = [f"{v['passed']}/{v['points']} {v['percent']:5.1f} %" for v in (b, r)]
        lines.append(f"{name:24} {r['limit']:>14} {cells[0]:>16} {cells[1]:>16}")
    worst = sorted(
        data["curves"], key=lambda c: min(r["percent"] for r in c["regions"].values()) if c["regions"] else 100.0
    )
    for c in worst[:3]:
        bad = [f"{n} {r['passed']}/{r['points']}" for n, r in c["regions"].items() if r["percent"] < WANTED_PERCENT]
        if bad:
            lines.append(f"Worst: {c['file']} ({c['what']}): {', '.join(bad)}.")
    verdict = (
        f"Every region keeps its limit at {WANTED_PERCENT:g} % of the points and more."
        if data["within_limits"]
        else "THE MODEL DOES NOT MEET THE LIMITS: "
        + ", ".join(f"{n} {r['percent']:.0f} %" for n, r in data["pass_rates"].items() if r["percent"] < WANTED_PERCENT)
        + ". Do not use it; check the data and the start machine."
    )
    lines += ["", *data["untold"], "", verdict]
    if out is not None:
        lines.append(f"Wrote {out}, its spectrum beside it, and {len(files) - 2} plots.")
    return lines
