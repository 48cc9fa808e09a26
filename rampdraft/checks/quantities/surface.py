"""Quantities of the running surface: widths, openings, separate tracks. Its leaves are taken as lying
straight on.
"""

from rampdraft import figures
from rampdraft.checks.subjects import Finding, Subjects, Unjudged, on_whole
from rampdraft.geometry.members.member import Body, Member
from rampdraft.units import MM

_LEAVES: tuple[Body, Body] = ("inner", "outer")

_SLIVER_MM = 10.0
"""A plate that stops this short of the edge of the surface still counts as being as wide; smaller than any
opening limit.
"""


def clear_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the clear width between edge upstands, limited by the opening."""
    terms = (*_widths(subjects), ("opening", subjects.design.carrier.opening_width_mm))
    return on_whole(min(value for _, value in terms), figures.least("clear width", terms))


def surface_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the width of the running surface of the narrower leaf."""
    terms = _widths(subjects)
    return on_whole(min(value for _, value in terms), figures.least("surface width", terms))


def opening(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest opening in the running surface along the way: between slats, across the joint, before
    a toe flap.

    A stop bar as wide as the surface, a plate across the joint, closes what lies over it.
    """
    design = subjects.design
    joint = design.inner_leaf.length_mm
    covered = sorted(
        [
            *slat_spans(subjects, "inner"),
            *_moved(slat_spans(subjects, "outer"), joint),
            *_stop_plate_spans(subjects),
        ]
    )
    if not covered:
        return (Unjudged(key="", subject="", why="The ramp has no slats, so it has no running surface."),)
    widest: dict[str, tuple[MM, str]] = {}
    end = covered[0][1]
    for near, far, member in covered[1:]:
        place = (
            "on the inner leaf"
            if near <= joint
            else "on the outer leaf"
            if end >= joint
            else "across the joint"
        )
        widest[place] = max(widest.get(place, (0.0, "")), (near - end, member))
        end = max(end, far)
    if design.toe.kind == "flap":
        widest["before the toe flap"] = joint + design.outer_leaf.length_mm - end, "outer toe flap"
    value, member = max(widest.values(), default=(0.0, ""))
    terms = tuple((place, gap) for place, (gap, _) in widest.items())
    work = figures.greatest("opening", terms) if terms else figures.given("opening", "none: one slat")
    return on_whole(value, work, member=member)


def tracks(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how many separate tracks the running surface has across: strips of slats with a gap between
    them.
    """
    counts = [(body, _strips(subjects.members(body, "slat"))) for body in _LEAVES]
    value = max(count for _, count in counts)
    numbers = ", ".join(f"{body} leaf {count}" for body, count in counts)
    work = figures.plain("separate tracks", "greatest count of strips of slats across", numbers, f"{value}")
    return on_whole(value, work)


def slat_spans(subjects: Subjects, body: Body) -> list[tuple[MM, MM, str]]:
    """Return (near edge, far edge, key) of each slat of a leaf in its frame, from the hinge outward."""
    key = ("slat spans", body)
    if key not in subjects.kept:
        spans: list[tuple[MM, MM, str]] = []
        for slat in subjects.members(body, "slat"):
            along = [u for u, _, _ in slat.silhouette.vertices]
            spans.append((min(along), max(along), slat.key))
        subjects.kept[key] = sorted(spans)
    return subjects.kept[key]  # pyright: ignore[reportReturnType]


def spans_width(subjects: Subjects, bar: Member) -> bool:
    """Return whether a stop bar is as wide as the running surface: a plate rather than a bar."""
    half = min(value for _, value in _widths(subjects)) / 2
    return bar.y0_mm <= -half + _SLIVER_MM and bar.y1_mm >= half - _SLIVER_MM


def _widths(subjects: Subjects) -> tuple[tuple[str, MM], ...]:
    return ("inner leaf", subjects.design.inner_leaf.width_mm), (
        "outer leaf",
        subjects.design.outer_leaf.width_mm,
    )


def _moved(spans: list[tuple[MM, MM, str]], by_mm: MM) -> list[tuple[MM, MM, str]]:
    return [(near + by_mm, far + by_mm, member) for near, far, member in spans]


def _stop_plate_spans(subjects: Subjects) -> list[tuple[MM, MM, str]]:
    """Return (near edge, far edge, key) of each stop bar that is as wide as the surface, from the deck hinge
    outward.
    """
    spans: list[tuple[MM, MM, str]] = []
    starts: tuple[tuple[Body, MM], ...] = (("inner", 0.0), ("outer", subjects.design.inner_leaf.length_mm))
    for body, start in starts:
        for bar in subjects.members(body, "stop bar"):
            if spans_width(subjects, bar):
                along = [u for u, _, _ in bar.silhouette.vertices]
                spans.append((start + min(along), start + max(along), bar.key))
    return spans


def _strips(slats: tuple[Member, ...]) -> int:
    end, count = float("-inf"), 0
    for y0, y1 in sorted((slat.y0_mm, slat.y1_mm) for slat in slats):
        count += y0 > end
        end = max(end, y1)
    return count
