"""Whether users tip sideways where the ground slopes across the ramp."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from rampdraft import figures
from rampdraft.checks.demands.road import PRACTICE
from rampdraft.checks.result import Check, Demand, Measured, Subjects, compose
from rampdraft.mechanics.loading.loads import NOT_RIDDEN
from rampdraft.model.rolling_shape import RollingShape, shape_of
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest
from rampdraft.strength.formula import Formula, Symbol, Worked
from rampdraft.units import MM

TIPS: Final = Formula(Symbol("b", figures.mm) / Symbol("h", figures.mm), figures.gradient)
"""Slope across at which a rigid body tips over the line through its wheels on the lower side, b beside its
mass centre and h below it: statics.
"""
SPARE: Final = 2.0
"""A rider leans, and a wheel sinks: so many times the slope has to be borne, common practice."""


def sideways_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield at which slope across each rider tips, nobody holding; nothing where no ground slopes across."""
    design = subjects.design
    site = greatest(design.sites, lambda one: abs(one.cross_slope_percent))
    across, number = abs(site.cross_slope_percent) / 100, design.sites.index(site) + 1
    if not across:
        return
    limit = SPARE * across
    text = f"{figures.one_in(limit)}, twice what the ground slopes across"
    demand = Demand.own(
        "tips-sideways", "Slope across at which a rider tips, nobody holding", "at least", "gradient", limit,
        text, PRACTICE,
    )  # fmt: skip
    for place, user in enumerate(design.use.users, start=1):
        if user.kind in NOT_RIDDEN:
            continue
        shape = shape_of(user)
        tips = TIPS.of(beside_mm(shape), shape.centre_height_mm)
        yield compose(
            demand,
            Measured(
                key=f"user-{place}",
                subject=user.name,
                user=place,
                value=tips.value,
                working=prose(_lines, tips, site.name),
                site_number=number,
            ),
        )


def beside_mm(shape: RollingShape) -> MM:
    """Return how far beside the mass centre the line through the outer wheels runs: as far out as any two of
    them let it.
    """
    wheels = [(axle.behind_mm, axle.track_mm / 2) for axle in shape.axles]
    at = shape.centre_behind_mm
    return max(
        one[1] + (other[1] - one[1]) * (at - one[0]) / (other[0] - one[0])
        for one, other in combinations(wheels, 2)
        if one[0] <= at <= other[0]
    )


def _lines(tips: Worked, site: str) -> Lines:
    return (
        "b beside the mass centre, on the line through the wheels of the lower side; h its height",
        f"tips at {tips.line}",
        f"the ground slopes across most at {site}",
    )
