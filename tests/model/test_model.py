"""Records, edits, sections and the small words around them."""

import dataclasses
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.errors import DesignError
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import (
    GROUP_LABELS,
    fields_of,
    label_of,
    one_called,
    value_at,
    walk,
    with_value,
)
from rampdraft.model.fields.record import Choice, Dim
from rampdraft.model.fields.values import did_you_mean, nearest
from rampdraft.model.section import Section, parse_section
from rampdraft.words.figures import shortest
from rampdraft.words.manner import manner_of, speaking

START = timber_ramp()


def test_every_field_has_a_record_that_says_what_it_is():
    for path, info, _ in walk(START):
        assert info.record is not None, path
        assert info.record.label, path
        assert info.record.help, path


def test_every_group_has_a_label():
    groups = {info.name for info in fields_of(Design)} | {"users"}
    assert groups == set(GROUP_LABELS)


def test_ranges_and_names_agree_with_units():
    for path, info, _ in walk(START):
        if isinstance(info.record, Dim):
            assert info.record.low < info.record.high, path
            unit = info.record.unit.replace("/", "_").replace("%", "percent").replace(" ", "").lower()
            assert path.endswith(f"_{unit}" if unit else ""), path


def test_choices_offer_the_words_of_their_type():
    for path, info, _ in walk(START):
        if isinstance(info.record, Choice):
            assert {word for word, _ in info.record.options} == set(get_args(info.value_type)), path


def test_a_drawing_letter_stands_for_one_dimension():
    letters = [
        (info.record.letter, info.record.label)
        for cls in {
            type(value) for value in (getattr(START, field.name) for field in dataclasses.fields(Design))
        }
        if dataclasses.is_dataclass(cls)
        for info in fields_of(cls)
        if isinstance(info.record, Dim) and info.record.letter
    ]
    labels = dict(letters)
    assert all(labels[letter] == label for letter, label in letters)


def test_one_value_is_changed_and_the_rest_is_shared():
    changed = with_value(START, "inner_leaf.length_mm", 1500.0)
    assert value_at(changed, "inner_leaf.length_mm") == 1500.0
    assert changed.carrier is START.carrier
    assert dataclasses.replace(changed, inner_leaf=START.inner_leaf) == START
    changed = with_value(START, "use.users[2].mass_kg", 99.0)
    assert [user.mass_kg for user in changed.use.users] == [START.use.users[0].mass_kg, 99.0]


@pytest.mark.parametrize(
    "path",
    [
        "",
        "colour",
        "inner_leaf.colour",
        "sites[0].name",
        "sites[3].name",
        "carrier[1]",
        "a..b",
        "use.users[x]",
    ],
)
def test_a_path_to_nothing_is_refused(path: str):
    for act in (lambda: value_at(START, path), lambda: with_value(START, path, 1)):
        with pytest.raises(DesignError, match="is no value of a design"):
            act()


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_numbers_read_back_as_they_were(number: float):
    assert float(shortest(number)) == number


def test_numbers_are_as_short_as_they_can_be():
    assert [shortest(number) for number in (1350.0, 1350, 0.5, -0.0, 1e-7, 1e22)] == [
        "1350",
        "1350",
        "0.5",
        "0",
        "1e-07",
        "1e+22",
    ]


@given(depth=st.floats(2, 1000), width=st.floats(2, 1000))
def test_sections_read_back_as_they_were(depth: float, width: float):
    for section in (
        Section(kind="flat", depth_mm=depth, width_mm=width),
        Section(kind="box", depth_mm=depth, width_mm=width, wall_mm=0.9),
        Section(kind="tube", depth_mm=depth, width_mm=depth, wall_mm=0.5),
        Section(kind="round", depth_mm=width, width_mm=width),
    ):
        assert parse_section(section.text) == section


def test_sections_may_be_written_with_blanks():
    assert parse_section("  box  40 x 20 x 2.5 ").text == "box 40x20x2.5"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("box", "is no section"),
        ("box 40", "needs 3 sizes for a box, not 1"),
        ("round 30x2", "needs 1 size for a round, not 2"),
        ("tube 30x15", "walls that meet in the middle"),
        ("flat 0.4x20", "outside 0.5 to 1000 mm"),
        ("flat 1001x20", "outside 0.5 to 1000 mm"),
        ("flat .x20", "a size that is no number"),
        ("flat -5x20", "is no section"),
        ("flat 1e2x20", "is no section"),
    ],
)
def test_what_is_no_section_is_told(text: str, says: str):
    with pytest.raises(DesignError, match=says) as caught:
        parse_section(text)
    assert caught.value.problems[0].way_out


def test_the_nearest_word_is_found():
    words = ("slat_pitch_mm", "slat_width_mm", "backs")
    assert nearest("slat_pich_mm", words) == "slat_pitch_mm"
    assert nearest("BACKS", words) == "backs"
    assert nearest("colour", words) is None
    assert did_you_mean("back", words) == "did you mean 'backs'?"
    assert did_you_mean("colour", words) == "use one of: slat_pitch_mm, slat_width_mm, backs"
    assert did_you_mean("colour", ()) == ""


def test_values_are_told_with_their_group_in_either_language() -> None:
    paths = (
        "inner_leaf.length_mm",
        "sites[2].name",
        "bridge.length_mm",
        "use.users",
        "handles[1]",
        "use.nothing",
    )
    told = tuple(map(label_of, paths))
    assert told == (
        "Inner leaf length",
        "Site 2 name",
        "Bridge plate length",
        "Wheeled users",
        "Handles",
        "The design",
    )
    with speaking(manner_of("de")):
        told = tuple(map(label_of, paths))
        assert one_called("handles") == "Griff"
    assert told == (
        "Länge (Innerer Flügel)", "Name (Einsatzort 2)", "Länge des Überbrückungsblechs", "Rollende Nutzer",
        "Griffe", "Der Entwurf",
    )  # fmt: skip
