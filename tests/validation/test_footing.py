"""Wet grip, the toe on a slope, the thrust into the carrier, crowds.

Pendulum value to friction: conversion table of the US National Bureau of Standards. Crowd: EN 1991-1-1, 5
kN/m2 (from memory). EN 12184: a powered chair stops from 6 km/h within 1 m (from memory).
"""

from dataclasses import replace

import pytest

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.handling.thrust import STOPS_M_S2
from rampdraft.mechanics.loading.loads import persons
from rampdraft.mechanics.rolling.grip import friction
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.units import G_M_S2


def sample(name: str) -> Design:
    path = next(path for path in sample_paths() if path.stem == name)
    design = load_design(path)
    return replace(design, use=replace(design.use, rule_sets=()))


def judged(design: Design) -> dict[str, Check]:
    return {check.id: check for check in evaluate(design).checks}


@pytest.mark.parametrize(("value", "found"), [(31, 0.31), (36, 0.37), (50, 0.54), (82, 1.00)])
def test_friction_by_the_published_table(value: float, found: float) -> None:
    assert friction(value) == pytest.approx(found, abs=0.01)


def test_bare_metal_is_too_slippery_when_wet() -> None:
    """Wrong before: bare aluminium slats at 1 : 6.5 were within every limit."""
    bare = judged(with_value(starter_design(), "use.wet_grip", 20.0))["own/grip"]
    assert bare.fails
    assert "grit" in bare.why
    steepest = max(abs(pose.steepest.ratio) for pose in evaluate(starter_design()).sites)
    assert bare.limit == pytest.approx(friction(36) + steepest)


@pytest.mark.parametrize(("factor", "fails"), [(0.99, True), (1.0, False), (1.01, False)])
def test_grip_at_its_limit(factor: float, fails: bool) -> None:
    limit = judged(starter_design())["own/grip"].limit
    assert limit is not None
    mu = factor * limit
    assert (
        judged(with_value(starter_design(), "use.wet_grip", 330 * mu / (3 + mu)))["own/grip"].fails is fails
    )


@pytest.mark.parametrize(("slope", "fails"), [(0.297, False), (0.3, False), (0.303, True)])
def test_a_toe_slides_where_the_slope_is_more_than_the_friction(slope: float, fails: bool) -> None:
    design = starter_design()
    rising = ((0.0, 0.0), (2000.0, -300.0), (4000.0, -300.0 + 2000 * slope))
    site = replace(design.sites[0], ground_mm=rising)
    found = evaluate(replace(design, sites=(site,)))
    assert all(one.grounds_at_toe for one in found.sites)
    check = {one.id: one for one in found.checks}["own/toe-slides"]
    assert check.value == pytest.approx(slope)
    assert check.fails is fails


def test_a_carrier_on_wheels_must_be_held() -> None:
    """Wrong before: nothing held the library trailer where people come to a stop on it."""
    assert pytest.approx((6 / 3.6) ** 2 / 2) == STOPS_M_S2
    design = sample("library-trailer")
    found = evaluate(design)
    inner, outer = found.assembly.inner, found.assembly.outer
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    arms = inner.mass_kg * inner.centre_mm[0] + outer.mass_kg * (
        design.inner_leaf.length_mm + outer.centre_mm[0]
    )
    needed = 0.6 * arms * G_M_S2 / length + 300 * STOPS_M_S2
    for held, fails in ((0.0, True), (0.99, True), (1.0, False), (1.01, False)):
        check = judged(with_value(design, "road.held_n", held * needed))["own/carrier-held"]
        assert check.limit == pytest.approx(needed)
        assert check.fails is fails


def test_a_floor_that_cannot_move_is_not_asked() -> None:
    assert "own/carrier-held" not in judged(starter_design())


def test_a_crowd_is_told_as_persons() -> None:
    design = starter_design()
    crowd = judged(design)["own/crowd"]
    area = (design.inner_leaf.length_mm + design.outer_leaf.length_mm) * design.inner_leaf.width_mm / 1e6
    assert crowd.value == pytest.approx(5000 * area / G_M_S2)
    assert (crowd.warning_only, crowd.fails, persons(design)) == (True, False, 3)
    assert "no more than 3 persons" in crowd.why
    assert persons(with_value(design, "use.rated_load_kg", 299.9)) == 2


def test_a_user_at_the_edge_of_a_way_in_that_is_wider_than_the_ramp() -> None:
    """Two springs k at d to either side: lean = W y / 2 k d^2. The ramp is 860 mm wide, the way in 1000."""
    design = sample("library-trailer")
    design = replace(design, supports=tuple(one for one in design.supports if one.kind != "jack"))
    found = evaluate(design).standing
    assert found is not None
    climbs = [one for one in found.climbs if one.on_deck and one.user == "Book barrow" and not one.cargo]
    widest = 90 / 2  # of its single wheel, and of the feet behind it
    assert {one.across_mm for one in climbs} == {500 - widest, widest - 500}
    for one in climbs:
        lean = (120 + 75) * G_M_S2 * one.across_mm / (2 * 40 * 700**2)
        assert one.stances.lean_rad == pytest.approx(lean, rel=1e-6)
        assert "edge of the way in" in one.words
    narrow = replace(design, carrier=replace(design.carrier, opening_width_mm=870))
    for leaf in ("inner_leaf", "outer_leaf"):
        narrow = with_value(narrow, f"{leaf}.upstand_height_mm", 0.0)
    within = evaluate(with_value(narrow, "carrier.opening_width_mm", 860.0)).standing
    assert within is not None
    assert not any(one.on_deck for one in within.climbs)


def test_the_ground_that_slopes_most_is_found_among_several_sites() -> None:
    design = starter_design()
    slopes = (0.05, 0.2, 0.1)
    sites = tuple(
        replace(
            design.sites[0],
            name=f"Bank {number}",
            ground_mm=((0.0, 0.0), (2000.0, -300.0), (4000.0, -300.0 + 2000 * slope)),
        )
        for number, slope in enumerate(slopes, start=1)
    )
    found = evaluate(replace(design, sites=sites))
    assert found.toe_ground is not None
    assert found.toe_ground.slope == pytest.approx(0.2)
    assert found.toe_ground.site.site_number == 2


def test_how_far_the_toe_slides_is_told_of_the_site_where_it_slides_most() -> None:
    found = evaluate(sample("library-trailer"))
    at = {(pose.site_number, pose.state): pose.contact[0] for pose in found.sites}
    slid = [abs(at[number, "loaded"] - at[number, "empty"]) for number, state in at if state == "empty"]
    assert len(set(slid)) > 1
    assert min(slid) > 0.1
    assert found.thrust is not None
    assert found.thrust.slides_mm == pytest.approx(max(slid))
