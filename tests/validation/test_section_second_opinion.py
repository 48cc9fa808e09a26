"""Sections against sectionproperties, which meshes an outline and integrates over it, on random sizes that
can be bought.

Its arcs are polygons inside the true arc, here of so many points that they miss less than the agreement asked
for: 0.1 %. The corners of a box are those of EN 10219-2 for walls up to 6 mm: 2 T outside, T inside.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.geometry.sections import NetSection, SectionProperties, cut_from_below, holed, properties
from rampdraft.model.section import Section

# Where its mesher has no ready-made build the package is not asked for (pyproject.toml), or does not load.
pytest.importorskip(
    "sectionproperties.analysis", reason="sectionproperties does not load here", exc_type=ImportError
)

from sectionproperties.analysis import Section as MeshedSection
from sectionproperties.pre import Geometry
from sectionproperties.pre.library import (
    circular_hollow_section,
    circular_section,
    rectangular_hollow_section,
    rectangular_section,
)

AGREEMENT = 1e-3
CORNER_POINTS, CIRCLE_POINTS = 40, 192

SIZES = st.floats(20, 120)
SHARE = st.floats(0, 1)


@st.composite
def boxes(draw) -> Section:
    """Return a box from 1.5 to 6 mm thick, with a flat left on every side between its corners."""
    depth, width = draw(SIZES), draw(SIZES)
    thickest = min(6.0, 0.2 * min(depth, width))
    return Section(kind="box", depth_mm=depth, width_mm=width, wall_mm=1.5 + draw(SHARE) * (thickest - 1.5))


@st.composite
def tubes(draw) -> Section:
    diameter = draw(SIZES)
    wall = 1.5 + draw(SHARE) * (min(6.0, 0.4 * diameter) - 1.5)
    return Section(kind="tube", depth_mm=diameter, width_mm=diameter, wall_mm=wall)


def outline(section: Section) -> Geometry:
    depth, width, wall = section.depth_mm, section.width_mm, section.wall_mm
    if section.kind == "box":
        return rectangular_hollow_section(d=depth, b=width, t=wall, r_out=2 * wall, n_r=CORNER_POINTS)
    if section.kind == "tube":
        return circular_hollow_section(d=depth, t=wall, n=CIRCLE_POINTS)
    if section.kind == "round":
        return circular_section(d=depth, n=CIRCLE_POINTS)
    return rectangular_section(d=depth, b=width)


def block(left: float, bottom: float, width: float, depth: float) -> Geometry:
    return rectangular_section(d=depth, b=width).shift_section(left, bottom)


def meshed(geometry: Geometry) -> MeshedSection:
    """Return it integrated; the size of the mesh does not matter, the integrals over a triangle being
    exact.
    """
    section = MeshedSection(geometry.create_mesh(mesh_sizes=0, coarse=True))
    section.calculate_geometric_properties()
    return section


def agrees(found: SectionProperties | NetSection, second: MeshedSection) -> None:
    assert found.area_mm2 == pytest.approx(second.get_area(), rel=AGREEMENT)
    assert found.second_moment_mm4 == pytest.approx(second.get_ic()[0], rel=AGREEMENT)
    assert found.elastic_modulus_mm3 == pytest.approx(min(second.get_z()[:2]), rel=AGREEMENT)


def whole_agrees(section: Section) -> None:
    found, second = properties(section), meshed(outline(section))
    agrees(found, second)
    second.calculate_plastic_properties()
    assert found.plastic_modulus_mm3 == pytest.approx(second.get_s()[0], rel=AGREEMENT)


@settings(max_examples=tries(10))
@given(boxes())
def test_boxes(section):
    whole_agrees(section)


@settings(max_examples=tries(10))
@given(tubes())
def test_tubes(section):
    whole_agrees(section)


@settings(max_examples=tries(8))
@given(SIZES)
def test_round_bars(diameter):
    whole_agrees(Section(kind="round", depth_mm=diameter, width_mm=diameter))


@settings(max_examples=tries(8))
@given(st.sampled_from(["flat", "timber"]), SIZES, st.floats(3, 120))
def test_flat_bars_and_timber(kind, depth, width):
    whole_agrees(Section(kind=kind, depth_mm=depth, width_mm=width))


def cut(section: Section, depth_left_mm: float, *, closed: bool = False) -> Geometry:
    """Return the top of a section, with a plate of the wall's thickness between its sides if closed."""
    depth, width, wall = section.depth_mm, section.width_mm, section.wall_mm
    left = outline(section) - block(-1, -1, width + 2, depth - depth_left_mm + 1)
    if not closed:
        return left
    # The plate overlaps the sides, which the union forgets; two edges that only meet might leave a slit.
    plate = block(wall / 2, depth - depth_left_mm, width - wall, wall)
    return Geometry(geom=left.geom.union(plate.geom))


def cut_agrees(section: Section, share: float, closed: bool) -> None:
    """Between the corners, and deep enough that the closing plate is clear of them."""
    low, high = (3 if closed else 2) * section.wall_mm, section.depth_mm - 2 * section.wall_mm
    depth_left = low + share * (high - low)
    agrees(
        cut_from_below(section, depth_left, closed=closed), meshed(cut(section, depth_left, closed=closed))
    )


@settings(max_examples=tries(10))
@given(boxes(), SHARE, st.booleans())
def test_what_a_notch_leaves_of_a_box(section, share, closed):
    cut_agrees(section, share, closed)


@settings(max_examples=tries(20))
@given(boxes(), st.floats(0.03, 0.999))
def test_a_notch_through_the_corners_leaves_no_less_than_is_counted(section, share):
    """Into the upper corners only a plate counts, and what is left of the lower ones does not."""
    depth_left = share * section.depth_mm
    found, second = cut_from_below(section, depth_left), meshed(cut(section, depth_left))
    assert found.area_mm2 <= second.get_area() * (1 + AGREEMENT)
    assert found.second_moment_mm4 <= second.get_ic()[0] * (1 + AGREEMENT)
    assert found.elastic_modulus_mm3 <= min(second.get_z()[:2]) * (1 + AGREEMENT)


@settings(max_examples=tries(12))
@given(boxes(), SHARE)
def test_the_tip_of_a_closed_taper_has_no_less_than_is_counted(section, share):
    """From where top wall and closing plate meet to where the plate is clear of the corners."""
    depth_left = (2 + 0.02 + 0.96 * share) * section.wall_mm
    found, second = (
        cut_from_below(section, depth_left, closed=True),
        meshed(cut(section, depth_left, closed=True)),
    )
    assert found.elastic_modulus_mm3 <= min(second.get_z()[:2]) * (1 + AGREEMENT)
    assert found.elastic_modulus_mm3 >= 0.3 * min(second.get_z()[:2])


@settings(max_examples=tries(12))
@given(st.floats(8, 60), st.floats(0.06, 0.95))
def test_a_cut_round_bar_has_no_less_than_is_counted(diameter, share):
    """Only a plate inside the arc counts."""
    section = Section(kind="round", depth_mm=diameter, width_mm=diameter)
    left = outline(section) - block(-diameter, -diameter, 3 * diameter, (1.5 - share) * diameter)
    found, second = cut_from_below(section, share * diameter), meshed(left)
    assert found.elastic_modulus_mm3 <= min(second.get_z()[:2]) * (1 + AGREEMENT)


def hole_agrees(section: Section, share: float) -> None:
    """A hole through the flat of the top wall."""
    hole = share * (section.width_mm - 4 * section.wall_mm)
    middle, depth, wall = section.width_mm / 2, section.depth_mm, section.wall_mm
    second = meshed(outline(section) - block(middle - hole / 2, depth - wall, hole, wall + 1))
    agrees(holed(section, hole), second)


@settings(max_examples=tries(20))
@given(boxes(), st.floats(0.02, 0.98))
def test_what_a_hole_in_the_top_leaves_of_a_box(section, share):
    hole_agrees(section, share)


@pytest.mark.soak
@settings(max_examples=tries(80))
@given(boxes(), SHARE, st.booleans(), st.floats(0.02, 0.98))
def test_more_boxes_whole_notched_and_holed(section, share, closed, hole):
    whole_agrees(section)
    cut_agrees(section, share, closed)
    hole_agrees(section, hole)


def test_a_wall_thinner_by_a_hundredth_is_noticed() -> None:
    """A comparison that cannot fail is none."""
    section, thinner = (Section(kind="box", depth_mm=60, width_mm=40, wall_mm=wall) for wall in (3.0, 2.97))
    with pytest.raises(AssertionError):
        agrees(properties(thinner), meshed(outline(section)))
    with pytest.raises(AssertionError):
        agrees(cut_from_below(section, 30.0), meshed(cut(section, 30.3)))
