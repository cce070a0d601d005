"""What tells on the stage and in the DVH that a sum of drafts is shown, and in which quantity."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QWidget

from app.core.sum_titles import fitted_title
from app.core.tokens import SMALL_PX, colour, tabular
from app.views.dvh_plot import DvhPlot
from app.views.layer import Layer

TOP_PX, SMALL_TOP_PX = 26.0, 54.0  # below the words in the corners
TINY_LINES = 2.5  # of the title there
TINY_PX = 210  # smaller planes have room for the title only; the large one says the quantity


def _tr(text: str) -> str:
    return QCoreApplication.translate("SumStage", text)


class SumWordsLayer(Layer):
    """Writes "sum of A and B" and the quantity over every plane while a sum is shown."""

    z = 92
    live = True

    def __init__(self) -> None:
        self.plan: Any = None  # the SumPlan that is shown, or None

    def shown_in(self, view: Any) -> bool:
        return self.plan is not None and self.plan.now is not None

    def paint(self, painter: QPainter, view: Any) -> None:
        tiny = view.width() < TINY_PX
        painter.setFont(tabular(painter.font(), SMALL_PX, strong=not tiny))
        metrics = QFontMetricsF(painter.font())
        room = view.width() - 24.0
        wanted = list(self.quantity(view.large)) if not tiny else []
        if view.large and metrics.horizontalAdvance("; ".join(wanted)) <= room:
            wanted = ["; ".join(wanted)]
        # On a tiny plane the title goes over several lines, but leaves room to see the plane.
        title = fitted_title(self.plan, metrics, room * TINY_LINES if tiny else room)
        text = "\n".join([title, *(metrics.elidedText(w, Qt.TextElideMode.ElideRight, room) for w in wanted)])
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        size = metrics.boundingRect(QRectF(0, 0, room, 1000), int(flags), text)
        box = QRectF(0, TOP_PX if view.large else SMALL_TOP_PX, size.width() + 14, size.height() + 6)
        box.moveLeft((view.width() - box.width()) / 2)
        painter.setPen(QPen(colour("stage_accent"), 1))
        painter.setBrush(colour("stage_ground", 225))
        painter.drawRoundedRect(box, 4, 4)
        painter.setPen(colour("stage_text"))
        painter.drawText(box, int(flags), text)

    def quantity(self, large: bool) -> tuple[str, ...]:
        """Return what is shown on a large or small plane; 100 % are the prescriptions added."""
        if not large:
            return (self.plan.short_words(),)
        return self.plan.picture_words(), _tr("100 % = {0} Gy").format(f"{self.plan.reference_gy:.1f}")


class SumDvhPlot(DvhPlot):
    """The DVH of a sum; doses carry their quantity, EQD2 also the alpha/beta of the volume."""

    def __init__(self, plan: Any, parent: QWidget | None = None) -> None:
        super().__init__(plan, parent)
        self.setAccessibleName(self.tr("Dose-volume histogram of a sum of drafts"))

    def unit(self, key: str) -> tuple[str, str]:
        if not self.follower.in_eqd2:
            return super().unit(key)
        return self.tr("Gy EQD2"), self.tr("EQD2: {0}").format(self.follower.alpha_beta_words(key))

    def _quantity(self) -> str:
        if self.follower.in_eqd2:
            return self.tr("EQD2 in % of prescription") if self.prescribed_gy else self.tr("EQD2 in Gy")
        return self.tr("physical dose in % of prescription") if self.prescribed_gy else self.tr("physical dose in Gy")

    def headline(self, metrics: QFontMetricsF | None = None, room: float = 0.0) -> str:
        return fitted_title(self.follower, metrics, room) if metrics is not None else str(self.follower.title())
