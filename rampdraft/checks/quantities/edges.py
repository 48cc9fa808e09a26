"""Quantities of the edge upstands: height, gaps, how far they reach."""

from rampdraft import figures
from rampdraft.checks.rules.rule import flap_length_mm
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged, on_whole
from rampdraft.geometry.members.member import OnLeaf
from rampdraft.model.design import Leaf
from rampdraft.prose import Lines, prose
from rampdraft.units import MM


def edge_height(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the height of each leaf's edge upstands above the running surface; 0 where there is none."""
    found: list[Finding] = []
    leaves: tuple[tuple[OnLeaf, Leaf], ...] = (
        ("inner", subjects.design.inner_leaf),
        ("outer", subjects.design.outer_leaf),
    )
    for body, leaf in leaves:
        height = leaf.upstand_height_mm
        found.append(
            Measured(
                key=f"{body}-leaf",
                subject=f"{body} leaf",
                leaf=body,
                value=height,
                working=prose(_height_lines, height),
                member=f"{body} edge upstand left" if height > 0 else "",
            )
        )
    return tuple(found)


def _height_lines(height: MM) -> Lines:
    return figures.given("edge upstand above the running surface", figures.mm(height))


def side_stop(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether both leaves have edge upstands."""
    heights = (subjects.design.inner_leaf.upstand_height_mm, subjects.design.outer_leaf.upstand_height_mm)
    return on_whole(float(min(heights) > 0), prose(_side_lines, *heights))


def _side_lines(inner: MM, outer: MM) -> Lines:
    numbers = f"{figures.mm(inner)} on the inner leaf, {figures.mm(outer)} on the outer leaf"
    held = "yes" if min(inner, outer) > 0 else "no"
    return figures.plain("side stop", "an edge upstand on both leaves", numbers, held)


def edge_end(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the length left without edge upstand at the ramp's deployed end, a toe flap included."""
    design, leaf = subjects.design, subjects.design.outer_leaf
    flap = flap_length_mm(design)
    short = leaf.upstand_end_gap_mm if leaf.upstand_height_mm > 0 else leaf.length_mm
    return (
        Measured(
            key="toe", part="toe", subject="toe", value=short + flap, working=prose(_end_lines, short, flap)
        ),
    )


def _end_lines(short: MM, flap: MM) -> Lines:
    return figures.plain(
        "free end",
        "leaf without upstand at the toe + toe flap",
        f"{figures.mm(short)} + {figures.mm(flap)}",
        figures.mm(short + flap),
    )


def edge_gap(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest gap between the edge upstands along the way: at the deck edge and at the joint."""
    inner, outer = subjects.design.inner_leaf, subjects.design.outer_leaf
    if min(inner.upstand_height_mm, outer.upstand_height_mm) <= 0:
        return (
            Unjudged(key="", subject="", why="A leaf has no edge upstands, so there is no gap between them."),
        )
    terms = (
        ("at the deck edge", inner.upstand_start_mm),
        ("at the joint", inner.upstand_end_gap_mm + outer.upstand_start_mm),
    )
    return on_whole(
        max(value for _, value in terms), prose(figures.greatest, "gap in the edge upstands", terms)
    )
