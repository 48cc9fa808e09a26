"""Details of samples and of random designs: each thing that a ramp has is there, no words lie on others or
on lines of what is shown.
"""

import itertools
from functools import cache

import pytest
from any_design import designs
from overlapping import on_each_other
from ramps import base_design

from rampdraft.drawing.details import details
from rampdraft.drawing.dimension import SIZE_PT
from rampdraft.drawing.ink import Label, Path, Picture
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import with_value

NAMES = tuple(path.stem for path in sample_paths())
SCALES = (2.0, 5.0, 10.0)


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


@pytest.mark.parametrize("name", NAMES)
def test_no_words_lie_on_words_or_on_lines_of_what_is_shown(name: str) -> None:
    for detail, per_mm in itertools.product(details(sample(name)), SCALES):
        assert on_each_other(detail.draw(per_mm), per_mm) == [], (detail.key, per_mm)


@pytest.mark.parametrize("number", range(12))
def test_nor_do_they_on_random_designs(number: int) -> None:
    design = next(itertools.islice(designs(number + 1), number, None))
    for detail in details(evaluate(design)):
        assert on_each_other(detail.draw(5.0), 5.0) == [], detail.key


def test_the_comparator_sees_words_on_words_and_on_lines() -> None:
    label = Label(text="words", at=(0.0, 0.0), size_pt=SIZE_PT)
    other = Label(text="more", at=(1.0, 0.5), size_pt=SIZE_PT)
    line = Path(vertices=((0.0, 1.0, 0.0), (9.0, 1.0, 0.0)), closed=False, pen="outline", owner="rail")
    assert on_each_other(Picture(marks=(label, other), box=(0, 0, 9, 9)), 1.0)
    assert on_each_other(Picture(marks=(label, line), box=(0, 0, 9, 9)), 1.0)
    assert not on_each_other(Picture(marks=(label,), box=(0, 0, 9, 9)), 1.0)


def keys(evaluation: Evaluation) -> set[str]:
    return {
        detail.key.partition(" ")[0] if "guard" in detail.key else detail.key
        for detail in details(evaluation)
    }


def test_each_thing_that_a_ramp_has_is_there() -> None:
    found = keys(sample("library-trailer"))
    assert found >= {"deck hinge", "joint", "joint folded", "joint across", "toe", "guard", "latches 1"}
    assert "prop" not in found
    assert "prop" in keys(sample("orchard-trolley"))
    plain = base_design()
    for path, value in (("hold_down.latch", False), ("road.latch_n", 0.0), ("road.second_n", 0.0)):
        plain = with_value(plain, path, value)
    assert not [key for key in keys(evaluate(plain)) if key.startswith("latches")]


@pytest.mark.parametrize("name", NAMES)
def test_what_is_called_out_is_in_the_lists(name: str) -> None:
    evaluation = sample(name)
    parts = {part.number for part in evaluation.parts}
    welds = {weld.number for weld in evaluation.welds}
    texts = {
        mark.text
        for detail in details(evaluation)
        for mark in detail.draw(2.0).marks
        if isinstance(mark, Label)
    }
    assert texts & parts
    assert {"".join(text.split()) for text in texts & welds} == texts & welds
    if welds:
        assert texts & welds
    called = {text for text in texts if text.isupper() and text.isalnum() and not text.startswith("W")}
    assert called <= parts
