"""A design that notes which of its parts are read, and of an evaluation which stages are."""

import dataclasses
from contextlib import suppress
from functools import cache
from typing import Any

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.evaluation.stage import Stage
from rampdraft.model.design import Design
from rampdraft.model.section import Section

PLAIN = (Section,)
"""Values, though they are dataclasses."""


@cache
def _noting(cls: type) -> type:
    """Return a class whose instances tell `seen` the path of each field that is read."""
    names = frozenset(field.name for field in dataclasses.fields(cls))

    def read(self: Any, name: str) -> Any:
        if name in names:
            with suppress(AttributeError):  # made by the program out of one that notes: a value of its own
                object.__getattribute__(self, "seen").add(object.__getattribute__(self, "path") + name)
        return object.__getattribute__(self, name)

    body = {"__slots__": ("path", "seen"), "__getattribute__": read, "__hash__": cls.__hash__}
    made = type(cls.__name__, (cls,), body)

    def same(self: Any, other: Any) -> bool:
        fields = dataclasses.fields(cls)
        return isinstance(other, cls) and all(getattr(self, f.name) == getattr(other, f.name) for f in fields)

    made.__eq__ = same
    return made


def noting(group: Any, seen: set[str], path: str = "") -> Any:
    """Return a copy of a design, or a group of one, that tells `seen` what is read of it."""
    copy = object.__new__(_noting(type(group)))
    for field in dataclasses.fields(group):
        value = getattr(group, field.name)
        inside = f"{path}{field.name}"
        if dataclasses.is_dataclass(value) and not isinstance(value, PLAIN):
            value = noting(value, seen, f"{inside}.")
        elif isinstance(value, tuple) and value and dataclasses.is_dataclass(value[0]):
            rows = enumerate(value, start=1)
            value = tuple(noting(row, seen, f"{inside}[{number}].") for number, row in rows)
        object.__setattr__(copy, field.name, value)
    object.__setattr__(copy, "path", path)
    object.__setattr__(copy, "seen", seen)
    return copy


def read_by(stage: Stage[Any], evaluation: Evaluation) -> set[str]:
    """Return the paths of the values that a stage reads as it makes its thing of an evaluation's design."""
    seen: set[str] = set()
    design: Design = noting(evaluation.design, seen)
    stage.make(design, *(evaluation.made(need) for need in stage.needs))
    return {path for path in seen if not any(other.startswith((f"{path}.", f"{path}[")) for other in seen)}
