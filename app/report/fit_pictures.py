"""Measured curves beside the fitted model, and what remains between them."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication

from app.report.beam_data_pictures import spectrum_chart
from app.report.curve_pictures import COLOURS, Chart, Line


def fit_charts(fit: Any, start: Any) -> list[tuple[str, Chart]]:
    """Return (file stem, chart): curves and residuals by kind, axis and depth, and the spectra."""
    tr = QCoreApplication.translate
    groups: dict[tuple[str, str, float], list[Any]] = {}
    for j in fit.after:
        groups.setdefault((j.curve.kind, j.curve.axis, j.curve.depth_mm), []).append(j)
    charts = []
    for (kind, axis, depth), members in groups.items():
        judged = sorted(members, key=lambda j: j.curve.field_mm)
        if kind == "depth-dose":
            stem, title = "depth-doses", tr("Picture", "Depth doses: measured (points) and model (lines)")
            x_label, y_label = tr("Picture", "Depth in water (mm)"), tr("Picture", "Dose (% of the maximum)")
        elif kind == "profile":
            stem = f"profiles-{axis}-d{depth:g}"
            title = tr("Picture", "Profiles along {axis}, {depth} mm deep: measured (points) and model (lines)")
            title = title.format(axis=axis.upper(), depth=f"{depth:g}")
            x_label, y_label = tr("Picture", "Position (mm)"), tr("Picture", "Dose (% of the axis)")
        else:
            stem, title = f"output-d{depth:g}", tr("Picture", "Output factors: measured (points) and model (line)")
            x_label, y_label = tr("Picture", "Side of the square field (mm)"), tr("Picture", "Output (% of the largest)")
        lines, rest = [], []
        for n, j in enumerate(judged):
            label = f"{j.curve.field_mm[0]:g} x {j.curve.field_mm[1]:g}" if kind != "output" else j.curve.name
            x, model, value = (np.asarray(v) for v in (j.curve.position_mm, j.model, j.curve.value))
            whole = float(np.interp(0.0, x, model)) if kind == "profile" else float(model.max())
            lines.append(Line(label, x, 100 * model / whole, n, dashed=n >= len(COLOURS)))
            lines.append(Line("", x, 100 * value / whole, n, points=True))
            gentle = np.where(np.isnan(np.asarray(j.distance_mm)), np.asarray(j.difference_percent), np.nan)
            rest.append(Line(label, x, gentle, n, dashed=n >= len(COLOURS)))
        place = fit.machine.name
        charts.append((stem, Chart(title, place, x_label, y_label, tuple(lines))))
        title = tr("Picture", "Model less measured where dose is not steep; limit 2 % shaded (tail: 3 % of the axis)")
        label = tr("Picture", "Difference (%)")
        most = max([3.0, *(float(np.nanmax(np.abs(r.y))) for r in rest if np.isfinite(r.y).any())])
        chart = Chart(title, f"{place}, {stem}", x_label, label, tuple(rest), ((-2.0, 2.0),), (-1.1 * most, 1.1 * most))
        charts.append((f"{stem}-residuals", chart))
    charts.append(("spectrum", spectrum_chart(fit.machine, (start,))))
    return charts
