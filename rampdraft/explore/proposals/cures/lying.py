"""Cures of how the ramp lies: lengths, toe, bridge plate, width, what guards reach."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.checks.result import Check
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter, supply
from rampdraft.explore.proposals.alter import put
from rampdraft.explore.proposals.cures.cure import Cure, kind_of, ratio_of
from rampdraft.geometry.members.props import prop_tubes
from rampdraft.model.design import Design
from rampdraft.model.sold import sold_sizes

OUTER_RAILS: Final = "own/strength/outer-rails"

NEARLY: Final = 1.02

TAPERS: Final = (0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)
"""Shares of its length at which a shorter taper is tried."""

GRIT: Final = 65.0
"""Pendulum value of strips with coarse grit, wet; common practice."""


def prop_reach(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the prop as long as the room under the joint asks, everywhere, on either side: in two tubes that
    hold each other, where they can; else in one piece that goes under.
    """
    rooms = [one.room_mm for one in evaluation.props_set.sets if one.state == "empty"]
    if not rooms or min(rooms) < 30:
        return None
    design = evaluation.design
    reaching = (
        put(
            pinned,
            prop__shortest_mm=float(max(20, math.floor(min(rooms) / whole) * whole)),
            prop__longest_mm=float(math.ceil(max(rooms) / whole) * whole),
        )
        for pinned in (design, *thinner_pins(design))
        for whole in (10, 1)
    )
    whole = float(math.floor(min(rooms)))
    one_piece = put(design, prop__shortest_mm=whole, prop__longest_mm=whole)
    return next((one for one in reaching if prop_tubes(one.prop) is not None), one_piece)


def thinner_pins(design: Design) -> Iterator[Design]:
    """Yield the design with each thinner pin in its prop, the thickest first."""
    for size in reversed(sold_sizes(design, "prop.pin_diameter_mm")):
        if size < design.prop.pin_diameter_mm:
            yield put(design, prop__pin_diameter_mm=size)


def thinner_prop_pin(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a thinner pin in its prop, whose holes may stand nearer to each other."""
    return next(thinner_pins(evaluation.design), None)


def lengthened(design: Design, factor: float) -> Design | None:
    """Return a design so many times as long; None where it cannot be stowed."""
    whole = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    return alter.of_length(design, math.ceil(whole * factor))


def longer(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design as much longer as the check is off."""
    return lengthened(evaluation.design, min(max(ratio_of(check), 1.0) * 1.005, 1.15))


def gritted(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with strips of grit on its slats, where what is there slips when wet."""
    grit = evaluation.design.use.wet_grip < GRIT
    return put(evaluation.design, use__wet_grip=GRIT) if grit else None


def bit_longer(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design a little longer."""
    return lengthened(evaluation.design, 1.03)


def gentler_for_slats(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design a little longer where slats bear all but little: on a gentler slope less moves to the
    lower axle.
    """
    return bit_longer(evaluation, check) if ratio_of(check) <= NEARLY else None


def toe(factor: float) -> Cure:
    """Return the cure that makes the toe so many times as long."""

    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        return alter.with_toe(evaluation.design, evaluation.design.toe.length_mm * factor)

    return cure


def comes_down(evaluation: Evaluation, _: Check) -> Design | None:
    """Return a taper that is longer where it stands at its knee, else a longer ramp."""
    design = evaluation.design
    if design.toe.kind == "taper" and any(pose.reaches and pose.short_of_tip for pose in evaluation.sites):
        return alter.with_toe(design, design.toe.length_mm * 1.12 + 10)
    return lengthened(design, 1.03)


def flap_longer(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with a longer toe flap."""
    design = evaluation.design
    if design.toe.kind != "flap":
        return None
    return alter.with_toe(design, design.toe.length_mm * min(ratio_of(check), 1.5) * 1.02)


def thinner_toe(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with a tip as much thinner as the step is too high."""
    toe = evaluation.design.toe
    over = (check.value or 0.0) - (check.limit or 0.0)
    thickness = math.floor(2 * (toe.thickness_mm - over)) / 2 if 0 < over < 3 else toe.thickness_mm - 1
    return put(evaluation.design, toe__thickness_mm=max(3.0, thickness)) if toe.thickness_mm > 3 else None


def steeper_taper(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the longest shorter taper that bears the wheels near its tip and lies on it: rails there are
    deeper then, which costs hardly any mass.
    """
    design = evaluation.design
    if design.toe.kind != "taper":
        return None
    for share in TAPERS:
        shorter = alter.with_toe(design, share * design.toe.length_mm)
        if shorter is None:
            return None
        try:
            trial = evaluation.following(shorter)
        except DesignError:
            return None
        if any(pose.reaches and not pose.grounds_at_toe for pose in trial.sites):
            return None
        if not any(check.fails and kind_of(check) == OUTER_RAILS for check in trial.strength):
            return shorter
    return None


def thicker_flap(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with a thicker toe flap."""
    design, toe = evaluation.design, evaluation.design.toe
    needed = toe.thickness_mm * math.sqrt(ratio_of(check))
    found = [one for one in supply.plates_mm(design, design.made_of.fittings) if one > toe.thickness_mm]
    fits = [one for one in found if one >= needed * 0.98] or found[-1:]
    return put(design, toe__thickness_mm=fits[0]) if fits else None


def lower(step: float) -> Cure:
    """Return the cure that sets the hinge so much lower under the deck."""

    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        below = evaluation.design.deck_hinge.below_mm + step
        return put(evaluation.design, deck_hinge__below_mm=max(0.0, below)) if 0 <= below <= 120 else None

    return cure


def bridge(step: float) -> Cure:
    """Return the cure that lets the bridge plate reach so much further."""

    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        bridge = evaluation.design.bridge
        reach = bridge.length_mm - bridge.over_deck_mm + step
        return alter.with_bridge(evaluation.design, reach) if 40 <= reach <= 250 else None

    return cure


def thicker_bridge(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with a thicker bridge plate."""
    design, bridge = evaluation.design, evaluation.design.bridge
    needed = bridge.thickness_mm * math.sqrt(ratio_of(check)) * 0.98
    found = [one for one in supply.plates_mm(design, design.made_of.fittings) if one > bridge.thickness_mm]
    fits = [one for one in found if one >= needed] or found[-1:]
    return put(design, bridge__thickness_mm=fits[0]) if fits else None


def wider(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design as much wider as is missing."""
    width = evaluation.design.inner_leaf.width_mm
    short = abs((check.value or 0.0) - (check.limit or 0.0)) if check.value is not None else 10.0
    return alter.with_width(evaluation.design, math.ceil((width + min(max(short, 1), 200)) / 10) * 10)
