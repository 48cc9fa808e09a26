"""The side view: it shows the assembly where the pose puts it, and the dimensions of the form."""

import math
from dataclasses import replace
from functools import cache

import pytest
from inked import owners, paths_of, texts
from ramps import standing_in
from timber_ramp import timber_ramp

from rampdraft.drawing.handling import handle_marks, hands_at
from rampdraft.drawing.ink import Label, Path
from rampdraft.drawing.side import side_view
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.bridge import bridge_placing
from rampdraft.geometry.linkage import Pose, linkage, placings
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.mechanics.folding.envelope import swept_outlines
from rampdraft.mechanics.results import ClashingPair
from rampdraft.model.design import NO_ASSIST, Handle, Obstacle, Site
from rampdraft.model.fields.paths import with_value

SITE = Site(name="Yard", kind="ground", ground_mm=((0, 0), (6000, 0)))


@cache
def ramp(*changes: tuple[str, object]) -> Evaluation:
    design = timber_ramp()
    for path, value in changes:
        design = with_value(design, path, value)
    return evaluate(design)


def deployed(evaluation, site_number=1, state="empty", **more):
    site = evaluation.site_pose(site_number, state)
    return side_view(
        evaluation,
        pose=site.pose,
        drop_mm=site.drop_mm,
        site_number=site_number,
        flap_rad=site.flap_rad,
        frame="pose",
        **more,
    )


def test_the_deployed_ramp_is_drawn_before_the_fold_is_worked_out():
    evaluation = ramp().changed("inner_leaf.length_mm", ramp().design.inner_leaf.length_mm + 1)
    deployed(evaluation)
    assert not {"path", "clearance", "hand", "envelope", "stowed"} & evaluation.worked


POSES = [Pose(-0.14, 0.0), Pose(0.7, -1.2), Pose(math.pi / 2, -math.pi), Pose(0.3, 2.4)]


@pytest.mark.parametrize("pose", POSES)
@pytest.mark.parametrize("drop", [0.0, 30.0])
def test_members_are_drawn_where_the_pose_puts_them(pose, drop):
    evaluation = ramp()
    picture = side_view(evaluation, pose=pose, drop_mm=drop)
    where = placings(evaluation.design, pose, drop)
    seen = 0
    for member in evaluation.assembly.of("inner", "outer", "carrier"):
        if member.role == "bridge plate":
            continue  # it rides on the leaf: tried by itself
        for path in paths_of(picture, member.key):
            seen += 1
            placed = [(*where[member.body].point(u, w), bulge) for u, w, bulge in member.silhouette.vertices]
            assert path.closed
            assert [pytest.approx(vertex) for vertex in placed] == list(path.vertices)
    assert seen > 40


@pytest.mark.parametrize("pose", POSES)
def test_the_bridge_plate_is_turned_about_the_deck_edge(pose):
    evaluation = ramp()
    bridge = evaluation.design.bridge
    (path,) = paths_of(side_view(evaluation, pose=pose, drop_mm=30.0), "bridge plate")
    angle = bridge_placing(evaluation.design, evaluation.assembly, pose, 30.0).angle_rad
    (edge_x, edge_z, _), (end_x, end_z, _) = path.vertices[:2]
    reach = bridge.length_mm - bridge.over_deck_mm
    assert (edge_x, edge_z) == pytest.approx((0.0, 390.0))
    assert end_x == pytest.approx(reach * math.cos(angle))
    assert end_z - edge_z == pytest.approx(reach * math.sin(angle))


def handled(*handles, **assist):
    design = timber_ramp()
    return evaluate(replace(design, handles=handles, assist=replace(NO_ASSIST, **assist)))


GRIP = Handle(name="grip", leaf="inner", at_mm=900, above_mm=30)
LOOP = Handle(name="loop", leaf="outer", at_mm=1200, above_mm=-20)


def test_a_hand_holds_where_the_handle_is():
    evaluation = handled(GRIP, LOOP)
    pose = Pose(0.7, -1.2)
    where = placings(evaluation.design, pose)
    free = side_view(evaluation, pose=pose, drop_mm=0.0, dimensions=False)
    held = side_view(evaluation, pose=pose, drop_mm=0.0, dimensions=False, hands=("loop",))
    assert "loop" not in texts(free)
    added = [mark for mark in held.marks if mark not in free.marks]
    assert [mark.text for mark in added if isinstance(mark, Label)] == ["loop"]
    circle = next(mark for mark in added if isinstance(mark, Path) and mark.closed)
    (x0, z, _), (x1, _, _) = circle.vertices
    assert ((x0 + x1) / 2, z) == pytest.approx(where["outer"].point(1200, -20))


@pytest.mark.parametrize("closing", ["backs", "faces"])
@pytest.mark.parametrize("turned", [-0.15, 0.3, -2.9, 3.0])
def test_the_name_of_a_handle_stands_above_a_leaf_that_lies(closing, turned):
    design = with_value(timber_ramp(), "fold.closing", closing)
    where = placings(design, Pose(-0.15, turned + 0.15))
    (name,) = [mark for mark in handle_marks(design, where, ("toe",), 10.0) if isinstance(mark, Label)]
    assert name.at[1] > where["outer"].point(design.outer_leaf.length_mm, 0.0)[1]


def test_without_handles_a_hand_holds_the_joint_or_the_toe():
    evaluation = ramp()
    stages = evaluation.fold.hand.stages
    assert {stage.handle for stage in stages} <= {"joint", "toe"}
    for span, stage in zip(evaluation.fold.path.stages, stages, strict=True):
        share = (span.start + span.end) / 2
        assert set(hands_at(evaluation, share)) <= {"joint", "toe"}
        shown = side_view(
            evaluation, pose=evaluation.fold.path.pose(share), drop_mm=0.0, hands=(stage.handle,)
        )
        assert stage.handle in texts(shown)


def test_a_gas_spring_runs_from_eye_to_eye_and_follows_the_deck():
    evaluation = handled(
        kind="gas", carrier_out_mm=-60, carrier_below_mm=230, leaf_at_mm=400, leaf_above_mm=-20
    )
    pose = Pose(0.5, -0.5)
    rod = paths_of(side_view(evaluation, pose=pose, drop_mm=30.0), "assist.force_n")[0]
    fixed, moving = rod.vertices[0][:2], rod.vertices[-1][:2]
    assert fixed == pytest.approx((-60.0, 420.0 - 30.0 - 230.0))
    assert moving == pytest.approx(placings(evaluation.design, pose, 30.0)["inner"].point(400, -20))


def test_a_torsion_spring_is_a_spiral_at_the_deck_hinge_and_no_spring_is_nothing():
    evaluation = handled(kind="torsion")
    (spiral,) = paths_of(side_view(evaluation, pose=Pose(0.5, -0.5), drop_mm=0.0), "assist.rate_nmm_deg")
    x, z = linkage(evaluation.design).hinge
    assert {vertex[1] for vertex in spiral.vertices} == {z}
    reach = [abs(vertex[0] - x) for vertex in spiral.vertices]
    assert reach == sorted(reach)
    assert reach[0] < reach[-1]
    assert not [owner for owner in owners(deployed(ramp())) if owner.startswith("assist")]


def test_the_room_moved_through_lies_under_the_ramp_within_the_box():
    evaluation = ramp()
    swept = swept_outlines(evaluation.design, evaluation.assembly, evaluation.fold.path, 9)
    picture = side_view(evaluation, pose=Pose(0.5, -0.5), drop_mm=0.0, swept=swept)
    fills = [mark.fill for mark in picture.marks if isinstance(mark, Path)]
    assert fills[: len(swept)] == ["swept"] * len(swept)
    assert "swept" not in fills[len(swept) :]
    x0, _, x1, z1 = picture.box
    assert all(x0 <= outline.box[0] and outline.box[2] <= x1 and outline.box[3] <= z1 for outline in swept)


def test_what_lies_behind_its_like_is_drawn_once():
    evaluation = ramp()
    shown = owners(deployed(evaluation))
    assert {
        "inner rail 1",
        "outer slat 7",
        "inner edge upstand left",
        "joint pin 1",
        "bridge plate",
        "outer toe flap",
    } <= shown
    assert not {"inner rail 2", "inner rail 3", "inner edge upstand right", "joint pin 2"} & shown
    silhouettes = {
        (member.body, member.silhouette) for member in evaluation.assembly.members if member.key in shown
    }
    assert len(silhouettes) == len(
        [key for key in shown if any(key == member.key for member in evaluation.assembly.members)]
    )


def test_slats_are_painted_over_rails_and_rails_over_the_far_upstand():
    picture = deployed(ramp())
    order = [mark.owner for mark in picture.marks if isinstance(mark, Path) and mark.owner]
    assert order.index("inner edge upstand left") < order.index("inner rail 1") < order.index("inner slat 1")


def test_what_a_rail_hides_is_dashed():
    (cross,) = paths_of(deployed(ramp()), "inner cross member 1 bay 1")
    assert (cross.pen, cross.fill) == ("hidden", "none")


def test_timber_looks_like_timber():
    (slat,) = paths_of(deployed(ramp()), "inner slat 1")
    (rail,) = paths_of(deployed(ramp()), "outer rail 1")
    assert (slat.fill, rail.fill) == ("timber", "outer")


@pytest.mark.parametrize(("state", "words", "top"), [("empty", "H 420", 420), ("loaded", "H − D = 390", 390)])
def test_the_deck_stands_at_its_height(state, words, top):
    picture = deployed(ramp(), state=state)
    assert words in texts(picture)
    deck = next(mark for mark in picture.marks if isinstance(mark, Path) and mark.fill == "carrier")
    assert max(z for _, z, _ in deck.vertices) == pytest.approx(top)
    assert max(x for x, _, _ in deck.vertices) == 0, "x = 0 is the deck edge"


def test_a_deployed_ramp_carries_its_lengths_and_gradients():
    evaluation = ramp()
    picture = deployed(evaluation)
    site = evaluation.site_pose(1, "empty")
    found = texts(picture)
    assert "L 1350" in found
    assert "L 1300" in found
    for leaf in (site.inner, site.outer):
        assert f"1 : {1 / leaf.ratio:.1f} ({100 * leaf.ratio:.1f} %)" in found
    assert f"going {site.whole.going_mm:.0f}" in found
    lengths = {mark.owner for mark in picture.marks if isinstance(mark, Label) and mark.owner}
    assert {"inner_leaf.length_mm", "outer_leaf.length_mm", "carrier.deck_height_mm"} <= lengths


@pytest.mark.parametrize("toe", ["plain", "taper", "flap"])
def test_the_going_is_drawn_as_long_as_it_is_said_to_be(toe):
    evaluation = ramp(("toe.kind", toe))
    for site in evaluation.sites:
        picture = deployed(evaluation, site.site_number, site.state)
        at = next(
            mark.at
            for mark in picture.marks
            if isinstance(mark, Label) and mark.text == f"going {site.whole.going_mm:.0f}"
        )
        level = [
            abs(mark.vertices[1][0] - mark.vertices[0][0])
            for mark in picture.marks
            if isinstance(mark, Path) and mark.pen == "dimension" and len(mark.vertices) == 2
            if mark.vertices[0][1] == mark.vertices[1][1] < at[1]
        ]
        assert level == [pytest.approx(site.whole.going_mm)]


def test_the_toe_flap_lies_where_the_site_puts_it():
    evaluation = ramp()
    site = evaluation.site_pose(1, "empty")
    (flap,) = paths_of(deployed(evaluation), "outer toe flap")
    where = placings(evaluation.design, site.pose, 0.0)["outer"]
    turned = flap_outline(evaluation.design, site.flap_rad).vertices
    assert [pytest.approx((*where.point(u, w), bulge)) for u, w, bulge in turned] == list(flap.vertices)
    carried = side_view(evaluation, pose=site.pose, drop_mm=0.0)
    assert paths_of(carried, "outer toe flap")[0].vertices != flap.vertices


def test_in_mid_fold_only_the_deck_height_is_dimensioned():
    found = texts(side_view(ramp(), pose=Pose(0.6, -1.0), drop_mm=0.0))
    assert found == ["H 420"]
    assert texts(side_view(ramp(), pose=Pose(0.6, -1.0), drop_mm=0.0, dimensions=False)) == []


def test_the_stowed_ramp_carries_its_stowed_size():
    evaluation = ramp()
    stowed = evaluation.fold.stowed
    found = texts(side_view(evaluation, pose=stowed.pose, drop_mm=0.0))
    assert any(
        text.startswith("above deck ")
        and float(text.split()[-1]) == pytest.approx(stowed.above_deck_mm, abs=0.06)
        for text in found
    )
    assert any(
        text.startswith("out ") and float(text.split()[-1]) == pytest.approx(stowed.out_mm, abs=0.06)
        for text in found
    )


def inside(box, picture):
    slack = 1e-6
    return all(
        box[0] - slack <= x <= box[2] + slack and box[1] - slack <= z <= box[3] + slack
        for mark in picture.marks
        if isinstance(mark, Path) and mark.owner
        for x, z, _ in mark.vertices
    )


@pytest.mark.parametrize("number", [1, 2])
@pytest.mark.parametrize("state", ["empty", "loaded"])
def test_the_box_holds_the_ramp_and_its_dimensions(number, state):
    picture = deployed(ramp(), number, state)
    assert inside(picture.box, picture)


def test_the_frame_of_the_fold_holds_every_pose_and_does_not_move():
    evaluation = ramp()
    poses = [evaluation.fold.path.pose(step / 20) for step in range(21)]
    pictures = [side_view(evaluation, pose=pose, drop_mm=0.0, dimensions=False) for pose in poses]
    assert all(inside(picture.box, picture) for picture in pictures)
    widest = [
        max(abs(a - b) for a, b in zip(pictures[0].box, picture.box, strict=True)) for picture in pictures
    ]
    assert max(widest) < 40, (
        "a twelfth of the fold at most lies between two poses that the frame is taken from"
    )


def test_the_nearest_points_are_joined_and_the_clearance_is_written_out():
    evaluation = ramp()
    tightest = evaluation.fold.clearance.tightest
    picture = side_view(evaluation, pose=tightest.pose, drop_mm=0.0, nearest=tightest)
    lines = [mark.vertices for mark in picture.marks if isinstance(mark, Path) and mark.pen == "accent"]
    assert ((*tightest.point_a, 0.0), (*tightest.point_b, 0.0)) in lines
    assert any(text.startswith("clearance ") for text in texts(picture))


def test_a_clash_is_hatched_and_told_in_words():
    pair = ClashingPair(
        member_a="inner rail 2",
        member_b="outer slat 3",
        clearance_mm=-2.5,
        point_a=(700, 300),
        point_b=(702, 301),
    )
    picture = side_view(ramp(), pose=Pose(0.4, -2.0), drop_mm=0.0, nearest=pair, clashing=(pair,))
    hatched = {mark.owner for mark in picture.marks if isinstance(mark, Path) and mark.fill == "clash"}
    assert hatched == {"inner rail 2", "outer slat 3"}, "even where its like stands in front of it"
    assert "clash, 2.5 deep" in texts(picture)


def test_the_prop_stands_under_the_joint_only_where_the_ramp_is_deployed():
    evaluation = ramp(("prop.fitted", True))
    site = evaluation.site_pose(1, "empty")
    (leg,) = paths_of(deployed(evaluation), "prop left")
    assert min(z for _, z, _ in leg.vertices) == 0
    assert max(z for _, z, _ in leg.vertices) == pytest.approx(site.joint_room_mm)
    assert sum(x for x, _, _ in leg.vertices) / 4 == pytest.approx(site.joint[0])
    assert "prop left" not in owners(side_view(evaluation, pose=Pose(0.5, -1.0), drop_mm=0.0))


def test_the_prop_stands_on_the_kerb_whose_edge_is_straight_below_the_joint():
    """It fills the room under the joint there, and does not hang in the air beside the kerb."""
    level = ramp(("prop.fitted", True), ("joint.height_mm", -40.0), ("sites", (SITE,)))
    joint, _ = level.site_pose(1, "empty").joint
    kerb = replace(SITE, ground_mm=((0, 100), (joint, 100), (joint, 0), (6000, 0)))
    evaluation = ramp(("prop.fitted", True), ("joint.height_mm", -40.0), ("sites", (kerb,)))
    site = evaluation.site_pose(1, "empty")
    (leg,) = paths_of(deployed(evaluation), "prop left")
    assert site.joint[0] == pytest.approx(joint, abs=1e-9)
    assert max(z for _, z, _ in leg.vertices) == pytest.approx(site.joint[1])
    assert min(z for _, z, _ in leg.vertices) == 100


def test_the_ground_of_the_site_asked_for_is_drawn():
    grounds = [
        next(
            mark for mark in deployed(ramp(), number).marks if isinstance(mark, Path) and mark.pen == "ground"
        )
        for number in (1, 2)
    ]
    assert {z for _, z, _ in grounds[0].vertices} == {0.0}
    assert {z for _, z, _ in grounds[1].vertices} == {0.0, 120.0}


LAMP = Obstacle(
    name="lamp", outline_mm=((-60.0, 900.0), (0.0, 900.0), (0.0, 1500.0)), left_mm=-300, right_mm=300
)


def test_obstacles_stand_on_the_deck_and_in_the_box():
    design = replace(timber_ramp(), obstacles=(LAMP,))
    picture = side_view(evaluate(design), pose=Pose(-0.1, 0.0), drop_mm=30.0)
    (lamp,) = paths_of(picture, "obstacle lamp")
    assert lamp.vertices == ((-60, 1290, 0), (0, 1290, 0), (0, 1890, 0))
    assert inside(picture.box, picture)


@pytest.mark.parametrize("key", ["deck", "carrier end", "obstacle lamp", "carrier bracket stub 1"])
def test_what_stands_still_is_hatched_in_a_clash_as_well(key):
    evaluation = evaluate(replace(timber_ramp(), obstacles=(LAMP,)))
    pair = ClashingPair(
        member_a=key, member_b="inner slat 1", clearance_mm=-1, point_a=(0, 0), point_b=(1, 0)
    )
    picture = side_view(evaluation, pose=Pose(0.4, -2.0), drop_mm=0.0, clashing=(pair,))
    hatched = [mark for mark in picture.marks if isinstance(mark, Path) and mark.fill == "clash"]
    assert {mark.owner for mark in hatched} == {key, "inner slat 1"}
    last = max(picture.marks.index(mark) for mark in hatched)
    own = [mark for mark in picture.marks if isinstance(mark, Path) and mark.owner == key]
    assert picture.marks.index(own[-1]) <= last, "nothing of it is drawn over its hatching"


def test_an_obstacle_out_of_reach_does_not_shrink_the_drawing():
    far = replace(LAMP, outline_mm=((-15000.0, 0.0), (-14000.0, 0.0), (-14000.0, 500.0)))
    evaluation = evaluate(replace(timber_ramp(), obstacles=(far,)))
    assert (
        side_view(evaluation, pose=Pose(-0.1, 0.0), drop_mm=0.0).box
        == side_view(ramp(), pose=Pose(-0.1, 0.0), drop_mm=0.0).box
    )


@pytest.mark.parametrize(
    "carrier",
    [
        {"end_depth_mm": 10.0},
        {"deck_length_mm": 100.0},
        {"end_setback_mm": 2000.0},
        {"end_depth_mm": 2000.0},
        {"deck_thickness_mm": 200.0, "end_depth_mm": 200.0},
    ],
)
def test_odd_carriers_are_drawn_above_the_ground_and_behind_the_deck_edge(carrier):
    evaluation = ramp()
    design = replace(evaluation.design, carrier=replace(evaluation.design.carrier, **carrier))
    named = Evaluation(design, (), before=None)
    picture = deployed(standing_in(named, assembly=evaluation.assembly, sites=evaluation.sites))
    deck = next(mark for mark in picture.marks if isinstance(mark, Path) and mark.fill == "carrier")
    assert max(x for x, _, _ in deck.vertices) <= 0
    assert min(z for _, z, _ in deck.vertices) >= 0
    assert math.isfinite(sum(picture.box))


def test_small_scales_draw_fine_lines():
    (rail,) = paths_of(deployed(ramp(), per_mm=20.0), "inner rail 1")
    (fine,) = paths_of(deployed(ramp(), per_mm=50.0), "inner rail 1")
    assert (rail.pen, fine.pen) == ("outline", "thin")
