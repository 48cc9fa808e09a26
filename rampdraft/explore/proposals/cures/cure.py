"""What a cure is, and what several of them ask: how far a check is off, of which leaf, what is stiffer."""

from collections.abc import Callable, Iterable
from typing import Final

from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity
from rampdraft.checks.result import MOST_RATIO, Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter, supply
from rampdraft.explore.proposals.alter import LeafName
from rampdraft.geometry.sections import properties
from rampdraft.model.design import Design
from rampdraft.model.section import Section
from rampdraft.units import MM

Cure = Callable[[Evaluation, Check], Design | None]
"""Returns the design changed so that the check passes or nearly does; None where nothing is left."""


DEEPEST_THROAT_MM: Final = 5.0
"""Thicker welds burn through the walls of such rails; common practice."""


def kind_of(check: Check) -> str:
    """Return what a check is about, as the cures are kept."""
    about = check.about
    if isinstance(QUANTITIES.get(about.kind), LoadQuantity):
        return f"own/strength/{about.part}"
    return f"{about.kind}/{about.part}" if about.part else about.kind


def ratio_of(check: Check) -> float:
    """Return how many times over its limit a check is, within reason; of crossings, the stress: they fall
    with its third power or a higher one (EN 1993-1-9, 7.1, slope m = 3 for steel).
    """
    ratio = check.ratio or 1.0
    if ratio >= MOST_RATIO:
        return 1.3
    return min(ratio ** (1 / 3) if check.about.kind == "own/crossings" else ratio, 3.0)


def leaf_of(check: Check) -> LeafName:
    """Return the leaf that a check speaks of, the inner one where it speaks of none."""
    return "outer_leaf" if check.about.leaf == "outer" or "outer" in check.about.part else "inner_leaf"


def stiffer(found: Iterable[Section], now: Section, ratio: float) -> Section | None:
    """Return the lightest section with a greater modulus by a ratio; else the strongest, where it is more."""
    modulus = properties(now).elastic_modulus_mm3
    known = [(properties(one), one) for one in found]
    enough = [(one.area_mm2, section.text, section) for one, section in known
              if one.elastic_modulus_mm3 >= max(ratio, 1.005) * modulus]  # fmt: skip
    if enough:
        return min(enough, key=lambda one: one[:2])[2]
    best = max(known, key=lambda one: (one[0].elastic_modulus_mm3, one[1].text), default=None)
    return best[1] if best and best[0].elastic_modulus_mm3 > 1.005 * modulus else None


def upright(design: Design) -> list[Section]:
    """Return the boxes that rails can be: standing, wide enough for a knuckle."""
    most = alter.deepest_rail_mm(design) + 1e-6
    return [
        one
        for one in supply.boxes(design, design.made_of.rails)
        if most >= one.depth_mm >= one.width_mm >= 25
    ]


def guard_mm(evaluation: Evaluation) -> MM:
    """Return how high guards have to stand above the surface: what rules ask."""
    asked = [
        check.limit
        for checks in evaluation.edges.values()
        for check in checks
        if check.about.kind in ("edge_height", "side_stop") and check.limit and not check.warning_only
    ]
    return max(asked, default=35.0)
