"""Quantities of what the ramp carries and what holds it."""

import math

from rampdraft import figures
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged, on_whole
from rampdraft.figures import fixed
from rampdraft.geometry.linkage import Pose
from rampdraft.prose import Lines, prose
from rampdraft.units import KG, N


def joint_held(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether something holds the joint straight under load."""
    joint = subjects.joint
    text = f"held by the {joint.by}" if joint.held else "not held"
    return (
        Measured(
            key="joint",
            part="joint",
            subject="joint",
            value=float(joint.held),
            text=text,
            working=prose(figures.given, "joint under load", text),
            why=joint.words,
        ),
    )


def rated_load(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the load for which the ramp is to be marked."""
    load = subjects.design.use.rated_load_kg
    return on_whole(load, prose(_rated_lines, load))


def _rated_lines(load: KG) -> Lines:
    return figures.given("rated load, as given", figures.kg(load))


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
    return (
        Measured(
            key="",
            subject="",
            value=abs(peak.peak_n),
            working=prose(_force_lines, peak.handle, peak.peak_n, pose),
            share=peak.at,
        ),
    )


def _force_lines(handle: str, peak: N, pose: Pose) -> Lines:
    inner, fold = (fixed(math.degrees(angle), 1, "°") for angle in (pose.inner_rad, pose.fold_rad))
    does = "lifting" if peak > 0 else "holding back"
    return (
        "force = dV / ds, V = weight x height + springs, s = way of the handle",
        f"= {figures.number(abs(peak))} N at the {handle}, {does}",
        f"with the inner leaf at {inner} and the joint at {fold}",
        "friction is not counted",
    )
