"""The one door: design in, everything that can be said of it out."""

from dataclasses import dataclass

from rampdraft.checks.result import Check
from rampdraft.geometry.member import Assembly
from rampdraft.mechanics.results import FoldResult, SitePose
from rampdraft.model.design import Design
from rampdraft.shop.results import CuttingPlan, Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaluation:
    """All that follows from a design, frozen and complete."""

    design: Design
    assembly: Assembly
    sites: tuple[SitePose, ...]
    """Each site with the deck empty, then loaded."""
    fold: FoldResult
    checks: tuple[Check, ...]
    """Worst first."""
    parts: tuple[Part, ...]
    plan: CuttingPlan
