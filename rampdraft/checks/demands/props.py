"""What the program itself demands of the props' length: that they reach from the ground to the joint at each
site, and that holes set them so that the joint need not drop until they bear.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft.checks.result import (
    Check,
    Demand,
    Finding,
    Measured,
    Sense,
    Source,
    Subjects,
    Unjudged,
    compose,
)
from rampdraft.geometry.members.prop_holes import APART, PIN_ROOM_MM
from rampdraft.geometry.members.props import PropTubes, prop_tubes
from rampdraft.mechanics.results import LeafGradient, SitePose
from rampdraft.mechanics.standing.props import PropSet
from rampdraft.model.design import Prop
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, prose

PLAY_MM: Final = 2 * PIN_ROOM_MM
"""So much a pin has in the holes of both tubes together: no prop stands more exactly. Common practice."""
_HOLES: Final = Source(
    rule_set="own", title="Holes of the props", clause="table 3.3", publication="EN 1993-1-8; common practice"
)


def prop_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield, at each site that the ramp reaches, whether its props reach, and how far they stand short."""
    if not subjects.design.prop.fitted:
        return
    for pose in subjects.poses():
        if pose.reaches:
            props = subjects.props_set.at(pose)
            yield _reaches(subjects, pose, props)
            if all(_within(one.room_mm, subjects.design.prop) for one in props):
                yield _short(subjects, pose, props)


def _within(room: MM, prop: Prop) -> bool:
    return prop.shortest_mm <= room <= prop.longest_mm


def _reaches(subjects: Subjects, pose: SitePose, props: tuple[PropSet, ...]) -> Check:
    prop = subjects.design.prop
    room = greatest(props, lambda one: max(prop.shortest_mm - one.room_mm, one.room_mm - prop.longest_mm))
    bounds: tuple[MM, Sense, str] = (prop.longest_mm, "at most", "longest")
    if room.room_mm < prop.shortest_mm:
        bounds = prop.shortest_mm, "at least", "shortest"
    limit, sense, which = bounds
    return compose(
        Demand.own(
            "prop",
            "Prop reaches from ground to joint",
            sense,
            "mm",
            limit,
            f"{figures.mm(limit)}, the prop's {which}",
        ),
        Measured(
            key=subjects.key(pose),
            subject=subjects.words(pose),
            state=pose.state,
            value=room.room_mm,
            working=prose(_reach_lines, room.room_mm, prop),
            why="" if _within(room.room_mm, prop) else "The prop cannot be set to this height.",
            site_number=pose.site_number,
        ),
    )


def _reach_lines(room: MM, prop: Prop) -> Lines:
    return (
        f"room under the joint = {figures.mm(room)}",
        f"prop reaches from {figures.mm(prop.shortest_mm)} to {figures.mm(prop.longest_mm)}",
    )


_ONE_TUBE: Final = (
    "No two tubes reach from the prop's shortest to its longest, so that nothing says at which lengths it is"
    " held."
)


def _short(subjects: Subjects, pose: SitePose, props: tuple[PropSet, ...]) -> Check:
    """Return how far the joint drops until all props bear, against what strength and sag are worked out
    with.
    """
    prop, tubes = subjects.design.prop, prop_tubes(subjects.design.prop)
    key, subject = subjects.key(pose), subjects.words(pose)
    finding: Finding = Unjudged(
        key=key, subject=subject, part="prop", state=pose.state, why=_ONE_TUBE, site_number=pose.site_number
    )
    limit = prop.slack_mm + PLAY_MM
    if all(one.set_mm is not None for one in props):
        worst = greatest(props, lambda one: one.short_mm)
        finding = Measured(
            key=key,
            subject=subject,
            part="prop",
            state=pose.state,
            value=worst.short_mm,
            working=prose(_short_lines, props, tubes, pose, subjects.props_set.lowered(pose), prop.slack_mm),
            why="" if tubes is None or worst.short_mm <= limit else _why(worst, tubes),
            site_number=pose.site_number,
        )
    title, text = "Joint drops until the props bear", f"{figures.mm(limit)}, with the play of the pins"
    return compose(
        replace(Demand.own("prop-short", title, "at most", "mm", limit, text), source=_HOLES), finding
    )


def _why(worst: PropSet, tubes: PropTubes) -> str:
    return (
        f"Its holes have to stand {figures.mm(tubes.apart_mm)} apart, and other heights are nearer than that:"
        f" the prop stands {figures.mm(worst.short_mm)} short here."
    )


def _short_lines(
    props: tuple[PropSet, ...], tubes: PropTubes | None, pose: SitePose, down: SitePose, slack: MM
) -> Lines:
    drilled = ()
    if tubes is not None:
        diameter, apart = figures.mm(tubes.hole_mm), figures.mm(tubes.apart_mm)
        rows = " through either pair of walls" if tubes.faces > 1 else ""
        drilled = (f"holes d0 = {diameter}, at least {APART:g} d0 = {apart} apart{rows}",)
    return (
        *drilled,
        *(_set_line(one) for one in props),
        _leaf_line("inner", pose.inner, down.inner),
        _leaf_line("outer", pose.outer, down.outer),
        f"strength and sag are worked out with one prop {figures.mm(slack)} shorter than the others",
    )


def _leaf_line(name: str, straight: LeafGradient, down: LeafGradient) -> str:
    before, after = figures.one_in(straight.ratio), figures.one_in(down.ratio)
    return f"{name} leaf {before}, down on the props {after}"


def _set_line(one: PropSet) -> str:
    hole = f" by hole {one.hole} from the upper end" if one.hole else ""
    room, height, short = (figures.mm(size) for size in (one.room_mm, one.set_mm or 0.0, one.short_mm))
    return f"rail {one.rail + 1}: room {room}, set to {height}{hole}, short by {short}"
