"""What the program itself demands of a ramp that works, whatever rules are chosen: that its fold ends
stowed, its joint is held, it stands and is kept in the room given, and suits its users.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft.checks.quantities import load, surface
from rampdraft.checks.result import (
    Check,
    Demand,
    Finding,
    Measured,
    Source,
    Status,
    Subjects,
    Unjudged,
    compose,
    verdict,
)
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.loading.loads import NOT_RIDDEN, mass_centre_mm, ridden, tips_at
from rampdraft.mechanics.results import PairClearance
from rampdraft.model.catalogue import survey_classes
from rampdraft.model.design import WheeledUser
from rampdraft.rounding import greatest
from rampdraft.units import DEG, KG, MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, Prose, prose
from rampdraft.words.say import named, say, within

_PRACTICE: Final = Source(
    rule_set="own", title="Common practice", clause="", publication="common practice of the trade"
)
_OTHERS: Final = "Advice: the ramp may be meant for other users."

USUAL_WIDTH_MM: Final = 800.0
"""Clear width that is said to take about 95 % of wheelchairs; common practice, no published source."""


def own_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the program's own checks."""
    yield from ends_stowed(subjects)
    yield from _joint(subjects)
    yield from _stowed(subjects)
    yield _fits_opening(subjects)
    yield from _users(subjects)


def _joint(subjects: Subjects) -> Iterator[Check]:
    design = subjects.design
    (held,) = load.joint_held(subjects)
    yield compose(
        Demand.own("held", say("Joint held straight under load"), "is", "yes/no", 1.0, say("held straight")),
        replace(held, subject=""),
    )
    if design.stop.kind != "butt":
        return
    arm, above = design.stop.arm_mm, design.fold.closing == "backs"
    bears = arm > 0 if above else arm < 0
    opens = say(
        "The faces open instead of meeting: put the butt height above the hinge centre."
        if above
        else "The faces open instead of meeting: put the butt height below the hinge centre."
    )
    yield compose(
        Demand.own(
            "stop",
            say("Stop bars where they can bear"),
            "is",
            "yes/no",
            1.0,
            say("above the hinge centre" if above else "below the hinge centre"),
        ),
        Measured(
            key="",
            subject="",
            value=float(bears),
            working=prose(_bearing_lines, arm, above, bears),
            why="" if bears else opens,
            member="inner stop bar 1",
            text=say("{height} above it", height=figures.mm(arm)),
        ),
    )


def _bearing_lines(arm: MM, above: bool, bears: bool) -> Lines:
    return (
        say(
            "butting faces bear above the hinge centre, since the leaves close backs together"
            if above
            else "butting faces bear below the hinge centre, since the leaves close faces together"
        ),
        say(
            "butt height = {height} above the centre: bears"
            if bears
            else "butt height = {height} above the centre: cannot bear",
            height=figures.mm(arm),
        ),
    )


def _stowed(subjects: Subjects) -> Iterator[Check]:
    carrier, stowed = subjects.design.carrier, subjects.stowed
    for key, title, value, room in (
        ("height", say("Stowed height above the deck"), stowed.above_deck_mm, carrier.stow_height_mm),
        ("out", say("Stowed, out past the deck edge"), stowed.out_mm, carrier.stow_out_mm),
        ("in", say("Stowed, in over the deck"), stowed.over_deck_mm, carrier.stow_in_mm),
    ):
        yield compose(
            Demand.own("stowed", title, "at most", "mm", room, figures.mm(room)),
            Measured(
                key=key, subject="", part=key, value=value, working=prose(_stowed_lines, title, value, room)
            ),
        )


def _stowed_lines(title: str, value: MM, room: MM) -> Lines:
    return f"{within(title)} = {figures.mm(value)}", say("room given = {room}", room=figures.mm(room))


def _fits_opening(subjects: Subjects) -> Check:
    leaves, opening = subjects.assembly.of("inner", "outer"), subjects.design.carrier.opening_width_mm
    widest = max(leaves, key=lambda member: max(-member.y0_mm, member.y1_mm))
    half = max(-widest.y0_mm, widest.y1_mm)
    return compose(
        Demand.own("opening", say("Ramp fits the opening"), "at most", "mm", opening, figures.mm(opening)),
        Measured(
            key="",
            subject="",
            value=2 * half,
            working=prose(_opening_lines, half, widest.key),
            member=widest.key,
        ),
    )


def _opening_lines(half: MM, member: str) -> Lines:
    farthest = f"2 x {figures.mm(half)} ({named(member)})"
    return figures.plain(
        say("overall width"), say("2 x farthest from the centre line"), farthest, figures.mm(2 * half)
    )


def _users(subjects: Subjects) -> Iterator[Check]:
    """The surveyed classes are advice, since a ramp may be for one user. A ramp whose users are named,
    and none of whom rides, is spared them.
    """
    (clear,) = surface.clear_width(subjects)
    assert isinstance(clear, Measured)
    users = subjects.design.use.users
    for place, user in enumerate(users, start=1):
        yield from _user(place, user, clear, subjects.design.use.rated_load_kg)
        if user.kind not in NOT_RIDDEN:
            yield _tips(place, user, subjects)
    if ridden(subjects.design):
        yield from _surveyed(clear)


def _user(place: int, user: WheeledUser, clear: Measured, rated: KG) -> Iterator[Check]:
    key, width, carried = f"user-{place}", user.width_mm, user.mass_kg + user.attendant_kg
    finding = Measured(
        key=key,
        subject=user.name,
        user=place,
        value=width,
        working=prose(_width_lines, user.kind, width, clear.working),
    )
    title, room = say("User fits between the upstands"), figures.mm(clear.value)
    yield compose(Demand.own("user-width", title, "at most", "mm", clear.value, room), finding)
    finding = Measured(
        key=key,
        subject=user.name,
        user=place,
        value=carried,
        working=prose(_load_lines, user.mass_kg, user.attendant_kg),
    )
    title, text = say("User within the rated load"), say("{rated}, the rated load", rated=figures.kg(rated))
    yield compose(Demand.own("user-load", title, "at most", "kg", rated, text), finding)


def _tips(place: int, user: WheeledUser, subjects: Subjects) -> Check:
    """Return whether a rider tips on the steepest leaf of any site, nobody holding."""
    poses = [pose for pose in subjects.poses() if pose.reaches]
    grades = [(abs(leaf.ratio), pose) for pose in poses for leaf in (pose.inner, pose.outer)]
    away, grade = tips_at(user)
    finding: Finding = Unjudged(
        key=f"user-{place}", subject=user.name, user=place, why=say("The ramp reaches the ground at no site.")
    )
    steepest = 0.0
    if grades:
        steepest, pose = greatest(grades, lambda one: one[0])
        finding = Measured(
            key=f"user-{place}",
            subject=user.name,
            user=place,
            value=grade,
            working=prose(_tips_lines, away, mass_centre_mm(user), grade, subjects.words(pose)),
            site_number=pose.site_number,
        )
    text = say("{steepest}, the steepest leaf", steepest=figures.one_in(steepest))
    title = say("Grade at which a rider tips, nobody holding")
    return compose(Demand.own("user-tips", title, "at least", "gradient", steepest, text), finding)


def _tips_lines(away: MM, height: MM, grade: float, where: str) -> Lines:
    return (
        say("x from the lower axle to the mass centre on the level, h its height above the surface"),
        *figures.plain(
            say("grade at which it tips"),
            "x / h",
            f"{figures.mm(away)} / {figures.mm(height)}",
            figures.gradient(grade),
        ),
        say("steepest leaf: at {where}", where=where),
    )


def _width_lines(kind: str, width: MM, clear: Prose) -> Lines:
    return say("width of the {kind} = {width}", kind=say(kind), width=figures.mm(width)), *clear.lines()


def _load_lines(user: KG, attendant: KG) -> Lines:
    return figures.plain(
        say("load"),
        say("user + attendant"),
        f"{figures.kg(user)} + {figures.kg(attendant)}",
        figures.kg(user + attendant),
    )


def _surveyed(clear: Measured) -> Iterator[Check]:
    classes, title = survey_classes(), say("Clear width for a surveyed class of user")
    for row in classes:
        finding = replace(clear, key=row.kind.replace(" ", "-"), subject=say(row.kind))
        text = say("{width}, occupied width of a {kind}", width=figures.mm(row.width_mm), kind=say(row.kind))
        source = Source(rule_set="own", title=say("Survey of users"), clause="", publication=row.source)
        yield compose(
            replace(
                Demand.own("survey-width", title, "at least", "mm", row.width_mm, text, source),
                warning=say(_OTHERS),
            ),
            finding,
        )
    takes = ", ".join(say(row.kind) for row in classes if row.width_mm <= USUAL_WIDTH_MM)
    too_wide = ", ".join(say(row.kind) for row in classes if row.width_mm > USUAL_WIDTH_MM)
    usual = figures.mm(USUAL_WIDTH_MM)
    why = say(
        "{usual} is said to take about 95 % of wheelchairs; by the surveyed widths it takes"
        " the class {takes}, not {too_wide}.",
        usual=usual,
        takes=takes,
        too_wide=too_wide,
    )
    title = say("Usual clear width")
    yield compose(
        replace(
            Demand.own("usual-width", title, "at least", "mm", USUAL_WIDTH_MM, usual, _PRACTICE),
            warning=say(_OTHERS),
        ),
        replace(clear, why=why),
    )


_NO_BOUND: Final = "no bound could be proved for the poses in between"

ENDS_WITHIN_DEG: Final = 0.5
"""How far the last pose of the user's own stages may be from the stowed one: what a latch draws in, common
practice.
"""


def clearance_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the tightest pair of the fold, and every other pair that has less than the clearance demanded."""
    demanded = subjects.design.fold.clearance_mm
    for place, pair in enumerate(subjects.clearance.pairs):
        less = pair.certified_mm < demanded
        if place == 0 or (less and verdict(pair.certified_mm, demanded, "at least")[1] is Status.EXCEEDS):
            yield clearance_check(pair, demanded)


def clearance_check(pair: PairClearance, demanded: MM) -> Check:
    """Return the check of one pair of the fold."""
    proved = math.isfinite(pair.certified_mm)
    key = "-".join(pair.what.replace("-", " ").split())
    value, why = (pair.certified_mm if proved else pair.clearance_mm), _nearest(pair)
    finding: Finding = Measured(
        key=key,
        subject=named(pair.what),
        pair=pair.kin,
        value=value,
        text=say("overlaps {depth}", depth=figures.mm(-value)) if value < 0 else "",
        working=prose(_clearance_lines, pair),
        why=why,
        member=pair.member_a,
        share=pair.at,
    )
    if not proved and value >= demanded:
        left = say(
            "It is {clearance} there, but no bound could be proved for the poses in between.",
            clearance=figures.figure(value, "mm", 2),
        )
        why = f"{why} {left}"
        finding = Unjudged(key=key, subject=named(pair.what), pair=pair.kin, why=why, share=pair.at)
    return compose(
        Demand.own(
            "clearance",
            say("Clearance while folding"),
            "at least",
            "mm",
            demanded,
            say("{clearance} clear", clearance=figures.mm(demanded)),
        ),
        finding,
    )


def _nearest(pair: PairClearance) -> str:
    one, other, at = named(pair.member_a), named(pair.member_b), _at(pair.pose)
    if pair.clearance_mm < 0:
        return say(
            "{one} and {other} overlap by {depth}, {at}.",
            one=one,
            other=other,
            depth=figures.figure(-pair.clearance_mm, "mm", 2),
            at=at,
        )
    return say("{one} and {other} come nearest {at}.", one=one, other=other, at=at)


def _clearance_lines(pair: PairClearance) -> Lines:
    certified = say(
        "= {certified} certified: no pose of the fold has less",
        certified=figures.figure(pair.certified_mm, "mm", 2),
    )
    return (
        say("clearance = least distance of {what} over the whole fold", what=named(pair.what)),
        say(
            "= {clearance} sampled, {at}",
            clearance=figures.figure(pair.clearance_mm, "mm", 2),
            at=_at(pair.pose),
        ),
        certified if math.isfinite(pair.certified_mm) else say(_NO_BOUND),
    )


def _at(pose: Pose) -> str:
    inner, fold = (figures.fixed(angle, 1, "°") for angle in _in_degrees(pose))
    return say("with the inner leaf at {inner} to the level and the joint at {fold}", inner=inner, fold=fold)


def ends_stowed(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the user's own stages end at the stowed pose, for which all stowed sizes hold."""
    if not subjects.design.fold_stages:
        return
    end, stowed = subjects.path.stages[-1].pose_end, subjects.stowed.pose
    off = max(abs(a - b) for a, b in zip(_in_degrees(end), _in_degrees(stowed), strict=True))
    left = say(
        "The last stage leaves the {end}; let it end at the stowed pose, {stowed}.",
        end=_both(end),
        stowed=_both(stowed),
    )
    yield compose(
        Demand.own(
            "ends-stowed",
            say("Fold ends stowed"),
            "at most",
            "deg",
            ENDS_WITHIN_DEG,
            say("{angle} off", angle=figures.degrees(ENDS_WITHIN_DEG)),
        ),
        Measured(
            key="",
            subject="",
            value=off,
            working=prose(_ends_lines, end, stowed, off),
            text=figures.degrees(off),
            why="" if off <= ENDS_WITHIN_DEG else left,
            share=1.0,
        ),
    )


def _ends_lines(end: Pose, stowed: Pose, off_deg: DEG) -> Lines:
    return (
        say("last stage ends with the {pose}", pose=_both(end)),
        say("stowed is the {pose}", pose=_both(stowed)),
        say("greatest difference = {off}", off=figures.degrees(off_deg)),
    )


def _both(pose: Pose) -> str:
    inner, fold = map(figures.degrees, _in_degrees(pose))
    return say("inner leaf at {inner}, joint at {fold}", inner=inner, fold=fold)


def _in_degrees(pose: Pose) -> tuple[DEG, DEG]:
    return math.degrees(pose.inner_rad), math.degrees(pose.fold_rad)
