"""The demonstration patients: synthetic CT images with true volumes, and a start for planning."""

from engine.phantoms.catalogue import NAMES, head, make, pelvis, thorax
from engine.phantoms.phantom import GoalHint, Phantom, PlanHint

__all__ = ["NAMES", "GoalHint", "Phantom", "PlanHint", "head", "make", "pelvis", "thorax"]
