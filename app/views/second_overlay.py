"""The second image on the stage: what is shown of it, its keys, its layers and its row of controls."""

from __future__ import annotations

import math
from typing import Any

from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent

from app.core.settings import Settings
from app.core.workspace import Workspace
from app.views.second_layers import STEP, CurtainLayer, SecondLayer
from engine.case.second_images import without_second_image
from engine.image.second_image import SecondImage

Point = tuple[float, float, float]


class SecondOverlay(QObject):
    """One in the window, whatever the station.

    Attributes
    ----------
    image : the second image in front, or None
    shown : whether it is drawn
    blend : 0 (planning CT) to 1 (second image)
    curtain, at : whether it is drawn only right of a line, and where that stands, as a share of the width
    """

    def __init__(self, stage: Any, bar: Any, workspace: Workspace, settings: Settings) -> None:
        super().__init__(stage)
        self.stage, self.workspace, self.settings = stage, workspace, settings
        self.image: SecondImage | None = None
        self.shown = False
        self.blend, self.curtain = settings.get("second/blend") / 100, settings.get("second/curtain")
        self.at = settings.get("second/curtain_at")
        self._windows: dict[str, tuple[float, float]] = {}
        self._layer, self._line = SecondLayer(self), CurtainLayer(self)
        stage.add_layer(self._layer)
        stage.add_layer(self._line)
        stage.readouts.append(self._readout)
        stage.key_listeners.append(self._key)
        stage.shift_second = self.shift_window
        self.bar = bar
        stage.layout().addWidget(self.bar)  # below the dark stage and its line: the controls are of the theme
        self.bar.shown_wanted.connect(self.set_shown)
        self.bar.chosen.connect(self.choose)
        self.bar.blend_wanted.connect(self.set_blend)
        self.bar.curtain_wanted.connect(self.set_curtain)
        self.bar.window_wanted.connect(self.set_window)
        self.bar.removal_wanted.connect(self.remove)
        workspace.case_changed.connect(self._case_changed)

    @property
    def images(self) -> tuple[SecondImage, ...]:
        """All second images of the case."""
        return self.workspace.case.second_images if self.workspace.case is not None else ()

    @property
    def window(self) -> tuple[float, float]:
        """The values shown darkest and brightest."""
        if self.image is None:
            return 0.0, 1.0
        if self.image.key not in self._windows:
            self._windows[self.image.key] = self.image.usual_window
        return self._windows[self.image.key]

    def curtain_px(self, view: Any) -> float:
        """Return where the curtain stands in a view."""
        return float(self.at * view.width())

    # what can be asked of it

    def choose(self, key: str) -> None:
        """Bring one of the second images to the front and show it."""
        self.image = next((i for i in self.images if i.key == key), None)
        self.shown = self.image is not None
        self._show()

    def set_shown(self, shown: bool) -> None:
        """Show the second image, or the planning CT alone."""
        self.shown = shown
        self._show()

    def set_blend(self, blend: float) -> None:
        """Choose how much of the second image is seen, 0 to 1; asking for it shows it."""
        self.blend, self.shown = min(max(blend, 0.0), 1.0), True
        self.settings.set("second/blend", round(100 * self.blend, 3))
        self._show()

    def set_curtain(self, on: bool) -> None:
        """Draw the curtain or take it away; asking for it shows the second image."""
        self.curtain, self.shown = on, self.shown or on
        self.settings.set("second/curtain", on)
        self._show()

    def set_at(self, share: float) -> None:
        """Move the curtain."""
        self.at = min(max(share, 0.0), 1.0)
        self.settings.set("second/curtain_at", self.at)
        self._show()

    def set_window(self, low: float, high: float) -> None:
        """Choose the values shown darkest and brightest; they never meet."""
        if self.image is not None:
            least = 0.1 if self.image.unit == "SUV" else 1.0
            self._windows[self.image.key] = (low, max(high, low + least))
            self._show()

    def shift_window(self, moved: QPointF) -> None:
        """Drag the window: up and down moves both ends, sideways sets them apart."""
        low, high = self.window
        pace = max((high - low) / 300, 0.01)
        level, width = (low + high) / 2 + moved.y() * pace, max(high - low + moved.x() * pace, 2 * pace)
        self.set_window(level - width / 2, level + width / 2)

    def remove(self) -> None:
        """Take the image in front out of the case, as one step that can be undone."""
        if self.image is not None and self.workspace.case is not None:
            words = self.tr("Remove second image {}").format(self.image.name)
            self.workspace.edit(words, without_second_image(self.workspace.case, self.image.key))

    # following

    def _case_changed(self, before: Any, after: Any) -> None:
        had = before.second_images if before is not None else ()
        images = self.images
        if images is had or (not images and not had and self.image is None):
            return
        same_patient = before is not None and after is not None and before.image is after.image
        new = [i for i in images if not any(i is h for h in had)]
        if same_patient and new:
            self.image, self.shown = new[-1], True
        elif self.image is None or not any(self.image is i for i in images):
            self.image, self.shown = (images[-1] if images else None), False
        self._layer.forget()
        self._show()

    def _show(self) -> None:
        self.bar.show_state(self, self.images)
        self._layer.refresh()
        self.stage.tell_again()

    def _key(self, view: Any, event: QKeyEvent) -> bool:
        if self.image is None:
            return False
        keys = Qt.Key
        key, modifiers = event.key(), event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if modifiers == Qt.KeyboardModifier.ShiftModifier and self.curtain and key in (keys.Key_Left, keys.Key_Right):
            self.set_at(self.at + (STEP if key == keys.Key_Right else -STEP))
        elif modifiers != Qt.KeyboardModifier.NoModifier:
            return False
        elif key == keys.Key_X:
            self.set_shown(not self.shown)
        elif key == keys.Key_C:
            self.set_curtain(not self.curtain)
        elif key in (keys.Key_K, keys.Key_L):
            self.set_blend(self.blend + (0.1 if key == keys.Key_L else -0.1))
        else:
            return False
        return True

    def _readout(self, point: Point) -> str:
        if self.image is None or not self.shown:
            return ""
        value = self.image.value_at(point)
        kind = {"PT": "PET"}.get(self.image.modality, self.image.modality)
        if math.isnan(value):
            return self.tr("{} \u2013").format(kind)
        return f"{kind} {value:.{2 if self.image.unit == 'SUV' else 0}f} {self.image.unit}".rstrip()
