"""Where a value shows on a drawing: its own dimension, or the members that it makes; and a small picture of
that place.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from rampdraft.drawing.ink import Ink, Label, Path, Picture
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.side import standing_view
from rampdraft.drawing.users.measured import measured_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.member import Member
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

_LEAF: Final[dict[str, tuple[str, ...]]] = {
    "rail": ("rail",),
    "knuckle": ("knuckle",),
    "cross": ("cross member",),
    "half": ("cross member",),
    "slat": ("slat",),
    "slats": ("slat",),
    "upstand": ("edge upstand",),
    "upstands": ("edge upstand",),
}
"""Roles of a leaf's members by the first word of a value's name."""
_GROUP: Final[dict[str, tuple[str, ...]]] = {
    "rails": ("rail",),
    "stop": ("stop bar",),
    "toe": ("toe flap", "taper plate"),
    "bridge": ("bridge plate", "bridge strip"),
    "hold_down": ("latch", "latch hook"),
    "prop": ("prop", "prop foot"),
}
"""Roles of the members that a group of values makes."""
_HINGE: Final = {"deck_hinge": "deck", "joint": "joint"}
_USER: Final = re.compile(r"use\.users\[(\d+)\]")
AIR: Final = 0.35
"""Of the lit place's size, around it."""
LEAST: Final = 0.22
"""Of the whole view's width, the least that a small picture shows."""


def lit_by(path: str, members: Iterable[Member]) -> frozenset[str]:
    """Return the owners of the marks that a value shows by: its dimension, and the members it makes."""
    group, _, name = path.partition(".")
    return frozenset((path, *(one.key for one in members if _made_by(group, name.split("_")[0], one))))


def _made_by(group: str, word: str, member: Member) -> bool:
    if group in ("inner_leaf", "outer_leaf"):
        return member.body == group.removesuffix("_leaf") and member.role in _LEAF.get(word, ())
    if group in _HINGE:
        return member.tag.hinge == _HINGE[group]
    return member.role in _GROUP.get(group, ())


def place_of(path: str, evaluation: Evaluation, per_mm: MM) -> tuple[Picture, frozenset[str]] | None:
    """Return a picture of the place where a value shows, with the owners to be lit there; None where it shows
    nowhere. `per_mm`: see `dimension`.
    """
    lit = lit_by(path, evaluation.assembly.members)
    user = _USER.match(path)
    if user is not None:
        number = int(user[1])
        view = measured_view(evaluation.design.use.users[number - 1], user[0], per_mm)
        return (view, lit) if any(mark.owner == path for mark in view.marks) else None
    views = (standing_view(evaluation, evaluation.sites[0], per_mm), plan_view(evaluation, per_mm=per_mm))
    own = next((view for view in views if any(mark.owner == path for mark in view.marks)), None)
    for view in (own,) if own is not None else views:
        places = [point for mark in view.marks if mark.owner in lit for point in _points(mark)]
        if places:
            marks = tuple(mark for mark in view.marks if mark.owner in lit or _is_ramp(mark))
            return replace(view, marks=marks, box=_around(places, view.box)), lit
    return None


def _is_ramp(mark: Ink) -> bool:
    """Return whether a mark is of the ramp or what is round it: a small picture has no room for others'
    dimensions.
    """
    return isinstance(mark, Path) and mark.pen not in ("dimension", "centre")


def _points(mark: Ink) -> tuple[Point, ...]:
    return (mark.at,) if isinstance(mark, Label) else tuple((x, y) for x, y, _ in mark.vertices)


def _around(places: list[Point], whole: tuple[MM, MM, MM, MM]) -> tuple[MM, MM, MM, MM]:
    """Return the part of a view round the lit places, with air, inside the whole."""
    xs, ys = [x for x, _ in places], [y for _, y in places]
    x0, x1, y0, y1 = min(xs), max(xs), min(ys), max(ys)
    wide = max((1 + 2 * AIR) * max(x1 - x0, y1 - y0), LEAST * (whole[2] - whole[0]))
    middle_x, middle_y = (x0 + x1) / 2, (y0 + y1) / 2
    high = max((1 + AIR) * (y1 - y0), 0.2 * wide)
    return (middle_x - wide / 2, middle_y - high / 2, middle_x + wide / 2, middle_y + high / 2)
