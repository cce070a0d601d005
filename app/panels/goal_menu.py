"""The menu of goal sets: what sites usually demand, one's own sets, saving and loading them; and what is in a set."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QMenu,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.core.caution import caution
from app.core.language import translated
from app.core.plan_desk import PlanDesk
from app.core.settings import Settings
from app.models.goal_table import unit_of
from app.models.numbers import shown
from engine.base.errors import UserError
from engine.evaluation import goal_file
from engine.evaluation.goal_file import Demand, GoalSet
from engine.volumes.sets import shipped_sets


class GoalOffer(QDialog):
    """Shows what a set demands and where that is from, and asks whether to add it or to put it in place of the ledger."""

    def __init__(self, wanted: GoalSet, volumes: frozenset[str], ledger: int, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("Goals of {0}").format(wanted.name))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.resize(960, 480)
        self.instead = False
        lead = QLabel(self._lead(wanted, volumes), wordWrap=True)
        self.table = self._table(wanted.demands, volumes)
        self.add = QPushButton(self.tr("Add to the ledger"))
        self.replace = QPushButton(self.tr("Replace the {0} there are").format(ledger))
        self.replace.setVisible(ledger > 0)
        self.add.setDefault(True)
        self.add.clicked.connect(self.accept)
        self.replace.clicked.connect(self._instead)
        leave = QPushButton(self.tr("Cancel"))
        leave.clicked.connect(self.reject)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        for button in (self.add, self.replace, leave):
            buttons.addWidget(button)
        note = QLabel(caution(), wordWrap=True)
        note.setObjectName("caution")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 8)
        column.setSpacing(8)
        column.addWidget(lead)
        column.addWidget(self.table, 1)
        column.addLayout(buttons)
        column.addWidget(note)

    def _lead(self, wanted: GoalSet, volumes: frozenset[str]) -> str:
        waiting = len({d.volume.lower() for d in wanted.demands} - volumes)
        words = [self.tr("Check each demand against your own rules before you take it.")]
        if waiting:
            words.append(self.tr("Volumes that are not there yet are awaited: their goals are judged once they are."))
        return " ".join(words)

    def _table(self, demands: tuple[Demand, ...], volumes: frozenset[str]) -> QTableWidget:
        heads = (self.tr("Volume"), self.tr("Metric"), self.tr("Demand"), self.tr("Prio."), self.tr("Source"))
        table = QTableWidget(len(demands), len(heads))
        table.setHorizontalHeaderLabels(heads)
        table.setAccessibleName(self.tr("What the set demands"))
        table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        table.setShowGrid(False)
        table.setWordWrap(False)
        table.verticalHeader().hide()
        for row, d in enumerate(demands):
            volume = d.volume if d.volume.lower() in volumes else self.tr("{0} (awaited)").format(d.volume)
            demand = f"{'≤' if d.comparator == '<=' else '≥'} {shown(d.limit, 2)} {unit_of(d.metric)}"
            for column, text in enumerate((volume, d.metric, demand, str(d.priority), d.source)):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                table.setItem(row, column, item)
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        table.horizontalHeader().setSectionResizeMode(len(heads) - 1, QHeaderView.ResizeMode.Stretch)
        return table

    def _instead(self) -> None:
        self.instead = True
        self.accept()


class GoalMenu(QMenu):
    """Offers sets of goals; one that is taken is added to the ledger, or replaces it, as one undoable step.

    One's own sets are the files in ``folder``, beside the settings.
    """

    def __init__(self, desk: PlanDesk, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._workspace, self._edits = desk.workspace, desk.draft
        self.folder = settings.folder / "goal-sets"
        self.offer: GoalOffer | None = None
        self.setToolTipsVisible(True)
        self.aboutToShow.connect(self.fill)

    def fill(self) -> None:
        """List the sets there are now."""
        self.clear()
        own, bad = goal_file.goals_in(self.folder)
        self.addAction(self.tr("Published limits for a site")).setEnabled(False)
        for site in shipped_sets():
            wanted = self._edits.site_goals(site)
            if wanted.demands:
                self._list(wanted)
        if own or bad:
            self.addSeparator()
            self.addAction(self.tr("Own sets")).setEnabled(False)
        for wanted in own:
            self._list(wanted)
        for error in bad:
            action = self.addAction(self.tr("{0} cannot be read").format(Path(_file(error)).name))
            action.setToolTip(translated(error))
            action.triggered.connect(lambda _=False, e=error: self._say("error", translated(e)))
        self.addSeparator()
        self.addAction(self.tr("Load goals from a file…")).triggered.connect(self._ask_load)
        save = self.addAction(self.tr("Save these goals as a set…"))
        draft = self._workspace.draft
        save.setEnabled(draft is not None and bool(draft.goals))
        save.triggered.connect(self._ask_save)

    def _list(self, wanted: GoalSet) -> None:
        action = self.addAction(self.tr("{0} ({1} goals)").format(wanted.name, len(wanted.demands)))
        sources = dict.fromkeys(d.source for d in wanted.demands if d.source)
        action.setToolTip(self.tr("Sources: {0}").format("\n".join(sources)))
        action.triggered.connect(lambda _=False, w=wanted: self.show_set(w))

    def show_set(self, wanted: GoalSet) -> None:
        """Show what a set demands, to be added, put in place of the ledger, or left."""
        case, draft = self._workspace.case, self._workspace.draft
        if case is None or draft is None:
            self._say("info", self.tr("Begin a draft first: goals belong to a draft."))
            return
        volumes = frozenset(v.name.lower() for v in case.volumes)
        offer = self.offer = GoalOffer(wanted, volumes, len(draft.goals), self.parentWidget())
        offer.accepted.connect(lambda: self.take(wanted, offer.instead))
        offer.finished.connect(self._forget)
        offer.open()

    def take(self, wanted: GoalSet, instead: bool) -> None:
        """Add a set's goals to the ledger or replace it by them, and say what came of it."""
        count = self._edits.take_goals(wanted, instead)
        draft = self._workspace.draft
        awaited = dict.fromkeys(g.waits_for for g in draft.goals if g.waits_for) if draft is not None else {}
        one = self.tr("1 goal of {1} taken; undo takes it back.")
        more = self.tr("{0} goals of {1} taken; undo takes them back.")
        words = [(one if count == 1 else more).format(count, wanted.name)]
        if awaited:
            words.append(self.tr("Awaited: {0}.").format(", ".join(awaited)))
        if count:
            self._say("info", " ".join(words))
        elif not self._workspace.read_only:  # that has been said
            self._say("info", self.tr("Every goal of {0} is there already.").format(wanted.name))

    def load(self, path: Path) -> None:
        """Show the goals of a file; what is wrong with it is said with its line."""
        try:
            self.show_set(goal_file.load_goals(path))
        except UserError as error:
            self._say("error", translated(error))

    def save(self, path: Path) -> None:
        """Write the ledger as a set named like the file."""
        case, draft = self._workspace.case, self._workspace.draft
        if case is None or draft is None:
            return
        path = path if path.suffix == ".toml" else path.with_name(path.name + ".toml")
        part = path.with_name(f".{path.name}.part")
        try:
            text = goal_file.goals_text(goal_file.set_of_goals(draft.goals, case.volumes, path.stem))
            path.parent.mkdir(parents=True, exist_ok=True)
            part.write_text(text, encoding="utf-8")
            part.replace(path)
        except UserError as error:
            self._say("error", translated(error))
        except OSError as error:
            with suppress(OSError):
                part.unlink(missing_ok=True)
            words = self.tr("{0} cannot be written ({1}). Choose another place.")
            self._say("error", words.format(path, error.strerror))
        else:
            self._say("info", self.tr("Saved as {0}.").format(path))

    def _ask_load(self) -> None:
        start = str(self.folder if self.folder.is_dir() else Path.home())
        path, _ = QFileDialog.getOpenFileName(self.parentWidget(), self.tr("Load goals"), start, "TOML (*.toml)")
        if path:
            self.load(Path(path))

    def _ask_save(self) -> None:
        self.folder.mkdir(parents=True, exist_ok=True)
        start = str(self.folder / "own-goals.toml")
        path, _ = QFileDialog.getSaveFileName(self.parentWidget(), self.tr("Save goals"), start, "TOML (*.toml)")
        if path:
            self.save(Path(path))

    def _say(self, level: str, words: str) -> None:
        self._workspace.message.emit(level, words)

    def _forget(self, *_: object) -> None:
        self.offer = None


def _file(error: UserError) -> str:
    """Return the file an error of a set is about, without its line."""
    values = getattr(error.where, "values", None)
    return str(values["file"]) if values else error.where
