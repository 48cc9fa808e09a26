"""The two bars turn about their hinges, and the bridge plate rides on the leaf: its far end on the running
surface, or it leans on the corner, or it lies on the deck.
"""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from plain_clearance import placed
from timber_ramp import timber_ramp

from rampdraft.geometry.linkage import Pose, bridge_placing, edge_height_mm, linkage, placings
from rampdraft.model.fields.paths import with_value

DESIGN = timber_ramp()
TURNS = st.floats(math.radians(-40), math.radians(130))
FOLDS = st.floats(-math.pi, math.pi)
POINTS = st.tuples(st.floats(-200, 1500), st.floats(-100, 100))


@given(
    inner_rad=TURNS,
    fold_rad=FOLDS,
    drop_mm=st.floats(0, 60),
    point=POINTS,
    leaf=st.sampled_from(("inner", "outer")),
)
def test_a_point_is_placed_as_by_hand(inner_rad, fold_rad, drop_mm, point, leaf):
    """Shapely turns it about one hinge centre after the other."""
    pose = Pose(inner_rad, fold_rad)
    found = placings(DESIGN, pose, drop_mm)[leaf].point(*point)
    by_hand = placed(DESIGN, shapely.Point(point), leaf, pose, drop_mm)
    assert found == pytest.approx((by_hand.x, by_hand.y), abs=1e-8)


@given(inner_rad=TURNS, fold_rad=FOLDS, point=POINTS)
def test_a_point_is_its_own_hinge_and_the_turned_vector_from_it(inner_rad, fold_rad, point):
    bars = linkage(DESIGN, 30.0)
    places = bars.placings(Pose(inner_rad, fold_rad))
    turned = {"inner": inner_rad, "outer": inner_rad + fold_rad}
    for leaf, hinge in (("inner", bars.hinge), ("outer", bars.joint(inner_rad))):
        vector = complex(*bars.from_hinge(leaf, point)) * complex(
            math.cos(turned[leaf]), math.sin(turned[leaf])
        )
        assert places[leaf].point(*point) == pytest.approx(
            (hinge[0] + vector.real, hinge[1] + vector.imag), abs=1e-8
        )
    assert bars.joint(inner_rad) == pytest.approx(places["outer"].point(*bars.outer_joint), abs=1e-8)


def test_a_drop_lowers_the_deck_edge_and_all_that_hangs_on_it():
    empty, sunk = linkage(DESIGN), linkage(DESIGN, 30.0)
    assert edge_height_mm(DESIGN, 30.0) == sunk.edge[1] == empty.edge[1] - 30.0
    assert sunk.hinge == (empty.hinge[0], empty.hinge[1] - 30.0)
    assert sunk.arm == empty.arm == (1350.0, -43.0 - DESIGN.deck_hinge.height_mm)


def plate(inner_rad, design=DESIGN, drop_mm=0.0):
    """Return the angle of the plate, its heel on the deck and its far end."""
    angle = bridge_placing(design, Pose(inner_rad, 0.0), drop_mm).angle_rad
    heel = -design.bridge.over_deck_mm, design.carrier.deck_height_mm - drop_mm
    length = design.bridge.length_mm
    return angle, heel, (heel[0] + length * math.cos(angle), heel[1] + length * math.sin(angle))


def in_leaf(point, inner_rad, drop_mm=0.0):
    """Return a point (x, z) in the inner leaf's frame (u, w)."""
    placing = placings(DESIGN, Pose(inner_rad, 0.0), drop_mm)["inner"]
    x, z = point[0] - placing.x_mm, point[1] - placing.z_mm
    cos, sin = math.cos(placing.angle_rad), math.sin(placing.angle_rad)
    return cos * x + sin * z, cos * z - sin * x


def test_it_lies_on_the_deck_while_the_leaf_falls_away():
    for degrees in (-40, -20, -8):
        assert plate(math.radians(degrees))[0] == 0.0


@given(inner_rad=TURNS, drop_mm=st.floats(0, 60))
def test_the_leaf_is_nowhere_within_the_plate(inner_rad, drop_mm):
    angle, heel, tip = plate(inner_rad, drop_mm=drop_mm)
    assert 0.0 <= angle < math.pi
    top = DESIGN.inner_leaf.slat_thickness_mm
    for part in (0.25, 0.5, 0.75, 1.0):
        u, w = in_leaf(
            (heel[0] + part * (tip[0] - heel[0]), heel[1] + part * (tip[1] - heel[1])), inner_rad, drop_mm
        )
        assert u < 1e-6 or w >= top - 1e-6


@given(inner_rad=TURNS)
def test_turned_up_it_touches_the_leaf(inner_rad):
    angle, heel, tip = plate(inner_rad)
    if angle == 0.0:
        return
    top = DESIGN.inner_leaf.slat_thickness_mm
    corner = placings(DESIGN, Pose(inner_rad, 0.0))["inner"].point(0.0, top)
    off_plate = math.cos(angle) * (corner[1] - heel[1]) - math.sin(angle) * (corner[0] - heel[0])
    assert in_leaf(tip, inner_rad)[1] == pytest.approx(top) or off_plate == pytest.approx(0.0, abs=1e-6)


def test_upright_the_far_end_leans_on_the_slats_as_drawn_by_hand():
    """A right triangle with the plate as its long side and the deck as a short one."""
    angle, _, (x, _) = plate(math.pi / 2)
    assert DESIGN.deck_hinge.height_mm == -20
    # The hinge centre lies 20 under the top of the rails, so upright the rails' top is 20 nearer to the deck
    # than the centre.
    face = DESIGN.deck_hinge.out_mm - 20.0 - DESIGN.inner_leaf.slat_thickness_mm
    assert x == pytest.approx(face)
    assert angle == pytest.approx(math.acos((face + DESIGN.bridge.over_deck_mm) / DESIGN.bridge.length_mm))


def test_a_short_plate_that_does_not_reach_the_leaf_stays_on_the_deck():
    design = with_value(with_value(DESIGN, "bridge.length_mm", 30.0), "bridge.over_deck_mm", 25.0)
    assert bridge_placing(design, Pose(math.pi / 2, 0.0), 0.0).angle_rad == 0.0
