"""What a decision still waits for, in words."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from app.core.context import Context
from app.panels.decision import Decision
from app.stations.sheet_maker import SheetMaker


def waits_for(context: Context, form: Decision, maker: SheetMaker, unseen: int, covered: bool) -> str:
    """Return the first thing that is missing before the decision can be sealed, or "".

    Parameters
    ----------
    unseen : how many pictures were not opened at full size
    covered : whether a record covers the present plan already
    """
    from engine.review.checks import open_findings
    from engine.review.record import MIN_PASSPHRASE

    tr = QCoreApplication.translate
    workspace, review = context.workspace, maker.review
    case = workspace.case
    if case is None or workspace.draft is None:
        return tr("SignWaits", "There is nothing to decide yet.")
    if workspace.read_only or context.keeper is None:
        return tr("SignWaits", "A record needs a case file that can be written. Save a copy to sign it.")
    if workspace.standing.state != "current":
        return tr("SignWaits", "Waiting for the fine dose of this plan.")
    if review is None or not maker.images:
        return tr("SignWaits", "Waiting for the pictures.")
    if not form.decision():
        if covered:
            return tr("SignWaits", "This plan is sealed. Choose again only to add another decision.")
        return tr("SignWaits", "Choose approved or rejected.")
    if form.decision() == "APPROVED":
        still = len(open_findings(case, review.findings))
        if still:
            one = tr("SignWaits", "1 finding must be mended or answered before approval.")
            many = tr("SignWaits", "{} findings must be mended or answered before approval.").format(still)
            return one if still == 1 else many
        if unseen:
            one = tr("SignWaits", "1 picture was not opened yet.")
            return one if unseen == 1 else tr("SignWaits", "{} pictures were not opened yet.").format(unseen)
    if not form.reviewer.text().strip() or not form.role.currentText().strip():
        return tr("SignWaits", "Give your name and role.")
    if len(form.passphrase.text()) < MIN_PASSPHRASE:
        return tr("SignWaits", "Give a passphrase of at least {} characters.").format(MIN_PASSPHRASE)
    return ""
