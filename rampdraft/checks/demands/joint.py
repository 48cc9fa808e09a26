"""Whether the joint is held, and whether butting faces can bear."""

from collections.abc import Iterator
from dataclasses import replace

from rampdraft import figures
from rampdraft.checks.quantities import load
from rampdraft.checks.result import Check, Demand, compose
from rampdraft.checks.subjects import Measured, Subjects
from rampdraft.prose import Lines, prose
from rampdraft.units import MM


def joint_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the joint is held, and whether butting faces can bear."""
    design = subjects.design
    (held,) = load.joint_held(subjects)
    demand = Demand.own("held", "Joint held straight under load", "is", "yes/no", 1.0, "demanded")
    yield compose(demand, replace(held, subject=""))
    if design.stop.kind != "butt":
        return
    arm, above = design.stop.arm_mm, design.fold.closing == "backs"
    bears, side = (arm > 0 if above else arm < 0), "above" if above else "below"
    opens = f"The faces open instead of meeting: put the butt height {side} the hinge centre."
    finding = Measured(
        key="",
        subject="",
        value=float(bears),
        working=prose(_bearing_lines, arm, design.fold.closing, side, bears),
        why="" if bears else opens,
        member="inner stop bar 1",
        text=f"{figures.mm(arm)} above it",
    )
    yield compose(
        Demand.own(
            "stop", "Stop bars where they can bear", "is", "yes/no", 1.0, f"demanded {side} the hinge centre"
        ),
        finding,
    )


def _bearing_lines(arm: MM, closing: str, side: str, bears: bool) -> Lines:
    return (
        f"butting faces bear {side} the hinge centre, since the leaves close {closing} together",
        f"butt height = {figures.mm(arm)} above the centre: {'bears' if bears else 'cannot bear'}",
    )
