"""Whether a ramp that is no steeper than a limit anywhere can reach from the deck edge to the ground at all.

Its running surface begins at the deck edge and ends on the ground at x. Each part of it, bridge plate, leaves
and toe flap, falls by no more than the limit g; besides it jumps by the steps s that are let pass. So with
the deck edge at H

    z(x) + g x + s >= H    and    z(x) - g x - s <= H,

with z(x) the ground. The least x that meets both is the going that is needed. It reaches no farther than
hinge, both leaves and toe flap, laid level one after the other, and what the surface leans over by.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import Final

from rampdraft.checks.rules.rule import RuleSet
from rampdraft.explore.wishes.demanded import Grade, grades, steps_mm
from rampdraft.explore.wishes.results import RULES, WhyNot, Wish
from rampdraft.explore.wishes.room import ANY, USUAL, Kind, Room, leaves_mm, range_of
from rampdraft.geometry.ground_line import FAR_MM, GroundLine, ground_line
from rampdraft.model.design import Carrier, Design, Leaf, Site
from rampdraft.units import MM

BEHIND_MM: Final = ANY.under_mm - range_of(Leaf, "slat_first_mm")[0]
"""How far behind the deck edge the first slat may lie: a surface that rises has risen since."""
_STEEPEST: Final = 1.0
"""1 : 1; nobody asks for less."""
_HALVINGS: Final = 50
"""Of a range: to its last digits."""
_NONE: Final = 1e-9
"""A difference in mm that is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What is wished for at one place in one state of the deck."""

    slope: float
    height_mm: MM
    """Of the empty deck."""
    drop_mm: MM
    ground: GroundLine
    folds_on: GroundLine
    """Where the ramp is folded: the ground of the first site."""
    steps_mm: MM
    stow_height_mm: MM
    stow_out_mm: MM
    stow_in_mm: MM
    deck_mm: MM
    end_mm: MM
    """How far the carrier's end reaches down."""
    kind: Kind


def needed_mm(case: Case) -> MM:
    """Return the least going with which a ramp comes down to the ground; infinite where none does."""
    edge, slope = case.height_mm - case.drop_mm, case.slope
    # A step is measured square to the surface at the end of a bridge plate.
    steps = case.steps_mm * math.hypot(1.0, slope)
    down, up = edge - steps, edge + steps + slope * BEHIND_MM
    for (x0, z0), (x1, z1) in pairwise(case.ground.between(0.0, FAR_MM)):
        share = _first(
            (z0 + slope * x0 - down, z1 + slope * x1 - down), (up - z0 + slope * x0, up - z1 + slope * x1)
        )
        if share is not None:
            return x0 + share * (x1 - x0)
    return math.inf


def _first(*lines: tuple[float, float]) -> float | None:
    """Return the least share of the way from the beginning of lines to their ends at which none is below 0;
    None for none.
    """
    crossings = (y0 / (y0 - y1) for y0, y1 in lines if (y0 < 0) != (y1 < 0))
    return next(
        (
            share
            for share in sorted((0.0, *crossings, 1.0))
            if all(y0 + share * (y1 - y0) >= -_NONE for y0, y1 in lines)
        ),
        None,
    )


def possible_mm(case: Case) -> MM:
    """Return how far from the deck edge a ramp can reach that stows in the room given."""
    kind, height = case.kind, case.height_mm
    beside = min(z for _, z in case.folds_on.between(-FAR_MM, max(case.stow_out_mm, 0.0)))
    room = Room(
        kind=kind,
        height_mm=case.stow_height_mm,
        out_mm=case.stow_out_mm,
        over_mm=case.stow_in_mm,
        floor_mm=height - beside if kind.hangs else min(case.end_mm, height - beside),
        swung_mm=height - min(z for _, z in case.folds_on.points),
        deck_mm=case.deck_mm,
    )
    leans = kind.leans_mm * case.slope / math.hypot(1.0, case.slope)
    return min(kind.out_mm, case.stow_out_mm) + leaves_mm(room) + kind.flap_mm + leans


def slope_clashes(design: Design, rule_sets: tuple[RuleSet, ...]) -> Iterator[WhyNot]:
    """Yield the place where the room that is given for stowing leaves a ramp shortest of what a slope needs,
    for any ramp, or else for one as usually made; nothing where all places can be reached.
    """
    steps, asked = steps_mm(design, rule_sets), tuple(grades(design, rule_sets))
    for kind in (ANY, USUAL):
        cases = [(grade, case_of(design, grade, steps, kind)) for grade in asked]
        short = [
            (possible_mm(case) / needed_mm(case), grade, case) for grade, case in cases if not _reaches(case)
        ]
        if short:
            yield _told(*min(short, key=lambda one: round(one[0], 9))[1:])
            return


def _told(grade: Grade, case: Case) -> WhyNot:
    wished = _wishes(grade, case)
    needed = next(
        some
        for count in range(1, len(wished) + 1)
        for some in combinations(wished, count)
        if not _reaches(_without(case, wished, some))
    )
    return WhyNot(
        clash="slope",
        wishes=tuple(_wish(case, one) for one in needed),
        needed=needed_mm(case),
        possible=possible_mm(case),
        site_number=grade.site_number,
        kerb_mm=grade.kerb_mm,
        state=grade.state,
        of_any=case.kind is ANY,
    )


def case_of(design: Design, grade: Grade, steps_mm: MM, kind: Kind) -> Case:
    """Return what is wished for at the place of a limit, of a kind of ramp."""
    carrier = design.carrier
    ground = (
        ((0.0, grade.kerb_mm),)
        if grade.kerb_mm is not None
        else design.sites[grade.site_number - 1].ground_mm
    )
    return Case(
        slope=grade.slope,
        height_mm=carrier.deck_height_mm,
        drop_mm=grade.drop_mm,
        ground=ground_line(Site(name="", kind="ground", ground_mm=ground)),
        folds_on=ground_line(design.sites[0]),
        steps_mm=steps_mm,
        stow_height_mm=carrier.stow_height_mm,
        stow_out_mm=carrier.stow_out_mm,
        stow_in_mm=carrier.stow_in_mm,
        deck_mm=carrier.deck_length_mm,
        end_mm=carrier.end_depth_mm,
        kind=kind,
    )


def _reaches(case: Case) -> bool:
    return needed_mm(case) <= possible_mm(case)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wished:
    """A wish for a number of a case, and the mildest that it could be."""

    name: str
    """Of the number in `Case`."""
    key: str
    mildest: float
    rule: str = ""


def _wishes(grade: Grade, case: Case) -> tuple[_Wished, ...]:
    """Return what can be wished for otherwise; the ground is what it is."""
    rooms = ("stow_height_mm", "stow_out_mm", "stow_in_mm")
    least_mm = max(range_of(Carrier, "deck_height_mm")[0], case.drop_mm + 1.0)
    return (
        _Wished(name="slope", key=RULES, mildest=_STEEPEST, rule=grade.rule),
        *(_Wished(name=name, key=f"carrier.{name}", mildest=range_of(Carrier, name)[1]) for name in rooms),
        _Wished(name="height_mm", key="carrier.deck_height_mm", mildest=least_mm),
    )


def _without(case: Case, wished: tuple[_Wished, ...], kept: tuple[_Wished, ...]) -> Case:
    """Return the case with the mildest of every wish that is not kept."""
    return replace(case, **{one.name: one.mildest for one in wished if one not in kept})


def _wish(case: Case, wished: _Wished) -> Wish:
    value: float = getattr(case, wished.name)
    return Wish(key=wished.key, rule=wished.rule, value=value, would_do=_just(case, wished, value))


def _just(case: Case, wished: _Wished, value: float) -> float | None:
    """Return the least change of a wish with which nothing is proved against it any more; None for none."""
    bad, good = value, wished.mildest
    if not _reaches(replace(case, **{wished.name: good})):
        return None
    for _ in range(_HALVINGS):
        middle = (bad + good) / 2
        bad, good = (bad, middle) if _reaches(replace(case, **{wished.name: middle})) else (middle, good)
    return good
