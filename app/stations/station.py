"""What a station is.

To add one: write ``app/stations/<name>.py`` with a class derived from ``Station`` and add one line to STATIONS. The
module is imported when the station is first wanted; a station whose module does not exist is absent.

The window asks ``left()``, ``right()``, ``bottom()`` and ``centre()`` when the station is entered, when the case appears
or goes, and after ``context.refresh()``. Each returns a widget (always the same one) or None for "nothing there".
``centre()`` stands in place of the stage; None leaves the stage. ``panels()`` names them all, so that those which never
get a place go with the window as well.
"""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QObject
from PySide6.QtWidgets import QWidget

from app.core.context import Context

STATIONS: tuple[tuple[str, str], ...] = (
    ("app.stations.intake", QT_TRANSLATE_NOOP("Station", "Intake")),
    ("app.stations.outline", QT_TRANSLATE_NOOP("Station", "Outline")),
    ("app.stations.aim", QT_TRANSLATE_NOOP("Station", "Aim")),
    ("app.stations.weigh", QT_TRANSLATE_NOOP("Station", "Weigh")),
    ("app.stations.sign", QT_TRANSLATE_NOOP("Station", "Sign")),
)


class Station(QObject):
    """One stop of the work: which panels stand around the stage and which tool is in the hand.

    Attributes
    ----------
    name : how ``context.go(name)`` calls it
    title : the word on the rail
    context : what the station works with
    """

    name = ""
    title = ""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context

    def left(self) -> QWidget | None:
        """Return what stands left of the stage."""
        return None

    def right(self) -> QWidget | None:
        """Return what stands right of the stage."""
        return None

    def bottom(self) -> QWidget | None:
        """Return what stands under the stage."""
        return None

    def centre(self) -> QWidget | None:
        """Return what stands in place of the stage."""
        return None

    def panels(self) -> tuple[QWidget, ...]:
        """Return every widget that may ever stand left, right, under or in place of the stage."""
        return ()

    def empty_words(self) -> str:
        """Return what is done here, for the page that stands in place of the stage while no patient is open."""
        return ""

    def enter(self) -> None:
        """The station comes to the front: add layers, take up a tool."""

    def leave(self) -> None:
        """Another station comes to the front: remove layers, put the tool away."""

    def tells(self, kind: str) -> bool:
        """Whether this station itself shows what a job of `kind` was refused for, so that the strip need not repeat it."""
        return False

    def state_line(self) -> str:
        """Return the few words under the title on the rail."""
        return ""

    def actions(self) -> list[object]:
        """Return QActions for the menu "Do" while the station is in front."""
        return []


class Shelf:
    """The stations that exist, in the order of the work; each is made when it is first wanted."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._known = {m.rpartition(".")[2]: (m, kind) for m, kind in STATIONS if find_spec(m)}
        self._made: dict[str, Station] = {}

    def names(self) -> list[tuple[str, str]]:
        """Return (name, title) of every station."""
        return [(n, QCoreApplication.translate("Station", kind)) for n, (_, kind) in self._known.items()]

    def modules(self) -> list[str]:
        """Return the modules of the stations."""
        return [module for module, _ in self._known.values()]

    def get(self, name: str) -> Station | None:
        """Return a station, made now if need be; None if there is none of this name."""
        if name not in self._known:
            return None
        if name not in self._made:
            module, kind = self._known[name]
            station = self._made[name] = getattr(import_module(module), kind)(self._context)
            for widget in station.panels():
                # Qt keeps a widget without a parent among the top-level ones, styled with every theme, past its window.
                widget.setParent(self._context.wings)
        return self._made[name]

    def made(self) -> list[Station]:
        """Return the stations made so far."""
        return list(self._made.values())
