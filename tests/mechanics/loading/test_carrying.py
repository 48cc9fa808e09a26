"""What the members carry, against statics done the long way: every place tried one by one, forces from
equilibrium.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.lanes import stop_intervals_mm
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.loads import (
    Axle,
    Footprint,
    Load,
    PerMetre,
    Rolling,
    lateral_places_mm,
    user_loads,
)
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Prop, StopBars
from rampdraft.model.section import parse_section
from rampdraft.units import G_M_S2

BARS = StopBars(
    kind="butt",
    count=2,
    section=parse_section("flat 20x24"),
    fixed_to="inner",
    fixed_length_mm=80,
    lap_mm=60,
    arm_mm=40,
    gap_mm=0.5,
)
LEG = Prop(fitted=True, section=parse_section("box 30x30x2"), shortest_mm=100, longest_mm=300, foot_mm=100)


def ramp(*, propped: bool = False) -> Design:
    """Return a ramp of odd sizes, so that nothing is symmetrical by chance."""
    design = timber_ramp()
    inner = replace(design.inner_leaf, length_mm=1310.0)
    return replace(design, inner_leaf=inner, stop=BARS, prop=replace(LEG, fitted=propped))


def shares(lanes: tuple[float, ...], y: float) -> list[float]:
    """Return the lever rule, by moments about the neighbouring lane."""
    pair = 0
    for index, (_, b) in enumerate(pairwise(lanes)):
        pair = index
        if y <= b:
            break
    a, b = lanes[pair], lanes[pair + 1]
    found = [0.0] * len(lanes)
    found[pair], found[pair + 1] = (b - y) / (b - a), (y - a) / (b - a)
    return found


def bays(design: Design) -> list[tuple[float, float]]:
    a, length = design.inner_leaf.length_mm, design.inner_leaf.length_mm + design.outer_leaf.length_mm
    return [(0.0, a), (a, length)] if design.prop.fitted else [(0.0, length)]


def cut(design: Design, forces: list[tuple[float, float]], x: float) -> tuple[float, float]:
    """Return (moment, shear) at x under forces (place, N) by cutting the span and summing what lies on the
    deck's side.
    """
    start, end = next((a, b) for a, b in bays(design) if a <= x <= b)
    on = [(at, force) for at, force in forces if start <= at <= end]
    near = sum(force * (end - at) for at, force in on) / (end - start)
    moment = near * (x - start) - sum(force * (x - at) for at, force in on if at < x)
    return moment, near - sum(force for at, force in on if at < x)


def trains(design: Design, load: Rolling, lanes: tuple[float, ...]) -> list[tuple[tuple[Axle, ...], float]]:
    """Return both ways round, at the edges, in the middle, and with any wheel over any inner lane."""
    low, middle, high = lateral_places_mm(design, load.axles)
    over = {
        lane + side * axle.track_mm / 2 for lane in lanes[1:-1] for axle in load.axles for side in (-1, 1)
    }
    places = {low, middle, high, *(min(max(y, low), high) for y in over)}
    return [(axles, y) for axles in load.ways for y in sorted(places)]


def on_lane(lanes: tuple[float, ...], axles: tuple[Axle, ...], middle: float, lane: int) -> list[float]:
    """Return what one lane takes of each axle."""
    return [
        axle.force_n * sum(shares(lanes, middle + side * axle.track_mm / 2)[lane] for side in (-1, 1)) / 2
        for axle in axles
    ]


PLACES = np.linspace(-1200, 3200, 1201)
"""Of the first axle: finer than the influence lines bend."""


@pytest.fixture(scope="module", params=[False, True], ids=["one span", "over a prop"])
def case(request: pytest.FixtureRequest) -> tuple[Design, tuple[Load, ...], Carried]:
    design = ramp(propped=request.param)
    loads: tuple[Load, ...] = (
        *user_loads(design, (0.16, 0.0)),
        Footprint(key="r/a", demanded="r/a", words="patch", force_n=2700, across_mm=660.4, along_mm=660.4),
        PerMetre(key="r/b", demanded="r/b", words="spread", n_mm=4.0),
    )
    return design, loads, carry(design, assemble(design).leaves_kg, loads)


@pytest.mark.parametrize("body", ["inner", "outer"])
def test_envelopes_are_those_of_every_place_tried_one_by_one(
    case: tuple[Design, tuple[Load, ...], Carried], body: str
) -> None:
    design, loads, carried = case
    forces = carried.inner if body == "inner" else carried.outer
    lanes = (design.inner_leaf if body == "inner" else design.outer_leaf).rail_lanes_mm
    sections = (2, len(forces.x_mm) // 2, len(forces.x_mm) - 3)
    for number, load in enumerate(loads):
        if not isinstance(load, Rolling):
            continue
        for rail in range(len(lanes)):
            tried = [
                (on_lane(lanes, axles, y, rail), [axle.offset_mm for axle in axles])
                for axles, y in trains(design, load, lanes)
            ]
            for index in sections:
                x = float(forces.x_mm[index])
                cuts = [
                    cut(
                        design,
                        [(first + offset, force) for force, offset in zip(parts, offsets, strict=True)],
                        x,
                    )
                    for parts, offsets in tried
                    for first in PLACES
                ]
                most, shear = max(moment for moment, _ in cuts), max(abs(force) for _, force in cuts)
                assert forces.moment_nmm[number, rail, index] >= most - 1e-6 * abs(most), (
                    "never below any place"
                )
                assert forces.moment_nmm[number, rail, index] == pytest.approx(most, rel=0.01, abs=200)
                assert forces.shear_n[number, rail, index] >= shear - 1e-6
                assert forces.shear_n[number, rail, index] == pytest.approx(shear, rel=0.01, abs=2)


def test_a_patch_in_the_middle_and_a_load_by_the_metre_are_spread_among_the_rails(
    case: tuple[Design, tuple[Load, ...], Carried],
) -> None:
    design, loads, carried = case
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    width = min(design.inner_leaf.width_mm, design.outer_leaf.width_mm)
    lanes, x = design.inner_leaf.rail_lanes_mm, float(carried.inner.x_mm[9])
    for number, load in enumerate(loads[-2:], start=len(loads) - 2):
        assert isinstance(load, Footprint | PerMetre)
        across, along = (load.across_mm, load.along_mm) if isinstance(load, Footprint) else (width, length)
        total = load.force_n if isinstance(load, Footprint) else load.n_mm * length
        ys = (np.arange(400) + 0.5) / 400 * across - across / 2
        share = np.mean([shares(lanes, float(y)) for y in ys], axis=0)
        at = length / 2 - along / 2 + (np.arange(4000) + 0.5) / 4000 * along
        moment, _ = cut(design, [(float(one), total / 4000) for one in at], x)
        assert carried.inner.moment_nmm[number, :, 9] == pytest.approx(share * moment, rel=2e-3, abs=50)
        assert share.sum() == pytest.approx(1)


def test_supports_carry_the_whole_load_between_them(case: tuple[Design, tuple[Load, ...], Carried]) -> None:
    """Statics: a load by the metre is all on hinge, prop and toe; the ramp's own weight too."""
    design, loads, carried = case
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    whole = carried.hinge_n[-1].sum() + carried.toe_n[-1] + carried.joint.prop_n[-1].sum()
    assert whole == pytest.approx(4.0 * length)
    assembly = assemble(design)
    own = (
        carried.self_weight_hinge_n * len(design.inner_leaf.rail_lanes_mm)
        + carried.self_weight_toe_n
        + 2 * carried.joint.self_weight_prop_n
    )
    assert own == pytest.approx(G_M_S2 * (assembly.inner.mass_kg + assembly.outer.mass_kg), rel=1e-6)
    assert loads[-1].key == "r/b"


def test_the_joint_hands_all_its_moment_to_the_stop_bars(
    case: tuple[Design, tuple[Load, ...], Carried],
) -> None:
    """Over a prop there is none. Two bars: all that the rails bring is held by both together, wherever the
    wheels are.
    """
    design, loads, carried = case
    if design.prop.fitted:
        assert not carried.joint.moment_nmm.any()
        return
    joint, lanes = design.inner_leaf.length_mm, design.inner_leaf.rail_lanes_mm
    bars = tuple((y0 + y1) / 2 for y0, y1 in stop_intervals_mm(design))
    load = loads[0]
    assert isinstance(load, Rolling)
    for bar in range(len(bars)):
        most = 0.0
        for axles, y in trains(design, load, lanes):
            parts = [on_lane(lanes, axles, y, rail) for rail in range(len(lanes))]
            for first in PLACES:
                moments = [
                    cut(
                        design,
                        [(first + axle.offset_mm, part) for axle, part in zip(axles, row, strict=True)],
                        joint,
                    )[0]
                    for row in parts
                ]
                most = max(
                    most,
                    sum(
                        moment * shares(bars, lane)[bar] for moment, lane in zip(moments, lanes, strict=True)
                    ),
                )
        assert carried.joint.stop_moment_nmm[0, bar] == pytest.approx(most, rel=0.01)
    spread = carried.joint.stop_moment_nmm[-1].sum()
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    assert spread == pytest.approx(4.0 * joint * (length - joint) / 2), "q a b / 2"


def test_sag_is_the_integral_of_the_curvature(case: tuple[Design, tuple[Load, ...], Carried]) -> None:
    """Own weight: the moment is integrated twice over E I by finite differences on a fine mesh."""
    design, _, carried = case
    assert carried.sag is not None
    assembly, elastic = assemble(design), material_named(design, design.made_of.rails).elastic_mpa
    for start, end in bays(design):
        x = np.linspace(start, end, 4001)
        joint = design.inner_leaf.length_mm
        q = np.where(
            x < joint,
            assembly.inner.mass_kg * G_M_S2 / joint / len(design.inner_leaf.rail_lanes_mm),
            assembly.outer.mass_kg
            * G_M_S2
            / design.outer_leaf.length_mm
            / len(design.outer_leaf.rail_lanes_mm),
        )
        stiff = elastic * np.where(
            x < joint,
            properties(design.inner_leaf.rail_section).second_moment_mm4,
            properties(design.outer_leaf.rail_section).second_moment_mm4,
        )
        moment = _twice(x, q)
        sag = _twice(x, moment / stiff)
        inside = (carried.sag.x_mm >= start) & (carried.sag.x_mm <= end)
        expected = np.interp(carried.sag.x_mm[inside], x, sag)
        assert carried.sag.self_weight_mm[inside] == pytest.approx(expected, rel=2e-3, abs=1e-4)


def _twice(x: np.ndarray, load: np.ndarray) -> np.ndarray:
    """Return minus the second integral of a load over a simple span, nothing at both ends."""
    step = np.diff(x)
    once = np.concatenate(([0.0], np.cumsum((load[1:] + load[:-1]) / 2 * step)))
    twice = np.concatenate(([0.0], np.cumsum((once[1:] + once[:-1]) / 2 * step)))
    return twice[-1] * (x - x[0]) / (x[-1] - x[0]) - twice


def test_the_worst_place_is_where_the_moment_comes(case: tuple[Design, tuple[Load, ...], Carried]) -> None:
    design, loads, carried = case
    for place in carried.worst:
        load = loads[place.load]
        if not isinstance(load, Rolling):
            continue
        axles = load.ways[place.way]
        lanes = (design.inner_leaf if place.leaf == "inner" else design.outer_leaf).rail_lanes_mm
        parts = on_lane(lanes, axles, place.across_mm, place.rail - 1)
        forces = [
            (place.first_axle_mm + axle.offset_mm, part) for axle, part in zip(axles, parts, strict=True)
        ]
        assert cut(design, forces, place.section_mm)[0] == pytest.approx(place.moment_nmm, rel=1e-5)


def test_bumps_raise_forces_and_not_the_sag() -> None:
    design = ramp()
    smooth, rough = (replace(design, use=replace(design.use, bump_factor=factor)) for factor in (1.0, 1.4))
    one, other = (
        carry(each, assemble(each).leaves_kg, tuple(user_loads(each, (0.1,)))) for each in (smooth, rough)
    )
    assert other.inner.moment_nmm == pytest.approx(1.4 * one.inner.moment_nmm)
    assert one.sag is not None
    assert other.sag is not None
    assert other.sag.load_mm == pytest.approx(one.sag.load_mm)
