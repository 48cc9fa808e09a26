"""Files with anything in them: a design, a rule set, or an error with its key; never a traceback."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from rampdraft.checks.rules.reading import parse_rule_set
from rampdraft.errors import FileError, Problem
from rampdraft.files.design_file import design_text, load_design, read_design, save_design
from rampdraft.files.samples import sample_paths, samples_folder

DESIGNS = [path.read_text(encoding="utf-8") for path in sample_paths()]
RULES = [path.read_text(encoding="utf-8") for path in sorted((samples_folder() / "rules").glob("*.toml"))]
SCRAPS = (
    *(
        "[",
        "]",
        "[[",
        "]]",
        "{",
        "}",
        "=",
        ".",
        ",",
        "#",
        '"',
        "'",
        '"""',
        "\n",
        "\\",
        "\x00",
        "\ufeff",
        "\u2028",
    ),
    *(
        "nan",
        "-inf",
        "1e999",
        "9" * 5000,
        "0x" + "f" * 9000,
        "[0x" + "f" * 9000 + "]",
        "1_0",
        "true",
        "[[[]]]",
        "{a={a={}}}",
        "1979-05-27",
    ),
    *(
        "[" * 400,
        "a." * 400 + "a = 1\n",
        "{a=" * 300,
        "[[site]]\n" * 300,
        "k = 1\n" * 2,
        "x" * 3000,
        "../x.toml",
    ),
)


def spoilt(text: str, chance: random.Random) -> str:
    """Return a text with a few of its parts cut, doubled, moved, swapped or replaced by scraps."""
    for _ in range(chance.randint(1, 4)):
        lines = text.split("\n")
        one, other = (chance.randrange(len(lines)) for _ in range(2))
        at = chance.randrange(len(text) + 1)
        match chance.randrange(6):
            case 0:
                text = text[:at] + chance.choice(SCRAPS) + text[at + chance.randint(0, 20) :]
            case 1:
                text = text[:at] + text[at + chance.randint(1, 300) :]
            case 2:
                lines[one], lines[other] = lines[other], lines[one]
                text = "\n".join(lines)
            case 3:
                lines[one:one] = lines[other : other + chance.randint(1, 30)]
                text = "\n".join(lines)
            case 4:
                key, _, _ = lines[one].partition(" = ")
                lines[one] = f"{key} = {chance.choice(SCRAPS)}"
                text = "\n".join(lines)
            case _:
                text = text[:at] + chr(chance.randrange(0x110000) & ~0x800) + text[at:]
    return text


def problems_of(read: Callable[[], object]) -> tuple[Problem, ...] | None:
    """Return what is told of a file, or None for nothing."""
    try:
        read()
    except FileError as wrong:
        return wrong.problems
    return None


@pytest.mark.parametrize(
    ("first", "count"), [(0, 150), pytest.param(1000, 50_000, marks=pytest.mark.soak)], ids=["short", "soak"]
)
@pytest.mark.parametrize(
    ("texts", "read"),
    [
        (DESIGNS, lambda text: read_design(text, "a.toml", consistent=False)),
        (RULES, lambda text: parse_rule_set(text, "a.toml")),
    ],
    ids=["designs", "rules"],
)
def test_whatever_a_file_holds_is_told(
    texts: list[str], read: Callable[[str], object], first: int, count: int
) -> None:
    told = 0
    for seed in range(first, first + count):
        chance = random.Random(seed)
        text = spoilt(chance.choice(texts), chance)
        problems = problems_of(lambda text=text: read(text))
        if problems is None:
            continue
        told += 1
        assert problems, seed
        assert all(problem.key and problem.rule and problem.line for problem in problems), seed
        assert sum(len(problem.text()) for problem in problems) < 100_000, seed
    assert count / 4 < told < count, "some are well, some are not"


@pytest.mark.parametrize(
    ("first", "count"), [(0, 25), pytest.param(1000, 5000, marks=pytest.mark.soak)], ids=["short", "soak"]
)
def test_a_save_into_a_spoilt_text_that_still_is_a_design_holds_the_design(
    tmp_path: Path, first: int, count: int
) -> None:
    wanted, saved = read_design(DESIGNS[0], "a.toml"), 0
    for seed in range(first, first + 20 * count):
        chance = random.Random(seed)
        text = spoilt(chance.choice(DESIGNS), chance)
        try:
            read_design(text, "a.toml", consistent=False)
        except FileError:
            continue
        saved += 1
        save_design(wanted, tmp_path / "a.toml", over=text)
        assert load_design(tmp_path / "a.toml") == wanted, seed
        if saved == count:
            break
    assert saved > count / 4
    assert design_text(wanted)
