"""``halfshade machine show NAME|FILE.toml``: computed beam data."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from app.commands.common import answer, progress, write_whole
from engine.base.errors import InputError
from engine.base.progress import part
from engine.base.words import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    parser.add_argument(
        "machine", metavar="NAME|FILE.toml", help="a machine that comes with the program, or a machine file"
    )
    parser.add_argument(
        "--out", metavar="DIR", help="also write curves (CSV, in the format of measured data) and plots (PNG)"
    )
    parser.add_argument("--fields", metavar="MM,MM,...", help="sides of square fields (40 to 400 mm as far as it goes)")
    parser.add_argument("--report", action="store_true", help="hold them against published values: expected and found")


def run(args: argparse.Namespace) -> int:
    """Compute, write and print; exit code 0 whatever the report finds, for the numbers are the result."""
    from engine import compute
    from engine.beams.machine_file import load_machine
    from engine.commission.beam_data import FIELDS_MM, BeamDataRequest
    from engine.commission.published import fields_of, published_checks

    machine = load_machine(args.machine)
    fields = _fields(args.fields, 2 * machine.field_limit_mm) or FIELDS_MM
    if args.report:
        fields = tuple(sorted({*fields, *fields_of(machine)}))
    out = Path(args.out) if args.out else None
    if out is not None:
        out.mkdir(parents=True, exist_ok=True)
    report = progress()
    data = compute.run(BeamDataRequest(machine, fields), part(report, 0.0, 0.9))
    checks = published_checks(machine, data) if args.report else ()
    files = _write(out, machine, data) if out is not None else []
    report(1.0)
    result = as_json(machine, data, checks) | {"files": files}
    answer(args, result, _sentences(machine, data, checks, out, files))
    return 0


def _fields(text: str | None, largest: float) -> tuple[float, ...]:
    if not text:
        return ()
    try:
        fields = tuple(float(t) for t in text.split(","))
    except ValueError:
        fields = ()
    if not fields or not all(10 <= f <= largest for f in fields):
        raise InputError(
            say("fields {text!r} cannot be used", text=text),
            "--fields",
            say("Write sides from 10 to {largest:g} mm with commas between.", largest=largest),
        )
    return fields


def as_json(machine: Any, data: Any, checks: Any) -> dict[str, Any]:
    """Return everything as plain data; a number that does not exist is null."""
    return {
        "machine": machine.name,
        "description": machine.description,
        "source": machine.source,
        "nominal_mv": machine.nominal_mv,
        "quality": {name: _plain(value) for name, value in data.quality},
        "fields": [
            {
                "field_mm": r.field_mm,
                "d_max_mm": _plain(r.d_max_mm),
                "pdd_percent": {f"{d:g}": _plain(p) for d, p in r.pdd_percent},
                "surface_percent": _plain(r.surface_percent),
                "gy_per_mu_at_maximum": r.gy_per_mu_max,
                "scp": _plain(r.scp),
                "scp_at_maximum": _plain(r.scp_max),
                "sc": _plain(r.sc),
                "sp": _plain(r.sp),
            }
            for r in data.fields
        ],
        "profiles": [
            {
                "field_mm": r.field_mm,
                "axis": r.axis,
                "depth_mm": r.depth_mm,
                "width_mm": _plain(r.width_mm),
                "penumbra_mm": _plain(r.penumbra_mm),
                "flatness_percent": _plain(r.flatness_percent),
                "symmetry_percent": _plain(r.symmetry_percent),
            }
            for r in data.profiles
        ],
        "checks": [
            {
                "check": str(c.name),
                "source": c.source.title,
                "author": c.source.author,
                "year": c.source.year,
                "place": c.source.place,
                "known": c.source.known,
                "expected": c.expected,
                "band": c.band,
                "found": _plain(c.found),
                "within": c.within if c.counts else None,
            }
            for c in checks
        ],
    }


def _plain(value: float) -> float | None:
    return round(float(value), 6) if value == value else None


def _write(out: Path, machine: Any, data: Any) -> list[str]:
    from app.report.beam_data_pictures import beam_data_charts
    from app.report.curve_pictures import draw_chart
    from app.report.offscreen import drawing
    from app.report.paper import png
    from engine.commission.curves import text_of

    names = []
    note = f"computed by Halfshade from machine {machine.name}; no measurement"
    for curve in data.curves:
        name = f"{curve.title}.csv"
        write_whole(out / name, text_of(curve, note).encode())
        names.append(name)
    with drawing():
        for name, chart in beam_data_charts(machine, data):
            write_whole(out / f"{name}.png", png(draw_chart(chart)))
            names.append(f"{name}.png")
    return names


def _sentences(machine: Any, data: Any, checks: Any, out: Path | None, files: list[str]) -> list[str]:
    q = dict(data.quality)
    head = [
        f"{machine.name}: {machine.description}." if machine.description else f"{machine.name}.",
        say("Source of its values: {source}.", source=machine.source or say("not said")),
        say(
            "100 × 100 mm, SSD {sad_mm:g} mm: maximum at {d_max_mm:.1f} mm, PDD(100 mm) {pdd_10:.1f} %, "
            "PDD20/PDD10 {pdd_20_10:.3f}, TPR20,10 {tpr_20_10:.3f}, surface {surface_percent:.1f} %.",
            sad_mm=machine.sad_mm,
            **{k: q[k] for k in ("d_max_mm", "pdd_10", "pdd_20_10", "tpr_20_10", "surface_percent")},
        ),
        say(
            "Photons on the axis: mean energy {energy:.2f} MeV, half-value layer {layer:.0f} mm of water.",
            energy=q["mean_energy_mev"],
            layer=q["hvl_water_mm"],
        ),
    ]
    if q["leaf_transmission_percent"] == q["leaf_transmission_percent"]:
        head.append(
            say(
                "Dose under shut leaves {leaves:.2f} %, fluence under jaws {jaws:.2f} %.",
                leaves=q["leaf_transmission_percent"],
                jaws=q["jaw_transmission_percent"],
            )
        )
    table = [
        "field  d_max  surface  PDD(50)  PDD(100)  PDD(200)   Scp     Sc     Sp",
        "   mm     mm        %        %         %         %",
    ]
    for r in data.fields:
        p = dict(r.pdd_percent)
        table.append(
            f"{r.field_mm:5g}  {r.d_max_mm:5.1f}  {r.surface_percent:7.1f}  {p[50.0]:7.1f}  {p[100.0]:8.1f}"
            f"  {p[200.0]:8.1f}  {r.scp:.3f}  {r.sc:.3f}  {r.sp:.3f}"
        )
    table += [
        "",
        say("Penumbra 80-20 % (mm), along X / along Y"),
        "field  " + "  ".join(f"{d:>8g} mm" for d in _depths(data)),
    ]
    for side in sorted({r.field_mm for r in data.profiles}):
        cells = []
        for depth in _depths(data):
            pair = [r.penumbra_mm for r in data.profiles if r.field_mm == side and r.depth_mm == depth]
            cells.append(f"{pair[0]:.1f} / {pair[1]:.1f}".rjust(11))
        table.append(f"{side:5g}  " + "  ".join(cells))
    lines = [*head, "", *table]
    if checks:
        lines += ["", *check_lines(checks)]
    if out is not None:
        plots = sum(f.endswith(".png") for f in files)
        lines += [
            "",
            say("Wrote {curves} curves and {plots} plots to {out}.", curves=len(files) - plots, plots=plots, out=out),
        ]
    return lines


def _depths(data: Any) -> list[float]:
    return sorted({r.depth_mm for r in data.profiles})


def check_lines(checks: Any) -> list[str]:
    """Return the validation table of a machine, and a sentence that counts it."""
    heads = {"check": say("check"), "expected": say("expected"), "found": say("found"), "verdict": say("verdict")}
    lines = [say("{check:58} {expected:>16} {found:>9}  {verdict}", **heads)]
    last = ""
    for c in checks:
        head = f"{c.source.title} ({', '.join(v for v in (c.source.author, c.source.year, c.source.place) if v)})"
        head = head.replace(" ()", "") + f" [{c.source.known}]"
        if head != last:
            lines.append(head)
            last = head
        counts = say("within") if c.within else say("OUTSIDE")
        verdict = counts if c.counts else say("plausible") if c.within else say("unusual")
        values = {"name": c.name, "expected": c.expected, "band": c.band, "found": c.found, "verdict": verdict}
        lines.append(say("  {name:56} {expected:8.3f} ± {band:<5.3f} {found:9.3f}  {verdict}", **values))
    counted = [c for c in checks if c.counts]
    other = [c for c in checks if not c.counts]
    if not counted:
        lines.append(say("No published value that was read applies to this beam, so nothing here validates it."))
    lines.append(
        say(
            "{met} of {published} published values are met; "
            "{held} of {recalled} recalled bands hold, which is plausibility and no validation.",
            met=sum(c.within for c in counted),
            published=len(counted),
            held=sum(c.within for c in other),
            recalled=len(other),
        )
    )
    return lines
