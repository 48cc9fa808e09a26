"""What of one design is other in another one, in words."""

from dataclasses import dataclass
from typing import Any, Final

from rampdraft.app.form.format import change_words, value_with_unit, value_words
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import label_of, walk
from rampdraft.model.spacing import follows
from rampdraft.words.say import say

MOST_SHOWN: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Differing:
    """A value that two designs have otherwise."""

    path: str
    name: str
    before: str
    after: str
    step: str
    """By how much, where it is a number."""


def differing(before: Design, after: Design) -> tuple[Differing, ...]:
    """Return the values that are other, and those that only one of the designs has."""
    old, new = ({path: value for path, _, value in walk(one)} for one in (before, after))
    return tuple(
        Differing(
            path=path,
            name=label_of(path),
            before=_shown(path, old),
            after=_shown(path, new),
            step=_step(path, old.get(path), new.get(path)),
        )
        for path in dict.fromkeys((*old, *new))
        if path not in old or path not in new or old[path] != new[path]
    )


def _shown(path: str, values: dict[str, Any]) -> str:
    return value_with_unit(path, values[path]) if path in values else "—"


def _step(path: str, before: Any, after: Any) -> str:
    """Return the difference of two numbers with its sign."""
    if isinstance(before, bool) or not (isinstance(before, (int, float)) and isinstance(after, (int, float))):
        return ""
    step = after - before
    return f"{'+' if step > 0 else '−'}{value_words(path, round(abs(step), 6))}"


def difference_lines(before: Design, after: Design) -> tuple[str, ...]:
    """Return a line for each value that is other, and for each that only one of the designs has."""
    old, new = ({path: value for path, _, value in walk(one)} for one in (before, after))
    lines: list[str] = []
    for path in dict.fromkeys((*old, *new)):
        if path not in new:
            lines.append(
                say("{name}: {value} → gone", name=label_of(path), value=value_words(path, old[path]))
            )
        elif path not in old:
            lines.append(say("{name}: new, {value}", name=label_of(path), value=value_words(path, new[path])))
        elif old[path] != new[path]:
            lines.append(change_words(path, old[path], new[path]))
    return tuple(lines)


def edit_words(before: Design, after: Design) -> str:
    """Return what an edit changed, in short: the values that were given, unless all of them follow."""
    kept = {path: value for path, _, value in walk(before)}
    given = [
        change_words(path, kept[path], value)
        for path, _, value in walk(after)
        if path in kept and kept[path] != value and not follows(after, path)
    ]
    return in_short(tuple(given) or difference_lines(before, after))


def in_short(lines: tuple[str, ...]) -> str:
    """Return the first of the lines, and how many there are besides."""
    more = len(lines) - MOST_SHOWN
    return "; ".join(lines[:MOST_SHOWN]) + (say("; and {more} more", more=more) if more > 0 else "")
