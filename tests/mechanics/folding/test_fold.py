"""The fold's path, what the load does to the joint, and the stowed size against shapely."""

import math
from itertools import pairwise

import pytest
import shapely
import shapely.affinity
from plain_clearance import changed, designs, ground_area, placed, polygon
from ramps import base_assembly, base_design, base_poses

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.linkage import Pose, linkage
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.envelope import hull_of, swept_outlines
from rampdraft.mechanics.folding.folding import closed_pose, fold_path, path_of_legs, stowed
from rampdraft.mechanics.joint import joint_verdict
from rampdraft.mechanics.results import FoldPath, SitePose
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design, FoldStage

LOW_STOWED = {
    "carrier__deck_height_mm": 1990,
    "inner_leaf__length_mm": 1240,
    "outer_leaf__length_mm": 700,
    "outer_leaf__cross_positions_mm": (150, 500),
    "toe__kind": "plain",
}


def deployed(design: Design) -> SitePose:
    return stand(design, assemble(design), design.sites[0], 1)


def path_of(design: Design) -> FoldPath:
    return fold_path(design, design.sites[0], deployed(design).pose)


@pytest.mark.parametrize("name", sorted(designs()))
def test_the_path_runs_from_deployed_to_stowed_without_a_jump(name):
    design = designs()[name]
    path = path_of(design)
    assert path.poses[0] == path.pose(0.0) == deployed(design).pose
    assert path.poses[-1] == path.pose(1.0) == closed_pose(design)
    assert (path.at[0], path.at[-1]) == (0.0, 1.0)
    assert all(before < after for before, after in pairwise(path.at))
    for share, pose in zip(path.at, path.poses, strict=True):
        near = path.pose(share - 1e-9), path.pose(share), path.pose(share + 1e-9)
        for one in near:
            assert (one.inner_rad, one.fold_rad) == pytest.approx((pose.inner_rad, pose.fold_rad), abs=1e-6)
    assert path.pose(-1) == path.poses[0]
    assert path.pose(2) == path.poses[-1]


def test_each_leg_has_its_share_by_the_angle_that_turns_most():
    """Also one of a tenth of a degree."""
    poses = [(0.0, 0.0), (30.0, -10.0), (30.1, -10.1), (40.0, -110.0), (90.0, -110.0)]
    start, *rest = (Pose(math.radians(inner), math.radians(fold)) for inner, fold in poses)
    path = path_of_legs(start, [("One.", rest[:2]), ("Two.", rest[2:])])
    turned = [0.0, 30.0, 30.1, 130.0, 180.0]
    assert path.at == pytest.approx([angle / 180 for angle in turned])
    assert [(stage.say, stage.start, stage.end) for stage in path.stages] == [
        ("One.", 0.0, pytest.approx(30.1 / 180)),
        ("Two.", pytest.approx(30.1 / 180), 1.0),
    ]


@pytest.mark.parametrize("name", sorted(designs()))
def test_the_stages_follow_one_another_and_say_where_they_end(name):
    path = path_of(designs()[name])
    assert path.stages[0].start == 0
    assert path.stages[-1].end == 1
    for before, after in pairwise(path.stages):
        assert before.end == after.start
    for stage in path.stages:
        assert stage.say.strip()
        assert stage.start < stage.end
        end = path.pose(stage.end)
        assert (end.inner_rad, end.fold_rad) == pytest.approx(
            (stage.pose_end.inner_rad, stage.pose_end.fold_rad), abs=1e-12
        )


BACKS = {
    name: design
    for name, design in {**designs(), "plain toe": base_design()}.items()
    if design.fold.closing == "backs"
}


@pytest.mark.parametrize("name", sorted(BACKS))
def test_the_toe_is_drawn_in_just_off_the_ground(name):
    """Never in the ground while the joint is lifted; with a plain toe never more than 12 mm above it, until
    it hangs.
    """
    design = BACKS[name]
    path, ground = path_of(design), ground_area(design.sites[0])
    outer = [member for member in assemble(design).of("outer") if member.role in ("rail", "slat", "toe flap")]
    shape = shapely.GeometryCollection([polygon(member.silhouette) for member in outer])
    hangs = path.at[path.poses.index(path.stages[0].pose_end) - 1]
    for share in [hangs * k / 120 for k in range(1, 121)]:
        gap = placed(design, shape, "outer", path.pose(share)).distance(ground)
        assert gap > 0
        assert gap < 12 or name != "plain toe"


def test_the_users_own_stages_are_the_path():
    stages = (
        FoldStage(say="Lift.", inner_deg=30, fold_deg=-40),
        FoldStage(say="Swing.", inner_deg=60, fold_deg=-170),
        FoldStage(say="Latch.", inner_deg=90, fold_deg=-180),
    )
    path = path_of(changed(base_design(), fold_stages=stages))
    assert [stage.say for stage in path.stages] == ["Lift.", "Swing.", "Latch."]
    for stage, span in zip(stages, path.stages, strict=True):
        assert span.pose_end == Pose(math.radians(stage.inner_deg), math.radians(stage.fold_deg))
    assert path.poses[0] == base_poses()[0].pose
    assert len(path.poses) == 4
    half = path.pose((path.stages[1].start + path.stages[1].end) / 2)
    assert (half.inner_rad, half.fold_rad) == pytest.approx((math.radians(45), math.radians(-105)))


def test_faces_together_swings_over_and_then_lifts():
    design = designs()["too-steep"]
    assert design.fold.closing == "faces"
    path = path_of(design)
    over, lifted = path.stages
    assert over.pose_end.inner_rad == path.poses[0].inner_rad
    assert over.pose_end.fold_rad == math.radians(design.fold.closed_deg)
    assert lifted.pose_end == closed_pose(design)


@pytest.mark.parametrize("stowed_deg", [-90, -60, -45, -20, 0, 45, 90, 135, 180])
@pytest.mark.parametrize("closing", ["backs", "faces"])
def test_any_stowed_angle_has_a_path(closing, stowed_deg):
    """Stowed lower than it stands deployed, too, with nothing of it above the deck."""
    design = changed(base_design(), **LOW_STOWED, fold__closing=closing, fold__stowed_deg=stowed_deg)
    assert not problems_of(design)
    path = path_of(design)
    assert path.poses[-1] == closed_pose(design)
    assert all(before < after for before, after in pairwise(path.at))
    assert_size(design)


# Stowed size
# ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("stowed_deg", [None, 60, 70, 85, 95, 110, 140])
@pytest.mark.parametrize("name", sorted(designs()))
def test_stowed_size_by_the_bounds_of_polygons(name, stowed_deg):
    design = designs()[name]
    if stowed_deg is not None:
        design = changed(design, fold__stowed_deg=stowed_deg)
    assert_size(design)


def assert_size(design: Design) -> None:
    found, assembly = stowed(design, assemble(design)), assemble(design)
    members = [member for member in assembly.of("inner", "outer") if member.role not in ("pin", "washer")]
    shapes = [
        placed(design, polygon(member.silhouette), member.body, closed_pose(design)) for member in members
    ]
    height = design.carrier.deck_height_mm
    above = [shape.intersection(shapely.box(-1e5, height, 1e5, 1e5)) for shape in shapes]
    _, z0, x1, z1 = shapely.GeometryCollection(shapes).bounds
    over = max([0.0, *(-part.bounds[0] for part in above if part.area > 0)])
    assert found.above_deck_mm == pytest.approx(max(0, z1 - height), abs=0.03)
    assert found.below_deck_mm == pytest.approx(max(0, height - z0), abs=0.03)
    upright = shapely.affinity.rotate(
        shapely.GeometryCollection(shapes), 90 - design.fold.stowed_deg, origin=(0, 0)
    )
    assert found.thickness_mm == pytest.approx(upright.bounds[2] - upright.bounds[0], abs=0.05)
    assert found.over_deck_mm == pytest.approx(over, abs=0.03)
    assert found.out_mm == pytest.approx(max(0, x1), abs=0.03)
    if over == 0:
        assert found.over_deck_mm == 0
    if x1 <= 0:
        assert found.out_mm == 0
    everything = assembly.of("inner", "outer")
    points = [placed(design, shapely.Point(m.centre_uw_mm), m.body, closed_pose(design)) for m in everything]
    mass = sum(member.mass_kg for member in everything)
    for axis, value in enumerate(found.centre):
        mean = (
            sum(m.mass_kg * point.coords[0][axis] for m, point in zip(everything, points, strict=True)) / mass
        )
        assert value == pytest.approx(mean, abs=1e-6)


# The joint under load
# -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("closing", "stop", "prop", "held", "by", "words"),
    [
        ("backs", "butt", False, True, "stop", ("butt above the hinge centre", "lever arm of 40 mm")),
        ("backs", "lap", False, True, "stop", ("lap past the hinge line", "lever arm of 60 mm")),
        ("backs", "none", False, False, "nothing", ("Nothing holds the joint", "it folds")),
        ("backs", "butt", True, True, "prop", ("prop stands under the joint", "each leaf spans by itself")),
        ("backs", "lap", True, True, "prop", ("prop stands under the joint",)),
        ("backs", "none", True, True, "prop", ("prop stands under the joint",)),
        (
            "faces",
            "butt",
            False,
            False,
            "nothing",
            ("faces together", "no stop bar can hold it", "prop", "locking bar"),
        ),
        ("faces", "lap", False, False, "nothing", ("faces together", "no stop bar can hold it")),
        ("faces", "none", False, False, "nothing", ("faces together", "no stop bar can hold it")),
        (
            "faces",
            "butt",
            True,
            True,
            "prop",
            ("prop stands under the joint", "Without it the load would fold the joint"),
        ),
        ("faces", "lap", True, True, "prop", ("Without it the load would fold the joint",)),
        ("faces", "none", True, True, "prop", ("Without it the load would fold the joint",)),
    ],
)
def test_what_holds_the_joint(closing, stop, prop, held, by, words):
    design = changed(base_design(), fold__closing=closing, stop__kind=stop, prop__fitted=prop)
    found = joint_verdict(design)
    assert (found.held, found.by) == (held, by)
    for phrase in words:
        assert phrase in found.words
    assert "safe" not in found.words.lower()
    if by == "stop":
        assert found.lever_arm_mm == {"butt": 40, "lap": 60}[stop]
        assert found.play_rad > 0
    else:
        assert (found.lever_arm_mm, found.play_rad, found.drop_mm) == (0, 0, 0)


@pytest.mark.parametrize("kind", ["butt", "lap"])
@pytest.mark.parametrize(("gap", "arm"), [(0, 40), (0.5, 40), (0.3, 60), (1, 50)])
def test_play_and_drop_of_a_gap_at_the_stop(kind, gap, arm):
    """model.md 3: a gap c turns the joint by c / e before the stop bears, and drops it by (c / e) A B / (A +
    B).
    """
    design = changed(base_design(), stop__kind=kind, stop__gap_mm=gap, stop__lap_mm=arm, stop__arm_mm=arm)
    found = joint_verdict(design)
    a, b = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    # A lapping bar's tip sinks on the rail's circle too: c / e is its limit for a small gap.
    assert found.play_rad == pytest.approx(gap / arm, rel=0.03 if kind == "lap" else 1e-3)
    assert found.drop_mm == pytest.approx(found.play_rad * a * b / (a + b), rel=1e-3)


def test_the_drop_is_how_far_the_joint_sinks_from_the_straight_line():
    """From the line between hinge centre and toe, by the standing pose itself; 3 % for the toe's and hinge's
    offsets.
    """
    design = changed(base_design(), stop__gap_mm=0.8, deck_hinge__height_mm=-43)
    pose = stand(design, base_assembly(), design.sites[0], 1).pose
    hinge = shapely.Point(linkage(design).hinge)
    joint = placed(design, shapely.Point(0, design.joint.height_mm), "outer", pose)
    toe = placed(design, shapely.Point(design.outer_leaf.length_mm, design.joint.height_mm), "outer", pose)
    sunk = shapely.LineString([hinge, toe]).distance(joint)
    assert joint_verdict(design).drop_mm == pytest.approx(sunk, rel=1e-3)


# The room on the way
# -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["library-trailer", "orchard-trolley"])
def test_the_hull_of_a_leaf_is_the_convex_hull_of_its_corners(name):
    design = designs()[name]
    assembly = assemble(design)
    for body in ("inner", "outer"):
        shapes = [
            shapely.box(*polygon(member.silhouette).bounds)
            if len(member.silhouette.vertices) == 2
            else shapely.MultiPoint([vertex[:2] for vertex in member.silhouette.vertices])
            for member in assembly.of(body)
            if member.role not in ("pin", "washer")
        ]
        hull = shapely.GeometryCollection(shapes).convex_hull
        found = shapely.Polygon(hull_of(assembly, body))
        assert found.exterior.is_ccw
        assert shapely.symmetric_difference(found, hull).area == pytest.approx(0, abs=1.0)


def test_swept_outlines_are_the_hulls_from_deployed_to_stowed():
    design = base_design()
    path = path_of(design)
    found = swept_outlines(design, base_assembly(), path, 3)
    assert len(found) == 6
    for share, (inner, outer) in zip((0.0, 0.5, 1.0), (found[:2], found[2:4], found[4:]), strict=True):
        for body, outline in (("inner", inner), ("outer", outer)):
            by_hand = placed(design, shapely.Polygon(hull_of(base_assembly(), body)), body, path.pose(share))
            assert shapely.symmetric_difference(polygon(outline), by_hand).area == pytest.approx(0, abs=1e-3)
