"""Whether a design can be built at all: each value by its record, and the values with one another."""

from collections.abc import Set as AbstractSet
from typing import Final

from rampdraft.errors import DesignError, Problem
from rampdraft.geometry.buildable.rules import RULES
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import fields_of, walk
from rampdraft.model.fields.values import value_problems

_GROUPS: Final = tuple(info.name for info in fields_of(Design))


def problems_of(design: Design, beside: Design | None = None) -> tuple[Problem, ...]:
    """Return everything that keeps a design from being built; keys are dotted paths as `paths` takes them.

    `beside` is a design that can be built: what both have alike is not looked at again.
    """
    same = frozenset(
        name for name in _GROUPS if beside is not None and getattr(design, name) == getattr(beside, name)
    )
    found = [
        problem
        for name in _GROUPS
        if name not in same
        for path, info, value in walk(design, name)
        for problem in value_problems(path, info, value)
    ]
    broken = {problem.key.partition(".")[0].partition("[")[0] for problem in found}
    return (*found, *relation_problems(design, broken, same))


def relation_problems(
    design: Design, broken: AbstractSet[str], same: frozenset[str] = frozenset()
) -> tuple[Problem, ...]:
    """Return what contradicts what; a rule that reads a `broken` group (`inner_leaf`, `sites`), or only ones
    that are the `same` as in a design that can be built, is left out.
    """
    return tuple(
        problem
        for groups, rule in RULES
        if broken.isdisjoint(groups) and not same.issuperset(groups)
        for problem in rule(design)
    )


def require_buildable(design: Design, beside: Design | None = None) -> None:
    """Raise DesignError, with every problem, when a design cannot be built; `beside` as in `problems_of`."""
    problems = problems_of(design, beside)
    if problems:
        raise DesignError("The design cannot be built.", problems)
