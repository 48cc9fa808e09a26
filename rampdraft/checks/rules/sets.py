"""The rule sets that a design is judged by: those that come with the program, and the user's own files."""

from dataclasses import replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Final

from rampdraft.checks.rules.reading import parse_rule_set
from rampdraft.checks.rules.rule import Limit, RuleSet
from rampdraft.errors import FileError, Problem
from rampdraft.files.rule_files import is_own, refusal
from rampdraft.files.text_file import read_text
from rampdraft.model.design import Design
from rampdraft.model.fields.values import did_you_mean
from rampdraft.words.say import say

__all__ = ["Limit", "RuleSet", "builtin_rule_sets", "floor", "load_rule_set", "rule_sets_for", "with_floor"]

_OWN_KEY: Final = "own"
"""Key of what the program itself demands; no file may take it."""


@cache
def floor() -> RuleSet:
    """Return what every ramp is held to, whatever rule sets its design names."""
    file = files("rampdraft.checks.rules").joinpath("floor.toml")
    return parse_rule_set(file.read_text(encoding="utf-8"), file.name)


def with_floor(rule_sets: tuple[RuleSet, ...]) -> tuple[RuleSet, ...]:
    """Return all that a design is judged by that names these rule sets."""
    return (floor(), *rule_sets)


@cache
def builtin_rule_sets() -> tuple[RuleSet, ...]:
    """Return the rule sets that come with the program, by key."""
    folder = files("rampdraft.checks.rules").joinpath("published")
    found = [
        parse_rule_set(file.read_text(encoding="utf-8"), file.name)
        for file in folder.iterdir()
        if file.name.endswith(".toml")
    ]
    return tuple(sorted(found, key=lambda rule_set: rule_set.key))


def load_rule_set(path: Path) -> RuleSet:
    """Return the rule set of a user's own file. Raises FileError when it cannot be read or is not well
    made.
    """
    text = read_text(path)
    rule_set = parse_rule_set(text, path.name)
    taken = {_OWN_KEY, floor().key, *(one.key for one in builtin_rule_sets())}
    if rule_set.key in taken:
        rule, way_out = say("is the key of a rule set of the program"), say("choose another key")
        problem = Problem(key="key", value=repr(rule_set.key), rule=rule, way_out=way_out)
        raise FileError(say("{name} cannot be used as a rule file.", name=path.name), (problem,))
    return replace(rule_set, text=text)


def rule_sets_for(design: Design, folder: Path | None) -> tuple[RuleSet, ...]:
    """Return the rule sets that the design names, in its order, each once.

    A name that ends in .toml is a user's own file: its path, from `folder` (that of the design file) or
    absolute. It lies in that folder or below it, or in one that the user has added.

    Raises FileError for an unknown name, with the nearest one; for an own file that is broken or cannot be
    found; and for two different files with the same key.
    """
    builtin = {rule_set.key: rule_set for rule_set in builtin_rule_sets()}
    chosen: dict[str, RuleSet] = {}
    for place, name in enumerate(design.use.rule_sets, start=1):
        if name in builtin:
            rule_set = builtin[name]
        elif is_own(name):
            rule_set = _own_rule_set(name, folder, place)
        else:
            way_out = say("{near} or name your own file, ending in .toml", near=did_you_mean(name, builtin))
            raise _unusable(name, place, say("is no rule set of the program"), way_out)
        if chosen.setdefault(rule_set.key, rule_set) != rule_set:
            raise _unusable(
                name,
                place,
                say("has the key '{key}' of another file", key=rule_set.key),
                say("give each file its own key"),
            )
    return tuple(chosen.values())


def _own_rule_set(name: str, folder: Path | None, place: int) -> RuleSet:
    rule, way_out = refusal(name, folder)
    if rule:
        raise _unusable(name, place, rule, way_out)
    path = (folder or Path()) / name
    try:
        return load_rule_set(path)
    except FileError as error:
        # Told at the value that names the file: the design is what is shown.
        key, value = f"use.rule_sets[{place}]", repr(str(path))
        problems = [
            Problem(key=key, value=value, rule=one.text().removeprefix("file: ")) for one in error.problems
        ]
        raise FileError(str(error).partition("\n")[0], problems) from None


def _unusable(name: str, place: int, rule: str, way_out: str) -> FileError:
    problem = Problem(key=f"use.rule_sets[{place}]", value=repr(name), rule=rule, way_out=way_out)
    return FileError(say("The rule set {name!r} {rule}.", name=name, rule=rule), (problem,))
