"""Quantities of what the ramp carries and what holds it."""

from rampdraft.checks import working
from rampdraft.checks.subjects import Finding, Measured, Subjects, on_whole


def joint_held(subjects: Subjects) -> tuple[Finding, ...]:
    """Return whether something holds the joint straight under load."""
    joint = subjects.fold.joint
    text = f"held by the {joint.by}" if joint.held else "not held"
    work = working.given("joint under load", text)
    return (Measured(key="joint", subject="joint", value=float(joint.held), text=text, working=work, why=joint.words),)


def rated_load(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the load for which the ramp is to be marked."""
    load = subjects.design.use.rated_load_kg
    return on_whole(load, working.given("rated load, as given", f"{working.number(load)} kg"))
