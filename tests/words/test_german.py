"""Every sentence has its German, with the same values in it."""

import json
import string

import pytest
from gathered import ROOMS, ROOT, said_in
from tables import said_by_tables

from rampdraft.words.say import sentences

FILES = sorted((ROOT / "words" / "german").glob("*.json"))


def values_in(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("room", [*ROOMS, "rules"])
def test_everything_said_has_its_german(room: str) -> None:
    german = sentences("de")
    said = said_in(room) if room in ROOMS else ()
    missing = [one for one in (*said, *said_by_tables(room)) if not german.get(one)]
    assert not missing, f"{len(missing)} in {room}: python tests/words/make_german.py {room}"


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_translation_has_the_values_of_its_english(file) -> None:
    pairs = json.loads(file.read_text(encoding="utf-8")).items()
    said = set(said_in(file.stem)) if file.stem in ROOMS else {one for one, _ in pairs}
    wrong = [one for one, other in pairs if one in said and values_in(one) != values_in(other)]
    assert not wrong


def test_one_english_has_one_german() -> None:
    known: dict[str, str] = {}
    for file in FILES:
        for one, other in json.loads(file.read_text(encoding="utf-8")).items():
            assert known.setdefault(one, other) == other, one
