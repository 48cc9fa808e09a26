"""Designs as files: what is saved is what is loaded, and everything wrong with a file is said at once."""

import os
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from any_design import START, any_design
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.errors import FileError
from rampdraft.files import design_file, text_file
from rampdraft.files.design_file import design_text, load_design, read_design, save_design
from rampdraft.files.design_reader import MOST_TOLD
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design, Site
from rampdraft.model.fields.paths import walk, with_value
from rampdraft.model.spacing import SPACINGS, freed, idle

GOOD = (Path(__file__).parent / "ramp_version_1.toml").read_text(encoding="utf-8")


# What is saved is what is loaded
# --------------------------------------------------------------------------------------


@settings(
    max_examples=tries(40),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(design=any_design())
def test_what_is_saved_is_what_is_loaded(design: Design):
    text = design_text(design)
    assert read_design(text, "ramp.toml", consistent=not problems_of(design)) == design
    assert design_text(read_design(text, "ramp.toml", consistent=False)) == text


@pytest.mark.parametrize("length", [0.1 + 0.2, 1e-5, 5e-324, 12.3456789012345, 0.0, 19.999999999999996])
def test_numbers_come_back_to_the_last_bit(length: float):
    design = with_value(START, "stop.gap_mm", length)
    assert read_design(design_text(design), "ramp.toml").stop.gap_mm == length


@pytest.mark.parametrize(
    "text", ['"', "'''", '"""', "\\", "\\n", "a\nb\tc", "# [x] = 1", "ä ß 漢字 🛞 e\u0301", " spaced "]
)
def test_text_comes_back_to_the_last_letter(text: str):
    design = with_value(START, "about.note", text)
    assert read_design(design_text(design), "ramp.toml").about.note == text


def test_a_file_is_saved_and_loaded(tmp_path: Path):
    path = tmp_path / "Rampe für Müller.toml"
    save_design(START, path)
    assert load_design(path) == START
    assert path.read_bytes().decode("utf-8") == design_text(START)


def test_label_and_unit_stand_beside_each_value():
    text = design_text(START)
    assert "\nlength_mm = 1350  # Length, mm\n" in text
    assert '\nclosing = "backs"  # Closing: backs, faces\n' in text
    # Nothing is said of what no spacing asks for, and is as usual.
    unsaid = {path for path, info, value in walk(START) if path in idle(START) and value == info.default}
    assert unsaid
    for path, info, _ in walk(START):
        assert info.record is not None
        if path in unsaid:
            assert f"# {info.record.label}" not in text, path
            continue
        assert f"# {info.record.label}" in text, path


def test_what_follows_is_left_out_and_comes_back():
    design = START
    for spacing in SPACINGS:
        design = freed(design, spacing.values[0])
    design = settled(design)
    text = design_text(design)
    assert '\nslats = "even"  # Slats: given, even\nslat_greatest_gap_mm = ' in text
    for name in ("slat_pitch_mm", "slat_first_mm", "cross_positions_mm", "rail_lanes_mm", "upstand_start_mm"):
        assert name not in text
    assert read_design(text, "ramp.toml") == design
    shorter = read_design(text.replace("\nlength_mm = 1350 ", "\nlength_mm = 1200 "), "ramp.toml")
    assert shorter == settled(with_value(design, "inner_leaf.length_mm", 1200.0))


def test_a_file_says_once_whether_a_value_is_given_or_follows():
    text = design_text(START).replace('\nslats = "given"', '\nslats = "even"', 1)
    with pytest.raises(FileError) as told:
        read_design(text, "ramp.toml")
    (problem,) = told.value.problems
    assert problem.key == "inner_leaf.slat_pitch_mm"
    assert problem.line == text[: text.index("\nslat_pitch_mm")].count("\n") + 2
    assert "inner_leaf.slats = 'even'" in problem.rule


def test_what_follows_is_not_judged_while_something_else_is_broken():
    design = settled(freed(START, "inner_leaf.rail_lanes_mm"))
    text = design_text(design).replace("\nlength_mm = 1350 ", "\nlength_mm = 135000 ")
    with pytest.raises(FileError) as told:
        read_design(text, "ramp.toml")
    assert [problem.key for problem in told.value.problems] == ["inner_leaf.length_mm"]


def test_windows_line_ends_and_the_mark_in_front_change_nothing(tmp_path: Path):
    (tmp_path / "a.toml").write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert load_design(tmp_path / "a.toml") == read_design(GOOD, "ramp.toml")


def test_what_may_be_left_out_takes_its_default():
    text = design_text(START)
    for line in ('author = ""  # Drawn by\n', "knuckle_shift_mm = 0  # Joint knuckle shift, mm\n"):
        assert line in text
        text = text.replace(line, "")
    assert read_design(text, "ramp.toml") == START


def test_rows_may_stand_in_one_line():
    start, end = GOOD.index("[[site]]"), GOOD.index("[[stock]]")
    row = 'site = [{name = "Quay", kind = "ground", ground_mm = [[0, 0]]}]'
    text = GOOD[:start].replace("version = 1\n", f"version = 1\n{row}\n") + GOOD[end:]
    assert read_design(text, "ramp.toml").sites == (Site(name="Quay", kind="ground", ground_mm=((0, 0),)),)


# What is wrong
# --------------------------------------------------------------------------------------------------------


def test_everything_wrong_is_said_at_once_in_the_order_of_the_file():
    text = GOOD
    for old, new in (
        ("deck_height_mm = 420", 'deck_height_mm = "420"'),
        ("slat_pitch_mm = 105", "slat_pich_mm = 105"),
        ("pin_diameter_mm = 12", "pin_diameter_mm = 30"),
        ('closing = "backs"', 'closing = "back"'),
        ('slats = "timber C24"', 'slats = "timber C25"'),
        ("cross_slope_percent = 0", "cross_slope_percent = nan"),
    ):
        text = text.replace(old, new, 1)
    with pytest.raises(FileError, match="7 problems") as caught:
        read_design(text, "ramp.toml")
    problems = caught.value.problems
    assert [problem.key for problem in problems] == [
        "carrier.deck_height_mm",
        "inner_leaf.slat_pitch_mm",
        "inner_leaf.slat_pich_mm",
        "deck_hinge.pin_diameter_mm",
        "fold.closing",
        "made_of.slats",
        "site[1].cross_slope_percent",
    ]
    lines = [problem.line or 0 for problem in problems]
    assert lines == sorted(lines)
    assert min(lines) > 0


def test_contradictions_may_be_let_in_for_a_form_to_show():
    text = GOOD.replace("over_deck_mm = 80", "over_deck_mm = 160")
    with pytest.raises(FileError, match="nothing reaches the ramp"):
        read_design(text, "ramp.toml")
    design = read_design(text, "ramp.toml", consistent=False)
    assert [problem.key for problem in problems_of(design)] == ["bridge.over_deck_mm"]
    with pytest.raises(FileError, match="must be a number"):
        read_design(text.replace("= 420", '= "420"'), "ramp.toml", consistent=False)


@pytest.mark.parametrize("content", ["", "\n\n", "# only a comment\n", 'title = "another file"\n'])
def test_a_file_that_is_no_design_is_refused_as_such(content: str):
    with pytest.raises(FileError, match=r"ramp\.toml is no rampdraft design"):
        read_design(content, "ramp.toml")


def test_an_old_version_is_brought_up_step_by_step(monkeypatch: pytest.MonkeyPatch):
    def second(data: dict[str, Any]) -> dict[str, Any]:
        carrier = {**data["carrier"], "deck_height_mm": data["carrier"]["height_mm"]}
        del carrier["height_mm"]
        return {**data, "carrier": carrier}

    def third(data: dict[str, Any]) -> dict[str, Any]:
        return {**data, "about": {"name": data["about"]["name"] + ", moved"}}

    monkeypatch.setattr(design_file, "VERSION", 3)
    monkeypatch.setattr(design_file, "MIGRATIONS", {1: second, 2: third})
    old = GOOD.replace("deck_height_mm", "height_mm")
    design = read_design(old, "ramp.toml")
    assert (design.carrier.deck_height_mm, design.about.name) == (420, "New ramp, moved")
    with pytest.raises(FileError, match=r"later version \(format 4\); this program reads up to 3"):
        read_design(GOOD.replace("version = 1", "version = 4"), "ramp.toml")


def test_every_older_version_has_a_way_up():
    assert set(design_file.MIGRATIONS) == set(range(1, design_file.VERSION))


def test_a_design_that_could_not_be_read_back_is_not_saved(tmp_path: Path):
    path = tmp_path / "a.toml"
    path.write_bytes(b"old")
    for key, value in (
        ("carrier.deck_height_mm", float("nan")),
        ("about.name", "a\udc80"),
        ("about.name", "a\x00"),
    ):
        with pytest.raises(FileError, match="Nothing was saved") as caught:
            save_design(with_value(START, key, value), path)
        assert [problem.key for problem in caught.value.problems] == [key]
    assert path.read_bytes() == b"old"


def test_work_half_done_is_saved(tmp_path: Path):
    design = with_value(START, "joint.pin_diameter_mm", 40.0)
    assert problems_of(design)
    save_design(design, tmp_path / "a.toml")
    assert load_design(tmp_path / "a.toml", consistent=False) == design


def test_the_version_before_is_kept_once(tmp_path: Path):
    path = tmp_path / "a.toml"
    versions = [with_value(START, "workshop.kerf_mm", value) for value in (2.0, 2.5, 3.0)]
    save_design(versions[0], path)
    for before, after in pairwise(versions):
        save_design(after, path)
        assert load_design(tmp_path / "a.toml.bak") == before
    save_design(versions[-1], path)
    assert load_design(path) == versions[2]
    assert load_design(tmp_path / "a.toml.bak") == versions[1], "saving the same again takes nothing away"
    assert sorted(os.listdir(tmp_path)) == ["a.toml", "a.toml.bak"]


def test_what_cannot_be_kept_does_not_stand_in_the_way(tmp_path: Path):
    path = tmp_path / "a.toml"
    save_design(START, path)
    (tmp_path / "a.toml.bak").mkdir()
    save_design(with_value(START, "workshop.kerf_mm", 2.5), path)
    assert load_design(path).workshop.kerf_mm == 2.5


def test_a_failed_save_leaves_the_old_design(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "a.toml"
    save_design(START, path)

    def full(*_: object) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(text_file.os, "fsync", full)
    with pytest.raises(FileError, match="Nothing was saved"):
        save_design(with_value(START, "about.name", "Newer"), path)
    assert load_design(path) == START
    assert os.listdir(tmp_path) == ["a.toml"]


def test_a_heap_of_unknown_keys_is_told_in_few_lines():
    with pytest.raises(FileError) as caught:
        read_design(GOOD + "".join(f"k{number} = 1\n" for number in range(20_000)), "ramp.toml")
    assert len(caught.value.problems) == MOST_TOLD + 1
    assert caught.value.problems[-1].rule == f"and {20_000 - MOST_TOLD - 1} more are none of a design either"


# Whatever the file holds, it is a design or an error
# ------------------------------------------------------------------

FRAGMENTS = (
    "nan",
    "-inf",
    "1e999",
    "-0",
    "0x1F",
    "0",
    "-1",
    "1_000",
    "9" * 400,
    "true",
    '""',
    '"x"',
    "''",
    '"\\u0000"',
    "[]",
    "[[]]",
    "[[[]]]",
    "{}",
    "{a = 1}",
    "[{}]",
    "[[1, 2], [0, 1]]",
    "[nan]",
    '["a", "a"]',
    "2024-01-01",
    "07:30:00",
    '"box 0x0x0"',
    '"box 1x1x1"',
    '"round 1000"',
    "",
    "=",
    "[",
    "]]",
    "#",
    '"""',
    "'",
)
VALUES = [index for index, line in enumerate(GOOD.split("\n")) if " = " in line]


def _outcome(read: Callable[[], Design]) -> Design | FileError:
    try:
        return read()
    except FileError as error:
        return error


def _told(text: str) -> None:
    outcome = _outcome(lambda: read_design(text, "ramp.toml"))
    if isinstance(outcome, FileError):
        assert outcome.problems
        assert all(problem.key and problem.rule and problem.line for problem in outcome.problems)
    else:
        assert problems_of(outcome) == ()


@settings(max_examples=tries(80), deadline=None)
@given(edits=st.lists(st.tuples(st.sampled_from(VALUES), st.sampled_from(FRAGMENTS)), min_size=1, max_size=4))
def test_any_value_in_any_place_is_told(edits: list[tuple[int, str]]):
    lines = GOOD.split("\n")
    for index, fragment in edits:
        lines[index] = lines[index].split(" = ")[0] + f" = {fragment}"
    _told("\n".join(lines))


@settings(max_examples=tries(40), deadline=None)
@given(
    edits=st.lists(
        st.tuples(st.integers(0, GOOD.count("\n")), st.integers(0, GOOD.count("\n"))), min_size=1, max_size=4
    )
)
def test_lines_that_moved_are_told(edits: list[tuple[int, int]]):
    lines = GOOD.split("\n")
    for origin, goal in edits:
        lines.insert(goal, lines.pop(origin % len(lines)))
    _told("\n".join(lines))


@settings(max_examples=tries(80), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    edits=st.lists(
        st.tuples(st.integers(0, len(GOOD)), st.integers(0, 40), st.binary(max_size=8)),
        min_size=1,
        max_size=5,
    )
)
def test_any_bytes_are_a_design_or_an_error(tmp_path: Path, edits: list[tuple[int, int, bytes]]):
    data = GOOD.encode()
    for place, gone, new in edits:
        data = data[:place] + new + data[place + gone :]
    path = tmp_path / "a.toml"
    path.write_bytes(data)
    outcome = _outcome(lambda: load_design(path))
    assert outcome.problems if isinstance(outcome, FileError) else problems_of(outcome) == ()
