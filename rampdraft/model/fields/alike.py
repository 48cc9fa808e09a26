"""Values changed together under one path: `both_leaves.width_mm` in both leaves, `supports[*].rate_n_mm` in
all springs.
"""

from typing import Any, Final

from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at, with_value

BOTH_LEAVES: Final = "both_leaves."
SPRINGS: Final = "supports[*].rate_n_mm"
"""The rate of all springs of the carrier: what fewer leaves, or another maker, change."""


def paths_of(design: Design, path: str) -> tuple[str, ...]:
    """Return the paths of the values that a path stands for: itself, for most."""
    if path == SPRINGS:
        springs = (
            number for number, support in enumerate(design.supports, start=1) if support.kind == "spring"
        )
        return tuple(path.replace("*", str(number)) for number in springs)
    if path.startswith(BOTH_LEAVES):
        return tuple(path.replace(BOTH_LEAVES, leaf) for leaf in ("inner_leaf.", "outer_leaf."))
    return (path,)


def value_of(design: Design, path: str) -> Any:
    """Return the value at a path, None where there is none or where those that it stands for differ."""
    values = {value_at(design, one) for one in paths_of(design, path)}
    return values.pop() if len(values) == 1 else None


def changed(design: Design, path: str, value: Any) -> Design:
    """Return a design with the values that a path stands for replaced."""
    for one in paths_of(design, path):
        design = with_value(design, one, value)
    return design
