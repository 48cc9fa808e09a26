"""What the members use of their strength, the sag, and the pressure on the ground: the program's own
checks.
"""

from collections.abc import Iterator
from typing import Final, NamedTuple

from rampdraft import figures
from rampdraft.checks.judge import Demand, compose
from rampdraft.checks.result import Check, Source
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.figures import newton
from rampdraft.mechanics.loading.loads import is_of_use
from rampdraft.mechanics.loading.results import Sag
from rampdraft.model.design import Site
from rampdraft.prose import Lines, Prose, prose
from rampdraft.rounding import greatest, greatest_at
from rampdraft.strength.members import Verdict
from rampdraft.strength.utilisation import FOLDS, UnknownUtilisation
from rampdraft.units import MM, N

_LIMIT_STATES: Final = "EN 1990 with the recommended factors of EN 1993, EN 1995 and EN 1999"
_DEMANDED: Final = Source(
    rule_set="own", title="Demanded in the design", clause="", publication="as given under Use and Sites"
)
_OVERALL: Final = "A warning only: no rule set chosen demands an overall factor of the ramp's own users."


def strength_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield both verdicts on every family of members, the least overall factor, the sag and the pressures on
    the ground.
    """
    found = subjects.verdicts
    for verdict in found:
        yield _member(verdict)
    yield _overall(subjects, found)
    yield _sag(subjects)
    yield from _ground(subjects)


def _member(verdict: Verdict) -> Check:
    found, family = verdict.utilisation, verdict.utilisation.family
    source = Source(
        rule_set="own", title="Limit states", clause=found.outcome.clause, publication=_LIMIT_STATES
    )
    if isinstance(found, UnknownUtilisation):
        finding: Finding = Unjudged(
            key=family.key,
            subject=family.subject,
            part=family.key,
            leaf=family.leaf,
            why=found.outcome.why,
        )
    else:
        factor = f"; factor {figures.number(verdict.factor, 1)} on ultimate" if verdict.factor else ""
        finding = Measured(
            key=family.key,
            subject=family.subject,
            part=family.key,
            leaf=family.leaf,
            value=found.ratio,
            working=prose(_member_lines, found.outcome.worked, verdict.factor),
            member=found.member,
            text=f"{figures.percent(found.ratio)}{factor}",
            why=f"Worst: {found.load}.",
        )
    demand = Demand(
        id="own/strength", kind="own/strength", title=family.title, source=source, sense="at most",
        unit="share", limit=1.0, limit_text="100 % of the strength",
    )  # fmt: skip
    return compose(demand, finding)


def _member_lines(worked: Prose, factor: float | None) -> Lines:
    if not factor:
        return worked.lines()
    words = f"overall factor on ultimate strength, loads as they are = {figures.number(factor, 2)}"
    return *worked.lines(), words


def _overall(subjects: Subjects, found: tuple[Verdict, ...]) -> Check:
    judged = [verdict for verdict in found if verdict.factor is not None]
    unknown = [verdict for verdict in found if verdict.factor is None]
    least = greatest(judged, lambda verdict: -(verdict.factor or 0.0)) if judged else None
    limit = subjects.design.use.overall_factor
    if least is None or least.factor is None or (unknown and least.factor >= limit):
        why = f"{unknown[0].utilisation.family.name} cannot be judged."
        finding: Finding = Unjudged(key="", subject="", why=why)
    else:
        work = (
            f"least of {len(judged)}: {least.utilisation.family.name}",
            f"= {figures.number(least.factor, 2)}, loads with bumps, no other factors",
        )
        finding = Measured(
            key="",
            subject="",
            value=least.factor,
            working=work,
            member=least.utilisation.member,
            why=f"{least.utilisation.family.name} has the least.",
        )
    demand = Demand(
        id="own/overall-factor",
        kind="own/overall-factor",
        title="Overall factor on ultimate strength",
        source=_DEMANDED,
        sense="at least",
        unit="factor",
        limit=limit,
        limit_text=figures.number(limit, 2),
        warning=_OVERALL,
    )
    return compose(demand, finding)


def _sag(subjects: Subjects) -> Check:
    carried, limit = subjects.carried, subjects.design.use.sag_limit
    finding: Finding
    if not carried.held:
        finding = Unjudged(key="", subject="", why=FOLDS)
    elif carried.sag is None:
        why = f"The material '{subjects.design.made_of.rails}' has no modulus of elasticity given."
        finding = Unjudged(key="", subject="", why=why)
    else:
        finding = _sag_of(subjects, carried.sag)
    span = _span_mm(subjects)
    demand = Demand(
        id="own/sag",
        kind="own/sag",
        title="Sag under load",
        source=_DEMANDED,
        sense="at most",
        unit="mm",
        limit=span / limit,
        limit_text=f"{figures.mm(span / limit)}, {figures.mm(span)} / {figures.number(limit)}",
    )
    return compose(demand, finding)


def _span_mm(subjects: Subjects) -> MM:
    return max(end - start for start, end in subjects.carried.spans.ends_mm)


def _sag_of(subjects: Subjects, sag: Sag) -> Finding:
    carried = subjects.carried
    rolling = [number for number, load in enumerate(carried.loads) if is_of_use(load)]
    total = sag.self_weight_mm + sag.load_mm[rolling] + sag.play_mm
    row, at = greatest_at(total)
    load, own, play = (
        float(part) for part in (sag.load_mm[rolling[row]][at], sag.self_weight_mm[at], sag.play_mm[at])
    )
    work = (
        (
            f"{carried.loads[rolling[row]].words}, without bumps, {figures.mm(float(sag.x_mm[at]))} from the"
            " deck hinge"
        ),
        "sag = integral of m M / (E I) for the load + own weight + play of the joint before its stop bears",
        (
            f"= {figures.mm(load)} + {figures.mm(own)} + {figures.mm(play)} ="
            f" {figures.mm(float(total[row, at]))}"
        ),
    )
    return Measured(key="", subject="", value=float(total[row, at]), working=work, member="inner rail 1")


def _ground(subjects: Subjects) -> Iterator[Check]:
    """Yield the pressure under toe and prop at each site whose ground is said to bear so much."""
    design, carried = subjects.design, subjects.carried
    of_use = [number for number, load in enumerate(carried.loads) if is_of_use(load)]
    rails = len(design.outer_leaf.rail_lanes_mm)
    toe_n = float(carried.toe_n[of_use].max()) + carried.self_weight_toe_n
    if design.toe.kind != "flap":
        toe_n = float(carried.toe_rails_n[of_use].max()) + carried.self_weight_toe_n / rails
    area, how = _toe_area_mm2(subjects)
    pressed = [_Pressed("toe", "Ground under the toe", toe_n, area, how, "outer rail 1")]
    if design.prop.fitted:
        prop_n = float(carried.joint.prop_n[of_use].max()) + carried.joint.self_weight_prop_n
        side = design.prop.foot_mm
        how = f"{figures.mm(side)} square"
        pressed.append(_Pressed("prop", "Ground under a prop", prop_n, side**2, how, "prop foot left"))
    for number, site in enumerate(design.sites, start=1) if carried.held else ():
        for one in pressed if site.ground_bears_kpa else ():
            yield _pressure(one, site, number)


class _Pressed(NamedTuple):
    """What presses on the ground, and on how much of it."""

    key: str
    title: str
    force_n: N
    area_mm2: float
    how: str
    member: str


def _pressure(one: _Pressed, site: Site, number: int) -> Check:
    pressure, force, bears = 1000 * one.force_n / one.area_mm2, newton(one.force_n), site.ground_bears_kpa
    work = (
        f"force with bumps and own weight = {force} on {one.how}",
        f"= {force} / {figures.number(one.area_mm2, 0)} mm2 = {figures.number(pressure, 0)} kPa",
    )
    finding = Measured(
        key=f"{one.key}-site-{number}", subject=site.name, part=one.key, value=pressure, working=work,
        member=one.member, site_number=number,
    )  # fmt: skip
    demand = Demand(
        id="own/ground", kind="own/ground", title=one.title, source=_DEMANDED, sense="at most", unit="kPa",
        limit=bears, limit_text=f"{figures.number(bears, 0)} kPa, what the ground is said to bear",
    )  # fmt: skip
    return compose(demand, finding)


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
            f"half of the flap, {figures.mm(leaf.width_mm)} x {figures.mm(toe.length_mm)}",
        )
    width = leaf.rail_section.width_mm
    length = toe.length_mm if toe.kind == "taper" else leaf.rail_section.depth_mm
    what = "the taper of one rail" if toe.kind == "taper" else "the end of one rail"
    return width * length / 2, f"half of {what}, {figures.mm(width)} x {figures.mm(length)}"
