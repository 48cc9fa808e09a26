"""Quantities of what the ramp carries and what holds it."""

import math

from rampdraft import figures
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged, on_whole
from rampdraft.figures import fixed


def joint_held(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether something holds the joint straight under load."""
    joint = subjects.joint
    text = f"held by the {joint.by}" if joint.held else "not held"
    work = figures.given("joint under load", text)
    return (
        Measured(
            key="joint",
            part="joint",
            subject="joint",
            value=float(joint.held),
            text=text,
            working=work,
            why=joint.words,
        ),
    )


def rated_load(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the load for which the ramp is to be marked."""
    load = subjects.design.use.rated_load_kg
    return on_whole(load, figures.given("rated load, as given", f"{figures.number(load)} kg"))


def deploying_force(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the greatest force of the hand over the fold, at the handle that needs the least in each stage.

    Deploying goes the same way back, with the same forces but for friction.
    """
    peak, path = subjects.hand.peak, subjects.path
    if math.isnan(peak.peak_n):
        stage = subjects.hand.stages.index(peak) + 1
        return (
            Unjudged(
                key="",
                subject="",
                why=f"No handle moves the ramp in stage {stage} of the fold: add one that does.",
            ),
        )
    pose = path.pose(peak.at)
    inner, fold = math.degrees(pose.inner_rad), math.degrees(pose.fold_rad)
    work = (
        "force = dV / ds, V = weight x height + springs, s = way of the handle",
        (
            f"= {figures.number(abs(peak.peak_n))} N at the {peak.handle},"
            f" {'lifting' if peak.peak_n > 0 else 'holding back'}"
        ),
        f"with the inner leaf at {fixed(inner, 1, '°')} and the joint at {fixed(fold, 1, '°')}",
        "friction is not counted",
    )
    return (Measured(key="", subject="", value=abs(peak.peak_n), working=work, share=peak.at),)
