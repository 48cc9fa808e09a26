"""What of one design is other in another one, in words."""

from typing import Final

from rampdraft.app.form.format import change_words, value_words
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import label_of, walk

MOST_SHOWN: Final = 3


def difference_lines(before: Design, after: Design) -> tuple[str, ...]:
    """Return a line for each value that is other, and for each that only one of the designs has."""
    old, new = ({path: value for path, _, value in walk(one)} for one in (before, after))
    lines: list[str] = []
    for path in dict.fromkeys((*old, *new)):
        if path not in new:
            lines.append(f"{label_of(path)}: {value_words(path, old[path])} → gone")
        elif path not in old:
            lines.append(f"{label_of(path)}: new, {value_words(path, new[path])}")
        elif old[path] != new[path]:
            lines.append(change_words(path, old[path], new[path]))
    return tuple(lines)


def in_short(lines: tuple[str, ...]) -> str:
    """Return the first of the lines, and how many there are besides."""
    more = len(lines) - MOST_SHOWN
    return "; ".join(lines[:MOST_SHOWN]) + (f"; and {more} more" if more > 0 else "")
