"""What is looked at before signing: the pictures of the contact sheet as plain data, made from the plan."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.values import Value
from engine.base.words import say
from engine.case.case import Case, Draft
from engine.evaluation.live import PlanNow

KINDS = ("plane", "beam", "dvh", "goals")


@dataclass(frozen=True, eq=False)
class Item(Value):
    """One picture of the sheet.

    Parameters
    ----------
    kind : one of KINDS
    title : what it shows
    axis, point_mm : of a plane: the axis it stands across ("z", "y", "x") and the point it goes through
    beam_key : of a beam's-eye view
    """

    kind: str
    title: str
    axis: str = ""
    point_mm: tuple[float, float, float] | None = None
    beam_key: str = ""

    @property
    def place(self) -> str:
        """Where it was made, in words that stay with the picture."""
        if self.point_mm is None:
            return self.beam_key
        x, y, z = self.point_mm
        return say("{axis} plane through x {x:.1f}, y {y:.1f}, z {z:.1f} mm", axis=self.axis, x=x, y=y, z=z)


def contact_sheet(case: Case, draft: Draft, now: PlanNow) -> tuple[Item, ...]:
    """Return the pictures to be signed, in the order they are read.

    The three planes through the isocentre; the slice where the target is covered worst (least D98); the place of the
    highest dose, and of the highest dose in each volume with a goal; every beam's-eye view; the DVH; the goal ledger.
    Where the weights come to no monitor units there are no doses, hence no places of them.
    """
    out: list[Item] = []
    if draft.beams:
        point = draft.beams[0].isocentre_mm
        for axis, word in (("z", say("axial")), ("y", say("coronal")), ("x", say("sagittal"))):
            out.append(Item("plane", say("Isocentre, {word}", word=word), axis, point))
    dosed = now.scale is not None
    if draft.prescription and dosed:
        target = case.volume(draft.prescription.volume_key)
        rows = now.coverage_by_slice(draft.prescription.volume_key)
        tile_centre = target.coverage.centroid_mm() if target else None
        if rows and target and tile_centre:
            plane, gy = min(rows, key=lambda r: r[1])
            z = target.coverage.grid.origin_mm[2] + plane * target.coverage.grid.spacing_mm[2]
            words = say("Slice that covers {target} least (D98 there {gy:.2f} Gy)", target=target.name, gy=gy)
            out.append(Item("plane", words, "z", (tile_centre[0], tile_centre[1], float(z))))
    top = now.hottest() if dosed else None
    if top is not None:
        out.append(Item("plane", say("Highest dose ({gy:.2f} Gy)", gy=top[1]), "z", top[0]))
    seen: set[str] = set()
    for goal in draft.goals if dosed else ():
        volume = case.volume(goal.volume_key)
        if volume is None or volume.key in seen or volume.is_target:
            continue
        seen.add(volume.key)
        found = now.hottest_in(volume.key)
        if found is not None:
            out.append(
                Item("plane", say("Highest dose in {volume} ({gy:.2f} Gy)", volume=volume.name, gy=found[1]), "z", found[0])
            )
    out += [Item("beam", say("Beam's-eye view of {name}", name=b.name), beam_key=b.key) for b in draft.beams]
    out += [Item("dvh", say("Dose-volume histogram")), Item("goals", say("Goal ledger"))]
    return _distinct(out)


def _distinct(items: list[Item]) -> tuple[Item, ...]:
    """Number items that would carry one title (two beams of one name): a record tells pictures apart by title."""
    times: dict[str, int] = {}
    out = []
    for item in items:
        times[item.title] = times.get(item.title, 0) + 1
        n = times[item.title]
        out.append(item if n == 1 else item.but(title=say("{title} ({n})", title=item.title, n=n)))
    return tuple(out)
