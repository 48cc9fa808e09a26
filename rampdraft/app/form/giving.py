"""The one way in which a typed value comes into the design, wherever it is typed."""

from typing import Any

from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.form.usual import usual_of
from rampdraft.errors import Problem
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, label_of, value_at
from rampdraft.model.fields.values import value_problems

_LONGEST = 40
"""Letters of a value in the name of an edit."""


def give(document: Document, path: str, value: Any, *, run: str = "") -> tuple[Problem, ...]:
    """Edit one value of the design in hand, unless the value alone is not allowed: return why then. Edits of
    the same `run` are undone together.
    """
    design, info = document.design, info_of(path)
    assert design is not None
    assert info is not None
    wrong = value_problems(path, info, value)
    if not wrong:
        old, new = (_words(design, path, one) for one in (value_at(design, path), value))
        document.edit(path, value, label_of(path), old=old, new=new, run=run)
    return wrong


def why_not(path: str, text: str) -> str:
    """Return why a text is no value for the field at a path; nothing where it is one."""
    info = info_of(path)
    assert info is not None
    try:
        value = format.value_from(info, text)
    except ValueError as wrong:
        return str(wrong)
    return "; ".join(map(reason, value_problems(path, info, value)))


def reason(problem: Problem) -> str:
    """Return why a value can't be, with the way out."""
    return f"{problem.rule} ({problem.way_out})" if problem.way_out else problem.rule


def _words(design: Design, path: str, value: Any) -> str:
    """Return a value as the name of an edit has it."""
    info = info_of(path)
    assert info is not None
    usual = usual_of(design, path)
    return usual.left if usual is not None and not value else _short(format.text_of(info, value))


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= _LONGEST else line[: _LONGEST - 1] + "…"
