"""Who and what the open case is."""

from __future__ import annotations

from PySide6.QtWidgets import QFormLayout, QLabel, QVBoxLayout, QWidget

from engine.case.case import Case


class CaseFacts(QWidget):
    """Patient and image facts of the case, as read."""

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.name = QLabel()
        self.name.setObjectName("heading")
        self.name.setWordWrap(True)
        column.addWidget(self.name)
        self.form = QFormLayout()
        self.form.setHorizontalSpacing(12)
        self.form.setVerticalSpacing(4)
        column.addLayout(self.form)

    def show_case(self, case: Case | None) -> None:
        """Show the facts of a case."""
        while self.form.rowCount():
            self.form.removeRow(0)
        self.name.setText("")
        if case is None:
            return
        patient, image = case.patient, case.image
        self.name.setText(patient.name.replace("^", " ").strip() or self.tr("No name"))
        planes, rows, columns = image.grid.shape
        sx, sy, sz = image.grid.spacing_mm
        facts = [
            (self.tr("Patient"), self.tr("synthetic, no person was imaged") if patient.synthetic else ""),
            (self.tr("Identity"), patient.patient_id),
            (self.tr("Born"), patient.birth_date),
            (self.tr("Sex"), patient.sex),
            (self.tr("Image"), image.description),
            (self.tr("Position"), image.patient_position),
            (self.tr("Slices"), self.tr("{}, {:g} mm apart").format(planes, sz)),
            (self.tr("Pixels"), self.tr("{} \u00d7 {}, {:.3g} \u00d7 {:.3g} mm").format(columns, rows, sx, sy)),
            *((k[:1].upper() + k[1:], v) for k, v in image.scanner),
        ]
        for word, value in facts:
            if value:
                quiet, text = QLabel(word), QLabel(value)
                quiet.setObjectName("quiet")
                text.setWordWrap(True)
                self.form.addRow(quiet, text)
