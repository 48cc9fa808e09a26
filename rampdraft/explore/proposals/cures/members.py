"""Cures of rails, slats, cross members and guards: stronger ones, more of them, closer together."""

import math

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter, supply
from rampdraft.explore.proposals.alter import put
from rampdraft.explore.proposals.cures.cure import guard_mm, leaf_of, ratio_of, stiffer, upright
from rampdraft.model.design import Design, Leaf
from rampdraft.model.section import Section


def rails(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with stronger rails in the leaf that the check speaks of."""
    design, name = evaluation.design, leaf_of(check)
    now: Section = getattr(design, name).rail_section
    found = upright(design)
    alike = [one for one in found if (one.depth_mm, one.width_mm) == (now.depth_mm, now.width_mm)]
    section = stiffer(alike, now, 0.9 * ratio_of(check)) or stiffer(found, now, ratio_of(check))
    return alter.with_rails(design, name, section) if section else None


def outer_rails(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with stronger rails in the outer leaf, which its taper weakens, then in the inner."""
    design = evaluation.design
    found = upright(design)
    for name in ("outer_leaf", "inner_leaf"):
        now: Section = getattr(design, name).rail_section
        alike = [one for one in found if (one.depth_mm, one.width_mm) == (now.depth_mm, now.width_mm)]
        if (section := stiffer(alike, now, ratio_of(check))) is not None:
            return alter.with_rails(design, name, section)
    return None


def wider_rails(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with the lightest rails that are wider: more of them lies on the ground."""
    design = evaluation.design
    now = design.outer_leaf.rail_section
    found = [
        one for one in upright(design) if one.width_mm > now.width_mm and one.depth_mm >= now.depth_mm - 10
    ]
    return alter.with_rails(design, "outer_leaf", found[0]) if found else None


def more_rails(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with one more rail a leaf."""
    design = evaluation.design
    count = len(design.inner_leaf.rail_lanes_mm)
    return alter.with_rail_count(design, count + 1) if count < 6 else None


def slats(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with wider slats where that does, else thicker ones."""
    design = evaluation.design
    now = alter.slat_of(design.inner_leaf)
    ratio = ratio_of(check)
    needed = now.depth_mm * math.sqrt(ratio) * 0.97
    room = [one for one in supply.slats(design) if one.depth_mm > now.depth_mm]
    wider = [
        one
        for one in supply.slats(design)
        if one.depth_mm == now.depth_mm and now.width_mm < one.width_mm <= 1.5 * now.width_mm
    ]
    if wider and ratio <= wider[0].width_mm / now.width_mm:
        return alter.with_slats(design, wider[-1])
    fits = next((one for one in room if one.depth_mm >= needed), room[-1] if room else None)
    if fits is None:
        return None
    return alter.guarded(alter.with_slats(design, fits), guard_mm(evaluation))


def crosses(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with stronger cross members."""
    design, name = evaluation.design, leaf_of(check)
    leaf = getattr(design, name)
    found = [
        one
        for one in supply.boxes(design, design.made_of.cross_members)
        if one.depth_mm <= leaf.rail_section.depth_mm and one.width_mm <= 50
    ]
    section = stiffer(found, leaf.cross_section, min(ratio_of(check), 1.5))
    return put(design, **{f"{name}__cross_section": section}) if section else None


def more_crosses(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with one more cross member."""
    design, name = evaluation.design, leaf_of(check)
    count = len(getattr(design, name).cross_positions_mm)
    return alter.with_crosses(design, name, count + 1) if count < 8 else None


def thicker_guards(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with thicker guards."""
    design = evaluation.design
    now, least = alter.guard_of(design.inner_leaf), guard_mm(evaluation)
    if now is None:
        return None
    wide = now.width_mm * math.sqrt(ratio_of(check)) * 0.98
    tall = least + design.inner_leaf.slat_thickness_mm
    found = [one for one in supply.guards(design) if one.width_mm > now.width_mm and one.depth_mm >= tall]
    fits = [one for one in found if one.width_mm >= wide] or found
    return alter.with_guards(design, fits[0]) if fits else None


def taller_guards(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with guards as high as is asked, where it had lower ones or none."""
    design, leaf = evaluation.design, evaluation.design.inner_leaf
    needed = (check.limit or 0.0) + leaf.slat_thickness_mm
    found = [one for one in supply.guards(design) if one.depth_mm >= needed and one.width_mm >= 4]
    return alter.with_guards(design, found[0]) if found else None


def closer_slats(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with one more slat a leaf, and so less gap."""
    design = evaluation.design
    for name in alter.BOTH:
        leaf: Leaf = getattr(design, name)
        gap = math.ceil(10 * (leaf.slat_pitch_mm - leaf.slat_width_mm)) / 10 - 0.2
        if gap > 0:
            closer = put(design, **{f"{name}__slat_greatest_gap_mm": gap})
            design = closer if getattr(closer, name).slat_pitch_mm < leaf.slat_pitch_mm else design
    return design if design != evaluation.design else None
