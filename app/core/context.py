"""What stations and panels are given: nothing reaches for a global."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from app.core.jobs import JobRunner
from app.core.messages import Messages
from app.core.settings import Settings
from app.core.workspace import Workspace


@dataclass
class Context:
    """The parts of the window that stations and panels work with.

    workspace, jobs, settings, messages : of this window
    stage : the shared Stage (app.views.linked_views)
    wings : a hidden widget of the window; it owns the widgets of the stations until the frame gives them a place
    keeper : the open case file's Keeper, or None
    derived : makes derived volumes again (app.core.derived.DerivedVolumes)
    go : go("outline") enters a station
    open_case : put a new Case into a file of its own and show it
    open_path : open a case file, or look for images in a folder
    refresh_states : ask only for the lines of state on the rail
    refresh : ask the window to read left(), right(), bottom(), centre(), state_line() of the stations again
    """

    workspace: Workspace
    jobs: JobRunner
    settings: Settings
    messages: Messages
    stage: Any = None
    wings: Any = None
    keeper: Any = None
    derived: Any = None
    go: Callable[[str], None] = lambda name: None
    refresh: Callable[[], None] = lambda: None
    refresh_states: Callable[[], None] = lambda: None
    open_case: Callable[[Any], None] = lambda case: None
    open_path: Callable[[Any], None] = lambda path: None
