"""Whether a design can be built at all: each value by its record, and the values with one another."""

from collections.abc import Container

from rampdraft.errors import DesignError, Problem
from rampdraft.geometry.buildable.rules import RULES
from rampdraft.model.design import Design
from rampdraft.model.fields.values import value_problems
from rampdraft.model.fields.walk import walk

__all__ = ["problems_of", "relation_problems", "require_buildable", "value_problems"]


def problems_of(design: Design) -> tuple[Problem, ...]:
    """Return everything that keeps a design from being built; keys are dotted paths as `edits` takes them."""
    found = [problem for path, info, value in walk(design) for problem in value_problems(path, info, value)]
    broken = {problem.key.partition(".")[0].partition("[")[0] for problem in found}
    return (*found, *relation_problems(design, broken))


def relation_problems(design: Design, broken: Container[str] = ()) -> tuple[Problem, ...]:
    """Return what contradicts what; a rule that reads a `broken` group (`inner_leaf`, `sites`) is left
    out.
    """
    return tuple(
        problem
        for groups, rule in RULES
        if not any(group in broken for group in groups)
        for problem in rule(design)
    )


def require_buildable(design: Design) -> None:
    """Raise DesignError, with every problem, when the design cannot be built."""
    problems = problems_of(design)
    if problems:
        raise DesignError("The design cannot be built.", problems)
