"""Quantities of the deployed ramp at one site: gradient, rise, going, cross slope, change of grade.

A gradient is rise over going. The steepest part is judged, whichever way it slopes, with the joint on its
props; a pose that does not reach the ground is not judged, since its figures are those of a ramp in the
air.
"""

from itertools import pairwise

from rampdraft.checks.result import Finding, Measured, Subjects, Unjudged
from rampdraft.geometry.ground_line import ground_line
from rampdraft.mechanics.results import LeafGradient, SitePose
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, Prose, prose
from rampdraft.words.say import say

_STRAIGHT = 1e-6
"""Leaves whose gradients differ by less lie straight on."""


def gradient(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the gradient of the steepest part of the running surface: a leaf, toe flap or bridge plate."""
    return _slope(subjects, pose, subjects.props_set.borne(pose).steepest)


def leaf_gradient(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the gradient of the steeper leaf, leaving a toe flap out."""
    borne = subjects.props_set.borne(pose)
    return _slope(subjects, pose, greatest((borne.inner, borne.outer), lambda leaf: abs(leaf.ratio)))


def flap_gradient(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the gradient of the toe flap; nothing where there is none."""
    flap = subjects.props_set.borne(pose).flap
    return _slope(subjects, pose, flap) if flap is not None else ()


def rise(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the whole rise of the ramp, one run."""
    value = abs(pose.whole.rise_mm)
    parts = pose.inner.rise_mm, pose.outer.rise_mm
    return _of(
        subjects,
        pose,
        value,
        prose(_added, say("rise"), say("height gained by the whole ramp"), parts, value),
    )


def going(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the whole going of the ramp, one run."""
    value = pose.whole.going_mm
    parts = pose.inner.going_mm, pose.outer.going_mm
    return _of(
        subjects,
        pose,
        value,
        prose(_added, say("going"), say("level length of the whole ramp"), parts, value),
    )


def cross_slope(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the cross slope of the ground on which the ramp lies, once a site."""
    if pose.site_number == 0 or pose.state != "empty":
        return ()
    value = abs(subjects.design.sites[pose.site_number - 1].cross_slope_percent) / 100
    return (
        Measured(
            key=f"site-{pose.site_number}",
            subject=pose.site,
            state=pose.state,
            value=value,
            working=prose(_as_given, value),
            site_number=pose.site_number,
        ),
    )


def grade_change(subjects: Subjects, pose: SitePose) -> tuple[Finding, ...]:
    """Return the greatest change of grade along the way: at the deck edge, at both ends of a bridge plate,
    at the joint, the flap and the toe.
    """
    grades, borne = [(say("deck"), 0.0)], subjects.props_set.borne(pose)
    if borne.bridge is not None:
        grades.append((say("bridge plate"), -borne.bridge.ratio))
    grades += [(say("inner leaf"), -borne.inner.ratio), (say("outer leaf"), -borne.outer.ratio)]
    if borne.flap is not None:
        grades.append((say("toe flap"), -borne.flap.ratio))
    grades.append((say("ground"), _ground_grade(subjects, pose)))
    (name_a, grade_a), (name_b, grade_b) = max(
        pairwise(grades), key=lambda pair: abs(pair[1][1] - pair[0][1])
    )
    value = abs(grade_b - grade_a)
    return _of(subjects, pose, value, prose(_change, name_a, grade_a, name_b, grade_b))


def _added(name: str, what: str, parts: tuple[MM, MM], value: MM) -> Lines:
    inner, outer = (figures.mm(part) for part in parts)
    return figures.plain(
        name, what, say("{inner} inner leaf, {outer} outer leaf", inner=inner, outer=outer), figures.mm(value)
    )


def _as_given(value: float) -> Lines:
    return figures.given(say("cross slope of the ground, as given for the site"), figures.gradient(value))


def _change(name_a: str, grade_a: float, name_b: str, grade_b: float) -> Lines:
    return figures.plain(
        say("greatest change of grade"),
        say("|grade of {one} − grade of {other}|", one=name_b, other=name_a),
        f"|{figures.fixed(100 * grade_b, 2, '%')} − {figures.fixed(100 * grade_a, 2, '%')}|",
        figures.figure(100 * abs(grade_b - grade_a), "%", 2),
    )


def _of(subjects: Subjects, pose: SitePose, value: float, work: Prose, part: str = "") -> tuple[Finding, ...]:
    key, words, number = subjects.key(pose), subjects.words(pose), pose.site_number
    if not pose.reaches:
        why = say("The ramp does not reach the ground here, so it has no gradient.")
        return (Unjudged(key=key, subject=words, state=pose.state, why=why, site_number=number),)
    return (
        Measured(
            key=key,
            subject=words,
            part=part,
            state=pose.state,
            value=value,
            working=work,
            site_number=number,
        ),
    )


def _slope(subjects: Subjects, pose: SitePose, part: LeafGradient) -> tuple[Finding, ...]:
    borne = subjects.props_set.borne(pose)
    if part is borne.flap:
        name = say("gradient of the toe flap")
    elif part is borne.bridge:
        name = say("gradient of the bridge plate")
    elif abs(borne.inner.ratio - borne.outer.ratio) > _STRAIGHT:
        name = say(
            "gradient of the inner leaf, the steeper one"
            if part == borne.inner
            else "gradient of the outer leaf, the steeper one"
        )
    else:
        name = say("gradient")
    work = prose(_sloping, name, part, pose)
    return _of(subjects, pose, abs(part.ratio), work, "bridge" if part is borne.bridge else "")


def _sloping(name: str, part: LeafGradient, pose: SitePose) -> Lines:
    lines = figures.quotient(name, (say("rise"), part.rise_mm), (say("going"), part.going_mm))
    if not pose.drop_mm:
        return lines
    who = say("the cargo aboard, whoever starts up still at the toe")
    if pose.state == "loaded":
        who = say("the load aboard, the heaviest user whole on the deck edge")
    far = figures.mm(abs(pose.drop_mm))
    moved = say(
        "{who}: the deck edge is {far} lower than empty"
        if pose.drop_mm > 0
        else "{who}: the deck edge is {far} higher than empty",
        who=who,
        far=far,
    )
    return moved, *lines


def _ground_grade(subjects: Subjects, pose: SitePose) -> float:
    """Return dz/dx of the ground just beyond where the toe touches it; a reference kerb's is level."""
    if pose.site_number == 0:
        return 0.0
    end = pose.contact[0] + (pose.flap.going_mm if pose.flap is not None else 0.0)
    return ground_line(subjects.design.sites[pose.site_number - 1]).grade_beyond(end)
