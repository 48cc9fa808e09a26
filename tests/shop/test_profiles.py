"""Whatever the sizes: each profile of a design that may be built is one closed outline that does not cross
itself.
"""

import math

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.members.assembly import assemble
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.shop.parts import part_list

TENTHS = 10


def tenths(low, high):
    return st.integers(low * TENTHS, high * TENTHS).map(lambda value: value / TENTHS)


@settings(max_examples=tries(40))
@given(
    deck_height=tenths(-60, 40),
    joint_height=tenths(-80, 60),
    knuckle=tenths(20, 60),
    running=tenths(0, 6),
    length=tenths(1200, 1500),
    section=st.sampled_from(["box 40x20x2", "box 30x30x3", "box 60x40x3", "flat 50x12"]),
    fitting=st.sampled_from(["between", "under", "half_lap"]),
    lap=tenths(1, 25),
    toe=st.sampled_from(["plain", "taper", "flap"]),
)
def test_each_profile_is_closed_and_simple(
    deck_height, joint_height, knuckle, running, length, section, fitting, lap, toe
):
    design = timber_ramp()
    for path, value in {
        "deck_hinge.height_mm": deck_height,
        "joint.height_mm": joint_height,
        "joint.knuckle_diameter_mm": knuckle,
        "joint.running_clearance_mm": running,
        "inner_leaf.length_mm": length,
        "inner_leaf.rail_section": parse_section(section),
        "outer_leaf.rail_section": parse_section(section),
        "inner_leaf.cross_fitting": fitting,
        "inner_leaf.half_lap_mm": lap,
        "toe.kind": toe,
    }.items():
        design = with_value(design, path, value)
    assume(not problems_of(design))
    for part in part_list(assemble(design).members):
        outline = part.piece.profile.outline
        drawn = Polygon(outline.points(0.001))
        assert drawn.is_valid
        assert drawn.exterior.is_ccw
        area, _ = outline.area_and_centroid()
        assert math.isclose(area, drawn.area, rel_tol=1e-3)
        for (x0, y0, _), (x1, y1, _) in zip(
            outline.vertices, outline.vertices[1:] + outline.vertices[:1], strict=True
        ):
            assert math.hypot(x1 - x0, y1 - y0) > 0.005
        for hole in part.piece.profile.holes:
            assert drawn.contains(Point(hole.x_mm, hole.y_mm).buffer(hole.diameter_mm / 2 - 1e-3))
