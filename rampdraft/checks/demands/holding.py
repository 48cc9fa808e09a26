"""Whether every member is held by something, and no two members of a leaf are in one place."""

from collections.abc import Iterator
from typing import Final, Literal, get_args

from rampdraft.checks.demands.road import PRACTICE
from rampdraft.checks.result import Check, Demand, Measured, Source, Subjects, compose
from rampdraft.geometry.attached import Through, Touch
from rampdraft.geometry.members.latches import latch_line_mm
from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.geometry.members.member import OnLeaf, Role
from rampdraft.model.catalogue import material_named, screw_through
from rampdraft.model.design import Design, Leaf
from rampdraft.rounding import greatest
from rampdraft.strength.formula import Formula, Symbol, Worked
from rampdraft.units import MM
from rampdraft.words.figures import mm
from rampdraft.words.prose import Lines, Prose, prose
from rampdraft.words.say import named, say

WELDED: Final = Source(
    rule_set="own",
    title="Length of a weld",
    clause="EN 1993-1-8, 4.5.1(2)",
    publication="EN 1993-1-8: a fillet weld carries from 30 mm and six throats on (from memory)",
)
SCREWED: Final = Source(
    rule_set="own",
    title="End distance of a screw",
    clause="EN 1993-1-8, table 3.3",
    publication="EN 1993-1-8: 1.2 holes from the middle of a hole to an end (from memory)",
)

Leafs = Literal["inner", "outer"]
SHORTEST_MM: Final = 30.0
"""No shorter weld carries: EN 1993-1-8, 4.5.1(2), from memory."""
FITS_MM: Final = 0.5
"""So much two members may be in one another's place: a file takes it off, common practice."""
HALF: Final = 0.5
"""What part of a slat that is welded has to lie on each rail: common practice."""
THROATS: Final = Formula(6 * Symbol("a", mm), mm, WELDED.clause)
END: Final = Formula(1.2 * Symbol("d0", mm), mm, SCREWED.clause)
TIMBER_END: Final = Formula(5 * Symbol("d", mm), mm)
"""A screw from the end of a timber rail that is drilled for it: common practice."""
OFF: Final = Formula(Symbol("z", mm) - Symbol("s", mm), mm)
"""Of a line at z over the nearest place s of what bears there."""
ROW: Final = Formula(Symbol("r", mm) - Symbol("o", mm), mm)
"""A row of screws r from the edge of a slat that stands out o over the rail's end."""

_PARTS: Final[dict[str, str]] = {
    "cross member": "cross",
    "slat": "slats",
    "edge upstand": "upstands",
    "stop bar": "stop",
    "latch": "latch",
    "latch hook": "latch-hook",
}
_FOREMOST: Final[tuple[Role, ...]] = (
    "latch",
    "latch hook",
    "stop bar",
    "toe flap",
    "knuckle",
    "pin",
    "washer",
)
"""Of two in one place, the one that is moved: the first of these."""


def holding_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield how much of each family of members touches what carries it, and how deep members of a leaf are in
    one another.
    """
    design, found = subjects.design, subjects.attached
    for touch in found.touches:
        yield _slat(design, touch) if touch.kin.role == "slat" else _edge(design, touch)
    if design.hold_down.latch:
        yield from (_pulls(design, leaf) for leaf in get_args(Leafs))
    for leaf in ("inner", "outer"):
        yield _through(leaf, tuple(one for one in found.through if one.kins[0].body == leaf))


def _leaf(touch: Touch) -> OnLeaf:
    return "outer" if touch.kin.body == "outer" else "inner"


def _found(touch: Touch, value: MM, working: Prose, why: str, text: str = "") -> Measured:
    leaf, kin = _leaf(touch), touch.kin
    part = f"{leaf}-{_PARTS.get(kin.role, f'{kin.hinge}-{kin.role}s')}"
    return Measured(
        key=part,
        part=part,
        leaf=leaf,
        subject=say(" ".join(kin.words) + ("es" if kin.role == "latch" else "s")),
        value=value,
        working=working,
        text=text,
        why=why,
        member=touch.member,
    )


def _edge(design: Design, touch: Touch) -> Check:
    """Return whether enough of a member's edge lies on what carries it for a weld; air counts negative."""
    throats = THROATS.of(design.joining.weld_throat_mm)
    needed = max(SHORTEST_MM, throats.value)
    why = ""
    if touch.gap_mm:
        why = say("Nothing holds it: there are {gap} of air between it and the rail.", gap=mm(touch.gap_mm))
    elif not touch.touches_mm:
        why = say("Nothing holds it: it touches nothing that a weld would find hold on.")
    lines = prose(_edge_lines, touch, throats, needed)
    air = say("{gap} of air", gap=mm(touch.gap_mm)) if touch.gap_mm else ""
    return compose(
        Demand.own(
            "attached", say("Edge that lies on what carries it"), "at least", "mm", needed, mm(needed), WELDED
        ),
        _found(touch, touch.touches_mm - touch.gap_mm, lines, why, air),
    )


def _edge_lines(touch: Touch, throats: Worked, needed: MM) -> Lines:
    return (
        say("{member}, carried by {carrier}", member=named(touch.member), carrier=named(touch.carrier)),
        say("edge that lies on it, for a weld = {touches}", touches=mm(touch.touches_mm)),
        *((say("air between them = {gap}", gap=mm(touch.gap_mm)),) if touch.gap_mm else ()),
        say(
            "needed: {shortest} or {line}, whichever is more = {needed}",
            shortest=mm(SHORTEST_MM),
            line=throats.line,
            needed=mm(needed),
        ),
    )


def _slat(design: Design, touch: Touch) -> Check:
    """Return whether a slat's screws find hold in each rail, or enough of it lies there for a weld."""
    leaf = design.outer_leaf if _leaf(touch) == "outer" else design.inner_leaf
    hole = design.workshop.slat_screw_mm
    if not hole:
        needed = HALF * leaf.slat_width_mm
        title, text = say("Slats lie on the rails"), say("{needed}, half of the slat", needed=mm(needed))
        lines = prose(_lying_lines, touch, leaf.slat_width_mm)
        demand = Demand.own("attached", title, "at least", "mm", needed, text, PRACTICE)
        return compose(demand, _found(touch, touch.touches_mm, lines, _hangs(touch)))
    timber = material_named(design, design.made_of.rails).kind == "timber"
    end = TIMBER_END.of(screw_through(hole, "timber").diameter_mm) if timber else END.of(hole)
    row = ROW.of(_row_mm(leaf), touch.over_mm)
    demand = Demand.own(
        "attached",
        say("Slat screws from the end of a rail"),
        "at least",
        "mm",
        end.value,
        mm(end.value),
        PRACTICE if timber else SCREWED,
    )
    lines = prose(_row_lines, touch, row, end)
    return compose(demand, _found(touch, row.value, lines, _hangs(touch)))


def _row_mm(leaf: Leaf) -> MM:
    """Return how far the outer row of screws is from the edge of a slat."""
    return leaf.slat_width_mm / (4 if leaf.slat_width_mm >= TWO_SCREWS_FROM_MM else 2)


def _hangs(touch: Touch) -> str:
    return "" if touch.touches_mm else say("Nothing holds it: it lies beyond the end of the rail.")


def _lying_lines(touch: Touch, width: MM) -> Lines:
    return (
        say(
            "{member}, {width} wide, carried by {carrier}",
            member=named(touch.member),
            width=mm(width),
            carrier=named(touch.carrier),
        ),
        say("of its width lies on the rail: {touches}", touches=mm(touch.touches_mm)),
    )


def _row_lines(touch: Touch, row: Worked, end: Worked) -> Lines:
    return (
        say(
            "{member} stands out over the end of {carrier}, o = {over}"
            if touch.over_mm > 0
            else "{member} ends before the end of {carrier}, o = {over}",
            member=named(touch.member),
            carrier=named(touch.carrier),
            over=mm(touch.over_mm),
        ),
        say("r: of the outer screws from the edge of the slat"),
        say("screws from the end of the rail: {line}", line=row.line),
        say("needed: {line}", line=end.line),
    )


def _pulls(design: Design, leaf: Leafs) -> Check:
    """Return whether the latch across the joint, or its hook, is high enough on its rail, or low enough, for
    the line that it pulls along.
    """
    depth = (design.inner_leaf if leaf == "inner" else design.outer_leaf).rail_section.depth_mm
    line = latch_line_mm(design)
    miss = OFF.of(line, min(max(line, -depth), 0.0))
    what = "latch" if leaf == "inner" else "latch hook"
    finding = Measured(
        key=leaf,
        part=leaf,
        leaf=leaf,
        subject=named(f"{leaf} {what}"),
        value=abs(miss.value),
        working=prose(_pull_lines, miss, depth),
        why="" if not miss.value else say("Nothing is there for it to be fixed to at that height."),
        member=f"{leaf} {what} 1",
    )
    title = say("Line of the latch off the side of its rail")
    return compose(Demand.own("latch-line", title, "at most", "mm", FITS_MM, mm(FITS_MM), PRACTICE), finding)


def _pull_lines(miss: Worked, depth: MM) -> Lines:
    return (
        say(
            "z: height of the line that it pulls along, the joint's centre and its arm together;"
            " from the top of the rails"
        ),
        say(
            "s: of the nearest place on the side of the rail, which reaches from {least} to {most}",
            least=mm(-depth),
            most=mm(0.0),
        ),
        say("off it by {line}", line=miss.line),
    )


def _through(leaf: OnLeaf, found: tuple[Through, ...]) -> Check:
    """Return how deep two members of a leaf are in one another."""
    demand = Demand.own(
        "through", say("Members of a leaf in one place"), "at most", "mm", FITS_MM, mm(FITS_MM), PRACTICE
    )
    subject, part, member, depth, why = named(f"{leaf} leaf"), "", "", 0.0, ""
    if found:
        worst = greatest(found, lambda one: one.depth_mm)
        roles = [kin.role for kin in worst.kins]
        moved = next((role for role in _FOREMOST if role in roles), roles[1])
        part, depth = moved.replace(" ", "-"), worst.depth_mm
        member = worst.members[roles.index(moved)]
        if depth > FITS_MM:
            why = say(
                "{one} and {other} pass through each other.",
                one=named(worst.members[0]),
                other=named(worst.members[1]),
            )
    return compose(
        demand,
        Measured(
            key=leaf,
            part=part,
            leaf=leaf,
            subject=subject,
            value=depth,
            working=prose(_through_lines, found),
            why=why,
            member=member,
        ),
    )


def _through_lines(found: tuple[Through, ...]) -> Lines:
    if not found:
        return (
            say("no two members have any room in common; what is bored or coped for the other is left out"),
        )
    return tuple(
        say(
            "{one} and {other} have in common: along x high x across = {sizes}; the least is {depth}",
            one=named(one.members[0]),
            other=named(one.members[1]),
            sizes=" x ".join(map(mm, one.sizes_mm)),
            depth=mm(one.depth_mm),
        )
        for one in found
    )
