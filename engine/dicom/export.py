"""A case's volumes, plan and dose as RT DICOM files: all of them, checked, or none."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from pydicom.dataset import FileDataset

from engine.base.errors import GeometryError, InputError, UserError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value
from engine.base.words import listed, say
from engine.beams.beam import Beam
from engine.case.case import Case, Draft
from engine.dicom.common import make_folder, save_file
from engine.dicom.conform import problems_of_set
from engine.dicom.ct_files import write_ct
from engine.dicom.dose import STEP, dose_dataset, read_dose
from engine.dicom.plan_file import Approval, plan_dataset, plan_uid
from engine.dicom.structure_file import structures_dataset
from engine.dose.dose import Dose
from engine.space.frames import source_mm

_MARCH_MM = 0.25


@dataclass(frozen=True, eq=False)
class ExportCase(Value):
    """Ask for the RT DICOM files of one draft.

    Parameters
    ----------
    dose : total dose in Gy over all fractions
    mu : monitor units of each beam per fraction
    folder : where the three files go; made if missing
    approved : whether the plan leaves as APPROVED; then `reviewer` and `reviewed_at` (ISO date and time) must be given
    names : file names of structure set, plan and dose
    """

    case: Case
    draft_key: str
    dose: Dose
    mu: tuple[float, ...]
    folder: str
    approved: bool = False
    reviewer: str = ""
    reviewed_at: str = ""
    names: tuple[str, str, str] = ("RS.dcm", "RP.dcm", "RD.dcm")


def export_case(request: ExportCase, report: Report = quiet) -> tuple[str, ...]:
    """Write structure set, plan and dose of a draft and return their paths in this order.

    An image that was never DICOM is written too, into `ct` beside the three files, so that references resolve. The
    files get their names only after all of them were read back and checked; the same case gives the same instances.

    Raises
    ------
    UserError
        If something is missing for an export, a value cannot be written, the disk refuses, or a file read back is not
        what was written. Nothing half-written stays, and files of an earlier export are not touched.
    """
    case, draft = request.case, request.case.draft(request.draft_key)
    if draft is None:
        raise InputError("this draft is no longer in the case")
    _check(request, draft)
    folder = make_folder(request.folder)
    targets = [folder / name for name in request.names]
    made: list[Path] = []
    try:
        if not case.image.sop_uids:
            before = set((folder / "ct").glob("*"))
            image = write_ct(case.image, case.patient, folder / "ct", part(report, 0.0, 0.4))
            made += sorted(set((folder / "ct").glob("*")) - before)
            case = case.but(image=image)
        sets = _datasets(request, case, draft, part(report, 0.4, 0.6))
        temporary = [folder / f".{secrets.token_hex(4)}-{name}" for name in request.names]
        made += temporary
        for i, (dataset, path) in enumerate(zip(sets, temporary)):
            report(0.6 + 0.1 * i, say("writing {names}", names=request.names[i]))
            save_file(dataset, path)
        report(0.9, "checking what was written")
        _read_back(temporary, case, request.dose)
        _rename(temporary, targets)
    except BaseException:
        for path in made:
            with suppress(OSError):
                path.unlink()
        with suppress(OSError):
            (folder / "ct").rmdir()
        raise
    report(1.0, "")
    return tuple(str(t) for t in targets)


def _check(request: ExportCase, draft: Draft) -> None:
    if request.approved and not (request.reviewer.strip() and request.reviewed_at.strip()):
        raise InputError("an approved plan needs a reviewer and a date", "export", "Sign the plan first.")
    if request.approved and request.dose.quality != "fine":
        raise InputError(
            "the dose is only a quick one", say("draft {draft}", draft=draft.name), "Compute the fine dose before approval."
        )
    if len(set(request.names)) != 3 or any(Path(n).name != n or n in ("", ".", "..") for n in request.names):
        raise InputError(
            say("{names} are not three file names", names=request.names), "export", "Give plain, different names."
        )
    if not request.case.volumes:
        raise InputError("it holds no volumes", "case", "Paint or import volumes before the export.")
    lo, hi = request.case.image.grid.bounds_mm
    d_lo, d_hi = request.dose.grid.bounds_mm
    if any(b < a or d < c for a, b, c, d in zip(lo, d_hi, d_lo, hi)):
        raise GeometryError("the dose lies outside the image", "dose", "Compute the dose again.")


def _datasets(request: ExportCase, case: Case, draft: Draft, report: Report) -> tuple[FileDataset, ...]:
    approval = Approval(request.reviewer, request.reviewed_at) if request.approved else None
    structures = structures_dataset(case, draft.name, report)
    plan = plan_dataset(case, draft, request.mu, approval, [surface_distance_mm(case, b) for b in draft.beams])
    overridden = any(v.density_g_cm3 is not None for v in case.volumes) or any(b.bolus for b in draft.beams)
    words = "Quick dose, not for approval" if request.dose.quality == "quick" else ""
    dose = dose_dataset(case, request.dose, plan_uid(case, draft, request.mu, approval), words, overridden, draft.report_to)
    return structures, plan, dose


def surface_distance_mm(case: Case, beam: Beam) -> float | None:
    """Return the distance from source to the body's surface along the beam axis, or None if it is not met.

    The surface is where the covered share first passes one half; found to a quarter of a millimetre.
    """
    body = case.body
    if body is None or body.coverage.is_empty:
        return None
    sad = case.machine(beam.machine).sad_mm
    position = case.image.patient_position
    source = source_mm(beam.isocentre_mm, position, beam.gantry_deg, beam.couch_deg, sad)
    along = (np.asarray(beam.isocentre_mm) - source) / sad
    distance = np.arange(0.0, 2 * sad, _MARCH_MM)
    index = np.rint(case.image.grid.index(source + distance[:, None] * along)).astype(int)
    fits = np.all((index >= 0) & (index < case.image.grid.shape), axis=1)
    tiles = {t.plane: t for t in body.coverage.tiles}
    for d, (k, r, c) in zip(distance[fits], index[fits]):
        tile = tiles.get(int(k))
        if tile is None:
            continue
        r, c = r - tile.row, c - tile.column
        if 0 <= r < tile.alpha.shape[0] and 0 <= c < tile.alpha.shape[1] and tile.alpha[r, c] >= 128:
            return float(d)
    return None


def _read_back(paths: list[Path], case: Case, dose: Dose) -> None:
    problems = problems_of_set(paths[0], paths[1], paths[2], case.image)
    if problems:
        raise UserError(
            say("the files do not conform: {problems}", problems=listed(problems[:5], "; ")),
            "export",
            "Report this: it is a fault here.",
        )
    again = read_dose(paths[2])
    worst = float(np.abs(again.gy - dose.gy).max())
    if worst > STEP * float(dose.gy.max()) or not np.allclose(again.grid.origin_mm, dose.grid.origin_mm, atol=1e-6):
        raise UserError("the dose read back differs from what was written", "export", "Try another disk.")


def _rename(temporary: list[Path], targets: list[Path]) -> None:
    """Give all files their names; if one cannot get it, put back what was there."""
    kept: list[tuple[Path, Path]] = []
    done: list[Path] = []
    try:
        for target in targets:
            if target.exists():
                aside = target.with_name(f".{secrets.token_hex(4)}-{target.name}")
                os.replace(target, aside)
                kept.append((aside, target))
        for source, target in zip(temporary, targets):
            os.replace(source, target)
            done.append(target)
    except OSError as error:
        for path in done:
            with suppress(OSError):
                path.unlink()
        for aside, target in kept:
            with suppress(OSError):
                os.replace(aside, target)
        raise UserError(
            say("the file cannot get its name ({strerror})", strerror=error.strerror or str(error)),
            str(targets[0].parent),
            "Choose another folder.",
        ) from None
    for aside, _ in kept:
        with suppress(OSError):
            aside.unlink()
