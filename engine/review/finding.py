"""One result of an automatic check, and the facts every check looks at."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.errors import UserError
from engine.base.values import Value
from engine.base.words import say
from engine.case.case import Case, Draft
from engine.case.requests import Standing
from engine.evaluation.live import PlanNow
from engine.volumes.evidence import DEFAULT_LIMITS
from engine.volumes.volume import Volume

SEVERITIES = ("stop", "warn", "note")
Point = tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Finding(Value):
    """One result of an automatic check.

    Parameters
    ----------
    code : which check, stable ("gap-between-slices")
    severity : "stop" (the plan cannot be approved as it is), "warn" (mend it or answer it), "note"
    rule : what should hold, one sentence
    evidence : what was found, with numbers and places
    place : key of the volume or beam, or another stable word; with `code` it names the finding
    volume_key, beam_key, point_mm : where to jump
    """

    code: str
    severity: str
    rule: str
    evidence: str
    place: str = ""
    volume_key: str = ""
    beam_key: str = ""
    point_mm: tuple[float, float, float] | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.severity not in SEVERITIES:
            raise UserError(
                say(
                    "severity {severity!r} is not one of {severities}",
                    severity=self.severity,
                    severities=", ".join(SEVERITIES),
                )
            )

    @property
    def key(self) -> str:
        """What an Answer names: it stays the same while the finding is the same one."""
        return f"{self.code}/{self.place}"


@dataclass(frozen=True)
class Facts:
    """What checks look at: the case, one draft, how its dose stands, and the plan at its weights (None without dose).

    Targets nearer to the skin than `skin_mm` are told.
    """

    case: Case
    draft: Draft
    standing: Standing
    now: PlanNow | None
    skin_mm: float = DEFAULT_LIMITS.skin_mm

    @property
    def target(self) -> Volume | None:
        """The prescribed volume, or None."""
        wanted = self.draft.prescription
        return self.case.volume(wanted.volume_key) if wanted else None

    def painted(self) -> tuple[Volume, ...]:
        """Return the volumes that hold something."""
        return tuple(v for v in self.case.volumes if not v.coverage.is_empty)
