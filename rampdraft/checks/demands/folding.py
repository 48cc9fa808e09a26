"""What the fold must keep: its clearance, and an end at the stowed pose."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft import figures
from rampdraft.checks.result import Check, Demand, Status, compose, verdict
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.results import PairClearance
from rampdraft.prose import Lines, prose
from rampdraft.units import DEG, MM

_NO_BOUND: Final = "no bound could be proved for the poses in between"

ENDS_WITHIN_DEG: Final = 0.5
"""How far the last pose of the user's own stages may be from the stowed one: what a latch draws in, common
practice.
"""


def clearance_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the tightest pair of the fold, and every other pair that has less than the clearance demanded."""
    demanded = subjects.design.fold.clearance_mm
    for place, pair in enumerate(subjects.clearance.pairs):
        status = verdict(pair.certified_mm, demanded, "at least")[1]
        if place == 0 or status is Status.EXCEEDS:
            yield clearance_check(pair, demanded)


def clearance_check(pair: PairClearance, demanded: MM) -> Check:
    """Return the check of one pair of the fold."""
    proved = math.isfinite(pair.certified_mm)
    key = "-".join(pair.what.replace("-", " ").split())
    value, why = (pair.certified_mm if proved else pair.clearance_mm), _nearest(pair)
    finding: Finding = Measured(
        key=key,
        subject=pair.what,
        pair=pair.kin,
        value=value,
        working=prose(_clearance_lines, pair),
        why=why,
        member=pair.member_a,
        share=pair.at,
    )
    if not proved and value >= demanded:
        why = f"{why} It is {figures.number(value, 2)} mm there, but {_NO_BOUND}."
        finding = Unjudged(key=key, subject=pair.what, pair=pair.kin, why=why, share=pair.at)
    return compose(
        Demand.own("clearance", "Clearance while folding", "at least", "mm", demanded, figures.mm(demanded)),
        finding,
    )


def _nearest(pair: PairClearance) -> str:
    both = f"{pair.member_a} and {pair.member_b}"
    if pair.clearance_mm < 0:
        return f"{both} clash, {figures.number(-pair.clearance_mm, 2)} mm into each other, {_at(pair.pose)}."
    return f"{both} come nearest {_at(pair.pose)}."


def _clearance_lines(pair: PairClearance) -> Lines:
    certified = f"= {figures.number(pair.certified_mm, 2)} mm certified: no pose of the fold has less"
    return (
        f"clearance = least distance of {pair.what} over the whole fold",
        f"= {figures.number(pair.clearance_mm, 2)} mm sampled, {_at(pair.pose)}",
        certified if math.isfinite(pair.certified_mm) else _NO_BOUND,
    )


def _at(pose: Pose) -> str:
    inner, fold = (figures.fixed(angle, 1, "°") for angle in _in_degrees(pose))
    return f"with the inner leaf at {inner} to the level and the joint at {fold}"


def ends_stowed(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the user's own stages end at the stowed pose, for which all stowed sizes hold."""
    if not subjects.design.fold_stages:
        return
    end, stowed = subjects.path.stages[-1].pose_end, subjects.stowed.pose
    off = max(abs(a - b) for a, b in zip(_in_degrees(end), _in_degrees(stowed), strict=True))
    left = f"The last stage leaves the {_both(end)}; let it end at the stowed pose, {_both(stowed)}."
    finding = Measured(
        key="",
        subject="",
        value=off,
        working=prose(_ends_lines, end, stowed, off),
        text=figures.degrees(off),
        why="" if off <= ENDS_WITHIN_DEG else left,
        share=1.0,
    )
    demand = Demand.own(
        "ends-stowed",
        "Fold ends stowed",
        "at most",
        "deg",
        ENDS_WITHIN_DEG,
        f"{figures.degrees(ENDS_WITHIN_DEG)} off",
    )
    yield compose(demand, finding)


def _ends_lines(end: Pose, stowed: Pose, off_deg: DEG) -> Lines:
    return (
        f"last stage ends with the {_both(end)}",
        f"stowed is the {_both(stowed)}",
        f"greatest difference = {figures.degrees(off_deg)}",
    )


def _both(pose: Pose) -> str:
    inner, fold = map(figures.degrees, _in_degrees(pose))
    return f"inner leaf at {inner}, joint at {fold}"


def _in_degrees(pose: Pose) -> tuple[DEG, DEG]:
    return math.degrees(pose.inner_rad), math.degrees(pose.fold_rad)
