"""Where the ramp stands and is kept: toe, prop, the carrier's opening, the room it is stowed in."""

from collections.abc import Iterator
from typing import Final

from rampdraft import figures
from rampdraft.checks.result import Check, Demand, Sense, compose
from rampdraft.checks.subjects import Measured, Subjects
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Prop, SiteKind
from rampdraft.prose import Lines, prose
from rampdraft.units import MM

_ANY_SITE: Final[tuple[SiteKind, ...]] = ("ground", "kerb", "platform")


def stowed_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the stowed sizes against the room given."""
    carrier, stowed = subjects.design.carrier, subjects.stowed
    for key, title, value, room in (
        ("height", "Stowed height above the deck", stowed.above_deck_mm, carrier.stow_height_mm),
        ("out", "Stowed, out past the deck edge", stowed.out_mm, carrier.stow_out_mm),
        ("in", "Stowed, in over the deck", stowed.over_deck_mm, carrier.stow_in_mm),
    ):
        finding = Measured(
            key=key, subject="", part=key, value=value, working=prose(_stowed_lines, title, value, room)
        )
        yield compose(Demand.own("stowed", title, "at most", "mm", room, figures.mm(room)), finding)


def _stowed_lines(title: str, value: MM, room: MM) -> Lines:
    return f"{title.lower()} = {figures.mm(value)}", f"room given = {figures.mm(room)}"


def placing_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield how the ramp stands at each site, and whether it fits the opening."""
    for pose in subjects.poses(_ANY_SITE):
        yield _stands(subjects, pose)
        if subjects.design.prop.fitted and pose.reaches:
            yield _prop(subjects, pose)
    yield _fits_opening(subjects)


def _stands(subjects: Subjects, pose: SitePose) -> Check:
    if not pose.reaches:
        text, why = "in the air", "The ramp does not reach the ground here, however far it is let down."
    elif not pose.grounds_at_toe:
        text = f"{pose.touches_with} first"
        why = f"It grounds at the {pose.touches_with} before the toe comes down."
    else:
        text, why = "toe first", ""
    finding = Measured(
        key=subjects.key(pose),
        subject=subjects.words(pose),
        state=pose.state,
        value=float(pose.reaches and pose.grounds_at_toe),
        working=prose(_stands_lines, pose.touches_with, *pose.contact),
        text=text,
        why=why,
        member=pose.touches_with,
        site_number=pose.site_number,
    )
    return compose(Demand.own("toe", "Stands on its toe", "is", "yes/no", 1.0, "demanded"), finding)


def _stands_lines(member: str, x: MM, z: MM) -> Lines:
    return (
        f"first contact coming down: {member or 'nothing'}",
        f"at {figures.mm(x)} out from the deck edge, {figures.mm(z)} up",
    )


def _prop(subjects: Subjects, pose: SitePose) -> Check:
    prop, room = subjects.design.prop, pose.joint_room_mm
    bounds: tuple[MM, Sense, str] = (prop.longest_mm, "at most", "longest")
    if room < prop.shortest_mm:
        bounds = prop.shortest_mm, "at least", "shortest"
    limit, sense, which = bounds
    fits = prop.shortest_mm <= room <= prop.longest_mm
    finding = Measured(
        key=subjects.key(pose),
        subject=subjects.words(pose),
        state=pose.state,
        value=room,
        working=prose(_prop_lines, room, prop),
        why="" if fits else "The prop cannot be set to this height.",
        site_number=pose.site_number,
    )
    return compose(
        Demand.own(
            "prop",
            "Prop reaches from ground to joint",
            sense,
            "mm",
            limit,
            f"{figures.mm(limit)}, the prop's {which}",
        ),
        finding,
    )


def _prop_lines(room: MM, prop: Prop) -> Lines:
    return (
        f"room under the joint = {figures.mm(room)}",
        f"prop reaches from {figures.mm(prop.shortest_mm)} to {figures.mm(prop.longest_mm)}",
    )


def _fits_opening(subjects: Subjects) -> Check:
    leaves, opening = subjects.assembly.of("inner", "outer"), subjects.design.carrier.opening_width_mm
    widest = max(leaves, key=lambda member: max(-member.y0_mm, member.y1_mm))
    half = max(-widest.y0_mm, widest.y1_mm)
    finding = Measured(
        key="", subject="", value=2 * half, working=prose(_opening_lines, half, widest.key), member=widest.key
    )
    demand = Demand.own("opening", "Ramp fits the opening", "at most", "mm", opening, figures.mm(opening))
    return compose(demand, finding)


def _opening_lines(half: MM, member: str) -> Lines:
    farthest = f"2 x {figures.mm(half)} ({member})"
    return figures.plain("overall width", "2 x farthest from the centre line", farthest, figures.mm(2 * half))
