"""DXF by what is in it: read again by ezdxf with a clean audit, and by trimesh, whose reader is its own."""

import io
import math
import os
import subprocess
import sys
from dataclasses import replace
from itertools import combinations, pairwise

import ezdxf
import numpy as np
import pytest
import trimesh
from ezdxf.disassemble import recursive_decompose
from hypothesis import given
from hypothesis import strategies as st
from timber_ramp import timber_ramp
from trimesh.path.arc import arc_center

from rampdraft.checks.notes import CAUTIONS
from rampdraft.errors import ExportError
from rampdraft.export.dxf import (
    HOLES,
    MARKING,
    NOTES,
    OUTLINE,
    is_worth_cutting,
    part_dxf,
    place_mm,
    plain,
    sheet_dxf,
    unrolled_dxf,
)
from rampdraft.export.dxf_audit import faults
from rampdraft.geometry.developed import worth_unrolling
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Mark
from rampdraft.geometry.outline import Hole
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.shop.parts import part_list


def designs():
    """Return ramps that between them have every end shape, notch and role."""
    plain = timber_ramp()
    lapped = plain
    changes = {
        "toe.kind": "taper",
        "toe.length_mm": 200,
        "toe.thickness_mm": 10,
        "stop.kind": "lap",
        "prop.fitted": True,
        "deck_hinge.height_mm": 0,
        "outer_leaf.knuckle_shift_mm": 20,
        "outer_leaf.cross_positions_mm": (150.0, 600.0, 1050.0),
    }
    for leaf in ("inner_leaf", "outer_leaf"):
        changes |= {
            f"{leaf}.cross_fitting": "half_lap",
            f"{leaf}.half_lap_mm": 20,
            f"{leaf}.slat_width_mm": 60,
        }
    for path, value in changes.items():
        lapped = with_value(lapped, path, value)
    return plain, lapped


PARTS = [part for design in designs() for part in part_list(assemble(design).members)]
IDS = [f"{part.number}-{index}" for index, part in enumerate(PARTS)]


def read(data):
    doc = ezdxf.read(io.StringIO(data.decode("utf-8")))
    audit = doc.audit()
    assert audit.errors == []
    assert audit.fixes == []
    return doc


def on(doc, layer):
    return list(doc.modelspace().query(f'*[layer=="{layer}"]'))


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_a_profile_is_one_closed_outline_in_mm_with_its_holes_as_circles(part):
    doc = read(part_dxf(part))
    assert (doc.header["$INSUNITS"], doc.header["$MEASUREMENT"]) == (4, 1)
    profile = part.piece.profile
    (outline,) = on(doc, OUTLINE)
    if part.role in ("knuckle", "washer"):
        assert outline.dxftype() == "CIRCLE"
        assert 2 * outline.dxf.radius == pytest.approx(part.piece.section.depth_mm)
    else:
        assert outline.dxftype() == "LWPOLYLINE"
        assert outline.closed
        written = np.array(outline.get_points("xyb"))
        assert written == pytest.approx(np.array(profile.outline.vertices), abs=1e-9)
        steps = np.linalg.norm(np.diff(written[:, :2], axis=0, append=written[:1, :2]), axis=1)
        assert steps.min() > 0.01, "an edge of no length"
    circles = [(hole.dxf.center.x, hole.dxf.center.y, 2 * hole.dxf.radius) for hole in on(doc, HOLES)]
    assert circles == [(hole.x_mm, hole.y_mm, hole.diameter_mm) for hole in profile.holes]
    assert {entity.dxftype() for entity in doc.modelspace()} <= {"LWPOLYLINE", "CIRCLE", "LINE", "TEXT"}
    assert {entity.dxf.layer for entity in doc.modelspace()} <= {OUTLINE, HOLES, MARKING, NOTES}


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_no_edge_is_drawn_twice(part):
    doc = read(part_dxf(part))
    drawn = []
    for entity in recursive_decompose(on(doc, OUTLINE) + on(doc, HOLES) + on(doc, MARKING)):
        whole = entity.dxftype() == "LWPOLYLINE"
        for piece in entity.virtual_entities() if whole else [entity]:
            drawn.append(signature(piece))
    assert len(set(drawn)) == len(drawn)


def signature(entity):
    """Return what makes two lines or arcs the same, whichever way they run."""
    if entity.dxftype() == "LINE":
        ends = sorted((round(p.x, 4), round(p.y, 4)) for p in (entity.dxf.start, entity.dxf.end))
        return ("line", *ends)
    centre = (round(entity.dxf.center.x, 4), round(entity.dxf.center.y, 4), round(entity.dxf.radius, 4))
    if entity.dxftype() == "CIRCLE":
        return ("circle", *centre)
    return ("arc", *centre, round(entity.dxf.start_angle, 4), round(entity.dxf.end_angle, 4))


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_a_second_reader_sees_closed_loops_of_the_same_area_with_arcs_as_arcs(part):
    path = trimesh.load_path(io.BytesIO(part_dxf(part)), file_type="dxf")
    assert path.units == "millimeters"
    profile = part.piece.profile
    cut = [edge for edge in path.entities if type(edge).__name__ in ("Line", "Arc") and edge.layer != MARKING]
    areas = sorted(loop_areas(path.vertices, cut), reverse=True)
    assert areas[0] == pytest.approx(profile.outline.area_and_centroid()[0], rel=1e-6)
    assert areas[1:] == pytest.approx(
        sorted((math.pi / 4 * h.diameter_mm**2 for h in profile.holes), reverse=True), rel=1e-6
    )
    arcs = [edge for edge in cut if type(edge).__name__ == "Arc" and not edge.closed]
    bends = [bulge for _, _, bulge in profile.outline.vertices if bulge]
    assert len(arcs) == (0 if part.role in ("knuckle", "washer") else len(bends))
    copes = [end.radius_mm for end in part.piece.ends if end.kind == "cope"]
    assert sorted(float(arc_center(path.vertices[edge.points]).radius) for edge in arcs) == pytest.approx(
        sorted(copes), rel=1e-6
    )


def loop_areas(vertices, edges):
    """Yield the area of each closed loop, exactly: lines by the shoelace formula, arcs by their circular
    segment.
    """
    circles = [edge for edge in edges if getattr(edge, "closed", False) and type(edge).__name__ == "Arc"]
    for edge in circles:
        yield math.pi * float(arc_center(vertices[edge.points]).radius) ** 2
    open_edges = [edge for edge in edges if not any(edge is circle for circle in circles)]
    steps = []
    for edge in open_edges:
        points = list(edge.points)
        if type(edge).__name__ == "Line":
            steps += [(a, b, None) for a, b in pairwise(points)]
        else:
            steps.append((points[0], points[2], points[1]))
    while steps:
        first, at, _ = loop = steps.pop()
        loop = [loop]
        while at != first:
            (follower,) = [step for step in steps if at in step[:2]]
            steps.remove(follower)
            if follower[0] != at:
                follower = (follower[1], follower[0], follower[2])
            loop.append(follower)
            at = follower[1]
        yield abs(sum(step_area(vertices, step) for step in loop))


def step_area(vertices, step):
    start, end, middle = step
    (x0, y0), (x1, y1) = vertices[start], vertices[end]
    area = (x0 * y1 - x1 * y0) / 2
    if middle is not None:
        info = arc_center(vertices[[start, middle, end]])
        xm, ym = vertices[middle]
        turn = math.copysign(1, (xm - x0) * (y1 - y0) - (ym - y0) * (x1 - x0))
        area += turn * float(info.radius) ** 2 / 2 * (float(info.span) - math.sin(float(info.span)))
    return area


def test_marks_lie_on_the_marking_layer_and_holes_need_none():
    parts = {part.number: part for part in part_list(assemble(timber_ramp()).members)}
    rail, slat = read(part_dxf(parts["IR1"])), read(part_dxf(parts["IS1"]))
    assert sorted(line.dxf.start.x for line in on(rail, MARKING)) == [200, 675, 1150]
    assert on(slat, MARKING) == []
    assert len(on(slat, HOLES)) == 6


def test_the_notes_say_number_section_quantity_and_running_dimensions():
    rail = next(part for part in PARTS if part.number == "IR1")
    said = [text.plain_text() for text in on(read(part_dxf(rail, "R1")), NOTES)]
    assert "R1-IR1  inner rail  3 off" in said
    assert "box 40x20x2, steel S235, length 1350 mm" in said
    ends = (
        "left end: cope dia 30, centre 20 below the top line, "
        "right end: cope dia 30, centre 43 below the top line"
    )
    assert ends.casefold() in [text.casefold() for text in said]
    assert [text for text in said if text.startswith(("0", "200 ", "675 ", "1150 ")) or text == "1350"] == [
        "0", "200 cross member 20 wide, side, centre", "675 cross member 20 wide, side, centre",
        "1150 cross member 20 wide, side, centre", "1350",
    ]  # fmt: skip


def test_a_round_piece_is_drawn_from_its_end_and_has_no_running_dimensions():
    knuckle = next(part for part in PARTS if part.role == "knuckle")
    said = [text.plain_text() for text in on(read(part_dxf(knuckle)), NOTES)]
    assert any(text.lower() == "bore dia 12 through, on the axis" for text in said)
    assert "0" not in said


def test_the_sheet_has_every_part_once_with_its_text_and_nothing_overlaps():
    for design in designs():
        parts = part_list(assemble(design).members)
        doc = read(sheet_dxf(parts, "R1"))
        outlines = on(doc, OUTLINE)
        assert len(outlines) == len(parts)
        boxes = []
        for part, outline in zip(parts, outlines, strict=True):
            x0, y0, x1, y1 = place_mm(part, "R1")
            left, low, _, _ = part.piece.profile.outline.box
            if outline.dxftype() == "CIRCLE":
                at = outline.dxf.center.x - outline.dxf.radius, outline.dxf.center.y - outline.dxf.radius
            else:
                points = np.array(outline.get_points("xy"))
                at = points.min(axis=0)
            dx, dy = at[0] - left, at[1] - low
            boxes.append((x0 + dx, y0 + dy, x1 + dx, y1 + dy))
        for (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) in combinations(boxes, 2):
            assert ax1 <= bx0 + 1e-6 or bx1 <= ax0 + 1e-6 or ay1 <= by0 + 1e-6 or by1 <= ay0 + 1e-6
        said = [text.plain_text() for text in on(doc, NOTES)]
        assert all(caution in said for caution in CAUTIONS)
        lowest = min(box[1] for box in boxes)
        for text in on(doc, NOTES):
            where = text.get_placement()[1]
            inside = any(x0 <= where.x <= x1 and y0 <= where.y <= y1 for x0, y0, x1, y1 in boxes)
            assert inside or where.y < lowest


def test_opened_it_shows_the_whole_piece():
    for part in PARTS:
        doc = read(part_dxf(part))
        low, high = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
        x0, y0, x1, y1 = part.piece.profile.outline.box
        assert low[0] < x0 < x1 < high[0]
        assert low[1] < y0 < y1 < high[1]
        (view,) = doc.viewports.get("*Active")
        assert view.dxf.center.x == pytest.approx((low[0] + high[0]) / 2)
        assert view.dxf.height >= high[1] - low[1]


def test_no_layer_is_empty_and_no_text_holds_a_control_code():
    for part in PARTS:
        doc = read(part_dxf(part))
        drawn = {entity.dxf.layer for entity in doc.modelspace()}
        assert {layer.dxf.name for layer in doc.layers} - {"0", "Defpoints"} == drawn
        assert not [text for text in on(doc, NOTES) if "%%" in text.dxf.text or "^" in text.dxf.text]


SHEETS = [(part, sheet) for part in PARTS if (sheet := worth_unrolling(part.piece)) is not None]


@pytest.mark.parametrize(("part", "sheet"), SHEETS, ids=[part.number for part, _ in SHEETS])
def test_an_unrolled_bar_is_one_closed_outline_as_broad_as_its_girth(part, sheet):
    """Its area by a second reader is that of the sheet; its breadth that of annex B of EN 10219-2:2006."""
    doc = read(unrolled_dxf(part, sheet))
    (outline,) = on(doc, OUTLINE)
    y = [point[1] for point in outline.get_points("xy")]
    bar = part.piece.section
    girth = 2 * (bar.depth_mm + bar.width_mm) - 8 * 2 * bar.wall_mm + 2 * math.pi * 2 * bar.wall_mm
    assert max(y) - min(y) == pytest.approx(girth, abs=1e-6)
    path = trimesh.load_path(io.BytesIO(unrolled_dxf(part, sheet)), file_type="dxf")
    cut = [edge for edge in path.entities if type(edge).__name__ in ("Line", "Arc") and edge.layer != MARKING]
    areas = sorted(loop_areas(path.vertices, cut), reverse=True)
    wanted = [one.area_and_centroid()[0] for one in (sheet.outline, *sheet.openings)]
    assert areas == pytest.approx(wanted, rel=1e-6)
    x0, _, x1, _ = sheet.outline.box
    for line in on(doc, MARKING):
        assert x0 - 1e-6 <= line.dxf.start.x < line.dxf.end.x <= x1 + 1e-6


def test_coped_tapered_and_notched_bars_are_unrolled_and_no_others():
    assert {part.role for part, _ in SHEETS} == {"rail", "cross member"}
    assert any(sheet.openings for _, sheet in SHEETS)


def test_what_is_sawn_square_needs_no_machine():
    for part in PARTS:
        square = part.piece.section.kind != "flat" and part.role in ("cross member", "prop")
        notched = len(part.piece.profile.outline.vertices) > 4
        assert is_worth_cutting(part) is not (square and not notched and not part.piece.profile.holes)


def square(space, x0, y0, x1, y1, layer=OUTLINE, close=True):
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    space.add_lwpolyline(corners, close=close, dxfattribs={"layer": layer})


@pytest.mark.parametrize(
    ("draw", "said"),
    [
        (lambda space: square(space, 0, 0, 100, 50), ()),
        (lambda space: None, ("0 outlines, not one",)),
        (
            lambda space: (square(space, 0, 0, 100, 50), square(space, 0, 0, 100, 50)),
            ("an edge is drawn twice", "2 outlines, not one"),
        ),
        (
            lambda space: square(space, 0, 0, 100, 50, close=False),
            ("an outline on layer CUT_OUTLINE is open", "0 outlines, not one"),
        ),
        (lambda space: square(space, 0, 0, 100, 51), ("51.000 mm broad, not 50.000",)),
        (
            lambda space: (
                square(space, 0, 0, 100, 50),
                space.add_line((0, 0), (9, 9), dxfattribs={"layer": HOLES}),
            ),
            ("a stray LINE on layer CUT_HOLES",),
        ),
        (
            lambda space: (square(space, 0, 0, 100, 50), square(space, 90, 10, 110, 20, HOLES)),
            ("hole 1 is not inside the outline",),
        ),
        (
            lambda space: (square(space, 0, 0, 100, 50), square(space, 200, 10, 210, 20, HOLES)),
            ("hole 1 is not inside the outline",),
        ),
        (
            lambda space: (
                square(space, 0, 0, 100, 50),
                square(space, 10, 10, 30, 30, HOLES),
                space.add_circle((20, 20), 5, dxfattribs={"layer": HOLES}),
            ),
            ("holes 1 and 2 run into each other",),
        ),
        (
            lambda space: space.add_lwpolyline(
                [(0, 0), (100, 50), (100, 0), (0, 50)], close=True, dxfattribs={"layer": OUTLINE}
            ),
            ("an outline crosses itself",),
        ),
        (
            lambda space: space.add_lwpolyline(
                [(0, 0), (100, 0), (100, 50), (100, 50.0005), (0, 50)],
                close=True,
                dxfattribs={"layer": OUTLINE},
            ),
            ("an edge of no length at 100.00, 50.00",),
        ),
    ],
)
def test_the_auditor_finds_what_a_cutter_could_not_follow(draw, said):
    space = ezdxf.new("R2010", units=4).modelspace()
    draw(space)
    assert faults(space, OUTLINE, HOLES, (100.0, 50.0)) == said


def test_a_profile_that_cannot_be_cut_is_not_written():
    part = next(part for part in PARTS if part.number == "IS1")
    outside = replace(part.piece.profile, holes=(Hole(-50.0, 10.0, 5.5),))
    broken = replace(part, piece=replace(part.piece, profile=outside))
    with pytest.raises(ExportError, match="cannot be cut") as told:
        part_dxf(broken)
    assert "hole 1 is not inside the outline" in str(told.value.problems[0])


def test_the_cautions_go_with_every_profile():
    doc = read(part_dxf(PARTS[0]))
    assert [doc.header.custom_vars.get(f"Caution {k}") for k in range(1, len(CAUTIONS) + 1)] == list(CAUTIONS)


def test_the_same_parts_give_the_same_bytes_in_every_process():
    program = (
        "import hashlib; from rampdraft.export.dxf import sheet_dxf; "
        "from rampdraft.shop.parts import part_list; "
        "from rampdraft.geometry.members.assembly import assemble; "
        "from rampdraft.model.starter import starter_design; "
        "print(hashlib.sha256(sheet_dxf(part_list(assemble(starter_design()).members))).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(found) == 1


def test_writing_leaves_the_library_as_it_was():
    before = ezdxf.options.write_fixed_meta_data_for_testing
    part_dxf(PARTS[0])
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


@given(st.text(max_size=40), st.text(max_size=40))
def test_no_text_of_a_user_breaks_the_file(drawing_number, material):
    part = replace(PARTS[0], piece=replace(PARTS[0].piece, material=material))
    doc = read(part_dxf(part, drawing_number))
    assert len(on(doc, OUTLINE)) == 1
    assert len(on(doc, NOTES)) == 8


def test_codes_in_a_text_are_shown_and_not_obeyed():
    part = replace(PARTS[0], piece=replace(PARTS[0].piece, material="50%%d ^J \n0\nCIRCLE"))
    said = [text.plain_text() for text in on(read(part_dxf(part)), NOTES)]
    assert any("50% %d" in text and "CIRCLE" in text for text in said)


@pytest.mark.parametrize(
    ("text", "shown"), [("1 : 6.4 (15.7 %)", "1 : 6.4 (15.7 %)"), ("100%", "100%"), ("%%%c", "% % %c")]
)
def test_a_per_cent_sign_alone_is_no_code(text, shown):
    assert plain(text) == shown


def test_a_mark_at_an_end_is_no_station_of_its_own():
    part = PARTS[0]
    piece = replace(
        part.piece, marks=(Mark(at_mm=0.0, work="end"), Mark(at_mm=part.piece.length_mm, work="end"))
    )
    assert on(read(part_dxf(replace(part, piece=piece))), MARKING) == []


def test_a_piece_of_another_section_is_true_to_size_too():
    design = with_value(timber_ramp(), "inner_leaf.rail_section", parse_section("box 50x30x3"))
    rail = next(part for part in part_list(assemble(design).members) if part.number == "IR1")
    (outline,) = on(read(part_dxf(rail)), OUTLINE)
    points = np.array(outline.get_points("xy"))
    assert np.ptp(points, axis=0) == pytest.approx([rail.piece.length_mm, 50])
