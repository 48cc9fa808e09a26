"""What holds each member of a leaf, and what is in another's place: shapely is the second opinion."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

import pytest
from any_design import designs
from ramps import base_design
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from timber_ramp import timber_ramp

from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.attached import Attached, Touch, attached
from rampdraft.geometry.lanes import TOUCH_MM
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Member
from rampdraft.geometry.outline import clipped, rectangle
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import Section
from rampdraft.model.starter import starter_design

SAMPLES = [load_design(path) for path in sample_paths()]
RANDOM = 150


def found(design: Design) -> Attached:
    return attached(design, assemble(design))


def touch(design: Design, key: str) -> Touch:
    """Return the touch of a family, by the beginning of its member's key."""
    return next(one for one in found(design).touches if one.member.startswith(key))


def area(member: Member) -> Polygon:
    return Polygon(member.silhouette.points(0.01)).buffer(0)


# In one place
# --------------------------------------------------------------------------------------

MADE_FOR_ONE_ANOTHER = {
    frozenset(pair)
    for pair in (
        ("pin", "knuckle"),
        ("pin", "washer"),
        ("pin", "rail"),
        ("washer", "rail"),
        ("washer", "knuckle"),
        ("rail", "knuckle"),
        ("knuckle",),
        ("pin",),
        ("washer",),
    )
}


def by_shapely(design: Design) -> dict[frozenset[str], float]:
    """Return how deep members of a leaf are in one another, by the keys of both; where one is cut for the
    other it is left out, and a taper plate, which lies inside its rail.
    """
    deep: dict[frozenset[str], float] = {}
    for body, leaf in (("inner", design.inner_leaf), ("outer", design.outer_leaf)):
        members = [one for one in assemble(design).members if one.body == body and one.role != "taper plate"]
        areas = {one.key: area(one) for one in members}
        for one, other in combinations(members, 2):
            roles = frozenset((one.role, other.role))
            across = min(one.y1_mm, other.y1_mm) - max(one.y0_mm, other.y0_mm)
            lapped = leaf.cross_fitting == "half_lap" and roles == {"rail", "cross member"}
            alike = len(roles) == 1 and "latch" not in roles and "latch hook" not in roles
            if across <= TOUCH_MM or roles in MADE_FOR_ONE_ANOTHER or alike or lapped:
                continue
            common = areas[one.key].intersection(areas[other.key])
            if common.area > 0:
                u0, w0, u1, w1 = common.bounds
                deep[frozenset((one.key, other.key))] = min(u1 - u0, w1 - w0, across)
    return deep


def agree(design: Design) -> int:
    """Hold what is found in one place to shapely, and return how many pairs of families are."""
    own = {frozenset(one.members): one.depth_mm for one in found(design).through}
    other = by_shapely(design)
    for pair, depth in own.items():
        assert depth == pytest.approx(other[pair], abs=0.02), sorted(pair)
    members = {one.key: one for one in assemble(design).members}
    deepest: dict[frozenset[object], float] = {}
    for pair, depth in other.items():
        kins = frozenset(members[key].kin for key in pair)
        deepest[kins] = max(deepest.get(kins, 0.0), depth)
    told = {frozenset(members[key].kin for key in pair): depth for pair, depth in own.items()}
    for kins, depth in deepest.items():
        assert told.get(kins, 0.0) == pytest.approx(depth, abs=0.02), kins
    return len(own)


@pytest.mark.parametrize(
    "design", [*SAMPLES, starter_design(), base_design()], ids=lambda one: one.about.name
)
def test_what_is_in_one_place_is_what_shapely_finds(design: Design) -> None:
    agree(design)


def test_what_is_in_one_place_is_what_shapely_finds_in_random_ramps() -> None:
    assert sum(agree(design) > 0 for design in designs(RANDOM)) > RANDOM / 10


def test_a_butting_bar_above_the_rails_passes_through_the_slats_beside_it() -> None:
    """The wrong case: the starter's bars at 68 mm stood 5 mm into slats 8 mm thick."""
    through = found(with_value(starter_design(), "stop.arm_mm", 68.0)).through
    assert [(one.members, one.depth_mm) for one in through] == [
        (("inner slat 12", "inner stop bar 1"), pytest.approx(5)),
        (("outer slat 1", "outer stop bar 1"), pytest.approx(5)),
    ]
    assert not found(starter_design()).through


# What touches
# --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arm", "touches", "gap"),
    [
        (63, 60, 0),
        (68, 60, 0),
        (79.5, 60, 0),  # 3.5 mm of the bar beside the rail, as high as a throat
        (80, 0, 0),
        (84, 0, 1),
        (100, 0, 17),
    ],
)
def test_a_butting_bar_touches_the_side_of_its_rail_or_floats(arm: float, touches: float, gap: float) -> None:
    """Wrong until now: at 100 mm it floats 17 mm above the rails (100 - 63 - 20)."""
    one = touch(with_value(starter_design(), "stop.arm_mm", float(arm)), "inner stop")
    assert one.touches_mm == pytest.approx(touches)
    assert one.gap_mm == pytest.approx(gap)


@pytest.mark.parametrize(("gap", "touches"), [(0, 100), (2, 100), (2.5, 0)])
def test_a_lapping_bar_lies_on_its_rails_with_a_gap_that_a_weld_bridges(gap: float, touches: float) -> None:
    stop = replace(
        base_design().stop,
        kind="lap",
        fixed_to="inner",
        fixed_length_mm=100.0,
        lap_mm=60.0,
        gap_mm=float(gap),
        section=Section(kind="flat", depth_mm=12, width_mm=200),
    )
    one = touch(replace(base_design(), stop=stop), "inner stop")
    assert one.touches_mm == pytest.approx(touches)


def test_a_knuckle_that_stands_clear_of_its_rail_is_held_by_nothing() -> None:
    design = with_value(base_design(), "deck_hinge.height_mm", 20.0)
    radius = design.deck_hinge.knuckle_diameter_mm / 2
    assert touch(design, "inner deck knuckle").touches_mm == (0.0 if radius < 18 else pytest.approx(84))
    one = touch(with_value(design, "deck_hinge.height_mm", 40.0), "inner deck knuckle")
    assert (one.touches_mm, one.gap_mm) == (0, pytest.approx(40 - radius))


def test_a_slat_stands_out_over_the_end_of_its_rail() -> None:
    design = with_value(base_design(), "inner_leaf.slat_first_mm", -40.0)
    one = touch(design, "inner slat")
    assert (one.member, one.over_mm) == ("inner slat 1", pytest.approx(40))
    assert one.touches_mm == pytest.approx(design.inner_leaf.slat_width_mm - 40)


@pytest.mark.parametrize(
    ("at_mm", "edge_mm"),
    [
        (900.0, 2 * (20 + 20)),
        # The taper begins at 1300 - 300, the underside of rails 20 wide leaves the cross member there.
        (1004.0, 2 * (6 + 20)),
        (1012.0, 0.0),
        (1200.0, 0.0),
    ],
)
def test_a_cross_member_under_the_rails_lies_where_they_are_level(at_mm: float, edge_mm: float) -> None:
    """All round where it crosses a rail 20 wide, 20 wide itself."""
    design = with_value(timber_ramp(), "outer_leaf.cross_fitting", "under")
    design = with_value(design, "outer_leaf.cross_positions_mm", (at_mm,))
    design = replace(design, toe=replace(design.toe, kind="taper", length_mm=300.0, thickness_mm=10.0))
    assert touch(design, "outer cross").touches_mm == pytest.approx(edge_mm, abs=1e-9)


def test_of_the_starter_nothing_floats_and_nothing_but_slats_has_an_overhang() -> None:
    told = {(one.over_mm, one.gap_mm) for one in found(starter_design()).touches if one.kin.role != "slat"}
    assert told == {(0.0, 0.0)}


def rails_and(design: Design, role: str) -> Iterable[tuple[Member, Member]]:
    """Yield each member of a role with each rail of its leaf."""
    members = assemble(design).members
    for one in members:
        if one.role == role:
            yield from ((one, rail) for rail in members if rail.role == "rail" and rail.body == one.body)


def by_shapely_edge(design: Design, body: str) -> float:
    """Return the least edge of a cross member's end, fitted between, that lies on a rail beside it."""
    least = float("inf")
    for cross, rail in rails_and(design, "cross member"):
        if cross.body == body and max(cross.y0_mm - rail.y1_mm, rail.y0_mm - cross.y1_mm) < TOUCH_MM:
            face = area(rail).buffer(1e-7)
            least = min(least, LineString([*area(cross).exterior.coords]).intersection(face).length)
    return least


def test_the_edge_of_cross_members_is_what_shapely_finds() -> None:
    seen = 0
    for design in (*SAMPLES, *designs(60, seed=3)):
        for one in found(design).touches:
            leaf = design.inner_leaf if one.kin.body == "inner" else design.outer_leaf
            if one.kin.role == "cross member" and leaf.cross_fitting == "between":
                expected = by_shapely_edge(design, one.kin.body)
                assert one.touches_mm == pytest.approx(expected, abs=0.05)
                seen += 1
    assert seen > 20


def test_where_bars_touch_is_what_shapely_finds() -> None:
    """Never more than there is; in one of twenty at most it is told as less, beside an end that is cut."""
    seen = alike = 0
    for design in (*SAMPLES, *designs(60, seed=5)):
        for one in (one for one in found(design).touches if one.kin.role == "stop bar"):
            most: dict[str, float] = {}
            for bar, rail in rails_and(design, "stop bar"):
                if (
                    bar.body != one.kin.body
                    or max(bar.y0_mm - rail.y1_mm, rail.y0_mm - bar.y1_mm) > 2 + TOUCH_MM
                ):
                    continue
                over = min(bar.y1_mm, rail.y1_mm) - max(bar.y0_mm, rail.y0_mm) > TOUCH_MM
                length = _beside(bar, rail, design.joining.weld_throat_mm) or (
                    _lies_on(bar, rail) if over else 0.0
                )
                most[bar.key] = max(most.get(bar.key, 0.0), length)
            assert one.touches_mm <= min(most.values()) + 0.05
            alike += abs(one.touches_mm - min(most.values())) <= 0.05
            seen += 1
    assert seen > 20
    assert alike >= 0.95 * seen


def _longest(line: BaseGeometry) -> float:
    parts = getattr(line, "geoms", [line])
    return max((part.bounds[2] - part.bounds[0] for part in parts if not part.is_empty), default=0.0)


def _beside(bar: Member, rail: Member, throat: float) -> float:
    """Return the shorter of both edges of what the sides of a bar and a rail have in common."""
    u0, w0, u1, w1 = area(bar).bounds
    _, bottom, _, top = area(rail).bounds
    low, high = max(w0, bottom), min(w1, top)
    if high - low < throat - TOUCH_MM:
        return 0.0
    lines = (LineString([(u0, at), (u1, at)]) for at in (low + 1e-4, high - 1e-4))
    return min(_longest(line.intersection(area(rail))) for line in lines)


def _lies_on(bar: Member, rail: Member) -> float:
    """Return how much of a rail's top or underside lies within 2 mm of a bar over it."""
    u0, w0, u1, w1 = area(bar).bounds
    _, bottom, _, top = area(rail).bounds
    level = top if w0 > (top + bottom) / 2 else bottom
    if min(abs(w0 - level), abs(w1 - level)) > 2 + TOUCH_MM:
        return 0.0
    line = area(rail).exterior.intersection(box(u0, level - 1e-7, u1, level + 1e-7))
    return _longest(line)


def test_clipping_is_what_shapely_finds() -> None:
    for cross, rail in rails_and(SAMPLES[0], "slat"):
        by = rectangle(*area(rail).bounds).points(0.01)
        kept = clipped([(u, w - 5) for u, w in cross.silhouette.points(0.01)], by)
        expected = (
            Polygon([(u, w - 5) for u, w in cross.silhouette.points(0.01)]).intersection(Polygon(by)).area
        )
        assert (Polygon(kept).area if len(kept) > 2 else 0.0) == pytest.approx(expected)
