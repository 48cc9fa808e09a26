"""SVG: well-formed, true to size, arcs as arcs, odd text harmless."""

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.drawing.ink import Label, Path, Picture, area, line
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.side import side_view
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.svg import picture_svg
from rampdraft.geometry.outline import disc, rectangle

NS = "{http://www.w3.org/2000/svg}"
EVALUATION = evaluate(timber_ramp())


def picture(*marks, box=(0, 0, 100, 50), title="View"):
    return Picture(marks=marks, box=box, title=title)


def parsed(svg: str) -> ET.Element:
    return ET.fromstring(svg.encode("utf-8"))


def shapes(root: ET.Element) -> list[str]:
    return [path.get("d", "") for path in root.findall(f"{NS}path")]


def test_the_sheet_measures_in_mm():
    root = parsed(picture_svg(picture(box=(-50, 0, 150, 100)), width_mm=120))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("120mm", "60mm", "0 0 120 60")


def test_points_stand_where_the_picture_has_them_with_y_turned_down():
    (shape,) = shapes(parsed(picture_svg(picture(line((0, 0), (100, 50), "thin")), width_mm=200)))
    assert shape == "M0 100L200 0"


def test_arcs_stay_arcs():
    (shape,) = shapes(parsed(picture_svg(picture(area(disc(50, 25, 20), "outline", "none")), width_mm=100)))
    # Counter-clockwise with y up is counter-clockwise on the screen too: sweep flag 0.
    assert shape == "M40 25A10 10 0 0 0 60 25A10 10 0 0 0 40 25Z"


@pytest.mark.parametrize(("bulge", "flags"), [(0.5, "0 0"), (-0.5, "0 1"), (2.0, "1 0"), (-2.0, "1 1")])
def test_arcs_keep_their_sense_and_their_size(bulge, flags):
    arc = Path(vertices=((20, 20, bulge), (40, 20, 0.0)), closed=False, pen="thin")
    (shape,) = shapes(parsed(picture_svg(picture(arc), width_mm=100)))
    found = re.fullmatch(r"M20 30A([\d.]+) \1 0 (\d \d) 40 30", shape)
    assert found is not None
    assert found[2] == flags
    # Bulge b over a chord c: radius c (1 + b^2) / (4 b) (DXF reference, LWPOLYLINE).
    assert float(found[1]) == pytest.approx(20 * (1 + bulge**2) / (4 * abs(bulge)))


def test_a_clash_is_hatched():
    root = parsed(picture_svg(picture(area(rectangle(0, 0, 10, 10), "clash", "clash"))))
    assert root.find(f"{NS}defs/{NS}pattern") is not None
    assert [path.get("class") for path in root.findall(f"{NS}path")] == ["clash f-clash", "h-clash"]


def test_members_are_named():
    root = parsed(picture_svg(picture(area(rectangle(0, 0, 9, 9), "outline", "inner", "inner rail 1"))))
    title = root.find(f"{NS}path/{NS}title")
    assert title is not None
    assert title.text == "inner rail 1"


def test_letters_keep_their_size():
    label = Label(text="H 420", at=(10, 10), size_pt=7.2, angle_deg=90)
    for width in (50, 200):
        text = parsed(picture_svg(picture(label), width_mm=width)).find(f"{NS}text")
        assert text is not None
        assert text.text == "H 420"
        assert float(text.get("font-size", "0")) == pytest.approx(7.2 * 25.4 / 72)
        assert text.get("transform", "").startswith("rotate(-90 ")


@pytest.mark.parametrize(
    "text", ["<b>&amp;</b>", "a\x00b", "\ud800", "]]>", "خشب", "🛠", "x" * 500, "'\"", "\u202etfel"]
)
def test_odd_text_never_breaks_the_file(text):
    label = Label(text=text, at=(10, 10))
    root = parsed(picture_svg(picture(label, area(rectangle(0, 0, 9, 9), "thin", "none", text), title=text)))
    found = root.find(f"{NS}text")
    assert found is not None
    assert found.text is not None
    if text.isprintable() and "\ud800" not in text:
        assert found.text == text


@given(st.text(max_size=40))
def test_any_text_gives_a_well_formed_file(text):
    parsed(picture_svg(picture(Label(text=text, at=(1, 1)), title=text)))


@pytest.mark.parametrize(
    "view",
    [plan_view(EVALUATION), side_view(EVALUATION, pose=EVALUATION.sites[0].pose, drop_mm=0.0)],
    ids=["plan", "side"],
)
def test_a_view_has_a_shape_for_every_path_and_a_text_for_every_label(view):
    root = parsed(picture_svg(view))
    assert len(root.findall(f"{NS}path")) == sum(isinstance(mark, Path) for mark in view.marks)
    assert len(root.findall(f"{NS}text")) == sum(isinstance(mark, Label) for mark in view.marks)
    assert picture_svg(view) == picture_svg(view)
