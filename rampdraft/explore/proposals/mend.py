"""What is changed where a check fails, by what the check is about: rules of the drawing board, in order."""

import contextlib
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity
from rampdraft.checks.result import MOST_RATIO, Check
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter
from rampdraft.explore.proposals.alter import LeafName, put
from rampdraft.explore.proposals.springs import eased
from rampdraft.explore.proposals.supply import bores_mm, boxes, flats, guards, plates_mm, rounds, slats
from rampdraft.geometry.sections import properties
from rampdraft.model.design import BoltClass, BoltSize, Design, Handle
from rampdraft.model.section import Section
from rampdraft.units import MM

Cure = Callable[[Evaluation, Check], Design | None]
"""Returns the design changed so that the check passes or nearly does; None where nothing is left to change."""

_MORE: Final = 1.02
_SIZES: Final[tuple[BoltSize, ...]] = ("M5", "M6", "M8", "M10", "M12", "M16")
_CLASSES: Final[tuple[BoltClass, ...]] = ("4.6", "5.6", "8.8", "10.9")
_DEEPEST_THROAT_MM: Final = 5.0
"""Thicker welds burn through the walls of such rails; common practice."""


def mended(
    evaluation: Evaluation, failing: Iterable[Check], allowed: Callable[[Design], bool]
) -> tuple[Design | None, frozenset[str]]:
    """Return the design with the first cure of each failing check that changes anything and is allowed, None
    where nothing is left to try; and the kinds of checks for which nothing was.
    """
    stuck: set[str] = set()
    now = evaluation
    done: set[str] = set()
    for check in failing:
        kind = kind_of(check)
        if kind not in done:
            done.add(kind)
            better = next(_cured(now, check, allowed), None)
            now = better or now
            if better is None:
                stuck.add(kind)
    return (now.design if now is not evaluation else None), frozenset(stuck)


def _cured(evaluation: Evaluation, check: Check, allowed: Callable[[Design], bool]) -> Iterator[Evaluation]:
    """Yield what comes of each cure of a check that changes the design into one that can be built."""
    for cure in _cures(check):
        found = cure(evaluation, check)
        if found is None or found == evaluation.design or not allowed(found):
            continue
        with contextlib.suppress(DesignError):
            yield evaluation.following(found)


def kind_of(check: Check) -> str:
    """Return what a check is about, as the cures are kept."""
    about = check.about
    if isinstance(QUANTITIES.get(about.kind), LoadQuantity):
        return f"own/strength/{about.part}"
    return f"{about.kind}/{about.part}" if about.part else about.kind


def _cures(check: Check) -> Sequence[Cure]:
    kind = kind_of(check)
    while kind not in CURES and "/" in kind.partition("/")[2]:
        kind = kind.rpartition("/")[0]
    return CURES.get(kind, CURES.get(check.about.kind, ()))


def _ratio(check: Check) -> float:
    ratio = check.ratio or 1.0
    return min(ratio, 3.0) if ratio < MOST_RATIO else 1.3


def _leaf(check: Check) -> LeafName:
    return "outer_leaf" if check.about.leaf == "outer" or "outer" in check.about.part else "inner_leaf"


# Sections
# --------------------------------------------------------------------------------------


def _stiffer(found: Iterable[Section], now: Section, ratio: float) -> Section | None:
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
        for one in boxes(design, design.made_of.rails)
        if most >= one.depth_mm >= one.width_mm >= 25
    ]


def _rails(evaluation: Evaluation, check: Check) -> Design | None:
    design, name = evaluation.design, _leaf(check)
    now: Section = getattr(design, name).rail_section
    found = upright(design)
    alike = [one for one in found if (one.depth_mm, one.width_mm) == (now.depth_mm, now.width_mm)]
    section = _stiffer(alike, now, 0.9 * _ratio(check)) or _stiffer(found, now, _ratio(check))
    return alter.with_rails(design, name, section) if section else None


def _outer_rails(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with stronger rails in the outer leaf, which its taper weakens, then in the inner."""
    design = evaluation.design
    found = upright(design)
    for name in ("outer_leaf", "inner_leaf"):
        now: Section = getattr(design, name).rail_section
        alike = [one for one in found if (one.depth_mm, one.width_mm) == (now.depth_mm, now.width_mm)]
        if (section := _stiffer(alike, now, _ratio(check))) is not None:
            return alter.with_rails(design, name, section)
    return None


def _wider_rails(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with the lightest rails that are wider: more of them lies on the ground."""
    design = evaluation.design
    now = design.outer_leaf.rail_section
    found = [
        one for one in upright(design) if one.width_mm > now.width_mm and one.depth_mm >= now.depth_mm - 10
    ]
    return alter.with_rails(design, "outer_leaf", found[0]) if found else None


def _more_rails(evaluation: Evaluation, _: Check) -> Design | None:
    design = evaluation.design
    count = len(design.inner_leaf.rail_lanes_mm)
    return alter.with_rail_count(design, count + 1) if count < 6 else None


def _slats(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    now = alter.slat_of(design.inner_leaf)
    ratio = _ratio(check)
    needed = now.depth_mm * math.sqrt(ratio) * 0.97
    room = [one for one in slats(design) if one.depth_mm > now.depth_mm]
    wider = [
        one
        for one in slats(design)
        if one.depth_mm == now.depth_mm and now.width_mm < one.width_mm <= 1.5 * now.width_mm
    ]
    if wider and ratio <= wider[0].width_mm / now.width_mm:
        return alter.with_slats(design, wider[-1])
    fits = next((one for one in room if one.depth_mm >= needed), room[-1] if room else None)
    if fits is None:
        return None
    return alter.guarded(alter.with_slats(design, fits), guard_mm(evaluation))


def _crosses(evaluation: Evaluation, check: Check) -> Design | None:
    design, name = evaluation.design, _leaf(check)
    leaf = getattr(design, name)
    found = [
        one
        for one in boxes(design, design.made_of.cross_members)
        if one.depth_mm <= leaf.rail_section.depth_mm and one.width_mm <= 50
    ]
    section = _stiffer(found, leaf.cross_section, min(_ratio(check), 1.5))
    return put(design, **{f"{name}__cross_section": section}) if section else None


def _more_crosses(evaluation: Evaluation, check: Check) -> Design | None:
    design, name = evaluation.design, _leaf(check)
    count = len(getattr(design, name).cross_positions_mm)
    return alter.with_crosses(design, name, count + 1) if count < 8 else None


def _thicker_guards(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    now, least = alter.guard_of(design.inner_leaf), guard_mm(evaluation)
    if now is None:
        return None
    wide = now.width_mm * math.sqrt(_ratio(check)) * 0.98
    tall = least + design.inner_leaf.slat_thickness_mm
    found = [one for one in guards(design) if one.width_mm > now.width_mm and one.depth_mm >= tall]
    fits = [one for one in found if one.width_mm >= wide] or found
    return alter.with_guards(design, fits[0]) if fits else None


def guard_mm(evaluation: Evaluation) -> MM:
    """Return how high guards have to stand above the surface: what rules ask."""
    asked = [check.limit for checks in evaluation.edges.values() for check in checks
             if check.about.kind in ("edge_height", "side_stop") and check.limit and not check.warning_only]
    return max(asked, default=35.0)


def _taller_guards(evaluation: Evaluation, check: Check) -> Design | None:
    design, leaf = evaluation.design, evaluation.design.inner_leaf
    needed = (check.limit or 0.0) + leaf.slat_thickness_mm
    found = [one for one in guards(design) if one.depth_mm >= needed and one.width_mm >= 4]
    return alter.with_guards(design, found[0]) if found else None


# Joints
# --------------------------------------------------------------------------------------


def _throat(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    now = design.joining.weld_throat_mm
    if now >= _DEEPEST_THROAT_MM:
        return None
    wanted = math.ceil(2 * now * min(_ratio(check), 1.5)) / 2
    return put(design, joining__weld_throat_mm=min(max(wanted, now + 0.5), _DEEPEST_THROAT_MM))


def _pin(line: str) -> Cure:
    def cure(evaluation: Evaluation, check: Check) -> Design | None:
        design = evaluation.design
        hinge = getattr(design, line)
        wanted = hinge.pin_diameter_mm * _ratio(check) ** (1 / 3)
        most = min(hinge.knuckle_diameter_mm - 8, bores_mm(design))
        sizes = [one.depth_mm for one in rounds(design, design.made_of.fittings)]
        found = [one for one in sizes if hinge.pin_diameter_mm < one <= most]
        fits = [one for one in found if one >= wanted] or found[-1:]
        return put(design, **{f"{line}__pin_diameter_mm": fits[0]}) if fits else None

    return cure


def _thicker_knuckle(line: str) -> Cure:
    def cure(evaluation: Evaluation, check: Check) -> Design | None:
        design = evaluation.design
        hinge = getattr(design, line)
        sizes = [one.depth_mm for one in rounds(design, design.made_of.fittings)]
        now = hinge.knuckle_diameter_mm
        most = 65.0 if line == "joint" else 35.0
        found = [one for one in sizes if now < one <= most]
        wanted = [one for one in found if one >= now * min(_ratio(check), 1.3)] or found[-1:]
        if not wanted:
            return None
        changed = put(design, **{f"{line}__knuckle_diameter_mm": wanted[0]})
        return alter.spaced(changed)

    return cure


def _longer_deck_knuckles(evaluation: Evaluation, check: Check) -> Design | None:
    hinge = evaluation.design.deck_hinge
    longer = math.ceil(hinge.knuckle_length_mm * min(_ratio(check), 1.3))
    return put(evaluation.design, deck_hinge__knuckle_length_mm=float(longer)) if longer <= 60 else None


def _longer_joint_knuckles(evaluation: Evaluation, _: Check) -> Design | None:
    """Lanes further apart leave room for longer knuckles; butting bars are as thick as that room."""
    design = evaluation.design
    if design.stop.kind == "butt":
        return None
    gap = alter.lane_gap_mm(design) + 6
    if gap > 24:
        return None
    design = put(design, joint__knuckle_length_mm=design.joint.knuckle_length_mm + 6)
    return alter.laned(design, len(design.inner_leaf.rail_lanes_mm), gap)


def _bolts(evaluation: Evaluation, _: Check) -> Design | None:
    design, joining = evaluation.design, evaluation.design.joining
    at = _SIZES.index(joining.bolt_size)
    if at < len(_SIZES) - 1:
        return put(design, joining__bolt_size=_SIZES[at + 1], joining__bolt_edge_mm=joining.bolt_edge_mm + 3)
    if joining.bolt_count < 4:
        return put(design, joining__bolt_count=joining.bolt_count + 1)
    at = _CLASSES.index(joining.bolt_class)
    return put(design, joining__bolt_class=_CLASSES[at + 1]) if at < len(_CLASSES) - 1 else None


def _bolt_plate(evaluation: Evaluation, _: Check) -> Design | None:
    joining = evaluation.design.joining
    if joining.bracket_plate_mm < 15:
        return put(evaluation.design, joining__bracket_plate_mm=joining.bracket_plate_mm + 2)
    if joining.bolt_arm_mm < 100:
        return put(evaluation.design, joining__bolt_arm_mm=joining.bolt_arm_mm + 20)
    return None


def _bolt_edge(evaluation: Evaluation, _: Check) -> Design | None:
    edge = evaluation.design.joining.bolt_edge_mm + 4
    return put(evaluation.design, joining__bolt_edge_mm=edge) if edge <= 60 else None


def _bracket(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    found = boxes(design, design.made_of.fittings)
    usual = [Section(kind="box", depth_mm=d, width_mm=w, wall_mm=t)
             for d, w, t in ((60, 40, 4), (60, 40, 5), (80, 60, 5), (100, 60, 6))]  # fmt: skip
    section = _stiffer((*found, *usual), design.joining.bracket_section, _ratio(check))
    return put(design, joining__bracket_section=section) if section else None


def _stop(evaluation: Evaluation, check: Check) -> Design | None:
    design, stop = evaluation.design, evaluation.design.stop
    if stop.kind == "butt":
        deep = stop.section.depth_mm
        found = [
            one
            for one in flats(design, design.made_of.fittings)
            if one.width_mm == stop.section.width_mm and deep < one.depth_mm <= design.stop.arm_mm
        ]
        return put(design, stop__section=found[0]) if found else None
    found = [one for one in plates_mm(design, design.made_of.fittings) if one > stop.section.depth_mm]
    needed = stop.section.depth_mm * math.sqrt(_ratio(check)) * 0.98
    fits = [one for one in found if one >= needed] or found[-1:]
    return put(design, stop__section=replace(stop.section, depth_mm=fits[0])) if fits else None


def _thicker_bar(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with thicker butting bars, its lanes so much further apart."""
    design, stop = evaluation.design, evaluation.design.stop
    if stop.kind != "butt":
        return None
    now = stop.section
    found = [
        one
        for one in flats(design, design.made_of.fittings)
        if now.width_mm < one.width_mm <= 20 and 18 <= one.depth_mm <= stop.arm_mm
    ]
    if not found:
        return None
    one = min(found, key=lambda one: (one.width_mm, one.depth_mm))
    wider = one.width_mm - now.width_mm
    length = design.joint.knuckle_length_mm + wider
    design = put(design, stop__section=one, joint__knuckle_length_mm=length)
    return alter.laned(design, len(design.inner_leaf.rail_lanes_mm), one.width_mm)


def _longer_stop(evaluation: Evaluation, _: Check) -> Design | None:
    stop = evaluation.design.stop
    if stop.kind == "none" or stop.fixed_length_mm >= (120 if stop.kind == "butt" else 300):
        return None
    return alter.spaced(put(evaluation.design, stop__fixed_length_mm=stop.fixed_length_mm + 20))


def _longer_lap(evaluation: Evaluation, _: Check) -> Design | None:
    design = evaluation.design
    lap = design.stop.lap_mm + 20
    return alter.spaced(put(design, stop__lap_mm=lap)) if design.stop.kind == "lap" and lap <= 200 else None


def _prop_section(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    section = _stiffer(boxes(design, design.made_of.rails), design.prop.section, _ratio(check))
    return put(design, prop__section=section) if section else None


def _prop_pin(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    sizes = [one.depth_mm for one in rounds(design, design.made_of.fittings)]
    most = design.prop.section.width_mm / 2
    found = [one for one in sizes if design.prop.pin_diameter_mm < one <= most]
    return put(design, prop__pin_diameter_mm=found[0]) if found else None


def _prop_everywhere(evaluation: Evaluation, _: Check) -> Design | None:
    return put(evaluation.design, prop__under="all") if evaluation.design.prop.fitted else None


def _prop_reach(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the prop as long as the room under the joint asks, everywhere."""
    rooms = [pose.joint_room_mm for pose in evaluation.sites if pose.reaches]
    if not rooms or min(rooms) < 30:
        return None
    shortest, longest = math.floor(min(rooms) / 10) * 10, math.ceil(max(rooms) / 10) * 10
    return put(evaluation.design, prop__shortest_mm=float(max(20, shortest)), prop__longest_mm=float(longest))


def _foot(way: int) -> Cure:
    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        foot = evaluation.design.prop.foot_mm + way * 20
        return put(evaluation.design, prop__foot_mm=foot) if 60 <= foot <= 400 else None

    return cure


# How it lies
# --------------------------------------------------------------------------------------


def _lengthened(design: Design, factor: float) -> Design | None:
    whole = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    return alter.of_length(design, math.ceil(whole * factor))


def _longer(evaluation: Evaluation, check: Check) -> Design | None:
    return _lengthened(evaluation.design, min(max(_ratio(check), 1.0) * 1.005, 1.15))


def _bit_longer(evaluation: Evaluation, _: Check) -> Design | None:
    return _lengthened(evaluation.design, 1.03)


def _toe(factor: float) -> Cure:
    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        return alter.with_toe(evaluation.design, evaluation.design.toe.length_mm * factor)

    return cure


def _comes_down(evaluation: Evaluation, _: Check) -> Design | None:
    """Return a taper that is longer where it stands at its knee, else a longer ramp."""
    design = evaluation.design
    if design.toe.kind == "taper" and any(pose.reaches and pose.short_of_tip for pose in evaluation.sites):
        return alter.with_toe(design, design.toe.length_mm * 1.12 + 10)
    return _lengthened(design, 1.03)


def _flap_longer(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    if design.toe.kind != "flap":
        return None
    return alter.with_toe(design, design.toe.length_mm * min(_ratio(check), 1.5) * 1.02)


def _thinner_toe(evaluation: Evaluation, _: Check) -> Design | None:
    toe = evaluation.design.toe
    return put(evaluation.design, toe__thickness_mm=toe.thickness_mm - 1) if toe.thickness_mm > 3 else None


def _thicker_flap(evaluation: Evaluation, check: Check) -> Design | None:
    design, toe = evaluation.design, evaluation.design.toe
    needed = toe.thickness_mm * math.sqrt(_ratio(check))
    found = [one for one in plates_mm(design, design.made_of.fittings) if one > toe.thickness_mm]
    fits = [one for one in found if one >= needed * 0.98] or found[-1:]
    return put(design, toe__thickness_mm=fits[0]) if fits else None


def _lower(step: float) -> Cure:
    """Return the cure that sets the hinge so much lower under the deck."""

    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        below = evaluation.design.deck_hinge.below_mm + step
        return put(evaluation.design, deck_hinge__below_mm=max(0.0, below)) if 0 <= below <= 120 else None

    return cure


def _bridge(step: float) -> Cure:
    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        bridge = evaluation.design.bridge
        reach = bridge.length_mm - bridge.over_deck_mm + step
        return alter.with_bridge(evaluation.design, reach) if 40 <= reach <= 250 else None

    return cure


def _thicker_bridge(evaluation: Evaluation, check: Check) -> Design | None:
    design, bridge = evaluation.design, evaluation.design.bridge
    needed = bridge.thickness_mm * math.sqrt(_ratio(check)) * 0.98
    found = [one for one in plates_mm(design, design.made_of.fittings) if one > bridge.thickness_mm]
    fits = [one for one in found if one >= needed] or found[-1:]
    return put(design, bridge__thickness_mm=fits[0]) if fits else None


def _wider(evaluation: Evaluation, check: Check) -> Design | None:
    width = evaluation.design.inner_leaf.width_mm
    short = abs((check.value or 0.0) - (check.limit or 0.0)) if check.value is not None else 10.0
    return alter.with_width(evaluation.design, math.ceil((width + min(max(short, 1), 200)) / 10) * 10)


def _guards_reach(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    gap = max(0.0, design.outer_leaf.upstand_end_gap_mm - abs((check.value or 0) - (check.limit or 0)) - 1)
    return put(design, outer_leaf__upstand_end_gap_mm=float(math.floor(gap)))


def _guards_meet(evaluation: Evaluation, _: Check) -> Design | None:
    design = evaluation.design
    if design.outer_leaf.upstand_start_mm <= 10 and design.inner_leaf.upstand_end_gap_mm <= 10:
        return None
    return put(design, outer_leaf__upstand_start_mm=10.0, inner_leaf__upstand_end_gap_mm=10.0)


# How it folds and is carried
# --------------------------------------------------------------------------------------


def _springs(evaluation: Evaluation, _: Check) -> Design | None:
    return eased(evaluation)


def _strapped(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a strap at the toe, so that hands lift it at the height of the knees."""
    design = evaluation.design
    if design.handles:
        return None
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    handles = (
        Handle(name="joint", leaf="inner", at_mm=inner, above_mm=0),
        Handle(name="toe strap", leaf="outer", at_mm=outer, above_mm=STRAP_MM),
    )
    return replace(design, handles=handles)


def _latch(evaluation: Evaluation, check: Check) -> Design | None:
    design, hold = evaluation.design, evaluation.design.hold_down
    if not hold.latch:
        return put(design, hold_down__latch=True)
    if hold.pull_n >= 10000:
        return None
    pull = math.ceil(hold.pull_n * 1.5 / 500) * 500
    return put(design, hold_down__pull_n=float(pull))


def _weaker(evaluation: Evaluation, _: Check) -> Design | None:
    rate = math.floor(evaluation.design.assist.rate_nmm_deg * 0.92 / 100) * 100
    return put(evaluation.design, assist__rate_nmm_deg=float(rate)) if rate > 100 else None


def _stay(evaluation: Evaluation, _: Check) -> Design | None:
    return put(evaluation.design, hands__stay=True)


def _lock(name: str) -> Cure:
    def cure(evaluation: Evaluation, check: Check) -> Design | None:
        return put(evaluation.design, **{f"road__{name}": math.ceil((check.limit or 0.0) / 250) * 250.0})

    return cure


def _inward(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with less standing out: the hinge further in, then lower guards or shallower rails."""
    design = evaluation.design
    over = (check.value or 0.0) - (check.limit or 0.0)
    hinge, leaf = design.deck_hinge, design.inner_leaf
    least = leaf.slat_thickness_mm - hinge.height_mm + CLEAR
    if hinge.out_mm - over >= least:
        return put(design, deck_hinge__out_mm=hinge.out_mm - over)
    if hinge.out_mm > least + 0.5:
        return put(design, deck_hinge__out_mm=least)
    now = leaf.rail_section
    found = [one for one in upright(design) if one.depth_mm < now.depth_mm]
    best = max(found, key=lambda one: (properties(one).elastic_modulus_mm3, one.text), default=None)
    return alter.with_rails(design, "inner_leaf", best) if best else None


def _outward(evaluation: Evaluation, check: Check) -> Design | None:
    over = (check.value or 0.0) - (check.limit or 0.0)
    hinge = evaluation.design.deck_hinge
    return put(evaluation.design, deck_hinge__out_mm=hinge.out_mm + over + 1) if hinge.out_mm < 150 else None


def _less_high(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    over = math.ceil((check.value or 0.0) - (check.limit or 0.0))
    inner, outer = design.inner_leaf.length_mm - over, design.outer_leaf.length_mm + over
    if inner < 250 or outer > alter.longest_outer_mm(design, inner):
        return None
    return alter.with_lengths(design, inner, outer)


def _clears(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with more room between what comes near while it folds."""
    design, pair = evaluation.design, check.about.pair
    if pair is None:
        return None
    bodies, roles = {one.body for one in pair}, {one.role for one in pair}
    hinges = {one.hinge for one in pair}
    short = min(max(math.ceil(((check.limit or 3.0) - (check.value or 0.0)) * 2) / 2, 1.0), 15.0)
    if "carrier" in bodies or roles & {"deck", "carrier end", "bridge plate", "bridge strip"}:
        if "outer" in bodies and design.fold.closing == "faces":
            return alter.with_lengths(
                design, design.inner_leaf.length_mm, design.outer_leaf.length_mm - short
            )
        if hinges == {"deck", ""} and "slat" in roles:
            leaf = design.inner_leaf
            first = leaf.slat_first_mm + short
            return put(design, inner_leaf__slat_first_mm=first) if first <= 30 else None
        if "edge upstand" in roles:
            start = design.inner_leaf.upstand_start_mm + 10
            return put(design, inner_leaf__upstand_start_mm=start) if start <= 200 else None
        return put(design, deck_hinge__out_mm=design.deck_hinge.out_mm + short)
    if "ground" in roles:
        return _off_ground(evaluation)
    away = short / 2 * (1 if design.fold.closing == "faces" else -1)
    height = design.joint.height_mm + away
    if abs(height) > 120:
        return None
    arm = design.stop.arm_mm - away if design.stop.kind == "butt" else design.stop.arm_mm
    return put(design, joint__height_mm=height, stop__arm_mm=arm)


def _off_ground(evaluation: Evaluation) -> Design | None:
    """Return the design with a little of one leaf's length given to the other, with which the toe passes over
    the ground as the outer leaf comes to hang.
    """
    design = evaluation.design
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    most = alter.longest_inner_mm(design)
    for shift in SHIFTS_MM:
        if inner + shift > most or outer - shift > alter.longest_outer_mm(design, inner + shift):
            continue
        trial = evaluation.following(alter.with_lengths(design, inner + shift, outer - shift))
        if not any(check.fails and _on_ground(check) for check in trial.clearances):
            return trial.design
    return None


def _on_ground(check: Check) -> bool:
    return check.about.pair is not None and any(one.role == "ground" for one in check.about.pair)


SHIFTS_MM: Final = tuple(float(sign * step) for step in range(2, 42, 3) for sign in (1, -1))
CLEAR: Final[MM] = 3.5
STRAP_MM: Final[MM] = 450.0


def _first_slat(evaluation: Evaluation, _: Check) -> Design | None:
    """Slats whose screws are too near the ends of the rails start further in."""
    design = evaluation.design
    outer, inner = design.outer_leaf, design.inner_leaf
    if inner.slat_first_mm >= 12:
        return None
    return put(
        design,
        inner_leaf__slat_first_mm=inner.slat_first_mm + 2,
        inner_leaf__slat_last_gap_mm=inner.slat_last_gap_mm + 2,
        outer_leaf__slat_first_mm=outer.slat_first_mm + 2,
    )


def _closer_slats(evaluation: Evaluation, check: Check) -> Design | None:
    design = evaluation.design
    for name in alter.BOTH:
        leaf = getattr(design, name)
        gap = leaf.slat_pitch_mm - leaf.slat_width_mm
        room = leaf.length_mm - leaf.slat_first_mm - leaf.slat_last_gap_mm - leaf.slat_width_mm
        if gap > 2:
            count = math.floor(room / leaf.slat_pitch_mm) + 1
            pitch = room / (count + 1)
            if pitch >= leaf.slat_width_mm:
                pitch = math.floor(pitch * 10) / 10
                design = put(design, **{f"{name}__slat_pitch_mm": pitch})
    return design if design != evaluation.design else None


RAILS: Final[tuple[Cure, ...]] = (_rails, _more_rails)
SLATS: Final[tuple[Cure, ...]] = (_slats, _more_rails)
CROSSES: Final[tuple[Cure, ...]] = (_crosses, _more_crosses, _throat)
GUARDS: Final[tuple[Cure, ...]] = (_thicker_guards,)
JOINT: Final[tuple[Cure, ...]] = (_throat, _thicker_knuckle("joint"), _longer_joint_knuckles, _rails, _more_rails)  # fmt: skip
DECK: Final[tuple[Cure, ...]] = (_longer_deck_knuckles, _throat, _thicker_knuckle("deck_hinge"), _more_rails)
EDGE: Final[tuple[Cure, ...]] = (_bridge(10.0), _lower(3.0))

CURES: Final[dict[str, tuple[Cure, ...]]] = {
    "gradient": (_flap_longer, _longer),
    "gradient/bridge": (_bridge(15.0), _lower(2.0), _bridge(-10.0)),
    "leaf_gradient": (_longer,),
    "flap_gradient": (_flap_longer,),
    "own/user-tips": (_longer,),
    "own/grip": (_bit_longer,),
    "own/toe": (_comes_down,),
    "own/toe-slides": (),
    "own/prop": (_prop_reach, _bit_longer),
    "own/bridge": (_bridge(15.0), _lower(-3.0)),
    "vehicle_gap": (_bridge(10.0),),
    "step/deck-edge": EDGE,
    "deck_step": EDGE,
    "step/toe": (_thinner_toe,),
    "toe_step": (_thinner_toe,),
    "clear_width": (_wider,),
    "surface_width": (_wider,),
    "own/user-width": (_wider,),
    "own/roll-width": (_wider,),
    "edge_height": (_taller_guards,),
    "side_stop": (_taller_guards,),
    "edge_end": (_guards_reach,),
    "edge_gap": (_guards_meet,),
    "opening": (_closer_slats,),
    "own/strength/inner-rails": RAILS,
    "own/strength/outer-rails": RAILS,
    "own/sag": (_outer_rails, *RAILS, _longer),
    "own/crossings/inner-rails": RAILS,
    "own/crossings/outer-rails": RAILS,
    "own/strength/inner-slats": SLATS,
    "own/strength/outer-slats": SLATS,
    "own/strength/inner-sharing": CROSSES,
    "own/strength/outer-sharing": CROSSES,
    "own/strength/inner-cross": CROSSES,
    "own/strength/outer-cross": CROSSES,
    "own/strength/inner-upstands": GUARDS,
    "own/strength/outer-upstands": GUARDS,
    "own/strength/inner-fixings": (_more_rails, _rails),
    "own/strength/outer-fixings": (_more_rails, _rails),
    "own/strength/joint-knuckles": JOINT,
    "own/crossings/joint-knuckles": JOINT,
    "own/strength/joint-pins": (_pin("joint"), _thicker_knuckle("joint"), _more_rails),
    "own/strength/deck-knuckles": DECK,
    "own/crossings/deck-knuckles": DECK,
    "own/strength/deck-pins": (_pin("deck_hinge"), _thicker_knuckle("deck_hinge"), _more_rails),
    "own/strength/bolts": (_bolts, _bolt_plate),
    "own/bolt-edge": (_bolt_edge,),
    "own/strength/bracket": (_bracket, _throat),
    "own/strength/stop": (_stop, _longer_stop, _thicker_bar, _throat, _more_rails),
    "own/crossings/stop": (_longer_stop, _throat, _stop, _longer_lap, _more_rails),
    "own/strength/lap-tip": (_longer_lap, _rails),
    "own/strength/bridge": (_thicker_bridge, _bridge(-10.0)),
    "own/strength/flap": (_thicker_flap,),
    "own/strength/prop": (_prop_section, _prop_pin),
    "own/strength/foot": (_foot(-1),),
    "own/ground/prop": (_foot(1), _prop_everywhere),
    "own/ground/toe": (_toe(1.15), _wider_rails, _more_rails, _bit_longer),
    "own/attached": (_longer_stop, _first_slat),
    "own/hands": (_springs, _strapped, _springs),
    "deploying_force": (_springs, _strapped, _springs),
    "own/fall": (_stay,),
    "own/stays-down/joint": (_latch, _weaker),
    "own/stays-down/toe": (_weaker,),
    "own/stow-latch": (_lock("latch_n"),),
    "own/second-lock": (_lock("second_n"),),
    "own/stowed/out": (_inward,),
    "own/stowed/in": (_outward,),
    "own/stowed/height": (_less_high,),
    "own/clearance": (_clears,),
    "own/roll-start": (_bit_longer,),
    "own/roll-keep": (_bit_longer,),
    "own/roll-tips": (_bit_longer,),
    "own/roll-clears": (_bridge(15.0), _bit_longer),
    "own/roll-clears/toe": (_toe(1.15), _bit_longer),
    "own/roll-clears/ground": (_toe(1.15), _bit_longer),
    "own/roll-clears/outer": (_toe(1.15), _bit_longer),
    "own/roll-climbs": (_thinner_toe, _bridge(10.0)),
}
"""By what a check is about; the longest that fits counts. What is not named here nobody mends."""


def cureless(failing: Iterable[Check]) -> Iterator[Check]:
    """Yield the failing checks for which there is no cure at all."""
    return (check for check in failing if not _cures(check))
