"""Whether a design can be built at all: each value by its record, and the values with one another.

Each value may be allowed alone, and the ramp still cannot be built. A ramp that can be built but is too
steep, clashes or folds under its load gets that said by its checks. The rules are plain geometry of the
parts; none is a limit from a standard.
"""

from collections.abc import Callable, Iterable, Iterator
from collections.abc import Set as AbstractSet
from functools import partial
from itertools import pairwise
from typing import Final

from rampdraft.errors import DesignError, Problem
from rampdraft.geometry.buildable.bounds import WORK
from rampdraft.geometry.buildable.fold import assist, handles, obstacles, stop_bars, stop_bears, stows
from rampdraft.geometry.buildable.leaves import (
    clear_of_copes,
    cross_depth,
    cross_members,
    deck_lanes,
    joint_lanes,
    opening,
    pin,
    pins_clear,
    rails,
    slats,
    upstands,
)
from rampdraft.geometry.lanes import TOUCH_MM
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.geometry.members.leaves import HOLE_SHARE
from rampdraft.geometry.members.prop_holes import PIN_ROOM_MM
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Design, Leaf
from rampdraft.model.fields.paths import fields_of, value_at, walk
from rampdraft.model.fields.values import did_you_mean, value_problems, wrong
from rampdraft.model.rolling_shape import LEAST_RADIUS_MM
from rampdraft.units import MM
from rampdraft.words.figures import exact, mm
from rampdraft.words.say import say

Rule = Callable[[Design], Iterable[Problem]]


def _carrier(design: Design) -> Iterator[Problem]:
    carrier = design.carrier
    if carrier.end_depth_mm < carrier.deck_thickness_mm:
        yield wrong(
            design,
            "carrier.end_depth_mm",
            say(
                "is less than the deck thickness of {thickness}, which is part of it",
                thickness=mm(carrier.deck_thickness_mm),
            ),
            say("measure it from the deck surface down"),
        )
    if carrier.deck_drop_mm >= carrier.deck_height_mm:
        yield wrong(
            design,
            "carrier.deck_drop_mm",
            say("sinks the loaded deck edge into the ground"),
            say("measure it again"),
        )


def _deck_hinge_height(design: Design) -> Iterator[Problem]:
    loaded = edge_height_mm(design, design.carrier.deck_drop_mm)
    if 0 < loaded <= design.deck_hinge.below_mm:
        yield wrong(
            design,
            "deck_hinge.below_mm",
            say(
                "puts the hinge centre into the ground: the loaded deck edge is {height} above it",
                height=mm(loaded),
            ),
            say("raise the hinge centre"),
        )


def _cargo(design: Design) -> Iterator[Problem]:
    """Only where supports are described does it matter where the cargo lies."""
    body, length = design.carrier_body, design.carrier.deck_length_mm
    if design.supports and body.cargo_kg and not 0 <= body.cargo_back_mm <= length:
        yield wrong(
            design,
            "carrier_body.cargo_back_mm",
            say("puts the cargo off the deck, which runs back {length} from its edge", length=mm(length)),
            say("measure it from the deck edge"),
        )


def _prop(design: Design) -> Iterator[Problem]:
    prop = design.prop
    if prop.fitted and prop.shortest_mm > prop.longest_mm:
        yield wrong(
            design,
            "prop.shortest_mm",
            say("is more than the longest setting of {longest}", longest=mm(prop.longest_mm)),
            say("swap the two"),
        )
    side, hole = min(prop.section.depth_mm, prop.section.width_mm), prop.pin_diameter_mm + PIN_ROOM_MM
    if prop.fitted and prop.pin_diameter_mm and hole > HOLE_SHARE * side:
        yield wrong(
            design,
            "prop.pin_diameter_mm",
            say(
                "needs a hole of {hole}, which leaves too little of a prop {side} thick",
                hole=exact(hole, "mm"),
                side=exact(side, "mm"),
            ),
            say("a thinner pin, or a stouter prop"),
        )


def _bridge(design: Design) -> Iterator[Problem]:
    bridge = design.bridge
    if bridge.fitted and bridge.over_deck_mm >= bridge.length_mm:
        yield wrong(
            design,
            "bridge.over_deck_mm",
            say(
                "is not less than the plate's length of {length}: nothing reaches the ramp",
                length=mm(bridge.length_mm),
            ),
            say("lengthen the plate or lay less of it on the deck"),
        )


def _taper(design: Design) -> Iterator[Problem]:
    toe, leaf = design.toe, design.outer_leaf
    if toe.kind != "taper":
        return
    depth = leaf.rail_section.depth_mm
    if toe.thickness_mm >= depth:
        yield wrong(
            design,
            "toe.thickness_mm",
            say(
                "is not less than the depth of the outer leaf's rails ({depth}): no taper is left",
                depth=mm(depth),
            ),
            say("make it thinner, or choose a plain toe"),
        )
    start = leaf.length_mm - toe.length_mm
    least = design.joint.knuckle_diameter_mm / 2 + design.joint.running_clearance_mm
    if start <= least:
        yield wrong(
            design,
            "toe.length_mm",
            say("tapers the rails all the way into the joint"),
            say("make it less than {most}", most=mm(leaf.length_mm - least)),
        )
        return
    half = leaf.cross_section.width_mm / 2
    for number, at in enumerate(leaf.cross_positions_mm, start=1):
        if leaf.cross_fitting != "between" and at + half > start + TOUCH_MM:
            yield wrong(
                design,
                f"outer_leaf.cross_positions_mm[{number}]",
                say(
                    "sets a cross member on the taper of the rails, which begins at {place}", place=mm(start)
                ),
                say("make it at most {most}", most=mm(start - half)),
            )


def _sites(design: Design) -> Iterator[Problem]:
    if not design.sites:
        yield Problem(
            key="sites",
            value="",
            rule=say("must have at least one site"),
            way_out=say("add a place where the ramp is used"),
        )
    for number, site in enumerate(design.sites, start=1):
        yield from _ground(design, f"sites[{number}].ground_mm", site.ground_mm)


def _ground(design: Design, key: str, points: tuple[tuple[MM, MM], ...]) -> Iterator[Problem]:
    """The ground goes outward, and up or down at a kerb: each x has one height, or the two of a kerb."""
    if not points:
        yield wrong(design, key, say("must have at least one point"), say("[[0, 0]] is level ground"))
    for number, (before, after) in enumerate(pairwise(points), start=2):
        if after[0] < before[0]:
            rule, way_out = (
                say("goes back: x must not be less than that of the point before"),
                say("sort the points by x"),
            )
        elif after == before:
            rule, way_out = say("is the same as the point before"), say("delete one of them")
        elif number > 2 and after[0] == before[0] == points[number - 3][0]:
            rule, way_out = (
                say("is a third point at the same x"),
                say("a kerb needs two: its foot and its top"),
            )
        else:
            continue
        yield wrong(design, f"{key}[{number}]", rule, way_out)


def _named_rows(cls: type = Design, prefix: str = "") -> Iterator[str]:
    """Yield the dotted path of every list of rows that have names, by which people tell them apart."""
    for info in fields_of(cls):
        if info.rows is not None and any(field.name == "name" for field in fields_of(info.rows)):
            yield f"{prefix}{info.name}"
        elif info.group is not None:
            yield from _named_rows(info.group, f"{prefix}{info.name}.")


def _twice(design: Design, group: str) -> Iterator[Problem]:
    seen: dict[str, int] = {}
    for number, row in enumerate(value_at(design, group), start=1):
        first = seen.setdefault(row.name, number)
        if first != number:
            yield wrong(
                design,
                f"{group}[{number}].name",
                say("is the name of row {number} too", number=first),
                say("give it another name"),
            )


def _rule_sets(design: Design) -> Iterator[Problem]:
    names = design.use.rule_sets
    for number, name in enumerate(names, start=1):
        if name in names[: number - 1]:
            yield wrong(design, f"use.rule_sets[{number}]", say("is named twice"), say("delete one of them"))


def _axles(design: Design) -> Iterator[Problem]:
    """A middle axle stands between the outer two, and all three together carry the user."""
    for number, user in enumerate(design.use.users, start=1):
        if not user.middle_share_percent:
            continue
        key, both = f"use.users[{number}]", user.front_share_percent + user.middle_share_percent
        if both > 100:
            share = user.front_share_percent
            rule = say("is more than the front axle, with {share}, leaves", share=exact(share, "%"))
            way_out = say("make it at most {most}", most=exact(100 - share))
            yield wrong(design, f"{key}.middle_share_percent", rule, way_out)
        if not 0 < user.middle_behind_mm < user.wheelbase_mm:
            rule = say(
                "does not lie between the outer axles, which are {apart} apart",
                apart=mm(user.wheelbase_mm),
            )
            yield wrong(design, f"{key}.middle_behind_mm", rule, say("measure it from the front axle back"))


def _wheels(design: Design) -> Iterator[Problem]:
    """A wheel has a radius, or is as its class has it."""
    for number in range(1, len(design.use.users) + 1):
        for axle in ("front", "middle", "rear"):
            key = f"use.users[{number}].{axle}_radius_mm"
            if 0 < value_at(design, key) < LEAST_RADIUS_MM:
                rule = say("is no wheel: the least radius is {least}", least=mm(LEAST_RADIUS_MM))
                way_out = say("measure half its diameter, or leave it at 0 for its class")
                yield wrong(design, key, rule, way_out)


def _materials(design: Design) -> Iterator[Problem]:
    known = [material.name for material in (*design.materials, *materials())]
    keys = [f"made_of.{family}" for family in ("rails", "cross_members", "slats", "upstands", "fittings")]
    keys += [f"stock[{number}].material" for number in range(1, len(design.stock) + 1)]
    for key in keys:
        name: str = value_at(design, key)
        if name not in known:
            yield wrong(design, key, say("is no known material"), did_you_mean(name, known))


def _of_leaf(
    rule: Callable[[Design, Leaf, str], Iterator[Problem]], name: str, design: Design
) -> Iterator[Problem]:
    return rule(design, value_at(design, name), name)


_LEAVES: Final = ("inner_leaf", "outer_leaf")
_BOTH: Final = ("inner_leaf", "outer_leaf", "joint")

RULES: Final[tuple[tuple[tuple[str, ...], Rule], ...]] = (
    (("carrier",), _carrier),
    (("carrier", "deck_hinge"), _deck_hinge_height),
    *(
        ((name,), partial(_of_leaf, rule, name))
        for name in _LEAVES
        for rule in (cross_members, cross_depth, slats, upstands)
    ),
    *(((name, "rails"), partial(_of_leaf, rails, name)) for name in _LEAVES),
    *((("carrier", name), partial(_of_leaf, opening, name)) for name in _LEAVES),
    *(((hinge,), partial(pin, hinge)) for hinge in ("deck_hinge", "joint")),
    (("inner_leaf", "deck_hinge"), deck_lanes),
    ((*_BOTH, "rails"), joint_lanes),
    ((*_BOTH, "rails"), pins_clear),
    ((*_BOTH, "deck_hinge"), clear_of_copes),
    ((*_BOTH, "deck_hinge", "carrier", "fold", "toe"), stows),
    (("inner_leaf", "outer_leaf", "fold", "stop"), stop_bars),
    ((*_BOTH, "fold", "stop"), stop_bears),
    (("prop",), _prop),
    (("bridge",), _bridge),
    (("outer_leaf", "joint", "toe"), _taper),
    (("sites",), _sites),
    (("obstacles",), obstacles),
    (("handles", "inner_leaf", "outer_leaf", "toe"), handles),
    (("assist", "deck_hinge"), assist),
    (("carrier", "carrier_body", "supports"), _cargo),
    *(((group.partition(".")[0],), partial(_twice, group=group)) for group in _named_rows()),
    (("use",), _rule_sets),
    (("use",), _axles),
    (("use",), _wheels),
    (("materials", "made_of", "stock"), _materials),
    *WORK,
)
"""(groups of the design that a rule reads, rule)."""


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
        for path, info, value in walk(design, but=same)
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
        raise DesignError(say("The design cannot be built."), problems)
