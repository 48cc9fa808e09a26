"""A first whole design of a family, by rule: sizes that fit one another, as yet none that is judged."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from rampdraft.explore.proposals.supply import boxes, first_stub, flats, guards, plates_mm, rounds, slats
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import (
    FREE,
    NO_ASSIST,
    USUAL_JOINING,
    BridgePlate,
    Closing,
    DeckHinge,
    Design,
    Fold,
    Joint,
    Leaf,
    Prop,
    Rails,
    StopBars,
    Toe,
)
from rampdraft.model.section import Section
from rampdraft.units import MM

Held = Literal["butt", "lap", "prop"]
Ends = Literal["taper", "flap"]

CLEAR_MM: Final = 3.0
"""Clearance demanded of the fold; common practice."""
SPARE_MM: Final = 20.0
"""Wider than the widest user by so much."""
BAY_MM: Final = 330.0
"""From rail to rail at most, to begin with."""
GAP_MM: Final = 12.0
"""Greatest gap between slats: less than any rule lets open, more than a board swells; common practice."""
SIDE_MM: Final = 2.0
"""Between neighbouring knuckles."""
LIES_MM: Final = 3.0
"""The first slat lies so much over the deck, level: under a bridge plate, over a wheel's way down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """What parts one kind of ramp from another."""

    closing: Closing
    held: Held
    """What holds the joint straight under load."""
    ends: Ends


FAMILIES: Final = (
    Family(closing="backs", held="butt", ends="taper"),
    Family(closing="backs", held="prop", ends="taper"),
    Family(closing="faces", held="prop", ends="taper"),
    Family(closing="backs", held="lap", ends="taper"),
    Family(closing="backs", held="butt", ends="flap"),
    Family(closing="backs", held="prop", ends="flap"),
    Family(closing="faces", held="prop", ends="flap"),
)
"""In the order in which they are looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What a design of a family is drafted with."""

    rail: Section
    slat: Section
    cross: Section
    guard: Section | None
    width_mm: MM
    inner_mm: MM
    outer_mm: MM
    rails: int


# long: a design written out, a line a value
def drafted(survey: Design, family: Family, sizes: Sizes) -> Design:
    """Return a whole design of a family; the survey's own sections stay."""
    rail, slat = sizes.rail, sizes.slat
    depth, thick = rail.depth_mm, slat.depth_mm
    gap, stop = _stop(survey, family, sizes)
    knuckle = _nearest_round(survey, 25.0 if family.held == "prop" else 40.0)
    deck_knuckle = _nearest_round(survey, 30.0 if depth >= 60 else 25.0)
    deck_height = -math.ceil(deck_knuckle / 2 + 3)
    joint_height = thick + CLEAR_MM if family.closing == "faces" else -(depth + CLEAR_MM)
    out = thick - deck_height + max(4.0, deck_knuckle / 4) + 2
    plate = min((one for one in plates_mm(survey, survey.made_of.fittings) if one >= 4), default=4.0)
    design = replace(
        survey,
        rails=Rails(lanes="neighbouring", count=sizes.rails),
        inner_leaf=_leaf(sizes, sizes.inner_mm),
        outer_leaf=_leaf(sizes, sizes.outer_mm),
        deck_hinge=DeckHinge(
            height_mm=deck_height,
            knuckle_diameter_mm=deck_knuckle,
            knuckle_length_mm=rail.width_mm,
            pin_diameter_mm=_pin(survey, 12.0),
            running_clearance_mm=1.5,
            side_gap_mm=SIDE_MM,
            out_mm=out,
            below_mm=max(0.0, thick - deck_height - LIES_MM),
        ),
        joint=Joint(
            height_mm=joint_height,
            knuckle_diameter_mm=knuckle,
            knuckle_length_mm=rail.width_mm + gap - SIDE_MM,
            pin_diameter_mm=_pin(survey, 12.0 if family.held == "prop" else 16.0),
            running_clearance_mm=1.5,
            side_gap_mm=SIDE_MM,
        ),
        fold=Fold(closing=family.closing, closed_deg=180, stowed_deg=90, clearance_mm=CLEAR_MM),
        stop=replace(stop, arm_mm=-joint_height if family.closing == "backs" else 40.0),
        prop=Prop(
            fitted=family.held == "prop",
            section=_lightest_box(survey, 30.0),
            shortest_mm=60,
            longest_mm=200,
            foot_mm=150,
            tied=family.held == "prop",
        ),
        toe=Toe(
            kind=family.ends,
            length_mm=round(0.45 * sizes.outer_mm, -1) if family.ends == "taper" else 350.0,
            thickness_mm=6,
            carried_deg=180 if family.ends == "flap" else 0,
            closed=family.ends == "taper",
        ),
        bridge=BridgePlate(
            fitted=True,
            length_mm=2 * math.ceil((out + 30) / 10) * 10,
            over_deck_mm=math.ceil((out + 30) / 10) * 10,
            thickness_mm=plate,
            turned_back=family.closing == "faces",
        ),
        assist=NO_ASSIST,
        hold_down=FREE,
        handles=(),
        fold_stages=(),
        joining=USUAL_JOINING,
    )
    return settled(replace(design, joining=replace(USUAL_JOINING, bracket_section=first_stub(design))))


def first_sizes(survey: Design, *, guarded: bool) -> Sizes:
    """Return sizes to begin with, whatever the family: middling sections, the width that the users need."""
    slat = _first(slats(survey), lambda one: one.depth_mm >= (18 if one.kind == "timber" else 5))
    found = [one for one in boxes(survey, survey.made_of.rails) if one.depth_mm >= one.width_mm]
    rail = _first(sorted(found, key=lambda one: -one.depth_mm), lambda _: True)
    guard = _first(guards(survey), lambda one: one.depth_mm >= 52 + slat.depth_mm) if guarded else None
    sides = 2 * guard.width_mm if guard else 0.0
    widest = max((user.width_mm for user in survey.use.users), default=700.0)
    width = min(math.ceil((widest + SPARE_MM) / 10) * 10, survey.carrier.opening_width_mm - sides - 10)
    rails = max(2, math.ceil((width - rail.width_mm) / BAY_MM) + 1)
    return Sizes(
        rail=rail,
        slat=slat,
        cross=_lightest_box(survey, 20.0),
        guard=guard,
        width_mm=float(width),
        inner_mm=1000.0,
        outer_mm=1000.0,
        rails=rails,
    )


def _first(found: Sequence[Section], fits: Callable[[Section], bool]) -> Section:
    return next((one for one in found if fits(one)), found[-1])


def _leaf(sizes: Sizes, length_mm: MM) -> Leaf:
    guard, slat = sizes.guard, sizes.slat
    return Leaf(
        length_mm=length_mm,
        width_mm=sizes.width_mm,
        rail_section=sizes.rail,
        rail_lanes_mm=(),
        cross_section=sizes.cross,
        cross_members="number",
        cross_count=3,
        cross_positions_mm=(),
        cross_fitting="between",
        half_lap_mm=0,
        slats="even",
        slat_greatest_gap_mm=GAP_MM,
        slat_ends="clear",
        slat_width_mm=slat.width_mm,
        slat_thickness_mm=slat.depth_mm,
        slat_pitch_mm=slat.width_mm,
        slat_first_mm=0,
        slat_last_gap_mm=0,
        upstand_height_mm=guard.depth_mm - slat.depth_mm if guard else 0,
        upstand_thickness_mm=guard.width_mm if guard else 5,
        upstands="end_to_end",
        upstand_start_mm=0,
        upstand_end_gap_mm=0,
    )


def _stop(survey: Design, family: Family, sizes: Sizes) -> tuple[MM, StopBars]:
    """Return the gap between neighbouring rails of both leaves, and the stop bars that fit there."""
    bar = Section(kind="flat", depth_mm=20, width_mm=8)
    gap = 8.0
    if family.held == "butt":
        low = [
            one
            for one in flats(survey, survey.made_of.fittings)
            if 6 <= one.width_mm <= 15 and 18 <= one.depth_mm <= sizes.rail.depth_mm / 2 + 5
        ]
        bar = low[len(low) // 2] if low else bar
        gap = bar.width_mm
    elif family.held == "lap":
        plate = min((one for one in plates_mm(survey, survey.made_of.fittings) if one >= 10), default=12.0)
        bar = Section(kind="flat", depth_mm=plate, width_mm=sizes.width_mm)
    return gap, StopBars(
        kind="none" if family.held == "prop" else family.held,
        bars="each_rail" if family.held == "butt" else "given",
        count=sizes.rails if family.held == "butt" else 1,
        section=bar,
        fixed_to="inner",
        fixed_length_mm=60 if family.held == "butt" else 200,
        lap_mm=100,
        arm_mm=40,
        gap_mm=0.3,
    )


def _nearest_round(survey: Design, diameter_mm: MM) -> MM:
    found = [one.depth_mm for one in rounds(survey, survey.made_of.fittings)]
    return min(found, key=lambda one: (abs(one - diameter_mm), one), default=diameter_mm)


def _pin(survey: Design, diameter_mm: MM) -> MM:
    return _nearest_round(survey, diameter_mm)


def _lightest_box(survey: Design, depth_mm: MM) -> Section:
    found = boxes(survey, survey.made_of.cross_members)
    return next((one for one in found if min(one.depth_mm, one.width_mm) >= depth_mm), found[-1])
