"""The frame around the stage: what stands left, right, under or in place of it, and how large each part is."""

from __future__ import annotations

import shiboken6
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QApplication, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from app.core.settings import Settings
from app.panels.empty_page import EmptyPage
from app.stations.station import Station
from app.views.linked_views import Stage

SIDE_PX, BOTTOM_PX = 300, 270


def takes_focus(widget: QWidget) -> bool:
    """Whether the Tab key would stop at a widget now."""
    return widget.isVisible() and widget.isEnabled() and bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)


class Place(QStackedWidget):
    """One part of the frame: as large as the widget in front needs it, whatever the others would like."""

    def sizeHint(self) -> QSize:
        widget = self.currentWidget()
        return widget.sizeHint() if widget is not None else super().sizeHint()

    def minimumSizeHint(self) -> QSize:
        widget = self.currentWidget()
        return widget.minimumSizeHint().expandedTo(widget.minimumSize()) if widget is not None else QSize(0, 0)


class Frame(QWidget):
    """Places a station's widgets; sizes are remembered for each station."""

    def __init__(self, settings: Settings, stage: Stage) -> None:
        super().__init__()
        self._settings, self._stage = settings, stage
        self._name = ""
        self.left, self.right, self.bottom, self.middle = (Place() for _ in range(4))
        self.middle.addWidget(stage)
        self.empty = EmptyPage()
        self.middle.addWidget(self.empty)
        self.upright = QSplitter(Qt.Orientation.Vertical)
        self.upright.addWidget(self.middle)
        self.upright.addWidget(self.bottom)
        self.upright.setStretchFactor(0, 1)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        self.across.addWidget(self.left)
        self.across.addWidget(self.upright)
        self.across.addWidget(self.right)
        self.across.setStretchFactor(1, 1)
        for splitter in (self.upright, self.across):
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.across)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._focus_moved)

    def parts(self) -> tuple[QWidget, ...]:
        """Return the parts the keyboard goes through."""
        middle = self.middle.currentWidget()
        return (self.left, middle if middle is not None else self._stage, self.bottom, self.right)

    def show_station(self, station: Station) -> None:
        """Put a station's widgets in their places."""
        self.keep_sizes()
        focus = QApplication.focusWidget()
        before = self._name, self._shape()
        self._name = station.name
        for place, widget in (
            (self.left, station.left()),
            (self.right, station.right()),
            (self.bottom, station.bottom()),
        ):
            if widget is not None:
                if place.indexOf(widget) < 0:
                    place.addWidget(widget)
                place.setCurrentWidget(widget)
                place.updateGeometry()
            place.setVisible(widget is not None)
        centre = station.centre() or (self._stage if self._stage.image is not None else self._empty_page(station))
        if self.middle.indexOf(centre) < 0:
            self.middle.addWidget(centre)
        self.middle.setCurrentWidget(centre)
        self.middle.updateGeometry()
        if before != (self._name, self._shape()):
            self._take_sizes(station)
        if focus is not None and self.isAncestorOf(focus) and not focus.isVisible():
            self._take_keyboard()

    def _focus_moved(self, old: QWidget | None, new: QWidget | None) -> None:
        """Keep the keyboard in the station: when what had it is hidden, Qt hands it to any neighbour, the rail for one."""
        if old is None or not shiboken6.isValid(old) or old.isVisible() or not self.isAncestorOf(old):
            return
        if new is None or not self.isAncestorOf(new):
            self._take_keyboard()

    def _take_keyboard(self) -> None:
        """Give the keyboard to the stage, or else to the first of the middle, left and right that takes it."""
        places = [p.currentWidget() for p in (self.middle, self.left, self.right)]
        for widget in (self._stage.main, *(w for p in places if p is not None for w in p.findChildren(QWidget))):
            if takes_focus(widget):
                widget.setFocus()
                return

    def _empty_page(self, station: Station) -> QWidget:
        self.empty.show_words(station.title, station.empty_words())
        return self.empty

    def _shape(self) -> str:
        """Sizes are kept per set of visible parts: three panels and one panel have nothing in common."""
        return "".join("1" if p.isVisibleTo(self) else "0" for p in (self.left, self.right, self.bottom))

    def keep_sizes(self) -> None:
        """Remember the sizes of the station that stands here."""
        if self._name and self.isVisible():
            key = f"{self._name}/{self._shape()}"
            self._settings.keep_sizes(f"{key}/across", self.across.saveState())
            self._settings.keep_sizes(f"{key}/upright", self.upright.saveState())

    def _take_sizes(self, station: Station) -> None:
        key = f"{station.name}/{self._shape()}"
        across, upright = self._settings.sizes(f"{key}/across"), self._settings.sizes(f"{key}/upright")
        if across.isEmpty() or not self.across.restoreState(across):
            wide = getattr(station, "side_px", SIDE_PX)
            left = wide if self.left.isVisibleTo(self) else 0
            right = getattr(station, "right_px", wide) if self.right.isVisibleTo(self) else 0
            self.across.setSizes([left, max(max(self.width(), 1000) - left - right, 300), right])
        if upright.isEmpty() or not self.upright.restoreState(upright):
            share = getattr(station, "bottom_px", BOTTOM_PX)
            self.upright.setSizes([max(self.height() - share, 300), share])
