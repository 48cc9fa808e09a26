"""What one value may be by its record, for values that a form or a program puts there; files have a table of
their own.
"""

import datetime
from typing import Any

import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.fields.paths import FieldInfo, value_at, walk, with_value
from rampdraft.model.fields.record import Choice, Dim, Words
from rampdraft.model.fields.values import kind_of, shown, value_problems
from rampdraft.model.section import Section

START = timber_ramp()
FIELDS = [(path, info) for path, info, _ in walk(START)]
NUMBERS = [(path, info) for path, info in FIELDS if isinstance(info.record, Dim) and not info.many]


def wrong(path: str, value: object) -> str:
    info = dict(FIELDS)[path]
    (problem,) = value_problems(path, info, value)
    return problem.text()


@pytest.mark.parametrize(("path", "info"), NUMBERS, ids=[path for path, _ in NUMBERS])
def test_each_number_is_allowed_within_its_range_and_nowhere_else(path: str, info: FieldInfo):
    assert isinstance(info.record, Dim)
    low, high = info.record.low, info.record.high
    step: float = 1 if info.value_type is int else (high - low) / 100
    cast: Any = info.value_type
    for value in (low, high, low + step, high - step):
        assert value_problems(path, info, cast(value)) == ()
    for value in (low - step, high + step):
        (problem,) = value_problems(path, info, cast(value))
        assert f"must be from {shown(low)} to {shown(high)}" in problem.rule
    for value in (float("nan"), float("inf"), True, "1", None, (1.0,)):
        assert len(value_problems(path, info, value)) == 1


@pytest.mark.parametrize(("path", "info"), FIELDS, ids=[path for path, _ in FIELDS])
def test_no_field_allows_a_value_of_no_type(path: str, info: FieldInfo):
    for value in (None, object(), {"a": 1}):
        (problem,) = value_problems(path, info, value)
        assert problem.key == path
        assert problem.rule.startswith("must be ")


def test_every_choice_of_a_field_is_allowed():
    for path, info in FIELDS:
        if isinstance(info.record, Choice):
            for word, _ in info.record.options:
                assert value_problems(path, info, word) == ()


def test_text_is_allowed_up_to_its_longest():
    for path, info in FIELDS:
        if isinstance(info.record, Words) and not info.many:
            assert value_problems(path, info, "x" * info.record.longest) == ()
            assert "characters" in wrong(path, "x" * (info.record.longest + 1))


def test_only_the_note_has_more_than_one_line():
    assert value_problems("about.note", dict(FIELDS)["about.note"], "a\nb\tc") == ()
    assert "must be text on one line" in wrong("about.name", "a\nb")
    assert "control characters" in wrong("about.note", "a\rb")
    assert "control characters" in wrong("about.name", "a\tb")


def test_a_section_must_be_one_that_its_text_names():
    path = "inner_leaf.rail_section"
    info = dict(FIELDS)[path]
    assert value_problems(path, info, Section(kind="round", depth_mm=30, width_mm=30)) == ()
    assert "sizes that do not go with its kind" in wrong(
        path, Section(kind="round", depth_mm=30, width_mm=31)
    )
    assert "sizes that do not go with its kind" in wrong(
        path, Section(kind="flat", depth_mm=30, width_mm=6, wall_mm=2)
    )
    assert "walls that meet" in wrong(path, Section(kind="box", depth_mm=40, width_mm=20, wall_mm=10))
    assert "no section" in wrong(path, Section(kind="flat", depth_mm=float("nan"), width_mm=6))


def test_points_are_pairs_of_numbers():
    path = "sites[1].ground_mm"
    assert value_problems(path, dict(FIELDS)[path], ((-500.0, 10.0), (0.0, 0.0))) == ()
    assert "must be a point" in wrong(path, ((0.0, 0.0, 0.0),))
    assert "must be a point" in wrong(path, (0.0,))
    assert "sites[1].ground_mm[1][2] = 20001: must be from -20000 to 20000 mm" in wrong(
        path, ((0.0, 20001.0),)
    )


def test_lists_know_a_most():
    assert "at most 200" in wrong("inner_leaf.rail_lanes_mm", (0.0,) * 201)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (1350.0, "1350"),
        (0.1, "0.1"),
        (-0.0, "0"),
        (float("nan"), "nan"),
        (float("-inf"), "-inf"),
        (10**400, "a huge number"),
        (True, "true"),
        ("it's", '"it\'s"'),
        ("a\nb", r"'a\nb'"),
        ("x" * 61, f"'{'x' * 60}'..."),
        ((1.0, 2.0), "[1, 2]"),
        ([1, 2, 3, 4], "[1, 2, 3, ...]"),
        (Section(kind="flat", depth_mm=25, width_mm=6), "'flat 25x6'"),
        ({"a": 1}, "a table"),
        (datetime.date(2024, 1, 2), "a date or time"),
    ],
)
def test_values_are_shown_short(value: object, text: str):
    assert shown(value) == text


def test_kinds_are_told_in_words():
    assert [kind_of(value) for value in (True, 1, 1.5, "", (), {}, None, object())] == [
        "true or false",
        "a number",
        "a number",
        "text",
        "a list",
        "a table",
        "nothing",
        "something else",
    ]


def test_problems_are_keyed_as_edits_take_them():
    design = with_value(with_value(START, "sites[2].name", ""), "sites[1].ground_mm", ((0.0, float("nan")),))
    problems = problems_of(design)
    assert [problem.key for problem in problems] == ["sites[1].ground_mm[1][2]", "sites[2].name"]
    assert value_at(design, "sites[2].name") == ""
