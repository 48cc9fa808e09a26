"""Quantities of the steps and the gap that a wheel meets: at the deck edge, at the joint, at the toe.

They are those of the deployed ramp. Where they depend on the site, the worst site is taken and named.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from rampdraft.checks.quantities.surface import spans_width
from rampdraft.checks.result import Finding, Measured, Subjects, Unjudged
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import linkage
from rampdraft.geometry.running_surface import laid_out, laid_straight, tread
from rampdraft.mechanics.results import SitePose
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

_NOWHERE = "The ramp reaches the ground at no site, so it is nowhere deployed."


def joint_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how far the highest thing at the joint stands above the running surface: slat edge, knuckle or
    stop bar.
    """
    design, laid = subjects.design, laid_straight(subjects.design)
    inner, outer = design.inner_leaf.slat_thickness_mm, design.outer_leaf.slat_thickness_mm
    surface = min(inner, outer)
    knuckle = next(one for one in subjects.members("inner", "knuckle") if one.kin.hinge == "joint")
    found = [
        (say("difference of the slats"), abs(inner - outer), ""),
        (say("knuckle above slats"), max(0.0, laid.top_mm(knuckle) - surface), knuckle.key),
    ]
    for bar in (*subjects.members("inner", "stop bar"), *subjects.members("outer", "stop bar")):
        above = laid.top_mm(bar) - surface
        if above > 0:
            found.append((say("stop bar above slats"), above, bar.key))
        elif spans_width(subjects, bar):
            found.append((say("stop plate below slats"), -above, bar.key))
    _, value, member = greatest(found, lambda one: one[1])
    terms = tuple((name, height) for name, height, _ in found)
    return (
        Measured(
            key="joint",
            part="joint",
            subject=say("joint"),
            value=value,
            working=prose(figures.greatest, say("step"), terms),
            member=member,
        ),
    )


def deck_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step at the deck edge: onto the bridge plate, and off its end; or the first slat above or
    below the deck.
    """
    worst = _worst(subjects, lambda pose: _step_at_deck_mm(subjects, pose))
    if worst is None:
        return (Unjudged(key="deck-edge", part="deck-edge", subject=say("deck edge"), why=say(_NOWHERE)),)
    value, pose = worst
    place, where = _at_deck(subjects, pose), subjects.words(pose)
    if place.end_step_mm is None:
        work = prose(_to_deck, place.slat_up_mm, where)
    else:
        work = prose(_of_plate, subjects.design.bridge.thickness_mm, place.end_step_mm, where)
    return (
        Measured(
            key="deck-edge",
            part="deck-edge",
            subject=say("deck edge"),
            value=value,
            working=work,
            member="bridge plate" if place.end_step_mm is not None else "",
            site_number=pose.site_number,
        ),
    )


def toe_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step where the ground ends and the toe begins, at the worst site."""
    worst = _worst(subjects, lambda pose: abs(pose.toe_step_mm))
    if worst is None:
        return (Unjudged(key="toe", part="toe", subject=say("toe"), why=say(_NOWHERE)),)
    value, pose = worst
    work = prose(_at_toe, value, subjects.words(pose))
    return (
        Measured(
            key="toe", part="toe", subject=say("toe"), value=value, working=work, site_number=pose.site_number
        ),
    )


def step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the steps at deck edge, joint and toe."""
    return (*deck_step(subjects), *joint_step(subjects), *toe_step(subjects))


def vehicle_gap(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the gap from the deck edge to the first slat, less what a bridge plate covers as it lies, at
    the worst site.
    """
    worst = _worst(subjects, lambda pose: _at_deck(subjects, pose).gap_mm)
    if worst is None:
        return (Unjudged(key="deck-edge", part="deck-edge", subject=say("deck edge"), why=say(_NOWHERE)),)
    value, pose = worst
    place = _at_deck(subjects, pose)
    work = prose(_gap_to_deck, place.slat_out_mm, place.cover_mm, subjects.words(pose))
    return (
        Measured(
            key="deck-edge",
            part="deck-edge",
            subject=say("deck edge"),
            value=value,
            working=work,
            site_number=pose.site_number,
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _AtDeck:
    """What a wheel meets at the deck edge."""

    slat_out_mm: MM
    slat_up_mm: MM
    """The near top edge of the first slat from the deck edge."""
    cover_mm: MM
    """How far a bridge plate reaches from the deck edge as it lies."""
    end_step_mm: MM | None
    """From the top of the plate's end to the slats, at right angles to them; None where no plate lies."""

    @property
    def gap_mm(self) -> MM:
        return max(0.0, self.slat_out_mm - self.cover_mm)


def _step_at_deck_mm(subjects: Subjects, pose: SitePose) -> MM:
    place = _at_deck(subjects, pose)
    if place.end_step_mm is None:
        return abs(place.slat_up_mm)
    return max(subjects.design.bridge.thickness_mm, abs(place.end_step_mm))


def _at_deck(subjects: Subjects, pose: SitePose) -> _AtDeck:
    key = ("at the deck edge", pose.site_number, pose.state)
    return subjects.once(key, lambda: _met_at_deck(subjects, pose))


def _met_at_deck(subjects: Subjects, pose: SitePose) -> _AtDeck:
    design, lie = subjects.design, pose.bridge_lie
    laid = laid_out(
        design,
        ground_line(design.sites[pose.site_number - 1]),
        pose.pose,
        pose.drop_mm,
        flap_rad=pose.flap_rad,
        bridge_rad=lie.angle_rad if lie else 0.0,
    )
    (x, z), _ = tread(subjects.members("inner", "slat")[0], laid).points
    cover, step = 0.0, None
    if pose.bridge is not None:
        _, (cover, top) = tread(subjects.members("carrier", "bridge plate")[0], laid).points
        cos, sin = math.cos(pose.pose.inner_rad), math.sin(pose.pose.inner_rad)
        step = cos * (top - z) - sin * (cover - x)
    up = z - linkage(design, pose.drop_mm).edge[1]
    return _AtDeck(slat_out_mm=x, slat_up_mm=up, cover_mm=cover, end_step_mm=step)


def _worst(subjects: Subjects, value: Callable[[SitePose], float]) -> tuple[float, SitePose] | None:
    found = [(value(pose), pose) for pose in subjects.poses(("ground", "kerb", "platform")) if pose.reaches]
    return greatest(found, lambda one: one[0]) if found else None


def _of_plate(thickness_mm: MM, end_mm: MM, where: str) -> Lines:
    terms = (
        (say("thickness of the bridge plate"), thickness_mm),
        (say("top of its end off the slats, at {where}", where=where), abs(end_mm)),
    )
    return figures.greatest(say("step"), terms)


def _to_deck(up_mm: MM, where: str) -> Lines:
    numbers = say("{one} − {other}, at {where}", one=figures.mm(up_mm), other=figures.mm(0.0), where=where)
    return figures.plain(
        say("step"), say("|top of the first slat − deck surface|"), numbers, figures.mm(abs(up_mm))
    )


def _at_toe(step_mm: MM, where: str) -> Lines:
    return figures.given(say("step at the toe, at {where}", where=where), figures.mm(step_mm))


def _gap_to_deck(reach_mm: MM, cover_mm: MM, where: str) -> Lines:
    return figures.plain(
        say("gap to the deck"),
        say("edge of the first slat out from the deck edge − reach of the bridge plate, not below 0"),
        say("{one} − {other}, at {where}", one=figures.mm(reach_mm), other=figures.mm(cover_mm), where=where),
        figures.mm(max(0.0, reach_mm - cover_mm)),
    )
