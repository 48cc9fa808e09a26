"""Does the empty ramp stay down? By the statics of two bars, and by minimising their energy with a general
optimiser (scipy, SLSQP), which knows nothing of the formulas.
"""

import math
from dataclasses import replace
from functools import partial

import pytest
from scipy.optimize import brentq, minimize
from written_starter import all_given

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Pose, linkage, placings
from rampdraft.mechanics.folding.folding import toe_corners
from rampdraft.mechanics.handling.staying import Staying, staying
from rampdraft.model.design import FREE, NO_ASSIST, ON_THE_ROAD, Design
from rampdraft.model.fields.paths import with_value
from rampdraft.units import G_M_S2

SPRUNG = ("library-trailer", "reed-ferry")


def sample(name: str, rate_nmm_deg: float | None = None) -> Evaluation:
    """Return a sample without its latches, or with its springs' rate as given, thinner slats 112 mm apart and
    a toe of 600 x 6 mm.
    """
    path = next(path for path in sample_paths() if path.stem == name)
    design = replace(load_design(path), hold_down=FREE, road=ON_THE_ROAD)
    if rate_nmm_deg is not None:
        design = all_given(design)
        design = with_value(design, "assist.slack_deg", 90.0)
        design = with_value(design, "assist.rate_nmm_deg", rate_nmm_deg)
        for leaf in ("inner_leaf", "outer_leaf"):
            design = with_value(design, f"{leaf}.slat_thickness_mm", 6.0)
            design = with_value(design, f"{leaf}.slat_pitch_mm", 112.0)
        design = with_value(design, "toe.length_mm", 600.0)
        design = with_value(design, "toe.thickness_mm", 6.0)
    return evaluate(design, path.parent)


def energy_nmm(found: Evaluation, inner_rad: float, fold_rad: float, lift_n: float = 0.0) -> float:
    """Return weight, torsion springs and an upward force at the joint, member by member."""
    design = found.design
    places = placings(design, Pose(inner_rad, fold_rad))
    height = sum(
        member.mass_kg * G_M_S2 * places[member.body].point(*member.centre_uw_mm)[1]
        for member in found.assembly.of("inner", "outer")
    )
    wound_deg = max(design.assist.slack_deg - math.degrees(inner_rad), 0.0)
    spring = design.assist.count * design.assist.rate_nmm_deg * wound_deg * math.radians(wound_deg) / 2
    return height + spring - lift_n * linkage(design).joint(inner_rad)[1]


def free_mm(found: Evaluation, site: int, inner_rad: float, fold_rad: float) -> float:
    """Return how high the toe is above the ground."""
    ground, corners = ground_line(found.design.sites[site]), toe_corners(found.design)
    outer = placings(found.design, Pose(inner_rad, fold_rad))["outer"]
    return min(z - ground.height_mm(x) for x, z in (outer.point(*corner) for corner in corners))


def least(found: Evaluation, site: int, start: Pose, lift_n: float = 0.0) -> Pose:
    """Return where the optimiser comes to from a pose: the stop holds one way, the toe above the ground."""
    down = found.sites[2 * site].pose

    result = minimize(
        lambda at: energy_nmm(found, *at, lift_n) / 1e5,
        (start.inner_rad, start.fold_rad),
        method="SLSQP",
        bounds=((down.inner_rad - 0.05, math.pi / 2), (-math.pi, down.fold_rad)),
        constraints={"type": "ineq", "fun": lambda at: free_mm(found, site, *at)},
        options={"maxiter": 500, "ftol": 1e-12},
    )
    return Pose(*result.x)


def joint_mm(design: Design, pose: Pose) -> float:
    return linkage(design).joint(pose.inner_rad)[1]


def empty(found: Evaluation) -> tuple[Staying, ...]:
    return tuple(
        one for one in staying(found.design, found.assembly, found.sites) if one.site.state == "empty"
    )


def test_without_springs_by_statics():
    """Two leaves on deck hinge and toe: N = (Wi a + Wo (A + b)) / (A + B), and at the joint M = N B - Wo b;
    an upward force A B / (A + B) times less takes that to nothing.
    """
    sprung = sample("barn-stage").design
    found = evaluate(replace(sprung, assist=NO_ASSIST, use=replace(sprung.use, rule_sets=())))
    inner, outer = (body.mass_kg * G_M_S2 for body in (found.assembly.inner, found.assembly.outer))
    for one in empty(found)[:1]:  # the others are not level
        places = placings(found.design, one.site.pose)
        hinge = linkage(found.design).hinge[0]
        a = places["inner"].point(*found.assembly.inner.centre_uw_mm)[0] - hinge
        b = places["outer"].point(*found.assembly.outer.centre_uw_mm)[0] - one.site.joint[0]
        near, far = one.site.joint[0] - hinge, one.site.contact[0] - one.site.joint[0]
        toe = (inner * a + outer * (near + b)) / (near + far)
        assert one.lift_n("toe") == pytest.approx(toe)
        assert one.lift_n("joint") == pytest.approx((toe * far - outer * b) * (near + far) / (near * far))
        assert one.rest is None


@pytest.mark.parametrize("name", SPRUNG)
def test_that_force_just_lifts_the_joint(name):
    """With 2 N less than it the energy grows as the joint rises with the toe on the ground, with 2 N more it
    falls.
    """
    found, step = sample(name), 1e-4
    for number, one in enumerate(empty(found)):
        inner, stop = one.site.pose.inner_rad, one.site.pose.fold_rad
        if abs(free_mm(found, number, inner, stop)) > 1e-6:
            continue  # lies on the edge of a quay
        fold, down = (
            brentq(partial(free_mm, found, number, at), stop - 0.1, stop + 0.1, xtol=1e-13)
            for at in (inner + step, inner)
        )
        assert down == pytest.approx(stop, abs=1e-6)
        for more in (-2.0, 2.0):
            lift = one.lift_n("joint") + more
            gained = energy_nmm(found, inner + step, fold, lift) - energy_nmm(found, inner, down, lift)
            assert (gained < 0) is (more > 0)


def test_the_library_trailer_without_a_latch_rises_into_a_hump():
    """Its springs lift the joint by 332 mm at the school, as the optimiser finds too."""
    found = sample("library-trailer", 3850)
    rises = []
    for number, one in enumerate(empty(found)):
        assert one.rest is not None
        assert one.lift_n("joint") < 0 < one.lift_n("toe")
        nudged = Pose(one.site.pose.inner_rad + 0.02, one.site.pose.fold_rad - 0.04)
        rest = least(found, number, nudged)
        rises.append(joint_mm(found.design, one.rest) - one.site.joint[1])
        assert joint_mm(found.design, rest) - one.site.joint[1] == pytest.approx(rises[-1], abs=0.5)
    assert rises == pytest.approx([331.7, 337.1, 262.8], abs=3)
    failing = {check.id for check in found.checks if check.fails}
    assert "own/stays-down/joint" in failing
    assert "own/stays-down/toe" not in failing


def test_springs_that_lift_the_whole_ramp():
    found = sample("library-trailer", 7000)
    failing = [check for check in found.checks if check.fails and check.about.kind == "own/stays-down"]
    assert {check.about.part for check in failing} == {"joint", "toe"}
    assert all("springs lift the joint" in check.why for check in failing)


def test_a_latch_holds_what_its_moment_holds():
    """The moment that is missing, with 30 N to spare, and no more than the latch's own weight gives."""
    bare = sample("library-trailer", 3850)
    worst = min(empty(bare), key=lambda one: one.lift_n("joint"))
    needed = (30.0 - worst.lift_n("joint")) * worst.to_joint_mm * worst.past_joint_mm / worst.to_toe_mm
    for share, passes in ((0.96, False), (1.01, True)):
        design = with_value(bare.design, "hold_down.latch", True)
        design = with_value(design, "hold_down.pull_n", share * needed / design.hold_down.arm_mm)
        checks = evaluate(replace(design, use=replace(design.use, rule_sets=()))).checks
        (check,) = (one for one in checks if one.id == "own/stays-down/joint")
        assert check.fails is not passes


def test_springs_that_outweigh_it_all_the_way_stow_it():
    found = sample("library-trailer", 40000)
    found = evaluate(with_value(found.design, "assist.slack_deg", 120.0), sample_paths()[0].parent)
    for one in empty(found):
        assert one.lift_n("toe") < 0
        assert one.rest is not None
        assert one.rest.inner_rad == pytest.approx(math.radians(found.design.fold.stowed_deg), abs=1e-3)


def told(found: Evaluation, part: str) -> str:
    checks = evaluate(replace(found.design, use=replace(found.design.use, rule_sets=()))).checks
    (check,) = (one for one in checks if one.id == f"own/stays-down/{part}")
    return check.why


def test_the_force_that_holds_the_joint_down_is_told_where_one_does():
    found = sample("library-trailer", 7000)
    worst = min(one.lift_n("joint") for one in staying(found.design, found.assembly, found.sites))
    assert told(found, "joint").endswith(f" {-worst:.0f} N down on the joint holds it.")
    # With a latch that keeps the joint straight the whole ramp rises as one: nothing at the joint holds it.
    latched = with_value(found.design, "hold_down.latch", True)
    latched = evaluate(with_value(latched, "hold_down.pull_n", 20000.0), sample_paths()[0].parent)
    (rest,) = {one.rest for one in empty(latched)[:1]}
    assert rest is not None
    assert rest.fold_rad == empty(latched)[0].site.pose.fold_rad
    assert "springs lift the joint" in told(latched, "toe")
    assert "holds it" not in told(latched, "toe")
