"""Strategies for designs of any shape that the field records allow, consistent or not."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any, get_args, get_origin

from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.model.design import Design, FoldStage, Material, Site, Stock, Support, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, Record, SectionChoice, Switch, Words
from rampdraft.model.fields.walk import FieldInfo, fields_of, is_many, walk
from rampdraft.model.section import Section

LETTERS = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"))
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


def words(longest: int, *, lines: bool, blank: bool) -> st.SearchStrategy[str]:
    text = st.text(
        LETTERS | st.sampled_from("\\\"'#[]={}") | st.sampled_from("\n\t" if lines else " "), max_size=longest
    )
    return text if blank else text.filter(lambda some: some.strip())


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
    assert info.record is not None
    if not is_many(info):
        return items(info.record, info.value_type, required=info.required)
    item_type = get_args(info.value_type)[0]
    item = items(info.record, item_type, required=True)
    if get_origin(item_type) is tuple:
        return st.dictionaries(item, item, min_size=1, max_size=6).map(
            lambda points: tuple(sorted(points.items()))
        )
    return st.lists(item, max_size=6).map(tuple)


def rows(cls: type) -> st.SearchStrategy[Any]:
    return st.lists(st.builds(cls, **{info.name: values(info) for info in fields_of(cls)}), max_size=3).map(
        tuple
    )


START = timber_ramp()
PLAIN = [(path, info) for path, info, _ in walk(START) if "[" not in path]
ROWS = {
    "sites": Site,
    "fold_stages": FoldStage,
    "materials": Material,
    "stock": Stock,
    "supports": Support,
    "use.users": WheeledUser,
}


@st.composite
def designs(draw: Callable[[st.SearchStrategy[Any]], Any], most: int = 8) -> Design:
    """Return the starter with up to `most` values and two lists of rows made anew."""
    design = START
    for path, info in draw(st.lists(st.sampled_from(PLAIN), max_size=most, unique_by=lambda one: one[0])):
        design = with_value(design, path, draw(values(info)))
    for path in draw(st.lists(st.sampled_from(sorted(ROWS)), max_size=2, unique=True)):
        design = with_value(design, path, draw(rows(ROWS[path])))
    return design if design.sites else replace(design, sites=START.sites)
