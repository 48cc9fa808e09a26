"""The drawings as DXF: true size, and dimensions that measure what they say."""

import re

import ezdxf
import pytest
from packed import packed, sample

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.dxf_drawings import drawings_dxf
from rampdraft.export.revision import revision_of
from rampdraft.files.samples import sample_paths, samples_folder

NAMES = tuple(path.stem for path in sample_paths())


@pytest.fixture(scope="module", params=NAMES)
def read(request):
    path = packed(request.param) / "drawings.dxf"
    return request.param, path.read_bytes(), ezdxf.readfile(path)


def test_another_reader_finds_no_fault(read) -> None:
    name, _, doc = read
    assert doc.audit().errors == []
    assert doc.units == 4
    assert ("Revision", revision_of(sample(name))) in doc.header.custom_vars


def measured_mm(one) -> float:
    """Return what another reader measures of a dimension; of an ordinate, along x from its origin."""
    found = one.get_measurement()
    return found if isinstance(found, float) else found.x


def test_each_dimension_measures_what_it_says(read) -> None:
    name, _, doc = read
    found = list(doc.modelspace().query("DIMENSION"))
    assert len(found) >= 10
    for one in found:
        numbers = [float(text) for text in re.findall(r"\d+(?:\.\d+)?", one.dxf.text)]
        last = numbers[0] * numbers[1] if "×" in one.dxf.text and len(numbers) > 1 else numbers[0]
        assert measured_mm(one) == pytest.approx(last, abs=0.51 + 0.002 * last), (name, one.dxf.text)


def test_the_sizes_of_the_design_are_among_them(read) -> None:
    name, _, doc = read
    design = sample(name).design
    measured = [round(measured_mm(one), 1) for one in doc.modelspace().query("DIMENSION")]
    for size in (
        design.carrier.deck_height_mm,
        design.inner_leaf.length_mm,
        design.outer_leaf.length_mm,
        design.carrier.opening_width_mm,
        design.outer_leaf.width_mm,
    ):
        assert round(size, 1) in measured


def test_details_are_there_with_part_numbers(read) -> None:
    name, _, doc = read
    words = {text.plain_text() for text in doc.modelspace().query("TEXT")}
    assert any(text.startswith("Joint, straight") for text in words)
    assert words & {part.number for part in sample(name).parts}


def test_fold_end_view_and_each_part_with_its_running_dimensions_are_there(read) -> None:
    name, _, doc = read
    evaluation = sample(name)
    words = {text.plain_text() for text in doc.modelspace().query("TEXT")}
    assert "End view, from the toe" in words
    assert sum(text.startswith(("1  ", "2  ")) for text in words) >= 2
    ordinates = [one for one in doc.modelspace().query("DIMENSION") if one.dimtype == 6]
    found = {round(measured_mm(one), 1) for one in ordinates}
    for part in evaluation.parts:
        head = f"{part.with_hand}: {part.quantity} off"
        assert any(text.endswith(head) for text in words), head
    for slat in (part for part in evaluation.parts if part.role == "slat" and part.piece.marks):
        first = min(mark.at_mm for mark in slat.piece.marks if mark.at_mm > 0)
        assert any(abs(first - one) < 0.06 for one in found), (slat.number, first)


def test_cut_faces_are_hatched_at_45_degrees_on_a_layer_of_their_own(read) -> None:
    _, _, doc = read
    lines = [one for one in doc.modelspace().query("LWPOLYLINE") if one.dxf.layer == "HATCH"]
    assert lines
    ways = set()
    for one in lines:
        (x0, y0), (x1, y1) = one.get_points("xy")
        assert abs(abs(y1 - y0) - abs(x1 - x0)) < 1e-6 * (1.0 + abs(x1) + abs(y1))
        ways.add((y1 > y0) == (x1 > x0))
    assert ways == {True, False}, "neighbours are hatched the other way"


def test_equal_input_gives_equal_bytes() -> None:
    data = (packed("barn-stage") / "drawings.dxf").read_bytes()
    evaluation = evaluate(sample("barn-stage").design, samples_folder())
    assert drawings_dxf(evaluation, revision_of(evaluation)) == data


def test_the_revision_is_as_large_as_a_title_and_clear_of_all_views(read) -> None:
    name, _, doc = read
    texts, mark = list(doc.modelspace().query("TEXT")), revision_of(sample(name))
    (revision,) = (one for one in texts if one.dxf.text == f"revision {mark}")
    (title,) = (one for one in texts if one.dxf.text == "Plan, laid flat")
    assert revision.dxf.height == pytest.approx(title.dxf.height)
    others = max(one.dxf.insert.y + one.dxf.height for one in texts if one is not revision)
    assert revision.dxf.insert.y > others
