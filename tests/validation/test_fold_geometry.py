"""The fold against the closed forms of two links: a leaf A lifted about a hinge at height H, a leaf B hanging
from its end.

The joint stands at A sin(theta) + H, so the hanging leaf comes clear of level ground where sin(theta) = (B -
H) / A.
"""

import math

import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.linkage import Pose, placings
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.folding import SLIDE_STEP_RAD, TOE_LIFT_MM, fold_path
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value


def ramp(deck_height: float, a: float, b: float) -> Design:
    """Return a ramp with a plain toe whose hinge centres lie on one line along the leaf, so that no offset
    matters.
    """
    design = timber_ramp()
    for path, value in {
        "toe.kind": "plain",
        "carrier.deck_height_mm": deck_height,
        "inner_leaf.length_mm": a,
        "outer_leaf.length_mm": b,
        "deck_hinge.height_mm": -43,
        "joint.height_mm": -43,
        "sites": design.sites[:1],
    }.items():
        design = with_value(design, path, value)
    return design


@pytest.mark.parametrize(
    ("deck_height", "a", "b"),
    [(420, 1350, 1300), (300, 1300, 1300), (600, 1500, 1250), (420, 1400, 1450), (900, 1350, 1200)],
)
def test_the_outer_leaf_hangs_freely_once_the_joint_is_high_enough(deck_height, a, b):
    design = ramp(deck_height, a, b)
    hinge = deck_height - design.deck_hinge.below_mm
    site = design.sites[0]
    path = fold_path(design, site, stand(design, assemble(design), site, 1).pose)
    clear = math.asin((b + TOE_LIFT_MM - hinge) / a)
    boundary = path.stages[0].pose_end
    assert clear - 1e-9 <= boundary.inner_rad < clear + SLIDE_STEP_RAD
    assert boundary.inner_rad + boundary.fold_rad == pytest.approx(-math.pi / 2)
    # One step before, the leaf cannot hang: its toe would be in the way of the ground.
    before = path.poses[path.poses.index(boundary) - 1]
    assert before.inner_rad < clear
    assert before.inner_rad + before.fold_rad > -math.pi / 2 + 1e-6


@pytest.mark.parametrize("theta_deg", [-12, 0, 25, 50, 77, 90, 110])
@pytest.mark.parametrize("phi_deg", [-180, -95, -30, 0, 40, 180])
def test_poses_by_two_links(theta_deg, phi_deg):
    """Joint at H + A e(theta), toe at the joint + B e(theta + phi), e the unit vector at an angle."""
    design = ramp(420, 1350, 1300)
    theta, phi = math.radians(theta_deg), math.radians(phi_deg)
    placed = placings(design, Pose(theta, phi))
    hinge = complex(design.deck_hinge.out_mm, 420 - design.deck_hinge.below_mm)
    joint = hinge + 1350 * complex(math.cos(theta), math.sin(theta))
    toe = joint + 1300 * complex(math.cos(theta + phi), math.sin(theta + phi))
    assert complex(*placed["inner"].point(0, -43)) == pytest.approx(hinge)
    assert complex(*placed["inner"].point(1350, -43)) == pytest.approx(joint)
    assert complex(*placed["outer"].point(0, -43)) == pytest.approx(joint)
    assert complex(*placed["outer"].point(1300, -43)) == pytest.approx(toe)


def test_backs_together_the_closed_leaves_lie_2_w_apart():
    """Turned half round about a centre w below the tops of the rails, a point at u of the outer leaf meets A
    - u, -2 w away.
    """
    design = ramp(420, 1350, 1300)
    placed = placings(design, Pose(math.pi / 2, -math.pi))
    for u in (0.0, 400.0, 1300.0):
        inner, outer = placed["inner"].point(1350 - u, 0), placed["outer"].point(u, 0)
        assert outer == pytest.approx((inner[0] + 2 * 43, inner[1]))
