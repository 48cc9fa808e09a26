"""Cures of how it folds and is carried: springs, latches, room stowed, room between what passes."""

import math
from dataclasses import replace
from typing import Final

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter, supply
from rampdraft.explore.proposals.alter import put
from rampdraft.explore.proposals.cures.cure import Cure, upright
from rampdraft.explore.proposals.springs import eased
from rampdraft.geometry.members.member import Kin
from rampdraft.geometry.sections import properties
from rampdraft.model.design import Design, Handle
from rampdraft.units import MM
from rampdraft.words.say import say

CLEAR_MM: Final[MM] = 3.5


STRAP_MM: Final[MM] = 450.0


SHIFT_MM: Final = 40.0
UNLIKE: Final = 0.85
"""The inner leaf is not made shorter than so much of the outer one."""


SHIFTS_MM: Final = tuple(float(sign * step) for step in range(2, 42, 3) for sign in (1, -1))


def springs(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with springs that ease the fold."""
    return eased(evaluation)


def strapped(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a strap at the toe, so that hands lift it at the height of the knees."""
    design = evaluation.design
    if design.handles:
        return None
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    handles = (
        Handle(name=say("joint"), leaf="inner", at_mm=inner, above_mm=0),
        Handle(name=say("toe strap"), leaf="outer", at_mm=outer, above_mm=STRAP_MM),
    )
    return replace(design, handles=handles)


def shorter_inner(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a little of the inner leaf's length given to the outer one: springs bear more of
    the inner leaf's weight, and of the outer one that hangs from it.
    """
    design = evaluation.design
    inner, outer = design.inner_leaf.length_mm - SHIFT_MM, design.outer_leaf.length_mm + SHIFT_MM
    if inner < UNLIKE * outer or outer > alter.longest_outer_mm(design, inner):
        return None
    return alter.with_lengths(design, inner, outer)


def latch(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a latch across the joint, or a stronger one."""
    design, hold = evaluation.design, evaluation.design.hold_down
    if not hold.latch:
        return put(design, hold_down__latch=True)
    if hold.pull_n >= 10000:
        return None
    pull = math.ceil(hold.pull_n * 1.5 / 500) * 500
    return put(design, hold_down__pull_n=float(pull))


def weaker(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with weaker springs."""
    rate = math.floor(evaluation.design.assist.rate_nmm_deg * 0.92 / 100) * 100
    return put(evaluation.design, assist__rate_nmm_deg=float(rate)) if rate > 100 else None


def stay(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a damper or stay."""
    return put(evaluation.design, hands__stay=True)


def lock(name: str) -> Cure:
    """Return the cure that takes a lock of the working load that road and wind ask."""

    def cure(evaluation: Evaluation, check: Check) -> Design | None:
        return put(evaluation.design, **{f"road__{name}": math.ceil((check.limit or 0.0) / 250) * 250.0})

    return cure


def inward(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with less standing out: the hinge further in, then shallower rails."""
    design = evaluation.design
    over = (check.value or 0.0) - (check.limit or 0.0)
    hinge, leaf = design.deck_hinge, design.inner_leaf
    least = leaf.slat_thickness_mm - hinge.height_mm + CLEAR_MM
    if hinge.out_mm - over >= least:
        return put(design, deck_hinge__out_mm=hinge.out_mm - over)
    if hinge.out_mm > least + 0.5:
        return put(design, deck_hinge__out_mm=least)
    now = leaf.rail_section
    found = [one for one in upright(design) if one.depth_mm < now.depth_mm]
    best = max(found, key=lambda one: (properties(one).elastic_modulus_mm3, one.text), default=None)
    return alter.with_rails(design, "inner_leaf", best) if best else None


def outward(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with its deck hinge further out."""
    over = (check.value or 0.0) - (check.limit or 0.0)
    hinge = evaluation.design.deck_hinge
    return put(evaluation.design, deck_hinge__out_mm=hinge.out_mm + over + 1) if hinge.out_mm < 150 else None


def less_high(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with what stands too high taken from the inner leaf and given to the outer one."""
    design = evaluation.design
    over = math.ceil((check.value or 0.0) - (check.limit or 0.0))
    inner, outer = design.inner_leaf.length_mm - over, design.outer_leaf.length_mm + over
    if inner < 250 or outer > alter.longest_outer_mm(design, inner):
        return None
    return alter.with_lengths(design, inner, outer)


def clears_pair(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with more room between what comes near while it folds."""
    design, pair = evaluation.design, check.about.pair
    if pair is None:
        return None
    bodies, roles = {one.body for one in pair}, {one.role for one in pair}
    short = min(max(math.ceil(((check.limit or 3.0) - (check.value or 0.0)) * 2) / 2, 1.0), 15.0)
    if "carrier" in bodies or roles & {"deck", "carrier end", "bridge plate", "bridge strip"}:
        return _off_carrier(design, pair, short)
    if "ground" in roles:
        return _off_ground(evaluation)
    away = short / 2 * (1 if design.fold.closing == "faces" else -1)
    height = design.joint.height_mm + away
    if abs(height) > 120:
        return None
    arm = design.stop.arm_mm - away if design.stop.kind == "butt" else design.stop.arm_mm
    return put(design, joint__height_mm=height, stop__arm_mm=arm)


def _off_carrier(design: Design, pair: tuple[Kin, Kin], short: MM) -> Design | None:
    """Return the design with more room between the ramp and what it hangs on."""
    inner, outer = design.inner_leaf, design.outer_leaf
    if {one.role for one in pair} == {"bracket stub", "rail"}:
        stub = supply.first_stub(design)
        if stub.width_mm < design.joining.bracket_section.width_mm:
            return put(design, joining__bracket_section=stub)
    if "outer" in {one.body for one in pair} and design.fold.closing == "faces":
        return alter.with_lengths(design, inner.length_mm, outer.length_mm - short)
    return put(design, deck_hinge__out_mm=design.deck_hinge.out_mm + short)


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
