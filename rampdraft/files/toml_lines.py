"""TOML with the line of every key, so that each error can name file, key and line.

The standard parser says what a file holds, not where. A small scanner walks the same text again for the
lines; it takes the text to be well formed and stops where it is not, which the parser has then found already.

The grammar is that of the TOML 1.0.0 specification.
"""

import bisect
import contextlib
import itertools
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from rampdraft.errors import FileError, Problem
from rampdraft.words.say import say

KeyPath = tuple[str | int, ...]
"""Keys, and places in lists counted from 0: ("site", 0, "ground_mm", 2)."""

DEEPEST: Final = 16
"""Keys and list places one in another; a design needs 5. What is deeper costs the parser time and memory
that grow with its square.
"""

_GAP: Final = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_BLANK: Final = re.compile(r"[ \t]*")
_BARE_KEY: Final = re.compile(r"[A-Za-z0-9_-]+")
_QUOTED: Final = re.compile(r""""(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_STRING: Final = re.compile(
    r'"""(?:[^\\]|\\.)*?""""{0,2}' + r"|'''.*?''''{0,2}" + r'|"(?:[^"\\\n]|\\.)*"' + r"|'[^'\n]*'", re.DOTALL
)
_SCALAR: Final = re.compile(r"[^,\]}\n#]+")
_LONG_NUMBER: Final = re.compile(r"[0-9_]{4000,}")
_PLACE: Final = re.compile(
    r"(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)", re.DOTALL
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ParsedToml:
    """What a TOML text holds, and where."""

    name: str
    """Of the file, for messages."""
    data: dict[str, Any]
    lines: Mapping[KeyPath, int]
    """Line of each key and list place, counted from 1; of (), the last line."""

    def line_of(self, path: KeyPath) -> int:
        """Return the line of a key or list place; where the text has none such, of what should hold it.

        What is missing altogether is found to be so on the last line.
        """
        return next(
            self.lines[path[:length]] for length in range(len(path), -1, -1) if path[:length] in self.lines
        )

    def problem(self, path: KeyPath, rule: str, *, value: str = "", way_out: str = "") -> Problem:
        """Return a problem with the value at `path`, with its key and line."""
        return Problem(key=key_text(path), value=value, rule=rule, way_out=way_out, line=self.line_of(path))


def key_text(path: KeyPath) -> str:
    """Return a path as people read it, rows counted from 1: `site[1].ground_mm`."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            shown = step if _BARE_KEY.fullmatch(step) else repr(step[:60])
            text += f".{shown}" if text else shown
    return text


def parse_toml(text: str, name: str) -> ParsedToml:
    """Return what `text` holds, with lines; `name` is the file's, for messages.

    Raises FileError, with key and line, when the text is not well formed.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    scanner = _Scanner(text)
    try:
        # First, since it is what stops at a text that is nested too deeply.
        with contextlib.suppress(_StopError):  # not well formed: what was found so far still tells lines
            scanner.run()
        data = tomllib.loads(text)
    except _DeepError as deep:
        key, line = key_text(deep.path[:3]), scanner.line_at(deep.offset)
        rule = say(
            "is nested too deeply: at most {deepest} keys and lists may stand one in another", deepest=DEEPEST
        )
        problem = Problem(key=key, value="", rule=rule, way_out=say("write it flatter"), line=line)
        raise FileError(say("{name} cannot be read.", name=name), (problem,)) from None
    except ValueError as error:  # TOMLDecodeError, or a number with more digits than Python reads
        problem = _syntax_problem(text, scanner, str(error))
        raise FileError(say("{name} cannot be read as TOML.", name=name), (problem,)) from None
    return ParsedToml(name=name, data=data, lines=scanner.lines)


def _syntax_problem(text: str, scanner: "_Scanner", message: str) -> Problem:
    place = _PLACE.fullmatch(message)
    if place is None:
        number = _LONG_NUMBER.search(text)
        offset, rule = number.start() if number else 0, say("has more digits than can be read")
        path = scanner.path_before(offset)
        return Problem(
            key=key_text(path) or "file",
            value="",
            rule=rule,
            way_out=say("shorten it"),
            line=scanner.line_at(offset),
        )
    offset = scanner.offset_of(int(place["line"]), int(place["column"])) if place["line"] else len(text)
    line, path = scanner.line_at(offset), scanner.path_before(offset)
    if place["what"].startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate")):
        for length in range(len(path), 0, -1):
            first = scanner.lines.get(path[:length], line)
            if isinstance(path[length - 1], str) and first < line:
                way_out = say("delete one; the first is in line {first}", first=first)
                return Problem(
                    key=key_text(path[:length]),
                    value="",
                    rule=say("stands twice"),
                    way_out=way_out,
                    line=line,
                )
    what = place["what"]
    if what == "Invalid statement":  # a line without a key: what stands before it is well
        path = path[:-1]
    return Problem(
        key=key_text(path) or "file",
        value="",
        rule=say("is not TOML: {what}", what=f"{what[:1].lower()}{what[1:]}"),
        line=line,
    )


class _StopError(Exception):
    """The text is not well formed here."""


class _DeepError(Exception):
    """The text is nested too deeply here."""

    def __init__(self, path: KeyPath, offset: int) -> None:
        super().__init__()
        self.path, self.offset = path, offset


class _Scanner:
    """Walks a text once and marks the line of each key and list place."""

    def __init__(self, text: str) -> None:
        self.lines: dict[KeyPath, int] = {(): text.rstrip("\n").count("\n") + 1}
        """The first line of each path; of (), the last line."""
        self._marks: list[tuple[int, KeyPath]] = []
        """(offset, path) of every path met, in order, repeats included."""
        self._table: KeyPath = ()
        self._text = text
        self._at = 0
        self._breaks = [match.start() for match in re.finditer("\n", text)]
        self._rows: dict[KeyPath, int] = {}

    def line_at(self, offset: int) -> int:
        return bisect.bisect_left(self._breaks, offset) + 1

    def offset_of(self, line: int, column: int) -> int:
        return (self._breaks[line - 2] + 1 if line > 1 else 0) + column - 1

    def path_before(self, offset: int) -> KeyPath:
        """Return the last key or list place that begins at `offset` or before it."""
        count = bisect.bisect_right(self._marks, offset, key=lambda mark: mark[0])
        return self._marks[count - 1][1] if count else ()

    def run(self) -> None:
        while self._skip(_GAP) < len(self._text):
            if self._text.startswith("[", self._at):
                self._header()
            else:
                self._pair(self._table)

    def _header(self) -> None:
        start, rows = self._at, self._text.startswith("[[", self._at)
        self._at += 2 if rows else 1
        path: KeyPath = ()
        parts = self._key()
        for number, part in enumerate(parts, start=1):
            path = (*path, part)
            self._mark(path, start)
            if number == len(parts) and rows:
                self._rows[path] = self._rows.get(path, 0) + 1
            if path in self._rows:
                path = (*path, self._rows[path] - 1)
                self._mark(path, start)
        self._table = path
        self._take("]]" if rows else "]")

    def _pair(self, table: KeyPath) -> None:
        self._skip(_GAP)
        start, path = self._at, table
        for part in self._key():
            path = (*path, part)
            self._mark(path, start)
        self._take("=")
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        self._skip(_BLANK)
        opening = self._text[self._at : self._at + 1]
        if opening and opening in "[{":
            self._items(path, {"[": "[]", "{": "{}"}[opening])
        else:
            self._match(_STRING if opening in ('"', "'") else _SCALAR)

    def _items(self, path: KeyPath, ends: str) -> None:
        """Read what stands between the brackets of a list, or of a table in one line."""
        opening, closing = ends
        self._take(opening)
        for place in itertools.count():
            if self._taken(closing, _GAP):
                return
            if opening == "{":
                self._pair(path)
            else:
                self._mark((*path, place), self._at)
                self._value((*path, place))
            if not self._taken(",", _GAP):
                self._take(closing, _GAP)
                return

    def _key(self) -> list[str]:
        parts: list[str] = []
        while True:
            self._skip(_BLANK)
            quoted = self._text[self._at : self._at + 1] in ('"', "'")
            parts.append(_unquoted(self._match(_QUOTED)) if quoted else self._match(_BARE_KEY))
            if len(parts) > DEEPEST:
                raise _DeepError(tuple(parts), self._at)
            if not self._taken(".", _BLANK):
                return parts

    def _mark(self, path: KeyPath, offset: int) -> None:
        if len(path) > DEEPEST:
            raise _DeepError(path, offset)
        self.lines.setdefault(path, self.line_at(offset))
        self._marks.append((offset, path))

    def _skip(self, gap: re.Pattern[str]) -> int:
        match = gap.match(self._text, self._at)
        self._at = match.end() if match else self._at
        return self._at

    def _match(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self._text, self._at)
        if match is None:
            raise _StopError
        self._at = match.end()
        return match[0]

    def _taken(self, mark: str, gap: re.Pattern[str]) -> bool:
        self._skip(gap)
        found = self._text.startswith(mark, self._at)
        self._at += len(mark) if found else 0
        return found

    def _take(self, mark: str, gap: re.Pattern[str] = _BLANK) -> None:
        if not self._taken(mark, gap):
            raise _StopError


def _unquoted(key: str) -> str:
    try:
        return tomllib.loads(f"key = {key}")["key"]
    except tomllib.TOMLDecodeError:
        raise _StopError from None
