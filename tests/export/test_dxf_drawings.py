"""The drawings as DXF: true size, and dimensions that measure what they say."""

import re
from functools import cache

import ezdxf
import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.dxf_drawings import drawings_dxf
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths

NAMES = tuple(path.stem for path in sample_paths())


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


@pytest.fixture(scope="module", params=NAMES)
def read(request, tmp_path_factory):
    data = drawings_dxf(sample(request.param), "abcdef12")
    path = tmp_path_factory.mktemp("dxf") / "drawings.dxf"
    path.write_bytes(data)
    return request.param, data, ezdxf.readfile(path)


def test_another_reader_finds_no_fault(read) -> None:
    _, _, doc = read
    assert doc.audit().errors == []
    assert doc.units == 4
    assert ("Revision", "abcdef12") in doc.header.custom_vars


def test_each_dimension_measures_what_it_says(read) -> None:
    name, _, doc = read
    found = list(doc.modelspace().query("DIMENSION"))
    assert len(found) >= 10
    for one in found:
        numbers = [float(text) for text in re.findall(r"\d+(?:\.\d+)?", one.dxf.text)]
        last = numbers[0] * numbers[1] if "×" in one.dxf.text and len(numbers) > 1 else numbers[0]
        assert one.get_measurement() == pytest.approx(last, abs=0.51 + 0.002 * last), (name, one.dxf.text)


def test_the_sizes_of_the_design_are_among_them(read) -> None:
    name, _, doc = read
    design = sample(name).design
    measured = [round(one.get_measurement(), 1) for one in doc.modelspace().query("DIMENSION")]
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


def test_equal_input_gives_equal_bytes(read) -> None:
    name, data, _ = read
    assert drawings_dxf(sample(name), "abcdef12") == data


def test_the_revision_is_as_large_as_a_title_and_clear_of_all_views(read) -> None:
    _, _, doc = read
    texts = list(doc.modelspace().query("TEXT"))
    (revision,) = (one for one in texts if one.dxf.text == "revision abcdef12")
    (title,) = (one for one in texts if one.dxf.text == "Plan, laid flat")
    assert revision.dxf.height == pytest.approx(title.dxf.height)
    others = max(one.dxf.insert.y + one.dxf.height for one in texts if one is not revision)
    assert revision.dxf.insert.y > others
