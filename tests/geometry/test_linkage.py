"""The two bars turn about their hinges."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from plain_clearance import placed
from timber_ramp import timber_ramp

from rampdraft.geometry.linkage import Pose, edge_height_mm, linkage, placings

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
    place = placings(DESIGN, pose, drop_mm)[leaf]
    found = place.point(*point)
    by_hand = placed(DESIGN, shapely.Point(point), leaf, pose, drop_mm)
    assert found == pytest.approx((by_hand.x, by_hand.y), abs=1e-8)
    assert place.inverse(*found) == pytest.approx(point, abs=1e-8)


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
