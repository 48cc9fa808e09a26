"""How a rule between values is told."""

from rampdraft.errors import Problem
from rampdraft.model.design import Design, Leaf
from rampdraft.model.fields.paths import value_at
from rampdraft.model.fields.values import shown


def wrong(design: Design, key: str, rule: str, way_out: str = "") -> Problem:
    """Return the problem of the value at `key`."""
    return Problem(key=key, value=shown(value_at(design, key)), rule=rule, way_out=way_out)


def leaf_called(name: str, design: Design) -> Leaf:
    """Return the leaf at a path, `inner_leaf` or `outer_leaf`."""
    return value_at(design, name)
