"""Designs of any shape: wide ones that can be built, ones that contradict themselves, and changes of one
field.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from random import Random
from typing import Any, get_origin

from any_ramp import START, ramp, spaced
from any_use import used
from hypothesis import strategies as st
from lots import Draw, FromHypothesis, FromSeed, Lots, words

from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Design, Use
from rampdraft.model.fields.paths import FieldInfo, fields_of, info_of, value_at, walk, with_value
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, Record, SectionChoice, Switch, Words
from rampdraft.model.fields.values import value_problems
from rampdraft.model.section import Section

# What can be built, wide
# --------------------------------------------------------------------------------------


def whole_design(lots: Lots) -> Design:
    """Return a design of which every group is drawn anew; some 99 in a hundred can be built."""
    return used(lots, spaced(lots, ramp(lots)))


@st.composite
def buildable_designs(draw: Draw) -> Design:
    """Return a design that can be built."""
    return draw(_whole_designs().filter(lambda design: not problems_of(design)))


@st.composite
def _whole_designs(draw: Draw) -> Design:
    return whole_design(FromHypothesis(draw))


def designs(number: int, seed: int = 0) -> Iterator[Design]:
    """Yield so many designs that can be built, the same ones for a seed, without hypothesis."""
    random = Random(seed)
    while number > 0:
        design = whole_design(FromSeed(random))
        if not problems_of(design):
            number -= 1
            yield design


# What contradicts itself
# --------------------------------------------------------------------------------------

SIZES = st.floats(0.5, 1000) | st.integers(1, 1000).map(float)


def sections() -> st.SearchStrategy[Section]:
    walls = st.tuples(SIZES, SIZES, st.floats(0.5, 1000)).filter(lambda sizes: 2 * sizes[2] < min(sizes[:2]))
    return st.one_of(
        walls.map(lambda s: Section(kind="box", depth_mm=s[0], width_mm=s[1], wall_mm=s[2])),
        walls.map(lambda s: Section(kind="tube", depth_mm=s[0], width_mm=s[0], wall_mm=s[2])),
        SIZES.map(lambda size: Section(kind="round", depth_mm=size, width_mm=size)),
        st.tuples(st.sampled_from(("flat", "timber")), SIZES, SIZES).map(
            lambda s: Section(kind=s[0], depth_mm=s[1], width_mm=s[2])
        ),
    )


def numbers(record: Dim, value_type: Any) -> st.SearchStrategy[Any]:
    whole = st.integers(math.ceil(record.low), math.floor(record.high))
    return whole if value_type is int else st.floats(record.low, record.high) | whole.map(float)


def items(record: Record, value_type: Any, *, required: bool) -> st.SearchStrategy[Any]:
    match record:
        case Dim():
            return numbers(record, value_type)
        case Choice():
            return st.sampled_from([word for word, _ in record.options])
        case Words():
            return words(record.longest, lines=record.lines, blank=not required)
        case MaterialChoice():
            return words(40, lines=False, blank=False)
        case Switch() | SectionChoice():
            return st.booleans() if isinstance(record, Switch) else sections()


def values(info: FieldInfo) -> st.SearchStrategy[Any]:
    """Return any value that the record of a field allows, whatever the rest of the design says."""
    assert info.record is not None
    if not info.many:
        return items(info.record, info.value_type, required=info.required)
    item_type = info.item_type
    item = items(info.record, item_type, required=True)
    if get_origin(item_type) is tuple:
        return st.dictionaries(item, item, min_size=1, max_size=6).map(
            lambda points: tuple(sorted(points.items()))
        )
    return st.lists(item, max_size=6).map(tuple)


ROWS = {
    f"{prefix}{info.name}": info.rows
    for prefix, cls in (("", Design), ("use.", Use))
    for info in fields_of(cls)
    if info.rows is not None
}
"""Path of each list of rows -> what its rows are."""


def rows(cls: type) -> st.SearchStrategy[Any]:
    return st.lists(st.builds(cls, **{info.name: values(info) for info in fields_of(cls)}), max_size=3).map(
        tuple
    )


@st.composite
def any_design(draw: Draw, most: int = 8) -> Design:
    """Return a wide design; every third one has up to `most` values and two lists of rows drawn without a
    look at the rest, and so contradicts itself as a rule.
    """
    design = draw(_whole_designs())
    for path, info, value in tuple(walk(design)):
        if value_problems(path, info, value):  # a file holds no other than its record allows
            design = with_value(design, path, draw(values(info)))
    if not draw(st.sampled_from((False, False, True))):
        return settled(design)
    plain = [(path, info) for path, info, _ in walk(design) if "[" not in path]
    for path, info in draw(st.lists(st.sampled_from(plain), max_size=most, unique_by=lambda one: one[0])):
        design = with_value(design, path, draw(values(info)))
    for path in draw(st.lists(st.sampled_from(sorted(ROWS)), max_size=2, unique=True)):
        design = with_value(design, path, draw(rows(ROWS[path])))
    return settled(design if design.sites else replace(design, sites=START.sites))


# One field changed
# --------------------------------------------------------------------------------------


@st.composite
def any_change(draw: Draw, design: Design) -> tuple[str, Any]:
    """Return (path, value): one field of a design that can be built, changed to another value that its record
    allows. Most of them leave it one that can be built.

    A path is a plain value's (`toe.kind`, `inner_leaf.rail_lanes_mm`, `sites[1].name`), or a list of rows
    (`handles`) of which one is dropped, or one moved to the end.
    """
    return change(FromHypothesis(draw), design)


def change(lots: Lots, design: Design) -> tuple[str, Any]:
    """Return what `any_change` does, from any lots."""
    lists = [path for path in sorted(ROWS) if len(value_at(design, path)) > (path == "sites")]
    if lists and lots.chance(8):
        path = lots.one(*lists)
        found = value_at(design, path)
        at = lots.whole(0, len(found) - 1)
        rest = (*found[:at], *found[at + 1 :])
        return path, (*rest, found[at]) if at < len(found) - 1 and lots.chance(50) else rest
    groups: dict[str, list[str]] = {}
    for path, info, value in walk(design):
        if not (info.many and not value) and (path != "use.rule_sets"):
            groups.setdefault(path.rpartition(".")[0], []).append(path)
    groups["use"].append("use.rule_sets")
    path = lots.one(*groups[lots.one(*groups)])
    info = info_of(path)
    assert info is not None
    return path, _other(lots, design, info, value_at(design, path))


def _other(lots: Lots, design: Design, info: FieldInfo, value: Any) -> Any:
    """Return another value of a field that its record allows, near the present one more often than not."""
    if isinstance(info.record, Words) and info.many:
        known = [one.key for one in builtin_rule_sets()]
        chosen = lots.one(*(key for key in known if key not in value))
        return (*value, chosen) if not value or lots.chance(50) else (*value[:-1], chosen)
    if not info.many:
        return _other_item(lots, design, info, value, info.value_type)
    at = lots.whole(0, len(value) - 1)
    item_type = info.item_type
    if get_origin(item_type) is tuple:
        axis = lots.one(1, 0)
        moved = _other_number(lots, info.record, value[at][axis], float)
        item = (moved, value[at][1]) if axis == 0 else (value[at][0], moved)
    else:
        item = _other_item(lots, design, info, value[at], item_type)
    return (*value[:at], item, *value[at + 1 :])


def _other_item(lots: Lots, design: Design, info: FieldInfo, value: Any, value_type: Any) -> Any:
    match info.record:
        case Dim():
            return _other_number(lots, info.record, value, value_type)
        case Choice():
            return lots.one(*(word for word, _ in info.record.options if word != value))
        case MaterialChoice():
            names = dict.fromkeys(one.name for one in (*design.materials, *materials()))
            return lots.one(*(name for name in names if name != value))
        case Switch():
            return not value
        case SectionChoice():
            return _other_section(lots, value)
        case _:
            longest = info.record.longest if isinstance(info.record, Words) else 0
            new = lots.name(lots.whole(10, 99), min(longest, 40))
            return new if new != value else f"{new[:-2]}9x"


def _other_number(lots: Lots, record: Any, value: float, value_type: Any) -> float:
    """Return a number near the present one or, one time in five, anywhere in the range."""
    low, high = (record.low, record.high)
    if value_type is int:
        return lots.one(*(number for number in range(int(low), int(high) + 1) if number != value))
    room = 0.1 * abs(value) + 2 * record.step
    if not lots.chance(20):
        low, high = max(low, value - room), min(high, value + room)
    step = record.step if value + record.step <= record.high else -record.step
    new = lots.number(low, high, value + step)
    return float(new if new != value else value + step)


def _other_section(lots: Lots, section: Section) -> Section:
    """Return the section a little deeper or wider, with another wall, or as another kind."""
    size = lots.one(1.0, 2.0, -1.0, 5.0)
    if section.kind in ("round", "tube"):
        both = max(section.depth_mm + size, 2 * section.wall_mm + 1, 0.5)
        if lots.chance(20):
            return Section(kind="flat", depth_mm=section.depth_mm, width_mm=section.width_mm)
        return replace(section, depth_mm=both, width_mm=both)
    name = lots.one("depth_mm", "width_mm", "kind")
    if name == "kind":
        kind = "flat" if section.kind != "flat" else "timber"
        return replace(section, kind=kind, wall_mm=0.0)
    new = min(max(getattr(section, name) + size, 2 * section.wall_mm + 1, 0.5), 1000.0)
    return replace(section, **{name: new if new != getattr(section, name) else new - 0.25})
