"""What the program itself demands of a ramp that works, whatever rules are chosen; and figures worth
knowing.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft import figures
from rampdraft.checks.judge import Demand, compose, lines_of, verdict
from rampdraft.checks.quantities import load, surface
from rampdraft.checks.quantities.table import Unit
from rampdraft.checks.result import Check, Sense, Source, Status
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.mechanics.loading.loads import NOT_RIDDEN
from rampdraft.mechanics.results import PairClearance, SitePose
from rampdraft.model.catalogue import survey_classes
from rampdraft.model.design import SiteKind
from rampdraft.units import MM

_SOURCE: Final = Source(
    rule_set="own",
    title="A ramp that works",
    clause="",
    publication="what this program demands of any folding ramp",
)
_PRACTICE: Final = Source(
    rule_set="own", title="Common practice", clause="", publication="common practice of the trade"
)

_OTHERS: Final = "A warning only: the ramp may be meant for other users."
_NO_BOUND: Final = "no bound could be proved for the poses in between"

_ANY_SITE: tuple[SiteKind, ...] = ("ground", "kerb", "platform")

ENDS_WITHIN_DEG: Final = 0.5
"""How far the last pose of the user's own stages may be from the stowed one: what a latch draws in, common
practice.
"""

USUAL_WIDTH_MM: Final = 800.0
"""Clear width that is said to take about 95 % of wheelchairs; common practice, no published source."""


def own_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the program's own checks."""
    yield from _ends_stowed(subjects)
    yield from _joint(subjects)
    yield from _stowed(subjects)
    for pose in subjects.poses(_ANY_SITE):
        yield _stands(subjects, pose)
        if subjects.design.prop.fitted and pose.reaches:
            yield _prop(subjects, pose)
    yield _fits_opening(subjects)
    yield from _users(subjects)
    yield from _surveyed(subjects)


def _check(
    id: str, title: str, finding: Finding, limit: float | None, sense: Sense, unit: Unit, limit_text: str = ""
) -> Check:
    text = limit_text or (figures.mm(limit) if limit is not None else "")
    demand = Demand(
        id=f"own/{id}",
        kind=f"own/{id}",
        title=title,
        source=_SOURCE,
        sense=sense,
        unit=unit,
        limit=limit,
        limit_text=text,
    )
    return compose(demand, finding)


def clearance_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the tightest pair of the fold, and every other pair that has less than the clearance demanded."""
    demanded = subjects.design.fold.clearance_mm
    for place, pair in enumerate(subjects.clearance.pairs):
        status = verdict(pair.certified_mm, demanded, "at least")[1]
        if place == 0 or status is Status.EXCEEDS:
            yield _clearance(pair, demanded)


def _clearance(pair: PairClearance, demanded: MM) -> Check:
    inner, fold = math.degrees(pair.pose.inner_rad), math.degrees(pair.pose.fold_rad)
    at = f"with the inner leaf at {inner:.1f}° to the level and the joint at {fold:.1f}°"
    pair_words = f"{pair.member_a} and {pair.member_b}"
    if pair.clearance_mm < 0:
        why = f"{pair_words} clash, {figures.number(-pair.clearance_mm, 2)} mm into each other, {at}."
    else:
        why = f"{pair_words} come nearest {at}."
    proved = math.isfinite(pair.certified_mm)
    bound = (
        f"= {figures.number(pair.certified_mm, 2)} mm certified: no pose of the fold has less"
        if proved
        else _NO_BOUND
    )
    work = (
        f"clearance = least distance of {pair.what} over the whole fold",
        f"= {figures.number(pair.clearance_mm, 2)} mm sampled, {at}",
        bound,
    )
    key = "-".join(pair.what.replace("-", " ").split())
    value = pair.certified_mm if proved else pair.clearance_mm
    finding: Finding = Measured(
        key=key,
        subject=pair.what,
        pair=pair.kin,
        value=value,
        working=work,
        why=why,
        member=pair.member_a,
        share=pair.at,
    )
    if not proved and value >= demanded:
        why = f"{why} It is {figures.number(value, 2)} mm there, but {_NO_BOUND}."
        finding = Unjudged(key=key, subject=pair.what, pair=pair.kin, why=why, share=pair.at)
    return _check("clearance", "Clearance while folding", finding, demanded, "at least", "mm")


def _ends_stowed(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the user's own stages end at the stowed pose, for which all stowed sizes hold."""
    if not subjects.design.fold_stages:
        return
    end, stowed = subjects.path.stages[-1].pose_end, subjects.stowed.pose
    ends, meant = (
        [math.degrees(angle) for angle in (pose.inner_rad, pose.fold_rad)] for pose in (end, stowed)
    )
    off = max(abs(one - other) for one, other in zip(ends, meant, strict=True))
    at, to = (
        f"inner leaf at {figures.degrees(inner)}, joint at {figures.degrees(fold)}"
        for inner, fold in (ends, meant)
    )
    work = (
        f"last stage ends with the {at}",
        f"stowed is the {to}",
        f"greatest difference = {figures.degrees(off)}",
    )
    why = (
        ""
        if off <= ENDS_WITHIN_DEG
        else f"The last stage leaves the {at}; let it end at the stowed pose, {to}."
    )
    finding = Measured(
        key="", subject="", value=off, working=work, text=figures.degrees(off), why=why, share=1.0
    )
    yield _check(
        "ends-stowed",
        "Fold ends stowed",
        finding,
        ENDS_WITHIN_DEG,
        "at most",
        "deg",
        f"{figures.degrees(ENDS_WITHIN_DEG)} off",
    )


def _joint(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the joint is held, and whether butting faces can bear."""
    design = subjects.design
    (held,) = load.joint_held(subjects)
    yield _check(
        "held", "Joint held straight under load", replace(held, subject=""), 1.0, "is", "yes/no", "demanded"
    )
    if design.stop.kind == "butt":
        arm, above = design.stop.arm_mm, design.fold.closing == "backs"
        bears = arm > 0 if above else arm < 0
        side = "above" if above else "below"
        why = (
            ""
            if bears
            else f"The faces open instead of meeting: put the butt height {side} the hinge centre."
        )
        work = (
            (
                f"butting faces bear {side} the hinge centre, since the leaves close {design.fold.closing}"
                " together"
            ),
            f"butt height = {figures.mm(arm)} above the centre: {'bears' if bears else 'cannot bear'}",
        )
        finding = Measured(
            key="",
            subject="",
            value=float(bears),
            working=work,
            why=why,
            member="inner stop bar 1",
            text=f"{figures.mm(arm)} above it",
        )
        yield _check(
            "stop",
            "Stop bars where they can bear",
            finding,
            1.0,
            "is",
            "yes/no",
            f"demanded {side} the hinge centre",
        )


def _stowed(subjects: Subjects) -> Iterator[Check]:
    carrier, stowed = subjects.design.carrier, subjects.stowed
    for key, title, value, room in (
        ("height", "Stowed height above the deck", stowed.above_deck_mm, carrier.stow_height_mm),
        ("out", "Stowed, out past the deck edge", stowed.out_mm, carrier.stow_out_mm),
        ("in", "Stowed, in over the deck", stowed.over_deck_mm, carrier.stow_in_mm),
    ):
        work = (f"{title.lower()} = {figures.mm(value)}", f"room given = {figures.mm(room)}")
        finding = Measured(key=key, subject="", part=key, value=value, working=work)
        yield _check("stowed", title, finding, room, "at most", "mm")


def _stands(subjects: Subjects, pose: SitePose) -> Check:
    if not pose.reaches:
        text, why = "in the air", "The ramp does not reach the ground here, however far it is let down."
    elif not pose.grounds_at_toe:
        text, why = (
            f"{pose.touches_with} first",
            f"It grounds at the {pose.touches_with} before the toe comes down.",
        )
    else:
        text, why = "toe first", ""
    x, z = pose.contact
    work = (
        f"first contact coming down: {pose.touches_with or 'nothing'}",
        f"at {figures.mm(x)} out from the deck edge, {figures.mm(z)} up",
    )
    finding = Measured(
        key=subjects.key(pose),
        subject=subjects.words(pose),
        state=pose.state,
        value=float(pose.reaches and pose.grounds_at_toe),
        working=work,
        text=text,
        why=why,
        member=pose.touches_with,
        site_number=pose.site_number,
    )
    return _check("toe", "Stands on its toe", finding, 1.0, "is", "yes/no", "demanded")


def _prop(subjects: Subjects, pose: SitePose) -> Check:
    prop, room = subjects.design.prop, pose.joint_room_mm
    short = room < prop.shortest_mm
    limit, sense = (prop.shortest_mm, "at least") if short else (prop.longest_mm, "at most")
    work = (
        f"room under the joint = {figures.mm(room)}",
        f"prop reaches from {figures.mm(prop.shortest_mm)} to {figures.mm(prop.longest_mm)}",
    )
    why = "" if prop.shortest_mm <= room <= prop.longest_mm else "The prop cannot be set to this height."
    finding = Measured(
        key=subjects.key(pose),
        subject=subjects.words(pose),
        state=pose.state,
        value=room,
        working=work,
        why=why,
        site_number=pose.site_number,
    )
    text = f"{figures.mm(limit)}, the prop's {'shortest' if short else 'longest'}"
    return _check("prop", "Prop reaches from ground to joint", finding, limit, sense, "mm", text)  # pyright: ignore[reportArgumentType]


def _fits_opening(subjects: Subjects) -> Check:
    leaves = subjects.assembly.of("inner", "outer")
    widest = max(leaves, key=lambda member: max(-member.y0_mm, member.y1_mm))
    half = max(-widest.y0_mm, widest.y1_mm)
    work = figures.plain(
        "overall width",
        "2 x farthest from the centre line",
        f"2 x {figures.mm(half)} ({widest.key})",
        figures.mm(2 * half),
    )
    finding = Measured(key="", subject="", value=2 * half, working=work, member=widest.key)
    return _check(
        "opening", "Ramp fits the opening", finding, subjects.design.carrier.opening_width_mm, "at most", "mm"
    )


def _clear_width(subjects: Subjects) -> Measured:
    (finding,) = surface.clear_width(subjects)
    assert isinstance(finding, Measured)
    return finding


def _users(subjects: Subjects) -> Iterator[Check]:
    use, clear = subjects.design.use, _clear_width(subjects)
    for place, user in enumerate(use.users, start=1):
        key, width = f"user-{place}", user.width_mm
        work = (f"width of the {user.kind} = {figures.mm(width)}", *lines_of(clear.working))
        finding = Measured(key=key, subject=user.name, user=place, value=width, working=work)
        yield _check("user-width", "User fits between the upstands", finding, clear.value, "at most", "mm")
        carried = user.mass_kg + user.attendant_kg
        work = figures.plain(
            "load",
            "user + attendant",
            f"{figures.number(user.mass_kg)} kg + {figures.number(user.attendant_kg)} kg",
            f"{figures.number(carried)} kg",
        )
        finding = Measured(key=key, subject=user.name, user=place, value=carried, working=work)
        text = f"{figures.number(use.rated_load_kg)} kg, the rated load"
        yield _check(
            "user-load", "User within the rated load", finding, use.rated_load_kg, "at most", "kg", text
        )


def _surveyed(subjects: Subjects) -> Iterator[Check]:
    """Yield for which surveyed classes of user the clear width is enough: warnings only, since a ramp may be
    for one user.

    A ramp whose users are named, and none of whom rides, is spared them.
    """
    users = subjects.design.use.users
    if users and all(user.kind in NOT_RIDDEN for user in users):
        return
    clear = _clear_width(subjects)
    classes = survey_classes()
    for row in classes:
        finding = Measured(
            key=row.kind.replace(" ", "-"), subject=row.kind, value=clear.value, working=clear.working
        )
        source = Source(rule_set="own", title="Survey of users", clause="", publication=row.source)
        demand = Demand(
            id="own/survey-width",
            kind="own/survey-width",
            title="Clear width for a surveyed class of user",
            source=source,
            sense="at least",
            unit="mm",
            limit=row.width_mm,
            limit_text=f"{figures.mm(row.width_mm)}, occupied width of a {row.kind}",
            warning=_OTHERS,
        )
        yield compose(demand, finding)
    takes = [row.kind for row in classes if row.width_mm <= USUAL_WIDTH_MM]
    too_wide = [row.kind for row in classes if row.width_mm > USUAL_WIDTH_MM]
    why = (
        f"{figures.mm(USUAL_WIDTH_MM)} is said to take about 95 % of wheelchairs; by the surveyed widths it"
        f" takes the class {', '.join(takes)}, not {', '.join(too_wide)}."
    )
    finding = Measured(key="", subject="", value=clear.value, working=clear.working, why=why)
    demand = Demand(
        id="own/usual-width",
        kind="own/usual-width",
        title="Usual clear width",
        source=_PRACTICE,
        sense="at least",
        unit="mm",
        limit=USUAL_WIDTH_MM,
        limit_text=figures.mm(USUAL_WIDTH_MM),
        warning=_OTHERS,
    )
    yield compose(demand, finding)
