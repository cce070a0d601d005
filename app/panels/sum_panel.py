"""The sum of drafts in words: its courses, whether Gy or EQD2 is read, and the alpha/beta of the pictures."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.core.language import translated
from app.core.sum_plan import SumPlan
from app.core.tokens import colour
from app.panels.number_box import NumberBox


class SumPanel(QWidget):
    """Stands where the weights and the prescription of the active draft are while a sum is shown."""

    def __init__(self, plan: SumPlan) -> None:
        super().__init__()
        self._plan = plan
        self.heading = QLabel(wordWrap=True)
        self.heading.setObjectName("heading")
        rule = QLabel(
            self.tr(
                "A view of these drafts together, no plan: it is not kept, signed or exported, and goes when one of them"
                " changes."
            ),
            wordWrap=True,
        )
        rule.setObjectName("quiet")
        self.courses = QLabel(wordWrap=True, textFormat=Qt.TextFormat.RichText)
        self.courses.setAccessibleName(self.tr("Courses of the sum"))
        self.physical, self.eqd2 = QPushButton(self.tr("Physical dose")), QPushButton(self.tr("EQD2"))
        self.physical.setToolTip(self.tr("The doses of all courses added, in Gy as absorbed"))
        self.eqd2.setToolTip(
            self.tr(
                "Each course in 2 Gy fractions of the same effect, by its own dose per fraction in every voxel; then added"
            )
        )
        group, row = QButtonGroup(self), QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(QLabel(self.tr("Show")))
        for button in (self.physical, self.eqd2):
            button.setCheckable(True)
            group.addButton(button)
            row.addWidget(button, 1)
        self.physical.setChecked(True)
        self.eqd2.toggled.connect(plan.set_eqd2)
        self.picture = NumberBox(decimals=1, minimum=0.1, maximum=100.0, singleStep=0.5, keyboardTracking=False)
        self.picture.setSuffix(self.tr(" Gy"))
        name = QLabel(self.tr("α/β of lines, body"))
        name.setBuddy(self.picture)
        self.picture.setAccessibleName(self.tr("α/β of isodose lines, points and the body"))
        self.picture.setToolTip(
            self.tr("A picture needs one α/β for all it shows; volumes have their own in the table under the stage")
        )
        self.picture.valueChanged.connect(lambda gy: plan.set_alpha_beta("", gy))
        self.source = QLabel()
        self.source.setObjectName("quiet")
        self.source.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)  # never widens the pane
        self.alpha_beta = QWidget()
        self.alpha_beta.setProperty("plain", True)
        second = QHBoxLayout(self.alpha_beta)
        second.setContentsMargins(0, 0, 0, 0)
        second.setSpacing(6)
        second.addWidget(name)
        second.addWidget(self.picture)
        second.addWidget(self.source, 1)
        self.doubt = QLabel(wordWrap=True)
        self.leave = QPushButton(self.tr("Back to the draft"))
        self.leave.setToolTip(self.tr("Leave the sum; the active draft stands as it was"))
        self.leave.clicked.connect(plan.end)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for widget in (self.heading, self.courses):
            column.addWidget(widget)
        column.addLayout(row)
        for widget in (self.alpha_beta, self.doubt, rule, self.leave):
            column.addWidget(widget)
        plan.now_changed.connect(self._show)
        self._show()

    def _show(self, *_: object) -> None:
        plan = self._plan
        self.heading.setText(plan.heading())
        lines = [self._course(name, draft) for name, draft in zip(plan.names, plan.members)]
        if plan.found is None:
            lines.append(self.tr("The doses are being added…"))
        elif not plan.found.one_grid:
            lines.append(self.tr("Other dose grids are read linearly at the points of the finest."))
        self.courses.setText("<br>".join(escape(line) for line in lines))
        self.alpha_beta.setVisible(plan.in_eqd2)
        gy, source = plan.alpha_beta("")
        if not self.picture.hasFocus():
            before = self.picture.blockSignals(True)
            self.picture.setValue(gy)
            self.picture.blockSignals(before)
        self.source.setText(source)
        doubt = translated(plan.found.doubt) if plan.found is not None and plan.in_eqd2 else ""
        self.doubt.setText(f"<span style='color:{colour('warn').name()}'>▲</span>&nbsp; {escape(doubt)}.")
        self.doubt.setVisible(bool(doubt))
        for button in (self.physical, self.eqd2):
            button.setEnabled(plan.found is not None)

    def _course(self, name: str, draft: object) -> str:
        wanted = draft.prescription  # type: ignore[attr-defined]
        case = self._plan.workspace.case
        volume = case.volume(wanted.volume_key) if case is not None and wanted is not None else None
        if wanted is None:
            return name
        words = self.tr("{0}: {1} Gy in {2} × {3} Gy to {4}")
        each = f"{wanted.dose_gy / wanted.fractions:.2f}"
        return words.format(name, f"{wanted.dose_gy:g}", wanted.fractions, each, volume.name if volume else "–")
