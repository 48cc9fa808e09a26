"""The bridge plate lies where it lies by contact: against shapely, which turns a line down until it meets the
leaf, and drawn by hand.
"""

import math

import pytest
import shapely
from any_design import buildable_designs
from hypothesis import given, settings
from hypothesis import strategies as st
from plain_clearance import changed, designs, placed, polygon
from shapely import affinity
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.bridge import HANGS_RAD, Bearers, bearers, bridge_placing, bridge_reach_mm
from rampdraft.geometry.linkage import Pose, linkage
from rampdraft.geometry.members.assembly import assemble

DESIGN = timber_ramp()
TRAILER = designs()["library-trailer"]
TURNS = st.floats(math.radians(-40), math.radians(95))

THIN = changed(TRAILER, inner_leaf__slat_thickness_mm=7.0)
"""With slats whose top is 27 above the hinge centre."""


def lie(design, inner_rad):
    return bearers(design, assemble(design)).lie(inner_rad)


def leaf_about_the_edge(design, inner_rad):
    """Return the inner leaf as it stands, the deck edge at (0, 0)."""
    half = design.inner_leaf.width_mm / 2
    members = [
        member
        for member in assemble(design).of("inner")
        if min(member.y1_mm, half) - max(member.y0_mm, -half) > 1e-6
    ]
    shapes = [placed(design, polygon(one.silhouette), "inner", Pose(inner_rad, 0.0)) for one in members]
    return affinity.translate(shapely.GeometryCollection(shapes), 0, -design.carrier.deck_height_mm)


@given(buildable_designs() | st.sampled_from(sorted(designs())).map(designs().get), TURNS)
@settings(max_examples=tries(25), deadline=None)
def test_it_touches_the_leaf_and_goes_nowhere_into_it(design, inner_rad):
    if not design.bridge.fitted:
        return
    found, leaf = lie(design, inner_rad), leaf_about_the_edge(design, inner_rad)
    underside = shapely.LineString(((0, 0), (bridge_reach_mm(design), 0)))

    def turned(angle):
        return affinity.rotate(underside, angle, origin=(0, 0), use_radians=True)

    if found.hangs:
        assert found.angle_rad == HANGS_RAD
        return
    assert found.angle_rad > HANGS_RAD
    assert leaf.distance(turned(found.angle_rad)) < 0.01
    # The deck edge is clear of the leaf and not below it, and this does not lie back over the deck.
    bars = linkage(design)
    _, above_mm = bars.placings(Pose(inner_rad, 0.0))["inner"].inverse(*bars.edge)
    if leaf.distance(shapely.Point(0, 0)) > 1 and above_mm > 0 and found.angle_rad < 2:
        for above in (0.01, 0.1, 0.5, 1.0):
            assert leaf.distance(turned(found.angle_rad + above)) > 0
    end = found.bears_mm * math.cos(found.angle_rad), found.bears_mm * math.sin(found.angle_rad)
    assert leaf.distance(shapely.Point(end)) < 0.01, "it bears where the leaf is"


def test_a_plate_over_a_leaf_that_lies_lower_comes_down_on_it():
    """The library trailer with its hinge 50 below the deck: the plate does not stand out level, 28 mm above
    the slats. Its end is where a circle of 80 about the deck edge cuts the top of the slats, a line 27 above
    the hinge centre at right angles to the leaf.
    """
    design = changed(THIN, deck_hinge__below_mm=50)
    pose = evaluate(design).sites[0]
    slope, found = -pose.pose.inner_rad, pose.bridge_lie
    off = math.hypot(44, 50) * math.cos(math.atan2(44, 50) + slope) - 27  # of the edge above that line
    assert 80 * math.sin(-found.angle_rad - slope) == pytest.approx(off)
    assert found.bears_mm == 80
    hinge = 420 - 50
    slats = hinge + 27 / math.cos(slope) - math.tan(slope) * (80 - 44)
    assert 420 - slats == pytest.approx(28, abs=0.1), "what was left under its end"
    assert pose.bridge.ratio == pytest.approx(0.363, abs=0.001)
    assert pose.steepest is pose.bridge


def test_over_the_corner_of_the_first_slat_its_end_hangs_free():
    """As drawn: the near top corner of the first slat lies 4 along and 27 above the hinge centre of the leaf
    at 8.9 degrees, 44 out and 25 below the deck edge.
    """
    pose = evaluate(THIN).sites[0]
    turn, found = pose.pose.inner_rad, pose.bridge_lie
    x = 44 + 4 * math.cos(turn) - 27 * math.sin(turn)
    z = -25 + 4 * math.sin(turn) + 27 * math.cos(turn)
    assert found.angle_rad == pytest.approx(math.atan2(z, x))
    assert found.bears_mm == pytest.approx(math.hypot(x, z))


def test_upright_its_end_leans_on_the_slats_as_drawn_by_hand():
    """A right triangle with the plate as its long side and the deck's line as a short one: the hinge centre
    lies 20 under the top of the rails, so upright these are 20 nearer to the deck than the centre.
    """
    found = lie(DESIGN, math.pi / 2)
    face = DESIGN.deck_hinge.out_mm - 20.0 - DESIGN.inner_leaf.slat_thickness_mm
    assert found.angle_rad == pytest.approx(math.acos(face / 80))
    assert found.bears_mm == 80


def test_lying_flat_on_the_slats_it_bears_to_its_end():
    """The line of the slats goes through the deck edge: 27 + 18 - 20 below, level."""
    design = changed(DESIGN, deck_hinge__below_mm=DESIGN.inner_leaf.slat_thickness_mm + 20.0)
    found = lie(design, 0.0)
    assert (found.angle_rad, found.bears_mm) == (pytest.approx(0.0, abs=1e-12), 80)


def test_what_does_not_reach_the_leaf_hangs():
    design = changed(DESIGN, bridge__length_mm=30.0, bridge__over_deck_mm=25.0)
    found = lie(design, 0.0)
    assert found.hangs
    assert bridge_placing(design, assemble(design), Pose(0.0, 0.0), 10.0).angle_rad == HANGS_RAD


@pytest.mark.parametrize("inner_deg", [-10.0, 0.0, 30.0])
@pytest.mark.parametrize(
    ("near", "bears_mm"), [((0.3, 0.4), 0.5), ((40.0, 30.0), 50.0), ((60.0, 80.0), 100.0)]
)
def test_a_lone_corner_bears_it_however_near_and_no_farther_than_its_end(near, bears_mm, inner_deg):
    """The plate of 50 mm turns about the deck edge, 38 mm above and 44 mm inside the hinge centre."""
    turn, bars = math.radians(inner_deg), linkage(DESIGN)
    edge = complex(-44.0, 38.0) * complex(math.cos(turn), -math.sin(turn)) + complex(*bars.inner_hinge)
    corner = edge + complex(*near) * complex(math.cos(turn), -math.sin(turn))
    found = Bearers(bars=bars, length_mm=50.0, corners=((corner.real, corner.imag),), sides=(), discs=()).lie(
        turn
    )
    if bears_mm > 50:
        assert found.hangs
        return
    assert found.angle_rad == pytest.approx(math.atan2(near[1], near[0]))
    assert found.bears_mm == pytest.approx(bears_mm)


@pytest.mark.parametrize(("below_mm", "bears_mm"), [(0.0, 45.0), (5e-7, 45.0), (0.0015, 20.0)])
def test_it_bears_at_the_farther_of_two_corners_only_where_both_touch_it(below_mm, bears_mm):
    bars = linkage(DESIGN)
    edge = complex(-44.0, 38.0) + complex(*bars.inner_hinge)
    corners = tuple((edge.real + out, edge.imag - down) for out, down in ((20.0, 0.0), (45.0, below_mm)))
    found = Bearers(bars=bars, length_mm=50.0, corners=corners, sides=(), discs=()).lie(0.0)
    assert found.angle_rad == pytest.approx(0.0, abs=1e-12)
    assert found.bears_mm == pytest.approx(bears_mm)
