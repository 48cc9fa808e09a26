"""Part drawings: the true profile, its sizes, and its ends enlarged."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from inked import as_text, texts
from shapely.geometry import Polygon, box
from timber_ramp import timber_ramp

from rampdraft.drawing.ink import Path
from rampdraft.drawing.part import end_view, part_view
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.members.leaves import SQUARE, cope, rail_outline
from rampdraft.geometry.members.member import EndCut, Mark, Piece
from rampdraft.geometry.outline import Hole, Outline, Profile, disc, rectangle
from rampdraft.model.section import Section
from rampdraft.shop.parts import Part

BOX = Section(kind="box", depth_mm=40, width_mm=20, wall_mm=2)


def part(**changes):
    values = {
        "role": "rail",
        "section": BOX,
        "material": "steel S235",
        "length_mm": 400.0,
        "ends": (SQUARE, SQUARE),
        "profile": Profile(rectangle(0, 0, 400, 40)),
    } | changes
    piece = Piece(**values)
    return Part(
        number="IR1",
        code="rail, inner, 1",
        name="inner rail",
        role=piece.role,
        piece=piece,
        quantity=2,
        hand="",
        members=("a", "b"),
        mass_kg=1.0,
    )


def coped(start: EndCut, end: EndCut, length=400.0, depth=40.0):
    outline = rail_outline(length_mm=length, depth_mm=depth, start=start, end=end)
    raised = Outline(tuple((x, y + depth, bulge) for x, y, bulge in outline.vertices))
    return part(ends=(start, end), profile=Profile(raised), length_mm=length)


def test_a_plain_part_as_ink():
    assert as_text(part_view(part(), per_mm=5).marks) == (
        "closed outline on inner (0, 0) (400, 0) (400, 40) (0, 40)\n"
        "open dimension (0, -4) (0, -41)\n"
        "open dimension (400, -4) (400, -41)\n"
        "open dimension (0, -35) (400, -35)\n"
        "open dimension (11, -37.9) (0, -35) (11, -32.1)\n"
        "open dimension (389, -32.1) (400, -35) (389, -37.9)\n"
        "text '400' centre (200, -31)\n"
        "open dimension (404, 0) (441, 0)\n"
        "open dimension (404, 40) (441, 40)\n"
        "open dimension (435, 0) (435, 40)\n"
        "open dimension (437.9, 11) (435, 0) (432.1, 11)\n"
        "open dimension (432.1, 29) (435, 40) (437.9, 29)\n"
        "text '40' centre (431, 20) at 90°"
    )


def test_every_part_of_the_ramp_is_drawn_true_and_within_its_box():
    for each in evaluate(timber_ramp()).parts:
        picture = part_view(each)
        outline = picture.marks[0]
        assert isinstance(outline, Path)
        assert outline.vertices == each.piece.profile.outline.vertices
        x0, y0, x1, y1 = picture.box
        for mark in picture.marks:
            points = mark.vertices if isinstance(mark, Path) else (mark.at,)
            assert all(x0 <= point[0] <= x1 and y0 <= point[1] <= y1 for point in points), (each.number, mark)


def test_a_mark_at_the_datum_end_has_the_0_that_is_there_and_no_arrow():
    """The wrong case: it had a second 0, and an arrowhead out beyond the box."""
    first, second = Mark(at_mm=0, work="set with a feeler"), Mark(at_mm=100, work="weld")
    alone, both, other = (
        part_view(part(marks=marks), per_mm=5) for marks in ((first,), (first, second), (second,))
    )
    assert texts(alone) == ["400", "40", "0"]
    assert texts(both) == ["400", "40", "0", "100"]
    arrows = [
        sum(
            isinstance(mark, Path) and mark.pen == "dimension" and len(mark.vertices) == 3
            for mark in one.marks
        )
        for one in (alone, both, other)
    ]
    assert arrows == [4, 5, 5]


def test_holes_are_drawn_counted_and_located():
    holes = tuple(Hole(x, y, 5.5) for x in (50, 350) for y in (10, 30))
    marks = (Mark(at_mm=50, work="2 holes"), Mark(at_mm=350, work="2 holes"))
    picture = part_view(part(profile=Profile(rectangle(0, 0, 400, 40), holes), marks=marks))
    found = texts(picture)
    assert "4 × Ø 5.5, 10 and 30 from the lower edge" in found
    assert {"0", "50", "350"} <= set(found), "running dimensions from one datum"
    drawn = [
        mark
        for mark in picture.marks
        if isinstance(mark, Path) and mark.fill == "paper" and mark.pen == "outline"
    ]
    assert sorted(mark.vertices for mark in drawn) == sorted(
        disc(hole.x_mm, hole.y_mm, 5.5).vertices for hole in holes
    )


def test_holes_on_the_centre_line_are_said_to_be_there():
    picture = part_view(part(profile=Profile(rectangle(0, 0, 110, 12), (Hole(6, 6, 3.2), Hole(104, 6, 3.2)))))
    assert "2 × Ø 3.2, on the centre line" in texts(picture)


def test_a_round_part_has_its_diameters():
    knuckle = part(role="knuckle", profile=Profile(disc(0, 0, 30), (Hole(0, 0, 12),)))
    assert texts(part_view(knuckle)) == ["Ø 30", "Ø 12"]


def test_sizes_keep_hundredths():
    assert "79.75" in texts(part_view(part(profile=Profile(rectangle(0, 0, 79.75, 20)))))


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        # A 40 mm hole saw on the top corner line of a 20 mm rail cuts from 20 mm back (common practice).
        (cope(20, 0, 20), {"R 20", "20"}),
        (cope(15, -20, 40), {"R 15", "20"}),
        (cope(17, -43, 40), {"R 17", "43"}),
        (cope(25, 10, 40), {"R 25", "10", "22.91"}),  # sqrt(25^2 - 10^2) = 22.91
        (EndCut(kind="taper", height_mm=4, length_mm=180), {"4", "180"}),
    ],
)
@pytest.mark.parametrize("which", [0, 1])
def test_a_cut_end_is_dimensioned(cut, words, which):
    depth = 20.0 if cut.radius_mm == 20 else 40.0
    each = coped(cut, SQUARE, depth=depth) if which == 0 else coped(SQUARE, cut, depth=depth)
    assert set(texts(end_view(each, which, per_mm=2))) == words


def as_polygon(outline: Outline) -> Polygon:
    return Polygon(outline.points(0.001))


@given(
    radius=st.floats(8, 30),
    height=st.floats(-45, 25),
    which=st.sampled_from((0, 1)),
    depth=st.sampled_from((20.0, 40.0, 60.0)),
)
def test_an_end_is_the_part_of_the_profile_beyond_the_break(radius, height, which, depth):
    cut = cope(radius, height, depth)
    each = coped(cut, cut, depth=depth, length=800.0)
    picture = end_view(each, which, per_mm=2)
    end = picture.marks[0]
    assert isinstance(end, Path)
    got = as_polygon(Outline(end.vertices))
    edge = max(got.bounds[0], 0.0) if which else got.bounds[2]
    half = box(edge, -1, 801, depth + 1) if which else box(-1, -1, edge, depth + 1)
    expected = as_polygon(each.piece.profile.outline).intersection(half)
    assert got.area == pytest.approx(expected.area, rel=1e-4)
    assert got.symmetric_difference(expected).area < 1e-3 * expected.area


def test_the_true_edges_of_an_end_are_open_at_the_break():
    picture = end_view(coped(cope(15, -20, 40), SQUARE), 0, per_mm=2)
    edges = next(mark for mark in picture.marks if isinstance(mark, Path) and mark.pen == "outline")
    assert not edges.closed
    assert edges.vertices[0][0] == edges.vertices[-1][0] == max(x for x, _, _ in edges.vertices)


def test_an_enlarged_cope_keeps_its_arc():
    picture = end_view(coped(cope(15, -20, 40), SQUARE), 0, per_mm=2)
    bulges = [bulge for _, _, bulge in picture.marks[0].vertices if bulge]
    assert len(bulges) == 1
    assert 4 * math.atan(abs(bulges[0])) == pytest.approx(math.pi), (
        "half a circle, its centre on the end face"
    )
