"""Lines of keys in TOML texts, and what is said of texts that are none."""

import tracemalloc
from pathlib import Path

import pytest

from rampdraft.errors import FileError
from rampdraft.files.toml_lines import DEEPEST, key_text, parse_toml

TEXT = (Path(__file__).parent / "lines.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 2),
        (("dotted",), 3),
        (("dotted", "one", "two"), 3),
        (("quoted key",), 4),
        (("list",), 5),
        (("list", 0), 6),
        (("list", 1), 7),
        (("list", 2), 9),
        (("list", 2, 1), 10),
        (("inline", "b", 1), 12),
        (("inline", "c.d", "e"), 12),
        (("long",), 13),
        (("literal",), 18),
        (("after",), 21),
        (("table",), 23),
        (("table", "one"), 24),
        (("table", "two words"), 25),
        (("table", "two words", "three"), 26),
        (("row",), 28),
        (("row", 0), 28),
        (("row", 0, "name"), 29),
        (("row", 0, "inner", "deep"), 31),
        (("row", 1), 33),
        (("row", 1, "points", 1, 0), 36),
        (("row", 1, "sub", 0, "x"), 38),
        (("row", 1, "sub", 1, "x"), 40),
    ],
)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_every_key_has_its_line(path: tuple[str | int, ...], line: int, newline: str, mark: str):
    toml = parse_toml(mark + TEXT.replace("\n", newline), "lines.toml")
    value = toml.data
    for step in path:  # the path is one of the data too
        value = value[step]  # pyright: ignore[reportArgumentType]
    assert toml.lines[path] == line


def test_a_missing_key_is_told_at_what_should_hold_it():
    toml = parse_toml(TEXT, "lines.toml")
    assert toml.line_of(("row", 1, "colour")) == 33
    assert toml.line_of(("table", "two words", "four")) == 25
    assert toml.line_of(("nowhere", "at all")) == 40  # the last line


def test_keys_are_shown_as_people_count():
    assert key_text(("site", 0, "ground_mm", 2)) == "site[1].ground_mm[3]"
    assert key_text(("a", "b c")) == "a.'b c'"


@pytest.mark.parametrize(
    ("text", "key", "line", "says"),
    [
        ("a = 1\nb = \n", "b", 2, "is not TOML: invalid value"),
        ("a = 1\n= 2\n", "file", 2, "is not TOML: invalid statement"),
        ("[t]\na = 1\n= 2\n", "t", 3, "is not TOML: invalid statement"),
        ("a = 1\n\n[t\n", "t", 3, "is not TOML"),
        ("a = [1,\n2,\n", "a[3]", 3, "is not TOML"),
        ('a = """\nx\n', "a", 3, "unterminated string"),
        ("a = 1\nb = 2\na = [1, 2]\n", "a", 3, "stands twice (delete one; the first is in line 1)"),
        ("a = {b = 1}\n[a]\n", "a", 2, "stands twice (delete one; the first is in line 1)"),
        ("[a]\n[b]\n[a]\n", "a", 3, "stands twice (delete one; the first is in line 1)"),
        ("a.b = 1\n[a]\nb = 2\n", "a", 2, "stands twice (delete one; the first is in line 1)"),
        ("a = " + "9" * 5000, "a", 1, "has more digits than can be read"),
        ("# " + "9" * 5000 + "\na = " + "9" * 5000, "file", 1, "has more digits than can be read"),
        ("\x00", "file", 1, "is not TOML"),
    ],
)
def test_a_text_that_is_no_toml_is_told_with_key_and_line(text: str, key: str, line: int, says: str):
    with pytest.raises(FileError, match=r"wrong\.toml") as caught:
        parse_toml(text, "wrong.toml")
    (problem,) = caught.value.problems
    assert (problem.key, problem.line) == (key, line)
    assert says in problem.text()


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("version = " + "[" * 400, "version[1][1]"),
        ("\nversion = " + "[" * 400 + "]" * 400, "version[1][1]"),
        ("a = " + "{a=" * 100_000, "a.a.a"),
        (".".join(["a"] * 20_000) + " = 1", "a.a.a"),
        (".".join(['"a"'] * 100_000) + " = 1", "a.a.a"),
        (f"[{'.'.join(['a'] * 20_000)}]", "a.a.a"),
        ("[[a.b]]\n" + ".".join(["c"] * DEEPEST) + " = 1", "a.b[1]"),
    ],
)
def test_a_text_nested_too_deeply_is_refused_before_it_costs_anything(text: str, key: str):
    tracemalloc.start()
    try:
        with pytest.raises(FileError) as caught:
            parse_toml(text, "deep.toml")
        assert tracemalloc.get_traced_memory()[1] < 20_000_000
    finally:
        tracemalloc.stop()
    (problem,) = caught.value.problems
    assert problem.key == key
    assert "is nested too deeply: at most 16" in problem.rule


def test_the_deepest_that_may_be_is_read():
    parse_toml(".".join(["a"] * DEEPEST) + " = 1", "deep.toml")
    parse_toml("a = " + "[" * (DEEPEST - 1) + "]" * (DEEPEST - 1), "deep.toml")


def test_an_empty_text_holds_nothing():
    assert parse_toml("", "empty.toml").data == {}
