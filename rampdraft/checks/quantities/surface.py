"""Quantities of the running surface: widths, openings, separate tracks, edge upstands. Its leaves are
taken as lying straight on.
"""

from itertools import accumulate

from rampdraft.checks.result import Finding, Measured, Subjects, Unjudged, on_whole
from rampdraft.checks.rules.rule import flap_length_mm
from rampdraft.geometry.members.member import Body, Member, OnLeaf
from rampdraft.geometry.running_surface import (
    Gap,
    Stretch,
    bare_rails_mm,
    gaps,
    laid_straight,
    strips_mm,
    treads_at,
)
from rampdraft.model.design import Leaf
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import named, say

_LEAVES: tuple[Body, Body] = ("inner", "outer")

_SLIVER_MM = 10.0
"""A strip across no wider than this is none, as one beside a plate that stops just short of the edge of the
surface; smaller than any opening limit.
"""


def clear_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the clear width between edge upstands, limited by the opening."""
    terms = (*_widths(subjects), (say("opening"), subjects.design.carrier.opening_width_mm))
    return on_whole(min(value for _, value in terms), prose(figures.least, say("clear width"), terms))


def surface_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the width of the running surface of the narrower leaf."""
    terms = _widths(subjects)
    return on_whole(min(value for _, value in terms), prose(figures.least, say("surface width"), terms))


def opening(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest opening in the running surface along the way: between slats, across the joint, before
    a toe flap; and beyond the last slat, where nothing but rails goes on to the leaf's end.

    A stop bar as wide as the surface, a plate across the joint, closes what lies over it.
    """
    design = subjects.design
    found: dict[str, list[Gap]] = {}
    for gap in gaps(_widest_open(subjects)):
        found.setdefault(_place(gap, design.inner_leaf.length_mm), []).append(gap)
    widest = {place: greatest(of, lambda gap: gap.width_mm) for place, of in found.items()}
    terms = [(place, max(gap.width_mm, 0.0), gap.after.owner) for place, gap in widest.items()]
    if bare := bare_rails_mm(design):
        terms.append((say("beyond the last slat"), bare, subjects.members("outer", "slat")[-1].key))
    if not terms:
        return on_whole(0.0, prose(figures.given, say("opening"), say("none: one slat")))
    _, value, member = greatest(terms, lambda one: one[1])
    told = tuple((place, width) for place, width, _ in terms)
    return on_whole(value, prose(figures.greatest, say("opening"), told), member if value else "")


def _widest_open(subjects: Subjects) -> tuple[Stretch, ...]:
    """Return the treads of the leaves, laid straight on, in the strip across that opens widest; of equals the
    one with the fewest treads.
    """
    laid, assembly = laid_straight(subjects.design), subjects.assembly
    rows = treads_at(assembly, laid, strips_mm(assembly, _SLIVER_MM))
    held = [row for row in rows if any(one.kind == "slat" for one in row)]
    return greatest(sorted(held, key=len), _widest_mm)


def _widest_mm(row: tuple[Stretch, ...]) -> MM:
    """Return the width of the widest of the `gaps` between treads."""
    reached = accumulate((one.points[-1][0] for one in row), max)
    return max((one.points[0][0] - end for one, end in zip(row[1:], reached, strict=False)), default=0.0)


def _place(gap: Gap, joint_mm: MM) -> str:
    if gap.after.kind == "toe flap":
        return say("before the toe flap")
    if gap.after.points[0][0] <= joint_mm:
        return say("on the inner leaf")
    return say("on the outer leaf") if gap.before.points[-1][0] >= joint_mm else say("across the joint")


def tracks(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how many separate tracks the running surface has across: strips of slats with a gap between
    them.
    """
    counts = [(body, _strips(subjects.members(body, "slat"))) for body in _LEAVES]
    value = max(count for _, count in counts)
    return on_whole(value, prose(_counted, *counts))


def _counted(*counts: tuple[Body, int]) -> Lines:
    return figures.plain(
        say("separate tracks"),
        say("greatest count of strips of slats across"),
        ", ".join(f"{named(f'{body} leaf')} {count}" for body, count in counts),
        f"{max(count for _, count in counts)}",
    )


def spans_width(subjects: Subjects, bar: Member) -> bool:
    """Return whether a stop bar is as wide as the running surface: a plate rather than a bar."""
    half = min(value for _, value in _widths(subjects)) / 2
    return bar.y0_mm <= -half + _SLIVER_MM and bar.y1_mm >= half - _SLIVER_MM


def _widths(subjects: Subjects) -> tuple[tuple[str, MM], ...]:
    return (say("inner leaf"), subjects.design.inner_leaf.width_mm), (
        say("outer leaf"),
        subjects.design.outer_leaf.width_mm,
    )


def _strips(slats: tuple[Member, ...]) -> int:
    end, count = float("-inf"), 0
    for y0, y1 in sorted((slat.y0_mm, slat.y1_mm) for slat in slats):
        count += y0 > end
        end = max(end, y1)
    return count


def edge_height(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the height of each leaf's edge upstands above the running surface; 0 where there is none."""
    leaves: tuple[tuple[OnLeaf, Leaf], ...] = (
        ("inner", subjects.design.inner_leaf),
        ("outer", subjects.design.outer_leaf),
    )
    return tuple(
        Measured(
            key=f"{body}-leaf",
            subject=named(f"{body} leaf"),
            leaf=body,
            value=leaf.upstand_height_mm,
            working=prose(_height_lines, leaf.upstand_height_mm),
            member=f"{body} edge upstand left" if leaf.upstand_height_mm > 0 else "",
        )
        for body, leaf in leaves
    )


def _height_lines(height: MM) -> Lines:
    return figures.given(say("edge upstand above the running surface"), figures.mm(height))


def side_stop(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether both leaves have edge upstands."""
    heights = (subjects.design.inner_leaf.upstand_height_mm, subjects.design.outer_leaf.upstand_height_mm)
    return on_whole(float(min(heights) > 0), prose(_side_lines, *heights))


def _side_lines(inner: MM, outer: MM) -> Lines:
    numbers = say(
        "{inner} on the inner leaf, {outer} on the outer leaf",
        inner=figures.mm(inner),
        outer=figures.mm(outer),
    )
    held = say("yes" if min(inner, outer) > 0 else "no")
    return figures.plain(say("side stop"), say("an edge upstand on both leaves"), numbers, held)


def edge_end(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the length left without edge upstand at the ramp's deployed end, a toe flap included."""
    design, leaf = subjects.design, subjects.design.outer_leaf
    flap = flap_length_mm(design)
    short = leaf.upstand_end_gap_mm if leaf.upstand_height_mm > 0 else leaf.length_mm
    return (
        Measured(
            key="toe",
            part="toe",
            subject=say("toe"),
            value=short + flap,
            working=prose(_end_lines, short, flap),
        ),
    )


def _end_lines(short: MM, flap: MM) -> Lines:
    return figures.plain(
        say("free end"),
        say("leaf without upstand at the toe + toe flap"),
        f"{figures.mm(short)} + {figures.mm(flap)}",
        figures.mm(short + flap),
    )


def edge_gap(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest gap between the edge upstands along the way: at the deck edge and at the joint."""
    inner, outer = subjects.design.inner_leaf, subjects.design.outer_leaf
    if min(inner.upstand_height_mm, outer.upstand_height_mm) <= 0:
        return (
            Unjudged(
                key="", subject="", why=say("A leaf has no edge upstands, so there is no gap between them.")
            ),
        )
    terms = (
        (say("at the deck edge"), inner.upstand_start_mm),
        (say("at the joint"), inner.upstand_end_gap_mm + outer.upstand_start_mm),
    )
    return on_whole(
        max(value for _, value in terms), prose(figures.greatest, say("gap in the edge upstands"), terms)
    )
