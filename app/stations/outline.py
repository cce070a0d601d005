"""Outline: paint volumes, work on them, see what is wrong with them."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget

from app.core.context import Context
from app.core.guard import Guard
from app.core.handover import Handover
from app.core.looks import show_all, show_alone
from app.panels.comparison import Comparison
from app.panels.front_tabs import FrontTabs
from app.panels.pane import Pane
from app.panels.recipe_row import RecipeRow
from app.panels.release_bar import ReleaseBar
from app.panels.shared_column import SharedColumn
from app.panels.volume_findings import VolumeFindings
from app.panels.volume_list import VolumeList
from app.panels.volume_operations import VolumeOperations
from app.panels.volume_tools import LOOK, VolumeTools
from app.stations.comparing import TOLERANCE, Comparing
from app.stations.operations import Operations
from app.stations.station import Station
from app.stations.volume_checks import VolumeChecks
from app.tools.brush import Brush, Eraser
from app.tools.edge_trace import EdgeTrace
from app.tools.freehand import Freehand
from app.tools.guard_layer import DerivedLayer, GuardLayer
from app.tools.nudge import Nudge
from app.tools.polygon import Polygon
from app.tools.range_brush import RangeBrush
from app.tools.region_grow import RegionGrow
from app.tools.tool import Tool
from engine.case.case import Case
from engine.volumes.evidence import Evidence

TOOLS: tuple[type[Tool], ...] = (Brush, Eraser, Freehand, Polygon, RangeBrush, RegionGrow, EdgeTrace, Nudge)

STRIDE = 3  # slices that , and . walk: what lies between is filled by a key


class Outline(Station):
    """The physician's station."""

    name = "outline"
    right_px = 372

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.title = self.tr("Outline")
        self.guard = Guard(context.workspace, self)
        self.tools = {kind.name: kind(context, self.guard) for kind in TOOLS}
        self._held = LOOK
        self._front = False
        self.list = VolumeList(context.workspace, context.settings)
        self.handover = Handover(context.workspace, context.messages)
        self.release = ReleaseBar(context.workspace, self.handover, self.list)
        self.list.head.addWidget(self.release, 1)
        self.recipe = RecipeRow(context.workspace, context.derived, self.list)
        self.list.layout().addWidget(self.recipe)  # type: ignore[union-attr]
        self.column = VolumeTools(context.settings, self.guard, context.workspace)
        self.form = VolumeOperations()
        self.operations = Operations(context, self.form, self.list)
        self.findings = VolumeFindings(context.settings)
        self.checks = VolumeChecks(context, self.list.model, self.findings)
        self.comparison = Comparison(context.settings.get(TOLERANCE))
        self.comparing = Comparing(context, self.comparison)
        self.tabs = FrontTabs()
        self.tabs.setProperty("plain", True)
        self.tabs.addTab(self.column, self.tr("Tools"))
        self.tabs.addTab(self.form, self.tr("Operations"))
        self.tabs.addTab(self.findings, self.tr("Findings"))
        self.tabs.addTab(self.comparison, self.tr("Compare"))
        self.tabs.row.setAccessibleName(self.tr("Pages of Outline"))
        self.shared = SharedColumn(self.list, self.tabs, context.settings, "outline/pages")
        self._pane = Pane(self.shared, stretch=self.shared)
        self.list.refused.connect(context.messages.warning)
        self.list.go_to.connect(self._go_to)
        self.list.said.connect(context.messages.post)
        self.recipe.refused.connect(context.messages.warning)
        self.handover.changed.connect(lambda: context.refresh_states())
        self.findings.jump_wanted.connect(self._go_to_evidence)
        self.findings.model.modelReset.connect(self._name_findings)
        self.column.chosen.connect(self.take)
        self.tabs.currentChanged.connect(self._tab)
        grow = self.tools["grow"]
        assert isinstance(grow, RegionGrow)
        grow.job.told.connect(self.column.tell_growth)
        self.column.growth.keep_wanted.connect(grow.job.keep)
        self.column.growth.drop_wanted.connect(grow.job.drop)
        self._guard_layer = GuardLayer(self.guard)
        self._derived_layer = DerivedLayer(self.guard)
        self.guard.changed.connect(self._guard_layer.refresh)
        self.guard.changed.connect(self._derived_layer.refresh)
        context.workspace.active_changed.connect(self._derived_layer.look_again)
        context.stage.key_listeners.append(self._key)
        context.workspace.case_changed.connect(self._case_changed)
        self._actions = self._make_actions()

    def panels(self) -> tuple[QWidget, ...]:
        return (self._pane,)

    def right(self) -> QWidget | None:
        return self._pane if self.context.workspace.case is not None else None

    def empty_words(self) -> str:
        return self.tr("Here a physician paints target and organ volumes, slice by slice, and looks after their quality.")

    def enter(self) -> None:
        self._front = True
        self.context.stage.add_layer(self._guard_layer)
        self.context.stage.add_layer(self._derived_layer)
        self._give(self._held)
        self._wake(self.tabs.currentWidget())
        self.checks.look(self.context.workspace.case)

    def leave(self) -> None:
        self._front = False
        self.context.stage.set_tool(None)
        self.context.stage.remove_layer(self._guard_layer)
        self.context.stage.remove_layer(self._derived_layer)
        self._wake(None)

    def state_line(self) -> str:
        case = self.context.workspace.case
        n = len(case.volumes) if case is not None else 0
        marked = self.checks.marked
        if self.handover.state == "lapsed":
            return self.tr("Release lapsed")
        if self.handover.state == "released":
            return self.tr("{} volumes, released").format(n)
        if marked:
            return self.tr("{} volumes, {} marked").format(n, marked)
        if not n:
            return self.tr("no volumes")
        return self.tr("1 volume") if n == 1 else self.tr("{} volumes").format(n)

    def actions(self) -> list[object]:
        return list(self._actions)

    # tools

    def take(self, name: str) -> None:
        """Take up a tool by name ("look": none)."""
        self._held = name
        self.column.show_tool(name)
        if self._front:
            self._give(name)
            if name != LOOK and self.context.workspace.volume is None:
                self.context.messages.info(
                    self.tr("There is no volume to paint yet."), self.tr("New volume"), self.list.make
                )
        self.context.stage.main.setFocus()

    def _give(self, name: str) -> None:
        self.context.stage.set_tool(self.tools.get(name))
        self._guard_layer.refresh()
        self._derived_layer.look_again()

    def _key(self, view: QWidget, event: QKeyEvent) -> bool:
        if not self._front or event.modifiers() not in (Qt.KeyboardModifier.NoModifier,):
            return False
        key = event.text().upper()
        if key == "D":
            return self.column.deepen()
        if key in (",", "."):
            self.context.stage.walk(getattr(view, "axis", "z"), STRIDE if key == "." else -STRIDE)
            return True
        if key == "O":
            self.guard.set(on=not self.guard.on)
            return True
        name = self.column.keys().get(key) if key else None
        if name is None:
            return False
        if name == "eraser" and self._held == "eraser":
            name = "brush"
        self.take(name)
        return True

    def _tab(self, index: int) -> None:
        self._wake(self.tabs.widget(index) if self._front else None)

    def _wake(self, front: QWidget | None) -> None:
        """Let only the page in front work."""
        self.operations.wake(front is self.form)
        self.comparing.wake(front is self.comparison)

    def _go_to(self, key: str) -> None:
        case = self.context.workspace.case
        volume = case.volume(key) if case is not None else None
        middle = volume.coverage.centroid_mm() if volume is not None else None
        if middle is not None:
            self.context.stage.centre_on(middle)

    def _go_to_evidence(self, evidence: Evidence) -> None:
        workspace = self.context.workspace
        workspace.activate(volume=evidence.volume_key)
        workspace.show_volume(evidence.volume_key, True)
        if evidence.point_mm is not None:
            self.context.stage.centre_on(evidence.point_mm)
        else:
            self._go_to(evidence.volume_key)

    def _to_finding(self) -> None:
        self.tabs.setCurrentWidget(self.findings)
        if not self.findings.go_on():
            self.context.messages.info(self.tr("There is nothing to be seen in the volumes."))

    def _name_findings(self) -> None:
        n = len(self.findings.model.rows)
        words = self.tr("Findings ({})").format(n) if n else self.tr("Findings")
        self.tabs.setTabText(self.tabs.indexOf(self.findings), words)

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if before is None or after is None or before.volumes is not after.volumes:
            self.checks.look(after)
            self.context.refresh_states()

    def _make_actions(self) -> list[QAction]:
        out = []
        for words, keys, do in (
            (self.tr("&New volume"), "Ctrl+N", self._new),
            (self.tr("&Fill missing slices"), "Ctrl+I", lambda: self._start("interpolate")),
            (self.tr("Next slice missing a&bove"), "Ctrl+PgUp", lambda: self._to_missing(1)),
            (self.tr("Next slice missing b&elow"), "Ctrl+PgDown", lambda: self._to_missing(-1)),
            (self.tr("Copy from the slice &above"), "Ctrl+Shift+Up", lambda: self._start("copy above")),
            (self.tr("Copy from the slice &below"), "Ctrl+Shift+Down", lambda: self._start("copy below")),
            (self.tr("Copy &to the slice above"), "Ctrl+Shift+PgUp", lambda: self._start("copy up")),
            (self.tr("Copy to the slice belo&w"), "Ctrl+Shift+PgDown", lambda: self._start("copy down")),
            (self.tr("&Margin\u2026"), "Ctrl+M", lambda: self._start("margin")),
            (self.tr("B&ody outline"), "Ctrl+B", lambda: self._start("body")),
            (self.tr("Next f&inding"), "Ctrl+J", self._to_finding),
            (self.tr("&Compare volumes"), "Ctrl+K", lambda: self.tabs.setCurrentWidget(self.comparison)),
            (self.tr("&Show only this volume, or all again"), "Ctrl+Shift+Y", lambda: show_alone(self.context.workspace)),
            (self.tr("Show a&ll volumes"), "Ctrl+Shift+U", lambda: show_all(self.context.workspace)),
            (self.tr("&Hide all volumes"), "Ctrl+Shift+H", lambda: show_all(self.context.workspace, False)),
            (self.tr("&Release for planning\u2026"), "Ctrl+Shift+R", self.release.open_form),
        ):
            action = QAction(words, self)
            action.setShortcut(QKeySequence(keys))
            action.triggered.connect(lambda _=False, f=do: f())
            out.append(action)
        return out

    def _new(self) -> None:
        self.list.make()

    def _to_missing(self, way: int) -> None:
        """Go to the next slice on which the active volume is not painted but is painted on both sides, or to its end."""
        from engine.volumes.outline import missing_planes

        workspace = self.context.workspace
        case, volume = workspace.case, workspace.volume
        if case is None or volume is None or volume.coverage.is_empty:
            return
        here = case.image.grid.plane_at(workspace.cursor_mm[2])
        ahead = [k for k in missing_planes(volume.coverage) if (k - here) * way > 0]
        if not ahead:
            self.context.messages.info(self.tr("No slice of {} is missing in that direction.").format(volume.name))
            return
        self.context.stage.walk("z", (min(ahead) if way > 0 else max(ahead)) - here)

    def _start(self, name: str) -> None:
        self.tabs.setCurrentWidget(self.form)
        self.form.choose(name)
        self.form.want_apply()
