"""New values put into a TOML text that somebody has written: remarks, order, blank lines and the spelling of
numbers that did not change stay as they are.

A remark right above the header of a table belongs to that table and goes with it, wherever its row moves;
tomlkit has it at the end of the table before.
"""

import itertools
import re
import tomllib
from collections.abc import Callable, Iterable, Iterator
from typing import Any, Final, cast

import tomlkit
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Comment, Item, Null, Table, Whitespace

from rampdraft.errors import FileError

_NAME: Final = "name"
"""The key by which a row of a table is known again after a change."""
_HEADER: Final = re.compile(r"\s*\[\[?\s*([\w-]+)\s*[.\]]")
"""Of a table, with the first part of its name."""
_Table = dict[str, Any]
"""Plain data of a table."""


def keeping(old: str, new: str, meant: str, holds: Callable[[str], bool]) -> str:
    """Return a TOML text that says what `new` says, written into `old`.

    `meant` is `old` with every value that it leaves out: what it leaves out and `new` does not change, stays
    left out. `holds` tells whether a text says what it should. Where `old` is no TOML, or is written in a way
    that tomlkit cannot change into what is wanted, the answer is `new`.
    """
    if not old.strip():
        return new
    newline = "\r\n" if "\r\n" in old else "\n"
    plain = old.replace("\r\n", "\n") + ("" if old.endswith("\n") else "\n")
    for way in (_in_tables, _written_into):
        try:
            text = way(plain, new, meant).replace("\n", newline)
            if holds(text):
                return text
        except (TOMLKitError, tomllib.TOMLDecodeError, RecursionError, FileError, LookupError):
            continue
    return new


def _written_into(plain: str, new: str, meant: str) -> str:
    """Return a text that says what `new` says, written into another one."""
    kept, wanted = tomlkit.parse(plain), tomlkit.parse(new)
    for document in (kept, wanted):
        _give_remarks_to_headers(document)
    _put(kept, wanted, tomllib.loads(meant))
    return tomlkit.dumps(kept)


def _in_tables(plain: str, new: str, meant: str) -> str:
    """Return the same, written into those tables alone that change: a long text takes tomlkit a while, and
    somebody waits. Raises LookupError where a table comes or goes, or stands in several places.
    """
    parts, wanted, before = _tables(plain), _tables(new), _tables(meant)
    if wanted.keys() != before.keys():
        raise LookupError("a table comes or goes")
    for name, text in wanted.items():
        if text != before[name]:
            parts[name] = _written_into(parts[name], text, before[name])
    return "".join(parts.values())


def _tables(text: str) -> dict[str, str]:
    """Return the parts of a text by the names of their tables, those of one name together; each begins with
    the blank lines and remarks right above its header. Raises LookupError where they do not stand together.
    """
    parts: dict[str, list[str]] = {"": []}
    name, above = "", list[str]()
    for line in text.splitlines(keepends=True):
        header = _HEADER.match(line)
        if header is None:
            above.append(line)
            if line.strip() and not line.lstrip().startswith("#"):
                parts[name] += above
                above = []
            continue
        if header[1] != name and header[1] in parts:
            raise LookupError(f"{header[1]} stands in several places")
        name = header[1]
        parts.setdefault(name, []).extend((*above, line))
        above = []
    parts[name] += above
    return {name: "".join(lines) for name, lines in parts.items()}


def _give_remarks_to_headers(document: tomlkit.TOMLDocument) -> None:
    """Move blank lines and remarks that stand right above a header from the table before to the header."""
    before: Container = document
    for table in tuple(_headed(document)):
        taken = list[str]()
        for place in reversed(range(_length_before_tables(before))):
            key, item = before.body[place]
            remark = isinstance(item, Comment)
            if key is not None or not (remark or isinstance(item, Whitespace | Null)):
                break
            if not remark and any("#" in text for text in taken):
                # The blank line that parts these remarks from what is above them.
                taken.append(item.as_string())
                before.body[place] = (None, Null())
                break
            taken.append(item.as_string())
            before.body[place] = (None, Null())
        table.trivia.indent = "".join(reversed(taken)) + table.trivia.indent
        before = table.value


def _length_before_tables(container: Container) -> int:
    places = (place for place, (_, item) in enumerate(container.body) if isinstance(item, Table | AoT))
    return next(places, len(container.body))


def _headed(container: Container) -> Iterator[Table]:
    """Yield every table that has a header of its own, in the order of the text."""
    for _, item in container.body:
        for table in item.body if isinstance(item, AoT) else (item,):
            if isinstance(table, Table):
                if not table.is_super_table():
                    yield table
                yield from _headed(table.value)


def _put(kept: Container | OutOfOrderTableProxy, wanted: Container, meant: _Table) -> None:
    """Put the values of one table into another."""
    for key in [key for key in kept if key not in wanted]:
        del kept[key]
    for key, item in cast("Iterable[tuple[str, Any]]", wanted.items()):
        if key in kept:
            _change(kept, key, item, meant.get(key))
        elif meant.get(key) != _plain(item):
            _add(kept, key, item)


def _add(kept: Container | OutOfOrderTableProxy, key: str, item: Any) -> None:
    """Put a value below the others; blank lines and remarks at the end stay there."""
    body, tail = kept.body if isinstance(kept, Container) else [], list[Any]()
    while body and body[-1][0] is None:
        tail.append(body.pop())
    kept[key] = item
    body.extend(reversed(tail))


def _change(kept: Container | OutOfOrderTableProxy, key: str, item: Any, meant: Any) -> None:
    """Put a value in the place of another one, where it is another."""
    before = kept[key]
    if isinstance(before, AoT) and isinstance(item, AoT):
        _put_rows(before, item, meant)
    elif isinstance(before, Table | OutOfOrderTableProxy) and isinstance(item, Table):
        _put(before.value if isinstance(before, Table) else before, item.value, meant or {})
    elif _plain(item) == meant or _alike(before, item):
        pass
    elif isinstance(before, Array):
        _put_items(before, _plain(item))
    else:
        kept[key] = _inline(_plain(item))


def _put_rows(kept: AoT, wanted: AoT, meant: list[_Table]) -> None:
    """Put rows in the place of others; one that is known again keeps its text and goes to its new place."""
    old, new = dict(enumerate(kept.body)), dict(enumerate(wanted.body))
    found: dict[int, tuple[Table, _Table]] = {}
    tests: tuple[Callable[[int, int], bool], ...] = (
        lambda at, place: meant[at] == _plain(new[place]),
        lambda at, place: _name(old[at]) == _name(new[place]) is not None,
        lambda at, place: at == place,
    )
    for known in tests:
        for place in [place for place in new if place not in found]:
            at = next((at for at in old if known(at, place)), None)
            if at is not None:
                found[place] = old.pop(at), meant[at]
    for place, (row, said) in found.items():
        _put(row.value, new[place].value, said)
    kept.body[:] = [found[place][0] if place in found else row for place, row in new.items()]


def _put_items(kept: Array, new: list[Any]) -> None:
    """Put items into a list; those at its beginning and its end that stay are not touched."""
    old = _plain(kept)
    head = _alike_from(old, new)
    tail = _alike_from(old[head:][::-1], new[head:][::-1])
    spare = len(old) - len(new)
    for place in range(head, min(len(old), len(new)) - tail):
        kept[place] = _inline(new[place])
    for _ in range(spare):
        del kept[len(new) - tail]
    for place in range(len(old) - tail, len(new) - tail):
        kept.insert(place, _inline(new[place]))


def _alike_from(one: list[Any], other: list[Any]) -> int:
    """Return how many items at the beginning of both lists are alike."""
    pairs = zip(one, other, strict=False)
    return sum(1 for _ in itertools.takewhile(lambda pair: pair[0] == pair[1], pairs))


def _name(row: Table) -> Any:
    return _plain(row).get(_NAME)


def _alike(one: Any, other: Any) -> bool:
    """Return whether two values are the same; yes is not taken for 1."""
    return (a := _plain(one)) == (b := _plain(other)) and isinstance(a, bool) == isinstance(b, bool)


def _plain(value: Any) -> Any:
    return value.unwrap() if hasattr(value, "unwrap") else value


def _inline(value: Any) -> Item:
    """Return plain data as it is written in the place of a value."""
    if isinstance(value, dict):
        table = tomlkit.inline_table()
        for key, item in cast("_Table", value).items():
            table[key] = _inline(item)
        return table
    if isinstance(value, list):
        array = tomlkit.array()
        for place, item in enumerate(cast("list[Any]", value)):
            array.insert(place, _inline(item))
        return array
    return tomlkit.item(value)  # pyright: ignore[reportUnknownVariableType, reportUnknownMemberType]
