"""Sentences in the language that holds: the English one stands in the code, where it is read with what it
speaks of, and is the key of the others (`german/`, a file for each room).
"""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Final

from rampdraft.words.manner import Language, manner

_FOLDERS: Final[dict[Language, str]] = {"de": "german"}


def say(english: str, meaning: str = "", /, **values: object) -> str:
    """Return a sentence in the language that holds, with its values put in: `say("{gap} clear", gap=mm(9))`.

    What has no translation stays English, and so does what is said already. Without values, braces are
    braces. `meaning` tells apart what is one word in English only: `Handle [step]` is looked for before
    `Handle`.
    """
    text = english
    if (language := manner().language) != "en":
        known = sentences(language)
        text = known.get(f"{english} [{meaning}]") or known.get(english, english)
    return text.format(**values) if values else text


def counted(count: int, one: str, many: str) -> str:
    """Return a number of things: `counted(3, "{count} person", "{count} persons")`."""
    return say(one if count == 1 else many, count=count)


def named(key: str) -> str:
    """Return the name of a member, of one without its number, or of a pair of them, for people to read:
    `inner rail 3`, `inner rail - outer slat`.
    """
    if manner().language == "en":
        return key
    return " - ".join(_named(one) for one in key.split(" - "))


def _named(key: str) -> str:
    words, _, last = key.rpartition(" ")
    if last.isdigit():
        return f"{_named(words)} {last}"
    words, between, of = key.partition(" bay")
    return f"{_named(words)}, {say('bay')}{of}" if between else say(key)


def called(text: str) -> str:
    """Return a section or a material for people to read, which its first word is the kind of: `box 40x20x2`,
    `steel S235`, `birch plywood`. What has no translation, as a name that somebody typed, stays as it is.
    """
    kind, gap, rest = text.partition(" ")
    if not gap or "{" in kind or "}" in kind:
        return text
    if rest.isalpha():
        rest = say(rest)
    elif not rest.strip("0123456789.x"):
        rest = manner().style.written(rest)
    return say(f"{kind} {{rest}}", rest=rest)


def within(text: str) -> str:
    """Return a heading as it stands within a sentence: `Joint held` is `joint held`, but not in German."""
    return text[:1].lower() + text[1:] if manner().language == "en" else text


@cache
def sentences(language: Language) -> Mapping[str, str]:
    """Return all that is translated, by its English; nothing for English itself."""
    found: dict[str, str] = {}
    if language in _FOLDERS:
        for file in sorted(
            files("rampdraft.words").joinpath(_FOLDERS[language]).iterdir(), key=lambda one: one.name
        ):
            if file.name.endswith(".json"):
                found.update(json.loads(file.read_text(encoding="utf-8")))
    return found
