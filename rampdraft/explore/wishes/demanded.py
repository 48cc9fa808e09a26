"""The limits that a survey is held to whatever ramp is drawn for it, out of its rule sets and the floor."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import TOLERANCE
from rampdraft.checks.rules.rule import Limit, RuleSet, load_key
from rampdraft.checks.rules.sets import with_floor
from rampdraft.explore.wishes.room import ANY, range_of
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.results import DeckState
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.units import MM

_RAIL_MM: Final = 1000.0
"""No rail is deeper than a section can be."""
_SLAT_MM: Final = range_of(Leaf, "slat_thickness_mm")[1]
_HINGE_MM: Final = range_of(Hinge, "height_mm")[1]

STEPS: Final[dict[str, tuple[tuple[str, ...], MM]]] = {
    "deck": (("step", "deck_step"), ANY.below_mm + _HINGE_MM),
    "joint": (("step", "joint_step"), _SLAT_MM),
    "toe": (("step", "toe_step"), _RAIL_MM + _SLAT_MM),
}
"""Where the running surface may jump: the quantities that limit it there, and what it can be at most without
a limit.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """The steepest that any part of a ramp may be at a place, in one state of the deck."""

    rule: str
    slope: float
    site_number: int
    """From 1; 0 on a reference kerb."""
    kerb_mm: MM | None
    state: DeckState
    drop_mm: MM


def demanded(design: Design, rule_sets: tuple[RuleSet, ...]) -> Iterator[tuple[str, Limit]]:
    """Yield the limits that hold for any ramp there, each with its key: those that are no mere advice, and
    that no condition binds.
    """
    for rules in with_floor(rule_sets):
        for limit in rules.limits:
            binds = limit.when is None and limit.applies(design, None)
            if binds and not (rules.warning_only or limit.advises(design)):
                yield load_key(rules, limit), limit


def steps_mm(design: Design, rule_sets: tuple[RuleSet, ...]) -> MM:
    """Return by how much the running surface may jump down at most, at the deck edge, at the joint and at the
    toe together.
    """
    limits = [limit for _, limit in demanded(design, rule_sets)]
    return sum(
        min(
            (one.limit for one in limits if one.quantity in quantities and one.limit is not None),
            default=highest,
        )
        for quantities, highest in STEPS.values()
    )


def grades(design: Design, rule_sets: tuple[RuleSet, ...]) -> Iterator[Grade]:
    """Yield every limit of a gradient at every place that it is judged at."""
    states: list[tuple[DeckState, MM]] = [("empty", 0.0)]
    if design.carrier.deck_drop_mm and not design.supports:  # else the drop hangs on the ramp's mass too
        states.append(("loaded", design.carrier.deck_drop_mm))
    for rule, limit in demanded(design, rule_sets):
        if limit.quantity != "gradient":
            continue
        for state, drop in states:
            slope = _slope(design, limit, drop)
            if limit.kerb_mm is not None:
                yield Grade(
                    rule=rule, slope=slope, site_number=0, kerb_mm=limit.kerb_mm, state=state, drop_mm=drop
                )
            for number, site in enumerate(design.sites, start=1):
                if site.kind in limit.sites:
                    yield Grade(
                        rule=rule, slope=slope, site_number=number, kerb_mm=None, state=state, drop_mm=drop
                    )


def _slope(design: Design, limit: Limit, drop_mm: MM) -> float:
    """Return the limit in a state of the deck; of a table that goes by the ramp itself its mildest row."""
    if not limit.steps:
        assert limit.limit is not None
        return limit.limit
    if limit.by == "floor_above_kerb":
        above = edge_height_mm(design, drop_mm) - (limit.kerb_mm or 0.0)
        rows = (row.limit for row in limit.steps if row.up_to is None or above <= row.up_to * (1 + TOLERANCE))
        return next(rows, limit.steps[-1].limit)
    return max(row.limit for row in limit.steps)
