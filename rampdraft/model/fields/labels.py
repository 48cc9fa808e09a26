"""What a value of the design is called in a sentence: `Inner leaf slat pitch`, `Site 2 cross slope`."""

import re
from typing import Final

from rampdraft.model.fields.walk import GROUP_LABELS, info_of

ONE: Final[dict[str, str]] = {
    "sites": "Site",
    "users": "Wheeled user",
    "handles": "Handle",
    "obstacles": "Obstacle",
    "fold_stages": "Stage",
    "materials": "Material",
    "stock": "Stock length",
    "supports": "Support",
}
"""What one row of a list of rows is called."""


def one_called(path: str) -> str:
    """Return what one row of the rows at `path` is called."""
    return ONE[path.rpartition(".")[2]]


def label_of(path: str) -> str:
    """Return the name of a value with its group, or of a group, or `The design`."""
    info = info_of(path)
    if info is None:
        return "The design"
    if info.record is None:
        return GROUP_LABELS.get(info.name, info.name)
    group, label = _group_of(path), info.record.label[0].lower() + info.record.label[1:]
    if label.startswith(f"{group.lower()} "):  # a bridge plate's thickness needs no second bridge plate
        return info.record.label
    first, _, rest = label.partition(" ")
    return f"{group} {rest if rest and group.endswith(first) else label}"  # nor a hinge a second hinge


def _group_of(path: str) -> str:
    group = path.rpartition(".")[0]
    row = re.search(r"(\w+)\[(\d+|\*)\]$", group)
    if group == "both_leaves":
        return "Both leaves"
    if row and row[2] == "*":
        return f"All {GROUP_LABELS[row[1]].lower()}"
    return f"{ONE[row[1]]} {row[2]}" if row else GROUP_LABELS.get(group.rpartition(".")[2], group)
