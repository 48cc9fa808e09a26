"""How much one design may ask to be worked out. Each list may be as long as its record allows; together they
may not, or the program would stand still or run out of memory over a slip of the pen.

The bounds are the program's own, several times what any ramp needs. By measurement on a sample each is
worth about 0.25 GB of memory, and the last but one a minute of rolling.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final

from rampdraft.errors import Problem
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.model.design import Design
from rampdraft.words.say import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """What is summed up, and how much of it there may be."""

    groups: tuple[str, ...]
    """Of the design, that are read."""
    key: str
    """The value that is told of."""
    most: int
    what: str
    way_out: str
    count: Callable[[Design], int]


def _poses(design: Design) -> int:
    return sum(1 + len(stage.via_deg) for stage in design.fold_stages)


def _ground_points(design: Design) -> int:
    return sum(len(site.ground_mm) for site in design.sites)


def _crossings(design: Design) -> int:
    return len(design.use.users) * len(design.sites)


def _members(design: Design) -> int:
    return sum(
        len(leaf.rail_lanes_mm) + len(leaf.cross_positions_mm) + len(slat_starts_mm(leaf))
        for leaf in (design.inner_leaf, design.outer_leaf)
    )


BOUNDS: Final = (
    Bound(
        groups=("fold_stages",),
        key="fold_stages",
        most=200,
        what="stages and poses on the way, all together",
        way_out="leave out poses that lie between two others",
        count=_poses,
    ),
    Bound(
        groups=("sites",),
        key="sites",
        most=2000,
        what="ground points at all sites together",
        way_out="leave out points where the ground is straight",
        count=_ground_points,
    ),
    Bound(
        groups=("use", "sites"),
        key="use.users",
        most=200,
        what="users times sites, each of which is rolled over",
        way_out="leave out sites or users that are like others",
        count=_crossings,
    ),
    Bound(
        groups=("inner_leaf", "outer_leaf"),
        key="inner_leaf.slat_pitch_mm",
        most=600,
        what="rails, cross members and slats of both leaves",
        way_out="take wider slats, further apart",
        count=_members,
    ),
)


def _too_much(bound: Bound, design: Design) -> Iterator[Problem]:
    count = bound.count(design)
    if count > bound.most:
        yield Problem(
            key=bound.key,
            value=say("{count} in all", count=count),
            rule=say(
                "is more work than this program takes on: at most {most} {things}",
                most=bound.most,
                things=say(bound.what),
            ),
            way_out=say(bound.way_out),
        )


WORK: Final = tuple((bound.groups, partial(_too_much, bound)) for bound in BOUNDS)
"""(groups of the design that a rule reads, rule)."""
