"""``halfshade demo``: the whole job on a synthetic patient, through the same doors as any other patient."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import Any

from app.commands.common import add_json, answer, computed, evaluated, progress, write_whole
from engine.base.errors import InputError
from engine.base.progress import Report, part
from engine.base.words import say

NAMES = ("thorax", "head", "pelvis")
REVIEWER, ROLE, PASSPHRASE = "Demonstration Reviewer", "demonstration", "demonstration only"
REASON = "Demonstration plan: accepted without clinical judgement."


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the options."""
    which = say("out of {names} (thorax)", names=", ".join(NAMES))
    parser.add_argument("--patient", default="thorax", metavar="NAME[,NAME]", help=which)
    parser.add_argument("--out", required=True, metavar="DIR", help="folder for the results; must be empty or new")
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    """Run the demonstration for every named patient; several get a folder each."""
    names = [n.strip() for n in args.patient.split(",") if n.strip()]
    unknown = [n for n in names if n not in NAMES]
    if unknown or not names:
        raise InputError(
            say("there is no demonstration patient {unknown}", unknown=", ".join(unknown) or say("(none named)")),
            do=say("Use {names}.", names=", ".join(NAMES)),
        )
    out = Path(args.out)
    if out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise InputError("it exists and is not an empty folder", str(out), "Name a new folder; nothing is overwritten.")
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtGui import QGuiApplication

    app = QGuiApplication.instance() or QGuiApplication(["halfshade"])
    report, rows = progress(), []
    for i, name in enumerate(names):
        folder = out / name if len(names) > 1 else out
        rows.append(demonstrate(name, folder, part(report, i / len(names), (i + 1) / len(names))))
    report(1.0, "")
    del app
    sentences = [s for row in rows for s in _sentences(row)]
    answer(args, rows[0] if len(rows) == 1 else {"patients": rows}, sentences)
    return 0


def demonstrate(name: str, folder: Path, report: Report) -> dict[str, Any]:
    """Do the whole job for one patient and return its summary."""
    import json

    from app.report.pictures import pictures
    from app.report.record_pdf import write_pdf
    from engine import compute
    from engine.case.case import Answer
    from engine.case.requests import standing
    from engine.dicom.export import ExportCase, export_case
    from engine.review.checks import check, open_findings
    from engine.review.record import seal, still_covers, verify_chain
    from engine.review.sheet import contact_sheet
    from engine.review.statement import make_statement
    from engine.store.case_file import CaseFile
    from engine.store.case_file import now as time_now

    for sub in ("ct", "rt", "pictures"):
        (folder / sub).mkdir(parents=True, exist_ok=True)
    phantom = compute.run(compute.request("MakeDemonstration", name=name), part(report, 0.0, 0.3))
    case = compute.run(
        compute.request("PlanDemonstration", phantom=phantom, ct_folder=str(folder / "ct")), part(report, 0.3, 0.5)
    )
    draft = case.drafts[-1]
    results: dict[str, Any] = {}
    doses, stands = computed(case, draft, results, part(report, 0.5, 0.75))
    now = evaluated(case, draft, doses)
    findings = check(case, draft, stands, now)
    when = time_now()
    answers = tuple(Answer(f.key, REASON, REVIEWER, when) for f in findings if f.severity == "warn")
    case = case.but(answers=answers)
    stands = standing(case, draft, results)
    report(0.76, "drawing the pictures")
    items = contact_sheet(case, draft, now)
    shown = pictures(items, case, draft, now, part(report, 0.76, 0.9))
    stopped = [f for f in open_findings(case, findings) if f.severity == "stop"]
    decision = "REJECTED" if stopped else "APPROVED"
    comment = "Made by the demonstration command on a synthetic patient; no person judged this plan."
    seen = [p.title for p in shown]
    who = (REVIEWER, ROLE, comment, when)
    statement = make_statement(case, draft, stands, now, findings, shown, seen, decision, *who)
    record = seal(statement, PASSPHRASE, ())
    path = folder / "case.halfshade"
    with CaseFile.create(path, case, "demonstration", REVIEWER) as file:
        file.put_results(doses)
        for picture in shown:
            file.put_value(picture)
        file.add_record(record, REVIEWER)
        verify_chain(file.records())
    approved = decision == "APPROVED"
    export_case(
        ExportCase(case, draft.key, now.dose(), now.mu, str(folder / "rt"), approved, REVIEWER if approved else "",
                   when if approved else ""),
        part(report, 0.9, 0.97),
    )  # fmt: skip
    write_pdf(folder / "record.pdf", case, record, shown)
    for i, picture in enumerate(shown, 1):
        stem = "".join(c if c.isalnum() else "-" for c in picture.title.lower()).strip("-")
        write_whole(folder / "pictures" / f"{i:02d}-{stem[:50]}.png", picture.png.tobytes())
    target = case.volume(draft.prescription.volume_key) if draft.prescription else None
    summary = {
        "patient": name,
        "synthetic": True,
        "folder": str(folder),
        "slices": case.image.grid.shape[0],
        "volumes": {v.name: round(v.coverage.volume_cm3, 3) for v in case.volumes},
        "prescription_gy": draft.prescription.dose_gy if draft.prescription else None,
        "fractions": draft.prescription.fractions if draft.prescription else None,
        "target": target.name if target else None,
        "beams": [
            {"name": b.name, "machine": b.machine, "gantry_deg": b.gantry_deg, "weight": w, "mu_per_fraction": round(m, 3)}
            for b, w, m in zip(draft.beams, draft.weights, now.mu, strict=True)
        ],
        "max_gy": float(now.dose().gy.max()),
        "goals": [
            {"volume": v.name if (v := case.volume(g.volume_key)) else g.waits_for, "metric": g.metric,
             "comparator": g.comparator, "limit": g.limit, "value": value, "state": state}
            for g, value, state in now.goals
        ],
        "findings": [{"code": f.code, "severity": f.severity, "evidence": f.evidence} for f in findings],
        "decision": decision,
        "record": record.fingerprint,
        "sealed": still_covers(record, case.fingerprint, draft.fingerprint),
        "pictures": [p.title for p in shown],
    }  # fmt: skip
    write_whole(folder / "summary.json", (json.dumps(summary, indent=2, ensure_ascii=False) + "\n").encode())
    return summary


def _sentences(row: dict[str, Any]) -> list[str]:
    met = sum(g["state"] == "met" for g in row["goals"])
    return [
        say(
            "{patient} (synthetic): {slices} slices, {volumes} volumes, {beams} beams, "
            "{gy:g} Gy in {fractions} fractions to {target}.",
            patient=row["patient"],
            slices=row["slices"],
            volumes=len(row["volumes"]),
            beams=len(row["beams"]),
            gy=row["prescription_gy"],
            fractions=row["fractions"],
            target=row["target"],
        ),
        say(
            "Highest dose {gy:.2f} Gy; {met} of {goals} goals met; {findings} findings.",
            gy=row["max_gy"],
            met=met,
            goals=len(row["goals"]),
            findings=len(row["findings"]),
        ),
        say(
            "{decision} and sealed as {record}. Results are in {folder}.",
            decision=row["decision"],
            record=row["record"][:16],
            folder=row["folder"],
        ),
    ]
