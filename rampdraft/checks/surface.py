"""Quantities of the running surface and its edges: widths, openings, steps, gaps, upstands, tracks, load.

Openings, steps and gaps are those of the deployed ramp, its leaves straight on. Where they depend on the site, the worst
site is taken and named.
"""

from collections.abc import Callable

from rampdraft.checks import working
from rampdraft.checks.numbers import flap_length_mm
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.geometry.member import Body, Member
from rampdraft.geometry.pose import placings
from rampdraft.mechanics.results import SitePose
from rampdraft.units import MM

_LEAVES: tuple[Body, Body] = ("inner", "outer")
_SLIVER_MM = 10.0
"""A plate that stops this short of the edge of the surface still counts as being as wide; smaller than any opening limit."""

_NOWHERE = "The ramp reaches the ground at no site, so it is nowhere deployed."


def clear_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the clear width between edge upstands, limited by the opening."""
    terms = (*_widths(subjects), ("opening", subjects.design.carrier.opening_width_mm))
    return _one(min(value for _, value in terms), working.least("clear width", terms))


def surface_width(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the width of the running surface of the narrower leaf."""
    terms = _widths(subjects)
    return _one(min(value for _, value in terms), working.least("surface width", terms))


def opening(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest opening in the running surface along the way: between slats, across the joint, before a toe flap.

    A stop bar as wide as the surface, a plate across the joint, closes what lies over it.
    """
    design = subjects.design
    joint = design.inner_leaf.length_mm
    covered = sorted(
        [*_slat_spans(subjects, "inner"), *_moved(_slat_spans(subjects, "outer"), joint), *_stop_plate_spans(subjects)]
    )
    if not covered:
        return (Unjudged(key="", subject="", why="The ramp has no slats, so it has no running surface."),)
    widest: dict[str, tuple[MM, str]] = {}
    end = covered[0][1]
    for near, far, member in covered[1:]:
        place = "on the inner leaf" if near <= joint else "on the outer leaf" if end >= joint else "across the joint"
        widest[place] = max(widest.get(place, (0.0, "")), (near - end, member))
        end = max(end, far)
    if design.toe.kind == "flap":
        widest["before the toe flap"] = joint + design.outer_leaf.length_mm - end, "outer toe flap"
    value, member = max(widest.values(), default=(0.0, ""))
    terms = tuple((place, gap) for place, (gap, _) in widest.items())
    work = working.greatest("opening", terms) if terms else working.given("opening", "none: one slat")
    return _one(value, work, member=member)


def tracks(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how many separate tracks the running surface has across: strips of slats with a gap between them."""
    counts = [(body, _strips(subjects.members(body, "slat"))) for body in _LEAVES]
    value = max(count for _, count in counts)
    numbers = ", ".join(f"{body} leaf {count}" for body, count in counts)
    work = working.plain("separate tracks", "greatest count of strips of slats across", numbers, f"{value}")
    return _one(value, work)


def joint_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how far the highest thing at the joint stands above the running surface: slat edge, knuckle or stop bar."""
    design = subjects.design
    inner, outer = design.inner_leaf.slat_thickness_mm, design.outer_leaf.slat_thickness_mm
    surface = min(inner, outer)
    knuckle = design.joint.height_mm + design.joint.knuckle_diameter_mm / 2
    found = [
        ("difference of the slats", abs(inner - outer), ""),
        ("knuckle above slats", max(0.0, knuckle - surface), "inner joint knuckle 1"),
    ]
    for bar in (*subjects.members("inner", "stop bar"), *subjects.members("outer", "stop bar")):
        above = max(w for _, w, _ in bar.silhouette.vertices) - surface
        if above > 0:
            found.append(("stop bar above slats", above, bar.key))
        elif _spans_width(subjects, bar):
            found.append(("stop plate below slats", -above, bar.key))
    _, value, member = max(found, key=lambda one: one[1])
    terms = tuple((name, height) for name, height, _ in found)
    return (Measured(key="joint", subject="joint", value=value, working=working.greatest("step", terms), member=member),)


def deck_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step at the deck edge: the bridge plate's thickness, or the first slat above or below the deck."""
    bridge = subjects.design.bridge
    if bridge.fitted:
        work = working.given("step = thickness of the bridge plate", working.mm(bridge.thickness_mm))
        return (Measured(key="deck-edge", subject="deck edge", value=bridge.thickness_mm, working=work, member="bridge plate"),)
    worst = _worst(subjects, lambda pose: abs(_first_slat(subjects, pose)[1]))
    if worst is None:
        return (Unjudged(key="deck-edge", subject="deck edge", why=_NOWHERE),)
    value, pose = worst
    numbers = f"{working.mm(_first_slat(subjects, pose)[1])} - 0 mm, at {subjects.words(pose)}"
    work = working.plain("step", "|top of the first slat - deck surface|", numbers, working.mm(value))
    return (Measured(key="deck-edge", subject="deck edge", value=value, working=work, site_number=pose.site_number),)


def toe_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step where the ground ends and the toe begins, at the worst site."""
    worst = _worst(subjects, lambda pose: abs(pose.toe_step_mm))
    if worst is None:
        return (Unjudged(key="toe", subject="toe", why=_NOWHERE),)
    value, pose = worst
    work = working.given(f"step at the toe, at {subjects.words(pose)}", working.mm(value))
    return (Measured(key="toe", subject="toe", value=value, working=work, site_number=pose.site_number),)


def step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the steps at deck edge, joint and toe."""
    return (*deck_step(subjects), *joint_step(subjects), *toe_step(subjects))


def vehicle_gap(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the gap from the deck edge to the first slat, less what a bridge plate covers, at the worst site."""
    bridge = subjects.design.bridge
    cover = max(0.0, bridge.length_mm - bridge.over_deck_mm) if bridge.fitted else 0.0
    worst = _worst(subjects, lambda pose: max(0.0, _first_slat(subjects, pose)[0] - cover))
    if worst is None:
        return (Unjudged(key="deck-edge", subject="deck edge", why=_NOWHERE),)
    value, pose = worst
    reach = _first_slat(subjects, pose)[0]
    work = working.plain(
        "gap to the deck",
        "edge of the first slat out from the deck edge - reach of the bridge plate, not below 0",
        f"{working.mm(reach)} - {working.mm(cover)}, at {subjects.words(pose)}",
        working.mm(value),
    )
    return (Measured(key="deck-edge", subject="deck edge", value=value, working=work, site_number=pose.site_number),)


def edge_height(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the height of each leaf's edge upstands above the running surface; 0 where there is none."""
    found: list[Finding] = []
    for body, leaf in (("inner", subjects.design.inner_leaf), ("outer", subjects.design.outer_leaf)):
        height = leaf.upstand_height_mm
        found.append(
            Measured(
                key=f"{body}-leaf",
                subject=f"{body} leaf",
                value=height,
                working=working.given("edge upstand above the running surface", working.mm(height)),
                member=f"{body} edge upstand left" if height > 0 else "",
            )
        )
    return tuple(found)


def side_stop(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether both leaves have edge upstands."""
    heights = (subjects.design.inner_leaf.upstand_height_mm, subjects.design.outer_leaf.upstand_height_mm)
    numbers = f"{working.mm(heights[0])} on the inner leaf, {working.mm(heights[1])} on the outer leaf"
    held = min(heights) > 0
    work = working.plain("side stop", "an edge upstand on both leaves", numbers, "yes" if held else "no")
    return _one(float(held), work)


def edge_end(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the length left without edge upstand at the ramp's deployed end, a toe flap included."""
    design, leaf = subjects.design, subjects.design.outer_leaf
    flap = flap_length_mm(design)
    short = leaf.upstand_end_gap_mm if leaf.upstand_height_mm > 0 else leaf.length_mm
    numbers = f"{working.mm(short)} + {working.mm(flap)}"
    work = working.plain("free end", "leaf without upstand at the toe + toe flap", numbers, working.mm(short + flap))
    return (Measured(key="toe", subject="toe", value=short + flap, working=work),)


def edge_gap(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the widest gap between the edge upstands along the way: at the deck edge and at the joint."""
    inner, outer = subjects.design.inner_leaf, subjects.design.outer_leaf
    if min(inner.upstand_height_mm, outer.upstand_height_mm) <= 0:
        return (Unjudged(key="", subject="", why="A leaf has no edge upstands, so there is no gap between them."),)
    terms = (("at the deck edge", inner.upstand_start_mm), ("at the joint", inner.upstand_end_gap_mm + outer.upstand_start_mm))
    return _one(max(value for _, value in terms), working.greatest("gap in the edge upstands", terms))


def joint_held(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether something holds the joint straight under load."""
    joint = subjects.fold.joint
    text = f"held by the {joint.by}" if joint.held else "not held"
    work = working.given("joint under load", text)
    return (Measured(key="joint", subject="joint", value=float(joint.held), text=text, working=work, why=joint.words),)


def rated_load(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the load for which the ramp is to be marked."""
    load = subjects.design.use.rated_load_kg
    return _one(load, working.given("rated load, as given", f"{working.number(load)} kg"))


def _one(value: float, work: tuple[str, ...], member: str = "") -> tuple[Finding, ...]:
    return (Measured(key="", subject="", value=value, working=work, member=member),)


def _widths(subjects: Subjects) -> tuple[tuple[str, MM], ...]:
    return ("inner leaf", subjects.design.inner_leaf.width_mm), ("outer leaf", subjects.design.outer_leaf.width_mm)


def _slat_spans(subjects: Subjects, body: Body) -> list[tuple[MM, MM, str]]:
    """Return (near edge, far edge, key) of each slat of a leaf in its frame, from the hinge outward."""
    key = ("slat spans", body)
    if key not in subjects.kept:
        spans: list[tuple[MM, MM, str]] = []
        for slat in subjects.members(body, "slat"):
            along = [u for u, _, _ in slat.silhouette.vertices]
            spans.append((min(along), max(along), slat.key))
        subjects.kept[key] = sorted(spans)
    return subjects.kept[key]  # pyright: ignore[reportReturnType]


def _moved(spans: list[tuple[MM, MM, str]], by_mm: MM) -> list[tuple[MM, MM, str]]:
    return [(near + by_mm, far + by_mm, member) for near, far, member in spans]


def _stop_plate_spans(subjects: Subjects) -> list[tuple[MM, MM, str]]:
    """Return (near edge, far edge, key) of each stop bar that is as wide as the surface, from the deck hinge outward."""
    spans: list[tuple[MM, MM, str]] = []
    starts: tuple[tuple[Body, MM], ...] = (("inner", 0.0), ("outer", subjects.design.inner_leaf.length_mm))
    for body, start in starts:
        for bar in subjects.members(body, "stop bar"):
            if _spans_width(subjects, bar):
                along = [u for u, _, _ in bar.silhouette.vertices]
                spans.append((start + min(along), start + max(along), bar.key))
    return spans


def _spans_width(subjects: Subjects, bar: Member) -> bool:
    half = min(value for _, value in _widths(subjects)) / 2
    return bar.y0_mm <= -half + _SLIVER_MM and bar.y1_mm >= half - _SLIVER_MM


def _strips(slats: tuple[Member, ...]) -> int:
    end, count = float("-inf"), 0
    for y0, y1 in sorted((slat.y0_mm, slat.y1_mm) for slat in slats):
        count += y0 > end
        end = max(end, y1)
    return count


def _first_slat(subjects: Subjects, pose: SitePose) -> tuple[MM, MM]:
    """Return the near top edge of the first slat from the deck edge: (out, up)."""
    key = ("first slat", pose.site_number, pose.state)
    if key not in subjects.kept:
        design = subjects.design
        spans = _slat_spans(subjects, "inner")
        near = spans[0][0] if spans else 0.0
        x, z = placings(design, pose.pose, pose.drop_mm)["inner"].point(near, design.inner_leaf.slat_thickness_mm)
        subjects.kept[key] = x, z - (design.carrier.deck_height_mm - pose.drop_mm)
    return subjects.kept[key]  # pyright: ignore[reportReturnType]


def _worst(subjects: Subjects, value: Callable[[SitePose], float]) -> tuple[float, SitePose] | None:
    found = [(value(pose), pose) for pose in subjects.poses(("ground", "kerb", "platform")) if pose.reaches]
    return max(found, key=lambda one: one[0]) if found else None
