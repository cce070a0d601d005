"""Hand-over: a set of volumes that a named physician released for planning, and whether it still holds."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from engine.base.errors import InputError
from engine.base.values import Fingerprint, Value
from engine.volumes.volume import Volume

if TYPE_CHECKING:
    from engine.case.case import Case


@dataclass(frozen=True, eq=False)
class Release(Value):
    """A decision of a physician: these volumes may be planned on.

    Parameters
    ----------
    who : name as typed
    at : UTC, ISO 8601
    volumes : (key, digest of shape, name, role and density), in the order of the case
    names : the volumes' names then, so that one that is gone can be told
    note : as typed, or ""
    """

    who: str
    at: str
    volumes: tuple[tuple[str, Fingerprint], ...]
    names: tuple[str, ...]
    note: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.who.strip() or len(self.who) > 64:
            raise InputError("a release needs the physician's name, up to 64 characters", "release", "Write it.")
        try:
            datetime.fromisoformat(self.at)
        except ValueError:
            raise InputError("a release needs a time as ISO 8601 writes it", "release") from None

    @property
    def digest(self) -> str:
        """Eight characters that stand for what was released."""
        return self.fingerprint[:8]


def digest_of(volume: Volume) -> Fingerprint:
    """Return a hash of what a release is about: shape, name, role and density; not colour, note or recipe."""
    said = f"{volume.coverage.fingerprint}\n{volume.name}\n{volume.role}\n{volume.density_g_cm3!r}"
    return hashlib.sha256(said.encode()).hexdigest()


def released(case: Case, who: str, at: str, note: str = "") -> Case:
    """Return the case with its volumes released.

    Raises
    ------
    InputError
        If there is no volume that holds something, a derived one is out of date, or name or time are missing.
    """
    from engine.case.derived import out_of_date

    painted = tuple(v for v in case.volumes if not v.coverage.is_empty)
    if not painted:
        raise InputError("there is no painted volume to release", "release", "Paint the volumes first.")
    old = [case.volume(key) for key in out_of_date(case)]
    if old and old[0] is not None:
        raise InputError("it does not fit the volumes it is derived from yet", old[0].name, "Wait until it is made again.")
    release = Release(
        who.strip(), at, tuple((v.key, digest_of(v)) for v in painted), tuple(v.name for v in painted), note.strip()
    )
    return case.but(releases=(*case.releases, release))


def withdrawn(case: Case) -> Case:
    """Return the case with its volumes in work again."""
    return case.but(releases=())


def changed_since(case: Case, release: Release) -> tuple[str, ...]:
    """Return the names of the volumes that are no longer as they were released: changed, gone or new; () if it holds."""
    now = {v.key: v for v in case.volumes}
    then = dict(release.volumes)
    names = dict(zip(then, release.names, strict=True))
    changed = [now[k].name if k in now else names[k] for k, d in then.items() if k not in now or digest_of(now[k]) != d]
    new = [v.name for v in case.volumes if v.key not in then and not v.coverage.is_empty]
    return (*changed, *new)


def last_release(case: Case) -> Release | None:
    """Return the release the case stands under, lapsed or not; None while it is in work."""
    return case.releases[-1] if case.releases else None


def standing_release(case: Case) -> Release | None:
    """Return the release if it holds."""
    release = last_release(case)
    return release if release is not None and not changed_since(case, release) else None
