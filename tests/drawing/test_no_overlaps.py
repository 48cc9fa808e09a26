"""No words of a drawing sheet lie on others or on lines that matter: general arrangement, details and parts,
of all samples and of random designs.
"""

import itertools
from collections.abc import Iterator
from functools import cache

import pytest
from any_design import designs
from overlapping import on_each_other

from rampdraft.drawing.arrangement import Arranged, arrangement
from rampdraft.drawing.clearing import cleared
from rampdraft.drawing.details import details
from rampdraft.drawing.dimension import SIZE_PT, level
from rampdraft.drawing.ink import Label, Path, Picture, line
from rampdraft.drawing.part import END_MM, PART_MM, end_view, part_view
from rampdraft.drawing.sheet import fitted
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths

NAMES = tuple(path.stem for path in sample_paths())
SHOWN = [*((name, 20.0) for name in NAMES), ("orchard-trolley", 10.0), ("too-steep", 50.0)]


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


@cache
def arranged(name: str, per_mm: float) -> Arranged:
    return arrangement(sample(name), per_mm)


def views(found: Arranged) -> Iterator[tuple[str, Picture]]:
    yield from (("deployed", found.deployed), ("plan", found.plan))
    yield from (("stowed", found.stowed), ("end", found.end))


def part_drawings(evaluation: Evaluation) -> Iterator[tuple[str, Picture, float]]:
    """Yield what is drawn of each part at its scale on paper."""
    for part in evaluation.parts:
        view = fitted(lambda per_mm, part=part: part_view(part, per_mm=per_mm), *PART_MM)
        yield part.number, view.picture, view.scale
        for which, end in enumerate(part.piece.ends):
            if end.kind != "square":
                view = fitted(
                    lambda per_mm, part=part, which=which: end_view(part, which, per_mm=per_mm), *END_MM
                )
                yield f"{part.number} end {which}", view.picture, view.scale


def assert_clear(evaluation: Evaluation, per_mm: float) -> None:
    for key, picture in views(arrangement(evaluation, per_mm)):
        assert on_each_other(picture, per_mm) == [], key
    for detail in details(evaluation):
        assert on_each_other(detail.draw(5.0), 5.0) == [], detail.key
    for key, picture, scale in part_drawings(evaluation):
        assert on_each_other(picture, scale) == [], key


@pytest.mark.parametrize(("name", "per_mm"), SHOWN)
def test_nothing_lies_on_the_words_of_a_general_arrangement(name: str, per_mm: float) -> None:
    for key, picture in views(arranged(name, per_mm)):
        assert on_each_other(picture, per_mm) == [], key


@pytest.mark.parametrize("name", NAMES)
def test_nothing_lies_on_the_words_of_part_drawings(name: str) -> None:
    for key, picture, scale in part_drawings(sample(name)):
        assert on_each_other(picture, scale) == [], key


@pytest.mark.parametrize("number", range(5))
def test_nor_on_those_of_random_designs(number: int) -> None:
    assert_clear(evaluate(next(itertools.islice(designs(number + 1), number, None))), 20.0)


@pytest.mark.soak
def test_nor_on_those_of_fifty_more() -> None:
    for design in itertools.islice(designs(55), 5, None):
        assert_clear(evaluate(design), 20.0)


@pytest.mark.parametrize("name", NAMES)
def test_each_part_is_called_out_once_on_the_general_arrangement(name: str) -> None:
    """But for the right prop, which stands behind the left one."""
    found = arranged(name, 20.0)
    behind = {member.key for member in sample(name).assembly.of("loose") if member.tag.hand == "right"}
    numbers = [part.number for part in sample(name).parts if not behind.issuperset(part.members)]
    texts = [
        mark.text
        for _, picture in views(found)
        for mark in picture.marks
        if isinstance(mark, Label) and mark.size_pt != SIZE_PT
    ]
    assert sorted(text for text in texts if text in numbers) == sorted(numbers)


def test_the_leader_of_a_number_ends_within_its_part() -> None:
    evaluation = sample("library-trailer")
    picture = arranged("library-trailer", 20.0).plan
    (part,) = (part for part in evaluation.parts if part.role == "slat" and part.number.startswith("I"))
    at = next(
        number
        for number, mark in enumerate(picture.marks)
        if isinstance(mark, Label) and mark.text == part.number
    )
    dot = picture.marks[at - 2]
    assert isinstance(dot, Path)
    (x0, y, _), (x1, _, _) = dot.vertices
    boxes = [mark for mark in picture.marks if isinstance(mark, Path) and mark.owner in part.members]
    assert any(
        min(x for x, _, _ in one.vertices) <= (x0 + x1) / 2 <= max(x for x, _, _ in one.vertices)
        and min(z for _, z, _ in one.vertices) <= y <= max(z for _, z, _ in one.vertices)
        for one in boxes
    )


# What is moved, and that the comparator sees
# ----------------------------------------------------------------------------------------------


def label(text: str, x: float, y: float, angle_deg: float = 0.0) -> Label:
    return Label(text=text, at=(x, y), size_pt=SIZE_PT, angle_deg=angle_deg)


BOX = (-10.0, -10.0, 60.0, 40.0)


@pytest.mark.parametrize(
    "marks",
    [
        (label("words", 0.0, 0.0), label("more", 1.0, 0.5)),
        (label("words", 0.0, 0.0), line((0.0, 1.0), (9.0, 1.0), "outline")),
        (label("words", 0.0, 0.0, 40.0), line((0.0, 3.0), (9.0, 3.0), "dimension")),
        (label("a long text", 0.0, 0.0), label("in", 3.0, 0.0)),
        (*level((0.0, 0.0), (30.0, 0.0), "30", at=5.0, per_mm=1.0), line((15.0, -9.0), (15.0, 30.0), "thin")),
    ],
)
def test_words_that_lie_on_something_are_seen_and_moved_clear(marks: tuple[Label | Path, ...]) -> None:
    picture = Picture(marks=marks, box=BOX)
    assert on_each_other(picture, 1.0)
    assert on_each_other(cleared(picture, 1.0), 1.0) == []


def test_words_that_lie_clear_stay() -> None:
    picture = Picture(marks=(label("words", 0.0, 0.0), line((0.0, 9.0), (9.0, 9.0), "outline")), box=BOX)
    assert on_each_other(picture, 1.0) == []
    assert cleared(picture, 1.0) is picture


def test_a_moved_value_still_measures_and_lies_at_its_line_or_has_a_leader() -> None:
    between = (line((15.0, -9.0), (15.0, 30.0), "thin"), line((4.0, 5.8), (26.0, 5.8), "thin"))
    marks = (*level((0.0, 0.0), (30.0, 0.0), "30", at=5.0, per_mm=1.0), *between)
    moved = cleared(Picture(marks=marks, box=BOX), 1.0)
    (value,) = (mark for mark in moved.marks if isinstance(mark, Label))
    assert value.measures is not None
    assert value.measures.moved
    assert value.measures.features == ((0.0, 0.0), (30.0, 0.0))
    led = len(moved.marks) - len(marks)
    assert led == 1 or abs(value.at[1] - 5.0) < 4.0
