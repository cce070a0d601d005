"""Two volumes, or two observers, side by side in numbers: what to compare, how alike it is, where it differs most."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QModelIndex, QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.core.tokens import SMALL_PX, tabular
from app.models.pair_table import DICE, MEAN, P95, Pair, PairTable
from app.models.pair_table import NAME as PAIR_NAME
from app.panels.number_box import NumberBox
from app.panels.tables import set_widths, table_of
from engine.volumes.volume import Volume

HIGH_PX = 112


class Comparison(QWidget):
    """The form of a comparison and its numbers.

    Signals
    -------
    changed() : other volumes or another tolerance were chosen
    read_wanted()   drop_wanted() : another observer's structure set
    slice_wanted()   place_wanted() : go where the two differ most
    take_wanted() : make the observer's volume one of the case
    """

    changed = Signal()
    read_wanted = Signal()
    drop_wanted = Signal()
    slice_wanted = Signal()
    place_wanted = Signal()
    take_wanted = Signal()

    def __init__(self, tolerance_mm: float) -> None:
        super().__init__()
        self.first, self.second = QComboBox(), QComboBox()
        self.first.setAccessibleName(self.tr("First volume, A"))
        self.second.setAccessibleName(self.tr("Second volume, B"))
        self.second.setToolTip(self.tr("A volume of this case, or of the structure set read as another observer"))
        for box in (self.first, self.second):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
            box.activated.connect(lambda _: self.changed.emit())
        self.read = QPushButton(self.tr("Other observer\u2026"))
        self.read.setToolTip(self.tr("Read a structure set of these images as another observer's; the case stays as it is"))
        self.drop = QPushButton(self.tr("Leave out"))
        self.drop.setToolTip(self.tr("Compare with the other observer no longer"))
        self.tolerance = NumberBox()
        self.tolerance.setRange(0.0, 50.0)
        self.tolerance.setSingleStep(0.5)
        self.tolerance.setDecimals(1)
        self.tolerance.setValue(tolerance_mm)
        self.tolerance.setSuffix(self.tr(" mm"))
        self.tolerance.setKeyboardTracking(False)
        self.tolerance.setAccessibleName(self.tr("Tolerance"))
        self.tolerance.setToolTip(self.tr("How far apart surfaces and lines count as the same"))
        self.observer = QLabel()
        self.observer.setObjectName("quiet")
        self.observer.setWordWrap(True)
        self.model = PairTable()
        self.table = table_of(self.model, self.tr("Pairs of volumes, least alike first"), PAIR_NAME)
        self.table.setEditTriggers(QTableView.EditTrigger.NoEditTriggers)
        self.table.setFixedHeight(HIGH_PX)
        set_widths(self.table, {DICE: "00.0000", MEAN: "000.000", P95: "000.000"})
        self.state = QLabel()
        self.state.setWordWrap(True)
        self.state.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.worst_slice = QPushButton(self.tr("Worst slice"))
        self.worst_slice.setToolTip(self.tr("The slice with the largest area that only one of the two holds"))
        self.worst_place = QPushButton(self.tr("Worst place"))
        self.worst_place.setToolTip(self.tr("The place of the largest distance between the surfaces"))
        self.take = QPushButton(self.tr("Take B over"))
        self.take.setToolTip(self.tr("Add the observer's volume to the case as a new one; undo takes it back"))
        self._lay()
        self.read.clicked.connect(self.read_wanted)
        self.drop.clicked.connect(self.drop_wanted)
        self.tolerance.valueChanged.connect(lambda _: self.changed.emit())
        self.worst_slice.clicked.connect(self.slice_wanted)
        self.worst_place.clicked.connect(self.place_wanted)
        self.take.clicked.connect(self.take_wanted)
        self.table.selectionModel().currentRowChanged.connect(self._row)
        self.show_observer("", 0, ())
        self.show_likeness(None, "")

    def _lay(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(8)
        row = QHBoxLayout()
        row.setSpacing(8)
        for letter, box, share in (("A", self.first, 5), ("B", self.second, 6)):
            row.addWidget(QLabel(letter))
            row.addWidget(box, share)
        column.addLayout(row)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.read)
        row.addStretch(1)
        within = QLabel(self.tr("within"))
        within.setToolTip(self.tolerance.toolTip())
        row.addWidget(within)
        row.addWidget(self.tolerance)
        column.addLayout(row)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.observer, 1)
        row.addWidget(self.drop, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(row)
        column.addWidget(self.table)
        row = QHBoxLayout()
        row.setSpacing(8)
        for button in (self.worst_slice, self.worst_place, self.take):
            row.addWidget(button, 1)
        column.addLayout(row)
        # Words in the very place of the numbers, so that nothing moves at every edit.
        self._place = QStackedWidget()
        self._place.setProperty("plain", True)
        self._place.addWidget(self._grid())
        self._place.addWidget(self.state)
        column.addWidget(self._place)
        column.addStretch(1)

    def _grid(self) -> QWidget:
        """Return the numbers, two a row, each with its definition as a tip."""
        self.numbers: dict[str, QLabel] = {}
        numbers = QWidget()
        numbers.setProperty("plain", True)
        grid = QGridLayout(numbers)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(1, 1)
        grid.setColumnMinimumWidth(2, 8)
        grid.setColumnStretch(4, 1)
        for i, (key, words, tip) in enumerate(self._rows()):
            label, value = QLabel(words), QLabel()
            label.setObjectName("quiet")
            value.setFont(tabular(value.font(), SMALL_PX))
            value.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            value.setAccessibleName(words)
            for widget in (label, value):
                widget.setToolTip(tip)
            self.numbers[key] = value
            wide = i >= 6
            row = i // 2 if not wide else i - 3
            grid.addWidget(label, row, 0 if wide else 3 * (i % 2))
            grid.addWidget(value, row, 1 if wide else 3 * (i % 2) + 1, 1, 4 if wide else 1)
        return numbers

    def _rows(self) -> tuple[tuple[str, str, str], ...]:
        return (
            ("dice", self.tr("Dice"), self.tr("2 |A and B| / (|A| + |B|): 1 is the same, 0 nothing in common")),
            ("jaccard", self.tr("Jaccard"), self.tr("|A and B| / |A or B|")),
            (
                "mean",
                self.tr("Mean"),
                self.tr("Mean distance of the surfaces: over A's surface to B's, the other way round, the mean of both"),
            ),
            (
                "p95",
                self.tr("95 %"),
                self.tr("95 % of a surface lie nearer to the other than this; the larger of both ways (Hausdorff 95 %)"),
            ),
            ("largest", self.tr("Largest"), self.tr("Largest distance of the surfaces either way (Hausdorff)")),
            (
                "surface",
                self.tr("Surface Dice"),
                self.tr("Share of both surfaces that lies within the tolerance of the other one"),
            ),
            ("volumes", self.tr("Volumes"), self.tr("Of A and of B, and how much larger or smaller than A it is")),
            (
                "path",
                self.tr("Added path"),
                self.tr("Length of B's lines further than the tolerance from A's on the same slice, of their whole length: "
                        "what would be drawn anew to correct A to B"),
            ),
            (
                "shift",
                self.tr("Shift"),
                self.tr("Centre of B less that of A: + is left (x), back (y) and head (z) of the patient"),
            ),
        )  # fmt: skip

    # what there is to choose

    def show_volumes(self, mine: Sequence[Volume], theirs: Sequence[Volume], theirs_name: str) -> None:
        """Offer volumes of the case and of the other observer; what was chosen stays chosen."""
        for box, groups in ((self.first, ((mine, ""),)), (self.second, ((mine, ""), (theirs, theirs_name)))):
            held = box.currentData()
            with QSignalBlocker(box):
                box.clear()
                for volumes, name in groups:
                    for v in volumes:
                        box.addItem(self.tr("{} \u00b7 {}").format(v.name, name) if name else v.name, v.key)
                box.setCurrentIndex(box.findData(held) if held is not None else -1)

    def choose(self, first: str, second: str) -> None:
        """Choose volumes by key; what is not there leaves the choice empty."""
        for box, key in ((self.first, first), (self.second, second)):
            with QSignalBlocker(box):
                box.setCurrentIndex(box.findData(key))

    @property
    def chosen(self) -> tuple[str, str]:
        """Keys of A and B, "" for none."""
        return self.first.currentData() or "", self.second.currentData() or ""

    def show_observer(self, name: str, pairs: int, alone: Sequence[str]) -> None:
        """Say whose structure set is compared, how many pairs there are, and which volumes have no partner."""
        words = ""
        if name:
            words = self.tr("{}: {} volumes of the same name.").format(name, pairs)
            if alone:
                words = self.tr("{} Without a partner: {}.").format(words, ", ".join(alone))
        self.observer.setText(words)
        for widget in (self.observer, self.drop, self.table):
            widget.setVisible(bool(name))

    def show_pairs(self, pairs: list[Pair]) -> None:
        """Show the pairs, least alike first, with the chosen one marked."""
        with QSignalBlocker(self.table.selectionModel()):
            self.model.show(pairs)
            rows = [i for i, p in enumerate(self.model.pairs) if (p.first.key, p.second.key) == self.chosen]
            if rows:
                self.table.selectRow(rows[0])
            else:
                self.table.clearSelection()
        self.table.viewport().update()

    def _row(self, now: QModelIndex, before: QModelIndex) -> None:
        if now.isValid() and now.row() < len(self.model.pairs):
            pair = self.model.pairs[now.row()]
            self.choose(pair.first.key, pair.second.key)
            self.changed.emit()

    def show_likeness(self, found: Any, words: str, take: bool = False) -> None:
        """Show the numbers of a Likeness, or in their place words that say why there are none."""
        self.state.setText(words)
        self._place.setCurrentIndex(1 if words else 0)
        self.worst_slice.setEnabled(found is not None and found.worst_plane is not None)
        self.worst_place.setEnabled(found is not None and bool(found.largest_mm))
        self.take.setEnabled(take)
        if found is None:
            return
        more = 100 * (found.second_cm3 / found.first_cm3 - 1) if found.first_cm3 > 0 else None
        shift = found.shift_mm
        texts = {
            "dice": f"{found.dice:.3f}",
            "jaccard": f"{found.jaccard:.3f}",
            "volumes": self.tr("{:.2f} and {:.2f} cm\u00b3").format(found.first_cm3, found.second_cm3)
            + (f", {more:+.1f} %" if more is not None else ""),
            "mean": _mm(found.mean_mm),
            "p95": _mm(found.p95_mm),
            "largest": _mm(found.largest_mm),
            "surface": "\u2013" if found.surface_dice is None else f"{found.surface_dice:.3f}",
            "path": self.tr("{:.0f} of {:.0f} mm").format(found.added_path_mm, found.path_mm),
            "shift": "\u2013" if shift is None else "x {:+.1f}  y {:+.1f}  z {:+.1f} mm".format(*shift),
        }
        for key, text in texts.items():
            self.numbers[key].setText(text.replace("-", "\u2212"))


def _mm(value: float | None) -> str:
    return "\u2013" if value is None else f"{value:.2f} mm"
