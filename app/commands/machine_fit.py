"""``halfshade machine fit MEASURED_DIR``: a beam model for measured curves."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import Any

from app.commands.common import answer, progress, write_whole
from engine.base.errors import InputError
from engine.base.progress import part
from engine.base.words import listed, say

EPILOG = """\
Measured data: one CSV file per curve in MEASURED_DIR, like this (machine show --out writes the same form):

  # kind: profile
  # field_mm: 100 x 100
  # ssd_mm: 1000
  # depth_mm: 100
  # axis: x
  # energy_mv: 6
  # edges: jaws
  # detector: diode
  # detector_mm: 0.8
  position_mm,value
  -80,2.1
  -78,2.3

  kind         depth-dose (position = depth), profile (position = place along the axis) or output (position = side of
               a square field; needs no field_mm)
  field_mm     X x Y at the isocentre plane, as set
  ssd_mm       focal spot to water
  depth_mm     for profile and output
  axis         for profile: x or y of the collimator
  energy_mv    one beam a folder; chooses the generic machine to start from
  edges        jaws (if left out) or leaves: what forms the X edges
  detector_mm  width along the scan (0 if left out), by which the model is blurred

Lengths are mm. Values are doses or readings on any scale. Points are judged by the limits of AAPM MPPG 5: 2 % high dose
and output, 2 mm penumbra, 3 % of the axis in the tail; build-up 2 mm or 10 %. It takes some minutes.
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
        raise InputError("it is no .toml file in a folder that exists", str(out), "Name one.")
    if out is not None and out.exists():
        raise InputError("it exists already", str(out), "Name a new file; nothing is overwritten.")
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
    answer(args, data | {"files": files}, _sentences(fit, data, out, files, measured.notes))
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
        "start_suits": not any(p.at_bound for p in fit.parameters),
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


def _sentences(fit: Any, data: dict[str, Any], out: Path | None, files: list[str], notes: tuple[str, ...]) -> list[str]:
    heads = {"what": say("parameter"), "start": say("start"), "fitted": say("fitted"), "sd": "sd"}
    lines: list[str] = [
        *notes,
        say(
            "Fitted {name} to {curves} curves, starting from {start}.",
            name=data["machine"],
            curves=len(data["curves"]),
            start=data["start"],
        ),
        "",
        say("{what:44} {start:>9} {fitted:>9} {sd:>8}", **heads),
    ]
    for p in fit.parameters:
        mark = say("at the end of its range") if p.at_bound else "" if p.determined else say("hardly told")
        what = say("{words} ({unit})", words=p.words, unit=p.unit) if p.unit else p.words
        row = {"what": what, "start": p.start, "value": p.value, "sd": p.sd, "mark": mark}
        lines.append(say("{what:44} {start:9.4f} {value:9.4f} {sd:8.4f}  {mark}", **row))
    a, b = data["spectrum"]["start"], data["spectrum"]["fitted"]
    energies = {"e1": a["mean_energy_mev"], "e2": b["mean_energy_mev"], "h1": a["hvl_water_mm"], "h2": b["hvl_water_mm"]}
    spectrum = say(
        "Spectrum: mean energy {e1:.2f} -> {e2:.2f} MeV, half-value layer in water {h1:.0f} -> {h2:.0f} mm.", **energies
    )
    lines += [spectrum, "", *_rate_lines(fit), *_worst(fit), "", *fit.untold, "", _verdict(data)]
    if out is not None:
        lines.append(say("Wrote {out}, its spectrum beside it, and {plots} plots.", out=out, plots=len(files) - 2))
    return lines


def _rate_lines(fit: Any) -> list[str]:
    before, after = fit.rates("before"), fit.rates()
    heads = {"region": say("points within the limit"), "limit": say("limit"), "a": say("before"), "b": say("after")}
    lines: list[str] = [say("{region:24} {limit:>14} {a:>16} {b:>16}", **heads)]
    for name, rate in after.items():
        a, b = (f"{good}/{count} {100 * good / count:5.1f} %" for good, count in (before.get(name, (0, 1)), rate))
        lines.append(say("{region:24} {limit:>14} {a:>16} {b:>16}", region=name, limit=_limit(name), a=a, b=b))
    return lines


def _worst(fit: Any) -> list[str]:
    """Return a sentence for each of the three curves that keep the limits worst."""
    found = []
    for j in fit.after:
        counts = {n: j.count(n) for n in fit.rates() if j.count(n)[1]}
        bad = {n: c for n, c in counts.items() if 100 * c[0] < WANTED_PERCENT * c[1]}
        if bad:
            found.append((min(a / b for a, b in bad.values()), j.curve, bad))
    found.sort(key=lambda f: f[0])
    return [
        say(
            "Outside most: {name} ({what}): {regions}.",
            name=curve.name,
            what=curve.title,
            regions=listed([say("{region} {good}/{count}", region=n, good=a, count=b) for n, (a, b) in bad.items()]),
        )
        for _, curve, bad in found[:3]
    ]


def _verdict(data: dict[str, Any]) -> str:
    if not data["within_limits"]:
        bad = [(n, r["percent"]) for n, r in data["pass_rates"].items() if r["percent"] < WANTED_PERCENT]
        regions = listed([say("{region} {percent:.0f} %", region=n, percent=p) for n, p in bad])
        return say(
            "THE MODEL DOES NOT KEEP THE LIMITS: {regions}. Do not use it; check the data and the start machine.",
            regions=regions,
        )
    if not data["start_suits"]:
        return say("The limits are kept, but with values at the end of their range: look for a start machine that suits.")
    return say("Every region keeps its limit at {wanted:g} % of the points and more.", wanted=WANTED_PERCENT)
