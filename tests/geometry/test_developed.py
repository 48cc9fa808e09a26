"""A bar unrolled."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString, Point, Polygon

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.developed import Developed, developed
from rampdraft.geometry.members.leaves import Notch, cope, rail_outline
from rampdraft.geometry.members.member import EndCut, Piece
from rampdraft.geometry.outline import Outline, Profile, disc
from rampdraft.model.section import parse_section

SQUARE = EndCut(kind="square")
INCH = 25.4


def piece(
    section: str, length: float, start: EndCut = SQUARE, end: EndCut = SQUARE, notches: tuple[Notch, ...] = ()
) -> Piece:
    bar = parse_section(section)
    outline = rail_outline(length_mm=length, depth_mm=bar.depth_mm, start=start, end=end, notches=notches)
    return Piece(
        role="rail",
        section=bar,
        material="steel S235",
        length_mm=length,
        profile=Profile(outline),
        ends=(start, end),
    )


def unrolled(piece: Piece) -> Developed:
    found = developed(piece)
    assert found is not None
    return found


def polygon(outline: Outline) -> Polygon:
    return Polygon(outline.points(sagitta_mm=1e-5))


def across(shape: Polygon, y: float) -> tuple[float, float]:
    """Return where a level line enters a shape and leaves it."""
    x0, _, x1, _ = shape.bounds
    met = shape.intersection(LineString([(x0 - 1, y), (x1 + 1, y)]))
    return met.bounds[0], met.bounds[2]


def test_the_saddle_of_a_tube_on_a_tube_is_the_published_template() -> None:
    """A 2 in tube on a 6 in tube at 90 degrees drops 0.085, 0.172, 0.085 and 0 in at 1/8, 1/4, 3/8 and 1/2
    turn: a published template for saddles of tubes.
    """
    bar = unrolled(piece("tube 50.8x3", 300.0, start=cope(3 * INCH, -INCH, 2 * INCH)))
    shape = polygon(bar.outline)
    girth = math.pi * 2 * INCH
    assert bar.girth_mm == pytest.approx(girth)
    side = across(shape, girth / 4)[0]  # the seam is on top, a quarter of a turn before
    for turn, drop_in in ((1 / 8, 0.085), (1 / 4, 0.172), (3 / 8, 0.085), (1 / 2, 0.0)):
        drop = side - across(shape, girth * (1 / 4 + turn) - 1e-6)[0]
        assert drop / INCH == pytest.approx(drop_in, abs=0.0006)


@pytest.mark.parametrize(
    ("section", "area_m2_per_m"),
    [("box 60x40x2.5", 0.191), ("box 40x40x3", 0.150), ("box 50x30x3", 0.150), ("box 100x50x5", 0.283)],
)
def test_the_girth_is_the_surface_per_metre_of_published_tables(section: str, area_m2_per_m: float) -> None:
    """EN 10219-2:2006, annex B: A_s = 2 (H + B - 4 r_o + pi r_o) / 1000; worked out by hand, to
    three decimals as tables give them.
    """
    assert unrolled(piece(section, 1000.0)).girth_mm / 1000 == pytest.approx(area_m2_per_m, abs=0.0006)


def bars() -> list[Piece]:
    found = [
        part.piece
        for path in sample_paths()
        for part in evaluate(load_design(path), path.parent).parts
        if developed(part.piece) is not None
    ]
    taper = EndCut(kind="taper", height_mm=5.0, length_mm=200.0)
    notch = Notch(centre_mm=200.0, width_mm=30.0, depth_mm=12.0)
    return [
        *found,
        piece("tube 42x3", 500.0, start=cope(30.0, -63.0, 42.0), end=taper),
        piece("round 30", 500.0, start=cope(10.0, -15.0, 30.0), end=cope(10.0, -8.0, 30.0)),
        piece("box 60x40x2.5", 500.0, start=cope(12.0, -20.0, 60.0), end=taper, notches=(notch,)),
    ]


@pytest.mark.parametrize("bar", bars(), ids=lambda bar: f"{bar.role} {bar.section.text} {bar.length_mm:g}")
def test_each_line_along_the_sheet_is_as_long_as_the_bar_is_there(bar: Piece) -> None:
    """At every place round the bar the sheet ends where a cut through the profile at that height does."""
    sheet = unrolled(bar)
    flat, profile = polygon(sheet.outline), polygon(bar.profile.outline)
    x0, y0, x1, y1 = bar.profile.outline.box
    assert flat.is_valid
    for y, height in heights_round(bar, sheet, y0, y1):
        for x in across(profile, min(max(height, y0 + 1e-7), y1 - 1e-7)):
            assert flat.exterior.distance(Point(x, y)) < 0.02, (y, height)
    assert (sheet.outline.box[0], sheet.outline.box[2]) == pytest.approx((x0, x1), abs=1e-6)


def heights_round(bar: Piece, sheet: Developed, y0: float, y1: float) -> list[tuple[float, float]]:
    """Return (place on the sheet, height of the bar there), from the corner radius of the standard."""
    places = np.linspace(0.4, sheet.girth_mm / 2 - 0.4, 60)
    top = sheet.sides[0][0] == "top"
    found: list[tuple[float, float]] = []
    for place in places:
        if bar.section.kind == "box":
            radius = 2 * bar.section.wall_mm
            edge = bar.section.width_mm / 2 - radius
            bend = radius * math.pi / 2
            side = bar.section.depth_mm - 2 * radius
            if place <= edge:
                down = 0.0
            elif place <= edge + bend:
                down = radius * (1 - math.cos((place - edge) / radius))
            elif place <= edge + bend + side:
                down = radius + place - edge - bend
            elif place <= edge + 2 * bend + side:
                down = radius + side + radius * math.sin((place - edge - bend - side) / radius)
            else:
                down = bar.section.depth_mm
        else:
            radius = bar.section.depth_mm / 2
            down = radius * (1 - math.cos(place / radius))
        found.append((float(place), y1 - down if top else y0 + down))
    return found


def test_a_notch_opens_the_side_away_from_the_seam_and_both_beside_it() -> None:
    """Underside 40 - 2 x 5 wide, two bends of 2.5 pi, and 7 mm up each side: 30 + 15.7 + 14 (by hand)."""
    notch = Notch(centre_mm=200.0, width_mm=30.0, depth_mm=12.0)
    sheet = unrolled(piece("box 60x40x2.5", 500.0, notches=(notch,)))
    (opening,) = sheet.openings
    x0, y0, x1, y1 = opening.box
    assert (x0, x1) == pytest.approx((185.0, 215.0))
    assert y1 - y0 == pytest.approx(30 + 5 * math.pi + 14)
    assert (y0 + y1) / 2 == pytest.approx(sheet.girth_mm / 2)
    assert sheet.sides[0][0] == "top"


def test_a_bar_notched_from_above_has_its_seam_below() -> None:
    bar = piece("box 60x40x2.5", 500.0, notches=(Notch(centre_mm=200.0, width_mm=30.0, depth_mm=12.0),))
    turned = tuple((500 - x, -60 - y, bulge) for x, y, bulge in bar.profile.outline.vertices)
    sheet = unrolled(replace(bar, profile=Profile(Outline(turned))))
    assert sheet.sides[0][0] == "underside"
    (opening,) = sheet.openings
    assert (opening.box[0], opening.box[2]) == pytest.approx((285.0, 315.0))


def test_what_lies_flat_is_not_unrolled() -> None:
    plank = replace(piece("box 60x40x2.5", 500.0), section=parse_section("timber 20x95"))
    assert developed(plank) is None
    seen_from_its_end = Profile(disc(0.0, 0.0, 30.0))
    assert developed(replace(piece("round 30", 40.0), profile=seen_from_its_end)) is None
