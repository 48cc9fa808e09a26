"""Clearance over the fold against plain polygons at many poses: what is certified holds, what is found is
there.
"""

import math
import random
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from plain_clearance import MEANT_TO_TOUCH, Scene, across, changed, designs, placed, polygon
from ramps import base_assembly, base_design, base_fold
from tries import first, tries

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.linkage import Pose, placings
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import INSIDE, Assembly, Body, Member
from rampdraft.geometry.outline import rectangle
from rampdraft.mechanics.folding.clearance import clashing_at, closer_than, fold_clearance
from rampdraft.mechanics.folding.folding import fold_path
from rampdraft.mechanics.results import ClashingPair, Clearance, FoldPath, PairClearance
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design, Obstacle

TOLERANCE_MM = 0.05
"""The certified bound lies within this of the clearance that was found (model.md 3) ..."""

TOLERANCE_SHARE = 0.05
"""... or, where there is more than demanded, within this share of the excess."""

CONTACT_DEPTH_MM = 0.05
SAGITTA_MM = 0.02
"""How deep parts that are meant to touch may press, and how close chords follow a cope's arc."""

ROUNDING_MM = 1e-4
"""Of polygons with corners 1e5 mm away, and of shapely's arcs."""


def found_for(design: Design) -> tuple[Assembly, FoldPath, Clearance]:
    assembly, site = assemble(design), design.sites[0]
    path = fold_path(design, site, stand(design, assembly, site, 1).pose)
    return assembly, path, fold_clearance(design, assembly, path, site)


def promised(pair: PairClearance, demanded_mm: float) -> float:
    return max(TOLERANCE_MM, TOLERANCE_SHARE * (pair.clearance_mm - demanded_mm))


def assert_holds(design: Design, poses: int) -> None:
    """Try the claims of a design's clearance at `poses` evenly spaced shares of the path, and close about the
    tightest places.
    """
    assembly, path, clearance = found_for(design)
    scene = Scene(design, assembly)
    pairs = {pair.what: pair for pair in clearance.pairs if not is_of_bridge_plate(pair)}
    judged = set(scene.families.tolist()) - MEANT_TO_TOUCH
    assert judged <= set(pairs)
    for what, pair in pairs.items():
        if what in MEANT_TO_TOUCH:
            assert pair.clearance_mm < -CONTACT_DEPTH_MM
        assert pair.certified_mm <= pair.clearance_mm
        assert pair.clearance_mm - pair.certified_mm <= promised(pair, design.fold.clearance_mm) + ROUNDING_MM
        assert pair.pose == path.pose(pair.at)
        there = scene.nearest(pair.pose, {what: math.inf})[what]
        if pair.clearance_mm > 0:
            assert pair.certified_mm - ROUNDING_MM <= there <= pair.clearance_mm + SAGITTA_MM + ROUNDING_MM
        else:
            assert there <= SAGITTA_MM
    certified = {
        what: pair.certified_mm - ROUNDING_MM for what, pair in pairs.items() if pair.clearance_mm > 0
    }
    for share in shares_to_try(path, clearance, poses):
        assert not scene.nearest(path.pose(share), certified), "nothing comes nearer than certified"
    assert_contacts_are_no_more_than_contacts(scene, path, set(pairs))
    assert_curve(scene, path, clearance, design.fold.clearance_mm)


def shares_to_try(path: FoldPath, clearance: Clearance, poses: int) -> list[float]:
    tenth = 0.1 * math.pi / 180
    near: list[float] = []
    for pair in clearance.pairs[:6]:
        a, b = path.pose(max(0, pair.at - 1e-4)), path.pose(min(1, pair.at + 1e-4))
        turn = max(abs(b.inner_rad - a.inner_rad), abs(b.fold_rad - a.fold_rad)) / 2e-4  # radians a share
        near += [min(1.0, max(0.0, pair.at + k * tenth / max(turn, 1e-3))) for k in (-3, -2, -1, 1, 2, 3)]
    rng = random.Random(5)
    return [*near, *np.linspace(0, 1, poses).tolist(), *(rng.random() for _ in range(poses // 4))]


def assert_contacts_are_no_more_than_contacts(scene: Scene, path: FoldPath, told: set[str]) -> None:
    """What is meant to touch, and is not told as a clash, presses no deeper than is allowed."""
    quiet = np.array(
        [family in MEANT_TO_TOUCH - {"ground - outer toe flap"} - told for family in scene.families]
    )
    if not quiet.any():
        return
    for share in np.linspace(0, 1, 40):
        a, b = scene.at(path.pose(float(share)), quiet)
        worn = shapely.buffer(b, -CONTACT_DEPTH_MM - SAGITTA_MM, join_style="mitre")
        assert not shapely.intersects(a, worn).any()


def assert_curve(scene: Scene, path: FoldPath, clearance: Clearance, demanded_mm: float) -> None:
    """The curve is the least distance of all pairs at each share, contacts left out."""
    assert not clearance.at.flags.writeable
    assert not clearance.clearance_mm.flags.writeable
    assert clearance.at.shape == clearance.clearance_mm.shape
    assert (clearance.at[0], clearance.at[-1]) == (0, 1)
    all_families = dict.fromkeys(set(scene.families.tolist()) - MEANT_TO_TOUCH, math.inf)
    for share, value in zip(clearance.at[::4], clearance.clearance_mm[::4], strict=True):
        least = min(scene.nearest(path.pose(float(share)), all_families).values())
        if value >= 0:
            assert least == pytest.approx(value, abs=SAGITTA_MM + ROUNDING_MM)
        elif not clearance.spans_clashing:
            pytest.fail("a clash on the curve and none told")
    low = float(clearance.clearance_mm.min())
    assert clearance.tightest.certified_mm <= low + ROUNDING_MM
    assert clearance.tightest.clearance_mm <= low + promised(clearance.tightest, demanded_mm) + ROUNDING_MM
    for start, end in clearance.spans_clashing:
        within = (clearance.at >= start) & (clearance.at <= end)
        assert (clearance.clearance_mm[within] < 0).all()


@pytest.mark.parametrize("name", first(3, sorted(designs())))
def test_every_sample_by_plain_polygons(name):
    assert_holds(designs()[name], poses=60)


@pytest.mark.soak
@pytest.mark.parametrize("name", sorted(designs()))
def test_every_sample_by_plain_polygons_everywhere(name):
    assert_holds(designs()[name], poses=3000)


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 10), round(high * 10)).map(lambda value: value / 10)


MUTATIONS = {
    "fold__closing": st.sampled_from(("backs", "faces")),
    "fold__closed_deg": tenths(150, 180),
    "fold__stowed_deg": tenths(60, 110),
    "fold__clearance_mm": tenths(0, 20),
    "joint__height_mm": tenths(-90, 90),
    "deck_hinge__height_mm": tenths(-45, 20),
    "deck_hinge__below_mm": tenths(0, 90),
    "deck_hinge__out_mm": tenths(-20, 90),
    "joint__knuckle_diameter_mm": tenths(20, 50),
    "joint__running_clearance_mm": tenths(0, 5),
    "inner_leaf__length_mm": tenths(1250, 1500),
    "outer_leaf__length_mm": tenths(1200, 1400),
    "inner_leaf__slat_pitch_mm": tenths(96, 140),
    "outer_leaf__slat_first_mm": tenths(-40, 60),
    "inner_leaf__upstand_height_mm": st.one_of(st.just(0.0), tenths(5, 90)),
    "outer_leaf__upstand_start_mm": tenths(0, 90),
    "outer_leaf__cross_fitting": st.sampled_from(("between", "under")),
    "carrier__deck_height_mm": tenths(300, 700),
    "toe__kind": st.sampled_from(("plain", "taper", "flap")),
    "toe__carried_deg": st.sampled_from((0.0, 90.0, 170.0, 180.0)),
    "stop__kind": st.sampled_from(("none", "butt")),
}


@given(values=st.fixed_dictionaries({}, optional=MUTATIONS))
@settings(max_examples=tries(8), suppress_health_check=[HealthCheck.filter_too_much])
def test_any_ramp_by_plain_polygons(values):
    design = changed(designs()["starter"], **values)
    assume(not problems_of(design))
    assert_holds(design, poses=30)


@pytest.mark.soak
@given(values=st.fixed_dictionaries(MUTATIONS))
@settings(max_examples=tries(120), suppress_health_check=[HealthCheck.filter_too_much])
def test_any_ramp_by_plain_polygons_for_long(values):
    design = changed(designs()["starter"], **values)
    assume(not problems_of(design))
    assert_holds(design, poses=120)


# Planted pairs
# --------------------------------------------------------------------------------------------------------


def block(key: str, body: Body, u: float, w: float, half: float) -> Member:
    """Return a small square member far out across, where nothing else is but ground and deck."""
    like = next(one for one in base_assembly().members if one.role == "edge upstand" and one.body == body)
    shape = rectangle(u - half, w - half, u + half, w + half)
    return replace(like, key=key, silhouette=shape, y0_mm=5000, y1_mm=5010)


def planted(angle_deg: float, reach: float, apart: float, half: float) -> tuple[Assembly, Design]:
    """Return the ordinary ramp with a block on each leaf that pass at the joint's angle -`angle_deg`, `apart`
    mm apart.
    """
    design = base_design()
    turn = -math.radians(angle_deg)
    joint = design.joint.height_mm
    near = block("outer edge upstand 9", "outer", reach, joint, half)
    r = reach + 2 * half + apart
    far = block(
        "inner edge upstand 9",
        "inner",
        design.inner_leaf.length_mm + r * math.cos(turn),
        joint + r * math.sin(turn),
        half,
    )
    others = tuple(member for member in base_assembly().members if member.role != "edge upstand")
    return replace(base_assembly(), members=(*others, near, far)), design


BETWEEN_STEPS = [31.7, 58.9, 93.0, 117.4, 133.3, 151.2, 166.6]


@pytest.mark.parametrize("angle_deg", BETWEEN_STEPS)
def test_a_clash_within_a_third_of_a_degree_is_found(angle_deg):
    """Blocks 2 mm across at 1000 mm from the joint meet over less than 0.35 degrees of the joint's 180."""
    assembly, design = planted(angle_deg, reach=1000, apart=-1.5, half=1.0)
    path = base_fold().path
    clearance = fold_clearance(design, assembly, path, design.sites[0])
    pair = next(pair for pair in clearance.pairs if pair.what == "inner edge upstand - outer edge upstand")
    assert pair.clearance_mm < 0
    assert (pair.member_a, pair.member_b) == ("inner edge upstand 9", "outer edge upstand 9")
    assert math.degrees(pair.pose.fold_rad) == pytest.approx(-angle_deg, abs=0.2)
    meet = [
        fold
        for fold in np.arange(-179, 0, 0.01)
        if shapely.intersects(
            *(
                placed(design, polygon(member.silhouette), member.body, Pose(1.0, math.radians(fold)))
                for member in assembly.members[-2:]
            )
        )
    ] if angle_deg == BETWEEN_STEPS[0] else [0]  # fmt: skip
    assert max(meet) - min(meet) < 0.35


@pytest.mark.parametrize("angle_deg", BETWEEN_STEPS)
@pytest.mark.parametrize("apart", [0.2, 1.7])
def test_a_narrow_miss_is_measured(angle_deg, apart):
    """The blocks pass with their flat sides parallel only by chance: the least distance is told by a fine
    search.
    """
    assembly, design = planted(angle_deg, reach=1000, apart=apart, half=1.0)
    path = base_fold().path
    clearance = fold_clearance(design, assembly, path, design.sites[0])
    pair = next(pair for pair in clearance.pairs if pair.what == "inner edge upstand - outer edge upstand")
    least = math.inf
    for fold in np.arange(-angle_deg - 1, -angle_deg + 1, 0.002):
        a, b = (
            placed(design, polygon(member.silhouette), member.body, Pose(1.0, math.radians(fold)))
            for member in assembly.members[-2:]
        )
        least = min(least, a.distance(b))
    if least > 0:
        assert least - 1e-3 <= pair.clearance_mm <= least + TOLERANCE_MM
    else:
        assert pair.clearance_mm < 0
    assert pair.certified_mm <= least + 1e-6 or least == 0


# Contacts
# ----------------------------------------------------------------------------------------------------------


def with_member(assembly: Assembly, key: str, **change: object) -> Assembly:
    assert key in {member.key for member in assembly.members}
    members = tuple(replace(member, **change) if member.key == key else member for member in assembly.members)
    return replace(assembly, members=members)


@pytest.mark.parametrize(("press", "told"), [(0.0, False), (0.03, False), (0.08, True), (0.5, True)])
def test_stop_bars_may_bear_on_each_other_and_not_press_into_each_other(press, told):
    design = changed(base_design(), stop__gap_mm=0.0)
    bar = next(member for member in assemble(design).members if member.key == "outer stop bar 1")
    u0, w0, u1, w1 = bar.silhouette.box
    assembly = with_member(assemble(design), bar.key, silhouette=rectangle(u0 - press, w0, u1, w1))
    path = fold_path(design, design.sites[0], stand(design, assembly, design.sites[0], 1).pose)
    clearance = fold_clearance(design, assembly, path, design.sites[0])
    assert ("inner stop bar - outer stop bar" in {pair.what for pair in clearance.pairs}) is told


def test_a_rail_end_left_square_runs_into_the_knuckle_and_is_told():
    design = base_design()
    pairs = [
        (rail, knuckle)
        for rail in base_assembly().of("outer")
        for knuckle in base_assembly().of("inner")
        if rail.role == "rail" and knuckle.key.startswith("inner joint knuckle") and across(rail, knuckle) > 0
    ]
    rail = (
        pairs[0][0]
        if pairs
        else next(member for member in base_assembly().of("outer") if member.role == "rail")
    )
    square = with_member(
        base_assembly(), rail.key, silhouette=rectangle(-30, -40, 1300, 0), y0_mm=-450, y1_mm=450
    )
    clearance = fold_clearance(design, square, base_fold().path, design.sites[0])
    told = {pair.what: pair.clearance_mm for pair in clearance.pairs}
    assert told["inner joint knuckle - outer rail"] < -1
    assert "inner joint knuckle - outer rail" not in {pair.what for pair in base_fold().clearance.pairs}


@pytest.mark.parametrize("name", sorted(name for name in designs() if name != "too-steep"))
def test_good_samples_touch_only_where_they_are_meant_to(name):
    """Copes clear the knuckles that turn in them, by the running clearance less the chords of their arcs."""
    design = designs()[name]
    _, path, clearance = found_for(design)
    assert not MEANT_TO_TOUCH & {pair.what for pair in clearance.pairs}
    assert not clearance.spans_clashing
    scene = Scene(design, assemble(design))
    turning = scene.nearest(
        path.pose(0.5), {"inner rail - outer joint knuckle": 50, "inner joint knuckle - outer rail": 50}
    )
    for gap in turning.values():
        assert gap >= design.joint.running_clearance_mm - SAGITTA_MM


def test_a_rail_coped_with_little_to_spare_still_clears_its_knuckle():
    """Chords of a cope's arc stray 0.02 mm at most, so 0.1 mm of running clearance is seen as clear."""
    design = changed(
        designs()["starter"],
        inner_leaf__rail_lanes_mm=(-386.0, 386.0), inner_leaf__knuckle_shift_mm=22.0,
        outer_leaf__rail_lanes_mm=(-386.0, 386.0), outer_leaf__knuckle_shift_mm=-22.0,
        stop__count=2, joint__height_mm=-20.0, joint__running_clearance_mm=0.1,
    )  # fmt: skip
    assert not problems_of(design)
    assembly, path, clearance = found_for(design)
    turning = {"inner joint knuckle - outer rail": math.inf, "inner rail - outer joint knuckle": math.inf}
    for share in (0.0, 0.3, 0.6):
        assert Scene(design, assembly).nearest(path.pose(share), turning) == pytest.approx(
            dict.fromkeys(turning, 0.1), abs=0.01
        )
    assert not set(turning) & {pair.what for pair in clearance.pairs}


def test_what_is_meant_to_touch_is_said():
    words = " ".join(base_fold().clearance.contacts)
    for what in ("knuckle", "stop bars", "toe", "ground", "prop"):
        assert what in words


# One pose
# ----------------------------------------------------------------------------------------------------------


def family_of(assembly: Assembly, key: str) -> str:
    if key in ("ground", "deck", "carrier end"):
        return key
    if key.startswith("carrier bracket"):
        return key.rstrip("0123456789 ")
    member = next(member for member in assembly.members if member.key == key)
    if member.body == "carrier" and member.role != "knuckle":
        return member.role
    return key.rstrip("0123456789 ") if member.role == "knuckle" else f"{member.body} {member.role}"


def is_of_bridge_plate(pair: PairClearance | ClashingPair) -> bool:
    """Whether a pair is tried by itself, in `test_bridge_plate.py`."""
    return (pair.what if isinstance(pair, PairClearance) else pair.member_a).startswith("bridge plate")


@pytest.mark.parametrize("name", sorted(designs()))
def test_clashes_in_one_pose_by_plain_polygons(name):
    design, rng = designs()[name], random.Random(name)
    assembly = assemble(design)
    scene = Scene(design, assembly)
    flap = scene.families == "ground - outer toe flap"
    judged = ~flap
    meant = np.array([family in MEANT_TO_TOUCH for family in scene.families])[judged]
    some = 0
    for _ in range(25):
        pose = Pose(rng.uniform(-1.2, 2.2), rng.uniform(-math.pi, math.pi))
        every = clashing_at(design, assembly, pose, design.sites[0])
        found = [pair for pair in every if not is_of_bridge_plate(pair)]
        told = {
            f"{family_of(assembly, pair.member_a)} - {family_of(assembly, pair.member_b)}" for pair in found
        }
        a, b = scene.at(pose, judged)
        spare = np.where(meant, CONTACT_DEPTH_MM, 0.0) + SAGITTA_MM + 0.005
        deep = shapely.intersects(a, shapely.buffer(b, -spare, join_style="mitre"))
        near = shapely.distance(a, b) <= SAGITTA_MM
        families = scene.families[judged]
        assert set(families[deep].tolist()) <= told <= set(families[near].tolist())
        assert [pair.clearance_mm for pair in found] == sorted(pair.clearance_mm for pair in found)
        assert all(pair.clearance_mm < 0 for pair in found)
        some += len(found)
    assert some > 10


def test_a_wedge_in_the_rails_by_shapely():
    """Its point is two corners as near as rounding goes, once it is cut into parts; they part nothing."""
    corners = ((47.2, 224.5), (166.5, 195.7), (67.8, 377.4))
    design = designs()["orchard-trolley"]
    obstacle = Obstacle(name="lamp bracket", outline_mm=corners, left_mm=-1000.0, right_mm=1000.0)
    design, pose = replace(design, obstacles=(obstacle,)), Pose(math.radians(79.3), math.radians(85.9))
    assembly = assemble(design)
    wedge = placed(design, shapely.Polygon(corners), "carrier", pose)
    covered = {
        member.key: wedge.intersection(placed(design, polygon(member.silhouette), member.body, pose)).area
        for member in assembly.of("inner", "outer")
        if member.role not in INSIDE
    }
    found = closer_than(design, assembly, pose, design.sites[0], 50.0)
    told = {pair.member_b: pair.clearance_mm for pair in found if pair.member_a == "obstacle lamp bracket"}
    assert [covered[f"inner rail {k}"] for k in (1, 2, 3)] == pytest.approx([4075.32] * 3, abs=0.01)
    alike = {
        "inner rail 2",
        "inner rail 3",
        "inner latch 5",
    }  # told once: rail 1, and latch 4 on a rail's other side
    met = {key for key, area in covered.items() if area > 0}
    assert alike < met
    assert {key for key, clearance in told.items() if clearance < 0} == met - alike
    assert told["inner rail 1"] < -40


# What is told of a pair
# -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(designs()))
def test_nearest_points_lie_on_the_members_that_are_named(name):
    design = designs()[name]
    assembly, _, clearance = found_for(design)
    members = {member.key: member for member in assembly.members}
    things = {thing.family: thing.shape for thing in Scene(design, assembly).surroundings}
    for pair in clearance.pairs:
        if is_of_bridge_plate(pair):
            continue  # its room is told, not where it lies
        ends = ((pair.member_a, pair.point_a), (pair.member_b, pair.point_b))
        if pair.clearance_mm >= 0:
            assert math.dist(pair.point_a, pair.point_b) == pytest.approx(pair.clearance_mm, abs=1e-6)
        for key, point in ends:
            if key in members:
                outline = placed(
                    design, polygon(members[key].silhouette), members[key].body, pair.pose
                ).exterior
            else:
                body, of = ("world" if key == "ground" else "carrier"), family_of(assembly, key)
                outline = placed(design, things[of], body, pair.pose).exterior
            if pair.clearance_mm >= 0:
                assert outline.distance(shapely.Point(point)) < 0.03
        if pair.member_a in members:
            assert across(members[pair.member_a], members[pair.member_b]) > 0, "those two can meet"


@pytest.mark.parametrize("gap", [0.0, 1e-9, 1e-6, 1e-4, 0.01, 2.0])
def test_nearest_points_to_the_ground_when_it_almost_touches(gap):
    """The ground's slabs are 1e5 mm long: a direction that rounding turns a little must not end at their far
    corner.
    """
    design = base_design()
    assembly = with_member(base_assembly(), "inner slat 1", silhouette=rectangle(600, -150, 700, -100))
    pose = Pose(-0.1, 0.0)
    low = placed(design, polygon(rectangle(600, -150, 700, -100)), "inner", pose).bounds[1]
    site = replace(design.sites[0], ground_mm=((0, low - gap), (5000, low - gap)))
    path = FoldPath(at=(0.0, 1.0), poses=(pose, Pose(0.0, 0.0)), stages=())
    clearance = fold_clearance(design, assembly, path, site)
    pair = next(pair for pair in clearance.pairs if pair.what == "ground - inner slat")
    assert pair.clearance_mm == pytest.approx(gap, abs=1e-6)
    assert math.dist(pair.point_a, pair.point_b) < gap + 1e-4
    assert 500 < pair.point_a[0] < 800


def test_the_frames_agree_with_the_placing_of_bodies():
    """The same poses by `placings` and by turning about one hinge after the other."""
    rng = random.Random(3)
    for design in designs().values():
        for _ in range(5):
            pose = Pose(rng.uniform(-1, 2), rng.uniform(-3, 3))
            for body in ("inner", "outer"):
                point = shapely.Point(rng.uniform(0, 1500), rng.uniform(-60, 60))
                moved = placed(design, point, body, pose)
                assert placings(design, pose)[body].point(point.x, point.y) == pytest.approx(
                    (moved.x, moved.y)
                )


@pytest.mark.parametrize("name", ["orchard-trolley", "too-steep"])
def test_the_verdict_alone_is_that_of_the_whole_and_what_fails_without_a_clash_has_its_figure(name):
    for demanded in (0.0, 3.0, 12.0):
        design = changed(designs()[name], fold__clearance_mm=demanded)
        assembly, site = assemble(design), design.sites[0]
        path = fold_path(design, site, stand(design, assembly, site, 1).pose)
        whole = fold_clearance(design, assembly, path, site)
        short = fold_clearance(design, assembly, path, site, verdict_only=True)
        told = {pair.kin: pair.certified_mm for pair in short.pairs}
        assert set(told) == {pair.kin for pair in whole.pairs}
        for pair in whole.pairs:
            assert (told[pair.kin] >= demanded) == (pair.certified_mm >= demanded)
            if pair.clearance_mm >= 0 and pair.certified_mm < demanded:
                assert told[pair.kin] == pytest.approx(pair.certified_mm, abs=TOLERANCE_MM)
