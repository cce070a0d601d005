"""Which charts show a machine's beam data."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication

from app.report.curve_pictures import COLOURS, Chart, Line


def beam_data_charts(machine: Any, data: Any) -> list[tuple[str, Chart]]:
    """Return (file stem, chart) of depth doses, build-up, profiles by depth, output factors and the spectrum."""
    place = f"{machine.name}, SSD {machine.sad_mm:g} mm"
    charts = []
    tr = QCoreApplication.translate
    deep = [c for c in data.curves if c.kind == "depth-dose"]
    lines = tuple(_line(c, f"{c.field_mm[0]:g} mm", n) for n, c in enumerate(deep))
    labels = tr("Picture", "Depth in water (mm)"), tr("Picture", "Dose (% of the maximum)")
    charts.append(("depth-doses", Chart(tr("Picture", "Depth doses, square fields"), place, *labels, lines)))
    near = tuple(Line(x.label, x.x[x.x <= 40], x.y[x.x <= 40], x.colour, dashed=x.dashed) for x in lines)
    charts.append(("build-up", Chart(tr("Picture", "Build-up, square fields"), place, *labels, near)))
    labels = tr("Picture", "Position (mm)"), tr("Picture", "Dose (% of the axis)")
    for axis in ("x", "y"):
        for depth in sorted({c.depth_mm for c in data.curves if c.kind == "profile"}):
            found = [c for c in data.curves if c.kind == "profile" and c.axis == axis and c.depth_mm == depth]
            lines = tuple(_line(c, f"{c.field_mm[0]:g} mm", n) for n, c in enumerate(found))
            title = tr("Picture", "Profiles along {axis}, {depth} mm deep").format(axis=axis.upper(), depth=f"{depth:g}")
            charts.append((f"profiles-{axis}-d{depth:g}", Chart(title, place, *labels, lines)))
    side = np.array([r.field_mm for r in data.fields])
    rows = (
        (tr("Picture", "total (Scp), 100 mm deep"), "scp"),
        (tr("Picture", "in air (Sc)"), "sc"),
        (tr("Picture", "phantom scatter (Sp)"), "sp"),
        (tr("Picture", "total, at the maximum"), "scp_max"),
    )
    lines = tuple(
        Line(label, side, np.array([getattr(r, key) for r in data.fields]), n) for n, (label, key) in enumerate(rows)
    )
    title = tr("Picture", "Output factors, 100 x 100 mm = 1")
    labels = tr("Picture", "Side of the square field (mm)"), tr("Picture", "Output factor")
    charts.append(("output-factors", Chart(title, place, *labels, lines)))
    charts.append(("spectrum", spectrum_chart(machine, ())))
    return charts


def spectrum_chart(machine: Any, others: tuple[Any, ...]) -> Chart:
    """Return the photon spectra on the axis of machines as steps."""
    tr = QCoreApplication.translate
    lines = []
    for n, one in enumerate((machine, *others)):
        bins, fluence = np.array(one.spectrum_mev), np.array(one.spectrum_fluence)
        height = fluence / (bins[:, 1] - bins[:, 0]) / fluence.sum()
        lines.append(Line(one.name, bins.ravel(), np.repeat(height, 2), n, dashed=n > 0))
    title = tr("Picture", "Photon spectrum on the axis")
    labels = tr("Picture", "Energy (MeV)"), tr("Picture", "Photons per MeV, all = 1")
    return Chart(title, machine.name, *labels, tuple(lines))


def _line(curve: Any, label: str, colour: int) -> Line:
    return Line(label, np.asarray(curve.position_mm), np.asarray(curve.value), colour, dashed=colour >= len(COLOURS))
