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


def say(english: str, **values: object) -> str:
    """Return a sentence in the language that holds, with its values put in: `say("{gap} clear", gap=mm(9))`.

    What has no translation stays English, and so does what is said already. Without values, braces are
    braces.
    """
    now = manner()
    text = english if now.language == "en" else sentences(now.language).get(english, english)
    return text.format(**values) if values else text


def counted(count: int, one: str, many: str) -> str:
    """Return a number of things: `counted(3, "{count} person", "{count} persons")`."""
    return say(one if count == 1 else many, count=count)


@cache
def sentences(language: Language) -> Mapping[str, str]:
    """Return all that is translated, by its English; nothing for English itself."""
    found: dict[str, str] = {}
    if language in _FOLDERS:
        for file in sorted(
            files(__package__).joinpath(_FOLDERS[language]).iterdir(), key=lambda one: one.name
        ):
            if file.name.endswith(".json"):
                found.update(json.loads(file.read_text(encoding="utf-8")))
    return found
