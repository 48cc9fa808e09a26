"""What the members use of their strength, the sag, and the pressure on the ground."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from rampdraft.checks.result import (
    Check,
    Demand,
    Finding,
    Measured,
    Result,
    Source,
    Status,
    Subjects,
    Unjudged,
    compose,
)
from rampdraft.mechanics.loading.loads import is_of_use
from rampdraft.mechanics.loading.results import Sag
from rampdraft.rounding import greatest, greatest_at
from rampdraft.strength.formula import Formula, Symbol, Worked
from rampdraft.strength.members import Verdict
from rampdraft.strength.utilisation import FOLDS, UnknownUtilisation, Utilisation, loose_words
from rampdraft.units import MM, MM2, N
from rampdraft.words import figures
from rampdraft.words.prose import Lines, Prose, prose
from rampdraft.words.say import say

DEMANDED: Final = Source(
    rule_set="own", title="As given in the design", clause="", publication="as given under Use and Sites"
)


STATICS: Final = Source(
    rule_set="own",
    title="Statics",
    clause="",
    publication="a structure that is no mechanism, common practice",
)
PROPPED: Final = Source(rule_set="own", title="A prop that stays", clause="", publication="common practice")
STATES: Final = Source(
    rule_set="own",
    title="Limit states",
    clause="",
    publication="EN 1990 with the recommended factors of EN 1993, EN 1995 and EN 1999",
)


def strength_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield both verdicts on every family of members, the least overall factor, the sag and the pressures on
    the ground.
    """
    found = subjects.verdicts
    yield _held(subjects)
    for verdict in (*found, *subjects.fixed):
        yield _member(verdict)
    yield _overall(subjects, found)
    yield _sag(subjects)
    if subjects.design.prop.fitted and subjects.carried.held:
        yield _kicked(subjects)
    yield from _ground(subjects)


def _held(subjects: Subjects) -> Check:
    """Return whether every rail is held by something: the rank of the grillage's stiffness."""
    loose = subjects.carried.loose
    text = say("something gives way freely") if loose else say("every rail is held")
    finding = Measured(
        key="",
        subject="",
        value=float(not loose),
        text=text,
        working=prose(
            figures.given, say("rails, cross members, hinges, stops and props as a grillage"), text
        ),
        why=loose_words(loose) if loose else "",
        member=f"{loose[0][0]} rail {loose[0][1]}" if loose else "",
    )
    return compose(
        Demand.own(
            "no-mechanism",
            say("Every rail held by something"),
            "is",
            "yes/no",
            1.0,
            say("every rail held"),
            STATICS,
        ),
        finding,
    )


KICK_N: Final = 200.0
"""Sideways push that a prop has to stand while nobody is on the ramp, a kick or a trolley that rolls
against it: common practice.
"""
FRICTION: Final = 0.3
"""Of a foot plate on wet ground; common practice."""
KICKED: Final = Formula(Symbol("mu", figures.number) * Symbol("N", figures.newton), figures.newton)


def _kicked(subjects: Subjects) -> Check:
    """Return whether a kick sends a prop away: it stands by friction alone, or is tied."""
    tied, least = subjects.design.prop.tied, subjects.carried.joint.least_prop_n
    held = KICKED.of(FRICTION, least)
    finding = Measured(
        key="",
        subject="",
        part="prop",
        value=1.0 if tied else min(held.value / KICK_N, 1.0) if held.value < KICK_N else 1.0,
        text=say("tied at both ends")
        if tied
        else say("slides under {force}", force=figures.newton(held.value)),
        working=prose(_kicked_lines, tied, held),
        why=""
        if tied
        else say("A kick sends it away, and the ramp falls: tie it at the leaf and at its foot."),
        member="prop left",
    )
    words = say("stands a push of {force}, or is tied", force=figures.newton(KICK_N))
    return compose(
        Demand.own("prop-kick", say("Prop kicked sideways"), "is", "yes/no", 1.0, words, PROPPED), finding
    )


def _kicked_lines(tied: bool, held: Worked) -> Lines:
    if tied:
        return figures.given(say("prop"), say("tied at the leaf and at its foot"))
    return say("the empty ramp's weight on the least loaded prop, by friction"), f"F = {held.line}"


def _member(verdict: Verdict) -> Check:
    found, family = verdict.utilisation, verdict.utilisation.family
    source = replace(STATES, clause=found.outcome.clause)
    if isinstance(found, UnknownUtilisation):
        finding: Finding = Unjudged(
            key=family.key,
            subject=family.subject,
            part=family.key,
            leaf=family.leaf,
            why=found.outcome.why,
        )
    else:
        text = say("{share} used", share=figures.percent(found.ratio))
        if verdict.factor:
            text += f", {say('safety factor {factor}', factor=figures.fixed(verdict.factor, 1))}"
        finding = Measured(
            key=family.key,
            subject=family.subject,
            part=family.key,
            leaf=family.leaf,
            value=found.ratio,
            working=prose(_member_lines, found.outcome.worked, verdict.factor),
            member=found.member,
            text=text,
            why=say("Worst: {load}.", load=found.load),
        )
    return compose(
        Demand.own("strength", family.title, "at most", "share", 1.0, say("100 % of the strength"), source),
        finding,
    )


def _member_lines(worked: Prose, factor: float | None) -> Lines:
    if not factor:
        return worked.lines()
    words = say(
        "safety factor on ultimate strength, loads as they are = {factor}", factor=figures.number(factor, 2)
    )
    return *worked.lines(), words


def _overall(subjects: Subjects, found: tuple[Verdict, ...]) -> Check:
    judged = [verdict for verdict in found if verdict.factor is not None]
    unknown = [verdict for verdict in found if verdict.factor is None]
    least = greatest(judged, lambda verdict: -(verdict.factor or 0.0)) if judged else None
    limit = subjects.design.use.overall_factor
    if least is None or least.factor is None or (unknown and least.factor >= limit):
        finding: Finding = Unjudged(
            key="", subject="", why=say("{family} is not judged.", family=unknown[0].utilisation.family.name)
        )
    else:
        finding = Measured(
            key="",
            subject="",
            value=least.factor,
            working=prose(_least_lines, len(judged), least.utilisation.family.name, least.factor),
            member=least.utilisation.member,
            why=say("{family} has the least.", family=least.utilisation.family.name),
        )
    return compose(
        replace(
            Demand.own(
                "overall-factor",
                say("Safety factor on ultimate strength"),
                "at least",
                "factor",
                limit,
                figures.number(limit, 2),
                DEMANDED,
            ),
            warning=say("Advice: no rule set chosen asks for a safety factor under the ramp's own users."),
        ),
        finding,
    )


def _least_lines(count: int, name: str, factor: float) -> Lines:
    return (
        say("least of {count}: {family}", count=count, family=name),
        say("= {factor}, loads with bumps, no other factors", factor=figures.number(factor, 2)),
    )


def _sag(subjects: Subjects) -> Check:
    carried, limit = subjects.carried, subjects.design.use.sag_limit
    finding: Finding
    if not carried.held:
        why = loose_words(carried.loose) if carried.loose else say(FOLDS)
        finding = Unjudged(key="", subject="", why=why)
    elif carried.sag is None:
        finding = Unjudged(
            key="",
            subject="",
            why=say(
                "The material '{material}' has no modulus of elasticity given.",
                material=subjects.design.made_of.rails,
            ),
        )
    else:
        finding = _sag_of(subjects, carried.sag)
    span = max(end - start for start, end in carried.spans.ends_mm)
    return compose(
        Demand.own(
            "sag",
            say("Sag under load"),
            "at most",
            "mm",
            span / limit,
            f"{figures.mm(span / limit)}, {figures.mm(span)} / {figures.number(limit)}",
            DEMANDED,
        ),
        finding,
    )


def _sag_of(subjects: Subjects, sag: Sag) -> Finding:
    carried = subjects.carried
    rolling = [number for number, load in enumerate(carried.loads) if is_of_use(load)]
    total = sag.self_weight_mm + sag.load_mm[rolling] + sag.play_mm
    row, at = greatest_at(total)
    load, own, play = (
        float(part) for part in (sag.load_mm[rolling[row]][at], sag.self_weight_mm[at], sag.play_mm[at])
    )
    value = float(total[row, at])
    parts = (
        (say("the load"), load),
        (say("own weight"), own),
        (say("play of the joint before its stop bears"), play),
    )
    return Measured(
        key="",
        subject="",
        value=value,
        working=prose(_sag_lines, carried.loads[rolling[row]].words, float(sag.x_mm[at]), parts, value),
        member="inner rail 1",
    )


def _sag_lines(load: str, at: MM, parts: tuple[tuple[str, MM], ...], value: MM) -> Lines:
    return (
        say("{load}, without bumps, {at} from the deck hinge", load=load, at=figures.mm(at)),
        say("sag = integral of m M / (E I) for {parts}", parts=" + ".join(name for name, _ in parts)),
        f"= {' + '.join(figures.mm(part) for _, part in parts)} = {figures.mm(value)}",
    )


@dataclass(frozen=True, slots=True)
class _Press:
    """What presses on the ground: its key, title and member, the force, and the area in numbers and words."""

    key: str
    title: str
    member: str
    force_n: N
    area_mm2: MM2
    words: str

    @property
    def kpa(self) -> float:
        return 1000 * self.force_n / self.area_mm2

    def lines(self) -> Lines:
        force, area = figures.newton(self.force_n), figures.mm2(self.area_mm2)
        return (
            say("force with bumps and own weight = {force} on {area}", force=force, area=self.words),
            f"= {force} / {area} = {figures.figure(self.kpa, 'kPa', 0)}",
        )


def _ground(subjects: Subjects) -> Iterator[Check]:
    if not subjects.carried.held:
        return
    pressing = tuple(_pressing(subjects))
    for number, site in enumerate(subjects.design.sites, start=1):
        bears = site.ground_bears_kpa
        for one in pressing if bears else ():
            yield compose(
                Demand.own(
                    "ground",
                    one.title,
                    "at most",
                    "kPa",
                    bears,
                    say(
                        "{pressure}, what the ground is said to bear",
                        pressure=figures.figure(bears, "kPa", 0),
                    ),
                    DEMANDED,
                ),
                Measured(
                    key=f"{one.key}-site-{number}",
                    subject=site.name,
                    part=one.key,
                    value=one.kpa,
                    working=prose(_Press.lines, one),
                    member=one.member,
                    site_number=number,
                ),
            )


def _pressing(subjects: Subjects) -> Iterator[_Press]:
    design, carried = subjects.design, subjects.carried
    of_use = [number for number, load in enumerate(carried.loads) if is_of_use(load)]
    toe_n = float(carried.toe_n[of_use].max()) + carried.self_weight_toe_n
    if design.toe.kind != "flap":
        rails = len(design.outer_leaf.rail_lanes_mm)
        toe_n = float(carried.toe_rails_n[of_use].max()) + carried.self_weight_toe_n / rails
    yield _Press("toe", say("Ground under the toe"), "outer rail 1", toe_n, *_toe_area_mm2(subjects))
    if design.prop.fitted:
        prop_n, side = (
            float(carried.joint.prop_n[of_use].max()) + carried.joint.self_weight_prop_n,
            design.prop.foot_mm,
        )
        square = say("{side} square", side=figures.mm(side))
        yield _Press("prop", say("Ground under a prop"), "prop foot left", prop_n, side**2, square)


def _toe_area_mm2(subjects: Subjects) -> tuple[float, str]:
    """Return the area with which the toe stands on soft ground, and words for it.

    The pressure rises from nothing to its greatest along what lies on the ground, so half of it counts: a
    flap, the taper of the rails, or as much of plain rails as they are deep.
    """
    design = subjects.design
    toe, leaf = design.toe, design.outer_leaf
    if toe.kind == "flap":
        return (
            leaf.width_mm * toe.length_mm / 2,
            say(
                "half of the flap, {width} x {length}",
                width=figures.mm(leaf.width_mm),
                length=figures.mm(toe.length_mm),
            ),
        )
    width = leaf.rail_section.width_mm
    length = toe.length_mm if toe.kind == "taper" else leaf.rail_section.depth_mm
    return width * length / 2, say(
        "half of the taper of one rail, {width} x {length}"
        if toe.kind == "taper"
        else "half of the end of one rail, {width} x {length}",
        width=figures.mm(width),
        length=figures.mm(length),
    )


_ID: Final = "own/strength/"


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberRow:
    """One family of members."""

    key: str
    """As in the check's id: `own/strength/inner-rails`."""
    name: str
    """`Pins (joint)`."""
    share: float | None
    """Of the strength, by limit states; None where it cannot be judged."""
    factor: float | None
    """Overall factor on ultimate strength; None where it cannot be judged."""
    status: Status
    result: Result
    """By limit states, for programs and for people."""
    load: str
    """Words of the load that governs; empty where none does."""
    member: str
    """Key of the member it speaks of; empty for none."""
    why: str
    """Why it cannot be judged."""


def member_rows(verdicts: Iterable[Verdict], checks: Iterable[Check]) -> tuple[MemberRow, ...]:
    """Return the families of members that are among the checks, in their order: worst first."""
    found = {_ID + one.utilisation.family.key: one for one in verdicts}
    return tuple(_row(found[check.id], check) for check in checks if check.id in found)


def _row(verdict: Verdict, check: Check) -> MemberRow:
    found = verdict.utilisation
    known = isinstance(found, Utilisation)
    return MemberRow(
        key=found.family.key,
        name=found.family.name,
        share=found.ratio if known else None,
        factor=verdict.factor,
        status=check.status,
        result=check.result,
        load=found.load if known else "",
        member=found.member,
        why="" if known else found.outcome.why,
    )
