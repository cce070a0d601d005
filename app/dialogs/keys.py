"""Keys and gestures on one page."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.core.caution import caution


class KeysDialog(QDialog):
    """Shows what the hand can do; not modal, so that it can stay open beside the work."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("Keys and gestures"))
        columns = QHBoxLayout()
        columns.setSpacing(32)
        for groups in self._groups():
            column = QVBoxLayout()
            column.setSpacing(8)
            for title, rows in groups:
                head = QLabel(title)
                head.setObjectName("heading")
                column.addWidget(head)
                grid = QGridLayout()
                grid.setHorizontalSpacing(16)
                grid.setVerticalSpacing(4)
                grid.setColumnStretch(1, 1)
                for i, (keys, what) in enumerate(rows):
                    key, words = QLabel(keys), QLabel(what)
                    key.setObjectName("quiet")
                    grid.addWidget(key, i, 0)
                    grid.addWidget(words, i, 1)
                    grid.setRowMinimumHeight(i, key.sizeHint().height())
                column.addLayout(grid)
                column.addSpacing(8)
            column.addStretch(1)
            columns.addLayout(column)
        note = QLabel(caution())
        note.setObjectName("caution")
        note.setWordWrap(True)
        done = QPushButton(self.tr("Close"))
        done.clicked.connect(self.close)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(done)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(24, 24, 24, 16)
        layout.addLayout(columns)
        layout.addLayout(row)
        layout.addWidget(note)

    def _groups(self) -> tuple[tuple[tuple[str, tuple[tuple[str, str], ...]], ...], ...]:
        tr = self.tr
        return (
            (
                (
                    tr("Pictures"),
                    (
                        (tr("Click"), tr("move the cross-hair")),
                        (tr("Wheel, arrow keys"), tr("walk slices")),
                        (tr("Page Up, Page Down"), tr("ten slices")),
                        (tr("Home, End"), tr("first and last slice")),
                        (tr("Ctrl + wheel, + and \u2212"), tr("magnify")),
                        (tr("Drag with the middle button"), tr("move the picture")),
                        (tr("Drag with the right button"), tr("window: level up and down, width sideways")),
                        (tr("1 to 5"), tr("window presets")),
                        (tr("F, double middle click"), tr("fit the pictures")),
                        (tr("Tab"), tr("trade the large picture")),
                        (tr("P, or hold Space"), tr("point probe")),
                        (
                            tr("Ctrl+L, Alt + arrow keys"),
                            tr("dose along a line; its end B moves (with Shift A)"),
                        ),
                        (tr("X, K and L"), tr("second image on or off, less and more of it")),
                        (tr("C, Shift + arrow keys"), tr("its curtain on or off, left and right")),
                        (tr("Ctrl + right button"), tr("window of the second image")),
                        ("O", tr("beam ring on or off, in Aim and Weigh")),
                        ("Ctrl+B", tr("balance weights, in Weigh")),
                    ),
                ),
                (
                    tr("Window"),
                    (
                        (tr("Ctrl+1 to Ctrl+5"), tr("stations")),
                        (tr("F6"), tr("next part of the window")),
                        (tr("F11"), tr("full screen")),
                        ("Ctrl+Z", tr("undo what was typed, then the last step")),
                        ("Ctrl+Shift+Z", tr("redo")),
                    ),
                ),
            ),
            (
                (
                    tr("Tools"),
                    (
                        ("V", tr("look")),
                        (tr("B, E"), tr("brush, eraser (E again: brush)")),
                        ("H, G", tr("freehand, polygon")),
                        ("R, W, T", tr("range brush, region grow, edge trace")),
                        (tr("[ and ], Shift + wheel"), tr("brush radius")),
                        ("D", tr("paint a ball; grow through all slices")),
                        ("O", tr("guard: paint only inside or outside a volume")),
                        (tr(", and ."), tr("three slices towards feet or head")),
                        (tr("Shift"), tr("take away instead of adding")),
                        (tr("Enter, double click"), tr("close a polygon")),
                        (tr("Backspace"), tr("take back the last corner")),
                        (tr("Esc"), tr("give up what is being drawn")),
                    ),
                ),
                (
                    tr("Volumes"),
                    (
                        ("Ctrl+N", tr("new volume")),
                        ("Ctrl+I", tr("fill missing slices")),
                        (tr("Ctrl+Shift+Up, Down"), tr("copy from the slice above, below")),
                        ("Ctrl+M", tr("margin")),
                        ("Ctrl+B", tr("body outline")),
                        (tr("Ctrl+J, Ctrl+K"), tr("next finding, compare volumes")),
                        ("Ctrl+Shift+Y", tr("show only this volume, or all again")),
                        (tr("Ctrl+Shift+U, Ctrl+Shift+H"), tr("show all volumes, hide all")),
                        ("Ctrl+Shift+R", tr("release for planning")),
                        ("F2", tr("write in the marked cell")),
                    ),
                ),
            ),
        )
