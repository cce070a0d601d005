"""What the planning stations share: one follower, one set of edits and pictures for each workspace."""

from __future__ import annotations

from PySide6.QtCore import QObject

from app.core.beam_edits import BeamEdits
from app.core.beam_pictures import BeamPictures
from app.core.draft_edits import DraftEdits
from app.core.jobs import JobRunner
from app.core.plan_follow import PlanFollower
from app.core.room_pictures import RoomPictures
from app.core.shape_edits import ShapeEdits
from app.core.weight_balance import WeightBalance
from app.core.workspace import Workspace


class PlanDesk(QObject):
    """Holds the follower and the edits; found again by whoever asks second."""

    def __init__(self, workspace: Workspace, jobs: JobRunner) -> None:
        super().__init__(workspace)
        self.workspace = workspace
        self.follower = PlanFollower.of(workspace, jobs)
        self.beams = BeamEdits(workspace, self)
        self.shapes = ShapeEdits(workspace, self.beams, jobs, self)
        self.draft = DraftEdits(workspace, self)
        self.balance = WeightBalance(workspace, self.follower, jobs, self)
        self.pictures = BeamPictures(jobs, self)
        self.room = RoomPictures(jobs, self)

    @staticmethod
    def of(workspace: Workspace, jobs: JobRunner) -> PlanDesk:
        """Return the workspace's desk; there is one, whoever asks first makes it."""
        found = workspace.findChild(PlanDesk)
        return found if found is not None else PlanDesk(workspace, jobs)
