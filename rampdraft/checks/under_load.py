"""All members under one load, or under the ramp's own users: what each uses of its strength, and the worst of
them.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from rampdraft import figures
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.mechanics.loading.loads import is_of, is_own
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.design import Design
from rampdraft.rounding import greatest
from rampdraft.strength.basis import LIMIT_STATES, ULTIMATE, Basis
from rampdraft.strength.uses import Found, Job, MemberUse, UnknownUse
from rampdraft.strength.uses_joint import joint_uses
from rampdraft.strength.uses_prop import prop_uses
from rampdraft.strength.uses_rails import rail_uses
from rampdraft.strength.uses_surface import surface_uses


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Both verdicts on one family of members under the ramp's users and its rated load."""

    use: Found
    """By limit states."""
    factor: float | None
    """Overall factor on ultimate strength; None where it cannot be judged."""


def member_uses(job: Job) -> Iterator[Found]:
    """Yield what every family of members uses of its strength."""
    yield from rail_uses(job)
    yield from surface_uses(job)
    yield from joint_uses(job)
    yield from prop_uses(job)


def verdicts(subjects: Subjects) -> tuple[Verdict, ...]:
    """Return both verdicts on every family of members, measured once."""
    if "verdicts" not in subjects.kept:
        subjects.kept["verdicts"] = verdicts_on(subjects.design, subjects.carried)
    return subjects.kept["verdicts"]  # pyright: ignore[reportReturnType]


def verdicts_on(design: Design, carried: Carried) -> tuple[Verdict, ...]:
    """Return both verdicts on every family of members under the ramp's users and its rated load."""
    own = tuple(number for number, load in enumerate(carried.loads) if is_own(load))
    limits, ultimate = (
        tuple(member_uses(Job(design=design, carried=carried, basis=basis, loads=own)))
        for basis in (LIMIT_STATES, ULTIMATE)
    )
    factors = {use.key: 1 / use.ratio for use in ultimate if isinstance(use, MemberUse) and use.ratio > 0}
    return tuple(Verdict(use=use, factor=factors.get(use.key)) for use in limits)


def under_load(subjects: Subjects, key: str, basis: Basis, least_factor: float | None) -> Finding:
    """Return the worst member under the load of a rule: its share of the strength, or with `least_factor` the
    factor left.

    What cannot be judged keeps the whole from being called within the limit, unless another member is beyond
    it.
    """
    carried = subjects.carried
    numbers = tuple(number for number, load in enumerate(carried.loads) if is_of(load, key))
    if not numbers:
        return Unjudged(
            key="",
            subject="",
            why="The rule file gives no load that could be put on the ramp: add one to it.",
        )
    found = tuple(member_uses(Job(design=subjects.design, carried=carried, basis=basis, loads=numbers)))
    uses = [use for use in found if isinstance(use, MemberUse)]
    unknown = [use for use in found if isinstance(use, UnknownUse)]
    worst = greatest(uses, lambda use: use.ratio) if uses else None
    if worst is None or (unknown and worst.ratio <= 1 / (least_factor or 1.0)):
        return Unjudged(
            key="",
            subject="",
            part=unknown[0].key,
            leaf=unknown[0].leaf,
            why=f"{name(unknown[0])}: {unknown[0].why}",
        )
    others = sorted((use for use in uses if use is not worst), key=lambda use: -use.ratio)[:3]
    lines = (
        f"{name(worst)} is the worst of {len(uses)} families of members",
        *worst.working(),
        f"next: {'; '.join(f'{name(use)} {figures.percent(use.ratio)}' for use in others)}",
        *(
            (
                (
                    f"factor on ultimate strength = 1 / {figures.number(worst.ratio, 4)} ="
                    f" {figures.number(1 / worst.ratio, 2)}"
                ),
            )
            if least_factor
            else ()
        ),
    )
    value = 1 / worst.ratio if least_factor else worst.ratio
    return Measured(
        key="",
        subject="",
        part=worst.key,
        leaf=worst.leaf,
        value=value,
        working=lines,
        member=worst.member,
        why=f"{name(worst)} governs.",
    )


def name(use: Found) -> str:
    """Return what a use is called in a sentence: `Pins (joint)`."""
    return f"{use.title} ({use.subject})" if use.subject else use.title
