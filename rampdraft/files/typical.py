"""What a value ordinarily is, as the sample designs have it: no figure of it is anybody's guess."""

import re
from collections import Counter
from collections.abc import Mapping
from functools import cache
from statistics import median_low
from typing import Any, Final

from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import FieldInfo, info_of, walk
from rampdraft.model.fields.record import Dim, Words

_ROW: Final = re.compile(r"\[\d+\]")


def typical(path: str) -> Any:
    """Return the middle one of the sample designs' figures for the value at a path, the most frequent of
    choices; None for words, lists, and what no sample has.
    """
    bare, info = _ROW.sub("", path), info_of(path)
    values = _samples().get(bare, ())
    if info is None or info.many or isinstance(info.record, Words) or not values:
        return None
    return median_low(values) if isinstance(info.record, Dim) else Counter(values).most_common(1)[0][0]


@cache
def _samples() -> Mapping[str, tuple[Any, ...]]:
    """Return what all sample designs have at each path, rows without their numbers."""
    found: dict[str, list[Any]] = {}
    for sample in sample_paths():
        for path, info, value in walk(load_design(sample)):
            if _told(info):
                found.setdefault(_ROW.sub("", path), []).append(value)
    return {path: tuple(values) for path, values in found.items()}


def _told(info: FieldInfo) -> bool:
    return not info.many and not isinstance(info.record, Words)
