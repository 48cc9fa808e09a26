"""Rolls over one design, kept for those that follow from it: whoever meets the same again rolls the same.

Most changes of a design leave all that wheels and low parts meet as it is: what holds an upstand, a latch, a
weight on the carrier.
"""

from collections.abc import Hashable

from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.about import Rolling
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.model.design import Design
from rampdraft.units import MM


class Alike:
    """Rolls by all that they follow from: what is met, by value, and the figures read besides."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, list[tuple[Rolling, Roll]]] = {}
        self.whole = False
        """Whether nothing more is kept: those of one design are enough, and not a few."""

    def find(self, about: Hashable, rolling: Rolling) -> Roll | None:
        """Return the roll of a user that is about to roll alike; None where none is kept."""
        return next((roll for one, roll in self._kept.get(about, ()) if _meet_the_same(one, rolling)), None)

    def keep(self, about: Hashable, rolling: Rolling, roll: Roll) -> None:
        """Keep a roll, as long as rolls are kept."""
        if not self.whole:
            self._kept.setdefault(about, []).append((rolling, roll))


def _meet_the_same(one: Rolling, other: Rolling) -> bool:
    """Return whether two users meet the same: the ways of wheels follow from outlines and radii."""
    return (one.shape, one.place, one.surfaces, *(low.surface for low in one.belows)) == (
        other.shape,
        other.place,
        other.surfaces,
        *(low.surface for low in other.belows),
    )


def besides(design: Design, number: int, pose: SitePose, rolling: Rolling, step_mm: MM) -> Hashable:
    """Return what a roll follows from besides what is met on the way."""
    return (
        number,
        pose,
        step_mm,
        (rolling.facing, rolling.across_mm, rolling.start_mm, rolling.end_mm),
        design.carrier,
        design.sites[pose.site_number - 1],
        design.use.wet_grip,
        *(
            (leaf.length_mm, leaf.width_mm, leaf.upstand_thickness_mm, bool(leaf.upstand_height_mm))
            for leaf in (design.inner_leaf, design.outer_leaf)
        ),
    )
