"""Quantities of the running surface: widths, openings, separate tracks. Its leaves are taken as lying
straight on.
"""

from rampdraft import figures
from rampdraft.checks.subjects import Finding, Subjects, on_whole
from rampdraft.geometry.members.member import Body, Member
from rampdraft.geometry.running_surface import Gap, Stretch, gaps, laid_straight, strips_mm, treads_at
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest
from rampdraft.units import MM

_LEAVES: tuple[Body, Body] = ("inner", "outer")

_SLIVER_MM = 10.0
"""A strip across no wider than this is none, as one beside a plate that stops just short of the edge of the
surface; smaller than any opening limit.
"""


def clear_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the clear width between edge upstands, limited by the opening."""
    terms = (*_widths(subjects), ("opening", subjects.design.carrier.opening_width_mm))
    return on_whole(min(value for _, value in terms), prose(figures.least, "clear width", terms))


def surface_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the width of the running surface of the narrower leaf."""
    terms = _widths(subjects)
    return on_whole(min(value for _, value in terms), prose(figures.least, "surface width", terms))


def opening(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest opening in the running surface along the way: between slats, across the joint, before
    a toe flap.

    A stop bar as wide as the surface, a plate across the joint, closes what lies over it.
    """
    found: dict[str, list[Gap]] = {}
    for gap in gaps(_widest_open(subjects)):
        found.setdefault(_place(gap, subjects.design.inner_leaf.length_mm), []).append(gap)
    if not found:
        return on_whole(0.0, prose(figures.given, "opening", "none: one slat"))
    widest = [(place, greatest(of, lambda gap: gap.width_mm)) for place, of in found.items()]
    terms = tuple((place, max(gap.width_mm, 0.0)) for place, gap in widest)
    _, most = greatest(widest, lambda one: one[1].width_mm)
    value = max(most.width_mm, 0.0)
    return on_whole(value, prose(figures.greatest, "opening", terms), most.after.owner if value else "")


def _widest_open(subjects: Subjects) -> tuple[Stretch, ...]:
    """Return the treads of the leaves, laid straight on, in the strip across that opens widest; of equals the
    one with the fewest treads.
    """
    laid, assembly = laid_straight(subjects.design), subjects.assembly
    rows = dict.fromkeys(treads_at(assembly, laid, strips_mm(assembly, _SLIVER_MM)))
    held = [row for row in rows if any(one.kind == "slat" for one in row)]
    return greatest(sorted(held, key=len), lambda row: max((gap.width_mm for gap in gaps(row)), default=0.0))


def _place(gap: Gap, joint_mm: MM) -> str:
    if gap.after.kind == "toe flap":
        return "before the toe flap"
    if gap.after.points[0][0] <= joint_mm:
        return "on the inner leaf"
    return "on the outer leaf" if gap.before.points[-1][0] >= joint_mm else "across the joint"


def tracks(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how many separate tracks the running surface has across: strips of slats with a gap between
    them.
    """
    counts = [(body, _strips(subjects.members(body, "slat"))) for body in _LEAVES]
    value = max(count for _, count in counts)
    return on_whole(value, prose(_counted, *counts))


def _counted(*counts: tuple[Body, int]) -> Lines:
    return figures.plain(
        "separate tracks",
        "greatest count of strips of slats across",
        ", ".join(f"{body} leaf {count}" for body, count in counts),
        f"{max(count for _, count in counts)}",
    )


def spans_width(subjects: Subjects, bar: Member) -> bool:
    """Return whether a stop bar is as wide as the running surface: a plate rather than a bar."""
    half = min(value for _, value in _widths(subjects)) / 2
    return bar.y0_mm <= -half + _SLIVER_MM and bar.y1_mm >= half - _SLIVER_MM


def _widths(subjects: Subjects) -> tuple[tuple[str, MM], ...]:
    return ("inner leaf", subjects.design.inner_leaf.width_mm), (
        "outer leaf",
        subjects.design.outer_leaf.width_mm,
    )


def _strips(slats: tuple[Member, ...]) -> int:
    end, count = float("-inf"), 0
    for y0, y1 in sorted((slat.y0_mm, slat.y1_mm) for slat in slats):
        count += y0 > end
        end = max(end, y1)
    return count
