"""Random ramps: each value is drawn within what the ones before it leave, so that most can be built."""

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, cast

from lots import Lots
from timber_ramp import timber_ramp

from rampdraft.geometry.buildable.fold import WELD_GAP_MM
from rampdraft.geometry.lanes import PIN_TAIL_MM, rail_intervals_mm, stop_intervals_mm
from rampdraft.geometry.members.leaves import HOLE_SHARE
from rampdraft.geometry.members.prop_holes import PIN_ROOM_MM
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import (
    BridgePlate,
    Carrier,
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
from rampdraft.model.fields.paths import FieldInfo, info_of, value_at, with_value
from rampdraft.model.fields.record import Dim
from rampdraft.model.section import Section
from rampdraft.model.spacing import GIVEN, SPACINGS
from rampdraft.units import DEG, MM

START = timber_ramp()


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """What lies where across: one leaf's rails, its surface and how far its knuckles are shifted."""

    rail: Section
    lanes_mm: tuple[MM, ...]
    shift_mm: MM
    width_mm: MM


def ramp(lots: Lots) -> Design:
    """Return the starter with every group of the ramp itself drawn anew."""
    closing = lots.one("backs", "faces")
    rail = bar(lots, ("box", "box", "tube", "flat", "round", "timber"), (20, 120), (12, 70))
    rails = (
        rail,
        rail
        if lots.chance(50)
        else bar(lots, ("box", "tube", "flat", "round", "timber"), (20, 120), (12, 70)),
    )
    joint, hinge = _joint(lots, closing, rails), _deck_hinge(lots, rail)
    inner_across, outer_across = _across(lots, rails, joint, hinge)
    inner_mm = lots.number(300, 2600, 1350)
    upstand_height = lots.number(0, 150, 54) if lots.chance(70) else 0.0
    upstand = lots.number(1, 12, 5)
    widest = max(inner_across.width_mm, outer_across.width_mm) + 2 * upstand
    carrier = _carrier(lots, widest, hinge)
    fold = _fold(lots, closing, inner_mm, carrier, hinge)
    floor = _floor_mm(fold, carrier, hinge, joint, rails[1])
    outer_mm = _outer_mm(lots, inner_mm, fold, floor)
    toe = _toe(lots, inner_mm, outer_mm, fold, floor, joint, rails[1])
    leaves = [
        _leaf(lots, length, across, (upstand_height if lots.chance(80) else 0.0, upstand), ends, taper)
        for length, across, ends, taper in (
            (inner_mm, inner_across, (hinge, joint), 0.0),
            (outer_mm, outer_across, (joint, None), toe.length_mm if toe.kind == "taper" else 0.0),
        )
    ]
    design = replace(
        START,
        carrier=carrier,
        inner_leaf=leaves[0],
        outer_leaf=leaves[1],
        deck_hinge=hinge,
        joint=joint,
        fold=fold,
        toe=toe,
        prop=_prop(lots),
        bridge=_bridge(lots),
    )
    return replace(design, stop=_stop(lots, design))


def spaced(lots: Lots, design: Design) -> Design:
    """Return the ramp, now and then with spacings that follow from the rest of it."""
    lots.group()
    some = lots.chance(35)
    design = replace(design, rails=Rails(count=lots.whole(2, 6), inset_mm=lots.number(0, 80, 12)))
    for spacing in SPACINGS if some else ():
        word = lots.one(GIVEN, *spacing.by)
        design = with_value(design, spacing.rule, word)
        for path in spacing.by.get(word, ()):
            record = cast("FieldInfo", info_of(path)).record
            assert isinstance(record, Dim)
            value: Any = value_at(design, path)
            low, high = max(record.low, value / 4), min(record.high, 3 * value + 10)
            new = lots.whole(int(low), int(high)) if isinstance(value, int) else lots.number(low, high, value)
            design = with_value(design, path, new)
    design = settled(design)
    section = design.stop.section  # the lanes may have come to be further apart
    least = _least_width_mm(design) if design.stop.kind != "none" and some else 0.0
    if section.width_mm < least:
        depth = max(section.depth_mm, least) if section.kind == "round" else section.depth_mm
        section = replace(section, depth_mm=depth, width_mm=least)
    return settled(replace(design, stop=replace(design.stop, section=section)))


def bar(
    lots: Lots,
    kinds: tuple[Any, ...],
    depths_mm: tuple[MM, MM],
    widths_mm: tuple[MM, MM],
    near_mm: tuple[MM, MM] = (40, 20),
) -> Section:
    """Return a section of one of the kinds; depth and width of a round or tube lie in the depths' range."""
    kind = lots.one(*kinds)
    depth = lots.number(*depths_mm, near_mm[0])
    width = depth if kind in ("round", "tube") else lots.number(*widths_mm, near_mm[1])
    wall = (
        lots.number(min(1, 0.3 * min(depth, width)), 0.45 * min(depth, width), 2)
        if kind in ("box", "tube")
        else 0.0
    )
    return Section(kind=kind, depth_mm=depth, width_mm=width, wall_mm=wall)


def _knuckles(lots: Lots, near: tuple[MM, MM, MM]) -> dict[str, MM]:
    diameter = lots.number(10, 90, near[0])
    return {
        "knuckle_diameter_mm": diameter,
        "knuckle_length_mm": lots.number(8, 120, near[1]),
        "pin_diameter_mm": lots.number(4, min(diameter - 1, 60), near[2]),
        "running_clearance_mm": lots.number(0, 6, 2),
        "side_gap_mm": lots.number(0, 8, 2),
    }


def _joint(lots: Lots, closing: str, rails: tuple[Section, Section]) -> Joint:
    """Backs together it lies below the rails, faces together above them, and now and then where it folds
    neither.
    """
    lots.group()
    deepest = max(rail.depth_mm for rail in rails)
    low, high, near = (-deepest - 60, -deepest, -deepest - 3) if closing == "backs" else (0, 80, 20)
    if lots.chance(15):
        low, high = -deepest - 60, 80
    return Joint(height_mm=lots.number(low, high, near), **_knuckles(lots, (30, 42, 12)))


def _deck_hinge(lots: Lots, rail: Section) -> DeckHinge:
    lots.group()
    return DeckHinge(
        height_mm=lots.number(-rail.depth_mm - 40, 40, -20),
        out_mm=lots.part(90, -100, 200, 44),
        below_mm=lots.number(-60, 120, 38),
        **_knuckles(lots, (30, 42, 12)),
    )


# What lies where across
# --------------------------------------------------------------------------------------


def _across(
    lots: Lots, rails: tuple[Section, Section], joint: Joint, hinge: DeckHinge
) -> tuple[Across, Across]:
    """Return both leaves' rails, in neighbouring lanes or sharing them, pair beside pair with room for all
    knuckles and pins.
    """
    lots.group()
    step = joint.knuckle_length_mm + joint.side_gap_mm + lots.part(40, 0, 40, 0)
    pairs = lots.one(3, 2, 4, 5)
    sides = [0 if 2 * n == pairs - 1 else math.copysign(1, n - (pairs - 1) / 2) for n in range(pairs)]
    if lots.chance(35):
        offsets = [0.0] * pairs
        inner_shift = lots.number(max(-step, -200), min(step, 200), 0)
        outer_shift = inner_shift - step if inner_shift > 0 else inner_shift + step
    else:
        ways = lots.one(-1, 1, 0) or lots.one(-1, 1)
        toward = lots.chance(70)
        offsets = [(side or 1) * -step if toward else ways * step for side in sides]
        inner_shift = outer_shift = 0.0
        if lots.chance(15):
            inner_shift, outer_shift = lots.number(-20, 20, 0), lots.number(-20, 20, 0)
            offsets = [offset + math.copysign(40, offset) for offset in offsets]
    shifts = (inner_shift, outer_shift)
    reach = [
        _reach(side, offset, rails, shifts, joint, hinge) for side, offset in zip(sides, offsets, strict=True)
    ]
    widest = max(abs(offset) for offset in offsets) + max(map(abs, shifts)) * 2
    inner = _spread(lots, reach, 2 * widest + 1)
    outer = tuple(lane + offset for lane, offset in zip(inner, offsets, strict=True))
    middle = (
        (min(*inner, *outer) + max(*inner, *outer)) / 2 if lots.chance(40) else (inner[0] + inner[-1]) / 2
    )
    lanes = [tuple(lane - middle for lane in some) for some in (inner, outer)]
    widths = [
        max(2 * max(map(abs, some)) + rail.width_mm, 300.0) for some, rail in zip(lanes, rails, strict=True)
    ]
    if lots.chance(70):
        widths = [max(widths)] * 2
    extra = lots.part(60, 0, 150, 88)
    inner_across, outer_across = (
        Across(rail=rail, lanes_mm=some, shift_mm=shift, width_mm=width + extra)
        for rail, some, shift, width in zip(rails, lanes, shifts, widths, strict=True)
    )
    return inner_across, outer_across


def _reach(
    side: float,
    offset: MM,
    rails: tuple[Section, Section],
    shifts: tuple[MM, MM],
    joint: Joint,
    hinge: DeckHinge,
) -> tuple[MM, MM]:
    """Return how far a pair with all its knuckles and pins reaches left and right of its inner rail."""
    half, deck = joint.knuckle_length_mm / 2 + PIN_TAIL_MM, hinge.knuckle_length_mm
    ends: list[MM] = []
    for at in (side,) if side else (-1, 1):  # the middle pair may come to lie on either side
        bracket = -at * (deck + hinge.side_gap_mm)
        ends += [bracket - deck / 2, bracket + deck / 2, -deck / 2, deck / 2]
        for lane, rail, shift in zip((0.0, offset), rails, shifts, strict=True):
            ends += [lane - rail.width_mm / 2, lane + rail.width_mm / 2]
            ends += [lane + at * shift - half, lane + at * shift + half]
    return min(ends), max(ends)


def _spread(lots: Lots, reach: list[tuple[MM, MM]], least: MM) -> tuple[MM, ...]:
    """Return lanes for pairs that reach so far, alike or not between them."""
    lanes, extra, alike = [0.0], lots.number(0, 300, 250), lots.chance(60)
    for (_, right), (left, _) in pairwise(reach):
        room = extra if alike else lots.number(0, 300, 250)
        lanes.append(lanes[-1] + max(right - left, least) + room)
    return tuple(lanes)


# The carrier, the fold and the lengths that can stow
# --------------------------------------------------------------------------------------


def _carrier(lots: Lots, widest_mm: MM, hinge: DeckHinge) -> Carrier:
    """Return a carrier with a way in for leaves of this width, its deck hinge above the ground."""
    lots.group()
    drop = lots.number(0, 120, 30) if lots.chance(60) else 0.0
    height = lots.number(max(50, hinge.below_mm + 1) + drop, 1200, 420)
    thickness = lots.number(5, 120, 40)
    return Carrier(
        deck_height_mm=height,
        deck_drop_mm=drop,
        deck_length_mm=lots.number(300, 6000, 2600),
        deck_thickness_mm=thickness,
        opening_width_mm=lots.number(widest_mm, widest_mm + 400, 1000),
        end_depth_mm=lots.number(thickness, max(height, thickness), 160),
        end_setback_mm=lots.number(0, 300, 10),
        stow_height_mm=lots.number(0, 3000, 1500),
        stow_out_mm=lots.number(0, 600, 160),
        stow_in_mm=lots.number(0, 400, 80),
        head_room_mm=lots.part(30, 800, 3000, 0),
    )


def _fold(lots: Lots, closing: Any, inner_mm: MM, carrier: Carrier, hinge: DeckHinge) -> Fold:
    """Return a fold whose joint, stowed, is above the ground."""
    lots.group()
    above = carrier.deck_height_mm - hinge.below_mm
    lowest = -math.degrees(math.asin(above / inner_mm)) if above < inner_mm else -90.0
    low, high = lots.one((90, 90), (60, 120), (lowest + 1, 180))
    return Fold(
        closing=closing,
        closed_deg=lots.number(140, 180, 180) if lots.chance(35) else lots.one(180.0, 180.0, 90.0, 180.0),
        stowed_deg=lots.number(low, high, 90),
        clearance_mm=lots.number(0, 12, 3),
    )


def _floor_mm(fold: Fold, carrier: Carrier, hinge: DeckHinge, joint: Joint, rail: Section) -> MM:
    """Return the lowest that the stowed ramp may reach, from the deck hinge: the ground, or the deck below
    the outer leaf.
    """
    over_deck = 2 * joint.height_mm + rail.depth_mm - hinge.height_mm > hinge.out_mm
    if fold.closing == "faces" and over_deck and 45 <= fold.stowed_deg <= 135:
        return 0.0
    return hinge.below_mm - carrier.deck_height_mm


def _turned_rad(fold: Fold) -> float:
    return math.radians(fold.stowed_deg + (fold.closed_deg if fold.closing == "faces" else -fold.closed_deg))


def _longest_mm(from_mm: MM, direction: float, floor_mm: MM) -> MM:
    """Return the longest part that starts at a height and stays above the floor."""
    return (from_mm - floor_mm) / -direction if direction < -1e-9 else math.inf


def _outer_mm(lots: Lots, inner_mm: MM, fold: Fold, floor_mm: MM) -> MM:
    joint_mm = inner_mm * math.sin(math.radians(fold.stowed_deg))
    longest = _longest_mm(joint_mm, math.sin(_turned_rad(fold)), floor_mm)
    longest = math.floor(min(2600, 1.5 * inner_mm, longest))
    return lots.number(min(max(250, 0.4 * inner_mm), longest), longest, 1300)


def _toe(
    lots: Lots, inner_mm: MM, outer_mm: MM, fold: Fold, floor_mm: MM, joint: Joint, rail: Section
) -> Toe:  # what must be known to keep the flap off the floor and the taper off the joint
    lots.group()
    kind = lots.one("plain", "taper", "taper", "flap")
    carried: DEG = lots.number(-180, 180, 180) if lots.chance(30) else lots.one(180.0, 0.0, 90.0, -90.0)
    longest = 400.0
    if kind == "taper":
        longest = outer_mm - joint.knuckle_diameter_mm / 2 - joint.running_clearance_mm - 1
    elif kind == "flap":
        turned = _turned_rad(fold)
        toe_mm = inner_mm * math.sin(math.radians(fold.stowed_deg)) + outer_mm * math.sin(turned)
        if _longest_mm(toe_mm, math.sin(turned + math.radians(carried)), floor_mm) < 30:
            carried = math.copysign(abs(carried) - 180, carried)
        longest = _longest_mm(toe_mm, math.sin(turned + math.radians(carried)), floor_mm)
    return Toe(
        kind=kind,
        length_mm=lots.number(10, min(longest, 1000), 180),
        thickness_mm=lots.number(1, min(rail.depth_mm - 1, 60) if kind == "taper" else 20, 4),
        carried_deg=carried,
        closed=lots.chance(50),
        hinge_pin_mm=lots.number(4, 20, 8),
        hinge_knuckle_mm=lots.number(10, 80, 20),
    )


# One leaf
# --------------------------------------------------------------------------------------


def _leaf(
    lots: Lots,
    length_mm: MM,
    across: Across,
    upstand_mm: tuple[MM, MM],
    ends: tuple[DeckHinge | Joint, Joint | None],
    taper_mm: MM,
) -> Leaf:
    lots.group()
    fitting = lots.one("between", "under", "half_lap")
    most = across.rail.depth_mm if fitting == "between" else 100
    cross = bar(
        lots, ("box", "box", "tube", "flat", "round", "timber"), (min(10, most), most), (8, 80), (30, 20)
    )
    deepest = min(across.rail.depth_mm / 2, cross.depth_mm - 0.5)
    end_mm = length_mm - (taper_mm if fitting != "between" else 0.0)
    start = lots.number(0, min(200, length_mm / 4), 70)
    return Leaf(
        length_mm=length_mm,
        width_mm=across.width_mm,
        rail_section=across.rail,
        rail_lanes_mm=across.lanes_mm,
        knuckle_shift_mm=across.shift_mm,
        cross_section=cross,
        cross_positions_mm=_crosses(lots, cross, ends, length_mm, end_mm),
        cross_fitting=fitting,
        half_lap_mm=lots.number(min(1, deepest), deepest, 10) if fitting == "half_lap" else 0.0,
        upstand_height_mm=upstand_mm[0],
        upstand_thickness_mm=upstand_mm[1],
        upstand_start_mm=start,
        upstand_end_gap_mm=lots.number(0, min(200, length_mm - start - 10), 10),
        **_slats(lots, length_mm),
    )


def _crosses(
    lots: Lots,
    cross: Section,
    ends: tuple[DeckHinge | Joint, Joint | None],
    length_mm: MM,
    end_mm: MM,
) -> tuple[MM, ...]:
    """Return where the cross members are, clear of one another, of the coped rail ends and of the taper."""
    wide = cross.width_mm
    first = ends[0].knuckle_diameter_mm / 2 + ends[0].running_clearance_mm + wide / 2
    last = length_mm
    if ends[1]:
        last -= ends[1].knuckle_diameter_mm / 2 + ends[1].running_clearance_mm
    room = min(last, end_mm) - wide / 2 - first
    count = min(lots.one(3, 2, 4, 1, 0, 5), int(room // wide) + 1 if room >= 0 else 0)
    slack = room - (count - 1) * wide
    gaps = sorted(
        lots.number(0, slack, slack * (n + 1) / (count + 1) if lots.grain_mm < 0.5 else slack // 2)
        for n in range(count)
    )
    places = tuple(first + n * wide + gap for n, gap in enumerate(gaps))
    return places[::-1] if lots.chance(10) else places


def _slats(lots: Lots, length_mm: MM) -> dict[str, Any]:
    """Return slats that fit, down to a single plate over the whole leaf."""
    first, last = lots.number(-40, min(150, length_mm / 4), 4), lots.number(-20, min(200, length_mm / 4), 4)
    room = length_mm - first - last
    width = lots.number(20, min(room, 250), 95) if lots.chance(85) else room
    return {
        "slat_width_mm": width,
        "slat_thickness_mm": lots.number(1, 40, 18),
        "slat_pitch_mm": width + lots.part(80, 0, 60, 10),
        "slat_first_mm": first,
        "slat_last_gap_mm": last,
    }


# Stops, props and the bridge plate
# --------------------------------------------------------------------------------------


def _stop(lots: Lots, design: Design) -> StopBars:
    """Return stop bars that have a rail of each leaf to sit on."""
    lots.group()
    kind = lots.one("butt", "lap", "lap", "butt", "none")
    fixed_to = lots.one("inner", "outer")
    lengths = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    own, other = lengths if fixed_to == "inner" else lengths[::-1]
    fixed = lots.number(10, min(*lengths, 400) if kind == "butt" else min(own, 400), 80)
    low, high = (1, 120) if design.fold.closing == "backs" else (-120, 20)
    stop = StopBars(
        kind=kind,
        count=lots.whole(1, len(design.inner_leaf.rail_lanes_mm)),
        section=Section(kind="flat", depth_mm=20, width_mm=0.5),
        fixed_to=fixed_to,
        fixed_length_mm=fixed,
        lap_mm=lots.number(1, min(other, 300), 60),
        arm_mm=lots.number(low, high, 40 if low > 0 else -40),
        gap_mm=lots.number(0, min(6, fixed), 0.5),
    )
    least = _least_width_mm(replace(design, stop=stop)) if kind != "none" else 8.0
    widths = (least, max(least, min(least + 60, 999)))
    section = bar(lots, ("flat", "box", "flat", "round", "timber"), (6, 60), widths, (20, least))
    if section.kind == "round":
        size = max(section.depth_mm, least)
        section = replace(section, depth_mm=size, width_mm=size)
    return replace(stop, section=section)


def _least_width_mm(design: Design) -> MM:
    """Return the width from which every stop bar bears on, or is welded beside, a rail of each leaf."""
    reach = WELD_GAP_MM if design.stop.kind == "butt" else -1.0
    least = 2.0
    for ends in stop_intervals_mm(design):
        at = sum(ends) / 2
        for leaf in (design.inner_leaf, design.outer_leaf):
            away = min(max(left - at, at - right) for left, right in rail_intervals_mm(leaf))
            least = max(least, 2 * (away - reach))
    return least


def _prop(lots: Lots) -> Prop:
    lots.group()
    shortest, fitted = lots.number(20, 600, 100), lots.chance(40)
    section = bar(lots, ("box", "tube", "round", "flat", "timber"), (12, 80), (12, 80), (30, 30))
    stoutest = HOLE_SHARE * min(section.depth_mm, section.width_mm) - PIN_ROOM_MM
    return Prop(
        fitted=fitted,
        section=section,
        shortest_mm=shortest,
        longest_mm=lots.number(shortest, 1200, 200),
        foot_mm=lots.number(20, 300, 100),
        under=lots.one("outer", "all"),
        pin_diameter_mm=min(lots.number(6, 20, 10), stoutest) if lots.chance(70) else 0.0,
        slack_mm=lots.number(1, 10, 4) if lots.chance(30) else 0.0,
        tied=lots.chance(50),
    )


def _bridge(lots: Lots) -> BridgePlate:
    lots.group()
    length = lots.number(40, 400, 160)
    return BridgePlate(
        fitted=lots.chance(60),
        length_mm=length,
        over_deck_mm=lots.number(0, length - 1, 80),
        thickness_mm=lots.number(1, 10, 4),
        turned_back=lots.chance(30),
        hinge_pin_mm=lots.number(4, 20, 8),
        hinge_knuckle_mm=lots.number(10, 80, 20),
        screws=lots.whole(1, 20),
        screw_size=lots.one("M6", "M5", "M8", "M10"),
    )
