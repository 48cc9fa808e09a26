"""Cures of welds, knuckles, pins, bolts, stop bars and props."""

import math
from dataclasses import replace
from typing import Final

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter, supply
from rampdraft.explore.proposals.alter import put
from rampdraft.explore.proposals.cures.cure import DEEPEST_THROAT_MM, Cure, ratio_of, stiffer
from rampdraft.model.design import BoltClass, BoltSize, Design
from rampdraft.model.sold import sold_sizes
from rampdraft.strength.bracket import least_beside_mm, least_edge_mm

GAP_MM: Final = 24.0
"""Rails of both leaves are no further apart than this."""

_SIZES: Final[tuple[BoltSize, ...]] = ("M5", "M6", "M8", "M10", "M12", "M16")


_CLASSES: Final[tuple[BoltClass, ...]] = ("4.6", "5.6", "8.8", "10.9")


def throat(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with thicker welds."""
    design = evaluation.design
    now = design.joining.weld_throat_mm
    if now >= DEEPEST_THROAT_MM:
        return None
    wanted = math.ceil(2 * now * min(ratio_of(check), 1.5)) / 2
    return put(design, joining__weld_throat_mm=min(max(wanted, now + 0.5), DEEPEST_THROAT_MM))


def pin(line: str) -> Cure:
    """Return the cure that takes a thicker pin for a hinge line."""

    def cure(evaluation: Evaluation, check: Check) -> Design | None:
        design = evaluation.design
        hinge = getattr(design, line)
        wanted = hinge.pin_diameter_mm * ratio_of(check) ** (1 / 3)
        most = min(hinge.knuckle_diameter_mm - 8, supply.bores_mm(design))
        sizes = [one.depth_mm for one in supply.rounds(design, design.made_of.fittings)]
        found = [one for one in sizes if hinge.pin_diameter_mm < one <= most]
        fits = [one for one in found if one >= wanted] or found[-1:]
        return put(design, **{f"{line}__pin_diameter_mm": fits[0]}) if fits else None

    return cure


def thicker_knuckle(line: str) -> Cure:
    """Return the cure that takes thicker knuckles for a hinge line."""

    def cure(evaluation: Evaluation, check: Check) -> Design | None:
        design = evaluation.design
        hinge = getattr(design, line)
        sizes = [one.depth_mm for one in supply.rounds(design, design.made_of.fittings)]
        now = hinge.knuckle_diameter_mm
        most = 65.0 if line == "joint" else 35.0
        found = [one for one in sizes if now < one <= most]
        wanted = [one for one in found if one >= now * min(ratio_of(check), 1.3)] or found[-1:]
        if not wanted:
            return None
        return put(design, **{f"{line}__knuckle_diameter_mm": wanted[0]})

    return cure


def longer_deck_knuckles(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with longer knuckles at the deck."""
    hinge = evaluation.design.deck_hinge
    longer = math.ceil(hinge.knuckle_length_mm * min(ratio_of(check), 1.3))
    return put(evaluation.design, deck_hinge__knuckle_length_mm=float(longer)) if longer <= 60 else None


def longer_joint_knuckles(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with longer knuckles at the joint, and so with lanes further apart; butting bars are
    as thick as the room between them.
    """
    design = evaluation.design
    if design.stop.kind == "butt":
        return None
    longer = design.joint.knuckle_length_mm + 6
    gap = longer + design.joint.side_gap_mm - design.inner_leaf.rail_section.width_mm
    return put(design, joint__knuckle_length_mm=longer) if gap <= GAP_MM else None


def bolts(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with thicker bolts at the brackets, then more, then stronger ones."""
    design, joining = evaluation.design, evaluation.design.joining
    at = _SIZES.index(joining.bolt_size)
    if at < len(_SIZES) - 1:
        return put(design, joining__bolt_size=_SIZES[at + 1], joining__bolt_edge_mm=joining.bolt_edge_mm + 3)
    if joining.bolt_count < 4:
        return put(design, joining__bolt_count=joining.bolt_count + 1)
    at = _CLASSES.index(joining.bolt_class)
    return put(design, joining__bolt_class=_CLASSES[at + 1]) if at < len(_CLASSES) - 1 else None


def bolt_plate(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a thicker plate at the brackets, then bolts further up."""
    joining = evaluation.design.joining
    if joining.bracket_plate_mm < 15:
        return put(evaluation.design, joining__bracket_plate_mm=joining.bracket_plate_mm + 2)
    if joining.bolt_arm_mm < 100:
        return put(evaluation.design, joining__bolt_arm_mm=joining.bolt_arm_mm + 20)
    return None


def bolt_edge(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with bolts further from the edge of their plate."""
    edge = evaluation.design.joining.bolt_edge_mm + 4
    return put(evaluation.design, joining__bolt_edge_mm=edge) if edge <= 60 else None


def bolt_beside(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with bolts further from the stub of their bracket."""
    beside = evaluation.design.joining.bolt_beside_mm + 4
    return put(evaluation.design, joining__bolt_beside_mm=beside) if beside <= 60 else None


def narrower_plate(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with plates narrow enough to lie beside each other: bolts nearer to their stub, then
    nearer to the edge, then fewer rails.
    """
    assert check.value is not None
    assert check.limit is not None
    design, joining = evaluation.design, evaluation.design.joining
    nearer = math.ceil(10 * (check.limit - check.value) / 2) / 10
    beside, edge = joining.bolt_beside_mm - nearer, joining.bolt_edge_mm - nearer
    if beside >= max(least_beside_mm(joining), 8):
        return put(design, joining__bolt_beside_mm=beside)
    if edge >= max(least_edge_mm(joining), 5):
        return put(design, joining__bolt_edge_mm=edge)
    count = len(design.inner_leaf.rail_lanes_mm)
    return alter.with_rail_count(design, count - 1) if count > 2 else None


def bracket(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with a stronger stub at the brackets."""
    design = evaluation.design
    section = stiffer(supply.stubs(design), design.joining.bracket_section, ratio_of(check))
    return put(design, joining__bracket_section=section) if section else None


def stop(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with deeper butting bars, or a thicker lapping plate."""
    design, stop = evaluation.design, evaluation.design.stop
    if stop.kind == "butt":
        deep = stop.section.depth_mm
        found = [
            one
            for one in supply.flats(design, design.made_of.fittings)
            if one.width_mm == stop.section.width_mm and deep < one.depth_mm <= design.stop.arm_mm
        ]
        return put(design, stop__section=found[0]) if found else None
    found = [one for one in supply.plates_mm(design, design.made_of.fittings) if one > stop.section.depth_mm]
    needed = stop.section.depth_mm * math.sqrt(ratio_of(check)) * 0.98
    fits = [one for one in found if one >= needed] or found[-1:]
    return put(design, stop__section=replace(stop.section, depth_mm=fits[0])) if fits else None


def thicker_bar(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with thicker butting bars, its lanes so much further apart."""
    design, stop = evaluation.design, evaluation.design.stop
    if stop.kind != "butt":
        return None
    now = stop.section
    found = [
        one
        for one in supply.flats(design, design.made_of.fittings)
        if now.width_mm < one.width_mm <= 20 and 18 <= one.depth_mm <= stop.arm_mm
    ]
    if not found:
        return None
    one = min(found, key=lambda one: (one.width_mm, one.depth_mm))
    wider = one.width_mm - now.width_mm
    length = design.joint.knuckle_length_mm + wider
    return put(design, stop__section=one, joint__knuckle_length_mm=length)


def longer_stop(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with stop bars that lie longer on their rails."""
    stop = evaluation.design.stop
    if stop.kind == "none" or stop.fixed_length_mm >= (120 if stop.kind == "butt" else 300):
        return None
    return put(evaluation.design, stop__fixed_length_mm=stop.fixed_length_mm + 20)


def longer_lap(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with stop bars that lap further."""
    design = evaluation.design
    lap = design.stop.lap_mm + 20
    return put(design, stop__lap_mm=lap) if design.stop.kind == "lap" and lap <= 200 else None


def prop_section(evaluation: Evaluation, check: Check) -> Design | None:
    """Return the design with a stronger prop."""
    design = evaluation.design
    section = stiffer(supply.boxes(design, design.made_of.rails), design.prop.section, ratio_of(check))
    return put(design, prop__section=section) if section else None


def prop_pin(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a thicker pin in its prop."""
    design = evaluation.design
    most = design.prop.section.width_mm / 2
    found = [
        one for one in sold_sizes(design, "prop.pin_diameter_mm") if design.prop.pin_diameter_mm < one <= most
    ]
    return put(design, prop__pin_diameter_mm=found[0]) if found else None


def prop_everywhere(evaluation: Evaluation, _: Check) -> Design | None:
    """Return the design with a prop under every rail."""
    return put(evaluation.design, prop__under="all") if evaluation.design.prop.fitted else None


def foot(way: int) -> Cure:
    """Return the cure that makes the foot of a prop larger, or smaller."""

    def cure(evaluation: Evaluation, _: Check) -> Design | None:
        foot = evaluation.design.prop.foot_mm + way * 20
        return put(evaluation.design, prop__foot_mm=foot) if 60 <= foot <= 400 else None

    return cure
