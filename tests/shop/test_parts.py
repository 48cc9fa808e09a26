"""Part numbers, merging and hands."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.leaves import SQUARE, cope, rail_outline
from rampdraft.geometry.members.member import Assembly, BodyMass, EndCut, Mark, Member, Piece, Tag
from rampdraft.geometry.outline import Hole, Profile, disc, rectangle
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.shop.parts import part_list, part_number

BOX = parse_section("box 40x20x2")
NO_MASS = BodyMass(mass_kg=0, centre_mm=(0, 0, 0))


def piece(outline=None, *, length=1000.0, holes=(), marks=(), ends=(SQUARE, SQUARE)):
    outline = outline or rectangle(0, 0, length, 40)
    return Piece(
        role="rail",
        section=BOX,
        material="steel S235",
        length_mm=length,
        profile=Profile(outline, holes),
        ends=ends,
        marks=marks,
    )


def coped(*, start=SQUARE, end=SQUARE, length=1000.0, marks=()):
    return piece(
        rail_outline(length_mm=length, depth_mm=40, start=start, end=end),
        length=length,
        ends=(start, end),
        marks=marks,
    )


def assembly(**pieces):
    """Return an assembly, from left to right: `inner_rail_1` is a piece, its tag read from its name."""
    members = []
    for y, (name, made) in enumerate(pieces.items()):
        body, *_, last = name.split("_")
        tag = Tag(body=body, number=int(last)) if last.isdigit() else Tag(body=body, hand=last)
        members.append(
            Member(
                key=name.replace("_", " "),
                tag=tag,
                piece=made,
                y0_mm=100 * y,
                y1_mm=100 * y + 20,
                silhouette=made.profile.outline,
                mass_kg=2.5,
                centre_mm=(0, 0, 0),
            )
        )
    return Assembly(members=tuple(members), inner=NO_MASS, outer=NO_MASS, loose_kg=0)


def parts_of(**pieces):
    return [(part.number, part.quantity, part.hand) for part in part_list(assembly(**pieces).members)]


COPE = cope(15, -20, 40)
OFF_CENTRE = cope(20, 0, 40)


def test_equal_pieces_are_one_part_with_the_number_of_the_first_member():
    assert parts_of(inner_rail_1=piece(), inner_rail_2=piece(length=900), inner_rail_3=piece()) == [
        ("IR1", 2, ""),
        ("IR2", 1, ""),
    ]


def test_a_rail_coped_at_one_end_is_its_own_mirror_image_turned_end_for_end():
    assert parts_of(inner_rail_1=coped(start=COPE), inner_rail_2=coped(end=COPE)) == [("IR1", 2, "")]


def test_a_cope_out_of_centre_may_be_turned_over():
    upside_down = cope(20, -40, 40)
    assert parts_of(inner_rail_1=coped(start=OFF_CENTRE), inner_rail_2=coped(end=upside_down)) == [
        ("IR1", 2, "")
    ]


def test_different_ends_are_different_parts():
    taper = EndCut(kind="taper", height_mm=10, length_mm=200)
    assert (
        len(
            parts_of(
                inner_rail_1=coped(start=COPE),
                inner_rail_2=coped(start=COPE, end=COPE),
                inner_rail_3=coped(start=taper),
                inner_rail_4=coped(),
            )
        )
        == 4
    )


@pytest.mark.parametrize(("difference", "quantities"), [(0.0004, [2]), (0.01, [1, 1])])
def test_sizes_are_compared_to_a_thousandth_of_a_millimetre_wherever_they_lie(difference, quantities):
    # 0.4999 and 0.5003 thousandths round to different thousandths, and are the same size all the same.
    a, b = 1000.0004999, 1000.0004999 + difference
    assert [
        part.quantity
        for part in part_list(assembly(inner_rail_1=piece(length=a), inner_rail_2=piece(length=b)).members)
    ] == quantities


def test_a_hole_may_be_reached_by_turning_and_one_that_is_not_makes_another_part():
    near, far, middle = Hole(100, 10, 6), Hole(900, 30, 6), Hole(500, 10, 6)
    drilled = [piece(holes=(hole,)) for hole in (near, far, middle)]
    assert parts_of(inner_rail_1=drilled[0], inner_rail_2=drilled[1], inner_rail_3=drilled[2]) == [
        ("IR1", 2, ""),
        ("IR3", 1, ""),
    ]


def test_the_order_of_holes_and_the_first_corner_do_not_matter():
    outline = rectangle(0, 0, 1000, 40)
    rolled = replace(outline, vertices=outline.vertices[2:] + outline.vertices[:2])
    holes = (Hole(100, 10, 6), Hole(300, 10, 8))
    assert (
        len(parts_of(inner_rail_1=piece(outline, holes=holes), inner_rail_2=piece(rolled, holes=holes[::-1])))
        == 1
    )


def test_a_round_piece_is_one_part_however_it_lies():
    pieces = {
        f"inner_rail_{k}": piece(disc(40.0 * k, 0, 30), length=40, holes=(Hole(40.0 * k, 0, 12),))
        for k in (1, 2)
    }
    assert parts_of(**pieces) == [("IR1", 2, "")]


def mark(at, work, face):
    return (Mark(at_mm=at, work=work, face=face),)


def test_hands_are_told_apart_where_a_mark_names_a_side():
    """Coped at one end and marked on one side: no half turn brings both back."""
    left = coped(start=COPE, marks=mark(300, "hole Ø6", "left side"))
    right = coped(start=COPE, marks=mark(300, "hole Ø6", "right side"))
    # COPE lies on mid depth, so turning over changes the side: still one part. Out of centre it cannot be
    # turned over.
    assert parts_of(inner_rail_1=left, inner_rail_2=right) == [("IR1", 2, "")]
    left = coped(start=OFF_CENTRE, marks=mark(300, "hole Ø6", "left side"))
    right = coped(start=OFF_CENTRE, marks=mark(300, "hole Ø6", "right side"))
    assert parts_of(inner_rail_1=left, inner_rail_2=right) == [("IR1", 1, "left"), ("IR2", 1, "right")]
    assert parts_of(inner_rail_1=left, inner_rail_2=left) == [("IR1", 2, "")]


def test_what_is_done_is_no_side_of_the_piece():
    lamp = [
        piece(rectangle(0, 0, 1000, 40), marks=mark(300, f"bracket of the {side} lamp, top of it", ""))
        for side in ("left side", "right side")
    ]
    assert parts_of(inner_rail_1=lamp[0], inner_rail_2=lamp[1]) == [("IR1", 1, ""), ("IR2", 1, "")]


def test_end_for_end_brings_a_side_mark_back_on_the_other_side():
    left = piece(marks=mark(300, "weld on", "left side"))
    right = piece(marks=mark(700, "weld on", "right side"))
    assert parts_of(inner_rail_1=left, inner_rail_2=right) == [("IR1", 2, "")]


def test_turning_over_brings_an_underside_mark_to_the_top():
    assert parts_of(
        inner_rail_1=piece(marks=mark(300, "notch", "underside")),
        inner_rail_2=piece(marks=mark(300, "notch", "top")),
    ) == [("IR1", 2, "")]


def test_numbers_follow_members_not_sizes_nor_the_order_of_the_assembly():
    made = assembly(
        inner_rail_10=piece(length=300), inner_rail_2=piece(length=900), inner_rail_1=piece(length=500)
    )
    assert [part.number for part in part_list(made.members)] == ["IR1", "IR2", "IR10"]


def test_splitting_a_group_keeps_the_old_number_for_the_first():
    before = parts_of(inner_rail_1=piece(), inner_rail_2=piece(), inner_rail_3=piece())
    after = parts_of(inner_rail_1=piece(), inner_rail_2=piece(length=999), inner_rail_3=piece())
    assert before == [("IR1", 3, "")]
    assert after == [("IR1", 2, ""), ("IR2", 1, "")]


def test_names_say_what_the_members_have_in_common():
    made = assembly(
        inner_slat_1=replace(piece(), role="slat"),
        outer_slat_1=replace(piece(), role="slat"),
        inner_edge_upstand_left=replace(piece(length=5), role="edge upstand"),
        inner_edge_upstand_right=replace(piece(length=5), role="edge upstand"),
    )
    assert [part.name for part in part_list(made.members)] == ["slat", "inner edge upstand"]


def test_starter_parts_hold_every_member_once_under_numbers_of_their_own():
    made = assemble(timber_ramp())
    parts = part_list(made.members)
    assert sorted(key for part in parts for key in part.members) == sorted(
        member.key for member in made.members
    )
    assert all(part.quantity == len(part.members) for part in parts)
    assert len({part.number for part in parts}) == len(parts)
    assert sum(part.quantity * part.mass_kg for part in parts) == pytest.approx(
        sum(member.mass_kg for member in made.members)
    )


@pytest.mark.parametrize(
    "changes",
    [
        {"prop.fitted": True, "stop.kind": "lap"},
        {"toe.kind": "taper", "outer_leaf.knuckle_shift_mm": 20},
        {
            "inner_leaf.cross_fitting": "under",
            "outer_leaf.cross_fitting": "half_lap",
            "outer_leaf.half_lap_mm": 10,
        },
        {
            "inner_leaf.rail_lanes_mm": (-386, -200, 0, 200, 386),
            "inner_leaf.cross_positions_mm": tuple(range(100, 1300, 100)),
        },
    ],
)
def test_no_two_parts_of_any_kind_of_ramp_share_a_number_even_without_case(changes):
    design = timber_ramp()
    for path, value in changes.items():
        design = with_value(design, path, value)
    made = assemble(design)
    numbers = [part_number(member).casefold() for member in made.members]
    assert len(set(numbers)) == len(numbers)
    assert {part.number for part in part_list(made.members)} <= {
        part_number(member) for member in made.members
    }


def test_starter_parts_by_number():
    """Both leaves' rails are coped alike among themselves; slats differ in where the rails cross them."""
    numbers = {part.number: part.quantity for part in part_list(assemble(timber_ramp()).members)}
    assert numbers["IR1"] == 3
    assert numbers["OR1"] == 3
    assert {"IS1", "OS1"} <= set(numbers)


LENGTHS = st.floats(1200, 1500).map(lambda value: round(value, 1))


@settings(max_examples=tries(15), deadline=None)
@given(
    inner=LENGTHS,
    outer=LENGTHS,
    deck=st.floats(-25, -15),
    joint=st.floats(-50, -41),
    depth=st.sampled_from([40, 50]),
)
def test_numbers_stay_put_while_dimensions_change(inner, outer, deck, joint, depth):
    """Each part has the number of its first member, so a member's part changes number only if its company
    changes.
    """
    before = timber_ramp()
    after = before
    for path, value in {
        "inner_leaf.length_mm": inner,
        "outer_leaf.length_mm": outer,
        "deck_hinge.height_mm": deck,
        "joint.height_mm": joint,
        "inner_leaf.rail_section": parse_section(f"box {depth}x20x2"),
    }.items():
        after = with_value(after, path, value)
    parts_before, parts_after = part_list(assemble(before).members), part_list(assemble(after).members)
    numbers = {part.members[0]: part.number for part in parts_before}
    shared = [part for part in parts_after if part.members[0] in numbers]
    assert len(shared) >= 12
    assert all(part.number == numbers[part.members[0]] for part in shared)
    assert len({part.number for part in parts_after}) == len(parts_after)
