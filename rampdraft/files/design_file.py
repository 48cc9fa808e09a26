"""A design as a file: TOML with a table a group and a row a site, driven wholly by the field records.

    format = "rampdraft design"
    version = 1

    [inner_leaf]
    length_mm = 1350  # Length, mm

Lengths are in mm, angles in degrees. Keys are the names of the fields; a table that may stand many times has
its name in the singular: [[site]], [[use.user]]. What is left out takes its default where it has one. What
follows from the rest (`slats = "even"`) is left out, and may not stand there.
"""

import os
import re
from collections.abc import Callable
from collections.abc import Set as AbstractSet
from typing import Any, Final, cast

from rampdraft.errors import FileError
from rampdraft.files.design_names import file_name, unit_text
from rampdraft.files.design_reader import read_groups, read_surveyed
from rampdraft.files.text_file import keep_previous, read_text, write_whole
from rampdraft.files.toml_lines import ParsedToml, parse_toml
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, fields_of, info_of, value_at, walk
from rampdraft.model.fields.record import Choice
from rampdraft.model.fields.values import shown, value_problems
from rampdraft.model.section import Section
from rampdraft.model.spacing import following, idle
from rampdraft.words.figures import shortest
from rampdraft.words.say import counted, say

KIND: Final = "design"
VERSION: Final = 1
MIGRATIONS: Final[dict[int, Callable[[dict[str, Any]], dict[str, Any]]]] = {}
"""For each old version, the function that turns its data into those of the next one. Version 1 is the
first.
"""


def load_design(path: str | os.PathLike[str], *, consistent: bool = True) -> Design:
    """Return the design in a file; see `read_design`. Raises FileError also when the file cannot be read at
    all.
    """
    return read_design(read_text(path), os.path.basename(path), consistent=consistent)


def read_design(text: str, name: str, *, consistent: bool = True) -> Design:
    """Return the design that `text` describes; `name` is the file's, for messages.

    Raises FileError with every problem found, each with key and line. With `consistent` false, values that
    are allowed one by one are let in though they contradict each other, so that a form can show them and the
    reasons beside them.
    """
    toml = parse_toml(text, name)
    check_header(toml, KIND, VERSION)
    design, problems = read_groups(toml, _migrated(toml.data), consistent=consistent)
    if problems:
        count = counted(len(problems), "a problem", "{count} problems")
        raise FileError(
            say("{name} cannot be opened as a design: {count}.", name=name, count=count), problems
        )
    return design


def load_survey(path: str | os.PathLike[str]) -> Design:
    """Return the survey in a design file, with the ramp of a new document in place of its own.

    The tables of the ramp itself may be missing, and are not looked at. Raises FileError as `load_design`
    does.
    """
    name = os.path.basename(path)
    toml = parse_toml(read_text(path), name)
    check_header(toml, KIND, VERSION)
    survey, problems = read_surveyed(toml, _migrated(toml.data))
    if problems:
        count = counted(len(problems), "a problem", "{count} problems")
        raise FileError(say("{name} cannot be read as a survey: {count}.", name=name, count=count), problems)
    return survey


def save_design(design: Design, path: str | os.PathLike[str], *, over: str = "") -> str:
    """Write a design to a file, whole or not at all, and return the text of the file; what it held before is
    kept beside it (`keep_previous`).

    `over` is the text that the design was read from: what somebody wrote into it, remarks, order and blank
    lines, is kept.

    Raises FileError, and leaves an old file as it was, when it cannot be written or when it holds a value
    that could not be read back. Values that contradict each other are saved: work half done is not lost.
    """
    problems = [problem for key, info, value in walk(design) for problem in value_problems(key, info, value)]
    if problems:
        raise FileError(
            say(
                "Nothing was saved in {path!r}: the design holds values that are not allowed.",
                path=os.fspath(path),
            ),
            problems,
        )
    text = design_text(design)
    if over:
        # Imported only here: reading a design does not need it, and it takes its time to load.
        from rampdraft.files.kept_text import keeping

        def holds(text: str) -> bool:
            return read_design(text, "", consistent=False) == design

        text = keeping(over, text, design_text(read_design(over, "", consistent=False)), holds)
    data = text.encode("utf-8")
    keep_previous(path, data)
    write_whole(path, data)
    return text


def check_header(toml: ParsedToml, kind: str, newest: int) -> None:
    """Raise FileError where a file does not begin as a `kind` of this program does, in a version up to the
    `newest`.
    """
    given, version, wanted = toml.data.get("format"), toml.data.get("version"), f"rampdraft {kind}"
    if given != wanted:
        rule = say("must be {wanted}", wanted=quoted(wanted)) if "format" in toml.data else say("is missing")
        way_out = say("a {kind} file begins with: format = {wanted}", kind=kind, wanted=quoted(wanted))
        problem = toml.problem(
            ("format",), rule, value=shown(given) if "format" in toml.data else "", way_out=way_out
        )
        raise FileError(say("{name} is no {wanted}.", name=toml.name, wanted=wanted), (problem,))
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        rule = say("must be a whole number from 1 up") if "version" in toml.data else say("is missing")
        value = shown(version) if "version" in toml.data else ""
        problem = toml.problem(
            ("version",), rule, value=value, way_out=say("write version = {newest}", newest=newest)
        )
        raise FileError(
            say("{name} does not say which version of the format it is written in.", name=toml.name),
            (problem,),
        )
    if version > newest:
        rule = say(
            "written by a later version (format {version}); this program reads up to {newest}",
            version=shown(version),
            newest=newest,
        )
        problem = toml.problem(
            ("version",), rule, value=shown(version), way_out=say("open it with a newer rampdraft")
        )
        raise FileError(
            say("{name} was written by a later version of this program.", name=toml.name), (problem,)
        )


def header_text(kind: str, version: int) -> str:
    """Return what a `kind` of this program begins with."""
    return f"format = {quoted(f'rampdraft {kind}')}\nversion = {version}\n"


def _migrated(data: dict[str, Any]) -> dict[str, Any]:
    for version in range(data["version"], VERSION):
        data = MIGRATIONS[version](data)
    return {key: value for key, value in data.items() if key not in ("format", "version")}


def design_text(design: Design) -> str:
    """Return a design as the text of its file, with label and unit beside each value."""
    left_out = following(design) | {path for path in idle(design) if _is_usual(design, path)}
    return header_text(KIND, VERSION) + "".join(
        _group_text(info, getattr(design, info.name), "", left_out) for info in fields_of(Design)
    )


def _is_usual(design: Design, path: str) -> bool:
    """Return whether a value is what it is where the file says nothing."""
    info = info_of(path)
    return info is not None and value_at(design, path) == info.default


def _group_text(info: FieldInfo, value: Any, prefix: str, left_out: AbstractSet[str] = frozenset()) -> str:
    name = f"{prefix}{file_name(info)}"
    if info.rows is not None:
        return "".join(f"\n[[{name}]]\n{table_text(info.rows, row, name)}" for row in value)
    assert info.group is not None, "a design holds groups and rows only"
    return f"\n[{name}]\n{table_text(info.group, value, name, left_out)}"


def table_text(cls: type, value: Any, name: str, left_out: AbstractSet[str] = frozenset()) -> str:
    """Return the lines of a table, each value with its label and unit, without those at the paths
    `left_out`.
    """
    plain = [
        info for info in fields_of(cls) if info.record is not None and f"{name}.{info.name}" not in left_out
    ]
    inner = [info for info in fields_of(cls) if info.record is None]
    lines = [
        f"{file_name(info)} = {_value_text(getattr(value, info.name))}  # {_remark(info)}\n" for info in plain
    ]
    return "".join(lines) + "".join(
        _group_text(info, getattr(value, info.name), f"{name}.") for info in inner
    )


def _remark(info: FieldInfo) -> str:
    if isinstance(info.record, Choice):
        return f"{info.record.label}: {', '.join(word for word, _ in info.record.options)}"
    return f"{info.record.label if info.record else ''}{unit_text(info)}"


def _value_text(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return shortest(value)
    if isinstance(value, tuple):
        return f"[{', '.join(_value_text(item) for item in cast('tuple[Any, ...]', value))}]"
    return quoted(value.text if isinstance(value, Section) else value)


def quoted(text: str) -> str:
    """Return a basic string of TOML 1.0.0."""
    plain = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return '"' + re.sub(r"[\x00-\x1f\x7f]", lambda match: f"\\u{ord(match[0]):04X}", plain) + '"'
