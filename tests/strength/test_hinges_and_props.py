"""Props, their pins and feet by hand; which member speaks for stop bars and the rails under their tips."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from ramps import with_leaves
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import Section, parse_section
from rampdraft.strength.rails import Rails
from rampdraft.strength.resistance import column_resistance_n
from rampdraft.strength.stop import Stops, net_area_mm2
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, Utilisation


def propped() -> Design:
    design = timber_ramp()
    prop = replace(
        design.prop, fitted=True, under="outer", section=parse_section("box 30x30x2"), shortest_mm=150.0,
        longest_mm=900.0, foot_mm=100.0, pin_diameter_mm=10.0,
    )  # fmt: skip
    return replace(design, prop=prop)


def ratio(found: Evaluation, key: str) -> float:
    (one,) = (each.utilisation for each in found.verdicts if each.utilisation.family.key == key)
    assert isinstance(one, Utilisation)
    return one.ratio


def test_a_prop_with_its_pin_and_foot_by_hand() -> None:
    """N = 1.35 G + 1.5 Q: on the column at its longest, on a pin through both walls, on a plate."""
    design = propped()
    found = evaluate(design)
    joint = found.carried.joint
    force = 1.35 * joint.self_weight_prop_n + 1.5 * max(
        float(joint.prop_n[number].max()) for number in found.strengths.in_use
    )
    material = next(one for one in found.strengths.parts if one[0].key == "prop")[1].material
    bears = column_resistance_n(design.prop.section, 900.0, material, LIMIT_STATES)
    assert ratio(found, "prop") == pytest.approx(force / bears)
    # S235: in shear 0.6 A fup / gM2 in each of two planes, in bearing 1.5 t d fy / gM0 on two walls (EN
    # 1993-1-8, table 3.10).
    shear = force / (2 * 0.6 * math.pi * 25 * 360 / 1.25)
    bearing = force / (1.5 * 2 * 2 * 10 * 235)
    assert ratio(found, "prop-pin") == pytest.approx(max(shear, bearing))
    # A plate of 6 mm stands out 35 mm beside the leg.
    out, thick = (
        (100 - 30) / 2,
        next(m.piece.section.depth_mm for m in found.assembly.members if m.role == "prop foot"),
    )
    assert ratio(found, "foot") == pytest.approx(force / 100 * out**2 / 2 / (100 * thick**2 / 6) / 235)


def pierced() -> Design:
    """A short stout prop, box 40x40x3 with box 30x30x3 in it, of which a pin of 20 mm leaves little."""
    design = propped()
    prop = replace(
        design.prop,
        section=parse_section("box 40x40x3"),
        shortest_mm=225.0,
        longest_mm=360.0,
        pin_diameter_mm=20.0,
    )
    return replace(design, prop=prop)


def test_what_holes_leave_of_a_prop_by_hand() -> None:
    """EN 1993-1-1, 6.2.2.2 and 6.2.4 (3): empty holes are taken off in compression as well. Box 30x30x3 has
    301 mm2 (EN 10219-2, from memory); holes of 20.5 mm through both pairs of walls take 4 x 20.5 x 3 = 246.
    """
    design = pierced()
    found = evaluate(design)
    net_mm2 = net_area_mm2(design.prop)
    assert net_mm2 == pytest.approx(301 - 246, abs=0.5)
    joint = found.carried.joint
    force = 1.35 * joint.self_weight_prop_n + 1.5 * max(
        float(joint.prop_n[number].max()) for number in found.strengths.in_use
    )
    material = next(one for one in found.strengths.parts if one[0].key == "prop")[1].material
    used = force / (net_mm2 * material.yield_mpa)
    assert ratio(found, "prop") == pytest.approx(used)
    assert used > force / column_resistance_n(parse_section("box 30x30x3"), 360.0, material, LIMIT_STATES)
    for by, fails in ((0.99, False), (1.01, True)):
        weak = replace(
            design, materials=(replace(material, name="soft", yield_mpa=material.yield_mpa * used / by),)
        )
        weak = with_value(weak, "made_of.rails", "soft")
        assert (ratio(evaluate(weak), "prop") > 1) is fails


@pytest.mark.parametrize("pin_mm", [2.0, 11.5, 15.5])
def test_what_a_hole_leaves_of_a_solid_prop_as_a_disc_without_a_strip(pin_mm: float) -> None:
    prop = replace(propped().prop, section=parse_section("round 20"), pin_diameter_mm=pin_mm)
    half = (pin_mm + 0.5) / 2
    disc = shapely.Point(0.0, 0.0).buffer(10.0, quad_segs=2000)
    assert net_area_mm2(prop) == pytest.approx(
        disc.difference(shapely.box(-20, -half, 20, half)).area, rel=1e-5
    )


@pytest.mark.parametrize(("fixed_to", "other"), [("inner", "outer"), ("outer", "inner")])
def test_stop_bars_are_named_by_the_leaf_that_carries_them(fixed_to: str, other: str) -> None:
    design = with_value(with_value(timber_ramp(), "stop.kind", "lap"), "stop.fixed_to", fixed_to)
    design = with_value(design, "stop.section", parse_section("flat 20x70"))
    found = evaluate(design)
    told = {one.utilisation.family.key: one.utilisation for one in found.verdicts}
    assert told["stop"].family.member == f"{fixed_to} stop bar 1"
    assert told["lap-tip"].family.member == f"{other} rail 1"
    assert told["lap-tip"].family.leaf == other
    butting = {one.utilisation.family.key: one.utilisation.family for one in evaluate(timber_ramp()).verdicts}
    assert butting["stop"].member == "inner stop bar 1"
    assert "lap-tip" not in butting


def test_the_overall_factor_is_what_ultimate_strength_leaves() -> None:
    found = evaluate(timber_ramp())
    ultimate = found.strengths.utilisations(ULTIMATE, found.strengths.in_use)
    for verdict, other in zip(found.verdicts, ultimate, strict=True):
        assert isinstance(other, Utilisation)
        assert verdict.factor == pytest.approx(1 / other.ratio)


@pytest.mark.parametrize(("fitting", "judged"), [("between", True), ("under", True), ("half_lap", False)])
def test_timber_rails_are_judged_without_notches(fitting: str, judged: bool) -> None:
    timber = with_value(timber_ramp(), "made_of.rails", "timber C24")
    lap = {"half_lap_mm": 10.0} if fitting == "half_lap" else {}
    rail = Section(kind="timber", depth_mm=90, width_mm=20)
    design = with_leaves(timber, rail_section=rail, cross_fitting=fitting, **lap)
    parts = {family.key: part for family, part in evaluate(design).strengths.parts}
    assert isinstance(parts["inner-rails"], Rails) is judged


def test_a_notch_leaves_a_solid_rail_two_thirds_of_what_is_left_for_shear() -> None:
    """The greatest shear stress of a rectangle is 1.5 V / A, in a notch of 15 of 60 mm too."""
    design = with_leaves(
        timber_ramp(), rail_section=parse_section("flat 60x20"), cross_fitting="half_lap", half_lap_mm=15.0,
        cross_section=parse_section("flat 30x20"),
    )  # fmt: skip
    part = {family.key: part for family, part in evaluate(design).strengths.parts}["inner-rails"]
    assert isinstance(part, Rails)
    areas = {round(float(area), 6) for area in part.area}
    assert areas == {round(20 * 60 * 2 / 3, 6), round(20 * 45 * 2 / 3, 6)}


@pytest.mark.parametrize(("wide_mm", "beside"), [(860.0, (430, 772, 430)), (700.0, (386, 700, 386))])
def test_a_wide_lapping_plate_bears_each_pair_as_far_as_its_neighbours(wide_mm: float, beside) -> None:
    """Lanes at -386, 0 and 386: what is beyond the outer ones counts too, and no more than there is."""
    design = with_value(with_value(timber_ramp(), "stop.kind", "lap"), "stop.count", 1)
    plate = Section(kind="flat", depth_mm=12, width_mm=wide_mm)
    found = evaluate(replace(design, stop=replace(design.stop, section=plate)))
    part = {family.key: part for family, part in found.strengths.parts}["stop"]
    assert isinstance(part, Stops)
    assert part.crowd_nmm_mm * np.array(beside) == pytest.approx(found.carried.joint.moment_nmm)


@pytest.mark.parametrize(("count", "part"), [(1, 0.5), (2, 1.0), (3, 1.0), (4, 1.0)])
def test_a_row_of_bolts_has_no_more_than_all_of_its_plate(count: int, part: float) -> None:
    """The plate alone, 4 Mp / m: a single bolt has half of it."""
    two, other = (
        evaluate(
            replace(
                timber_ramp(), joining=replace(timber_ramp().joining, bolt_count=bolts, bracket_plate_mm=2.0)
            )
        )
        for bolts in (2, count)
    )
    # So thin a plate governs; the pull on a row is what its bolts have together.
    assert ratio(other, "bolts") == pytest.approx(ratio(two, "bolts") / part)


def test_sections_of_a_rail_are_told_from_its_own_hinge() -> None:
    found = evaluate(timber_ramp())
    parts = {family.key: part for family, part in found.strengths.parts}
    for key, forces, start in (("inner", found.carried.inner, 0.0), ("outer", found.carried.outer, 1350.0)):
        rails = parts[f"{key}-rails"]
        assert isinstance(rails, Rails)
        assert rails.along_mm == pytest.approx(forces.x_mm - start)
