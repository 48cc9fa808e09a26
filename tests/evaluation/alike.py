"""Whether two results say the same: dataclasses field by field, arrays number by number."""

import dataclasses
from typing import Any

import numpy as np


def alike(one: Any, other: Any) -> bool:
    if type(one) is not type(other):
        return False
    if isinstance(one, np.ndarray | float):
        return bool(np.array_equal(one, other, equal_nan=True))
    if dataclasses.is_dataclass(one):
        return all(
            alike(getattr(one, f.name), getattr(other, f.name)) for f in dataclasses.fields(one) if f.compare
        )
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(alike, one, other))
    return one == other


def writable(found: Any) -> list[str]:
    """Return where in a result an array may be written to."""
    if isinstance(found, np.ndarray):
        return ["array"] if found.flags.writeable else []
    if dataclasses.is_dataclass(found):
        return [
            f"{f.name}.{where}"
            for f in dataclasses.fields(found)
            for where in writable(getattr(found, f.name))
        ]
    if isinstance(found, dict):
        return [f"{key}.{where}" for key, one in found.items() for where in writable(one)]
    if isinstance(found, tuple | list):
        return [f"{number}.{where}" for number, one in enumerate(found) for where in writable(one)]
    return []
