"""Quantities of what the ramp carries and what holds it."""

import math

from rampdraft.checks.result import Finding, Measured, Subjects, Unjudged, on_whole
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.loading.loads import is_of
from rampdraft.rounding import greatest
from rampdraft.strength.utilisation import Basis, UnknownUtilisation, Utilisation
from rampdraft.units import KG, N
from rampdraft.words import figures
from rampdraft.words.prose import Lines, Prose, prose
from rampdraft.words.say import say


def joint_held(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether something holds the joint straight under load."""
    joint = subjects.joint
    by = say("held by the stop" if joint.by == "stop" else "held by the prop")
    text = by if joint.held else say("not held")
    return (
        Measured(
            key="joint",
            part="joint",
            subject=say("joint"),
            value=float(joint.held),
            text=text,
            working=prose(figures.given, say("joint under load"), text),
            why=joint.words,
        ),
    )


def rated_load(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the load for which the ramp is to be marked."""
    load = subjects.design.use.rated_load_kg
    return on_whole(load, prose(_rated_lines, load))


def _rated_lines(load: KG) -> Lines:
    return figures.given(say("rated load, as given"), figures.kg(load))


def deploying_force(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the greatest force of hands at one place over the fold, of those needed at once.

    Deploying goes the same way back, with the same forces but for friction.
    """
    most = greatest(subjects.hands, lambda stage: stage.most.force).most
    return (
        Measured(
            key="",
            subject="",
            value=most.force,
            working=prose(_force_lines, most.handle, most.force_n, subjects.path.pose(most.at)),
            share=most.at,
        ),
    )


def _force_lines(handle: str, peak: N, pose: Pose) -> Lines:
    inner, fold = (figures.fixed(math.degrees(angle), 1, "°") for angle in (pose.inner_rad, pose.fold_rad))
    return (
        say("force = moment / arm, square to the arm, of all hands that the pose needs at once"),
        say(
            "= {force} at the {place}, lifting" if peak > 0 else "= {force} at the {place}, holding back",
            force=figures.newton(abs(peak)),
            place=say(handle),
        ),
        say("with the inner leaf at {inner} and the joint at {fold}", inner=inner, fold=fold),
        say("friction is not counted"),
    )


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
            why=say("The rule file gives no load that could be put on the ramp: add one to it."),
        )
    found = subjects.strengths.utilisations(basis, numbers)
    judged = [one for one in found if isinstance(one, Utilisation)]
    unknown = [one for one in found if isinstance(one, UnknownUtilisation)]
    worst = greatest(judged, lambda one: one.ratio) if judged else None
    if worst is None or (unknown and worst.ratio <= 1 / (least_factor or 1.0)):
        family = unknown[0].family
        return Unjudged(
            key="",
            subject="",
            part=family.key,
            leaf=family.leaf,
            why=f"{family.name}: {unknown[0].outcome.why}",
        )
    others = sorted((one for one in judged if one is not worst), key=lambda one: -one.ratio)[:3]
    value, name = 1 / worst.ratio if least_factor else worst.ratio, worst.family.name
    next_ones = tuple((one.family.name, one.ratio) for one in others)
    factor = (worst.ratio, value) if least_factor else None
    working = prose(_lines, name, len(judged), worst.outcome.worked, next_ones, factor)
    return Measured(
        key="",
        subject="",
        part=worst.family.key,
        leaf=worst.family.leaf,
        value=value,
        working=working,
        member=worst.member,
        why=say("{family} governs.", family=name),
    )


def _lines(
    name: str,
    count: int,
    worked: Prose,
    others: tuple[tuple[str, float], ...],
    factor: tuple[float, float] | None,
) -> Lines:
    after = "; ".join(f"{other} {figures.percent(ratio)}" for other, ratio in others)
    lines = (
        say("{name} is the worst of {count} families of members", name=name, count=count),
        *worked.lines(),
        say("next: {others}", others=after),
    )
    if factor is None:
        return lines
    ratio, value = (figures.number(one, digits) for one, digits in zip(factor, (4, 2), strict=True))
    return *lines, say("safety factor on ultimate strength = 1 / {ratio} = {value}", ratio=ratio, value=value)
