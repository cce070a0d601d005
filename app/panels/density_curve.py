"""The CT-number-to-density curve: table and plot."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QHeaderView, QLabel, QPushButton, QTableView, QVBoxLayout, QWidget

from app.core.painting import painting
from app.core.tokens import SMALL_PX, colour, tabular
from app.models.density_table import DensityTable
from engine.image.density import DEFAULT_CURVE, DensityCurve


class CurvePlot(QWidget):
    """Draws a curve: density over CT number."""

    def __init__(self) -> None:
        super().__init__()
        self.curve: DensityCurve | None = None
        self.setMinimumHeight(150)
        self.setAccessibleName(self.tr("Plot of density over CT number"))

    def sizeHint(self) -> QSize:
        return QSize(280, 170)

    def show_curve(self, curve: DensityCurve | None) -> None:
        """Draw another curve."""
        self.curve = curve
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(tabular(self.font(), SMALL_PX))
            if self.curve is None:
                return
            box = QRectF(self.rect()).adjusted(30, 8, -22, -40)
            low, high = min(-1000.0, self.curve.hu[0]), max(1000.0, self.curve.hu[-1])
            top = max(2.0, self.curve.g_cm3[-1] * 1.08)

            def at(hu: float, rho: float) -> QPointF:
                return QPointF(
                    box.left() + (hu - low) / (high - low) * box.width(), box.bottom() - rho / top * box.height()
                )

            flags = Qt.AlignmentFlag
            step = 1000 if high - low <= 5000 else 2000
            for hu in range(int(low // step) * step, int(high) + 1, step):
                if hu >= low:
                    x = at(hu, 0).x()
                    painter.setPen(colour("line"))
                    painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
                    painter.setPen(colour("quiet"))
                    text = f"{hu}".replace("-", "\u2212")
                    painter.drawText(QRectF(x - 30, box.bottom() + 6, 60, 16), flags.AlignCenter, text)
            for rho in range(0, int(top) + 1, 1 if top < 6 else 5):
                y = at(low, rho).y()
                painter.setPen(colour("line"))
                painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
                painter.setPen(colour("quiet"))
                painter.drawText(QRectF(0, y - 8, 24, 16), flags.AlignRight | flags.AlignVCenter, str(rho))
            painter.drawText(QRectF(box.left(), box.bottom() + 22, box.width(), 16), flags.AlignCenter,
                             self.tr("g/cm\u00b3 over CT number, HU"))  # fmt: skip
            points = [at(h, r) for h, r in zip(self.curve.hu, self.curve.g_cm3)]
            points = [QPointF(box.left(), points[0].y()), *points, QPointF(box.right(), points[-1].y())]
            painter.setPen(QPen(colour("accent"), 2))
            painter.drawPolyline(points)
            painter.setBrush(colour("accent"))
            for p in points[1:-1]:
                painter.drawEllipse(p, 3, 3)


class DensityPanel(QWidget):
    """Edits the curve of the case.

    Signals
    -------
    edited(DensityCurve)
    refused(words)
    """

    edited = Signal(object)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        head = QLabel(self.tr("CT number to density"))
        head.setObjectName("heading")
        self.source = QLabel()
        self.source.setObjectName("quiet")
        self.source.setWordWrap(True)
        self.plot = CurvePlot()
        self.model = DensityTable()
        self.table = QTableView()
        self.table.setModel(self.model)
        self.table.setAccessibleName(self.tr("CT numbers and densities"))
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(26)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.setMinimumHeight(160)
        self.add = QPushButton(self.tr("Add a point"))
        self.remove = QPushButton(self.tr("Remove"))
        self.reset = QPushButton(self.tr("Typical curve"))
        self.reset.setToolTip(self.tr("Put the curve back that new cases get"))
        row = QHBoxLayout()
        row.setSpacing(8)
        for b in (self.add, self.remove, self.reset):
            row.addWidget(b)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for w in (head, self.source, self.plot):
            column.addWidget(w)
        column.addWidget(self.table, 1)
        column.addLayout(row)
        self.model.edited.connect(self._edited)
        self.model.refused.connect(self.refused)
        self.add.clicked.connect(lambda: self.model.add_row(self._row()))
        self.remove.clicked.connect(lambda: self.model.remove_row(self._row()))
        self.reset.clicked.connect(lambda: self.edited.emit(DEFAULT_CURVE))

    def show_curve(self, curve: DensityCurve | None) -> None:
        """Show a curve."""
        if curve is not self.model.curve:
            self.model.show(curve)
        self.plot.show_curve(curve)
        self.source.setText(f"{curve.name}: {curve.source}" if curve and curve.source else curve.name if curve else "")

    def _edited(self, curve: DensityCurve) -> None:
        self.plot.show_curve(curve)
        self.edited.emit(curve)

    def _row(self) -> int:
        index = self.table.currentIndex()
        return index.row() if index.isValid() else self.model.rowCount() - 1
